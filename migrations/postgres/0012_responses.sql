-- What presses, edits and deletions were answered, word for word, so that the same one sent again is
-- answered as before and does nothing twice. (Messages have `event`.) The same file stands in both
-- folders.
create table response (
    team_id bigint not null references team (id) on delete cascade,
    -- Tells one of them from all others: `press/ID` or `press#DIGEST`, `edit#DIGEST`, `delete/ID`.
    key text not null,
    -- Who pressed, or wrote the message; empty once everything of theirs was erased.
    author text not null,
    at_ms bigint not null,
    outcome text not null,
    primary key (team_id, key)
);
