-- The day that an approval promised: the option's own, or a later one where that could no longer be kept and the customer
-- agreed to it. Approvals from before promised the option's day.
ALTER TABLE approval ADD COLUMN ready_on date;
UPDATE approval a SET ready_on = (
    SELECT (o ->> 'ready_on')::date
    FROM quote q, jsonb_array_elements(q.document -> 'options') o
    WHERE q.id = a.quote_id AND o -> 'names' ? a.option_name);
ALTER TABLE approval ALTER COLUMN ready_on SET NOT NULL;
