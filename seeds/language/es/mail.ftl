# Correos: el de la mañana, la invitación, la contraseña nueva.

digest-greeting = { $name }, este es su trabajo al { $day }.
digest-all = Todo
digest-subject = { $day }: { $parts }
digest-subject-overdue = { $checks } con atraso en { $units }
digest-subject-week = { $checks } para esta semana
digest-turnovers = { $count ->
    [one] { $number } cambio de inquilino
   *[other] { $number } cambios de inquilino
}
digest-deficiencies = { $count ->
    [one] { $number } deficiencia
   *[other] { $number } deficiencias
}
digest-overdue = Con atraso
digest-week = Para esta semana
digest-by-move-in = Cambios de inquilino, por fecha de entrada
digest-by-deadline = Deficiencias, por plazo
digest-more = Y { $units } más con { $checks }.
digest-more-overdue = Y { $units } más con { $checks }; { $overdue } de ellas con algo atrasado.
digest-work = { $checks } · { $minutes } min · { $when }
digest-some-over = { $overdue } con atraso, hasta { $days }
digest-days-over = { $days } de atraso
digest-due-since = pendiente desde { $day }
digest-due = para { $day }
digest-turnover = { $stage } · entrada { $day }, { $distance }
digest-stage-found = en revisión
digest-stage-repaired = en reparación
digest-stage-ready = lista
digest-deficiency = n.º { $number } { $title } · { $severity } · { $by }
digest-no-deadline = sin plazo
digest-right-by = corregir antes del { $day }, { $time }
digest-right-by-over = corregir antes del { $day }, { $time }, { $days } de atraso

invite-subject = Su invitación a Anglestop
invite-greeting = { $name }:
invite-who = { $inviter } le invita a Anglestop, donde se planean y se registran las revisiones de sus edificios.
invite-as-manager = Como administrador planea las revisiones y ve todos los edificios.
invite-as-technician = Como técnico ve lo pendiente en sus edificios y registra lo que encuentra.
invite-as-owner = Como propietario lee el estado de sus edificios.
invite-open = Abra este enlace y elija una contraseña:
invite-until = Sirve una vez, hasta { $until }. Después, pida otro a { $inviter }.
invite-leave = Si no esperaba esto, déjelo: sin el enlace no pasa nada.
mail-from = Anglestop en { $site }

reset-subject = Una contraseña nueva para Anglestop
reset-who = alguien, tal vez usted, pidió una contraseña nueva en Anglestop. Abra este enlace y elija una:
reset-until = Sirve una vez, hasta { $until }. Al elegir una contraseña se cierra su sesión en todos los demás lugares.
reset-leave = Si no fue usted, deje este correo: sin el enlace no cambia nada.
