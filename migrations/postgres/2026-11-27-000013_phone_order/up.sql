-- The order of what a phone did in a unit, over its batches: each is corrected by what the phone's clock said on its way, and ways differ.
-- phone_units.done_at: UTC, the latest of what this phone did in the unit, as received; what it did later never lies before it. Null before.
ALTER TABLE phone_units ADD COLUMN done_at TIMESTAMP;
