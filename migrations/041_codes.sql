-- Codes that the workshop itself has given to parts: what a scanner reads on a packet and no list has told.
CREATE TABLE part_code (
    code     text PRIMARY KEY CHECK (code <> '' AND code = lower(code)),
    part_id  bigint NOT NULL REFERENCES part,
    given_at timestamptz NOT NULL
);
CREATE INDEX part_code_part ON part_code (part_id);
CREATE TRIGGER tells_shelf AFTER INSERT OR UPDATE OR DELETE ON part_code FOR EACH STATEMENT EXECUTE FUNCTION tells('shelf');

-- A supplier's list may print another GTIN than the part's own, of another wrapping, and a scanner reads that.
CREATE INDEX offer_gtin ON offer (gtin) WHERE gtin IS NOT NULL;
