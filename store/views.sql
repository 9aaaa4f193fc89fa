-- What can be made again from the tables at any time: views, and the triggers that keep movements as they were entered. Made with
-- a new book and after every upgrade (store/migrate.c), so that a migration never has to mention them.

-- movements are only ever added to
CREATE TRIGGER stock_movement_kept BEFORE UPDATE ON stock_movement BEGIN SELECT RAISE(ABORT, 'movements are only added to'); END;
CREATE TRIGGER stock_movement_stays BEFORE DELETE ON stock_movement BEGIN SELECT RAISE(ABORT, 'movements are only added to'); END;
CREATE TRIGGER supply_movement_kept BEFORE UPDATE ON supply_movement BEGIN SELECT RAISE(ABORT, 'movements are only added to'); END;
CREATE TRIGGER supply_movement_stays BEFORE DELETE ON supply_movement BEGIN SELECT RAISE(ABORT, 'movements are only added to'); END;
CREATE TRIGGER record_kept BEFORE UPDATE ON record BEGIN SELECT RAISE(ABORT, 'movements are only added to'); END;
CREATE TRIGGER record_stays BEFORE DELETE ON record BEGIN SELECT RAISE(ABORT, 'movements are only added to'); END;
CREATE TRIGGER money_kept BEFORE UPDATE ON money BEGIN SELECT RAISE(ABORT, 'movements are only added to'); END;
CREATE TRIGGER money_stays BEFORE DELETE ON money BEGIN SELECT RAISE(ABORT, 'movements are only added to'); END;
CREATE TRIGGER accepted_kept BEFORE UPDATE ON accepted BEGIN SELECT RAISE(ABORT, 'what was agreed is only added to'); END;
CREATE TRIGGER accepted_stays BEFORE DELETE ON accepted BEGIN SELECT RAISE(ABORT, 'what was agreed is only added to'); END;

-- what was agreed, and whether it was taken back
CREATE VIEW accepted_now AS
SELECT a.*, EXISTS (SELECT 1 FROM accepted b WHERE b.corrects = a.number) AS withdrawn FROM accepted a;

-- paints with what is left of them
CREATE VIEW paint_now AS
SELECT p.*, (SELECT COALESCE(SUM(m.amount_ml), 0.0) FROM stock_movement m WHERE m.paint = p.id) AS stock_ml FROM paint p;

-- supplies with how many are left
CREATE VIEW supply_now AS
SELECT s.*, (SELECT COALESCE(SUM(m.count), 0.0) FROM supply_movement m WHERE m.supply = s.id) AS count FROM supply s;

-- pieces with their client's name and what the last plan said
CREATE VIEW piece_now AS
SELECT p.*, c.name AS client_name, o.next_step, o.next_task, o.price_cent, o.cost_cent, o.hours, o.ready_utc_min, o.blocked_by,
    COALESCE(o.color_hex, p.color_hex) AS shown_hex, o.revision AS outlook_revision
FROM piece p LEFT JOIN client c ON c.id = p.client LEFT JOIN piece_outlook o ON o.piece = p.id;

-- money with the piece's title
CREATE VIEW money_now AS
SELECT m.*, p.title AS piece_title FROM money m LEFT JOIN piece p ON p.id = m.piece;

-- closed pieces: planned beside actual
CREATE VIEW closing_now AS
SELECT k.*, p.title, p.template FROM closing k JOIN piece p ON p.id = k.piece WHERE k.removed = 0;
