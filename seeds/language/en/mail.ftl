# Mails to people: the digest of the morning, the invitation, the new password.

digest-greeting = { $name }, this is your work as of { $day }.
digest-all = All of it
digest-subject = { $day }: { $parts }
digest-subject-overdue = { $checks } overdue in { $units }
digest-subject-week = { $checks } due this week
digest-turnovers = { $count ->
    [one] { $number } turnover
   *[other] { $number } turnovers
}
digest-deficiencies = { $count ->
    [one] { $number } deficiency
   *[other] { $number } deficiencies
}
digest-overdue = Overdue
digest-week = Due this week
digest-by-move-in = Turnovers, by move-in
digest-by-deadline = Deficiencies, by deadline
digest-more = And { $units } more with { $checks }.
digest-more-overdue = And { $units } more with { $checks }, { $overdue } of them with something overdue.
digest-work = { $checks } · { $minutes } min · { $when }
digest-some-over = { $overdue } overdue, up to { $days } over
digest-days-over = { $days } over
digest-due-since = due since { $day }
digest-due = due { $day }
digest-turnover = { $stage } · move-in { $day }, { $distance }
digest-stage-found = being looked through
digest-stage-repaired = under repair
digest-stage-ready = ready
digest-deficiency = no. { $number } { $title } · { $severity } · { $by }
digest-no-deadline = no deadline
digest-right-by = right by { $day }, { $time }
digest-right-by-over = right by { $day }, { $time }, { $days } over

invite-subject = Your invitation to Anglestop
invite-greeting = { $name },
invite-who = { $inviter } invites you to Anglestop, where the checks of your buildings are planned and recorded.
invite-as-manager = As a manager you plan the checks and see every building.
invite-as-technician = As a technician you see what is due in your buildings and record what you find.
invite-as-owner = As an owner you read the condition of your buildings.
invite-open = Open this link and choose a password:
invite-until = It works once, until { $until }. After that, ask { $inviter } for another.
invite-leave = If you did not expect this, leave it: without the link nothing happens.
mail-from = Anglestop at { $site }

reset-subject = A new password for Anglestop
reset-who = somebody, perhaps you, asked for a new password at Anglestop. Open this link and choose one:
reset-until = It works once, until { $until }. Choosing a password signs you out everywhere else.
reset-leave = If it was not you, leave this mail: without the link nothing changes.
