-- The first schema. Instants are whole milliseconds since 1970-01-01 UTC, truth values are 0 and 1,
-- JSON is text: both engines read the same. The twin of this file stands in ../postgres; only the
-- words for ids and bytes differ.

-- A team is a wall: every other table hangs on one.
create table team (
    -- autoincrement: the id of an erased team never names another.
    id integer primary key autoincrement,
    -- The channel's own name for the team.
    key text not null unique,
    settings text not null
);

create table member (
    id integer primary key autoincrement,
    team_id bigint not null references team (id) on delete cascade,
    -- The channel's own name for the author; the same author in two teams is two members.
    author text not null,
    name text not null,
    coach bigint not null check (coach in (0, 1)),
    profile text not null,
    desk text not null,
    -- The fatigue state shared by all exercises; null until a set was learned from.
    condition blob,
    unique (team_id, author)
);

-- What was answered, word for word, so that a repeated event is answered as before.
create table event (
    team_id bigint not null references team (id) on delete cascade,
    id text not null,
    -- By name, not by member id: authors of mere chatter never become members.
    author text not null,
    channel text not null,
    at_ms bigint not null,
    outcome text not null,
    primary key (team_id, id)
);

create table training_set (
    id integer primary key autoincrement,
    team_id bigint not null references team (id) on delete cascade,
    member_id bigint not null references member (id) on delete cascade,
    -- The canonical name: places in a catalogue change when the list does.
    exercise text not null,
    -- Tenths of a microgram, so that kilograms and pounds are both exact.
    load bigint not null check (load >= 0),
    unit text not null,
    basis text not null,
    reps bigint not null check (reps > 0),
    -- Null: nothing was said. Unknown is never a number.
    rir double precision,
    kind text not null,
    per_side bigint not null check (per_side in (0, 1)),
    at_ms bigint not null,
    timed bigint not null check (timed in (0, 1)),
    stated_rest_s bigint,
    -- The team's local day, YYYY-MM-DD: it follows from the time zone of then, not of now.
    day text not null,
    message text not null,
    channel text not null,
    place bigint not null,
    order_in_day bigint not null,
    technique text
);
-- Edits and deletions of a message. Not unique by place: an edit may change places about.
create index training_set_by_message on training_set (team_id, message);
-- The last sets before advice, and a rebuild from some set on.
create index training_set_by_time on training_set (member_id, at_ms);
-- Weeks and tables.
create index training_set_by_day on training_set (member_id, day);

create table belief (
    member_id bigint not null references member (id) on delete cascade,
    exercise text not null,
    state blob not null,
    primary key (member_id, exercise)
) without rowid;

-- What is to happen later. The key makes a job one of its kind.
create table job (
    key text not null primary key,
    team_id bigint not null references team (id) on delete cascade,
    member_id bigint references member (id) on delete cascade,
    kind text not null,
    due_ms bigint not null,
    payload text not null,
    -- Whoever works on it has it until then; 0: nobody.
    lease_until_ms bigint not null default 0,
    tries bigint not null default 0
);
create index job_by_due on job (due_ms);
-- A team's or a member's jobs go with them.
create index job_by_team on job (team_id, due_ms);
create index job_by_member on job (member_id);
