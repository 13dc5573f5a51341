-- Which transaction wrote a page's index last: whoever follows the index reads what has been written since, and misses nothing that was
-- still on its way. A page that goes is written too.
alter table page_index add column written xid8 not null default pg_current_xact_id();
create index page_index_written on page_index (written);

-- Searches that a member looks at again and again, as they are asked: the part of the address behind the question mark.
create table saved_search (
  id text primary key,
  member text not null references "user" (id) on delete cascade,
  name text not null,
  asked text not null,
  created_at timestamptz not null default now(),
  unique (member, asked)
);
