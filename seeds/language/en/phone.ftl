# The screens on a technician's phone. What a check asks comes from the catalogue of checks, notes stay as they were written.

## The frame

skip = Skip to the page
urgent-short = Urgent
undo = Undo
taken-back = Taken back.
undo-too-late = It is on its way already. Answer again; the later answer counts.
broken = This screen could not be drawn. Load the page again; nothing that was kept is lost.
no-room = This phone has no room left: that was not kept. Send what is here, or make room, and do it again.
no-room-photo = This phone has no room left for the photo. The answer is kept; the photo is not.
photo-unreadable = This file is no photo that can be read. Take another, as JPEG, PNG or WebP.
line-signed-out = Signed out. What you do is kept on this phone.
line-sign-in = Sign in to send it
line-other-person = Somebody else's answers on this phone are not yet sent.
line-look = Look at them
line-silent = No answer from the server. It is tried again by itself.
line-reached = The server answers.
line-sending = Sending …

## What is not yet sent

unsent-none = All sent
unsent-answers = { $answers ->
    [one] { $answers } not yet sent
   *[other] { $answers } not yet sent
  }
unsent-photos = { $photos ->
    [one] { $photos } photo not yet sent
   *[other] { $photos } photos not yet sent
  }
unsent-both = { $answers } and { $photos ->
    [one] { $photos } photo
   *[other] { $photos } photos
  } not yet sent
unsent-none-long = Everything is with the office.
not-yet-sent = Not yet sent
send-now = Send now
noted = Noted
state-here = on this phone
state-sending = sending
state-sent = sent
state-attention = needs attention
state-fetched = sent
photo-share = { $share } % sent
op-photo = Photo
op-report = Report
op-repaired = A repair
op-word = Looked at again
op-advance = A step of the turnover
op-close = The closing of the turnover
op-visit-done = Visit done
op-no-access = Nobody got in
op-urgent = Urgent
file-why = When this phone can't send, save what is here as a file. It can be taken in on another phone, signed in as the same person.
file-save = Save as a file
file-take = Take in a file
file-taken = { $answers ->
    [one] { $answers } taken in.
   *[other] { $answers } taken in.
  }
file-refused = This file can't be taken in. Choose one that was saved here, of the same person.
sign-out = Sign out
out-asks = Signing out removes from this phone what is not yet sent. Send it first, or save it as a file.
out-clean = Nothing is left to send. Signing out removes the checklists from this phone.
out-and-remove = Sign out and remove it
out-no-line = Signing out needs a line to the server.

## Today

today = Today
today-none = No unit is yours today.
today-not-fetched = Nothing was fetched yet. That needs a line to the server, once.
today-sign-in = Sign in to fetch today's units.
today-not-staff = Units to walk are those of technicians and managers.
today-turnover = move-in { $day }
today-visit = visit today
today-visit-left = visit left over from { $day }
today-over = { $over ->
    [one] { $over } check is overdue there
   *[other] { $over } checks are overdue there
  }
today-not-listed = No longer yours. What you did here is still sent.
today-load = { $kinds ->
    [one] To load: { $kinds } kind of part
   *[other] To load: { $kinds } kinds of parts
  }
floor = floor { $floor }
entry = How to get in
entry-on-line = How to get in is shown only while there is a line; it is never kept on the phone.
entry-none = Nothing is noted of it.
fetched-at = Fetched at { $time }
fetch-now = Fetch again
fetching = Fetching …
more = Everything else
more-on-line = These pages need a line to the server.
signed-in-as = Signed in as { $name }
back-to-today = Back to today
place-due = Due
place-turnovers = Turnovers
place-visits = Visits
place-deficiencies = Deficiencies
place-buildings = Buildings
place-checks = Checks
place-account = Account
label-unknown = This label is of no unit on this phone. Scan it again where there is a line.
not-here = Not on this phone
not-here-words = This unit was not fetched for today. Its page says what is asked there.
open-page = Open the unit's page
needs-line = needs a line

