-- Bills, what corrects them, and what was paid.

-- A number is given when a bill is written, in the same transaction, and the series is locked until that ends: of two at once
-- the second waits, and one that is rolled back gives its number back. So there is no gap.
CREATE TABLE bill_series (
    series text PRIMARY KEY CHECK (series IN ('bill', 'credit note')),
    last   bigint NOT NULL DEFAULT 0 CHECK (last >= 0)
);
INSERT INTO bill_series (series) VALUES ('bill'), ('credit note');

CREATE TABLE bill (
    id       bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    series   text NOT NULL REFERENCES bill_series,
    number   bigint NOT NULL,
    job_id   bigint REFERENCES job,       -- null: a sale over the counter
    credits  bigint REFERENCES bill,      -- the bill that a credit note corrects
    made_at  timestamptz NOT NULL,
    total    numeric(12,2) NOT NULL CHECK (total >= 0), -- tax included; of a credit note what is given back
    document jsonb NOT NULL,              -- as it was handed over: see billing.Bill
    UNIQUE (series, number),
    CONSTRAINT bill_credits_a_bill CHECK ((credits IS NOT NULL) = (series = 'credit note'))
);
CREATE INDEX bill_job ON bill (job_id);
CREATE INDEX bill_credits ON bill (credits);

CREATE FUNCTION bill_is_numbered() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    UPDATE bill_series SET last = last + 1 WHERE series = NEW.series RETURNING last INTO NEW.number;
    RETURN NEW;
END $$;
CREATE TRIGGER bill_is_numbered BEFORE INSERT ON bill FOR EACH ROW EXECUTE FUNCTION bill_is_numbered();

CREATE FUNCTION bill_stays_as_written() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'a bill is never changed: correct it with a credit note' USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'bill_stays_as_written';
END $$;
CREATE TRIGGER bill_stays_as_written BEFORE UPDATE OR DELETE ON bill FOR EACH ROW EXECUTE FUNCTION bill_stays_as_written();
CREATE TRIGGER bills_are_not_emptied BEFORE TRUNCATE ON bill FOR EACH STATEMENT EXECUTE FUNCTION bill_stays_as_written();

-- What was paid, or with an amount below zero paid back: on a job before its bill a deposit.
CREATE TABLE payment (
    id      bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    job_id  bigint REFERENCES job,
    bill_id bigint REFERENCES bill, -- of a sale over the counter
    amount  numeric(12,2) NOT NULL CHECK (amount <> 0),
    how     text NOT NULL CHECK (how <> ''),
    at      timestamptz NOT NULL,
    CONSTRAINT payment_is_for_one_thing CHECK ((job_id IS NULL) <> (bill_id IS NULL))
);
CREATE INDEX payment_job ON payment (job_id);
CREATE INDEX payment_bill ON payment (bill_id);
CREATE FUNCTION payments_are_kept() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'a payment is never changed: pay it back, and take it again' USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'payments_are_kept';
END $$;
CREATE TRIGGER payments_are_kept BEFORE UPDATE OR DELETE ON payment FOR EACH ROW EXECUTE FUNCTION payments_are_kept();
