# Deficiencies, water, fixtures and their parts, what is measured at them, and the way from a symptom to its cause.

## Deficiencies

deficiency-title = { $check }: { $seen }
deficiency-number = Deficiency { $number }
deficiency-number-short = No. { $number }
deficiency-closed-at = closed { $moment }
deficiency-reported = reported
deficiency-by-vendor = { $vendor } (licensed vendor)
deficiency-repeats = repeats
deficiencies-are = The nearest deadline first. Closed only by a re-check that passed.
deficiencies-open-leaks = Open leaks
deficiencies-not-closed = not closed
deficiencies-every-state = Every state
deficiencies-of-nobody = Nobody yet
deficiencies-of-vendor = A licensed vendor
deficiencies-none = No deficiency here.
deficiencies-none-how = A failed check or a resident's report would open one. Widen the filter to see closed ones.
deficiencies-caption = Deficiencies by deadline
deficiencies-no = No.
deficiencies-what = What
deficiencies-sees-to-it = Sees to it
deficiencies-csv = Download as CSV
deficiencies-print = Print
deficiencies-on-page = { $count ->
    [one] { $number } deficiency on this page
   *[other] { $number } deficiencies on this page
}
deficiency-repeated = Repeated:
deficiency-repeated-as = it was closed within twelve months before as
deficiency-number-word = number { $number }
deficiency-find-cause = Find the cause
deficiency-points = { $points }.
deficiency-found-by = Found by
deficiency-since = Since
deficiency-part = Part
deficiency-repaired = Repaired
deficiency-parts-used = Parts used
deficiency-work = Work
deficiency-cost = Cost
deficiency-cost-as = As 84.50
deficiency-closed = Closed
deficiency-closed-how = { $moment }. { $how }
deficiency-happened = What happened
deficiency-command-line = command line
deficiency-add-note = Add a note
deficiency-add-the-note = Add the note
deficiency-note-added = Note added.
deficiency-who-sees = Who sees to it
deficiency-licensed-people = Gas, flues, wiring, backflow devices and the sewer are for licensed people.
deficiency-vendor-below = a licensed vendor, named below
deficiency-vendor = Licensed vendor
deficiency-vendor-hint = When a licensed vendor sees to it
deficiency-assign = Assign
deficiency-assigned = Assigned.
deficiency-repair = Repair
deficiency-repair-note = Note on the repair
deficiency-note-repair = Note the repair
deficiency-repair-noted = Repair noted. It is closed when a re-check passes.
deficiency-recheck = Re-check
deficiency-look-again = Look at what was wrong: is it right now?
deficiency-recheck-hint = A pass closes it, a fail adds to it.
deficiency-note-seen = note what you saw
deficiency-could-not = Could not check, because …
deficiency-say-why = say why
deficiency-closes-it = closes it
deficiency-still-open = still open
deficiency-right-now = Right now
deficiency-still-wrong = Still wrong
deficiency-by-reading = Passes by its reading
deficiency-fails-bare = Fails, without a figure
deficiency-choose-reason = choose one, or write it
deficiency-recheck-note = Note on the re-check
deficiency-record-recheck = Record the re-check
deficiency-passed = Re-check passed. It is closed.
deficiency-failed-again = Failed again. It stands as open.
deficiency-not-checked = Noted that it could not be checked. It stands as it was.

## What was kept of a deficiency and is read again

sentence-practice-none = common practice, no source
sentence-practice = common practice: { $what }
sentence-computed = computed: { $what }
sentence-from-memory = { $what }, from memory
sentence-under = { $reading } is under { $limit } ({ $source })
sentence-over = { $reading } is over { $limit } ({ $source })
sentence-without-reading = failed without a reading, see the note
sentence-still-wrong = Still wrong.
sentence-right-again = Looked at again and right.
sentence-to-nobody = To nobody for now.
sentence-to-vendor = To the licensed vendor { $vendor }.
sentence-nothing-noted = Nothing noted of parts, time or cost.
event-repeats = { $title }. Repeats number { $number }.
event-repeats-graver = { $title }. Repeats number { $number }: the second time makes it { $grade } instead of { $first }.
event-reported = Reported: { $title }
event-passed = { $check } passed.
event-missed = Could not be re-checked: { $why }
event-to = To { $name }.
event-parts = Parts: { $parts }.
event-cost = Cost { $cost }.
sentence-moved-from = Moved with the fixture from { $place }.
event-found = { $symptom }: { $cause }.

