-- What gave out before the target muscle, where the lifter said so: 'helpers' or 'breath'. Such a set
-- does not count. Null: nothing of the kind was said.
alter table training_set add column gave_out text;
