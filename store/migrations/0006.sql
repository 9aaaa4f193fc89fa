-- Who is to do a task, or did it; who an hour's record is of.
ALTER TABLE task ADD COLUMN person TEXT;
ALTER TABLE record ADD COLUMN person TEXT;
