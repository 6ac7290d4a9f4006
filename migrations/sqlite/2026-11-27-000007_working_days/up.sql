-- Buildings are closed for planned work on some days; a schedule says what that does to a due date, and whether it wishes for a season.

-- The working days of a building; every day of the week where there is no row.
CREATE TABLE building_weeks (
    building_id BIGINT PRIMARY KEY REFERENCES buildings (id), -- which building
    working_days TEXT NOT NULL -- weekdays on which planned work is done, MO to SU between spaces
);

-- Public holidays and shut-down periods of a building.
CREATE TABLE closings (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    building_id BIGINT NOT NULL REFERENCES buildings (id), -- where
    kind TEXT NOT NULL CHECK (kind IN ('public_holiday', 'shut_down')), -- which of the two
    name TEXT NOT NULL, -- as people call it
    start_on DATE NOT NULL, -- local date: the first day when it is once, the first day of the rule otherwise
    rule TEXT NOT NULL, -- RFC 5545 rule text of the days it begins on; empty for once
    days BIGINT NOT NULL CHECK (days BETWEEN 1 AND 200) -- how long it lasts each time, days
);
CREATE INDEX closings_building ON closings (building_id);

ALTER TABLE schedules ADD COLUMN on_closed_days TEXT NOT NULL DEFAULT 'stays' CHECK (on_closed_days IN ('stays', 'forward', 'back')); -- what a due date does on a day that the building is closed
ALTER TABLE schedules ADD COLUMN season_months TEXT NOT NULL DEFAULT ''; -- months, 1 to 12 between spaces, that due dates keep to; empty for the whole year
ALTER TABLE schedules ADD COLUMN vacancy TEXT NOT NULL DEFAULT 'any' CHECK (vacancy IN ('any', 'not_while_vacant', 'at_turnover')); -- what a vacant unit does to it
ALTER TABLE due_items ADD COLUMN moved_from DATE; -- the due date before it was moved, local date; null when it was not
