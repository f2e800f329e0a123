-- Wholesalers' price lists: how each one is written, what was read, what could not be, and what things cost before.

-- Which column of a supplier's lists holds what, confirmed once by a person.
CREATE TABLE list_mapping (
    supplier_id  bigint PRIMARY KEY REFERENCES supplier,
    mapping      jsonb NOT NULL,
    confirmed_at timestamptz NOT NULL DEFAULT now()
);

-- The shop's own words for a supplier: what a word of its descriptions means.
CREATE TABLE list_word (
    supplier_id bigint NOT NULL REFERENCES supplier,
    word        text NOT NULL CHECK (word <> '' AND word = lower(word)),
    meaning     text NOT NULL CHECK (meaning <> ''),
    answered_at timestamptz NOT NULL DEFAULT now(),
    PRIMARY KEY (supplier_id, word)
);

-- Every list that was loaded.
CREATE TABLE list_load (
    id           bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    supplier_id  bigint NOT NULL REFERENCES supplier,
    file         text NOT NULL,
    fingerprint  text NOT NULL,          -- of the file's bytes, the mapping and the words: the same again changes nothing
    as_of        timestamptz NOT NULL,   -- when the supplier said all this
    summary      jsonb NOT NULL,
    middle_price numeric(12,4),          -- to notice prices in the wrong column of the next list
    loaded_at    timestamptz NOT NULL DEFAULT now()
);
CREATE INDEX list_load_supplier ON list_load (supplier_id, as_of);

-- What an offer cost, and from when on. A price that did not change has one line.
CREATE TABLE price_history (
    offer_id bigint NOT NULL REFERENCES offer,
    as_of    timestamptz NOT NULL,
    pack     int NOT NULL CHECK (pack > 0),
    price    numeric(12,4) NOT NULL CHECK (price > 0), -- a pack
    PRIMARY KEY (offer_id, as_of)
);

-- Lines of a list that name no family of ours: kept as they are until somebody says what their words mean.
CREATE TABLE list_waiting (
    supplier_id bigint NOT NULL REFERENCES supplier,
    code        text NOT NULL,
    name        text NOT NULL,
    brand       text NOT NULL,
    maker_code  text NOT NULL,
    gtin        text,
    price       numeric(12,4) NOT NULL,
    rrp         numeric(12,2),
    pack        int NOT NULL,
    minimum     int NOT NULL,
    stock       text NOT NULL,
    as_of       timestamptz NOT NULL,
    PRIMARY KEY (supplier_id, code)
);

-- Words that could not be read, by the line they stand in.
CREATE TABLE list_unread (
    supplier_id bigint NOT NULL REFERENCES supplier,
    word        text NOT NULL,
    code        text NOT NULL,
    PRIMARY KEY (supplier_id, word, code)
);

-- Two parts of the catalogue that a person found to be one, and those found not to be.
CREATE TABLE part_merge (
    id        bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    kept      bigint NOT NULL REFERENCES part,
    merged    bigint NOT NULL REFERENCES part CHECK (merged <> kept),
    offers    bigint[] NOT NULL,          -- that moved from the merged part to the kept one
    merged_at timestamptz NOT NULL DEFAULT now(),
    split_at  timestamptz                 -- when it was undone
);
CREATE UNIQUE INDEX part_merged_once ON part_merge (merged) WHERE split_at IS NULL;
CREATE TABLE part_differs (
    a       bigint NOT NULL REFERENCES part,
    b       bigint NOT NULL REFERENCES part CHECK (a < b),
    said_at timestamptz NOT NULL DEFAULT now(),
    PRIMARY KEY (a, b)
);
