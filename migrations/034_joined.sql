-- What is ordered later in the day joins the open order of its supplier.

ALTER TABLE order_line ADD COLUMN joined_at timestamptz; -- absent for what the order was placed with