## Water lost

water-measured-leaks = { $count ->
    [one] { $number } measured leak loses { $volume } a day.
   *[other] { $number } measured leaks lose { $volume } a day.
}
water-week-costs = Waiting a week costs { $cost }.
water-not-measured = { $count ->
    [one] { $number } leak is not measured.
   *[other] { $number } leaks are not measured.
}
water-without-tariff = { $count ->
    [one] { $number } measured leak is in buildings without a price of water.
   *[other] { $number } measured leaks are in buildings without a price of water.
}
water-under-tenth = under 0.1
water-a-day = { $volume } a day
water-span-day = A day
water-span-week = A week
water-span-month = A month of 30 days
water-until-visit = Until the next visit
water-until-check = Until the next check
water-found = What was found
water = Water
water-nobody-measured = Nobody has measured what it loses.
water-reckoned-by = Reckoned by: { $convention }.
water-where-from = Where that comes from
water-measure-leak = Measure the leak
water-measure-again = Measure again
water-lost = Water lost
water-lost-title = Water lost, deficiency { $number }
water-what-it-loses = What it loses
water-over = Over
water-costs = Costs
water-no-price = no price set
water-conventions-differ = Reckoned by: { $convention }. Conventions disagree by half, so a figure names its own.
water-measure-it = Measure it
water-measure-it-again = Measure it again
water-ways = Ways of measuring
water-reckoned = Reckoned by
water-convention-hint = How many drips make a gallon; sources disagree
water-keep = Keep the measurement
water-closed = It is closed and loses nothing any more.
water-so-far = Measured so far
water-measurements = Measurements, the latest first
water-how = How
water-as-typed = As typed
water-loses = Loses
water-a-minute = a minute
water-measured = Measured: { $gallons } gal a day, { $litres } L.
water-number = Number { $number }
sentence-water-lost = Water lost: { $gallons } gal a day ({ $litres } L). { $typed }; { $convention }.
sentence-convention-of = { $convention } ({ $source })
sentence-volume-over-time = volume over time
sentence-drips-given = { $number } drips a gallon, as given
sentence-drips-thousands = 10,000 drips a gallon
sentence-drips-third = 1/3 mL a drip, 11,350 drips a gallon
sentence-drips-quarter = 1/4 mL a drip, 15,140 drips a gallon
sentence-orifice = flow through a sharp-edged hole, discharge coefficient { $coefficient }
sentence-when-drips = Single drips that can be counted.
sentence-when-cup = A stream, or drips too fast to count: catch it in a cup.
sentence-when-tank = A tank that loses water with its stop shut.
sentence-when-cycle = A tank that refills by itself from time to time.
sentence-when-meter = Everything in the unit shut, and the meter still moves.
sentence-when-pinhole = A hole that sprays and can't be caught.
sentence-ask-drips = Drips a minute
sentence-ask-drips-hint = Count a quarter of a minute and take it four times
sentence-ask-caught = Caught
sentence-ask-caught-hint = In fluid ounces; a cup is 8
sentence-ask-in = In
sentence-ask-in-hint = As 45 s or 1 min 20
sentence-ask-length = Tank, inside, left to right
sentence-ask-width = Tank, inside, front to back
sentence-ask-side-hint = At the height of the water
sentence-ask-drop = The water fell by
sentence-ask-drop-hint = Stop shut, level marked, nothing flushed
sentence-ask-hours-hint = As 2 h or 30 min
sentence-ask-refill = One refill
sentence-ask-refill-hint = The part of a tank that runs in by itself
sentence-ask-every = It refills every
sentence-ask-every-hint = From one start to the next, as 12 min
sentence-ask-meter = The meter moved by
sentence-ask-meter-hint = With its unit, as 3 gal or 0.4 ft3
sentence-ask-meter-hours-hint = With no water used; two hours at least is usual
sentence-ask-hole = Hole across
sentence-ask-hole-hint = As 1/16 in
sentence-ask-pressure = Pressure
sentence-ask-pressure-hint = As a gauge at the next hose bibb reads
sentence-no-loss = These figures give no loss. Check them and their units.
sentence-too-long-figure = { $label }: the figure is too long.
sentence-nothing-reckoned = { $label }: “{ $typed }” is nothing, and nothing can be reckoned from it. Give more than 0.
sentence-over-most = { $label }: “{ $typed }” is over { $most }; { $beyond }.
sentence-is-stream = that is a stream; time a cup instead
sentence-check-unit = check the figure and its unit
sentence-no-convention = “{ $typed }” is no convention of a drip. Choose one of { $known }.
sentence-closed-loses = Number { $number } is closed and loses nothing. If it leaks again, record the failing check or report it anew.

