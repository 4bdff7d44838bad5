-- A long log is taken over in many short transactions, so that others are answered in between. Its sets
-- are there only once the last of them is committed: as long as the row of their import stands, nobody
-- sees them. An import that was killed is taken out by a later one, once its lease is over. The twin of this file
-- in ../sqlite comes to the same.
create table import (
    -- Drawn by chance and never given twice: it stays with the sets, also where they are copied to.
    id bigint not null primary key,
    team_id bigint not null references team (id) on delete cascade,
    -- Whoever works on it has it until then.
    until_ms bigint not null,
    -- It is being cleared, and is not shown any more.
    dropped bigint not null default 0 check (dropped in (0, 1))
);
alter table training_set add column import_id bigint;
-- Those of a killed import are found without looking at all others.
create index training_set_by_import on training_set (import_id) where import_id is not null;
