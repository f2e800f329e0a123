-- What the workshop knows of parts and of those who sell them.

CREATE EXTENSION IF NOT EXISTS pg_trgm;

-- Every change that a user makes carries a request key. The same request a second time changes nothing: its first
-- outcome is given again.
CREATE TABLE request (
    key     text PRIMARY KEY CHECK (key <> ''),
    what    text NOT NULL,
    outcome jsonb NOT NULL DEFAULT 'null',
    done_at timestamptz NOT NULL DEFAULT now()
);

-- The workshop itself: one row.
CREATE TABLE shop (
    only_one   boolean PRIMARY KEY DEFAULT true CHECK (only_one),
    name       text NOT NULL DEFAULT 'Workshop',
    country    text NOT NULL DEFAULT 'GB',
    zone       text NOT NULL DEFAULT 'Europe/London',
    currency   text NOT NULL DEFAULT 'GBP' CHECK (currency ~ '^[A-Z]{3}$'),
    confidence numeric(4,3) NOT NULL DEFAULT 0.9 CHECK (confidence > 0 AND confidence < 1),
    closed_on  int[] NOT NULL DEFAULT '{0}' CHECK (closed_on <@ '{0,1,2,3,4,5,6}'), -- 0 is Sunday
    mark_up    numeric(6,3) NOT NULL DEFAULT 0.4 CHECK (mark_up >= 0),              -- on the landed price, when no retail price is known
    quote_days int NOT NULL DEFAULT 14 CHECK (quote_days > 0)
);
INSERT INTO shop DEFAULT VALUES;

-- The GS1 General Specifications' check digit: the last of 13 digits makes the weighted sum a multiple of ten.
CREATE FUNCTION gtin13_is_right(code text) RETURNS boolean LANGUAGE sql IMMUTABLE STRICT AS $$
    SELECT code ~ '^[0-9]{13}$' AND
           (SELECT sum(substr(code, n, 1)::int * CASE WHEN n % 2 = 0 THEN 3 ELSE 1 END) FROM generate_series(1, 13) n) % 10 = 0
$$;

CREATE TABLE part (
    id            bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    family        text NOT NULL CHECK (family <> ''),
    brand         text NOT NULL DEFAULT '',
    maker_code    text NOT NULL DEFAULT '',
    name          text NOT NULL CHECK (name <> ''),
    dims          jsonb NOT NULL DEFAULT '{}' CHECK (jsonb_typeof(dims) = 'object'),    -- dimension -> value
    origins       jsonb NOT NULL DEFAULT '{}' CHECK (jsonb_typeof(origins) = 'object'), -- dimension -> where it came from
    notes         jsonb NOT NULL DEFAULT '{}' CHECK (jsonb_typeof(notes) = 'object'),   -- dimension -> remark
    gtin          text CONSTRAINT part_gtin_check_digit CHECK (gtin13_is_right(gtin)),
    retail        numeric(12,2) CHECK (retail > 0), -- recommended retail price a piece, tax included
    reorder_level int CHECK (reorder_level >= 0),   -- order again when what is free and on its way falls to this
    reorder_to    int CHECK (reorder_to > 0),
    added_at      timestamptz NOT NULL DEFAULT now(),
    words         text NOT NULL GENERATED ALWAYS AS (lower(family || ' ' || brand || ' ' || maker_code || ' ' || name)) STORED, -- to search in
    CONSTRAINT part_reorders_upwards CHECK ((reorder_level IS NULL) = (reorder_to IS NULL) AND reorder_to > reorder_level)
);
CREATE UNIQUE INDEX part_gtin ON part (gtin);
CREATE UNIQUE INDEX part_maker_code ON part (lower(maker_code), lower(brand)) WHERE brand <> '' AND maker_code <> '';
-- With the dimensions in it, so that those parts of a family of which something is not known are found without reading
-- every part: no index finds what is absent. A spec is far below the 2.7 kB that fit an index row: the vocabulary bounds it.
CREATE INDEX part_family ON part (family, id) INCLUDE (dims);
CREATE INDEX part_dims ON part USING gin (dims jsonb_path_ops);
CREATE INDEX part_words ON part USING gin (words gin_trgm_ops);

