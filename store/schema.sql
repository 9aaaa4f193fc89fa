-- The job book: one SQLite file that holds a shop's whole work.
--
-- Units are in the names: _ml milliliters, _mm millimeters, _min minutes, _cent cents, _day days since 1970-01-01,
-- _utc_min minutes since 1970-01-01 00:00 UTC. Documents are JSON as the person typed it (docs/API.md); the columns beside a
-- document are taken out of it when it is stored, for lists and searches.
-- `number` is the order of entry and the cursor of lists; `id` is the public name; `revision` is the book's revision at which
-- the row was last written; `removed` rows stay, because records and money refer to them.
-- Movements (stock_movement, supply_movement, record, money) are only ever added to: a correction is a new row that names the
-- one it corrects, amounts are sums. Every change of the other tables is kept in change_row by triggers (store/change.c).

-- the book itself: one row
CREATE TABLE book (
    one INTEGER PRIMARY KEY CHECK (one = 1),     -- always 1: there is one book
    revision INTEGER NOT NULL,                   -- goes up by one with every change
    made_utc_min INTEGER NOT NULL,               -- when the book was begun
    copied_utc_min INTEGER                       -- when the last copy was put aside; NULL never
) STRICT;

-- what was done, one row a revision
CREATE TABLE change (
    revision INTEGER PRIMARY KEY,                -- the book's revision after it
    at_utc_min INTEGER NOT NULL,                 -- when, by the shop's computer
    operation TEXT NOT NULL,                     -- name of the operation: "piece change"
    what TEXT NOT NULL DEFAULT '',               -- a few words for people
    undoes INTEGER REFERENCES change(revision)   -- the revision that this one takes back; NULL none
) STRICT;
CREATE INDEX change_undoes ON change(undoes) WHERE undoes IS NOT NULL;

-- each row that a change wrote, before and after
CREATE TABLE change_row (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of writing
    revision INTEGER NOT NULL REFERENCES change(revision) DEFERRABLE INITIALLY DEFERRED, -- which change
    subject TEXT NOT NULL,                       -- table
    row_number INTEGER NOT NULL,                 -- its row
    piece TEXT,                                  -- id of the piece it belongs to; NULL none
    before TEXT,                                 -- JSON of the row; NULL: it was not there
    after TEXT                                   -- JSON of the row; NULL: it was deleted
) STRICT;
CREATE INDEX change_row_revision ON change_row(revision);
CREATE INDEX change_row_row ON change_row(subject, row_number, revision);
CREATE INDEX change_row_piece ON change_row(piece, revision) WHERE piece IS NOT NULL;

-- answers to creations, so that a repeated request gets the same answer and is done once
CREATE TABLE answer (
    key TEXT PRIMARY KEY,                        -- idempotency key of the request
    operation TEXT NOT NULL,                     -- what was asked
    asked TEXT NOT NULL,                         -- fingerprint of its arguments
    at_utc_min INTEGER NOT NULL,                 -- when; kept for 30 days
    revision INTEGER NOT NULL,                   -- the book's revision after it
    result TEXT NOT NULL                         -- the answer as JSON
) STRICT;
CREATE INDEX answer_at ON answer(at_utc_min);

-- the shop: one row
CREATE TABLE shop (
    number INTEGER PRIMARY KEY CHECK (number = 1), -- always 1
    revision INTEGER NOT NULL,                   -- last written at
    document TEXT NOT NULL                       -- shop as typed: hours, rates, climate, units
) STRICT;

-- who work is done for
CREATE TABLE client (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    id TEXT NOT NULL UNIQUE,                     -- public name
    revision INTEGER NOT NULL,                   -- last written at
    removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1)), -- 1: no longer listed
    name TEXT NOT NULL,                          -- as the shop calls them
    phone TEXT,                                  -- as written
    email TEXT,                                  -- as written
    address TEXT,                                -- as written
    waits_for TEXT,                              -- what the client must still decide or bring
    note TEXT                                    -- anything else
) STRICT;

-- everything that comes out of a can: paints, primers, clears, waxes, stains, leftovers
CREATE TABLE paint (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    id TEXT NOT NULL UNIQUE,                     -- public name, used in recipes
    revision INTEGER NOT NULL,                   -- last written at
    removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1)), -- 1: no longer on the shelf
    name TEXT NOT NULL,                          -- as on the can
    class TEXT,                                  -- product class
    color_hex TEXT,                              -- #rrggbb for swatches
    sheen TEXT,                                  -- flat ... high gloss
    size_ml REAL,                                -- content of one can
    cost_cent REAL,                              -- cost of one can
    opened_day INTEGER,                          -- when the can was opened
    leftover INTEGER NOT NULL DEFAULT 0 CHECK (leftover IN (0, 1)), -- 1: mixed here, left over
    document TEXT NOT NULL                       -- paint as typed, without its stock
) STRICT;

