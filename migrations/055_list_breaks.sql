-- What a waiting line costs from a number of packs on, as its list said, for the offer that it becomes once it is answered.
ALTER TABLE list_waiting ADD COLUMN from_packs int[], ADD COLUMN for_many numeric[];
