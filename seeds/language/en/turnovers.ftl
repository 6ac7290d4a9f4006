# Turnovers, recording, planning a visit, being in a unit, taking down a report.

## The list of turnovers

turnovers = Turnovers
turnovers-how = The earliest move-in first. On each line four squares: as found at the move-out, repaired, ready, moved in; filled when reached. The tall tick is today, the hatch days past the move-in.
turnovers-over-how = Closed and cancelled ones, the latest first.
turnovers-open = open ones
turnovers-over = those that are over
turnovers-none = No turnover is open here.
turnovers-none-how = Start one when a household gives notice: it gathers what to look at, to repair and to close before the next one moves in.
turnovers-caption = Open turnovers by move-in, each as a line from move-out to move-in
turnovers-out-in = Out { $out }, in { $in }. Next:
turnovers-csv = Download as CSV
turnovers-arrived-all = What arrived late
turnovers-on-page = { $count ->
    [one] { $number } turnover on this page
   *[other] { $number } turnovers on this page
}
turnovers-over-head = Over
turnovers-none-over = No turnover is over yet.
turnovers-none-over-how = A closed one stays here with its signed record.
turnovers-open-ones = Open ones
turnovers-over-caption = Turnovers that are over, the latest first
turnovers-ended = Ended
turnovers-signed = Signed
turnovers-record = Record { $number }
turnovers-of-building = of { $building }
turnovers-of-record = of record { $number } of { $building }
turnovers-all-over = All that are over
turnover-calendar = { $weeks } weeks, from { $from-day } { $from-month } to { $to-day } { $to-month } { $year }; today is { $today }
turnover-on-calendar = Unit { $unit }, { $building }: move-out { $out }; { $so-far }
turnover-so-far = { $reached ->
    [0] being looked over; move-in { $in }
    [1] as found done; move-in { $in }
    [2] as found, repaired done; move-in { $in }
    [3] as found, repaired, ready done; move-in { $in }
   *[other] as found, repaired, ready, moved in done; move-in { $in }
}
turnover-arrived = { $count ->
    [one] { $number } thing that phones sent came late or could not be taken.
   *[other] { $number } things that phones sent came late or could not be taken.
}
turnover-arrived-late = Arrived late

## What phones last said

heard-answers = { $count ->
    [one] { $number } answer
   *[other] { $number } answers
}
heard-photos = { $count ->
    [one] { $number } photo
   *[other] { $number } photos
}
heard-nothing = { $person }'s phone last heard { $moment }; nothing was unsent there
heard-one = { $person }'s phone last heard { $moment }; { $things } not yet sent there
heard-both = { $person }'s phone last heard { $moment }; { $answers } and { $photos } not yet sent there
heard-silent = silent for { $days }

## Words of a turnover

turnover-unit-within = Turnover, unit
turnover-number-unit-within = Turnover { $number }, unit
turnover-of-unit = Turnover, unit { $unit }
turnover-move-in = Move-in
turnover-move-out = Move-out
turnover-record = Record
turnover-number = No. { $number }
turnover-item = { $place }, { $check }
turnover-item-part = { $place }, { $check } ({ $part })
turnover-part-found = As found
turnover-part-ready = Before ready
turnover-part-move-in = Move-in day
turnover-mark-found = As found
turnover-mark-repaired = Repaired
turnover-mark-ready = Ready
turnover-mark-moved-in = Moved in
turnover-command-line = command line
turnover-somebody = somebody
turnover-summary = Move-out { $out } · move-in { $in } · { $occupancy }
turnover-closed-on = closed { $day }
turnover-cancelled-on = cancelled { $day }
turnover-closed-by = Closed { $day }, signed { $signed }, account { $person }.
turnover-cancelled-by = Cancelled { $day } by { $person }.
turnover-no-record = It was not closed, so there is no record. Its results and deficiencies stay.

## Starting one

turnover-start = Start a turnover
turnover-start-of = Start a turnover of unit { $unit }
turnover-start-it = Start the turnover
turnover-gathers = It gathers what the checks ask at a turnover, what falls due by the move-in, and what is deficient in the unit, in the order of a walk.
choose-one = choose one
as-on-the-door = As on the door
turnover-move-in-hint = As 2026-02-03. What falls due until then is done before
turnover-note-move-out = Note the move-out of { $household }
turnover-note-move-out-hint = From the day of the move-out on they no longer live here
turnover-note-hint = Such as what is rebuilt there. It goes to phones and stands in the record: no codes, and nothing of how to get in
turnover-opened-now = Turnover opened.

