-- The register, the checks, the history and the people. Instants are UTC; dates are the building's local dates;
-- money is in minor units. Text codes are those of the domain enums.

-- The buildings of one owner.
CREATE TABLE portfolios (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    code TEXT NOT NULL UNIQUE, -- short code for people, CSV and the command line
    name TEXT NOT NULL -- as the owner calls it
);

-- Everyone who signs in, and technicians that work is assigned to.
CREATE TABLE people (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    name TEXT NOT NULL, -- as shown
    email TEXT NOT NULL UNIQUE, -- lower case; also where the digest goes
    role TEXT NOT NULL CHECK (role IN ('manager', 'technician', 'owner')), -- what the person may do
    status TEXT NOT NULL CHECK (status IN ('invited', 'active', 'disabled')), -- only active people sign in
    password_hash TEXT, -- argon2id in PHC form; null until the invitation was taken
    time_zone TEXT NOT NULL, -- IANA name; the digest hour is read in it
    digest_hour BIGINT NOT NULL CHECK (digest_hour BETWEEN 0 AND 23), -- local hour of the morning mail, 0 to 23
    created_at TIMESTAMP NOT NULL, -- UTC
    last_seen_at TIMESTAMP -- UTC, to the minute; null before the first sign-in
);

-- A building, with what decides its days, limits and entries.
CREATE TABLE buildings (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    portfolio_id BIGINT NOT NULL REFERENCES portfolios (id), -- whose it is
    code TEXT NOT NULL UNIQUE, -- short code for people, CSV and the command line
    name TEXT NOT NULL, -- as shown
    address TEXT NOT NULL, -- one line or more
    time_zone TEXT NOT NULL, -- IANA name; all due dates are local dates in it
    code_profile TEXT NOT NULL CHECK (code_profile IN ('ipc', 'upc', 'ada', 'ada_dwelling', 'own')), -- whose clearances and limits apply by default
    length_unit TEXT NOT NULL CHECK (length_unit IN ('in', 'mm')), -- how lengths are shown
    notice_hours BIGINT NOT NULL CHECK (notice_hours >= 0), -- notice before entry, hours
    joined_on DATE NOT NULL, -- the day it joined the register; nothing falls due before
    built_year BIGINT, -- calendar year, null when unknown
    base_joint TEXT NOT NULL CHECK (base_joint IN ('sealed', 'rear_open', 'not_noted')), -- policy for the joint between water closet and floor
    technician_id BIGINT REFERENCES people (id), -- who looks after it unless a schedule says otherwise
    created_at TIMESTAMP NOT NULL -- UTC
);
CREATE INDEX buildings_portfolio ON buildings (portfolio_id);

-- A rental unit or a common area.
CREATE TABLE units (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    building_id BIGINT NOT NULL REFERENCES buildings (id), -- where
    label TEXT NOT NULL, -- as on the door, unique in the building
    label_order TEXT NOT NULL, -- the label with its numbers padded, for sorting
    kind TEXT NOT NULL CHECK (kind IN ('unit', 'common_area')), -- common areas have no household
    floor BIGINT NOT NULL, -- storey, 1 is the ground floor, 0 or less below ground
    riser BIGINT, -- position along the street from the left, 1 up; null when unknown
    occupancy TEXT NOT NULL CHECK (occupancy IN ('occupied', 'vacant', 'turnover', 'off_line')), -- state of the unit now
    spread_ppm BIGINT NOT NULL CHECK (spread_ppm BETWEEN 0 AND 999999), -- the unit's place in the first interval, in millionths of it
    UNIQUE (building_id, label)
);
CREATE INDEX units_walk ON units (building_id, label_order, id);

