-- Of whom everything was erased, and when: what they wrote before then is not taken again, wherever
-- it is found. The same file stands in both folders.
create table erased (
    team_id bigint not null references team (id) on delete cascade,
    -- A digest of team and author, from which neither follows.
    author text not null,
    at_ms bigint not null,
    primary key (team_id, author)
);
