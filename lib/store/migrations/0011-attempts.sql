-- Attempts at signing in of the last minute, counted for all servers together. What is older goes with the next attempt.
create table attempt (
  key text primary key,
  taken timestamptz[] not null -- oldest first
);
create index attempt_newest on attempt ((coalesce(taken[cardinality(taken)], '-infinity'::timestamptz)));
