-- What a person does is dated by the shop's clock, as everything else of it, and not by the database's: the program says
-- in each change what time it is.
CREATE FUNCTION shop_clock() RETURNS timestamptz LANGUAGE sql STABLE AS $$
    SELECT coalesce(nullif(current_setting('stead.clock', true), '')::timestamptz, now())
$$;
ALTER TABLE request ALTER COLUMN done_at SET DEFAULT shop_clock();
ALTER TABLE movement ALTER COLUMN at SET DEFAULT shop_clock();
ALTER TABLE reservation ALTER COLUMN made_at SET DEFAULT shop_clock();
