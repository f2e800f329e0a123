-- Which parts of which jobs are fitted again under warranty: nobody asked for them anew. Discounts belong to pricing, so stock asks by
-- this function. part_id is absent where the whole job is under warranty; a part counts only where all places that it was held for are.
CREATE FUNCTION jobs_refitted() RETURNS TABLE (job_id bigint, part_id bigint) LANGUAGE sql STABLE AS $$
    SELECT job_id, NULL FROM job_discount WHERE warranty AND gone_at IS NULL AND place = ''
    UNION ALL
    SELECT held.job_id, held.part_id FROM reservation AS held
    WHERE held.state <> 'released' AND held.job_id IN (SELECT job_id FROM job_discount WHERE warranty AND gone_at IS NULL AND place <> '')
    GROUP BY held.job_id, held.part_id
    HAVING bool_and(EXISTS (SELECT FROM job_discount AS d WHERE d.job_id = held.job_id AND d.warranty AND d.gone_at IS NULL AND d.place = held.place))
$$;