-- Who lives in a unit from when to when. Erased some months after move-out.
CREATE TABLE households (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    unit_id BIGINT NOT NULL REFERENCES units (id), -- where
    name TEXT NOT NULL, -- as the lease has it
    language TEXT NOT NULL, -- BCP 47 tag
    contact TEXT NOT NULL, -- telephone or mail
    agreed_hours TEXT NOT NULL, -- when entry was agreed, in words
    no_entry_days TEXT NOT NULL, -- days without entry, in words
    moved_in_on DATE NOT NULL, -- local date
    moved_out_on DATE -- local date, null while they live there
);
CREATE INDEX households_unit ON households (unit_id);

-- The rooms of a unit, in the order in which one walks them.
CREATE TABLE rooms (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    unit_id BIGINT NOT NULL REFERENCES units (id), -- where
    name TEXT NOT NULL, -- unique in the unit
    walk_order BIGINT NOT NULL, -- 1 is first
    UNIQUE (unit_id, name)
);

-- The place of a fixture in its unit. History and labels belong to the place.
CREATE TABLE tags (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    unit_id BIGINT NOT NULL REFERENCES units (id), -- where
    room_id BIGINT REFERENCES rooms (id), -- null when no room was named
    label TEXT NOT NULL, -- such as WC-1, unique in the unit
    label_order TEXT NOT NULL, -- the label with its numbers padded, for sorting
    UNIQUE (unit_id, label)
);

-- What stands, or stood, at a place.
CREATE TABLE fixtures (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    tag_id BIGINT NOT NULL REFERENCES tags (id), -- its place
    kind TEXT NOT NULL, -- code of the fixture kind
    maker TEXT NOT NULL, -- free text, may be empty
    model TEXT NOT NULL, -- free text, may be empty
    installed_on DATE, -- local date, null when unknown
    installed_estimated BOOLEAN NOT NULL, -- true when the date is an estimate
    status TEXT NOT NULL CHECK (status IN ('in_service', 'retired', 'replaced')), -- only one fixture in service at a place
    stood_from DATE NOT NULL, -- first local day it counts in the register
    stood_until DATE, -- first local day it no longer stood there; null while in service
    replaces_id BIGINT REFERENCES fixtures (id), -- the fixture it replaced
    note TEXT NOT NULL -- free text
);
CREATE INDEX fixtures_tag ON fixtures (tag_id);
CREATE UNIQUE INDEX fixtures_in_place ON fixtures (tag_id) WHERE status = 'in_service';

-- A wearing part of a fixture with an age of its own.
CREATE TABLE parts (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    fixture_id BIGINT NOT NULL REFERENCES fixtures (id), -- of which fixture
    kind TEXT NOT NULL, -- code of the part kind; one in service of each kind
    installed_on DATE, -- local date, null when unknown
    installed_estimated BOOLEAN NOT NULL, -- true when the date is an estimate
    status TEXT NOT NULL CHECK (status IN ('in_service', 'retired', 'replaced')), -- only parts in service come due
    stood_from DATE NOT NULL, -- first local day it counts
    stood_until DATE -- first local day it no longer stood there
);
CREATE INDEX parts_fixture ON parts (fixture_id);
CREATE UNIQUE INDEX parts_in_place ON parts (fixture_id, kind) WHERE status = 'in_service';

-- A procedure; its words and limits stand in body, each version kept.
CREATE TABLE checks (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    code TEXT NOT NULL UNIQUE, -- snake_case code
    origin TEXT NOT NULL CHECK (origin IN ('builtin', 'own')), -- ours from the catalogue, or the users' own
    version BIGINT NOT NULL, -- current version, 1 up
    title TEXT NOT NULL, -- as in the body
    severity TEXT NOT NULL CHECK (severity IN ('life_threatening', 'severe', 'moderate', 'low')), -- of a failure, before circumstances
    minutes DOUBLE NOT NULL, -- effort, minutes
    active BOOLEAN NOT NULL, -- false hides it from new schedules
    body TEXT NOT NULL -- JSON of the procedure
);