-- stock of paints: what is left is the sum
CREATE TABLE stock_movement (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    revision INTEGER NOT NULL,                   -- written at
    paint TEXT NOT NULL REFERENCES paint(id),    -- of what
    kind TEXT NOT NULL CHECK (kind IN ('bought', 'used', 'counted', 'thrown', 'mixed', 'corrected')), -- why it changed
    amount_ml REAL NOT NULL,                     -- more (+) or less (-)
    cost_cent REAL,                              -- what was paid for it
    piece TEXT REFERENCES piece(id),             -- what it was used for
    batch TEXT REFERENCES batch(id),             -- the batch it went into or came from
    at_utc_min INTEGER NOT NULL,                 -- when it happened
    note TEXT,                                   -- anything else
    corrects INTEGER REFERENCES stock_movement(number) -- the row that this one takes back
) STRICT;
CREATE INDEX stock_movement_paint ON stock_movement(paint, amount_ml);
CREATE INDEX stock_movement_piece ON stock_movement(piece) WHERE piece IS NOT NULL;

-- what is used up and does not come out of a can: tape, abrasive, rollers, hardware
CREATE TABLE supply (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    id TEXT NOT NULL UNIQUE,                     -- public name
    revision INTEGER NOT NULL,                   -- last written at
    removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1)), -- 1: no longer kept
    name TEXT NOT NULL,                          -- as the shop calls it
    kind TEXT,                                   -- tape, abrasive, roller, ...
    cost_cent REAL,                              -- cost of one
    note TEXT                                    -- anything else
) STRICT;

-- stock of supplies: what is left is the sum
CREATE TABLE supply_movement (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    revision INTEGER NOT NULL,                   -- written at
    supply TEXT NOT NULL REFERENCES supply(id),  -- of what
    kind TEXT NOT NULL CHECK (kind IN ('bought', 'used', 'counted', 'thrown', 'corrected')), -- why it changed
    count REAL NOT NULL,                         -- more (+) or less (-), in pieces
    cost_cent REAL,                              -- what was paid for it
    piece TEXT REFERENCES piece(id),             -- what it was used for
    at_utc_min INTEGER NOT NULL,                 -- when it happened
    note TEXT,                                   -- anything else
    corrects INTEGER REFERENCES supply_movement(number) -- the row that this one takes back
) STRICT;
CREATE INDEX supply_movement_supply ON supply_movement(supply, count);

-- known mixes, painted on a card, dried, their color read
CREATE TABLE sample (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    id TEXT NOT NULL UNIQUE,                     -- public name
    revision INTEGER NOT NULL,                   -- last written at
    removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1)), -- 1: not to be learnt from
    color_hex TEXT,                              -- #rrggbb for swatches
    read TEXT,                                   -- instrument, photo, chart, eye
    at_utc_min INTEGER NOT NULL,                 -- when it was read
    document TEXT NOT NULL                       -- sample as typed: items, color, how read
) STRICT;

-- pieces of furniture: the job as typed, and where it stands
CREATE TABLE piece (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    id TEXT NOT NULL UNIQUE,                     -- public name
    revision INTEGER NOT NULL,                   -- last written at
    removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1)), -- 1: no longer listed
    stage TEXT NOT NULL DEFAULT 'looked_over'
        CHECK (stage IN ('looked_over', 'agreed', 'in_work', 'curing', 'ready', 'closed', 'left')), -- where it stands
    title TEXT NOT NULL,                         -- as the shop calls it
    template TEXT,                               -- kind of piece
    client TEXT REFERENCES client(id),           -- whose it is; NULL own or for sale
    due_day INTEGER,                             -- promised for
    width_mm REAL,                               -- outer size
    depth_mm REAL,                               -- outer size
    height_mm REAL,                              -- outer size
    color_hex TEXT,                              -- #rrggbb of the color wanted
    finish TEXT,                                 -- what is on it
    closed_utc_min INTEGER,                      -- when it was closed; NULL open
    document TEXT NOT NULL                       -- piece as typed
) STRICT;
CREATE INDEX piece_stage ON piece(stage, number) WHERE removed = 0;
CREATE INDEX piece_client ON piece(client) WHERE client IS NOT NULL;

