ALTER TABLE due_items DROP COLUMN moved_from;
ALTER TABLE schedules DROP COLUMN vacancy;
ALTER TABLE schedules DROP COLUMN season_months;
ALTER TABLE schedules DROP COLUMN on_closed_days;
DROP TABLE closings;
DROP TABLE building_weeks;
