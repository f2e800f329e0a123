-- When each job was first approved, for whoever reckons by the day on which parts were asked for: jobs, quotes and
-- approvals belong to pricing, so stock asks by this function.
CREATE FUNCTION jobs_approved() RETURNS TABLE (job_id bigint, at timestamptz) LANGUAGE sql STABLE AS $$
    SELECT quote.job_id, min(approval.at)
    FROM approval JOIN quote ON quote.id = approval.quote_id
    GROUP BY quote.job_id
$$;
