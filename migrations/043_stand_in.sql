-- What the shelf lacks of a part may be bought as another part that stands in for it.

ALTER TABLE ordered_by_hand ADD COLUMN stand_in_id bigint REFERENCES part;
ALTER TABLE ordered_by_hand DROP CONSTRAINT ordered_by_hand_is_one_thing,
    ADD CONSTRAINT ordered_by_hand_is_one_thing CHECK (num_nonnulls(supplier_id, until, stand_in_id) = 1),
    ADD CONSTRAINT stands_in_for_another CHECK (stand_in_id <> part_id);
