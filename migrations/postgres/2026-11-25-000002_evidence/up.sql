-- Evidence in the record: what was asked and what was measured, kept with the answer as they were then.
-- results.asked: what the check asked, its limits and where they come from, in one line; empty for rows older than the column.
-- results.detail: JSON of what was measured beyond one reading (a clearance, a flush test, leak points); empty when nothing was.
ALTER TABLE results ADD COLUMN asked TEXT NOT NULL DEFAULT '';
ALTER TABLE results ADD COLUMN detail TEXT NOT NULL DEFAULT '';
