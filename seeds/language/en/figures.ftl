# Numbers, dates and distances.
language-name = English

figures-thousands = ,
figures-decimal-mark = .

figures-weekday-1 = Mon
figures-weekday-2 = Tue
figures-weekday-3 = Wed
figures-weekday-4 = Thu
figures-weekday-5 = Fri
figures-weekday-6 = Sat
figures-weekday-7 = Sun
figures-month-1 = Jan
figures-month-2 = Feb
figures-month-3 = Mar
figures-month-4 = Apr
figures-month-5 = May
figures-month-6 = Jun
figures-month-7 = Jul
figures-month-8 = Aug
figures-month-9 = Sep
figures-month-10 = Oct
figures-month-11 = Nov
figures-month-12 = Dec

figures-day = { $weekday } { $day } { $month }
figures-day-of-year = { $weekday } { $day } { $month } { $year }
figures-moment = { $day }, { $time }
figures-moment-in-full = { $weekday } { $day } { $month } { $year }, { $time } ({ $zone })
figures-today = today
figures-tomorrow = tomorrow
figures-yesterday = yesterday
figures-days-ahead = { $count ->
    [one] in { $count } day
   *[other] in { $count } days
}
figures-days-ago = { $count ->
    [one] { $count } day ago
   *[other] { $count } days ago
}
figures-list = { $before } and { $last }

figures-units = { $count ->
    [one] { $number } unit
   *[other] { $number } units
}

figures-days = { $count ->
    [one] { $number } day
   *[other] { $number } days
}
figures-checks = { $count ->
    [one] { $number } check
   *[other] { $number } checks
}

due-opens = opens { $day }
due-tomorrow = due tomorrow
due-in-days = { $count ->
    [one] due in { $count } day
   *[other] due in { $count } days
}
due-today = due today
due-last-day = due, last day today
due-days-left = due, { $days } left
due-days-over = { $count ->
    [one] { $count } day over
   *[other] { $count } days over
}
due-on = due { $day }
due-now = due now
due-minutes = { $side ->
    [over] { $number } min over
   *[left] { $number } min left
}
due-hours = { $side ->
    [over] { $number } h over
   *[left] { $number } h left
}
due-days = { $side ->
    [over] { $number } days over
   *[left] { $number } days left
}
due-by = { $left }, by { $moment }
due-no-deadline = no deadline
