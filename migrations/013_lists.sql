-- What lists say of retail prices, of parts that are not one, and how a list is taken back.

-- A recommended price is of what is sold together, in the supplier's currency. A part keeps the one said last, of one piece
-- and not yet turned into the shop's currency; what the shop has said itself (retail_by is null) no list changes.
ALTER TABLE part ALTER COLUMN retail TYPE numeric, ADD CONSTRAINT part_retail_can_be_meant CHECK (retail < 10000000000);
ALTER TABLE part ADD COLUMN retail_by bigint REFERENCES supplier, ADD COLUMN retail_as_of timestamptz,
    ADD CONSTRAINT part_retail_was_said CHECK ((retail_by IS NULL) = (retail_as_of IS NULL) AND (retail IS NOT NULL OR retail_by IS NULL));

CREATE TABLE retail_history (
    offer_id bigint NOT NULL REFERENCES offer,
    as_of    timestamptz NOT NULL,
    pack     int NOT NULL CHECK (pack > 0),
    retail   numeric(12,4) NOT NULL CHECK (retail > 0), -- a pack, tax included, in the supplier's currency
    PRIMARY KEY (offer_id, as_of)
);

-- A recommended price in the shop's currency, at the rate of the day on which it was said; where none was recorded yet, at
-- the first that was recorded later. Null without a rate.
CREATE FUNCTION home_retail(retail numeric, supplier_id bigint, as_of timestamptz) RETURNS numeric LANGUAGE sql STABLE AS $$
    SELECT CASE WHEN supplier.currency = shop.currency THEN retail ELSE trim_scale(round(retail / (
        SELECT rate FROM exchange_rate WHERE currency = supplier.currency
        ORDER BY valid_from > as_of, CASE WHEN valid_from <= as_of THEN valid_from END DESC, valid_from LIMIT 1), 6)) END
    FROM supplier CROSS JOIN shop WHERE supplier.id = supplier_id
$$;

-- Lists loaded until now took the price of a bag or pair for that of a piece. The part that a list made (in one transaction
-- with its load, or with the answer to a word) has its retail price from the first offer of it.
UPDATE part SET retail = CASE WHEN first.each THEN part.retail ELSE trim_scale(round(part.retail / first.pack, 6)) END, retail_by = first.supplier_id, retail_as_of = first.as_of
FROM (
    SELECT DISTINCT ON (offer.part_id) offer.part_id, offer.supplier_id, COALESCE(h.pack, offer.pack) AS pack, COALESCE(h.as_of, offer.as_of) AS as_of,
        COALESCE(lower(mapping -> 'headings' ->> ((mapping -> 'columns' ->> 'rrp')::int - 1)) ~ '\m(each|ea|per piece|per pc|a piece|stk|stück)\M', false) AS each
    FROM offer
    LEFT JOIN LATERAL (SELECT pack, as_of FROM price_history WHERE offer_id = offer.id ORDER BY as_of LIMIT 1) AS h ON true
    LEFT JOIN list_mapping USING (supplier_id)
    ORDER BY offer.part_id, offer.id
) AS first
WHERE first.part_id = part.id AND part.retail IS NOT NULL
  AND (EXISTS (SELECT FROM list_load WHERE supplier_id = first.supplier_id AND loaded_at = part.added_at)
    OR EXISTS (SELECT FROM list_word WHERE supplier_id = first.supplier_id AND answered_at = part.added_at));

-- An offer that stood in a list goes when the list has it no more; one made by hand stays. Whoever made it by hand also said
-- of which part it is.
ALTER TABLE offer ADD COLUMN listed boolean NOT NULL DEFAULT false, ADD COLUMN said boolean NOT NULL DEFAULT false;
UPDATE offer SET listed = EXISTS (SELECT FROM price_history WHERE offer_id = offer.id);
UPDATE offer SET said = NOT listed;
UPDATE offer SET gone_at = NULL
WHERE NOT listed AND gone_at IS NOT NULL AND EXISTS (SELECT FROM list_load WHERE supplier_id = offer.supplier_id AND as_of = offer.gone_at);

-- A list of a day to come shut out all that followed it, until that day.
UPDATE price_history h SET as_of = now() FROM offer
WHERE offer.id = h.offer_id AND h.as_of > now() AND NOT EXISTS (SELECT FROM price_history o WHERE o.offer_id = h.offer_id AND o.as_of > now() AND o.as_of < h.as_of);
DELETE FROM price_history WHERE as_of > now();
UPDATE offer SET as_of = now() WHERE as_of > now();
UPDATE offer SET gone_at = now() WHERE gone_at > now();
UPDATE list_waiting SET as_of = now() WHERE as_of > now();
UPDATE list_load SET as_of = loaded_at WHERE as_of > now();

