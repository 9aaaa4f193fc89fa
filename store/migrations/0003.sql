-- what was mixed, as it was seen then: so that the same color can be mixed again from other jars
ALTER TABLE recipe ADD COLUMN spectrum TEXT;
ALTER TABLE batch ADD COLUMN spectrum TEXT;
ALTER TABLE batch_item ADD COLUMN color_hex TEXT;
