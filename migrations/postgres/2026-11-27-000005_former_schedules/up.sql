-- What a schedule said before each change of it, so that a change can be undone and an old record explained.
CREATE TABLE former_schedules (
    schedule_id BIGINT NOT NULL REFERENCES schedules (id), -- which schedule
    version BIGINT NOT NULL, -- the version that said so
    terms TEXT COLLATE "C" NOT NULL, -- JSON of its row and the keys of its checks, as they were
    replaced_at TIMESTAMP NOT NULL, -- UTC
    replaced_by BIGINT REFERENCES people (id), -- who changed it; null for the command line
    PRIMARY KEY (schedule_id, version)
);
