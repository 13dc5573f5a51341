-- The customer's write-up: wording over what the page says, numbered copies of what was sent, and links that end.
create table write_up (
  page text primary key references page (id) on delete cascade,
  priced boolean not null
);
create table write_up_line (
  page text not null references page (id) on delete cascade,
  key text not null,
  words text,
  price int check (price >= 0),
  over text not null,
  member text references "user" (id) on delete set null,
  at timestamptz not null default now(),
  primary key (page, key)
);
create table write_up_copy (
  id text primary key,
  page text not null references page (id) on delete cascade,
  number int not null check (number > 0),
  copy jsonb not null,
  member text references "user" (id) on delete set null,
  at timestamptz not null default now(),
  unique (page, number)
);
-- Links made before this have no copy and no end: they go on showing the page as it stands.
alter table report_link
  add column copy text references write_up_copy (id) on delete cascade,
  add column expires_at timestamptz,
  add column pass text,
  add column misses int not null default 0,
  add column opened int not null default 0,
  add column opened_at timestamptz;
-- Every logo that was ever on the letterhead: copies that were sent go on showing it.
create table letterhead_picture (
  picture text primary key references picture (hash)
);
