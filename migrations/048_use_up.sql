-- Of what is too many on the shelf a person may say that jobs are to use it up, down to so many pieces.
ALTER TABLE shelf_word DROP CONSTRAINT shelf_word_answer_check;
ALTER TABLE shelf_word ADD CONSTRAINT shelf_word_answer_check CHECK (answer IN ('take', 'less', 'snooze', 'never', 'at least', 'use up', 'as advised'));
ALTER TABLE shelf_word DROP CONSTRAINT shelf_word_pieces_check;
ALTER TABLE shelf_word ADD CONSTRAINT shelf_word_pieces_check CHECK (pieces > 0 OR pieces = 0 AND answer = 'use up');
ALTER TABLE shelf_word DROP CONSTRAINT shelf_word_says_how_many;
ALTER TABLE shelf_word ADD CONSTRAINT shelf_word_says_how_many CHECK ((pieces IS NOT NULL) = (answer IN ('take', 'less', 'at least', 'use up')));
