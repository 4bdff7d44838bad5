-- A filed set is answered when its commit is on the disk, and each index is one more page of it. The
-- outbox holds what a quarter of a second left unsent, and is read as a whole; jobs are found by their
-- key and their turn; a member or a team that goes is seldom enough to look through them.
drop index discord_outbox_by_team;
drop index outbox_by_until;
drop index job_by_team;
drop index job_by_member;
