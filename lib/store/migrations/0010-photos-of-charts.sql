-- Photos of boards belong to a board design, and so to whoever may see its charts.
create table design_picture (
  design text not null references board_design (id) on delete cascade,
  picture text not null references picture (hash) on delete cascade,
  member text references "user" (id) on delete set null,
  at timestamptz not null default now(),
  primary key (design, picture)
);
create index design_picture_picture on design_picture (picture);

-- A picture that was removed for good keeps its name, so that it is known as removed where it was shown and is not taken in again.
alter table picture
  add column removed_at timestamptz,
  add column removed_by text references "user" (id) on delete set null,
-- It came in an archive, and its name is only what the archive says: the first who sends the bytes of that name replaces its files.
  add column brought boolean not null default false;
