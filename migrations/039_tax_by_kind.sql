-- A rate of tax may be for one thing alone: for work, for repairs as a whole, or for the parts of a family. Empty: for all that
-- has no rate of its own. A line of work may carry a rate that it was given by hand.

ALTER TABLE tax_rate ADD COLUMN applies_to text NOT NULL DEFAULT '';
ALTER TABLE tax_rate DROP CONSTRAINT tax_rate_pkey, ADD PRIMARY KEY (applies_to, name, valid_from);
ALTER TABLE job_work ADD COLUMN tax jsonb;