## The walk

turnover-parts = Parts of the checklist
turnover-reported = Reported, to look at again
turnover-the-unit = the unit
turnover-matter-answered = answered
turnover-matter-open = to look at
turnover-record-answers = Record answers
turnover-nothing-asked = Nothing is asked here.
turnover-all-answered = All of it is answered.
turnover-repaired-next = What is deficient is repaired next; it is looked at again:
turnover-answer-again = Answer again
turnover-could-not = Could not check: { $reason }
turnover-no-limit = { $reading }, no limit
turnover-recorded = { $count ->
    [one] { $number } result recorded.
   *[other] { $number } results recorded.
}
turnover-there-already = { $count ->
    [one] { $number } result was there already.
   *[other] { $number } results were there already.
}
turnover-opened = Deficiency { $numbers } opened.
turnover-failed-again = Deficiency { $numbers } failed again.
turnover-closed-deficiency = Deficiency { $numbers } closed.

## The steps

turnover-next-step = Next step
turnover-next = Next:
turnover-steps = Steps
turnover-keeps-from = { $to ->
    [repaired] What keeps it from repaired
    [ready] What keeps it from ready
   *[moved_in] What keeps it from moved in
}
turnover-not-yet-because = { $to ->
    [repaired] Not repaired yet:
    [ready] Not ready yet:
   *[moved_in] Not moved in yet:
}
turnover-not-yet = { $to ->
    [repaired] Not repaired yet. { $sentences }
    [ready] Not ready yet. { $sentences }
   *[moved_in] Not moved in yet. { $sentences }
}
turnover-may-be-repaired = it may be called repaired
turnover-may-be-ready = it may be called ready
turnover-may-be-closed = it may be closed
turnover-say-repaired = Say it is repaired
turnover-say-ready = Say the unit is ready
turnover-stage-now = { $stage ->
    [repaired] The unit is repaired now.
    [ready] The unit is ready now.
    [moved_in] The unit is moved in now.
   *[found] The unit is as found now.
}
turnover-to-number = To No. { $number }
turnover-nothing-to-repair = nothing to repair
turnover-deficiencies-open = { $count ->
    [one] { $number } deficiency open
   *[other] { $number } deficiencies open
}
turnover-closing = Closing makes the record, signed with your name. It can't be changed afterwards.
turnover-closing-unsent = Something is on a phone alone. Photos may follow the closing; an answer that follows it is kept and stands in no record:
turnover-name = Name
turnover-name-hint = Your own, as you sign
turnover-close = Close the turnover
turnover-closed = Turnover closed. Its record is number { $number }.
turnover-waive = Waive No. { $number }
turnover-waive-why = Why it may stand
turnover-waive-why-hint = It stays open; only the move-in no longer waits for it
turnover-waive-name-hint = Who answers for it
turnover-until = Until
turnover-until-hint = Last day, as 2026-02-03; not before the move-in
turnover-leave-it = Leave it
turnover-is-waived = No. { $number } is waived.
turnover-waived-head = Waived
turnover-waived = waived until { $day } by { $name }: { $reason }
turnover-waived-over = waived until { $day } by { $name }: { $reason }; it no longer covers the move-in
turnover-added-head = Added since it was opened
turnover-added = added { $day }: { $what }
turnover-added-recheck = added { $day }: { $what }, re-check of No. { $number }
turnover-added-matter = added { $day }: No. { $number }, { $title }
turnover-cancel = Cancel the turnover
turnover-cancel-how = Its results and deficiencies stay; it makes no record. The unit is occupied or vacant again.
turnover-cancel-why = Why it is cancelled
turnover-keep-it = Keep it
turnover-otherwise = Otherwise
turnover-cancelled = Turnover cancelled.

## What keeps it back

