-- Greases, pastes and oils that are open on the bench, and the smears that jobs took of them.

-- A tub that is opened leaves the shelf for the bench.
ALTER TABLE movement DROP CONSTRAINT movement_reason_check;
ALTER TABLE movement ADD CONSTRAINT movement_reason_check
    CHECK (reason IN ('opening', 'received', 'used', 'sold', 'moved', 'counted', 'returned', 'scrapped', 'opened'));
ALTER TABLE movement DROP CONSTRAINT movement_has_its_direction;
ALTER TABLE movement ADD CONSTRAINT movement_has_its_direction CHECK (
    CASE reason WHEN 'opening' THEN pieces > 0 WHEN 'received' THEN pieces > 0 WHEN 'returned' THEN pieces > 0
                WHEN 'used' THEN pieces < 0 WHEN 'sold' THEN pieces < 0 WHEN 'scrapped' THEN pieces < 0 WHEN 'opened' THEN pieces < 0 ELSE true END);

CREATE TABLE tub (
    id        bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    part_id   bigint NOT NULL REFERENCES part,
    grams     numeric(9,1) CHECK (grams > 0),                                    -- when full; null: not known
    left_over numeric(9,6) NOT NULL DEFAULT 1 CONSTRAINT tub_holds_a_share CHECK (left_over BETWEEN 0 AND 1), -- of a full one
    opened_at timestamptz NOT NULL,
    empty_at  timestamptz
);
CREATE INDEX tub_open ON tub (part_id) WHERE empty_at IS NULL;

CREATE TABLE smear (
    job_id  bigint NOT NULL REFERENCES job,
    place   text NOT NULL,
    purpose text NOT NULL,
    tub_id  bigint NOT NULL REFERENCES tub,
    share   numeric(9,6) NOT NULL CHECK (share > 0), -- of a full tub
    at      timestamptz NOT NULL,
    PRIMARY KEY (job_id, place, purpose)
);
