-- Channels of direct messages, each with the member who writes there: after an outage their histories are
-- read, too, as pain told in private is not to wait for an answer. The same file stands in both folders.
create table discord_direct (
    id bigint primary key,
    -- The member, and with the member the team, that the channel speaks to.
    member_id bigint not null references member (id) on delete cascade,
    -- Messages up to this one were worked on.
    read_to bigint not null
);
create index discord_direct_by_member on discord_direct (member_id);