turnover-unanswered-found = { $asked ->
    [one] { $left } of { $asked } as-found check has no answer: { $named }.
   *[other] { $left ->
        [one] { $left } of { $asked } as-found checks has no answer: { $named }.
       *[other] { $left } of { $asked } as-found checks have no answer: { $named }.
    }
}
turnover-unanswered-ready = { $asked ->
    [one] { $left } of { $asked } check before ready has no answer: { $named }.
   *[other] { $left ->
        [one] { $left } of { $asked } checks before ready has no answer: { $named }.
       *[other] { $left } of { $asked } checks before ready have no answer: { $named }.
    }
}
turnover-unanswered-move-in = { $asked ->
    [one] { $left } of { $asked } move-in day check has no answer: { $named }.
   *[other] { $left ->
        [one] { $left } of { $asked } move-in day checks has no answer: { $named }.
       *[other] { $left } of { $asked } move-in day checks have no answer: { $named }.
    }
}
turnover-named-more = { $named }; and { $more } more
turnover-to-answer-found = { $asked ->
    [one] { $left } of { $asked } as-found check to answer
   *[other] { $left } of { $asked } as-found checks to answer
}
turnover-to-answer-ready = { $asked ->
    [one] { $left } of { $asked } check before ready to answer
   *[other] { $left } of { $asked } checks before ready to answer
}
turnover-to-answer-move-in = { $asked ->
    [one] { $left } of { $asked } move-in day check to answer
   *[other] { $left } of { $asked } move-in day checks to answer
}
turnover-unrepaired = { $where ->
    [place] No. { $number } at { $place } is { $severity } and not repaired: { $title }. { $remedy }
   *[unit] No. { $number } is { $severity } and not repaired: { $title }. { $remedy }
}
turnover-standing-open = { $where ->
    [place] No. { $number } at { $place } is { $severity } and open: { $title }. { $remedy }
   *[unit] No. { $number } is { $severity } and open: { $title }. { $remedy }
}
turnover-standing-repaired = { $where ->
    [place] No. { $number } at { $place } is { $severity } and repaired but not re-checked: { $title }. { $remedy }
   *[unit] No. { $number } is { $severity } and repaired but not re-checked: { $title }. { $remedy }
}
turnover-never-waived = It is never waived: note the repair and let its re-check pass. Until then the unit stays off line.
turnover-note-repair = Note the repair first.
turnover-let-pass = Let its re-check pass, or let a manager waive it until a day.
turnover-waiver-ended = Its waiver until { $day } no longer covers the move-in. Let its re-check pass, or let a manager waive it until a day.
turnover-short-unrepaired = No. { $number } { $severity }, not repaired
turnover-short-open = No. { $number } { $severity }, open
turnover-short-recheck = No. { $number } { $severity }, to re-check

## The signed record

turnover-record-kept = Number { $number }, kept { $kept } exactly as it was signed.
turnover-open-record = Open the record
turnover-record-pdf = Record as PDF
turnover-copy = Copy for the household
turnover-copy-pdf = Copy as PDF
turnover-photos = Photos
turnover-photo = Photo
turnover-photos-to-come = { $count } still to come. Each is found by the SHA-256 under which its phone announced it, which stands in the record.
turnover-photo-here = taken { $taken }, received { $received }
turnover-photo-after = taken { $taken }, received { $received }, after the signing
turnover-photo-to-come = taken { $taken }, still to come
turnover-photo-refused = taken { $taken }, could not be taken: { $why }
turnover-sum-kept = SHA-256 as kept
turnover-sum-announced = SHA-256 as announced
turnover-sums = SHA-256 of each file
turnover-sums-how = Whoever was given a file can hold it against these; this command holds all of it against what is stored:
turnover-sum-page = The record as a page
turnover-sum-pdf = The PDF
turnover-sum-copy = The household's copy
turnover-sum-copy-pdf = The household's copy as PDF
turnover-sum-manifest = The list of what they were made from (the manifest); it is printed on them

## Recording

