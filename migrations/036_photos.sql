-- Photos, as inventory/photo/picture makes them: of a part of the catalogue, of a bike, or of a place at which a job's bike
-- was looked at. They lie here and in no folder, so that a backup has them.

CREATE TABLE photo (
    id       bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    part_id  bigint REFERENCES part,
    bike_id  bigint REFERENCES bike,
    job_id   bigint REFERENCES job,
    place    text NOT NULL DEFAULT '',
    words    text NOT NULL DEFAULT '',       -- below it
    shown    boolean NOT NULL DEFAULT false, -- to the customer
    jpeg     bytea NOT NULL CHECK (length(jpeg) > 0),
    small    bytea NOT NULL CHECK (length(small) > 0),
    width    int NOT NULL CHECK (width > 0),
    height   int NOT NULL CHECK (height > 0),
    taken_at timestamptz NOT NULL,
    CONSTRAINT photo_is_of_one_thing CHECK ((part_id IS NULL) <> (bike_id IS NULL) AND (job_id IS NULL) = (place = '') AND (job_id IS NULL OR bike_id IS NOT NULL)),
    CONSTRAINT photo_of_a_part_is_the_shops CHECK (NOT shown OR part_id IS NULL)
);
-- A JPEG does not get smaller by being packed again.
ALTER TABLE photo ALTER COLUMN jpeg SET STORAGE EXTERNAL, ALTER COLUMN small SET STORAGE EXTERNAL;
CREATE INDEX photo_part ON photo (part_id) WHERE part_id IS NOT NULL;
CREATE INDEX photo_bike ON photo (bike_id) WHERE bike_id IS NOT NULL;
CREATE INDEX photo_job ON photo (job_id) WHERE job_id IS NOT NULL;

-- What is photographed for a job is that job's bike.
CREATE FUNCTION photo_is_of_the_jobs_bike() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    SELECT job.bike_id INTO NEW.bike_id FROM job WHERE job.id = NEW.job_id;
    RETURN NEW;
END $$;
CREATE TRIGGER photo_is_of_the_jobs_bike BEFORE INSERT ON photo FOR EACH ROW WHEN (NEW.job_id IS NOT NULL) EXECUTE FUNCTION photo_is_of_the_jobs_bike();

CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OR DELETE ON photo FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_jobs_of_bike AFTER INSERT OR UPDATE OR DELETE ON photo FOR EACH ROW EXECUTE FUNCTION touches_jobs_of_bike();
CREATE TRIGGER tells_shelf AFTER INSERT OR UPDATE OR DELETE ON photo FOR EACH STATEMENT EXECUTE FUNCTION tells('shelf');
