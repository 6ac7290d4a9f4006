# Where things stand and when they come due: the due list, the load of the year, buildings, units, checks.

## Months, weekdays, ages

month-name-1 = January
month-name-2 = February
month-name-3 = March
month-name-4 = April
month-name-5 = May
month-name-6 = June
month-name-7 = July
month-name-8 = August
month-name-9 = September
month-name-10 = October
month-name-11 = November
month-name-12 = December
months-to = { $first } to { $last }
months-and = { $first } and { $last }
weekday-name-1 = Monday
weekday-name-2 = Tuesday
weekday-name-3 = Wednesday
weekday-name-4 = Thursday
weekday-name-5 = Friday
weekday-name-6 = Saturday
weekday-name-7 = Sunday
weekday-every = Every day
weekdays-to = { $first } to { $last }
calendar-public-holidays = { $count ->
    [one] { $number } public holiday
   *[other] { $number } public holidays
}
calendar-shut-downs = { $count ->
    [one] { $number } shut-down period
   *[other] { $number } shut-down periods
}
figures-day-of-month = { $day } { $month }
age-days = { $count ->
    [one] { $count } day
   *[other] { $count } days
}
age-months = { $count ->
    [one] { $count } month
   *[other] { $count } months
}
age-years = { $count ->
    [one] { $count } year
   *[other] { $count } years
}
age-month-of-year = { $month } { $year }

## Why a date was moved

moved-from = moved from { $day }: { $why }
moved-nobody-lived = nobody lived there
moved-out-of-season = out of season ({ $season })
moved-closed = closed
moved-then = { $first }, then { $then }
moved-no-working-day = no working day
moved-public-holiday = public holiday { $name }
moved-shut-down = shut-down period { $name }
window-days = opens { $opens }, due { $due }, last day { $last }

## The due list

due-overdue = overdue
due-due = due
due-in-window = in the window
due-later = later
due-every-state = every state
due-head-overdue = Overdue
due-head-due = Due
due-head-in-window = In the window
due-label-in-window = In window
due-number-overdue = { $number } overdue
due-number-due = { $number } due
due-number-in-window = { $number } in the window
due-none = none
due-in-buildings = { $count ->
    [one] in { $number } building
   *[other] in { $number } buildings
}
due-tallies = Counts by building
due-tallies-worst-first = Counts by building, the most overdue first
due-tallies-caption = What can be done today, by building
due-tallies-of = The { $shown } buildings with the most overdue of { $all }.
due-every-building = Every building
due-can-be-done = can be done today
due-code-of-building = code
due-order = Order
due-most-overdue-first = most overdue first
due-by-building = by building
due-more-filters = More filters
due-fixture = Fixture
due-schedule = Schedule
due-unassigned = unassigned
due-somebody-who-left = somebody who left
due-empty = Nothing is due here.
due-empty-how = A check stands here from the day its window opens. Widen the filter, or look at what opens later.
due-every-state-link = Every state
due-items = Due items
due-select = Select
due-select-every-row = Select every row of this page
due-select-row = Select { $row }
due-none-selected = none selected
due-selected = { $number } selected
due-window = Window, today marked
due-record = Record
due-make-visit = Make a visit from selection
due-download = Download as CSV
due-print = Print
due-first-rows-of = The first { $rows } of { $all }
due-rows-of = { $rows } rows on this page, { $all } in all
due-rows-on-page = { $count ->
    [one] { $number } row on this page
   *[other] { $number } rows on this page
}
due-rows = { $count ->
    [one] { $number } row
   *[other] { $number } rows
}

## The load of the year

load-title = Load
load-head = Load of the year
load-is = What comes due by week, when each check is done on the day it comes due, and what is past that today.
load-everybody = Everybody
load-nobody = Nobody named yet
load-said = { $checks } checks, { $year } hours in a year, { $busiest } hours in the busiest week
load-week-by-week = Week by week
load-caption = { $name }, week by week
load-week-of = Week of
load-checks = Checks
load-hours = Hours
load-how = A bar a week. A technician does checks for { $hours } hours a week (common practice, no source), ways and repairs aside; for everybody, that times as many as are named. It is the dashed line where a week comes near it; what goes beyond is hatched.

