-- A job that was billed stays closed until its bill has been given back: else it would be due twice.
CREATE FUNCTION billed_job_stays_closed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF (SELECT coalesce(sum(CASE series WHEN 'bill' THEN total ELSE -total END), 0) FROM bill WHERE job_id = NEW.id) > 0 THEN
        RAISE EXCEPTION 'job % is billed', NEW.id USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'billed_job_stays_closed';
    END IF;
    RETURN NEW;
END $$;
CREATE TRIGGER billed_job_stays_closed BEFORE UPDATE OF state ON job FOR EACH ROW
    WHEN (OLD.state = 'closed' AND NEW.state <> 'closed') EXECUTE FUNCTION billed_job_stays_closed();
