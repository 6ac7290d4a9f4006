-- A change of a schedule is laid beside the rows that stand and taken into use at once. Derived rows name what they come from without a
-- foreign key: one function writes them, and verify due proves them.

-- Which due rows are in use.
CREATE TABLE due_turns (
    id BIGINT PRIMARY KEY CHECK (id = 1), -- there is one row
    live BIGINT NOT NULL -- the turn whose rows are in use
);
INSERT INTO due_turns (id, live) VALUES (1, 1);

-- Derived: at most one row in use a fixture, part and check. Written by one function, proved by verify due.
CREATE TABLE due_rows (
    fixture_id BIGINT NOT NULL, -- which fixture
    part TEXT COLLATE "C" NOT NULL, -- part kind, empty for the fixture itself
    check_id BIGINT NOT NULL, -- which check
    since BIGINT NOT NULL, -- in use from this turn on
    until BIGINT NOT NULL, -- not in use from this turn on; the greatest number while nothing takes its place
    building_id BIGINT NOT NULL, -- copied for the lists
    unit_id BIGINT NOT NULL, -- copied for the lists
    schedule_id BIGINT NOT NULL, -- the schedule shown, the one with the earliest last day
    basis TEXT COLLATE "C" NOT NULL CHECK (basis IN ('done', 'installed', 'imported', 'joined')), -- what the date counts from
    counts_from DATE NOT NULL, -- local date
    opens DATE NOT NULL, -- first day of the window
    due DATE NOT NULL, -- due date
    last_day DATE NOT NULL, -- last day of grace
    moved_from DATE, -- the due date before it was moved, local date; null when it was not
    PRIMARY KEY (fixture_id, part, check_id, since)
);
INSERT INTO due_rows
SELECT fixture_id, part, check_id, 1, 9223372036854775807, building_id, unit_id, schedule_id, basis, counts_from, opens, due, last_day, moved_from
FROM due_items ORDER BY fixture_id, part, check_id;
DROP TABLE due_items;
CREATE INDEX due_rows_last_day ON due_rows (last_day, fixture_id, part, check_id, building_id, opens, due, since, until);
CREATE INDEX due_rows_building ON due_rows (building_id, last_day, fixture_id, part, check_id, opens, due, since, until);
CREATE INDEX due_rows_unit ON due_rows (unit_id, last_day);
CREATE INDEX due_rows_due ON due_rows (due, schedule_id, check_id, building_id, since, until);
CREATE INDEX due_rows_until ON due_rows (until) WHERE until < 9223372036854775807;

-- The due rows in use: what every list reads.
CREATE VIEW due_items AS
SELECT fixture_id, part, check_id, building_id, unit_id, schedule_id, basis, counts_from, opens, due, last_day, moved_from
FROM due_rows
WHERE since <= (SELECT live FROM due_turns) AND until > (SELECT live FROM due_turns);
