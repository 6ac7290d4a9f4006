-- What water costs where a building stands, what is lost at its leaks, what was found behind a symptom. Instants are UTC; money is in
-- minor units. Text codes are those of the domain enums.

-- What holds in one building instead of the office's own: its tariff and its programme of times to correct.
CREATE TABLE building_terms (
    building_id BIGINT NOT NULL REFERENCES buildings (id), -- which building
    water_minor BIGINT CHECK (water_minor >= 0), -- price of water, minor units a billing unit; null without a tariff
    sewer_minor BIGINT CHECK (sewer_minor >= 0), -- price of sewer, minor units a billing unit; null without a tariff
    billed TEXT NOT NULL CHECK (billed IN ('ccf', 'kgal', 'm3')), -- the volume that the bill counts in
    currency TEXT NOT NULL, -- three letters; empty without a tariff
    programme TEXT NOT NULL, -- code of the programme of times to correct; empty for the office's
    PRIMARY KEY (building_id)
);

-- Water lost at a leak, as measured. Append-only; the latest counts.
CREATE TABLE water_losses (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    deficiency_id BIGINT NOT NULL REFERENCES deficiencies (id), -- which leak
    method TEXT NOT NULL CHECK (method IN ('drips', 'cup', 'tank', 'cycle', 'meter', 'pinhole')), -- how it was measured
    inputs TEXT NOT NULL, -- JSON of the figures as typed, by name
    convention TEXT NOT NULL, -- the convention or formula, in words
    litres_a_day DOUBLE NOT NULL CHECK (litres_a_day >= 0), -- litres a day
    measured_at TIMESTAMP NOT NULL, -- UTC
    person_id BIGINT REFERENCES people (id) -- who measured; null for the command line
);
CREATE INDEX water_losses_deficiency ON water_losses (deficiency_id, measured_at);

-- What was found behind a symptom: the answers and the cause they led to. Append-only.
CREATE TABLE diagnoses (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    building_id BIGINT NOT NULL REFERENCES buildings (id), -- where
    unit_id BIGINT NOT NULL REFERENCES units (id), -- where
    tag_id BIGINT NOT NULL REFERENCES tags (id), -- at which place
    fixture_id BIGINT NOT NULL REFERENCES fixtures (id), -- what stood there then
    deficiency_id BIGINT REFERENCES deficiencies (id), -- the deficiency it explains; null when none was named
    symptom TEXT NOT NULL, -- code of the symptom
    said TEXT NOT NULL, -- JSON of the questions and answers in words, as they were then
    cause TEXT NOT NULL, -- code of the cause
    found TEXT NOT NULL, -- the cause in words, as it was then
    note TEXT NOT NULL, -- free text
    found_at TIMESTAMP NOT NULL, -- UTC
    person_id BIGINT REFERENCES people (id) -- who found it; null for the command line
);
CREATE INDEX diagnoses_tag ON diagnoses (tag_id, found_at);
CREATE INDEX diagnoses_deficiency ON diagnoses (deficiency_id);
