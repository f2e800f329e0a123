-- A sale over the counter, which is for no job.
ALTER TABLE movement DROP CONSTRAINT movement_reason_check;
ALTER TABLE movement ADD CONSTRAINT movement_reason_check
    CHECK (reason IN ('opening', 'received', 'used', 'sold', 'moved', 'counted', 'returned', 'scrapped'));
ALTER TABLE movement DROP CONSTRAINT movement_has_its_direction;
ALTER TABLE movement ADD CONSTRAINT movement_has_its_direction CHECK (
    CASE reason WHEN 'opening' THEN pieces > 0 WHEN 'received' THEN pieces > 0 WHEN 'returned' THEN pieces > 0
                WHEN 'used' THEN pieces < 0 WHEN 'sold' THEN pieces < 0 WHEN 'scrapped' THEN pieces < 0 ELSE true END);
ALTER TABLE movement ADD CONSTRAINT movement_sold_is_for_no_job CHECK (reason <> 'sold' OR job_id IS NULL);
