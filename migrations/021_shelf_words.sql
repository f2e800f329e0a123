-- What was said to the list of what to order for the shelf. Of what holds once (take, less, snooze) and of what holds for good
-- (never, at least, as advised) the last word on a part counts; the earlier ones stay to be read.
CREATE TABLE shelf_word (
    id      bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    part_id bigint NOT NULL REFERENCES part,
    answer  text NOT NULL CHECK (answer IN ('take', 'less', 'snooze', 'never', 'at least', 'as advised')),
    pieces  int CHECK (pieces > 0),
    until   date,
    note    text NOT NULL DEFAULT '',
    at      timestamptz NOT NULL DEFAULT shop_clock(),
    CONSTRAINT shelf_word_says_how_many CHECK ((pieces IS NOT NULL) = (answer IN ('take', 'less', 'at least'))),
    CONSTRAINT shelf_word_says_until_when CHECK ((until IS NOT NULL) = (answer = 'snooze'))
);
CREATE INDEX shelf_word_part ON shelf_word (part_id, id);
