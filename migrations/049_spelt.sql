-- What is spelt like some words is looked for with a bound on how long that takes, which no function can set for itself.
DROP FUNCTION parts_spelt_like(text);
