-- Books that were kept elsewhere may be taken in. A delivery of then has no receipt here: the movement names its order instead.
ALTER TABLE movement ADD COLUMN order_elsewhere bigint CHECK (order_elsewhere > 0);
ALTER TABLE movement DROP CONSTRAINT movement_names_its_cause;
ALTER TABLE movement ADD CONSTRAINT movement_names_its_cause CHECK (
    (reason <> 'received' OR receipt_line_id IS NOT NULL OR order_elsewhere IS NOT NULL) AND (reason <> 'used' OR job_id IS NOT NULL));
