# Números, fechas y distancias. El punto decimal y la coma de millares son los de México, Centroamérica y Estados Unidos, y los de los
# instrumentos que se leen: lo que se escribió y lo que se calcula llevan el mismo signo.
language-name = Español

figures-thousands = ,
figures-decimal-mark = .

figures-weekday-1 = lun
figures-weekday-2 = mar
figures-weekday-3 = mié
figures-weekday-4 = jue
figures-weekday-5 = vie
figures-weekday-6 = sáb
figures-weekday-7 = dom
figures-month-1 = ene
figures-month-2 = feb
figures-month-3 = mar
figures-month-4 = abr
figures-month-5 = may
figures-month-6 = jun
figures-month-7 = jul
figures-month-8 = ago
figures-month-9 = sep
figures-month-10 = oct
figures-month-11 = nov
figures-month-12 = dic

figures-day = { $weekday } { $day } { $month }
figures-day-of-year = { $weekday } { $day } { $month } { $year }
figures-moment = { $day }, { $time }
figures-moment-in-full = { $weekday } { $day } { $month } { $year }, { $time } ({ $zone })
figures-today = hoy
figures-tomorrow = mañana
figures-yesterday = ayer
figures-days-ahead = { $count ->
    [one] en { $count } día
   *[other] en { $count } días
}
figures-days-ago = { $count ->
    [one] hace { $count } día
   *[other] hace { $count } días
}
figures-list = { $before } y { $last }

figures-units = { $count ->
    [one] { $number } unidad
   *[other] { $number } unidades
}

figures-days = { $count ->
    [one] { $number } día
   *[other] { $number } días
}
figures-checks = { $count ->
    [one] { $number } revisión
   *[other] { $number } revisiones
}

due-opens = se abre { $day }
due-tomorrow = toca mañana
due-in-days = { $count ->
    [one] toca en { $count } día
   *[other] toca en { $count } días
}
due-today = toca hoy
due-last-day = pendiente, hoy es el último día
due-days-left = pendiente, quedan { $days }
due-days-over = { $count ->
    [one] { $count } día de atraso
   *[other] { $count } días de atraso
}
due-on = toca { $day }
due-now = vence ahora
due-minutes = { $side ->
    [over] { $number } min de atraso
   *[left] quedan { $number } min
}
due-hours = { $side ->
    [over] { $number } h de atraso
   *[left] quedan { $number } h
}
due-days = { $side ->
    [over] { $number } días de atraso
   *[left] quedan { $number } días
}
due-by = { $left }, hasta { $moment }
due-no-deadline = sin plazo
