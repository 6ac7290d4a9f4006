# The pages that are wholly in the catalogue, and the frame around every page.

## The frame

frame-skip = Skip to the page
frame-demo-label = Demo
frame-demo = Demo: an invented fleet. Mails go to a folder.
frame-menu = Menu
frame-urgent = Urgent
frame-urgent-more = : gas smell, flooding
frame-places = Places
frame-sign-out = Sign out
place-due = Due
place-turnovers = Turnovers
place-visits = Visits
place-deficiencies = Deficiencies
place-buildings = Buildings
place-condition = Condition
place-schedules = Schedules
place-checks = Checks
place-mail = Mail
place-people = People
place-account = Account
role-manager = manager
role-technician = technician
role-owner = owner

## Pieces of pages

to-mend = { $count ->
    [one] One thing to mend
   *[other] { $count } things to mend
}
back-without-saving = Back without saving
date-as = As 2026-02-03
first-rows = Back to the first rows
next-rows = Next rows
more-rows = More rows
window-legend = On each line: bracket, the window opens; notch, due; short stroke, the last day; tall tick, today; hatch, days over. An arrow points to what lies beyond.
mind = Mind { $dangers }.
what-to-mind = What to mind
today-is = today, { $day }
done-of = { $done } of { $all }
answered = Answered
keep = Keep

## What failed

error-not-here = Not here
error-signed-out = Signed out
error-not-for-you = Not for you
error-not-done = Not done
error-changed = Changed meanwhile
error-too-many = Too many tries
error-unavailable = Not available now
error-broke = Something broke
error-internal = Nothing was stored. Try again; if it happens once more, tell whoever runs the server the reference.
error-reference = Reference
error-start = To the start page

## Signing in

sign-in = Sign in
sign-in-look-around = Look around as
sign-in-or-password = Or with a password
sign-in-new-password = Set a new password
back-to-sign-in = Back to sign-in
demo-manager = The property manager
demo-manager-sees = You see every building: what is overdue, turnovers, schedules, people.
demo-technician = A maintenance technician
demo-technician-sees = You see what is due in the units of your buildings, and record it on a phone.
demo-owner = An owner
demo-owner-sees = You see the condition of the buildings of your portfolio, also as a CSV.
mail-address = Mail address
password = Password
password-current = Current password
password-new = New password
password-hint = At least 15 characters. Four unrelated words make a good one; spaces count.
password-keep = Keep this password
password-others-end = Your other sessions end.

link-over = This link is over
invitation = Your invitation
invitation-head = Welcome, { $name }
invitation-choose = Choose the password that you will sign in with.
invitation-take = Take the invitation
invitation-taken = Welcome. Your password is kept.
invitation-over = This invitation was taken or its time is over. Ask whoever invited you for another; when you have a password already, sign in with it.
new-password = A new password
new-password-ends = It signs you out everywhere else.
new-password-kept = Your new password is kept. Sign in with it.
new-password-over = This link was used or its hour is over. Ask for another.
new-password-again = Ask for another link
reset-how = A mail brings you a link that works once, for an hour.
reset-send = Send the mail
reset-asked = Look into your mail
reset-asked-sent = When the address belongs to somebody who may sign in, a mail with a link is on its way. It works once, for an hour.
reset-asked-nothing = Nothing there after ten minutes? Look among the unwanted mail, check the address, or ask the manager.
set-up-over = This link was used or its day is over. While there is nobody yet, the server prints another when it starts.

## The account

account = Account
account-sessions = Where you are signed in
account-sessions-caption = Your sessions
account-browser = Browser
account-browser-on = { $program } on { $system }
account-browser-unknown = a program that is no known browser
account-since = Since
account-last-used = Last used
account-ends = Ends at the latest
account-this-one = this one
account-end-it = End it
account-end = End
account-end-which = the session of { $browser } since { $began }
account-end-others = End all others
account-session-ended = That session ended.
account-sessions-ended = { $count ->
    [one] { $number } session ended.
   *[other] { $number } sessions ended.
}
account-zone = Zone
account-zone-and-mail = Zone and morning mail
account-hours-kept = Zone and hour are kept.
account-password-kept = Your new password is kept. Your other sessions ended.
time-zone = Time zone
time-zone-hint = Its IANA name, such as America/Chicago
digest-hour = Hour of the morning mail
digest-hour-hint = 0 to 23; none is sent when nothing is due
language = Language
language-of-pages = Of pages and mails
account-language-kept = From now on in English.

## Urgent

