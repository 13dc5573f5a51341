-- Entries of the log are numbered page by page, without gaps, in the order of their commits.
alter table page add column head bigint not null default 0;
alter table page add column changed_at timestamptz not null default now();
alter table page_update add column number bigint;
update page_update u set number = r.number
  from (select seq, row_number() over (partition by page order by seq) as number from page_update) r
  where r.seq = u.seq;
update page p set
  head = coalesce((select max(number) from page_update u where u.page = p.id), 0),
  changed_at = coalesce((select max(at) from page_update u where u.page = p.id), p.created_at);
alter table page_update alter column number set not null;
alter table page_update drop constraint page_update_pkey;
drop index page_update_page;
alter table page_update drop column seq;
alter table page_update add primary key (page, number);
create index page_changed on page (changed_at desc, id);

-- Everything of a page up to entry `number`, folded into one; the entries up to it stand in page_stretch.
create table page_base (
  page text primary key references page (id),
  number bigint not null,
  bytes bytea not null
);

-- The page's past: one row for a stretch of one member's work, never changed once another follows it.
create table page_stretch (
  page text not null references page (id),
  number bigint not null,
  first bigint not null,
  member text references "user" (id) on delete set null,
  began timestamptz not null,
  at timestamptz not null,
  bytes bytea not null,
  primary key (page, number)
);

-- Points of the past that somebody gave a name.
create table page_version (
  page text not null references page (id),
  number bigint not null,
  name text not null,
  member text references "user" (id) on delete set null,
  at timestamptz not null default now(),
  primary key (page, number)
);
