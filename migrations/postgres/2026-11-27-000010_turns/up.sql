-- Each turn has all of its rows: to take the next one into use touches none of them. What is counted is counted again only in buildings
-- whose rows changed.

DROP VIEW due_items;
ALTER TABLE due_rows RENAME TO due_rows_before;
ALTER INDEX due_rows_pkey RENAME TO due_rows_before_pkey;
DROP INDEX due_rows_last_day;
DROP INDEX due_rows_building;
DROP INDEX due_rows_unit;
DROP INDEX due_rows_due;
DROP INDEX due_rows_until;

-- Derived: at most one row a turn, fixture, part and check. Written by one function, proved by verify due.
CREATE TABLE due_rows (
    turn BIGINT NOT NULL, -- in use while it is the live one of due_turns
    fixture_id BIGINT NOT NULL, -- which fixture
    part TEXT COLLATE "C" NOT NULL, -- part kind, empty for the fixture itself
    check_id BIGINT NOT NULL, -- which check
    building_id BIGINT NOT NULL, -- copied for the lists
    unit_id BIGINT NOT NULL, -- copied for the lists
    schedule_id BIGINT NOT NULL, -- the schedule shown, the one with the earliest last day
    basis TEXT COLLATE "C" NOT NULL CHECK (basis IN ('done', 'installed', 'imported', 'joined')), -- what the date counts from
    counts_from DATE NOT NULL, -- local date
    opens DATE NOT NULL, -- first day of the window
    due DATE NOT NULL, -- due date
    last_day DATE NOT NULL, -- last day of grace
    moved_from DATE, -- the due date before it was moved, local date; null when it was not
    PRIMARY KEY (fixture_id, part, check_id, turn)
);
INSERT INTO due_rows
SELECT live, fixture_id, part, check_id, building_id, unit_id, schedule_id, basis, counts_from, opens, due, last_day, moved_from
FROM due_rows_before, due_turns WHERE since <= live AND until > live ORDER BY fixture_id, part, check_id;
DROP TABLE due_rows_before;
CREATE INDEX due_rows_last_day ON due_rows (turn, last_day, fixture_id, part, check_id, building_id, opens, due);
CREATE INDEX due_rows_building ON due_rows (building_id, turn, last_day, fixture_id, part, check_id, opens, due);
CREATE INDEX due_rows_unit ON due_rows (unit_id, turn, last_day);
CREATE INDEX due_rows_due ON due_rows (turn, due, schedule_id, check_id, building_id);

-- The due rows in use: what every list reads.
CREATE VIEW due_items AS
SELECT fixture_id, part, check_id, building_id, unit_id, schedule_id, basis, counts_from, opens, due, last_day, moved_from
FROM due_rows
WHERE turn = (SELECT live FROM due_turns);

-- Derived: in which order the due rows of buildings changed last.
CREATE TABLE due_marks (
    building_id BIGINT PRIMARY KEY, -- which building; 0 for all of them
    number BIGINT NOT NULL -- greater than that of every change before
);
CREATE INDEX due_marks_number ON due_marks (number);
INSERT INTO due_marks (building_id, number) VALUES (0, 1);
DELETE FROM settings WHERE key IN ('due.mark', 'due.unswept');
-- What is kept in memory of one database is never taken for that of another.
INSERT INTO settings (key, value) VALUES ('database.mark', gen_random_uuid()::text);
-- Rows that were laid for a turn to come are gone; they are computed from the first fixture on.
UPDATE settings SET value = '0' WHERE key = 'due.stale_after_fixture' AND value <> '';

-- How wide windows are depends on open turnovers, and on the rows in use: each change of these sets another mark too.
CREATE TRIGGER turnovers_marks_desk AFTER INSERT OR UPDATE OF stage, move_in_on OR DELETE ON turnovers FOR EACH STATEMENT EXECUTE FUNCTION mark_desk();
CREATE TRIGGER due_turns_marks_desk AFTER UPDATE ON due_turns FOR EACH STATEMENT EXECUTE FUNCTION mark_desk();
