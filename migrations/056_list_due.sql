-- The day on which a supplier's list says that it has a part again. An order placed before is not here any sooner.
ALTER TABLE offer ADD COLUMN due_on date;
ALTER TABLE offer_before ADD COLUMN due_on date;
ALTER TABLE list_waiting ADD COLUMN due_on date;
