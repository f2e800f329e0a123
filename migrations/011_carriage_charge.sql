-- What a job pays of the carriage of its parts: all of it, its share by the worth of the goods that an order there comes to,
-- nothing, or a fixed amount where anything is ordered for it.
ALTER TABLE shop ADD COLUMN carriage_charge text NOT NULL DEFAULT 'full' CHECK (carriage_charge IN ('full', 'shared', 'fixed', 'none'));
ALTER TABLE shop ADD COLUMN carriage_fixed numeric(12,2) CHECK (carriage_fixed > 0); -- before tax
ALTER TABLE shop ADD CONSTRAINT shop_fixed_carriage_is_known CHECK ((carriage_fixed IS NOT NULL) = (carriage_charge = 'fixed'));