## Repair, replace or wait

choice = Repair, replace or wait
choice-title = Repair, replace or wait, deficiency { $number }
choice-caption = Repair, replace or wait, side by side
choice-way = Way
choice-work-and-parts = Work and parts
choice-work = Work
choice-entries = Entries
choice-water-until = Water until then
choice-water = Water
choice-fails-before = Fails before
choice-risk = Risk
choice-all-known = All that is known
choice-sum = Sum
choice-least = costs the least
choice-left-out = What nobody knows is left out of the sum.
choice-other-figures = Reckon with other figures
choice-repair-costs = The repair costs
choice-repair-hint = Work and parts, as 84.50
choice-new-costs = A new one costs
choice-new-hint = In place, as 310.00
choice-reckon = Reckon with these
choice-back = Back to number { $number }
choice-until = Until the next entry: the first planned visit into the unit, else the first check that falls due there. A repair of today loses no more water. Nothing is recorded here.
choice-prices = Prices of an hour, an entry and a failure
choice-not-known = not known
choice-none-more = none more
choice-more = { $number } more
choice-more-for = { $number } more, { $cost }
choice-none-before = none before
sentence-new-given = A new one: as given here.
sentence-new-costs = A new { $item }: { $source }.
sentence-failure-on-top = A failure: what it costs on top of a new { $item } ({ $source }).
sentence-failure-price = A failure: the office's price of one.
sentence-entry-price = An entry: the office's price of one.
sentence-repair-given = Repair: as given here.
sentence-repair-noted = Repair: as noted at the last one.
sentence-repair-minutes = Repair: { $minutes } min at the office's price of an hour, parts left out.
sentence-repair-middle = Repair: the middle cost of earlier ones here.
sentence-repair-usual = Repair: what a { $grade } one usually costs ({ $source }).
sentence-fails-before = Fails before: { $item }, mean life { $years } years ({ $source }), counted as { $age } years old in its condition.
sentence-endangers-life = It endangers life: it does not wait.
sentence-nobody-comes = No entry is planned and no check falls due: nobody would come.
sentence-entry-late-day = The next entry is { $days } day past the time to correct.
sentence-entry-late-days = The next entry is { $days } days past the time to correct.
sentence-what-offices-budget = what offices budget with
sentence-round-figures = round figures of 2026 with labour, US dollars; replace them by your own
sentence-life-tables = inspectors' life tables: tank parts 5 to 10 years, mean 7; flapper 4 to 5; shutoffs 10 to 25, mean 20
sentence-life-supply = supply lines: 5 years with plastic nut or rubber, 10 braided metal
sentence-life-fixtures = Marshall & Swift 2012: plumbing fixtures 17, 20, 25, 30 years (low, average, good, excellent)
sentence-life-faucets = Marshall & Swift 2012: faucets and valves 8, 10, 13, 16 years (low, average, good, excellent)
sentence-life-nahb = NAHB 2007, study of life expectancy of home components
sentence-life-heater = IBHS: water heaters failed at 10.7 years on average
sentence-life-hoses = IBHS: hoses looked at monthly, replaced every 5 years
sentence-life-smoke = NFPA 72: test monthly, replace 10 years after manufacture
sentence-drips-awwa = the AWWA drip calculator's count, which gives 4,205 gal a year for 80 drips a minute (Chicago Tribune, 19 May 2006)
sentence-drips-usgs-third = USGS, Drip Accumulator, earlier page: 1/3 mL a drip, about 11,350 drips per gallon
sentence-drips-usgs-quarter = USGS, Drip Calculator, later page: 1/4 mL a drip, 15,140 drips per gallon

