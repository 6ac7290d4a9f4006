ALTER TABLE deficiencies DROP COLUMN own_severity;
