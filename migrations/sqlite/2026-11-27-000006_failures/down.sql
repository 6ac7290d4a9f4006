ALTER TABLE schedules DROP COLUMN scope_min_failures;
