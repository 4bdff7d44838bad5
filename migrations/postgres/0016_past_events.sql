-- Events that cannot be expected again: their answers are dropped, and what stays is that they were
-- worked on, so that one that comes again all the same files nothing twice. The twin of this file stands
-- in the other folder; only the kind of the table and the indexes differ.
create table past_event (
    team_id bigint not null references team (id) on delete cascade,
    -- 0: a message, by its id; 1: a press, an edit or a deletion, by its key.
    kind bigint not null check (kind in (0, 1)),
    id text not null,
    -- When it was; 0 once everything of its author was erased.
    at_ms bigint not null,
    primary key (team_id, kind, id)
);

-- The oldest are found without looking at all others. SQLite finds them by the order of its rows.
create index event_by_time on event (at_ms);
create index response_by_time on response (at_ms);
