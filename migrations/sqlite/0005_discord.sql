-- What the team-channel adapter keeps. Ids of the platform are whole numbers below 2^63. The twin
-- of this file in ../postgres has the same text.

-- Channels whose messages are read, and their threads.
create table discord_channel (
    id bigint primary key,
    guild bigint not null,
    -- Of a thread: the bound channel.
    parent bigint,
    name text not null,
    -- Messages up to this one were worked on; after an outage the history is read from here.
    read_to bigint not null
);

-- Who leads in a community.
create table discord_guild (
    id bigint primary key,
    coach_role bigint,
    managers text not null
);

-- Where each reply stands, so that it can be edited and its buttons are known after a restart.
create table discord_post (
    team_id bigint not null references team (id) on delete cascade,
    reply text not null,
    channel bigint not null,
    message bigint not null,
    primary key (team_id, reply)
);
create index discord_post_by_message on discord_post (message);

-- Answers that were committed with what caused them and are still to be sent.
create table discord_outbox (
    key text primary key,
    team_id bigint not null references team (id) on delete cascade,
    at_ms bigint not null,
    outgoing text not null
);
create index discord_outbox_by_team on discord_outbox (team_id);

-- Commands are registered only when they differ from these.
create table discord_commands (
    application bigint primary key,
    digest text not null
);
