-- A customer's way to one version of one quote, and what they ask about it.

-- The link's secret is kept as its hash: whoever reads the database has no link.
CREATE TABLE quote_link (
    id         bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    quote_id   bigint NOT NULL REFERENCES quote,
    job_id     bigint NOT NULL REFERENCES job,
    hash       bytea NOT NULL UNIQUE CHECK (length(hash) = 32),
    made_at    timestamptz NOT NULL,
    expires_on date NOT NULL,
    revoked_at timestamptz
);
CREATE INDEX quote_link_quote ON quote_link (quote_id);

CREATE TABLE question (
    id          bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    job_id      bigint NOT NULL REFERENCES job,
    quote_id    bigint NOT NULL REFERENCES quote,
    words       text NOT NULL CHECK (words <> ''),
    asked_at    timestamptz NOT NULL,
    answer      text NOT NULL DEFAULT '',
    answered_at timestamptz,
    answered_by text NOT NULL DEFAULT '',
    CHECK ((answered_at IS NOT NULL) = (answer <> ''))
);
CREATE INDEX question_job ON question (job_id);

CREATE TRIGGER touches_job AFTER INSERT OR UPDATE OF revoked_at ON quote_link FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
CREATE TRIGGER touches_job AFTER INSERT OR UPDATE ON question FOR EACH ROW EXECUTE FUNCTION touches('job', 'job_id');
