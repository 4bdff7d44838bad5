-- The latest change of each message that was taken over from the team channel: when its history is read
-- again after an outage, changes made meanwhile are told from those by their time. The same file stands
-- in both folders.
create table discord_edit (
    team_id bigint not null references team (id) on delete cascade,
    message bigint not null,
    at_ms bigint not null,
    primary key (team_id, message)
);