-- Each version of a procedure, so that old answers stay readable.
CREATE TABLE check_versions (
    check_id BIGINT NOT NULL REFERENCES checks (id), -- of which check
    version BIGINT NOT NULL, -- 1 up
    body TEXT NOT NULL, -- JSON of the procedure
    valid_from TIMESTAMP NOT NULL, -- UTC
    PRIMARY KEY (check_id, version)
);

-- What makes checks come due on the fixtures in its scope.
CREATE TABLE schedules (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    code TEXT NOT NULL UNIQUE, -- short code
    name TEXT NOT NULL, -- as shown
    pack TEXT NOT NULL, -- the catalogue pack it came from, or own
    active BOOLEAN NOT NULL, -- false asks for nothing
    recorded_only BOOLEAN NOT NULL, -- true: its results are recorded, and it makes nothing due
    anchor TEXT NOT NULL CHECK (anchor IN ('calendar', 'last_done')), -- a calendar rule or an interval
    rule TEXT NOT NULL, -- RFC 5545 rule text or ISO 8601 interval
    start_on DATE, -- first day of a calendar rule, null for intervals
    lead_days BIGINT NOT NULL CHECK (lead_days >= 0), -- days the window opens before the due date
    grace_days BIGINT NOT NULL CHECK (grace_days >= 0), -- days after the due date before it is overdue
    early_days BIGINT NOT NULL CHECK (early_days >= 0), -- days before an occurrence from which a result satisfies it
    scope_kinds TEXT NOT NULL, -- fixture kinds, space separated, empty for all
    scope_parts TEXT NOT NULL, -- part kinds, space separated, empty for all
    scope_buildings TEXT NOT NULL, -- building codes, space separated, empty for all
    scope_tags TEXT NOT NULL, -- tag labels, space separated, empty for all
    scope_min_age_years BIGINT, -- only fixtures at least this old
    scope_max_age_years BIGINT, -- only fixtures at most this old
    technician_id BIGINT REFERENCES people (id), -- who does it, null for the building's technician
    version BIGINT NOT NULL -- counts changes, 1 up
);

-- Which checks a schedule asks for.
CREATE TABLE schedule_checks (
    schedule_id BIGINT NOT NULL REFERENCES schedules (id), -- which schedule
    check_id BIGINT NOT NULL REFERENCES checks (id), -- which check
    PRIMARY KEY (schedule_id, check_id)
);

-- When a check was last done before the register knew of it, as imported.
CREATE TABLE prior_done (
    tag_id BIGINT NOT NULL REFERENCES tags (id), -- at which place
    part TEXT NOT NULL, -- part kind, empty for the fixture itself
    check_id BIGINT NOT NULL REFERENCES checks (id), -- which check
    done_on DATE NOT NULL, -- local date
    PRIMARY KEY (tag_id, part, check_id)
) WITHOUT ROWID;

-- Derived: one row a fixture, part and check. Written by one function, proved by verify due.
CREATE TABLE due_items (
    fixture_id BIGINT NOT NULL REFERENCES fixtures (id), -- which fixture
    part TEXT NOT NULL, -- part kind, empty for the fixture itself
    check_id BIGINT NOT NULL REFERENCES checks (id), -- which check
    building_id BIGINT NOT NULL REFERENCES buildings (id), -- copied for the lists
    unit_id BIGINT NOT NULL REFERENCES units (id), -- copied for the lists
    schedule_id BIGINT NOT NULL REFERENCES schedules (id), -- the schedule shown, the one with the earliest last day
    basis TEXT NOT NULL CHECK (basis IN ('done', 'installed', 'imported', 'joined')), -- what the date counts from
    counts_from DATE NOT NULL, -- local date
    opens DATE NOT NULL, -- first day of the window
    due DATE NOT NULL, -- due date
    last_day DATE NOT NULL, -- last day of grace
    PRIMARY KEY (fixture_id, part, check_id)
) WITHOUT ROWID;
CREATE INDEX due_items_last_day ON due_items (last_day, fixture_id, part, check_id, building_id, opens, due);
CREATE INDEX due_items_building ON due_items (building_id, last_day, fixture_id, part, check_id, opens, due);
CREATE INDEX due_items_unit ON due_items (unit_id, last_day);
CREATE INDEX due_items_schedule ON due_items (schedule_id);