## A unit and its walk

unit = Unit { $unit }
progress = { $answered } of { $asked }
all-answered = { $checks ->
    [one] answered
   *[other] all { $checks } answered
  }
some-fail = { $fails ->
    [one] { $fails } fails
   *[other] { $fails } fail
  }
some-missed = { $missed } not checked
round = round { $round } of { $rounds }: { $part }
remarks = Still so
part-found = As found
part-ready = Before ready
part-move-in = Move-in day
part-visit = Visit
group-look = look and touch
group-water = water
group-measure = measure
go-on = Go on
open = open
open-count = { $checks ->
    [one] { $checks } open
   *[other] { $checks } open
  }
one-by-one = One by one
all-pass = { $checks ->
    [one] It passes
   *[other] All { $checks } pass
  }
i-looked = { $checks ->
    [one] I looked at it
   *[other] I looked at each
  }
kept-passes = { $checks ->
    [one] { $checks } pass kept on this phone.
   *[other] { $checks } passes kept on this phone.
  }
nothing-asked = Nothing is asked here now.
note = Note
back-to-unit = Back to the unit
something-else = Something else is wrong
leak-points = Drawing with the leak points
mind-more = What to mind
codes-decide = Local codes and licensed practice decide.
whole-unit = whole unit
keeps-back-repaired = What keeps it from repaired
keeps-back-ready = What keeps it from ready
keeps-back-close = What keeps it from closing
block-found = { $left ->
    [one] { $left } of { $asked } as-found checks has no answer.
   *[other] { $left } of { $asked } as-found checks have no answer.
  }
block-ready = { $left ->
    [one] { $left } of { $asked } checks before ready has no answer.
   *[other] { $left } of { $asked } checks before ready have no answer.
  }
block-move-in = { $left ->
    [one] { $left } of { $asked } move-in day checks has no answer.
   *[other] { $left } of { $asked } move-in day checks have no answer.
  }
block-unrepaired = { $place }: { $title } ({ $severity }). Note the repair first.
block-recheck = { $place }: { $title } ({ $severity }). It is repaired; its re-check must pass, or a manager waives it.
block-standing = { $place }: { $title } ({ $severity }). Repair it and let its re-check pass, or let a manager waive it.
block-never-waived = { $place }: { $title } ({ $severity }). It is never waived: note the repair and let its re-check pass.
what-is-wrong = What is wrong
wrong-count = { $wrong ->
    [one] { $wrong } thing
   *[other] { $wrong } things
  }
advance-repaired = All repairs are done
advance-repaired-then = on to the checks before ready
advance-ready = The unit is ready
advance-ready-then = on to the checks of the move-in day
kept-repaired = Repaired: the checks before ready come next.
kept-ready = Ready: the checks of the move-in day come next.
sign-and-close = Sign and close
leave-unit = Leave the unit
unit-closed-here = signed
unit-done-here = visit over
closed-words = Signed on this phone. The record is made when the server has received it.
left-words = The visit is over. What you still answer here is sent all the same.

## One check

