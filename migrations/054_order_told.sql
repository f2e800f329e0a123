-- An order may reach its supplier by other ways than the post of this program; what is added to it later is told anew.
ALTER TABLE purchase_order ADD COLUMN told_at timestamptz;
ALTER TABLE purchase_order ADD COLUMN told_by text;
ALTER TABLE purchase_order ADD CONSTRAINT purchase_order_told_by CHECK (told_by IN ('telephone', 'their site', 'in person') AND told_at IS NOT NULL OR told_by IS NULL AND told_at IS NULL);
