-- What leaves by electronic mail: the shop's own server, and the queue of what is to go.

-- The password is not here: whoever reads the database, or a backup of it, cannot send in the shop's name.
CREATE TABLE post_server (
    only_one boolean PRIMARY KEY DEFAULT true CHECK (only_one),
    host     text NOT NULL CHECK (host <> ''),
    port     int NOT NULL CHECK (port BETWEEN 1 AND 65535),
    security text NOT NULL CHECK (security IN ('starttls', 'tls', 'none')),
    account  text NOT NULL DEFAULT '', -- empty: the server asks for no sign-in
    sender   text NOT NULL CHECK (sender <> '')
);

CREATE TABLE message (
    id         bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    message_id text NOT NULL UNIQUE, -- of its heading (RFC 5322), the same however often it is tried
    job_id     bigint REFERENCES job,
    order_id   bigint REFERENCES purchase_order,
    what       text NOT NULL CHECK (what <> ''), -- "quote 2", "bill 7", "order 501"
    sender     text NOT NULL CHECK (sender <> ''),
    recipient  text NOT NULL,
    subject    text NOT NULL,
    content    bytea, -- as it is handed over, whole; gone when it has left: a link's secret would stand in it
    state      text NOT NULL DEFAULT 'waiting'
               CHECK (state IN ('waiting', 'handing over', 'sent', 'refused', 'given up', 'unsure', 'cancelled')),
    made_at    timestamptz NOT NULL,
    tries      int NOT NULL DEFAULT 0 CHECK (tries >= 0),
    next_at    timestamptz NOT NULL,
    until      timestamptz NOT NULL, -- given up after
    answer     text NOT NULL DEFAULT '', -- what came of the last try, in words
    changed_at timestamptz NOT NULL,
    CONSTRAINT message_is_kept_until_it_leaves CHECK ((content IS NULL) = (state IN ('sent', 'cancelled'))),
    CONSTRAINT message_is_about_one_thing CHECK (job_id IS NULL OR order_id IS NULL)
);
CREATE INDEX message_due ON message (next_at) WHERE state = 'waiting';
CREATE INDEX message_open ON message (state) WHERE state NOT IN ('sent', 'cancelled');
CREATE INDEX message_job ON message (job_id);
CREATE INDEX message_order ON message (order_id);

-- What has left stays so, and nothing is handed over that did not wait for it.
CREATE FUNCTION message_leaves_once() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF NEW.state <> OLD.state AND (OLD.state IN ('sent', 'cancelled') OR NEW.state = 'handing over' AND OLD.state <> 'waiting') THEN
        RAISE EXCEPTION 'message % is %', OLD.id, OLD.state USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'message_leaves_once';
    END IF;
    RETURN NEW;
END $$;
CREATE TRIGGER message_leaves_once BEFORE UPDATE ON message FOR EACH ROW EXECUTE FUNCTION message_leaves_once();

-- To queue a message is a person's doing and stands in the history of its job or order. What becomes of it is told to open
-- pages only: a form that somebody is filling in meanwhile is no less fresh for it.
CREATE FUNCTION message_tells() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    PERFORM pg_notify('stead', 'post');
    IF NEW.job_id IS NOT NULL THEN
        PERFORM pg_notify('stead', 'job ' || NEW.job_id);
    END IF;
    IF NEW.order_id IS NOT NULL THEN
        PERFORM pg_notify('stead', 'order ' || NEW.order_id);
    END IF;
    RETURN NULL;
END $$;
CREATE TRIGGER message_tells AFTER INSERT OR UPDATE ON message FOR EACH ROW EXECUTE FUNCTION message_tells();
CREATE TRIGGER touches_job AFTER INSERT ON message FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_order AFTER INSERT ON message FOR EACH ROW EXECUTE FUNCTION touches('order', 'order_id');
CREATE TRIGGER touches_shop AFTER INSERT OR UPDATE OR DELETE ON post_server FOR EACH STATEMENT EXECUTE FUNCTION touches_shop();

-- Where a supplier takes orders.
ALTER TABLE supplier ADD COLUMN email text NOT NULL DEFAULT '';
