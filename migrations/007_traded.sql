-- Of a large catalogue few parts may ever have been offered or on the shelf, and a job chooses among these only: an index of
-- their own finds them. A part is traded unless it is known that it never was, so that a price list, whose parts are offered
-- at once, need not write them twice; once traded it stays so. Whether it can be had today its offers and the shelf say.
ALTER TABLE part ADD COLUMN traded boolean NOT NULL DEFAULT true;
UPDATE part SET traded = false
WHERE NOT EXISTS (SELECT FROM offer WHERE part_id = part.id) AND NOT EXISTS (SELECT FROM shelf WHERE part_id = part.id);
CREATE INDEX part_traded_marks ON part USING gin (part_marks(family, dims)) WHERE traded;

CREATE FUNCTION parts_are_traded() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    UPDATE part SET traded = true
    WHERE id IN (SELECT id FROM part WHERE id IN (SELECT part_id FROM fresh) AND NOT traded ORDER BY id FOR NO KEY UPDATE);
    RETURN NULL;
END $$;
CREATE TRIGGER parts_are_traded AFTER INSERT ON offer REFERENCING NEW TABLE AS fresh FOR EACH STATEMENT EXECUTE FUNCTION parts_are_traded();
CREATE TRIGGER parts_are_traded AFTER INSERT ON shelf REFERENCING NEW TABLE AS fresh FOR EACH STATEMENT EXECUTE FUNCTION parts_are_traded();

-- An offer that goes to another part, as where two parts turn out to be one.
CREATE FUNCTION part_is_traded() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    UPDATE part SET traded = true WHERE id = NEW.part_id AND NOT traded;
    RETURN NULL;
END $$;
CREATE TRIGGER part_is_traded AFTER UPDATE OF part_id ON offer FOR EACH ROW EXECUTE FUNCTION part_is_traded();
