-- What a supplier says of an order line: that it is on back order, and it cannot say until when.
ALTER TABLE confirmation ADD COLUMN back_ordered boolean NOT NULL DEFAULT false;
ALTER TABLE confirmation DROP CONSTRAINT confirmation_says_something;
ALTER TABLE confirmation ADD CONSTRAINT confirmation_says_something CHECK (expected_on IS NOT NULL OR price IS NOT NULL OR back_ordered);
