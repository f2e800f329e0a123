-- What a supplier says of an order line after it was placed. The last word counts; the earlier ones stay to be read.
CREATE TABLE confirmation (
    id            bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    order_line_id bigint NOT NULL REFERENCES order_line,
    kind          text NOT NULL CHECK (kind IN ('acknowledged', 'invoiced')),
    expected_on   date,
    price         numeric(12,4) CHECK (price > 0), -- a pack
    note          text NOT NULL DEFAULT '',
    at            timestamptz NOT NULL,
    CONSTRAINT confirmation_says_something CHECK (expected_on IS NOT NULL OR price IS NOT NULL)
);
CREATE INDEX confirmation_line ON confirmation (order_line_id, id);