-- what the last plan said of a piece, for lists; can be computed again at any time, so it is not kept in change_row
CREATE TABLE piece_outlook (
    piece TEXT PRIMARY KEY REFERENCES piece(id), -- of which piece
    revision INTEGER NOT NULL,                   -- the book's revision that was planned
    next_step TEXT,                              -- what comes next, in words
    next_task TEXT,                              -- id of that task
    price_cent REAL,                             -- price
    cost_cent REAL,                              -- cost
    hours REAL,                                  -- hands-on
    ready_utc_min INTEGER,                       -- can be handed over; NULL: waits for something
    blocked_by TEXT,                             -- what it waits for
    color_hex TEXT                               -- #rrggbb of the predicted color
) STRICT;

-- what was agreed with a client at a moment: quotes, agreements, change orders, sample approvals
CREATE TABLE accepted (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    revision INTEGER NOT NULL,                   -- written at
    piece TEXT NOT NULL REFERENCES piece(id),    -- for which piece
    kind TEXT NOT NULL CHECK (kind IN ('quote', 'agreement', 'change', 'sample', 'schedule', 'caution')), -- what was agreed
    amount_cent REAL,                            -- price, or difference for a change order
    due_day INTEGER,                             -- promised for
    text TEXT,                                   -- the words that were agreed
    document TEXT,                               -- what the plan said then, as JSON
    at_utc_min INTEGER NOT NULL,                 -- when
    who TEXT,                                    -- who agreed
    about TEXT,                                  -- of a caution: which one (data/hazards.tsv)
    corrects INTEGER REFERENCES accepted(number) -- the row that this one takes back
) STRICT;
CREATE INDEX accepted_piece ON accepted(piece);

-- recipes that were kept
CREATE TABLE recipe (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    id TEXT NOT NULL UNIQUE,                     -- public name
    revision INTEGER NOT NULL,                   -- last written at
    removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1)), -- 1: no longer listed
    piece TEXT REFERENCES piece(id),             -- made for
    name TEXT NOT NULL,                          -- as the shop calls it
    target TEXT,                                 -- color aimed at, CSS text
    color_hex TEXT,                              -- #rrggbb predicted
    difference REAL,                             -- CIEDE2000 to the target, predicted
    items TEXT NOT NULL,                         -- JSON: [{"paint": id, "parts": n, "hex": its color then}]
    note TEXT,                                   -- anything else
    spectrum TEXT                                -- JSON: 36 reflectances, 380..730 nm, of the mix when it was kept
) STRICT;

-- paint that was mixed
CREATE TABLE batch (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    id TEXT NOT NULL UNIQUE,                     -- public name, printed on the jar
    revision INTEGER NOT NULL,                   -- last written at
    removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1)), -- 1: no longer listed
    piece TEXT REFERENCES piece(id),             -- mixed for
    recipe TEXT REFERENCES recipe(id),           -- by which recipe
    name TEXT NOT NULL,                          -- as the shop calls it
    target TEXT,                                 -- color aimed at, CSS text
    predicted_hex TEXT,                          -- #rrggbb predicted
    dried TEXT,                                  -- color it dried to, CSS text; NULL not read
    amount_ml REAL NOT NULL,                     -- how much was mixed
    left_paint TEXT REFERENCES paint(id),        -- the leftover on the shelf
    made_utc_min INTEGER NOT NULL,               -- when
    note TEXT,                                   -- anything else
    spectrum TEXT                                -- JSON: 36 reflectances, 380..730 nm, as predicted when mixed
) STRICT;

-- what went into a batch
CREATE TABLE batch_item (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of pouring
    revision INTEGER NOT NULL,                   -- written at
    batch TEXT NOT NULL REFERENCES batch(id),    -- into which
    paint TEXT NOT NULL REFERENCES paint(id),    -- of what
    parts REAL NOT NULL CHECK (parts > 0),       -- by volume
    amount_ml REAL NOT NULL,                     -- poured
    color_hex TEXT                               -- #rrggbb of the paint when it was poured
) STRICT;
CREATE INDEX batch_item_batch ON batch_item(batch);

-- state of the timetable: what was promised, begun and done
CREATE TABLE task (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    revision INTEGER NOT NULL,                   -- last written at
    id TEXT NOT NULL UNIQUE,                     -- piece/task as the plan names it
    piece TEXT NOT NULL REFERENCES piece(id),    -- of which piece
    name TEXT NOT NULL,                          -- in words
    operation TEXT,                              -- kind of work
    part_group TEXT,                             -- on which group of parts
    hands_min REAL,                              -- hands-on time planned
    start_utc_min INTEGER,                       -- accepted start
    end_utc_min INTEGER,                         -- accepted end
    dry_until_utc_min INTEGER,                   -- may be followed from
    window_end_utc_min INTEGER,                  -- next coat without scuffing until
    begun_utc_min INTEGER,                       -- really begun; NULL not yet
    done_utc_min INTEGER,                        -- really done; NULL not yet
    took_min REAL,                               -- hands-on time it took
    not_before_utc_min INTEGER,                  -- cannot go on before, as was said; NULL any time
    person TEXT                                  -- who is to do it, or did it: id in the shop's crew
) STRICT;
CREATE INDEX task_piece ON task(piece);
CREATE INDEX task_open ON task(start_utc_min) WHERE done_utc_min IS NULL;