-- The work between a move-out and a move-in.
CREATE TABLE turnovers (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    building_id BIGINT NOT NULL REFERENCES buildings (id), -- where
    unit_id BIGINT NOT NULL REFERENCES units (id), -- where
    move_out_on DATE NOT NULL, -- local date
    move_in_on DATE NOT NULL, -- local date
    stage TEXT NOT NULL CHECK (stage IN ('found', 'repaired', 'ready', 'moved_in', 'cancelled')), -- the stage it is in; moved_in is closed
    opened_at TIMESTAMP NOT NULL, -- UTC
    opened_by BIGINT REFERENCES people (id), -- null for the command line
    ready_at TIMESTAMP, -- UTC, when it was declared ready
    ready_by BIGINT REFERENCES people (id), -- who declared it ready
    closed_at TIMESTAMP, -- UTC
    closed_by BIGINT REFERENCES people (id), -- who closed it
    signed_name TEXT NOT NULL, -- the name typed at closing, empty before
    note TEXT NOT NULL -- free text
);
CREATE INDEX turnovers_unit ON turnovers (unit_id);
CREATE UNIQUE INDEX turnovers_one_open ON turnovers (unit_id) WHERE stage IN ('found', 'repaired', 'ready');
CREATE INDEX turnovers_open ON turnovers (stage, move_in_on);

-- One entry into one unit on one day by one technician.
CREATE TABLE visits (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    building_id BIGINT NOT NULL REFERENCES buildings (id), -- where
    unit_id BIGINT NOT NULL REFERENCES units (id), -- where
    on_date DATE NOT NULL, -- local date
    technician_id BIGINT REFERENCES people (id), -- who goes
    status TEXT NOT NULL CHECK (status IN ('planned', 'done', 'no_access', 'cancelled')), -- how it went
    reason TEXT NOT NULL, -- why there was no access, empty otherwise
    note TEXT NOT NULL, -- free text
    created_at TIMESTAMP NOT NULL, -- UTC
    created_by BIGINT REFERENCES people (id), -- null for the command line
    closed_at TIMESTAMP -- UTC
);
CREATE INDEX visits_unit ON visits (unit_id, on_date);
CREATE INDEX visits_technician ON visits (technician_id, on_date);

-- What somebody saw. Append-only.
CREATE TABLE results (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    client_id TEXT NOT NULL UNIQUE, -- UUID made by whoever recorded it; a repeat changes nothing
    building_id BIGINT NOT NULL REFERENCES buildings (id), -- where
    unit_id BIGINT NOT NULL REFERENCES units (id), -- where
    tag_id BIGINT NOT NULL REFERENCES tags (id), -- at which place
    fixture_id BIGINT NOT NULL REFERENCES fixtures (id), -- what stood there then
    part TEXT NOT NULL, -- part kind, empty for the fixture itself
    check_id BIGINT NOT NULL REFERENCES checks (id), -- which check
    check_version BIGINT NOT NULL, -- the procedure as it was asked
    outcome TEXT NOT NULL CHECK (outcome IN ('pass', 'fail', 'not_checked')), -- not_checked satisfies nothing
    reason TEXT NOT NULL, -- why it was not checked, or why it failed
    reading TEXT NOT NULL, -- as typed, empty when the answer is a verdict
    note TEXT NOT NULL, -- free text
    done_at TIMESTAMP NOT NULL, -- UTC
    done_on DATE NOT NULL, -- done_at as the building's local date
    received_at TIMESTAMP NOT NULL, -- UTC, the server's time
    person_id BIGINT REFERENCES people (id), -- who saw it, null for the command line or an import
    turnover_id BIGINT REFERENCES turnovers (id), -- recorded in which turnover
    turnover_stage TEXT, -- found, ready or move_in when part of a turnover
    visit_id BIGINT REFERENCES visits (id) -- recorded on which visit
);
CREATE INDEX results_tag ON results (tag_id, check_id, done_on);
CREATE INDEX results_building ON results (building_id, done_on);
CREATE INDEX results_turnover ON results (turnover_id);
CREATE INDEX results_visit ON results (visit_id);

