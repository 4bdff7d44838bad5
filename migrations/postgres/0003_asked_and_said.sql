-- What the model learns from beside the set itself.

-- Effort that plan or advice asked for; null: nothing was asked, as for all sets filed before.
alter table training_set add column asked_rir double precision;
-- What was said of being ready between the set before and this one, `95-breath 130+muscle`: seconds
-- after that set, then which check holds (+) or not (-); null: nothing.
alter table training_set add column said text;
