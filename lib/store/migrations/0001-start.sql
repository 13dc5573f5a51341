create table "user" (
  id text primary key,
  name text not null,
  email text not null unique,
  email_verified boolean not null default false,
  image text,
  role text not null default 'reader' check (role in ('owner', 'editor', 'reader')),
  removed_at timestamptz,
  created_at timestamptz not null default now(),
  updated_at timestamptz not null default now()
);

create table session (
  id text primary key,
  user_id text not null references "user" (id) on delete cascade,
  token text not null unique,
  expires_at timestamptz not null,
  ip_address text,
  user_agent text,
  created_at timestamptz not null default now(),
  updated_at timestamptz not null default now()
);
create index session_of_user on session (user_id);

create table account (
  id text primary key,
  user_id text not null references "user" (id) on delete cascade,
  account_id text not null,
  provider_id text not null,
  access_token text,
  refresh_token text,
  id_token text,
  access_token_expires_at timestamptz,
  refresh_token_expires_at timestamptz,
  scope text,
  password text,
  created_at timestamptz not null default now(),
  updated_at timestamptz not null default now()
);
create index account_of_user on account (user_id);

create table verification (
  id text primary key,
  identifier text not null,
  value text not null,
  expires_at timestamptz not null,
  created_at timestamptz not null default now(),
  updated_at timestamptz not null default now()
);
create index verification_identifier on verification (identifier);

create table invite (
  id text primary key,
  hash text not null unique,
  role text not null check (role in ('owner', 'editor', 'reader')),
  created_by text references "user" (id) on delete set null,
  created_at timestamptz not null default now(),
  expires_at timestamptz not null,
  used_at timestamptz,
  revoked_at timestamptz
);

create table access_token (
  id text primary key,
  hash text not null unique,
  name text not null,
  member text not null references "user" (id) on delete cascade,
  created_at timestamptz not null default now(),
  revoked_at timestamptz
);
create index access_token_member on access_token (member);

create table board_design (
  id text primary key,
  chart jsonb not null,
  version int not null,
  changed_by text references "user" (id) on delete set null,
  changed_at timestamptz not null default now()
);

create table machine (
  id text primary key,
  design text not null references board_design (id),
  chart jsonb not null,
  version int not null,
  changed_by text references "user" (id) on delete set null,
  changed_at timestamptz not null default now()
);
create index machine_design on machine (design);

create table page (
  id text primary key,
  machine text references machine (id),
  day date not null,
  created_by text references "user" (id) on delete set null,
  created_at timestamptz not null default now(),
  removed_by text references "user" (id) on delete set null,
  removed_at timestamptz
);
create index page_machine on page (machine);

-- The log. Rows are only ever added.
create table page_update (
  seq bigserial primary key,
  page text not null references page (id),
  member text references "user" (id) on delete set null,
  at timestamptz not null default now(),
  bytes bytea not null
);
create index page_update_page on page_update (page, seq);

-- From here to page_chart: derived from the log and the charts, and rebuilt at will.
create table page_index (
  page text primary key references page (id) on delete cascade,
  title text not null,
  body text not null,
  state text not null check (state in ('open', 'mended')),
  record jsonb not null,
  indexed_at timestamptz not null default now(),
  words tsvector not null generated always as (
    setweight(to_tsvector('english', title), 'A') || setweight(to_tsvector('english', body), 'B')
  ) stored
);
create index page_index_words on page_index using gin (words);

create table page_fact (
  page text not null references page (id) on delete cascade,
  kind text not null,
  value text not null,
  label text not null,
  primary key (page, kind, value)
);
create index page_fact_value on page_fact (kind, value);

create table page_chart (
  page text primary key references page (id) on delete cascade,
  machine text,
  design text
);
create index page_chart_machine on page_chart (machine);
create index page_chart_design on page_chart (design);

create table report_link (
  id text primary key,
  page text not null references page (id) on delete cascade,
  hash text not null unique,
  created_by text references "user" (id) on delete set null,
  created_at timestamptz not null default now(),
  revoked_at timestamptz
);
create index report_link_page on report_link (page);

create table catalogue (
  id int primary key default 1 check (id = 1),
  parts jsonb not null,
  version int not null,
  changed_by text references "user" (id) on delete set null,
  changed_at timestamptz not null default now()
);

create table stock_move (
  id bigserial primary key,
  part text not null,
  quantity int not null,
  reason text not null,
  page text references page (id) on delete set null,
  member text references "user" (id) on delete set null,
  at timestamptz not null default now()
);
create index stock_move_part on stock_move (part);

create table setting (
  key text primary key,
  value text not null
);
