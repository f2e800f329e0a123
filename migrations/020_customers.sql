-- Customers and their bikes stay, and are found again; whatever is corrected leaves its trail.

-- How to reach somebody was one text. What is a telephone number or an address of electronic mail by its looks is one; all
-- else stays as it was said.
ALTER TABLE customer ADD COLUMN phone text NOT NULL DEFAULT '', ADD COLUMN email text NOT NULL DEFAULT '';
UPDATE customer SET email = btrim(contact), contact = '' WHERE btrim(contact) ~ '^[^@\s]+@[^@\s]+$';
UPDATE customer SET phone = btrim(contact), contact = '' WHERE btrim(contact) ~ '^[+(]?[0-9][0-9 ()/.-]{4,}$';
ALTER TABLE bike ADD COLUMN frame_number text NOT NULL DEFAULT '';

-- A telephone number as it is compared: its last nine digits, so that +44 1632 and 01632 are one.
CREATE FUNCTION phone_digits(phone text) RETURNS text LANGUAGE sql IMMUTABLE STRICT AS $$
    SELECT right(regexp_replace(phone, '[^0-9]', '', 'g'), 9)
$$;
-- A frame number as it is compared: letters and figures alone.
CREATE FUNCTION frame_letters(frame_number text) RETURNS text LANGUAGE sql IMMUTABLE STRICT AS $$
    SELECT regexp_replace(lower(frame_number), '[^a-z0-9]', '', 'g')
$$;
CREATE INDEX customer_name ON customer (lower(name));
CREATE INDEX customer_phone ON customer (phone_digits(phone)) WHERE phone <> '';
CREATE INDEX bike_customer ON bike (customer_id);
CREATE INDEX bike_frame ON bike (frame_letters(frame_number)) WHERE frame_number <> '';
CREATE INDEX job_bike ON job (bike_id);

-- Who corrected what, when, what it was, what it is and why: written once. Whatever a person corrects stands here.
CREATE TABLE correction (
    id     bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    of     text NOT NULL CHECK (of <> ''), -- customer, bike, job, part, order
    number bigint NOT NULL,
    what   text NOT NULL CHECK (what <> ''),
    was    text NOT NULL,
    became text NOT NULL,
    why    text NOT NULL DEFAULT '',
    by_whom text NOT NULL CONSTRAINT correction_has_its_name CHECK (btrim(by_whom) <> ''),
    at     timestamptz NOT NULL
);
CREATE INDEX correction_of ON correction (of, number, id);
CREATE FUNCTION trail_is_append_only() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'the trail of corrections is never changed: correct it once more' USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'trail_is_append_only';
END $$;
CREATE TRIGGER trail_is_append_only BEFORE UPDATE OR DELETE ON correction FOR EACH ROW EXECUTE FUNCTION trail_is_append_only();
CREATE TRIGGER trail_is_not_emptied BEFORE TRUNCATE ON correction FOR EACH STATEMENT EXECUTE FUNCTION trail_is_append_only();