-- What a failing result or a resident's report opens.
CREATE TABLE deficiencies (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key, also its number for people
    building_id BIGINT NOT NULL REFERENCES buildings (id), -- where
    unit_id BIGINT NOT NULL REFERENCES units (id), -- where
    tag_id BIGINT REFERENCES tags (id), -- at which place, null when a report names none
    fixture_id BIGINT REFERENCES fixtures (id), -- what stood there then
    part TEXT NOT NULL, -- part kind, empty for the fixture itself
    check_id BIGINT REFERENCES checks (id), -- which check failed, null for a report
    result_id BIGINT REFERENCES results (id), -- the result that opened it
    source TEXT NOT NULL CHECK (source IN ('result', 'report')), -- a failed check or a resident's report
    title TEXT NOT NULL, -- what is wrong, in one line
    detail TEXT NOT NULL, -- free text
    severity TEXT NOT NULL CHECK (severity IN ('life_threatening', 'severe', 'moderate', 'low')), -- how grave
    opened_at TIMESTAMP NOT NULL, -- UTC
    correct_by TIMESTAMP, -- UTC instant by which it must be right, null when the programme sets no deadline
    assignee_id BIGINT REFERENCES people (id), -- technician who repairs it
    vendor TEXT NOT NULL, -- licensed vendor who repairs it, empty when none
    status TEXT NOT NULL CHECK (status IN ('open', 'repaired', 'closed')), -- closed only by a passing re-check
    repaired_at TIMESTAMP, -- UTC
    parts_used TEXT NOT NULL, -- free text
    minutes DOUBLE, -- work, minutes
    cost_minor BIGINT, -- cost in minor units of money
    closed_at TIMESTAMP, -- UTC
    closed_how TEXT, -- recheck or replaced
    repeats_id BIGINT REFERENCES deficiencies (id) -- the closed one it repeats within twelve months
);
CREATE INDEX deficiencies_unit ON deficiencies (unit_id, status);
CREATE INDEX deficiencies_open ON deficiencies (status, correct_by);
CREATE INDEX deficiencies_tag ON deficiencies (tag_id);
CREATE INDEX deficiencies_building ON deficiencies (building_id, status);

-- What happened to a deficiency, append-only.
CREATE TABLE deficiency_events (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    deficiency_id BIGINT NOT NULL REFERENCES deficiencies (id), -- which one
    at TIMESTAMP NOT NULL, -- UTC
    person_id BIGINT REFERENCES people (id), -- who
    kind TEXT NOT NULL, -- opened, failed_again, assigned, repaired, recheck_passed, closed, missed, moved, noted
    text TEXT NOT NULL, -- in words
    result_id BIGINT REFERENCES results (id) -- the result behind it
);
CREATE INDEX deficiency_events_deficiency ON deficiency_events (deficiency_id);

-- What a visit serves: a due item or a repair.
CREATE TABLE visit_items (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    visit_id BIGINT NOT NULL REFERENCES visits (id), -- which visit
    fixture_id BIGINT REFERENCES fixtures (id), -- of a due item
    part TEXT NOT NULL, -- part kind, empty for the fixture itself
    check_id BIGINT REFERENCES checks (id), -- of a due item
    deficiency_id BIGINT REFERENCES deficiencies (id) -- of a repair
);
CREATE INDEX visit_items_visit ON visit_items (visit_id);