-- Parts of which some words are spelt nearly like these: one letter lost in "tarnhow" leaves 0.57 of it.
CREATE FUNCTION parts_spelt_like(spelling text) RETURNS TABLE (id bigint, likeness real) LANGUAGE sql STABLE
SET pg_trgm.word_similarity_threshold = 0.5 AS $$
    SELECT id, word_similarity(spelling, words) FROM part WHERE spelling <% words
$$;

-- A part's dimensions as words to look up, each with its family: "chainring bolt_pattern even", "cassette speeds 9", and for
-- a number its whole part, "chainring bcd_mm 110". So one index answers what a fit rule asks: one of some words, a list that
-- shares a count, a number in a range (a few whole parts, then the exact comparison).
CREATE FUNCTION part_marks(family text, dims jsonb) RETURNS text[] LANGUAGE sql IMMUTABLE STRICT PARALLEL SAFE AS $$
    SELECT array_agg(family || ' ' || key || ' ' || mark)
    FROM jsonb_each(dims) CROSS JOIN LATERAL (
        SELECT floor(value::text::numeric)::text AS mark WHERE jsonb_typeof(value) = 'number'
        UNION ALL
        SELECT value #>> '{}' WHERE jsonb_typeof(value) NOT IN ('number', 'array')
        UNION ALL
        SELECT jsonb_array_elements_text(value) WHERE jsonb_typeof(value) = 'array'
    ) AS marks
$$;
CREATE INDEX part_marks ON part USING gin (part_marks(family, dims));

CREATE TABLE supplier (
    id               bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    code             text NOT NULL UNIQUE CHECK (code ~ '^[a-z0-9][a-z0-9-]*$'),
    name             text NOT NULL CHECK (name <> ''),
    country          text NOT NULL DEFAULT 'GB',
    zone             text NOT NULL DEFAULT 'Europe/London',
    currency         text NOT NULL DEFAULT 'GBP' CHECK (currency ~ '^[A-Z]{3}$'),
    lead_days        int NOT NULL CHECK (lead_days >= 0),             -- working days quoted for what is in stock
    to_order_days    int NOT NULL CHECK (to_order_days >= lead_days), -- working days quoted for what is not
    cut_off          time NOT NULL DEFAULT '16:00',                   -- an order later in the day counts from the next
    closed_on        int[] NOT NULL DEFAULT '{0,6}' CHECK (closed_on <@ '{0,1,2,3,4,5,6}'),
    carriage         numeric(12,2) NOT NULL CHECK (carriage >= 0),
    carriage_paid_at numeric(12,2) CHECK (carriage_paid_at > 0),      -- goods worth this much travel free
    minimum_order    numeric(12,2) NOT NULL DEFAULT 0 CHECK (minimum_order >= 0)
);

-- One unit of the shop's currency buys this much of another, from a day on.
CREATE TABLE exchange_rate (
    currency   text NOT NULL CHECK (currency ~ '^[A-Z]{3}$'),
    valid_from date NOT NULL,
    rate       numeric(18,8) NOT NULL CHECK (rate > 0),
    PRIMARY KEY (currency, valid_from)
);

CREATE TABLE offer (
    id            bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    supplier_id   bigint NOT NULL REFERENCES supplier,
    code          text NOT NULL CHECK (code <> ''), -- the supplier's own
    part_id       bigint NOT NULL REFERENCES part,
    description   text NOT NULL DEFAULT '',
    gtin          text CONSTRAINT offer_gtin_check_digit CHECK (gtin13_is_right(gtin)),
    pack          int NOT NULL DEFAULT 1 CHECK (pack > 0),          -- pieces sold together
    minimum_packs int NOT NULL DEFAULT 1 CHECK (minimum_packs > 0),
    stock         text NOT NULL DEFAULT 'unknown' CHECK (stock IN ('in-stock', 'low', 'to-order', 'unknown')),
    as_of         timestamptz NOT NULL DEFAULT now(),
    gone_at       timestamptz,                                      -- no longer in the supplier's list
    UNIQUE (supplier_id, code)
);
CREATE INDEX offer_code ON offer (lower(code));
CREATE INDEX offer_part ON offer (part_id) WHERE gone_at IS NULL;

CREATE TABLE price_break (
    offer_id   bigint NOT NULL REFERENCES offer ON DELETE CASCADE,
    from_packs int NOT NULL CHECK (from_packs > 0),
    price      numeric(12,4) NOT NULL CHECK (price > 0), -- a pack, before tax, in the supplier's currency
    PRIMARY KEY (offer_id, from_packs)
);