## What can't be taken of the forms of a deficiency

sentence-closed-history = Number { $number } is closed, and its history stays as it is. If it is wrong again, record the failing check or report it anew.
sentence-not-in-building = This person does not work in the building. Choose one of the list.
sentence-names-nobody = This names nobody of the office. Choose one of the list.
sentence-vendor-name = Licensed vendor: write a name of 1 to { $most } characters.
sentence-note-length = Note: write 1 to { $most } characters; there are { $length }.
sentence-text-long = One text is too long. Keep it to { $most } characters.
sentence-nothing-answered = Nothing was answered. Say whether it is right now, or why it could not be checked.
sentence-no-reason = It was not checked, and no reason is given. Say why it could not be checked.
sentence-characters-many = { $length } characters are too many here. Keep it to { $most }.
sentence-no-minutes = “{ $typed }” is no time of work. Write minutes from 0 to { $most }, such as 35.
sentence-no-amount = “{ $typed }” is no amount. Write it with a point before the hundredths, such as 84.50.
sentence-amount-large = “{ $typed }” is more than any repair costs. Check the figures.
sentence-about-place = { $place }, { $check }: { $what }.
sentence-nothing-given = nothing was answered; answer pass or fail, or say why it could not be checked
sentence-no-reason-given = it was not checked, and no reason is given; say why it could not be checked
sentence-done-with-reason = "{ $reason }" is a reason for not checking, but the check is answered; choose one, and put remarks in the note
sentence-pass-needs-reading = a pass needs the reading ({ $of }); write what was measured
sentence-fail-needs-reading = a fail needs the reading ({ $of }), or a note that says what was seen instead; write one of them
sentence-contradiction = the answer is { $given }, but the reading says otherwise: { $found }; leave the answer to the reading, or correct it

## Times to correct

times = Times to correct
times-are = From when somebody of the office knew. Hours are clock hours; days keep the time of day. A deficiency keeps the deadline it was opened with. Corrected is what a re-check has passed; a repair alone does not stop the clock. A building may hold to another programme: see its terms.
times-caption = Times to correct by programme and severity
times-holds = Holds here
times-here = Here
times-programme = Programme
times-programme-of = Programme { $code }
times-letters = h is hours, d is days, none is no deadline.
times-none = none
times-set-them = Set them
times-hint = As 24 h, 30 d or none; empty takes the programme's
times-second = The second time within twelve months
times-second-hint = What comes back within a year was not put right the first time; common practice, no source
times-set-the = Set the times
times-set = Times set. They hold for what opens from now on.
sentence-programme-default = Times to correct
sentence-programme-voucher = Times to correct in voucher programmes
sentence-nspire-times = HUD NSPIRE standards, times to correct (2023)
sentence-nspire-voucher = HUD NSPIRE standards, times to correct in voucher programmes (2023)
sentence-no-programme = “{ $given }” is no programme. Choose one of { $known }.
sentence-no-time = “{ $given }” is no time to correct. Write clock hours as 24 h, days as 30 d (1 to { $most } days), or none.

## From a symptom to its cause

find-what = What is wrong