-- A severe deficiency that a manager lets stand at move-in, until a day.
CREATE TABLE turnover_waivers (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    turnover_id BIGINT NOT NULL REFERENCES turnovers (id), -- which turnover
    deficiency_id BIGINT NOT NULL REFERENCES deficiencies (id), -- which deficiency; never a life-threatening one
    reason TEXT NOT NULL, -- in words
    person_id BIGINT REFERENCES people (id), -- who waived
    signed_name TEXT NOT NULL, -- name as signed
    until_on DATE NOT NULL, -- last local day of the waiver
    created_at TIMESTAMP NOT NULL -- UTC
);
CREATE INDEX turnover_waivers_turnover ON turnover_waivers (turnover_id);

-- What a turnover's checklist is known to have asked, so that what came later can be named with its day.
CREATE TABLE turnover_items (
    turnover_id BIGINT NOT NULL REFERENCES turnovers (id), -- of which turnover
    fixture_id BIGINT NOT NULL REFERENCES fixtures (id), -- of which fixture
    part TEXT NOT NULL, -- part kind, empty for the fixture itself
    check_id BIGINT NOT NULL REFERENCES checks (id), -- which check
    stage TEXT NOT NULL CHECK (stage IN ('found', 'ready', 'move_in')), -- for which stage
    added_on DATE, -- local date it was added after the opening, null when it was there from the opening on
    PRIMARY KEY (turnover_id, fixture_id, part, check_id, stage)
) WITHOUT ROWID;

-- Issued papers, kept byte for byte.
CREATE TABLE documents (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    kind TEXT NOT NULL CHECK (kind IN ('condition', 'turnover')), -- what it is
    building_id BIGINT NOT NULL REFERENCES buildings (id), -- of which building
    turnover_id BIGINT REFERENCES turnovers (id), -- of which turnover
    number BIGINT NOT NULL, -- counts in the building and kind, 1 up
    as_of DATE NOT NULL, -- local date it speaks of
    media_type TEXT NOT NULL, -- of the bytes
    file_name TEXT NOT NULL, -- offered on download
    bytes BLOB NOT NULL, -- the paper itself
    sha256 TEXT NOT NULL, -- of the bytes, hexadecimal
    issued_at TIMESTAMP NOT NULL, -- UTC
    issued_by BIGINT REFERENCES people (id), -- who
    UNIQUE (kind, building_id, number)
);

-- Which portfolios an owner sees.
CREATE TABLE person_portfolios (
    person_id BIGINT NOT NULL REFERENCES people (id), -- who
    portfolio_id BIGINT NOT NULL REFERENCES portfolios (id), -- which
    PRIMARY KEY (person_id, portfolio_id)
);

-- Which buildings a technician works in.
CREATE TABLE person_buildings (
    person_id BIGINT NOT NULL REFERENCES people (id), -- who
    building_id BIGINT NOT NULL REFERENCES buildings (id), -- which
    PRIMARY KEY (person_id, building_id)
);

-- Signed-in sessions; only the hash of the token is kept.
CREATE TABLE sessions (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    token_hash TEXT NOT NULL UNIQUE, -- SHA-256 of the token, hexadecimal
    csrf TEXT NOT NULL, -- token that every form of the session carries
    person_id BIGINT NOT NULL REFERENCES people (id), -- who
    role TEXT NOT NULL, -- role at sign-in; a change of role ends the session
    created_at TIMESTAMP NOT NULL, -- UTC
    last_seen_at TIMESTAMP NOT NULL, -- UTC
    ends_at TIMESTAMP NOT NULL, -- UTC, absolute limit
    user_agent TEXT NOT NULL -- as sent, cut
);
CREATE INDEX sessions_person ON sessions (person_id);

