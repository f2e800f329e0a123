-- What is taken back: wishes, parts that go back to their supplier, parts that customers bring back.

ALTER TABLE wish ADD COLUMN gone_at timestamptz; -- wished no more

-- Pieces that leave the shelf for their supplier.
ALTER TABLE movement DROP CONSTRAINT movement_reason_check;
ALTER TABLE movement ADD CONSTRAINT movement_reason_check
    CHECK (reason IN ('opening', 'received', 'used', 'sold', 'moved', 'counted', 'returned', 'sent back', 'scrapped', 'opened'));
ALTER TABLE movement DROP CONSTRAINT movement_has_its_direction;
ALTER TABLE movement ADD CONSTRAINT movement_has_its_direction CHECK (
    CASE reason WHEN 'opening' THEN pieces > 0 WHEN 'received' THEN pieces > 0 WHEN 'returned' THEN pieces > 0
                WHEN 'used' THEN pieces < 0 WHEN 'sold' THEN pieces < 0 WHEN 'scrapped' THEN pieces < 0 WHEN 'sent back' THEN pieces < 0 WHEN 'opened' THEN pieces < 0 ELSE true END);

-- What goes back to a supplier, with the credit that is expected for it and what came of that.
CREATE TABLE supplier_return (
    id            bigint GENERATED ALWAYS AS IDENTITY (START WITH 701) PRIMARY KEY, -- its number on paper
    order_line_id bigint NOT NULL REFERENCES order_line,
    part_id       bigint NOT NULL REFERENCES part,
    pieces        int NOT NULL CHECK (pieces > 0),
    why           text NOT NULL CHECK (why IN ('wrong', 'damaged', 'not needed')),
    from_shelf    boolean NOT NULL,                              -- else it never was on it
    expected      numeric(12,2) NOT NULL CHECK (expected >= 0),  -- in the supplier's currency, before tax
    note          text NOT NULL DEFAULT '',
    sent_at       timestamptz NOT NULL,
    credited      numeric(12,2) CHECK (credited >= 0),           -- nothing: the supplier gives none
    credited_at   timestamptz,
    reference     text NOT NULL DEFAULT '',                      -- of the credit note
    CONSTRAINT supplier_return_credited_once CHECK ((credited IS NULL) = (credited_at IS NULL))
);
CREATE INDEX supplier_return_line ON supplier_return (order_line_id);
CREATE TRIGGER touches_order AFTER INSERT OR UPDATE ON supplier_return FOR EACH ROW EXECUTE FUNCTION touches_order();

-- A part's number in a quote is called part_id since 027; what quotes would have fitted is read by that name.
CREATE OR REPLACE FUNCTION quotes_told() RETURNS TABLE (quote_id bigint, job_id bigint, version int, made_at timestamptz, approved boolean, over boolean,
       because text, option int, chosen boolean, place text, part_id bigint, pieces int, shelf boolean, substitute boolean, here_on date)
LANGUAGE sql STABLE AS $$
    SELECT q.id, q.job_id, q.version, q.made_at, q.state = 'approved', q.state <> 'open' OR q.valid_until < shop_clock()::date,
           coalesce(lost.because, ''), o.n::int, coalesce(o.option -> 'names' ? a.option_name, false), p ->> 'place', (p ->> 'part_id')::bigint,
           coalesce((p ->> 'pieces')::int, 1), coalesce((p ->> 'shelf')::boolean, false), coalesce((p ->> 'substitute')::boolean, false), (p ->> 'here_on')::date
    FROM quote q
    LEFT JOIN approval a ON a.quote_id = q.id
    LEFT JOIN quote_lost lost ON lost.quote_id = q.id
    CROSS JOIN LATERAL jsonb_array_elements(CASE jsonb_typeof(q.document -> 'options') WHEN 'array' THEN q.document -> 'options' ELSE '[]' END) WITH ORDINALITY AS o (option, n)
    CROSS JOIN LATERAL jsonb_array_elements(CASE jsonb_typeof(o.option -> 'parts') WHEN 'array' THEN o.option -> 'parts' ELSE '[]' END) AS p
    WHERE NOT coalesce((p ->> 'brought')::boolean, false) AND p ->> 'part_id' IS NOT NULL
    ORDER BY q.job_id, q.version, o.n
$$;