urgent = Urgent
urgent-head = Urgent: first this
urgent-numbers-of = Numbers of { $building }.
urgent-not-set = { $name }: not set here; look at the notice in the hall or the bill.
urgent-choose-building = { $name }: not set for the whole office; choose the building
urgent-filter = Numbers of
urgent-of-office = the office
urgent-set-numbers = Set the office's numbers
urgent-set-numbers-of = Set the numbers of { $building }
urgent-record = When people are safe: take it down
urgent-is-record = This is the record and calls nobody. Every manager gets it by mail.
urgent-kind = What it is
urgent-not-said = not said
urgent-unit-hint = As on its door; empty for the building as a whole
note = Note
urgent-note-hint = What was done, who was called. It stays on this page and out of the mail.
urgent-take-down = Take it down
urgent-taken-down = Taken down
urgent-reports = Emergencies that were taken down, the latest first
what = What
who = Who
when = When
unit-within = unit

## Words of many pages

unit = Unit
building = Building
technician = Technician
state = State
severity = Severity
check = Check
where = Where
minutes = Minutes
why = Why
because = Because
in-words = In words
open = Open
do = Do
show = Show
all = all
anyone = anyone
nobody-yet = nobody yet
whole-unit = whole unit
what-is-wrong = What is wrong
correct-by = Correct by
may-stay-empty = May stay empty
choose-or-say-below = choose one, or say it below
widen-filter = Widen the filter.
to-due-list = To the due list
entry = Entry
entry-household = Household
entry-hours = Agreed hours
entry-no-days = No entry
entry-notice = Entry notice
entry-notice-hours = { $count ->
    [one] { $count } hour
   *[other] { $count } hours
}
entry-visit-note = Note of the visit
entry-none = none noted

## Visits

visits = Visits
visits-are = One entry into one unit, with what is done there.
visits-plan = Plan a visit
visits-what = What
visits-closed = closed
visits-planned = planned
visits-say-how = say how it went
visits-which = visit { $visit }, unit { $unit }
visits-none-such = No such visit.
visits-planned-ones = Planned visits
visits-none-planned = No visit is planned.
visits-how-to-plan = Tick checks of one unit on the due list and make a visit of them, or plan one here.
visits-by-day = Visits by day
visits-lately = Lately closed
visits-lately-caption = Visits closed lately, the latest first
visits-all-closed = All closed visits
visits-on-page = { $count ->
    [one] { $number } visit on this page
   *[other] { $number } visits on this page
}
visit-head = Visit, unit { $unit }
visit-number = Visit { $visit }
visit-record = Record results
visit-done = Visit done
visit-to-do = What to do
visit-was-planned = What was planned
visit-recorded-of = { $answered } of { $checks } recorded.
visit-rest-due = What was not recorded stays due.
visit-checks-caption = Checks of this visit, in the order of a walk
visit-repairs-caption = Repairs and re-checks
visit-state-or-recorded = State, or what was recorded
visit-nothing-chosen-here = Nothing was chosen for this visit. What is due in the unit is recorded all the same.
visit-recorded = Recorded on this visit
visit-also-recorded = Also recorded on this visit
visit-also-caption = Other checks recorded on this visit
visit-nobody-in = Nobody got in
visit-no-access-how = Each check that was not answered is kept as not checked, with the reason: proof of the attempt. It stays due.
visit-close-no-access = Close as no access
visit-cancel-this = Cancel this visit
visit-cancel = Cancel the visit
visit-another = Plan another visit into this unit
visit-no-access-kept = Closed as no access. What it would have served stays due.
visit-done-kept = Visit closed as done.
visit-cancelled = Visit cancelled.
visit-made = Made
visit-closed = Closed
visit-passed = passed
visit-failed = failed
visit-not-checked = not checked: { $reason }
visit-not-asked = not asked any more
visit-nothing-chosen = nothing chosen
visit-repairs = { $count ->
    [one] { $number } repair
   *[other] { $number } repairs
}
visit-results = { $count ->
    [one] { $number } result
   *[other] { $number } results
}

## Labels

label-unknown = Unknown label
label-unknown-how = No label that you may see has this code. Scan it once more, or find the unit by its door.
label-withdrawn = Withdrawn label
label-withdrawn-on = This label was withdrawn on { $day }, and another took its place. It was stuck to { $place } in unit { $unit } of { $building }. Look whether it still hangs there before you go on, and take it off.
label-withdrawn-once = This label was withdrawn, and another took its place. It was stuck to { $place } in unit { $unit } of { $building }. Look whether it still hangs there before you go on, and take it off.
label-go-on = Go on to { $place } in unit { $unit }
label-the-unit = The unit
label-today = Today's units

urgent-taken = Taken down, and mailed to every manager. It calls nobody: call now if nobody has.

leak-points = Leak points: { $points }
leak-point-deficient = { $point }, deficient