pass = pass
opens = opens a deficiency, { $severity }
kept = { $title }: { $said }
kept-missed = { $title }, not checked: { $said }
kept-here = Kept on this phone.
opens-here = It opens a deficiency: { $severity }.
so-far = So far:
said-by = { $who }, { $day } { $time }
said-missed = Could not check: { $reason }
how = How
done-by = done by: { $who }
could-not = Could not check, because …
because = Because
choose-reason = choose one, or write it
in-words = In words
keep-missed = Keep that it could not be checked
missed-needs-reason = Choose a reason, or write one.
reason-no_access = No access to the room
reason-blocked = Something stands in the way
reason-supplies_off = Water, power or gas is off
reason-unsafe = Not safe to do
reason-needs_licence = Needs a licensed person
reason-no_tool = Tool or part not at hand
reason-objected = The resident objected
reason-not_there = There is none here
passes = Passes { $limits }
passes-when = Passes when: { $pass }
check-due = This check: { $due }
early-words = This is for the day of the move-in, { $day }.
at-least = at least { $value } ({ $source })
at-most = at most { $value } ({ $source })
keep-reading = Keep the reading
reading-unreadable = “{ $given }” can't be read. Write a number in { $unit }, such as { $like }.
reading-empty = Nothing is written yet. Write a number in { $unit }, such as { $like }.
reading-unit = “{ $given }” is in no unit that fits. Write it in { $unit }.
reading-negative = “{ $given }” is below zero. Measure again.
reading-too-large = “{ $given }” has too many figures.
reading-sure = { $reading }? That is far from what is usual here.
reading-meant = I meant { $reading }
reading-right = { $reading } is right
reading-again = Read it again
reading-broken = { $bound ->
    [at_least] { $reading } is under { $value }
   *[at_most] { $reading } is over { $value }
  }
fails-without = Fails, without a figure
say-what = say what you saw
flush-of = flush { $flush } of { $flushes }
stopwatch-start = Start the stopwatch
stopwatch-stop = Stop
which-point = Where
no-point = no point of the drawing
at-point = At { $point }
add-photo = Add a photo
add-photo-more = Add another photo
photos-kept = { $photos ->
    [one] { $photos } photo kept on this phone.
   *[other] { $photos } photos kept on this phone.
  }
done-go-on = Done, go on
grave-first = People first:

## Steps

number = No. { $number }
new-here = New here:
standing-open = open
standing-repaired = repaired, to be re-checked
this-is-repaired = This is repaired
parts-used = Parts used
minutes = Minutes of work
minutes-unreadable = “{ $given }” is no number of minutes. Write one such as 20.
note-repair = Note the repair
kept-repair = Repaired: { $title }
matter-open = to be looked at again
matter-said = looked at
look-again = Look at it again
matter-right = It is right now
matter-still = It is still wrong
matter-could-not = Could not look
matter-needs-note = Say in the note what you saw, or why you could not look.
kept-word = Looked at again: { $title }
nothing-wrong = Nothing is wrong here.
where = Where
report-needs-title = Say in a few words what is wrong.
keep-report = Keep the report
kept-report = Reported: { $title }
leave-words = What was not answered stays due.
visit-done = Visit done
kept-visit-done = The visit is over.
nobody-in = Nobody got in
close-no-access = Close as no access
kept-no-access = Nobody got in: kept as proof of the attempt.
visit-reason-nobody_home = Nobody at home
visit-reason-refused = Entry refused
visit-reason-key = The key does not fit or is not there
visit-reason-child_alone = Only a child at home
visit-reason-animal = An animal loose inside
visit-reason-alarm = An alarm is set
visit-reason-unsafe = Not safe to enter
sign-words = Closing makes the record with your name. It can't be changed afterwards.
name = Name
name-hint = Your own, as you sign. With a drawn signature it may stay empty.
sign-here = Sign here with a finger
sign-instead = A name typed above is as good.
sign-clear = Clear the signature
sign-needs-name = Write your name or draw your signature.
close-turnover = Close the turnover
kept-close = Unit { $unit } is signed. It is sent when there is a line.

## Urgent

urgent = Urgent: first this
urgent-first = Gas smell, sparks, sewage, flooding:
urgent-record = Record something urgent
urgent-not-alarm = This is the record, not the alarm. Leave, and call first.
urgent-what-first = What to do first, and whom to call
urgent-kind = What it is
urgent-gas = Smell of gas
urgent-carbon-monoxide = Carbon monoxide alarm sounds
urgent-sparks = Sparks, smoke or a burning smell
urgent-sewage = Sewage comes up
urgent-flooding = Water runs and can't be stopped
urgent-elsewhere = somewhere else
urgent-keep = Keep the record
kept-urgent = Kept. The office gets it by mail when there is a line.
