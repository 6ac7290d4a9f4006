-- What a technician's phone keeps and sends: languages, printed labels, phones, photos, what came late, urgent reports. Instants are UTC.
-- people.language: BCP 47 tag of the message catalogue that the person reads.
-- turnovers.signature: the signature as drawn, an SVG path in a box of 1000 by 300; empty when only a name was typed.
-- turnovers.signed_at: UTC, when it was signed on the phone; null when it was signed on a page.
ALTER TABLE people ADD COLUMN language TEXT NOT NULL DEFAULT 'en';
ALTER TABLE turnovers ADD COLUMN signature TEXT NOT NULL DEFAULT '';
ALTER TABLE turnovers ADD COLUMN signed_at TIMESTAMP;

-- What is printed on the label of a place: an address with a random code and nothing else.
CREATE TABLE labels (
    code TEXT NOT NULL PRIMARY KEY, -- random, as printed
    tag_id BIGINT NOT NULL REFERENCES tags (id), -- the place that it is stuck to
    made_at TIMESTAMP NOT NULL, -- UTC
    made_by BIGINT REFERENCES people (id), -- who; null for the command line
    ended_at TIMESTAMP -- UTC, when it was withdrawn; null while it leads to the place
);
CREATE INDEX labels_tag ON labels (tag_id);

-- A browser that keeps answers until they are sent.
CREATE TABLE phones (
    id TEXT NOT NULL PRIMARY KEY, -- UUID made by the phone
    person_id BIGINT NOT NULL REFERENCES people (id), -- who was signed in on it last
    first_heard_at TIMESTAMP NOT NULL, -- UTC
    heard_at TIMESTAMP NOT NULL, -- UTC, last
    user_agent TEXT NOT NULL -- as sent, cut
);

-- A unit's checklist on a phone, and what the phone last said is unsent there.
CREATE TABLE phone_units (
    phone_id TEXT NOT NULL REFERENCES phones (id), -- which phone
    unit_id BIGINT NOT NULL REFERENCES units (id), -- which unit
    person_id BIGINT NOT NULL REFERENCES people (id), -- who fetched it
    fetched_at TIMESTAMP NOT NULL, -- UTC, last
    heard_at TIMESTAMP NOT NULL, -- UTC, when the phone last said what is unsent
    unsent_answers BIGINT NOT NULL CHECK (unsent_answers >= 0), -- answers and steps
    unsent_photos BIGINT NOT NULL CHECK (unsent_photos >= 0), -- photos
    PRIMARY KEY (phone_id, unit_id)
);
CREATE INDEX phone_units_unit ON phone_units (unit_id);

-- A batch that a phone sent, by its idempotency key: the same again gets the same answer.
CREATE TABLE phone_batches (
    id TEXT NOT NULL PRIMARY KEY, -- UUID made by the phone
    person_id BIGINT NOT NULL REFERENCES people (id), -- who sent it
    sha256 TEXT NOT NULL, -- of the body, hexadecimal
    begun_at TIMESTAMP NOT NULL, -- UTC
    answer TEXT -- JSON as answered; null while it runs
);
CREATE INDEX phone_batches_begun ON phone_batches (begun_at);

-- A step that a phone sent (a repair, a stage, a closing, a photo), by its id: the same again changes nothing.
CREATE TABLE phone_steps (
    client_id TEXT NOT NULL PRIMARY KEY, -- UUID made by the phone
    person_id BIGINT NOT NULL REFERENCES people (id), -- who sent it
    kind TEXT NOT NULL, -- code of the step
    received_at TIMESTAMP NOT NULL, -- UTC, the server's time
    answer TEXT NOT NULL -- JSON as answered
);
CREATE INDEX phone_steps_received ON phone_steps (received_at);