-- what was really used and how long it took; the next plans learn from it
CREATE TABLE record (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    revision INTEGER NOT NULL,                   -- written at
    piece TEXT REFERENCES piece(id),             -- on which piece
    kind TEXT NOT NULL CHECK (kind IN ('spread', 'loss', 'hours', 'drying', 'callback')), -- what was measured
    class TEXT,                                  -- product class
    method TEXT,                                 -- brush, roller, spray, ...
    operation TEXT,                              -- kind of work
    planned REAL,                                -- what the plan said, same unit
    actual REAL NOT NULL,                        -- spread m2 per l, loss fraction, minutes, count
    weight INTEGER NOT NULL DEFAULT 1,           -- 1; -1 takes one back, so that sums of weights tell what counts
    doubted INTEGER NOT NULL DEFAULT 0 CHECK (doubted IN (0, 1)), -- 1: far off, not learnt from until confirmed
    at_utc_min INTEGER NOT NULL,                 -- when it happened
    note TEXT,                                   -- anything else
    corrects INTEGER REFERENCES record(number),  -- the row that this one takes back
    person TEXT                                  -- of whose work; NULL not said
) STRICT;
CREATE INDEX record_piece ON record(piece) WHERE piece IS NOT NULL;
CREATE INDEX record_kind ON record(kind, class, method, operation);

-- money in and out
CREATE TABLE money (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    revision INTEGER NOT NULL,                   -- written at
    kind TEXT NOT NULL CHECK (kind IN ('deposit', 'payment', 'sale', 'refund', 'purchase', 'material', 'tool', 'fee',
        'mileage', 'rent', 'other')),            -- what it was for
    amount_cent INTEGER NOT NULL,                -- in (+) or out (-)
    piece TEXT REFERENCES piece(id),             -- for which piece
    client TEXT REFERENCES client(id),           -- from or to whom
    distance_m REAL,                             -- driven, for mileage
    day INTEGER NOT NULL,                        -- date for the books
    note TEXT,                                   -- anything else
    at_utc_min INTEGER NOT NULL,                 -- when it was entered
    corrects INTEGER REFERENCES money(number)    -- the row that this one takes back
) STRICT;
CREATE INDEX money_piece ON money(piece) WHERE piece IS NOT NULL;

-- what a closed piece came to
CREATE TABLE closing (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    revision INTEGER NOT NULL,                   -- last written at
    piece TEXT NOT NULL UNIQUE REFERENCES piece(id), -- which piece
    removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1)), -- 1: opened again
    planned_hours REAL,                          -- hands-on, by the plan
    actual_hours REAL,                           -- hands-on, really
    planned_material_cent REAL,                  -- by the plan
    actual_material_cent REAL,                   -- at stock cost
    planned_price_cent REAL,                     -- by the plan
    actual_price_cent REAL,                      -- what was paid
    fee_cent REAL,                               -- of the sale
    bought_cent REAL,                            -- what the piece itself cost
    hour_cent REAL,                              -- what an hour earned
    at_utc_min INTEGER NOT NULL,                 -- when
    note TEXT,                                   -- anything else
    days_to_sell INTEGER                         -- from the day it was listed; NULL not for sale, or not said
) STRICT;

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

-- pictures: the file lies beside the book, the row tells what it shows
CREATE TABLE picture (
    number INTEGER PRIMARY KEY AUTOINCREMENT,    -- order of entry
    id TEXT NOT NULL UNIQUE,                     -- public name
    revision INTEGER NOT NULL,                   -- last written at
    removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1)), -- 1: no longer shown
    piece TEXT REFERENCES piece(id),             -- of which piece
    kind TEXT NOT NULL CHECK (kind IN ('before', 'during', 'after', 'sample', 'other')), -- what it is for
    file TEXT NOT NULL,                          -- name in the pictures folder
    type TEXT NOT NULL,                          -- media type
    bytes INTEGER NOT NULL,                      -- size
    sha256 TEXT NOT NULL,                        -- of the file
    at_utc_min INTEGER NOT NULL,                 -- when it was taken
    note TEXT                                    -- anything else
) STRICT;

-- words of pieces, clients, paints, recipes and batches; filled by triggers (store/change.c)
CREATE VIRTUAL TABLE words USING fts5(subject UNINDEXED, id UNINDEXED, title, body, tokenize = 'unicode61 remove_diacritics 2');
