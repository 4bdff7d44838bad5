-- What coaches set for members. The twin of this file stands in ../sqlite; only the words that
-- say how a table is kept differ.

-- Plan, block or targets of a member, from a day on: the version of a week is the latest that
-- begins by the week's last day, so that old weeks keep theirs and a coming week can have one
-- already.
create table prescription (
    member_id bigint not null references member (id) on delete cascade,
    -- plan, block or targets.
    kind text not null,
    -- The team's local day, YYYY-MM-DD: the first day of a week when it was written.
    from_day text collate "C" not null,
    content text not null,
    primary key (member_id, kind, from_day)
);
