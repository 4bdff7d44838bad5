-- The outbox is sent in the order in which it was committed: rows are numbered, and a number is never
-- given twice. So it can be told which of two texts of a card is the later one, also long after the
-- earlier was sent. The twin of this file in ../postgres comes to the same.
create table outbox_in_order (
    id integer primary key autoincrement,
    key text not null unique,
    team_id bigint not null references team (id) on delete cascade,
    at_ms bigint not null,
    outgoing text not null,
    via text not null default 'discord',
    owner text,
    until_ms bigint not null default 0
);
insert into outbox_in_order (key, team_id, at_ms, outgoing, via, owner, until_ms)
    select key, team_id, at_ms, outgoing, via, owner, until_ms from outbox order by at_ms, key;
drop table outbox;
alter table outbox_in_order rename to outbox;

-- The row of the outbox that a reply stands as; 0 where that is not known. A reply that was taken back
-- keeps its row, with the message's id below zero, so that no older text of it is posted later.
alter table discord_post add column sent bigint not null default 0;
