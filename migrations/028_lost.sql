-- Why a quote came to nothing, or was changed: the one question that is asked of it.
CREATE TABLE quote_lost (
    quote_id bigint PRIMARY KEY REFERENCES quote,
    because  text NOT NULL CHECK (because IN ('price', 'date', 'part', 'no-answer')),
    note     text NOT NULL DEFAULT '',
    at       timestamptz NOT NULL DEFAULT shop_clock()
);

-- What each quote would have fitted, for whoever reckons what is asked for: quotes and what became of them belong to pricing,
-- so stock asks by this function. A row is a part of an option.
CREATE FUNCTION quotes_told() RETURNS TABLE (quote_id bigint, job_id bigint, version int, made_at timestamptz, approved boolean, over boolean,
        because text, option int, chosen boolean, place text, part_id bigint, pieces int, shelf boolean, substitute boolean, here_on date)
LANGUAGE sql STABLE AS $$
    SELECT q.id, q.job_id, q.version, q.made_at, q.state = 'approved', q.state <> 'open' OR q.valid_until < shop_clock()::date,
           coalesce(lost.because, ''), o.n::int, coalesce(o.option -> 'names' ? a.option_name, false), p ->> 'place', (p ->> 'part')::bigint,
           coalesce((p ->> 'pieces')::int, 1), coalesce((p ->> 'shelf')::boolean, false), coalesce((p ->> 'substitute')::boolean, false), (p ->> 'here_on')::date
    FROM quote q
    LEFT JOIN approval a ON a.quote_id = q.id
    LEFT JOIN quote_lost lost ON lost.quote_id = q.id
    CROSS JOIN LATERAL jsonb_array_elements(CASE jsonb_typeof(q.document -> 'options') WHEN 'array' THEN q.document -> 'options' ELSE '[]' END) WITH ORDINALITY AS o (option, n)
    CROSS JOIN LATERAL jsonb_array_elements(CASE jsonb_typeof(o.option -> 'parts') WHEN 'array' THEN o.option -> 'parts' ELSE '[]' END) AS p
    WHERE NOT coalesce((p ->> 'brought')::boolean, false) AND p ->> 'part' IS NOT NULL
    ORDER BY q.job_id, q.version, o.n
$$;
