-- What was agreed is only ever added to: who agreed, which caution was read, and which row another one takes back.
ALTER TABLE accepted ADD COLUMN who TEXT;
ALTER TABLE accepted ADD COLUMN about TEXT;
ALTER TABLE accepted ADD COLUMN corrects INTEGER REFERENCES accepted(number);