record-unit = Record, unit { $unit }
record-at = Record, { $place }
record-no-room = No room named
record-recheck-of = re-check of deficiency { $number }
record-none = No check can be done here today.
record-none-how = What is not due yet can be recorded on its fixture's own page.
record-to-fixtures = To the unit and its fixtures
record-none-of-fixture = No check of this fixture can be done today.
record-later = Not due yet
record-later-how = May be recorded all the same; the due date moves with it.
record-another-time = Done at another time
record-done-at = Done at
record-done-at-hint = As 2026-11-24 14:30, on the building's clock. Left empty, it was done now.
record-answered = { $done } of { $all } answered
record-results-button = Record results
record-not-due-where = What is not due yet is recorded on its fixture's own page: choose its tag.
record-report = Something else is wrong: take down a report
record-leak-points = Leak points
record-all-pass = All of these pass
record-all-pass-but-readings = All of these pass, but for the readings
record-all-pass-hint = I looked at each. Answer an exception below; it counts for itself.
record-done-by = done by: { $who }
record-how = How
record-pass = pass
record-opens-deficiency = opens a deficiency
record-could-not = Could not check, because …
record-say-why = say why
record-passes = Passes { $limit }
record-fails-without = Fails, without a figure
record-say-what = say what you saw
record-note-what = note what you saw
record-choose-or-write = choose one, or write it
record-add-note = Add a note
record-the-reading = Record the reading
record-missed = Record that it could not be checked
record-refused = { $place }, { $check }: { $what }.
record-results = { $count ->
    [one] { $number } result recorded
   *[other] { $number } results recorded
}
record-opened = Opened
record-failed-again = Failed again
record-closed = Closed
record-deficiency = Deficiency { $number }
record-place = Place
record-answers = Answers
record-answer = Answer
record-next = Next
record-done-caption = Answers and when each check is due next
record-not-asked = no schedule asks for it
record-still = still { $due }
record-failed-next = deficiency { $number }, { $until }; the check { $check }
record-back-to-visit = Back to the visit
record-back-to-turnover = Back to the turnover
record-what-else = What else can be done here
record-to-unit = To the unit

## Planning a visit

plan-head = Plan a visit, unit { $unit }
plan-which-unit = Which unit is it for?
plan-go-on = Go on
plan-back = Back to the visits
plan-back-to-unit = Back to the unit
plan-it = Plan the visit
plan-planned = Visit planned for { $day }.
plan-already = A visit is planned already for { $day }: number { $visit }, { $state }.
plan-notice = { $building } asks for notice of { $hours } h: given now, enter not before { $day }, { $time }.
plan-when-and-who = When and who
plan-day = Day
plan-technician-hint = Who works in this building
plan-earlier = Earlier than the notice, because
plan-earlier-hint = Only when it is earlier: the household agreed, or it can't wait
plan-what = What to do there
plan-no-check = No check can be done there now.
plan-everything = Every check that can be done now
plan-one-by-one = Choose check by check
plan-open-caption = Checks that can be done now, in the order of a walk
plan-later = What opens later
plan-later-caption = Checks whose window opens later, the next first
plan-choose = Choose
plan-choose-check = Choose { $check }, { $place }
plan-choose-repair = Choose { $what }
plan-deficiencies = Open deficiencies
plan-note = Note for whoever goes
plan-note-hint = Where the key is, when to come
plan-nobody-lives = No household lives here today.

## In a unit now

now-head = In unit { $unit } now
now-nothing = No check can be done here today, and nothing is to be repaired.
now-nothing-how = A single check can be recorded from its fixture's page, whenever it was done.
now-planned = planned for { $day }. What can be done since then is added to it.
now-go-on = Go on with the visit
now-start = Start the visit and record
now-open = { $count ->
    [one] Your visit is open: { $number } thing to do.
   *[other] Your visit is open: { $number } things to do.
}
now-checks = Checks that can be done today
now-caption = In the order of a walk
now-window = Window, today marked
now-repairs = To repair or re-check
now-repairs-caption = Deficiencies that stand here

## A resident's report

report-head = A resident's report, unit { $unit }
report-title = Report, unit { $unit }
report-first = First
report-say-so = Say so to whoever reports it, then go on here.
report-numbers = Numbers to call, and what to do at sparks, sewage or flooding
report-what-hint = In one line, such as: Water under the kitchen sink
report-no-place = no place named
report-how-grave = How grave
report-how-grave-hint = It sets the time to correct. When in doubt, the graver one.
report-life-threatening = Life-threatening: gas, bare wires, no smoke or carbon monoxide alarm, the only water closet out of use
report-severe = Severe: sewage, no hot water, the only tub or shower out of use
report-moderate = Moderate: a leak, a drain that does not drain, a loose fixture
report-low = Low: damaged but works
report-detail = In the resident's words
report-detail-hint = Nothing of health, keys or alarm codes
report-take-down = Take down the report
report-taken-down = Report taken down. Say who sees to it.

