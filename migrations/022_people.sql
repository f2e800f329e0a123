-- Who works here, and who did what to what.

CREATE TABLE person (
    id       bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    name     text NOT NULL CHECK (name <> ''),
    role     text NOT NULL CHECK (role IN ('owner', 'mechanic')),
    password text NOT NULL,             -- argon2id, with its salt and its cost
    pin      text NOT NULL DEFAULT '',  -- the same; empty: none
    left_at  timestamptz                -- works here no more
);
CREATE UNIQUE INDEX person_name ON person (lower(name)) WHERE left_at IS NULL;

-- Signed-in tablets. The layout is that of the library that keeps them.
CREATE TABLE sessions (
    token  text PRIMARY KEY, -- hashed
    data   bytea NOT NULL,
    expiry timestamptz NOT NULL
);
CREATE INDEX sessions_expiry ON sessions (expiry);

-- Tries to sign in that were not (yet) right, for slowing down whoever guesses.
CREATE TABLE sign_in_try (
    id      bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    account text NOT NULL,
    address text NOT NULL,
    at      timestamptz NOT NULL
);
CREATE INDEX sign_in_try_at ON sign_in_try (at);

-- A request knows who made it and what it is in words; empty for a command, which is its own words.
ALTER TABLE request ADD COLUMN by_whom text NOT NULL DEFAULT '', ADD COLUMN words text NOT NULL DEFAULT '';

-- What each change touched: a job, an order, the shop. The rows of one thing, counted, are the state that it is in.
CREATE TABLE touched (
    seq     bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    kind    text NOT NULL,
    id      bigint NOT NULL,
    request text REFERENCES request, -- absent: no request did it
    at      timestamptz NOT NULL DEFAULT shop_clock(),
    UNIQUE (kind, id, request)
);

-- touch keeps that the request under way has touched something, and tells whoever listens once it is committed.
CREATE FUNCTION touch(what text, which bigint) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
    INSERT INTO touched (kind, id, request) VALUES (what, which, nullif(current_setting('stead.request', true), '')) ON CONFLICT DO NOTHING;
    PERFORM pg_notify('stead', what || ' ' || which);
END $$;

-- Trigger: touches('job', 'job_id') touches the job that the row's job_id names.
CREATE FUNCTION touches() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
    which bigint;
BEGIN
    IF TG_OP = 'DELETE' THEN
        EXECUTE format('SELECT ($1).%I', TG_ARGV[1]) INTO which USING OLD;
    ELSE
        EXECUTE format('SELECT ($1).%I', TG_ARGV[1]) INTO which USING NEW;
    END IF;
    IF which IS NOT NULL THEN
        PERFORM touch(TG_ARGV[0], which);
    END IF;
    RETURN NULL;
END $$;

-- Trigger: what is written of a bike touches the jobs that it is in the workshop for.
CREATE FUNCTION touches_jobs_of_bike() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    PERFORM touch('job', job.id) FROM job WHERE job.bike_id = CASE WHEN TG_OP = 'DELETE' THEN OLD.bike_id ELSE NEW.bike_id END AND job.closed_at IS NULL;
    RETURN NULL;
END $$;

-- Trigger: touches_order() touches the order of the row's order line.
CREATE FUNCTION touches_order() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    PERFORM touch('order', order_line.order_id) FROM order_line WHERE order_line.id = NEW.order_line_id;
    RETURN NULL;
END $$;

-- Trigger, once a statement: tells('shelf') only tells, of what may change in a thousand rows at a time.
CREATE FUNCTION tells() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    PERFORM pg_notify('stead', TG_ARGV[0]);
    RETURN NULL;
END $$;

-- Trigger, once a statement: the shop's settings are one thing.
CREATE FUNCTION touches_shop() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    PERFORM touch('shop', 0);
    RETURN NULL;
END $$;

CREATE TRIGGER touches_job AFTER INSERT OR UPDATE ON job FOR EACH ROW EXECUTE FUNCTION touches('job', 'id');
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON visit FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON job_note FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE ON quote FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON reservation FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON claim FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON fitted FOR EACH ROW EXECUTE FUNCTION touches_jobs_of_bike();
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON wish FOR EACH ROW EXECUTE FUNCTION touches_jobs_of_bike();
CREATE TRIGGER touches_order AFTER INSERT OR UPDATE ON purchase_order FOR EACH ROW EXECUTE FUNCTION touches('order', 'id');
CREATE TRIGGER touches_order AFTER INSERT OR UPDATE ON order_line FOR EACH ROW EXECUTE FUNCTION touches('order', 'order_id');
CREATE TRIGGER touches_order AFTER INSERT ON receipt FOR EACH ROW EXECUTE FUNCTION touches('order', 'order_id');
CREATE TRIGGER touches_order AFTER INSERT ON confirmation FOR EACH ROW EXECUTE FUNCTION touches_order();
CREATE TRIGGER touches_shop AFTER INSERT OR UPDATE OR DELETE ON shop FOR EACH STATEMENT EXECUTE FUNCTION touches_shop();
CREATE TRIGGER touches_shop AFTER INSERT OR UPDATE OR DELETE ON tax_rate FOR EACH STATEMENT EXECUTE FUNCTION touches_shop();
CREATE TRIGGER touches_shop AFTER INSERT OR UPDATE OR DELETE ON labour FOR EACH STATEMENT EXECUTE FUNCTION touches_shop();
CREATE TRIGGER touches_shop AFTER INSERT OR UPDATE OR DELETE ON closure FOR EACH STATEMENT EXECUTE FUNCTION touches_shop();
CREATE TRIGGER touches_shop AFTER INSERT OR UPDATE OR DELETE ON person FOR EACH STATEMENT EXECUTE FUNCTION touches_shop();
CREATE TRIGGER tells_shelf AFTER INSERT ON movement FOR EACH STATEMENT EXECUTE FUNCTION tells('shelf');
CREATE TRIGGER tells_lists AFTER INSERT OR UPDATE OR DELETE ON list_load FOR EACH STATEMENT EXECUTE FUNCTION tells('lists');
CREATE TRIGGER tells_lists AFTER INSERT OR UPDATE OR DELETE ON supplier FOR EACH STATEMENT EXECUTE FUNCTION tells('lists');
