-- What the shop wants of its shelf and what that costs it. The figures that a shop begins with are common practice or our own
-- guess: it gives its own.
CREATE TABLE shelf_policy (
    one            boolean PRIMARY KEY DEFAULT true CHECK (one),
    target         numeric(6,5) NOT NULL DEFAULT 0.95 CHECK (target > 0 AND target <= 0.999),  -- share of the sales to be met whole
    line_cost      numeric(12,2) NOT NULL DEFAULT 1.50 CHECK (line_cost >= 0),                  -- one more line of an order
    holding        numeric(6,4) NOT NULL DEFAULT 0.25 CHECK (holding > 0 AND holding <= 2),     -- a year, of each pound of stock
    waiting        numeric(12,2) NOT NULL DEFAULT 0 CHECK (waiting >= 0),                       -- a working day for which a job waits
    waiting_safety numeric(12,2) NOT NULL DEFAULT 0 CHECK (waiting_safety >= 0),                -- the same for a part of safety
    look_every     int NOT NULL DEFAULT 0 CHECK (look_every BETWEEN 0 AND 60),                  -- working days; 0: as its orders tell
    months         int NOT NULL DEFAULT 12 CHECK (months BETWEEN 1 AND 120),                    -- that what is ordered may lie
    season         numeric[] CHECK (cardinality(season) = 12),                                  -- January first; absent: that of riding
    excess_months  int NOT NULL DEFAULT 24 CHECK (excess_months BETWEEN 1 AND 600),             -- what sells within is not in excess
    returned       numeric(6,5) NOT NULL DEFAULT 0 CHECK (returned BETWEEN 0 AND 1),            -- of a price, by suppliers
    reduced        numeric(6,5) NOT NULL DEFAULT 0.5 CHECK (reduced BETWEEN 0 AND 1)            -- of a price, sold off
);
INSERT INTO shelf_policy DEFAULT VALUES;
CREATE TRIGGER touches_shop AFTER UPDATE ON shelf_policy FOR EACH STATEMENT EXECUTE FUNCTION touches_shop();
