-- Of whom everything was erased while answers to others may still name them: those are looked through
-- some at a time, and the row goes when all were. The same file stands in both folders.
create table erasing (
    team_id bigint not null references team (id) on delete cascade,
    author text not null,
    name text not null,
    -- Answers to events before then.
    before_ms bigint not null,
    primary key (team_id, author)
);
-- What was answered to one member, to hand it out or to erase it, without looking through everybody's.
create index event_by_author on event (team_id, author);
create index response_by_author on response (team_id, author);
