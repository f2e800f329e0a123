-- A program that runs all day may be older than the schema by the evening: another machine has brought it up to date. What
-- the old one writes then may be wrong in ways that nobody sees. Each connection says up to which version its program knows
-- (stead.schema, see migrations.parse), and one that knows less than there is begins no change.
CREATE FUNCTION program_knows_the_schema() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF coalesce(nullif(current_setting('stead.schema', true), ''), '0')::int < (SELECT version FROM schema_version) THEN
        RAISE EXCEPTION 'a newer stead has brought the database up to date while this one ran: end this program and start the newer one; nothing was changed'
            USING ERRCODE = 'SD001';
    END IF;
    RETURN NULL;
END $$;

CREATE TRIGGER request_of_a_program_that_knows BEFORE INSERT ON request
    FOR EACH STATEMENT EXECUTE FUNCTION program_knows_the_schema();
