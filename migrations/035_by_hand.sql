-- How a part is ordered where a person has decided it: from one supplier alone, or not before a day.

CREATE TABLE ordered_by_hand (
    part_id     bigint PRIMARY KEY REFERENCES part,
    supplier_id bigint REFERENCES supplier,
    until       date,
    why         text NOT NULL CHECK (btrim(why) <> ''),
    by_whom     text NOT NULL CHECK (btrim(by_whom) <> ''),
    CONSTRAINT ordered_by_hand_is_one_thing CHECK ((supplier_id IS NULL) <> (until IS NULL))
);
