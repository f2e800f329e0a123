-- The days on which a supplier, or the workshop itself, is closed beside its weekdays and bank holidays.
CREATE TABLE closure (
    supplier_id bigint REFERENCES supplier, -- absent: the workshop
    first_day   date NOT NULL,
    last_day    date NOT NULL,
    why         text NOT NULL CONSTRAINT closure_says_why CHECK (btrim(why) <> ''),
    CONSTRAINT closure_ends_after_it_begins CHECK (last_day >= first_day),
    CONSTRAINT closure_within_a_year CHECK (last_day - first_day < 366),
    CONSTRAINT closure_begins_once UNIQUE NULLS NOT DISTINCT (supplier_id, first_day)
);

-- A week without an open day would have every promise wait for ever.
ALTER TABLE shop ADD CONSTRAINT shop_opens_some_day CHECK (NOT closed_on @> '{0,1,2,3,4,5,6}');
ALTER TABLE supplier ADD CONSTRAINT supplier_opens_some_day CHECK (NOT closed_on @> '{0,1,2,3,4,5,6}');
