-- The stock ledger. Entries are only ever added; what is on hand and what is reserved is the sum of them.
-- No line within the function ends with a semicolon: the tests of upgrades cut this file at those.
alter table stock_move
  add column kind text not null default 'counted' check (kind in ('received', 'counted', 'used', 'reserved', 'released', 'corrected')),
  add column held int not null default 0,
  add column packs int check (packs > 0),
  add column supplier text,
  add column price int check (price >= 0),
  add column undoes bigint unique references stock_move (id),
  add column token text unique;
update stock_move set kind = case when reason = 'counted' then 'counted' when page is not null and quantity < 0 then 'used' else 'corrected' end,
  reason = case when reason = 'counted' then '' else reason end;
alter table stock_move alter column kind drop default;
create index stock_move_page on stock_move (page) where page is not null;
create function stock_move_kept() returns trigger language plpgsql as $$ begin
  if tg_op = 'UPDATE' and to_jsonb(new) - 'page' - 'member' = to_jsonb(old) - 'page' - 'member' then return new; end if
  ; raise exception 'the stock ledger is only ever added to'
  ; end $$;
create trigger stock_move_kept before update or delete on stock_move for each row execute function stock_move_kept();
-- One row a part: locked while an entry of it is made, and how many should be there at least.
create table stock_part (
  part text primary key,
  low int check (low > 0)
);
-- What of a job cannot be derived from its page: whose it is, and why it was set aside.
create table job (
  page text primary key references page (id) on delete cascade,
  assigned text references "user" (id) on delete set null,
  aside text
);
create index page_index_open on page_index (page) where state = 'open';
