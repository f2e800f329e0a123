-- "shelf" is what the workshop's own shelf is called where a supplier could be named. A supplier of that code, which could be
-- added before, keeps its name and goes by a code of its own from now on: shelf-1, or the first number that is free.
UPDATE supplier SET code = (
    SELECT 'shelf-' || n FROM generate_series(1, 1000000) n WHERE NOT EXISTS (SELECT FROM supplier AS other WHERE other.code = 'shelf-' || n) LIMIT 1)
WHERE code = 'shelf';
ALTER TABLE supplier ADD CONSTRAINT supplier_is_not_the_shelf CHECK (code <> 'shelf');
