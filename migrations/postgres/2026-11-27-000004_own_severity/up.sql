-- A repeat may make a deficiency graver here; the published score knows no repeats, so what the failure alone weighs is kept beside it.
ALTER TABLE deficiencies ADD COLUMN own_severity TEXT COLLATE "C" CHECK (own_severity IN ('life_threatening', 'severe', 'moderate', 'low')); -- how grave by what failed alone; null when the same as severity
