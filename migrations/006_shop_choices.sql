-- What a workshop may decide for itself.

-- How many times what is needed may be bought where a price break makes more cheaper.
ALTER TABLE shop ADD COLUMN overbuy numeric(4,2) NOT NULL DEFAULT 2 CHECK (overbuy BETWEEN 1 AND 20);

-- How much a difference counts when options are compared: all of a kind, or one rule in place of its kind. What is not
-- listed counts as usual.
CREATE TABLE deviation_weight (
    of     text PRIMARY KEY CHECK (of <> ''), -- function, finish or the name of a rule
    weight int NOT NULL CHECK (weight BETWEEN 0 AND 1000000)
);
