-- Ways to the calendar of promised days. The secret of one is kept as its hash, as that of a customer's link is.
CREATE TABLE feed_link (
    id         bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    whose      text NOT NULL CHECK (whose <> ''), -- "Otis's telephone"
    hash       bytea NOT NULL UNIQUE CHECK (length(hash) = 32),
    made_at    timestamptz NOT NULL,
    revoked_at timestamptz
);

-- What tells this shop's things apart from those of another shop, wherever they meet: in a calendar, for one.
ALTER TABLE shop ADD COLUMN mark uuid NOT NULL DEFAULT gen_random_uuid();