-- What a load changed, as it was before, so that the last load of a supplier can be taken back.
ALTER TABLE list_load ADD COLUMN taken_back_at timestamptz, ADD COLUMN waiting_before jsonb, ADD COLUMN unread_before jsonb;
CREATE TABLE offer_before (
    load_id       bigint NOT NULL REFERENCES list_load,
    offer_id      bigint NOT NULL REFERENCES offer,
    part_id       bigint NOT NULL REFERENCES part,
    description   text NOT NULL,
    gtin          text,
    pack          int NOT NULL,
    minimum_packs int NOT NULL,
    stock         text NOT NULL,
    as_of         timestamptz NOT NULL,
    gone_at       timestamptz,
    listed        boolean NOT NULL,
    from_packs    int[] NOT NULL,
    prices        numeric[] NOT NULL,
    PRIMARY KEY (load_id, offer_id)
);
CREATE TABLE part_before (
    load_id      bigint NOT NULL REFERENCES list_load,
    part_id      bigint NOT NULL REFERENCES part,
    family       text NOT NULL,
    dims         jsonb NOT NULL,
    origins      jsonb NOT NULL,
    retail       numeric,
    retail_by    bigint,
    retail_as_of timestamptz,
    PRIMARY KEY (load_id, part_id)
);

-- Why a line waits, and what a person has said of one line: it holds for the next list too.
ALTER TABLE list_waiting ADD COLUMN reason text NOT NULL DEFAULT 'no word of it names a kind of part';
CREATE TABLE list_line (
    supplier_id bigint NOT NULL REFERENCES supplier,
    code        text NOT NULL,
    meanings    text[] NOT NULL,
    said_at     timestamptz NOT NULL DEFAULT now(),
    PRIMARY KEY (supplier_id, code)
);

-- The first dimension in which two parts cannot both be right; null if there is none. Lists of counts may be short of each
-- other: one wholesaler writes 9 speed and another 8/9 speed.
CREATE FUNCTION dims_differ_in(a jsonb, b jsonb) RETURNS text LANGUAGE sql IMMUTABLE STRICT PARALLEL SAFE AS $$
    SELECT x.key FROM jsonb_each(a) AS x JOIN jsonb_each(b) AS y ON y.key = x.key
    WHERE x.value <> y.value AND NOT (jsonb_typeof(x.value) = 'array' AND (x.value @> y.value OR y.value @> x.value))
    ORDER BY x.key LIMIT 1
$$;

-- A part that was made one with another is that other: what is on its way, what a job waits for and the level at which it is
-- ordered again are the other's, and whatever is written of it later too.
ALTER TABLE part ADD COLUMN merged_into bigint REFERENCES part;
ALTER TABLE part_merge ADD COLUMN reorder_level int, ADD COLUMN reorder_to int; -- of the merged part, while the kept one has them
UPDATE part SET merged_into = kept FROM part_merge WHERE merged = part.id AND split_at IS NULL;
UPDATE order_line SET part_id = merged_into FROM part
WHERE part.id = part_id AND merged_into IS NOT NULL AND received + cancelled < packs * pack;
UPDATE claim SET part_id = merged_into FROM part WHERE part.id = part_id AND merged_into IS NOT NULL AND state IN ('wanted', 'ordered');
WITH moved AS (
    UPDATE part_merge SET reorder_level = part.reorder_level, reorder_to = part.reorder_to
    FROM part, part kept
    WHERE part.id = merged AND kept.id = part_merge.kept AND split_at IS NULL AND part.reorder_level IS NOT NULL AND kept.reorder_level IS NULL
    RETURNING part_merge.kept, part.reorder_level, part.reorder_to
)
UPDATE part SET reorder_level = moved.reorder_level, reorder_to = moved.reorder_to FROM moved WHERE part.id = moved.kept;
UPDATE part SET reorder_level = NULL, reorder_to = NULL WHERE merged_into IS NOT NULL AND reorder_level IS NOT NULL;

CREATE FUNCTION part_is_what_it_became() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    SELECT COALESCE(merged_into, id) INTO NEW.part_id FROM part WHERE id = NEW.part_id;
    RETURN NEW;
END $$;
CREATE TRIGGER part_is_what_it_became BEFORE INSERT ON claim FOR EACH ROW EXECUTE FUNCTION part_is_what_it_became();
CREATE TRIGGER part_is_what_it_became BEFORE INSERT ON order_line FOR EACH ROW EXECUTE FUNCTION part_is_what_it_became();
