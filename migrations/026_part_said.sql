-- What a person has said of a part stands against later lists.

-- The dimensions that a person has said, or said not to be known; while there are any, the part's family is theirs too. No
-- list changes them or fills them in.
ALTER TABLE part ADD COLUMN said text[] NOT NULL DEFAULT '{}';
-- The bin where a part belongs, for what comes in without another being named.
ALTER TABLE part ADD COLUMN bin_id bigint REFERENCES bin;
