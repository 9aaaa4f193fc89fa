-- Parts and coats were to be copied out of the plan; nothing ever wrote them: the piece's document is what they are edited in, and
-- what was agreed keeps its plan (table accepted).
DROP TABLE part;
DROP TABLE coat;

-- what a closed piece took of each product, planned beside actual
CREATE TABLE closing_product (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    revision INTEGER NOT NULL,                   -- last written at
    piece TEXT NOT NULL REFERENCES closing(piece), -- which closed piece
    paint TEXT REFERENCES paint(id),             -- out of which can; NULL: not from the shelf
    name TEXT NOT NULL,                          -- as the plan or the can says
    class TEXT,                                  -- product class
    planned_ml REAL,                             -- likeliest, by the plan; NULL: not in the plan
    actual_ml REAL,                              -- really used; NULL: not known
    planned_cent REAL,                           -- of it, by the plan
    actual_cent REAL                             -- at the cost of its can
) STRICT;
CREATE INDEX closing_product_piece ON closing_product(piece);
