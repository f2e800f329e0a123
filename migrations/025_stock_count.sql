-- Every count of a bin, those too that found what the ledger said: a bin that was lately right need not be counted again.
CREATE TABLE stock_count (
    id       bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    part_id  bigint NOT NULL REFERENCES part,
    bin_id   bigint NOT NULL REFERENCES bin,
    counted  int NOT NULL CHECK (counted >= 0),
    expected int NOT NULL CHECK (expected >= 0), -- by the ledger
    at       timestamptz NOT NULL DEFAULT shop_clock()
);
CREATE INDEX stock_count_part ON stock_count (part_id, bin_id, id);
