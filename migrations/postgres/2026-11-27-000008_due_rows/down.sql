DROP VIEW due_items;
CREATE TABLE due_items (
    fixture_id BIGINT NOT NULL REFERENCES fixtures (id),
    part TEXT COLLATE "C" NOT NULL,
    check_id BIGINT NOT NULL REFERENCES checks (id),
    building_id BIGINT NOT NULL REFERENCES buildings (id),
    unit_id BIGINT NOT NULL REFERENCES units (id),
    schedule_id BIGINT NOT NULL REFERENCES schedules (id),
    basis TEXT COLLATE "C" NOT NULL CHECK (basis IN ('done', 'installed', 'imported', 'joined')),
    counts_from DATE NOT NULL,
    opens DATE NOT NULL,
    due DATE NOT NULL,
    last_day DATE NOT NULL,
    moved_from DATE,
    PRIMARY KEY (fixture_id, part, check_id)
);
INSERT INTO due_items
SELECT fixture_id, part, check_id, building_id, unit_id, schedule_id, basis, counts_from, opens, due, last_day, moved_from
FROM due_rows
WHERE since <= (SELECT live FROM due_turns) AND until > (SELECT live FROM due_turns);
CREATE INDEX due_items_last_day ON due_items (last_day, fixture_id, part, check_id, building_id, opens, due);
CREATE INDEX due_items_building ON due_items (building_id, last_day, fixture_id, part, check_id, opens, due);
CREATE INDEX due_items_unit ON due_items (unit_id, last_day);
CREATE INDEX due_items_schedule ON due_items (schedule_id);
DROP TABLE due_rows;
DROP TABLE due_turns;
