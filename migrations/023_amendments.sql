-- What changes after a quote was approved, and what is said of a job beside what was found on it.

-- A quote that amends adds to what was agreed by an earlier version, and may let some of its lines give way.
ALTER TABLE quote ADD COLUMN amends int CHECK (amends > 0 AND amends < version);
DROP INDEX quote_one_approved;
CREATE UNIQUE INDEX quote_one_approved ON quote (job_id) WHERE state = 'approved' AND amends IS NULL;
CREATE OR REPLACE FUNCTION quote_stays_as_written() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF TG_OP = 'DELETE' OR (NEW.job_id, NEW.version, NEW.amends, NEW.made_at, NEW.valid_until, NEW.document)
            IS DISTINCT FROM (OLD.job_id, OLD.version, OLD.amends, OLD.made_at, OLD.valid_until, OLD.document) THEN
        RAISE EXCEPTION 'a quote is never changed: make a new version' USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'quote_stays_as_written';
    END IF;
    IF OLD.state <> 'open' AND NEW.state <> OLD.state THEN
        RAISE EXCEPTION 'quote version % is %', OLD.version, OLD.state USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'quote_is_settled';
    END IF;
    RETURN NEW;
END $$;

-- What an approval covers: place -> what is done there; and how much the customer allows beyond it, tax included. Findings
-- could not change after an approval until now, so those of a job are what was agreed.
ALTER TABLE approval ADD COLUMN work jsonb NOT NULL DEFAULT '{}', ADD COLUMN allowed numeric(12,2) CONSTRAINT approval_allows_money CHECK (allowed > 0);
UPDATE approval SET work = coalesce((
    SELECT jsonb_object_agg(finding.place, finding.document ->> 'action')
    FROM finding JOIN quote ON quote.job_id = finding.job_id
    WHERE quote.id = approval.quote_id AND finding.document ->> 'action' IN ('clean', 'adjust', 'replace')), '{}');

-- What was advised and is not done now: left out of the quote, or declined. It is met when a later job does it.
CREATE TABLE advice (
    job_id  bigint NOT NULL REFERENCES job,
    place   text NOT NULL,
    action  text NOT NULL CHECK (action IN ('clean', 'adjust', 'replace')),
    words   text NOT NULL CHECK (words <> ''),
    why     text NOT NULL DEFAULT '',
    at      timestamptz NOT NULL,
    met_at  timestamptz,
    PRIMARY KEY (job_id, place)
);

-- Work that no finding asks for: a bleed, a test ride, whatever the mechanic writes.
CREATE TABLE job_work (
    id      bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    job_id  bigint NOT NULL REFERENCES job,
    place   text NOT NULL DEFAULT '',
    words   text NOT NULL CHECK (words <> ''),
    minutes int NOT NULL CHECK (minutes >= 0),
    price   numeric(12,2) NOT NULL CHECK (price >= 0), -- before tax
    at      timestamptz NOT NULL,
    gone_at timestamptz
);
CREATE INDEX job_work_job ON job_work (job_id);

-- Less to pay, of one place's lines or of the whole: by the hundred or in money, tax included. Warranty work is free.
CREATE TABLE job_discount (
    id       bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    job_id   bigint NOT NULL REFERENCES job,
    place    text NOT NULL DEFAULT '', -- '': the whole
    percent  numeric(6,3) CHECK (percent > 0 AND percent <= 100),
    amount   numeric(12,2) CHECK (amount > 0),
    warranty boolean NOT NULL DEFAULT false,
    why      text NOT NULL CHECK (why <> ''),
    at       timestamptz NOT NULL,
    gone_at  timestamptz,
    CONSTRAINT job_discount_is_one_or_the_other CHECK ((percent IS NULL) <> (amount IS NULL))
);
CREATE INDEX job_discount_job ON job_discount (job_id);

-- A part that is the customer's own: brought, or taken off and put back.
CREATE TABLE own_part (
    job_id  bigint NOT NULL REFERENCES job,
    place   text NOT NULL,
    words   text NOT NULL CHECK (words <> ''), -- the customer's
    back    boolean NOT NULL DEFAULT false,    -- put back
    part    jsonb,                             -- what is known of it: see substitution.Part
    at      timestamptz NOT NULL,
    PRIMARY KEY (job_id, place)
);

-- What is done only if the place, once opened, reads so: up to a price that is agreed beforehand, tax included.
CREATE TABLE if_opened (
    job_id  bigint NOT NULL REFERENCES job,
    place   text NOT NULL,
    action  text NOT NULL CHECK (action IN ('clean', 'adjust', 'replace')),
    most    numeric(12,2) NOT NULL CHECK (most > 0),
    at      timestamptz NOT NULL,
    PRIMARY KEY (job_id, place)
);

-- Parts used beyond what was agreed, within what the customer allowed.
CREATE TABLE extra (
    id      bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    job_id  bigint NOT NULL REFERENCES job,
    part_id bigint NOT NULL,
    place   text NOT NULL,
    words   text NOT NULL CHECK (words <> ''),
    pieces  int NOT NULL CHECK (pieces > 0),
    amount  numeric(12,2) NOT NULL CHECK (amount >= 0), -- tax included
    tax     jsonb NOT NULL, -- its name and rate on that day
    at      timestamptz NOT NULL
);
CREATE INDEX extra_job ON extra (job_id);

-- Minutes for a wheel to come off and go on, which work on one wheel shares; none: each line stands by itself.
ALTER TABLE shop ADD COLUMN wheel_minutes int NOT NULL DEFAULT 0 CHECK (wheel_minutes BETWEEN 0 AND 60);
-- What an hour of work costs, before tax: the price of work that has none of its own.
ALTER TABLE shop ADD COLUMN hourly numeric(12,2) CONSTRAINT shop_hourly_is_money CHECK (hourly > 0);

-- What stands at the head of a bill.
ALTER TABLE shop ADD COLUMN address text NOT NULL DEFAULT '', ADD COLUMN tax_number text NOT NULL DEFAULT '';
