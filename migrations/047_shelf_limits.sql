-- How many of a part its place holds, and how long it keeps: of one part, or of all of a family. A part's own goes before its
-- family's.
CREATE TABLE shelf_limit (
    part_id bigint UNIQUE REFERENCES part,
    family  text UNIQUE CHECK (family <> ''),
    holds   int CHECK (holds > 0),                   -- pieces; absent: as many as there are
    months  int CHECK (months BETWEEN 1 AND 600),    -- until it perishes, or nobody rides what it is for; absent: for ever
    CONSTRAINT shelf_limit_is_of_one_thing CHECK ((part_id IS NULL) <> (family IS NULL)),
    CONSTRAINT shelf_limit_limits_something CHECK (holds IS NOT NULL OR months IS NOT NULL),
    CONSTRAINT shelf_limit_holds_one_part CHECK (holds IS NULL OR part_id IS NOT NULL)
);
CREATE TRIGGER touches_shop AFTER INSERT OR UPDATE OR DELETE ON shelf_limit FOR EACH STATEMENT EXECUTE FUNCTION touches_shop();
