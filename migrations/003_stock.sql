-- What is on the shelf, whose it is, and how it came there.

CREATE TABLE bin (
    id   bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    name text NOT NULL UNIQUE CHECK (name <> '')
);

CREATE TABLE purchase_order (
    id        bigint GENERATED ALWAYS AS IDENTITY (START WITH 501) PRIMARY KEY, -- its number on paper
    supplier_id bigint NOT NULL REFERENCES supplier,
    state     text NOT NULL DEFAULT 'placed' CHECK (state IN ('placed', 'part in', 'closed', 'cancelled')),
    placed_at timestamptz NOT NULL,
    carriage  numeric(12,2) NOT NULL CHECK (carriage >= 0),
    note      text NOT NULL DEFAULT ''
);

CREATE TABLE order_line (
    id          bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    order_id    bigint NOT NULL REFERENCES purchase_order,
    offer_id    bigint NOT NULL REFERENCES offer,
    part_id     bigint NOT NULL REFERENCES part,
    packs       int NOT NULL CHECK (packs > 0),
    pack        int NOT NULL CHECK (pack > 0),
    price       numeric(12,4) NOT NULL CHECK (price > 0), -- a pack
    quoted_days int NOT NULL CHECK (quoted_days >= 0),
    stock       text NOT NULL,                            -- the supplier's signal when ordered
    expected_on date NOT NULL,
    received    int NOT NULL DEFAULT 0 CHECK (received >= 0), -- good pieces in
    cancelled   int NOT NULL DEFAULT 0 CHECK (cancelled >= 0), -- pieces that will not come
    CONSTRAINT order_line_no_more_than_ordered CHECK (received + cancelled <= packs * pack)
);
CREATE INDEX order_line_order ON order_line (order_id);
CREATE INDEX order_line_part ON order_line (part_id);

CREATE TABLE receipt (
    id        bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    order_id  bigint NOT NULL REFERENCES purchase_order,
    at        timestamptz NOT NULL,
    reference text NOT NULL DEFAULT '' -- the delivery note
);

CREATE TABLE receipt_line (
    id            bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    receipt_id    bigint NOT NULL REFERENCES receipt,
    order_line_id bigint NOT NULL REFERENCES order_line,
    outcome       text NOT NULL CHECK (outcome IN ('good', 'over', 'wrong', 'damaged')),
    pieces        int NOT NULL CHECK (pieces > 0),
    note          text NOT NULL DEFAULT ''
);

-- The ledger. Movements are written once; a mistake is mended by a further movement.
CREATE TABLE movement (
    id              bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    at              timestamptz NOT NULL DEFAULT clock_timestamp(),
    part_id         bigint NOT NULL REFERENCES part,
    bin_id          bigint NOT NULL REFERENCES bin,
    pieces          int NOT NULL CHECK (pieces <> 0),
    reason          text NOT NULL CHECK (reason IN ('opening', 'received', 'used', 'moved', 'counted', 'returned', 'scrapped')),
    job_id          bigint REFERENCES job,
    receipt_line_id bigint REFERENCES receipt_line,
    note            text NOT NULL DEFAULT '',
    request         text NOT NULL REFERENCES request,
    CONSTRAINT movement_has_its_direction CHECK (
        CASE reason WHEN 'opening' THEN pieces > 0 WHEN 'received' THEN pieces > 0 WHEN 'returned' THEN pieces > 0
                    WHEN 'used' THEN pieces < 0 WHEN 'scrapped' THEN pieces < 0 ELSE true END),
    CONSTRAINT movement_names_its_cause CHECK (
        (reason <> 'received' OR receipt_line_id IS NOT NULL) AND (reason <> 'used' OR job_id IS NOT NULL))
);
CREATE INDEX movement_part ON movement (part_id, id);

CREATE FUNCTION ledger_is_append_only() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'the ledger is never changed: book a further movement' USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'ledger_is_append_only';
END $$;
CREATE TRIGGER ledger_is_append_only BEFORE UPDATE OR DELETE ON movement FOR EACH ROW EXECUTE FUNCTION ledger_is_append_only();
CREATE TRIGGER ledger_is_not_emptied BEFORE TRUNCATE ON movement FOR EACH STATEMENT EXECUTE FUNCTION ledger_is_append_only();

