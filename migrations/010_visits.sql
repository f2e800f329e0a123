-- What is read at a place adds up: every visit is kept, and a finding is what the visits there come to.
CREATE TABLE visit (
    id       bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    job_id   bigint NOT NULL REFERENCES job ON DELETE CASCADE,
    place    text NOT NULL,
    taken    jsonb NOT NULL, -- readings, the mechanic's own word, what it corrects: see inspection.Taken
    taken_at timestamptz NOT NULL
);
CREATE INDEX visit_job ON visit (job_id);
CREATE FUNCTION visits_are_kept() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'what was read is never changed: read it again as a correction' USING ERRCODE = 'integrity_constraint_violation', CONSTRAINT = 'visits_are_kept';
END $$;
CREATE TRIGGER visits_are_kept BEFORE UPDATE ON visit FOR EACH ROW EXECUTE FUNCTION visits_are_kept();

INSERT INTO visit (job_id, place, taken, taken_at)
SELECT job_id, place, jsonb_build_object('place', place, 'action', action, 'readings', readings, 'note', note), found_at
FROM finding
ORDER BY found_at, job_id, place;

ALTER TABLE finding ADD document jsonb; -- what the visits came to when they were last judged: see inspection.Finding
UPDATE finding SET document = jsonb_build_object('place', place, 'action', action, 'readings', readings, 'note', note,
    'proposal', jsonb_build_object('words', proposed));
ALTER TABLE finding ALTER document SET NOT NULL, DROP action, DROP readings, DROP proposed, DROP note, DROP found_at;

ALTER TABLE job ADD ending jsonb; -- what was due when it ended and what was left out, or why it was cancelled: see pricing.Ending
