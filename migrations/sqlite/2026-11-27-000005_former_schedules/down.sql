DROP TABLE former_schedules;