## Sentences that are refused: of turnovers

sentence-move-in = Move-in
sentence-move-out = Move-out
sentence-note = Note
sentence-name = Name
sentence-why-may-stand = Why it may stand
sentence-why-cancelled = Why it is cancelled
sentence-last-day-of-waiver = The last day of the waiver
sentence-day-empty = { $label } is empty. Give the day, such as { $day }; a good guess will do.
sentence-day-bad = { $label } “{ $given }” is not a date. Write year-month-day, such as 2026-02-03.
sentence-day-early = { $label } is { $day }, before { $earliest }. Leave it empty when it is not known.
sentence-day-late = { $label } is { $day }: { $why }. Give a day up to { $latest }.
sentence-year-ahead = that is more than a year ahead
sentence-year-after = that is more than a year after the move-in
sentence-in-before-out = Move-in { $in } lies before the move-out on { $out }. Give a day on or after it.
sentence-in-past = Move-in { $in } is past. Give the day the next household moves in, { $today } or later.
sentence-long = { $label } has { $length } characters, at most { $most } fit. Shorten it by { $over }.
sentence-one-line = { $label } must be one line without tabs or other control characters.
sentence-control = { $label } holds a control character. Type it without.
sentence-unit-fill-in = Unit: fill this in, as on the door.
sentence-building-no-unit = { $building } has no unit “{ $label }”. Write it as on the door; the building's page lists them.
sentence-common-area = Nobody moves in or out of a common area. Choose a unit for the turnover.
sentence-turnover-open = Turnover { $number } of unit { $unit } is open, with the move-in on { $in }. Go on with it, or cancel it first.
sentence-nobody-on-record = Nobody is on record as living there until { $out }. Leave “note the move-out” unticked.
sentence-turnover-closed = This turnover is closed, and its record stays as it was signed. Open a new one at the next move-out.
sentence-turnover-cancelled = This turnover was cancelled. Open a new one for the unit.
sentence-turnover-closed-record = This turnover is closed, and its record stays as it was signed. Record on the unit's own page instead.
sentence-reached-by-closing = Moved in is reached by closing: close the turnover with a signed name once it is ready.
sentence-next-stage = The next stage is repaired or ready. To give a turnover up, cancel it.
sentence-repaired-first = Repaired comes before ready: take that step first.
sentence-only-ready-closed = It is { $stage }, and only a ready unit is closed. Take the steps before it first.
sentence-stage-found = as found
sentence-stage-repaired = repaired
sentence-waiver-day-empty = The last day of the waiver is empty. Give one, { $first } or later.
sentence-waiver-day-early = The last day of the waiver, { $day }, lies before { $than }. Give { $first } or later.
sentence-the-move-in-on = the move-in on { $day }
sentence-today-on = today, { $day }
sentence-closed-not-waived = No. { $number } is closed, so there is nothing to waive.
sentence-life-never-waived = No. { $number } is life-threatening, and that is never waived. Repair it and let its re-check pass; until then the unit stays off line.
sentence-needs-no-waiver = No. { $number } is { $severity }, which keeps no unit from being ready, so it needs no waiver. It stays open.
sentence-waived-already = No. { $number } is waived already; nothing was changed.
sentence-such-deficiency-in-unit = such deficiency in this unit
sentence-record-yet = record of this turnover yet; closing it makes one
sentence-only-managers = Only a manager may { $what }. Ask the manager of the building.
sentence-only-staff = Only managers and technicians may { $what }. Ask the manager of the building.
sentence-may-waive = waive a deficiency
sentence-may-note-move-out = note a move-out
sentence-may-turnover = work on a turnover
sentence-may-record = record results and deficiencies
sentence-may-visit = plan and close visits

## Sentences that are refused: of answers

