-- What was said at the bench: the whole note stays with the job, as it was said, with what was kept of it.
CREATE TABLE job_note (
    id       bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    job_id   bigint NOT NULL REFERENCES job ON DELETE CASCADE,
    said     text NOT NULL CHECK (said <> ''),
    kept     jsonb NOT NULL, -- findings and facts, each with its words: see pricing.Note
    said_at  timestamptz NOT NULL
);
CREATE INDEX job_note_job ON job_note (job_id);

-- The shop's own words at the bench, and what they mean: see note.Words.
CREATE TABLE note_word (
    word    text PRIMARY KEY CHECK (word <> '' AND word = lower(word)),
    meaning text NOT NULL CHECK (meaning <> ''),
    told_at timestamptz NOT NULL
);
