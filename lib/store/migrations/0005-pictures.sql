-- Each picture once, by the SHA-256 of the bytes that were sent. Its files stand in the data folder or in a bucket.
create table picture (
  hash text primary key check (hash ~ '^[0-9a-f]{64}$'),
  width int not null,
  height int not null,
  made_at timestamptz not null default now()
);

-- Who may see a picture follows from what holds it. A page goes on holding what was taken out of it: undo and history show it.
create table page_picture (
  page text not null references page (id) on delete cascade,
  picture text not null references picture (hash) on delete cascade,
  member text references "user" (id) on delete set null,
  at timestamptz not null default now(),
  primary key (page, picture)
);
create index page_picture_picture on page_picture (picture);

create table machine_picture (
  machine text not null references machine (id) on delete cascade,
  picture text not null references picture (hash) on delete cascade,
  member text references "user" (id) on delete set null,
  at timestamptz not null default now(),
  primary key (machine, picture)
);
create index machine_picture_picture on machine_picture (picture);
