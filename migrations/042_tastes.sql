-- What customers said to differences, for whoever reckons which part is taken in another's stead: approvals belong to pricing, so
-- stock asks by this function.
CREATE FUNCTION differences_taken() RETURNS TABLE (rule text, accepted int, asked int) LANGUAGE sql STABLE AS $$
    SELECT rule, count(*) FILTER (WHERE accepted)::int, count(*)::int FROM decision WHERE place <> '' GROUP BY rule
$$;
