-- How much the lifter had left where nothing was said, as the belief judged it when the set was
-- learned: so that weeks and tables need not learn the log again. Null: the lifter said it, or it
-- was not judged, as for sets filed before; such a set is given the benefit of the doubt.
alter table training_set add column judged_left double precision;
