-- Jobs that every process works on, and what they posted. The same file stands in both folders.

-- From when on somebody may take the job up: from when it is due; while somebody has it, from the
-- end of that lease; after it failed, from the end of the pause.
alter table job add column turn_ms bigint not null default 0;
-- Who has it until then; null: nobody.
alter table job add column owner text;
update job set turn_ms = case when lease_until_ms > due_ms then lease_until_ms else due_ms end;
drop index job_by_due;
create index job_by_turn on job (turn_ms);
alter table job drop column lease_until_ms;

-- Each team has a digest a week. Due at once: then it is seen when the next one is.
insert into job (key, team_id, kind, due_ms, payload)
    select 'digest/' || id, id, 'digest', 0, '{}' from team;

-- Not the team channel alone keeps what is still to be sent.
alter table discord_outbox rename to outbox;
-- Which channel it is sent by.
alter table outbox add column via text not null default 'discord';
-- Who is sending it, until when; after that another process may.
alter table outbox add column owner text;
alter table outbox add column until_ms bigint not null default 0;
create index outbox_by_until on outbox (until_ms);