## Buildings

buildings-count = { $count ->
    [one] { $number } building
   *[other] { $number } buildings
}
buildings-of = { $count ->
    [one] { $shown } of { $number } building
   *[other] { $shown } of { $number } buildings
}
buildings-empty = There is no building here yet.
buildings-empty-how = Add one by hand, or bring the whole fleet in from a spreadsheet.
buildings-import = Import a fleet
buildings-none-assigned = No building is assigned to you yet.
buildings-none-assigned-how = Ask the manager to let you see the buildings that you work in.
buildings-caption = Buildings by code
buildings-units = Units
buildings-add = Add a building
buildings-add-portfolio = Add a portfolio
buildings-download = Download the fleet as CSV
buildings-change = Change { $name }

building-code = Code
building-portfolio = Portfolio
building-address = Address
building-code-profile = Code profile
building-profile-dwelling = ADA, 604, dwelling units
building-profile-own = Own limits only
building-lengths = Lengths in
building-working-days = Working days
building-joined = Joined
building-built = Built
building-base-joint = Base joint
building-head-floor = Floor
building-head-riser = Riser
building-head-occupancy = Occupancy
building-head-fixtures = Fixtures
building-head-deficiencies = Deficiencies
building-head-worst = Worst
building-floors = { $count ->
    [one] { $number } floor
   *[other] { $number } floors
}
building-fixtures = { $count ->
    [one] { $number } fixture
   *[other] { $number } fixtures
}
building-no-unit = This building has no unit yet.
building-no-unit-add = Add the first one by hand, or bring them all in from a spreadsheet.
building-no-unit-ask = Ask the manager to add its units.
building-import = Import units and fixtures
building-overdue-then = overdue then
building-due-then = due then
building-in-window-then = in the window then
building-open-then = open deficiencies then
building-open = open deficiencies
building-open-leaks = Open leaks
building-add-unit = Add a unit
building-change = Change the building
building-calendar = Calendar
building-terms = Terms
building-labels = Labels
building-score = Score
building-forecast = Forecast
building-street = From the street
building-as-of = As of
building-past = A past day, computed with today's knowledge of schedules and checks. Occupancy is that of today.
building-legend = The denser the hatch, the graver the worst open deficiency; a heavy frame is danger to life. The figure counts deficiencies and overdue checks. Dotted: no fixture is known.
building-units-of = Units of { $name }
building-facts = The building

## A building from the street

front-danger = danger
front-over = { $number } over
front-empty = empty
front-worst = { $building } from the street; the worst is { $severity } in { $unit }
front-none-open = { $building } from the street; no open deficiency
front-riser = riser { $riser }: deficiencies on { $wrong } of { $floors } floors

## Units

units-heading = Unit { $unit }
units-floor = floor { $floor }
units-riser = riser { $riser }
units-common-area = common area
units-not-known = not known
units-not-noted = not noted
units-about = about { $month }
units-now = I am in this unit now
units-report = Report a problem
units-to-turnover = Go to the turnover
units-start-turnover = Start turnover
units-due-here = Due here
units-none-today = No check can be done today.
units-due-caption = Checks that can be done today
units-later = { $count ->
    [one] { $number } check comes later; the next window opens { $day }, { $distance }.
   *[other] { $number } checks come later; the next window opens { $day }, { $distance }.
}
units-open-deficiencies = Open deficiencies
units-none-open = None is open.
units-deficiencies-caption = Open deficiencies, the gravest first
units-number = Number
units-deadline-past = { $moment }, past
units-deficiency-closed = closed { $day }: { $how }
units-fixtures = Fixtures, in the order of the walk
units-no-fixture = No fixture stands here yet.
units-no-fixture-add = Add what stands in each room; its checks come due by themselves.
units-no-fixture-ask = Ask the manager to add what stands in each room.
units-fixtures-caption = Fixtures by room
units-tag = Tag
units-kind = Kind
units-maker = Maker
units-maker-and-model = Maker and model
units-installed = Installed
units-parts = Parts
units-no-room = No room named
units-empty-places = Places that stand empty
units-stood = , where a { $kind } stood
units-add-fixture-at = Add a fixture at { $tag }
units-add-fixture = Add a fixture
units-rooms = Rooms and their order
units-change = Change the unit
units-no-household = No household lives here today.
units-common-area-nobody = A common area: nobody lives here.
units-households = Households
units-none-noted = None is noted.
units-add-household = Add a household
units-lived = { $since } to { $until }
units-lives-since = since { $since }

