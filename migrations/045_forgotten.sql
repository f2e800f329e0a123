-- A customer who asks for it is forgotten as far as bills allow. Only then, and only in what names them, a quote and the trail
-- of corrections may be blanked.
CREATE OR REPLACE FUNCTION quote_stays_as_written() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
    names text[] := CASE WHEN current_setting('stead.forgets', true) = 'on' THEN '{customer,bike}' ELSE '{}' END;
BEGIN
    IF TG_OP = 'DELETE' OR (NEW.job_id, NEW.version, NEW.amends, NEW.made_at, NEW.valid_until, NEW.document - names)
            IS DISTINCT FROM (OLD.job_id, OLD.version, OLD.amends, OLD.made_at, OLD.valid_until, OLD.document - names) THEN
        RAISE EXCEPTION 'a quote is never changed: make a new version' USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'quote_stays_as_written';
    END IF;
    IF OLD.state <> 'open' AND NEW.state <> OLD.state THEN
        RAISE EXCEPTION 'quote version % is %', OLD.version, OLD.state USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'quote_is_settled';
    END IF;
    RETURN NEW;
END $$;

CREATE OR REPLACE FUNCTION trail_is_append_only() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF TG_OP = 'UPDATE' AND current_setting('stead.forgets', true) = 'on'
            AND (NEW.of, NEW.number, NEW.what, NEW.by_whom, NEW.at) IS NOT DISTINCT FROM (OLD.of, OLD.number, OLD.what, OLD.by_whom, OLD.at) THEN
        RETURN NEW;
    END IF;
    RAISE EXCEPTION 'the trail of corrections is never changed: correct it once more' USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'trail_is_append_only';
END $$;