-- Invitations and password resets; only the hash is kept.
CREATE TABLE one_time_tokens (
    token_hash TEXT NOT NULL UNIQUE, -- SHA-256 of the token, hexadecimal
    kind TEXT NOT NULL CHECK (kind IN ('invite', 'reset', 'setup')), -- what it is for
    person_id BIGINT REFERENCES people (id), -- for whom; null for the first set-up
    created_at TIMESTAMP NOT NULL, -- UTC
    expires_at TIMESTAMP NOT NULL, -- UTC
    used_at TIMESTAMP, -- UTC, single use
    PRIMARY KEY (token_hash)
);

-- Tries that are counted so that guessing is slow: of an account, of a network address.
CREATE TABLE attempts (
    subject TEXT NOT NULL, -- SHA-256 of what is counted, hexadecimal
    tries BIGINT NOT NULL, -- how many since then
    since TIMESTAMP NOT NULL, -- UTC, the first of them
    last_at TIMESTAMP NOT NULL, -- UTC, the last of them
    PRIMARY KEY (subject)
);

-- Files that were sent to be imported and wait to be confirmed; pruned after a day.
CREATE TABLE import_files (
    upload TEXT NOT NULL, -- random, shared by files that were sent together
    name TEXT NOT NULL, -- name of the file as sent
    session_id BIGINT NOT NULL, -- the session that sent it, the only one that may see it; it may have ended
    bytes BLOB NOT NULL, -- the file as sent
    created_at TIMESTAMP NOT NULL, -- UTC
    PRIMARY KEY (upload, name)
);

-- Mail to be delivered, written in the transaction that causes it.
CREATE TABLE outbox (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    unique_key TEXT NOT NULL UNIQUE, -- kind, person and date; a repeat changes nothing
    kind TEXT NOT NULL CHECK (kind IN ('digest', 'invite', 'reset', 'note')), -- what it is
    person_id BIGINT REFERENCES people (id), -- to whom
    local_date DATE, -- the recipient's local date of a digest
    to_address TEXT NOT NULL, -- one recipient a message
    subject TEXT NOT NULL, -- subject line
    text_body TEXT NOT NULL, -- complete in itself
    html_body TEXT NOT NULL, -- the same in HTML
    message_id TEXT NOT NULL UNIQUE, -- ours, stable over retries
    sealed_link TEXT CHECK (sealed_link IN ('invite', 'reset')), -- which one-time link delivery makes and puts in; the link itself is stored nowhere
    status TEXT NOT NULL CHECK (status IN ('queued', 'sending', 'sent', 'failed')), -- where it stands
    attempts BIGINT NOT NULL, -- tries so far
    next_try_at TIMESTAMP NOT NULL, -- UTC
    lease_until TIMESTAMP, -- UTC, while a process is sending it
    last_error TEXT NOT NULL, -- what the mail server said last
    created_at TIMESTAMP NOT NULL, -- UTC
    sent_at TIMESTAMP -- UTC
);
CREATE INDEX outbox_status ON outbox (status, next_try_at);

-- Which people were considered for a digest on which day, so that nobody gets two and nobody is asked again.
CREATE TABLE digest_days (
    person_id BIGINT NOT NULL REFERENCES people (id), -- who
    local_date DATE NOT NULL, -- the person's local date
    outbox_id BIGINT REFERENCES outbox (id), -- the mail, null when nothing was due
    PRIMARY KEY (person_id, local_date)
);

-- Who changed what, append-only.
CREATE TABLE audit (
    id INTEGER PRIMARY KEY AUTOINCREMENT, -- key
    at TIMESTAMP NOT NULL, -- UTC
    person_id BIGINT REFERENCES people (id), -- who; null for the command line and jobs
    action TEXT NOT NULL, -- the use case
    subject_kind TEXT NOT NULL, -- the kind of thing
    subject_id BIGINT, -- its key
    before_json TEXT, -- before, JSON
    after_json TEXT -- after, JSON
);
CREATE INDEX audit_subject ON audit (subject_kind, subject_id);

-- Values that the office may change.
CREATE TABLE settings (
    key TEXT NOT NULL, -- name
    value TEXT NOT NULL, -- as text
    PRIMARY KEY (key)
);
