ALTER TABLE phone_units DROP COLUMN done_at;
