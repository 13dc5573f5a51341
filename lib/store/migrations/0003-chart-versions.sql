-- Every saved state of a chart, the present one among them.
create table chart_version (
  kind text not null check (kind in ('design', 'machine')),
  id text not null,
  version int not null,
  chart jsonb not null,
  changed_by text references "user" (id) on delete set null,
  changed_at timestamptz not null,
  primary key (kind, id, version)
);
insert into chart_version select 'design', id, version, chart, changed_by, changed_at from board_design;
insert into chart_version select 'machine', id, version, chart, changed_by, changed_at from machine;
