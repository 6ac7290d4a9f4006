DROP TRIGGER turnovers_insert_marks_desk;
DROP TRIGGER turnovers_update_marks_desk;
DROP TRIGGER turnovers_delete_marks_desk;
DROP TRIGGER due_turns_update_marks_desk;
DROP VIEW due_items;
ALTER TABLE due_rows RENAME TO due_rows_after;
DROP INDEX due_rows_last_day;
DROP INDEX due_rows_building;
DROP INDEX due_rows_unit;
DROP INDEX due_rows_due;
CREATE TABLE due_rows (
    fixture_id BIGINT NOT NULL,
    part TEXT NOT NULL,
    check_id BIGINT NOT NULL,
    since BIGINT NOT NULL,
    until BIGINT NOT NULL,
    building_id BIGINT NOT NULL,
    unit_id BIGINT NOT NULL,
    schedule_id BIGINT NOT NULL,
    basis TEXT NOT NULL CHECK (basis IN ('done', 'installed', 'imported', 'joined')),
    counts_from DATE NOT NULL,
    opens DATE NOT NULL,
    due DATE NOT NULL,
    last_day DATE NOT NULL,
    moved_from DATE,
    PRIMARY KEY (fixture_id, part, check_id, since)
) WITHOUT ROWID;
INSERT INTO due_rows
SELECT fixture_id, part, check_id, live, 9223372036854775807, building_id, unit_id, schedule_id, basis, counts_from, opens, due, last_day,
    moved_from
FROM due_rows_after, due_turns WHERE turn = live;
DROP TABLE due_rows_after;
CREATE INDEX due_rows_last_day ON due_rows (last_day, fixture_id, part, check_id, building_id, opens, due, since, until);
CREATE INDEX due_rows_building ON due_rows (building_id, last_day, fixture_id, part, check_id, opens, due, since, until);
CREATE INDEX due_rows_unit ON due_rows (unit_id, last_day);
CREATE INDEX due_rows_due ON due_rows (due, schedule_id, check_id, building_id, since, until);
CREATE INDEX due_rows_until ON due_rows (until) WHERE until < 9223372036854775807;
CREATE VIEW due_items AS
SELECT fixture_id, part, check_id, building_id, unit_id, schedule_id, basis, counts_from, opens, due, last_day, moved_from
FROM due_rows
WHERE since <= (SELECT live FROM due_turns) AND until > (SELECT live FROM due_turns);
DROP TABLE due_marks;
DELETE FROM settings WHERE key IN ('database.mark', 'due.stale_mark', 'due.unswept');
UPDATE settings SET value = '0' WHERE key = 'due.stale_after_fixture' AND value <> '';