-- Sums of the ledger, kept by it. The shelf row of a part is the lock that every change to its stock takes first.
CREATE TABLE shelf (
    part_id  bigint PRIMARY KEY REFERENCES part,
    on_hand  int NOT NULL DEFAULT 0 CONSTRAINT shelf_not_below_zero CHECK (on_hand >= 0),
    reserved int NOT NULL DEFAULT 0 CONSTRAINT reserved_not_below_zero CHECK (reserved >= 0),
    CONSTRAINT reserved_within_stock CHECK (reserved <= on_hand)
);
CREATE TABLE balance (
    part_id bigint NOT NULL REFERENCES part,
    bin_id  bigint NOT NULL REFERENCES bin,
    pieces  int NOT NULL CONSTRAINT balance_not_below_zero CHECK (pieces >= 0),
    PRIMARY KEY (part_id, bin_id)
);

CREATE FUNCTION movement_is_summed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    INSERT INTO shelf (part_id) VALUES (NEW.part_id) ON CONFLICT DO NOTHING;
    UPDATE shelf SET on_hand = on_hand + NEW.pieces WHERE part_id = NEW.part_id;
    INSERT INTO balance (part_id, bin_id, pieces) VALUES (NEW.part_id, NEW.bin_id, 0) ON CONFLICT DO NOTHING;
    UPDATE balance SET pieces = pieces + NEW.pieces WHERE part_id = NEW.part_id AND bin_id = NEW.bin_id;
    RETURN NEW;
END $$;
CREATE TRIGGER movement_is_summed AFTER INSERT ON movement FOR EACH ROW EXECUTE FUNCTION movement_is_summed();

-- Pieces on the shelf that are spoken for by an approved job.
CREATE TABLE reservation (
    id       bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    job_id   bigint NOT NULL REFERENCES job,
    part_id  bigint NOT NULL REFERENCES part,
    place    text NOT NULL,
    pieces   int NOT NULL CHECK (pieces > 0),
    state    text NOT NULL DEFAULT 'held' CHECK (state IN ('held', 'used', 'released')),
    made_at  timestamptz NOT NULL DEFAULT now(),
    ended_at timestamptz,
    CHECK ((ended_at IS NULL) = (state = 'held'))
);
CREATE INDEX reservation_job ON reservation (job_id);
CREATE INDEX reservation_part ON reservation (part_id) WHERE state = 'held';

CREATE FUNCTION reservation_is_summed() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
    change int := 0;
BEGIN
    IF TG_OP = 'INSERT' AND NOT EXISTS (SELECT FROM job WHERE id = NEW.job_id AND state = 'approved') THEN
        RAISE EXCEPTION 'job % is not approved', NEW.job_id USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'reservation_for_approved_job';
    END IF;
    IF TG_OP = 'UPDATE' AND (NEW.part_id, NEW.job_id) IS DISTINCT FROM (OLD.part_id, OLD.job_id) OR TG_OP = 'UPDATE' AND OLD.state <> 'held' THEN
        RAISE EXCEPTION 'a reservation keeps its part and job, and ends once' USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'reservation_ends_once';
    END IF;
    IF TG_OP = 'UPDATE' THEN
        change := change - OLD.pieces;
    END IF;
    IF NEW.state = 'held' THEN
        change := change + NEW.pieces;
    END IF;
    INSERT INTO shelf (part_id) VALUES (NEW.part_id) ON CONFLICT DO NOTHING;
    UPDATE shelf SET reserved = reserved + change WHERE part_id = NEW.part_id;
    RETURN NEW;
END $$;
CREATE TRIGGER reservation_is_summed AFTER INSERT OR UPDATE ON reservation FOR EACH ROW EXECUTE FUNCTION reservation_is_summed();

-- What approved work lacks and must be bought: from wanted, through ordered, to arrived (then it is reserved).
CREATE TABLE claim (
    id            bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    job_id        bigint NOT NULL REFERENCES job,
    place         text NOT NULL,
    part_id       bigint NOT NULL REFERENCES part,
    offer_id      bigint NOT NULL REFERENCES offer, -- as quoted; the order plan may choose another of the same part
    pieces        int NOT NULL CHECK (pieces > 0),
    substitute    boolean NOT NULL DEFAULT false,   -- not like for like: measure on arrival
    due_on        date NOT NULL,
    order_line_id bigint REFERENCES order_line,
    state         text NOT NULL DEFAULT 'wanted' CHECK (state IN ('wanted', 'ordered', 'arrived', 'cancelled')),
    CONSTRAINT claim_ordered_by_a_line CHECK ((order_line_id IS NOT NULL) = (state IN ('ordered', 'arrived')))
);
CREATE INDEX claim_open ON claim (part_id) WHERE state IN ('wanted', 'ordered');
CREATE INDEX claim_job ON claim (job_id);
