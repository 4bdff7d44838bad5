-- A filed set is answered when its commit is on the disk, and each index is one more page of it. The
-- outbox holds what a quarter of a second left unsent, and is read as a whole; jobs are found by their
-- key and their turn; a member or a team that goes is seldom enough to look through them.
drop index discord_outbox_by_team;
drop index outbox_by_until;
drop index job_by_team;
drop index job_by_member;

-- The key finds the row without a second tree. The twin of this file in ../postgres ends above.
create table job_by_key (
    key text not null primary key,
    team_id bigint not null references team (id) on delete cascade,
    member_id bigint references member (id) on delete cascade,
    kind text not null,
    due_ms bigint not null,
    payload text not null,
    tries bigint not null default 0,
    turn_ms bigint not null default 0,
    owner text
) without rowid;
insert into job_by_key (key, team_id, member_id, kind, due_ms, payload, tries, turn_ms, owner)
    select key, team_id, member_id, kind, due_ms, payload, tries, turn_ms, owner from job;
drop table job;
alter table job_by_key rename to job;
create index job_by_turn on job (turn_ms);
