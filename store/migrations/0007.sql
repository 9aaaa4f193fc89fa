-- How long a piece for sale stood before it was sold.
ALTER TABLE closing ADD COLUMN days_to_sell INTEGER;
