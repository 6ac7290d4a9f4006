-- A schedule may ask only where a check failed repeatedly, so that what fails is looked at more often.
ALTER TABLE schedules ADD COLUMN scope_min_failures BIGINT CHECK (scope_min_failures BETWEEN 1 AND 4); -- only where the check failed so often in 24 months; null for any history
