-- Whose bike it is, what is fitted to it, what was found and what was agreed.

CREATE TABLE customer (
    id      bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    name    text NOT NULL CHECK (name <> ''),
    contact text NOT NULL DEFAULT ''
);

CREATE TABLE bike (
    id          bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    customer_id bigint NOT NULL REFERENCES customer,
    words       text NOT NULL CHECK (words <> '') -- "blue touring bike"
);

-- What sits where on a bike, as far as it is known. A row without a family is a part of which nothing is known yet.
CREATE TABLE fitted (
    bike_id bigint NOT NULL REFERENCES bike ON DELETE CASCADE,
    place   text NOT NULL,
    family  text,
    name    text NOT NULL DEFAULT '',
    dims    jsonb NOT NULL DEFAULT '{}',
    origins jsonb NOT NULL DEFAULT '{}',
    notes   jsonb NOT NULL DEFAULT '{}',
    PRIMARY KEY (bike_id, place)
);

CREATE TABLE job (
    id        bigint GENERATED ALWAYS AS IDENTITY (START WITH 101) PRIMARY KEY, -- its number on paper
    bike_id   bigint NOT NULL REFERENCES bike,
    state     text NOT NULL DEFAULT 'booked' CHECK (state IN ('booked', 'inspected', 'quoted', 'approved', 'closed', 'cancelled')),
    wish      text NOT NULL DEFAULT '',        -- in the customer's words
    limits    jsonb NOT NULL DEFAULT '{}',     -- what the customer will not have: see pricing.Limits
    wanted_by date,
    booked_at timestamptz NOT NULL DEFAULT now(),
    closed_at timestamptz,
    CHECK ((closed_at IS NOT NULL) = (state IN ('closed', 'cancelled')))
);

CREATE TABLE finding (
    job_id   bigint NOT NULL REFERENCES job ON DELETE CASCADE,
    place    text NOT NULL,
    action   text NOT NULL CHECK (action IN ('keep', 'clean', 'adjust', 'replace')),
    readings jsonb NOT NULL DEFAULT '{}',
    proposed text NOT NULL DEFAULT '',   -- what the readings proposed, in words
    note     text NOT NULL DEFAULT '',
    found_at timestamptz NOT NULL DEFAULT now(),
    PRIMARY KEY (job_id, place)
);

-- A rate of tax from a day on. A price is taxed at the rate of the day of its quote.
CREATE TABLE tax_rate (
    name       text NOT NULL CHECK (name <> ''),
    valid_from date NOT NULL,
    percent    numeric(6,3) NOT NULL CHECK (percent >= 0 AND percent < 100),
    PRIMARY KEY (name, valid_from)
);

-- What the workshop charges for work: one line for what is done at a kind of place.
CREATE TABLE labour (
    family  text NOT NULL,
    action  text NOT NULL CHECK (action IN ('clean', 'adjust', 'replace')),
    words   text NOT NULL CHECK (words <> ''),
    minutes int NOT NULL CHECK (minutes > 0),
    price   numeric(12,2) NOT NULL CHECK (price >= 0), -- before tax
    PRIMARY KEY (family, action)
);

-- A quote is written once. What changes is a new version; what was approved stays as it was shown.
CREATE TABLE quote (
    id          bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    job_id      bigint NOT NULL REFERENCES job,
    version     int NOT NULL CHECK (version > 0),
    state       text NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'approved', 'superseded', 'declined')),
    made_at     timestamptz NOT NULL,
    valid_until date NOT NULL,
    document    jsonb NOT NULL, -- the options as the customer sees them: see pricing.Quote
    UNIQUE (job_id, version)
);
CREATE UNIQUE INDEX quote_one_open ON quote (job_id) WHERE state = 'open';
CREATE UNIQUE INDEX quote_one_approved ON quote (job_id) WHERE state = 'approved';

CREATE FUNCTION quote_stays_as_written() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF TG_OP = 'DELETE' OR (NEW.job_id, NEW.version, NEW.made_at, NEW.valid_until, NEW.document)
            IS DISTINCT FROM (OLD.job_id, OLD.version, OLD.made_at, OLD.valid_until, OLD.document) THEN
        RAISE EXCEPTION 'a quote is never changed: make a new version' USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'quote_stays_as_written';
    END IF;
    IF OLD.state <> 'open' AND NEW.state <> OLD.state THEN
        RAISE EXCEPTION 'quote version % is %', OLD.version, OLD.state USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'quote_is_settled';
    END IF;
    RETURN NEW;
END $$;
CREATE TRIGGER quote_stays_as_written BEFORE UPDATE OR DELETE ON quote FOR EACH ROW EXECUTE FUNCTION quote_stays_as_written();

-- What the customer said to one difference, in the exact words shown.
CREATE TABLE decision (
    quote_id    bigint NOT NULL REFERENCES quote,
    option_name text NOT NULL,
    place       text NOT NULL,
    rule        text NOT NULL,
    accepted    boolean NOT NULL,
    words       text NOT NULL,
    by_whom     text NOT NULL CHECK (by_whom <> ''),
    at          timestamptz NOT NULL,
    PRIMARY KEY (quote_id, option_name, place, rule)
);

CREATE TABLE approval (
    quote_id    bigint PRIMARY KEY REFERENCES quote,
    option_name text NOT NULL,
    total       numeric(12,2) NOT NULL CHECK (total >= 0),
    by_whom     text NOT NULL CHECK (by_whom <> ''),
    at          timestamptz NOT NULL
);

-- "Fit the black one next time": remembered until such a part can be had and the customer has been told.
CREATE TABLE wish (
    id      bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    bike_id bigint NOT NULL REFERENCES bike,
    place   text NOT NULL,
    family  text NOT NULL,
    dims    jsonb NOT NULL, -- what the part must be
    words   text NOT NULL,
    made_at timestamptz NOT NULL DEFAULT now(),
    met_at  timestamptz
);