## Checks

checks-are = What can be looked at, tried or measured, by kind of fixture. Each limit and severity says where it comes from.
checks-add-own = Add a check of your own
checks-all-values = All values and their sources
checks-from = From
checks-anywhere = anywhere
checks-none-such = No such check.
checks-none-such-how = Add one of your own, or copy a built-in one and change the copy.
checks-every = Every check
checks-caption = Checks by kind of fixture
checks-group = Group
checks-answer = Answer
checks-who = Who
checks-mark-own = your own
checks-mark-several-kinds = of several kinds
checks-mark-off = off until chosen
checks-mark-withdrawn = withdrawn
checks-pass-or-fail = pass or fail
checks-any-value = { $of }, any value
checks-limit-by-profile = { $of }, limit by code profile
checks-every-profile = every profile
checks-own-version = Your own, version { $version }
checks-own-version-then = Your own, version { $version }: as it was asked then
checks-built-in-version = Built in, version { $version }
checks-built-in-version-then = Built in, version { $version }: as it was asked then
checks-as-now = as it is now
checks-gas-smell = Gas smell
checks-how = How
checks-passes = Passes
checks-fails = Fails
checks-reading = { $of }, in { $unit }
checks-any-value-is-kept = Any value is an answer; it is kept as a record.
checks-limits = Limits, each inclusive
checks-limit = Limit
checks-under = Under
checks-source = Source
checks-in-short = In short
checks-asked-of = Asked of
checks-who-may = Who may do it
checks-severity-of-failure = Severity of a failure
checks-severity-only-one = { $severity }, { $other } when the unit has no other
checks-severity-common-area = { $severity }, { $other } in a common area
checks-in-a-turnover = In a turnover
checks-only-in-buildings = Only in buildings
checks-at-least-years = at least { $years } years old, or of unknown age; { $source }
checks-only-base-joint = Only where the base joint is
checks-method-from = Method from
checks-schedules = Schedules that ask for it
checks-no-schedule = None.
checks-off = off
checks-versions = Versions
checks-since = since { $day }
checks-copy-as-own = Copy as your own
checks-copy-how = The copy is yours to change. No update of ours touches it, and schedules go on asking for this one.
checks-copy-code = Code of the copy
checks-copy-code-hint = Lower-case letters, digits and underscores
checks-copy = Copy the check
checks-change = Change the check
checks-offer = Offer it again
checks-withdraw = Withdraw from new schedules

## Open leaks of a building

leaks-title = Water lost, { $building }
leaks-none-measured = not measured
leaks-none-open = No leak is open here.
leaks-none-open-how = A failed check that loses water stands here until it is right, with what it loses once somebody has measured.
leaks-to-deficiencies = Deficiencies of the building
leaks-caption = Open leaks, the largest loss first
leaks-of-number = , number { $number }
leaks-all-measured = All that are measured
leaks-left-out = A repaired leak that waits for its re-check is left out. Conventions of a drip disagree by half, so each figure names its own.
leaks-no-price = No price of water is set for this building.
leaks-price = Price: { $tariff }.
leaks-set-price = Set what water costs here
sentence-tariff = { $water } water and { $sewer } sewer, { $currency } per { $unit }

## What the address of a list asks for and there is not

sentence-such-version = such version
sentence-such-version-of-check = such version of this check
sentence-no-order = “{ $given }” is not an order of this list; it is one of last_day, building.
sentence-no-place-in-list = The address does not say where the page begins. Go back to the first rows of the list.
sentence-no-state = “{ $given }” is not a state; it is one of overdue, due, in_window, later, all.
sentence-no-check = There is no check “{ $given }”. Choose one of the list.
sentence-no-schedule = There is no schedule “{ $given }”. Choose one of the list.
sentence-no-technician = The filter “technician” names nobody we know. Choose one of the list.
