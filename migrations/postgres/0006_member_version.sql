-- How often anything of a member was written: whoever writes a row of a member's (sets, beliefs, bell,
-- prescriptions, the member) counts it up in the same transaction. A process that finds the number it
-- left knows that what it left is still so. The same file stands in both folders.
alter table member add column version bigint not null default 0;
