-- All that the stock knows of jobs: it keeps pieces for them by their numbers, locks them, each by number, before it does, and
-- asks whether they are approved. What else a job is it does not read.
CREATE FUNCTION lock_jobs(ids bigint[]) RETURNS TABLE (id bigint, approved boolean, state text) LANGUAGE sql AS $$
    SELECT job.id, job.state = 'approved', job.state FROM job WHERE job.id = ANY(ids) ORDER BY job.id FOR NO KEY UPDATE
$$;
