-- A task that cannot go on before a certain time: a coat still wet, a part that is late.
ALTER TABLE task ADD COLUMN not_before_utc_min INTEGER;
