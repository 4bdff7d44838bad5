-- What was believed before the first set of a day, so that a change of a late set learns only the log
-- from there on again. A cache of what the log before that moment teaches: it may be emptied at any
-- time. The twin of this file stands in the other folder; only the words for bytes and the kind of the
-- table differ.
create table checkpoint (
    member_id bigint not null references member (id) on delete cascade,
    -- When that first set ended.
    at_ms bigint not null,
    -- Whose belief it is; empty: the member's condition.
    exercise text not null,
    -- Null: there was no belief yet.
    state blob,
    -- The bests of the exercise then, JSON; null: none.
    bests text,
    primary key (member_id, at_ms, exercise)
) without rowid;