-- What a phone sent that came late or could not be taken as it is: nothing is dropped, the manager sees it.
CREATE TABLE arrivals (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    client_id TEXT NOT NULL UNIQUE, -- of the answer or step as sent
    phone_id TEXT NOT NULL, -- from which phone
    person_id BIGINT NOT NULL REFERENCES people (id), -- who sent it
    building_id BIGINT NOT NULL REFERENCES buildings (id), -- where
    unit_id BIGINT NOT NULL REFERENCES units (id), -- where
    turnover_id BIGINT REFERENCES turnovers (id), -- of which turnover
    result_id BIGINT REFERENCES results (id), -- the result, when it was kept as one
    cause TEXT NOT NULL CHECK (cause IN ('turnover_over', 'reassigned', 'replaced', 'refused')), -- why it did not come in as usual
    sentence TEXT NOT NULL, -- the same in words
    sent TEXT NOT NULL, -- JSON as sent
    done_at TIMESTAMP NOT NULL, -- UTC, corrected by the phone's clock
    received_at TIMESTAMP NOT NULL, -- UTC, the server's time
    seen_at TIMESTAMP, -- UTC, when a manager noted it
    seen_by BIGINT REFERENCES people (id) -- who noted it
);
CREATE INDEX arrivals_unit ON arrivals (unit_id);
CREATE INDEX arrivals_unseen ON arrivals (seen_at, building_id);

-- A photo of what an answer saw. Announced with the answer, received after it.
CREATE TABLE photos (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    client_id TEXT NOT NULL UNIQUE, -- UUID made by the phone
    result_client_id TEXT NOT NULL, -- the client id of the answer that it shows
    building_id BIGINT NOT NULL REFERENCES buildings (id), -- where
    unit_id BIGINT NOT NULL REFERENCES units (id), -- where
    turnover_id BIGINT REFERENCES turnovers (id), -- of which turnover
    person_id BIGINT NOT NULL REFERENCES people (id), -- who took it
    taken_at TIMESTAMP NOT NULL, -- UTC, corrected by the phone's clock
    announced_at TIMESTAMP NOT NULL, -- UTC
    sent_sha256 TEXT NOT NULL, -- of the bytes that the phone sends, hexadecimal
    sent_bytes BIGINT NOT NULL CHECK (sent_bytes > 0), -- how many these are
    received_at TIMESTAMP, -- UTC, the server's time; null while it is to come
    sha256 TEXT NOT NULL, -- of the bytes as kept, hexadecimal; empty while it is to come
    width BIGINT, -- pixels as kept
    height BIGINT, -- pixels as kept
    refused TEXT NOT NULL -- why it could not be taken; empty otherwise
);
CREATE INDEX photos_result ON photos (result_client_id);
CREATE INDEX photos_turnover ON photos (turnover_id);
CREATE INDEX photos_unit ON photos (unit_id);

-- The bytes of a photo as kept: JPEG, written anew by the server.
CREATE TABLE photo_files (
    photo_id BIGINT NOT NULL REFERENCES photos (id), -- which photo
    bytes BLOB NOT NULL, -- JPEG
    PRIMARY KEY (photo_id)
);

-- The pieces of a photo that is being received.
CREATE TABLE photo_pieces (
    photo_id BIGINT NOT NULL REFERENCES photos (id), -- which photo
    from_byte BIGINT NOT NULL CHECK (from_byte >= 0), -- where the piece begins
    bytes BLOB NOT NULL, -- the piece
    PRIMARY KEY (photo_id, from_byte)
);

-- Other forms of an issued paper, kept with it byte for byte.
CREATE TABLE document_forms (
    document_id BIGINT NOT NULL REFERENCES documents (id), -- of which paper
    form TEXT NOT NULL CHECK (form IN ('pdf', 'manifest', 'copy', 'copy_pdf')), -- the PDF, what it was made from, the household's copy
    media_type TEXT NOT NULL, -- of the bytes
    file_name TEXT NOT NULL, -- offered on download
    bytes BLOB NOT NULL, -- the file itself
    sha256 TEXT NOT NULL, -- of the bytes, hexadecimal
    PRIMARY KEY (document_id, form)
);
CREATE INDEX document_forms_sha256 ON document_forms (sha256);

-- Gas smell, sparking, sewage, flooding: that somebody said so. The record of an alarm, not the alarm.
CREATE TABLE urgent_reports (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    client_id TEXT NOT NULL UNIQUE, -- UUID made by whoever reports
    kind TEXT NOT NULL, -- code of the kind of emergency
    building_id BIGINT REFERENCES buildings (id), -- where; null when nobody said
    unit_id BIGINT REFERENCES units (id), -- where; null when nobody said
    person_id BIGINT NOT NULL REFERENCES people (id), -- who
    note TEXT NOT NULL, -- free text
    said_at TIMESTAMP NOT NULL, -- UTC, corrected by the phone's clock
    received_at TIMESTAMP NOT NULL -- UTC, the server's time
);
CREATE INDEX urgent_reports_received ON urgent_reports (received_at);
