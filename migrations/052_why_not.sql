-- A customer may say themselves why they take no quote: by one tap, in their own words, or both. Their words stand beside
-- what the workshop keeps of it later, and without a tap the workshop is asked for the reason all the same.
ALTER TABLE quote_lost ALTER COLUMN because DROP NOT NULL;
ALTER TABLE quote_lost ADD COLUMN words text NOT NULL DEFAULT '';
ALTER TABLE quote_lost ADD CONSTRAINT quote_lost_says_something CHECK (because IS NOT NULL OR words <> '');
