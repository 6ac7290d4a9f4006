-- Whom to call in one building when something is urgent, instead of the office's own number: the utilities of the site.
CREATE TABLE building_numbers (
    building_id BIGINT NOT NULL REFERENCES buildings (id), -- where
    contact TEXT NOT NULL, -- code of whom to call
    number TEXT NOT NULL, -- telephone number as people write it
    PRIMARY KEY (building_id, contact)
);