sentence-nothing-answered-yet = Nothing is answered yet. Answer what you looked at; what stays open stays due.
sentence-note-without-answer = There is a note here, but no answer. Answer pass or fail, or say why it could not be checked.
sentence-missed-with-reading = it is marked as not checked, but a reading "{ $reading }" is given; answer with the reading, or leave it out
sentence-reading-of-verdict = "{ $reading }" is a reading, but this check asks for pass or fail; put the figure in the note
sentence-nothing-entered = nothing was entered; write a value such as { $example }
sentence-unreadable = "{ $given }" can't be read as a value; write one such as { $example }
sentence-unknown-unit = "{ $word }" in "{ $given }" is no unit we know; write one of { $units }
sentence-wrong-quantity = "{ $given }" is a { $found }, but a { $wanted } is asked for; write one in { $units }
sentence-ambiguous-comma = "{ $given }" can be read in two ways; write it with a decimal point, or without the comma
sentence-below-zero = "{ $given }" is below zero; write 0 or more
sentence-divides-by-zero = "{ $given }" divides by zero; correct the fraction
sentence-out-of-range = "{ $given }" is larger or finer than can be measured; check the figures and the unit
sentence-not-exact = "{ $given }" is no exact length; write it in sixteenths, in decimals or in millimetres
sentence-length = length
sentence-time = time
sentence-volume = volume
sentence-flow = flow
sentence-pressure = pressure
sentence-temperature = temperature
sentence-count = count
sentence-percentage = percentage
sentence-too-many-characters = { $length } characters are too many for one text; keep it to { $most }
sentence-done-ahead = it says done at { $given }, but here it is { $now }; correct the time or the clock
sentence-before-joined = it says done on { $given }, before the building joined on { $joined }; correct the date, or import it as last done
sentence-before-stood = it says done on { $given }, but this fixture is on record here from { $from }; correct one of the two dates
sentence-done-at = “{ $given }” { $what }. Write it as 2026-11-24 14:30, on the building's clock.
sentence-is-no-instant = is no instant
sentence-is-no-date = is no date with a time
sentence-was-skipped = was skipped when the clocks went forward
sentence-record-what-stands = { $place } is { $state }, so nothing more is recorded on it. Record on what stands there now.
sentence-has-no-part = { $place } has no { $part } on record. Add the part first, or leave this check out.
sentence-visit-cancelled = This visit was cancelled. Make a new one, or record on the unit's own page.
sentence-such-question = such question
sentence-such-record = such record of answers
sentence-such-turnover-of-unit = such turnover of this unit
sentence-such-visit-of-unit = such visit of this unit
sentence-id-taken = The id { $id } is already taken. Record under a new id.

## Sentences that are refused: of visits and reports

sentence-unit-first = Choose a unit first, then plan the visit into it.
sentence-visit-day-empty = Day is empty. Give it as 2026-11-25.
sentence-cant-be-read = “{ $given }” can't be read. Give { $wanted }.
sentence-day-as = { $label } as year-month-day, such as 2026-11-25
sentence-day = Day
sentence-technician-of-list = a technician of the list
sentence-building-choose = Building: choose the one that the unit is in.
sentence-no-unit-label = { $building } has no unit { $label }. Give its label as on the door.
sentence-day-passed = { $day } has passed. Choose { $today } or a later day.
sentence-day-far = { $day } is more than { $days } days ahead. Choose { $farthest } or an earlier day.
sentence-notice = { $building } asks for notice of { $hours } h, so enter not before { $day }, { $time }. Choose a later day, or say why it is earlier.
sentence-technician-elsewhere = This technician does not work in { $building }. Choose one of the list.
sentence-nothing-chosen = Nothing is chosen. Choose at least one check or deficiency.
sentence-some-not-due = Some of what was chosen does not come due in this unit any more. Look at the list again.
sentence-text-too-long = { $label } has { $length } characters. Keep it to { $most }.
sentence-the-reason = The reason
sentence-visit-closed = Visit { $visit } is closed already as “{ $state }”. Plan another one if somebody has to go again.
sentence-nothing-in-unit = No check can be done in unit { $unit } today and nothing is to be repaired. Record a single check from its fixture's page.
sentence-no-row-ticked = No row is ticked. Go back, tick the checks of one unit, and make the visit then.
sentence-rows-in-units = The ticked rows are in { $count } units: { $units }. A visit goes into one unit: go back and tick the rows of one.
sentence-report-what = What is wrong: fill this in, such as “Water under the kitchen sink”.
sentence-report-long = { $length } characters are too many here. Keep it to { $most }.
sentence-report-grave = How grave: choose one. When in doubt take the graver one.
sentence-such-place-in-unit = such place in this unit
