-- A stretch can be the work of several who wrote at the same time. Empty: the house.
alter table page_stretch add column members text[] not null default '{}';
update page_stretch set members = array[member] where member is not null;
alter table page_stretch alter column members drop default, drop column member;
