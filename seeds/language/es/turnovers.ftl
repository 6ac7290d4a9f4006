# Cambios de inquilino, registrar, planear una visita, estar en una unidad, anotar un reporte.

## La lista de cambios de inquilino

turnovers = Cambios de inquilino
turnovers-how = Primero la entrada más próxima. En cada línea, cuatro cuadros: como se encontró a la salida, reparada, lista, ocupada; llenos cuando se alcanzaron. La raya alta es hoy; el rayado, los días después de la entrada.
turnovers-over-how = Cerrados y cancelados, primero el último.
turnovers-open = los abiertos
turnovers-over = los terminados
turnovers-none = Aquí no hay ningún cambio de inquilino abierto.
turnovers-none-how = Abra uno cuando un hogar avise que se va: reúne lo que hay que mirar, reparar y cerrar antes de que entre el siguiente.
turnovers-caption = Cambios de inquilino abiertos por fecha de entrada, cada uno como una línea de la salida a la entrada
turnovers-out-in = Salida { $out }, entrada { $in }. Sigue:
turnovers-csv = Descargar como CSV
turnovers-arrived-all = Lo que llegó tarde
turnovers-on-page = { $count ->
    [one] { $number } cambio de inquilino en esta página
   *[other] { $number } cambios de inquilino en esta página
}
turnovers-over-head = Terminados
turnovers-none-over = Todavía no hay ningún cambio de inquilino terminado.
turnovers-none-over-how = Uno cerrado queda aquí con su acta firmada.
turnovers-open-ones = Los abiertos
turnovers-over-caption = Cambios de inquilino terminados, primero el último
turnovers-ended = Terminó
turnovers-signed = Firmó
turnovers-record = Acta { $number }
turnovers-of-building = de { $building }
turnovers-of-record = del acta { $number } de { $building }
turnovers-all-over = Todos los terminados
turnover-calendar = { $weeks } semanas, del { $from-day } { $from-month } al { $to-day } { $to-month } { $year }; hoy es { $today }
turnover-on-calendar = Unidad { $unit }, { $building }: salida { $out }; { $so-far }
turnover-so-far = { $reached ->
    [0] en revisión; entrada { $in }
    [1] hecho: como se encontró; entrada { $in }
    [2] hecho: como se encontró, reparada; entrada { $in }
    [3] hecho: como se encontró, reparada, lista; entrada { $in }
   *[other] hecho: como se encontró, reparada, lista, ocupada; entrada { $in }
}
turnover-arrived = { $count ->
    [one] { $number } cosa que enviaron los teléfonos llegó tarde o no se pudo aceptar.
   *[other] { $number } cosas que enviaron los teléfonos llegaron tarde o no se pudieron aceptar.
}
turnover-arrived-late = Lo que llegó tarde

## Lo último que dijeron los teléfonos

heard-answers = { $count ->
    [one] { $number } respuesta
   *[other] { $number } respuestas
}
heard-photos = { $count ->
    [one] { $number } foto
   *[other] { $number } fotos
}
heard-nothing = El teléfono de { $person }, última señal { $moment }; no tenía nada sin enviar
heard-one = El teléfono de { $person }, última señal { $moment }; tenía { $things } sin enviar
heard-both = El teléfono de { $person }, última señal { $moment }; tenía { $answers } y { $photos } sin enviar
heard-silent = sin señal desde hace { $days }

## Palabras de un cambio de inquilino

turnover-unit-within = Cambio de inquilino, unidad
turnover-number-unit-within = Cambio de inquilino { $number }, unidad
turnover-of-unit = Cambio de inquilino, unidad { $unit }
turnover-move-in = Entrada
turnover-move-out = Salida
turnover-record = Acta
turnover-number = N.º { $number }
turnover-item = { $place }, { $check }
turnover-item-part = { $place }, { $check } ({ $part })
turnover-part-found = Como se encontró
turnover-part-ready = Antes de lista
turnover-part-move-in = Día de entrada
turnover-mark-found = Como se encontró
turnover-mark-repaired = Reparada
turnover-mark-ready = Lista
turnover-mark-moved-in = Ocupada
turnover-command-line = línea de comandos
turnover-somebody = alguien
turnover-summary = Salida { $out } · entrada { $in } · { $occupancy }
turnover-closed-on = cerrado { $day }
turnover-cancelled-on = cancelado { $day }
turnover-closed-by = Cerrado { $day }, firmado por { $signed }, cuenta de { $person }.
turnover-cancelled-by = Cancelado { $day } por { $person }.
turnover-no-record = No se cerró, así que no hay acta. Sus resultados y deficiencias quedan.

## Abrir uno

turnover-start = Abrir un cambio de inquilino
turnover-start-of = Abrir un cambio de inquilino de la unidad { $unit }
turnover-start-it = Abrir el cambio de inquilino
turnover-gathers = Reúne lo que piden las revisiones en un cambio de inquilino, lo que toca antes de la entrada y las deficiencias de la unidad, en el orden del recorrido.
choose-one = elija uno
as-on-the-door = Como en la puerta
turnover-move-in-hint = Como 2026-02-03. Lo que toca hasta entonces se hace antes
turnover-note-move-out = Anotar la salida de { $household }
turnover-note-move-out-hint = Desde el día de la salida ya no viven aquí
turnover-note-hint = Como qué se reforma ahí. Va a los teléfonos y queda en el acta: sin claves y nada sobre cómo entrar
turnover-opened-now = Cambio de inquilino abierto.

## El recorrido

turnover-parts = Partes de la lista
turnover-reported = Reportado, por mirar otra vez
turnover-the-unit = la unidad
turnover-matter-answered = respondida
turnover-matter-open = por mirar
turnover-record-answers = Registrar respuestas
turnover-nothing-asked = Aquí no se pide nada.
turnover-all-answered = Todo está respondido.
turnover-repaired-next = Ahora se repara lo que está mal; se mira otra vez en:
turnover-answer-again = Responder otra vez
turnover-could-not = No se pudo revisar: { $reason }
turnover-no-limit = { $reading }, sin límite
turnover-recorded = { $count ->
    [one] { $number } resultado registrado.
   *[other] { $number } resultados registrados.
}
turnover-there-already = { $count ->
    [one] { $number } resultado ya estaba.
   *[other] { $number } resultados ya estaban.
}
turnover-opened = Se abrió la deficiencia { $numbers }.
turnover-failed-again = Falló otra vez la deficiencia { $numbers }.
turnover-closed-deficiency = Se cerró la deficiencia { $numbers }.

## Los pasos

turnover-next-step = Paso siguiente
turnover-next = Sigue:
turnover-steps = Pasos
turnover-keeps-from = { $to ->
    [repaired] Qué impide darla por reparada
    [ready] Qué impide darla por lista
   *[moved_in] Qué impide cerrar el cambio
}
turnover-not-yet-because = { $to ->
    [repaired] Todavía no está reparada:
    [ready] Todavía no está lista:
   *[moved_in] Todavía no se puede cerrar:
}
turnover-not-yet = { $to ->
    [repaired] Todavía no está reparada. { $sentences }
    [ready] Todavía no está lista. { $sentences }
   *[moved_in] Todavía no se puede cerrar. { $sentences }
}
turnover-may-be-repaired = se puede dar por reparada
turnover-may-be-ready = se puede dar por lista
turnover-may-be-closed = se puede cerrar
turnover-say-repaired = Decir que está reparada
turnover-say-ready = Decir que la unidad está lista
turnover-stage-now = { $stage ->
    [repaired] La unidad ya está reparada.
    [ready] La unidad ya está lista.
    [moved_in] La unidad ya está ocupada.
   *[found] La unidad está como se encontró.
}
turnover-to-number = A la n.º { $number }
turnover-nothing-to-repair = nada que reparar
turnover-deficiencies-open = { $count ->
    [one] { $number } deficiencia abierta
   *[other] { $number } deficiencias abiertas
}
turnover-closing = Al cerrar se hace el acta, firmada con su nombre. Después no se puede cambiar.
turnover-closing-unsent = Hay algo que solo está en un teléfono. Las fotos pueden llegar después del cierre; una respuesta que llega después se guarda y no queda en ningún acta:
turnover-name = Nombre
turnover-name-hint = El suyo, como firma
turnover-close = Cerrar el cambio de inquilino
turnover-closed = Cambio de inquilino cerrado. Su acta es la número { $number }.
turnover-waive = Dispensar la n.º { $number }
turnover-waive-why = Por qué puede quedar
turnover-waive-why-hint = Sigue abierta; solo la entrada ya no la espera
turnover-waive-name-hint = Quien responde por ella
turnover-until = Hasta
turnover-until-hint = Último día, como 2026-02-03; no antes de la entrada
turnover-leave-it = Dejarla así
turnover-is-waived = La n.º { $number } está dispensada.
turnover-waived-head = Dispensadas
turnover-waived = dispensada hasta { $day } por { $name }: { $reason }
turnover-waived-over = dispensada hasta { $day } por { $name }: { $reason }; ya no cubre la entrada
turnover-added-head = Agregado desde que se abrió
turnover-added = agregado { $day }: { $what }
turnover-added-recheck = agregado { $day }: { $what }, segunda revisión de la n.º { $number }
turnover-added-matter = agregado { $day }: n.º { $number }, { $title }
turnover-cancel = Cancelar el cambio de inquilino
turnover-cancel-how = Sus resultados y deficiencias quedan; no hace acta. La unidad vuelve a estar ocupada o vacía.
turnover-cancel-why = Por qué se cancela
turnover-keep-it = Conservarlo
turnover-otherwise = Otra cosa
turnover-cancelled = Cambio de inquilino cancelado.

## Qué lo impide

turnover-unanswered-found = { $asked ->
    [one] { $left } de { $asked } revisión «como se encontró» no tiene respuesta: { $named }.
   *[other] { $left ->
        [one] { $left } de { $asked } revisiones «como se encontró» no tiene respuesta: { $named }.
       *[other] { $left } de { $asked } revisiones «como se encontró» no tienen respuesta: { $named }.
    }
}
turnover-unanswered-ready = { $asked ->
    [one] { $left } de { $asked } revisión «antes de lista» no tiene respuesta: { $named }.
   *[other] { $left ->
        [one] { $left } de { $asked } revisiones «antes de lista» no tiene respuesta: { $named }.
       *[other] { $left } de { $asked } revisiones «antes de lista» no tienen respuesta: { $named }.
    }
}
turnover-unanswered-move-in = { $asked ->
    [one] { $left } de { $asked } revisión del día de entrada no tiene respuesta: { $named }.
   *[other] { $left ->
        [one] { $left } de { $asked } revisiones del día de entrada no tiene respuesta: { $named }.
       *[other] { $left } de { $asked } revisiones del día de entrada no tienen respuesta: { $named }.
    }
}
turnover-named-more = { $named }; y { $more } más
turnover-to-answer-found = { $asked ->
    [one] { $left } de { $asked } revisión «como se encontró» por responder
   *[other] { $left } de { $asked } revisiones «como se encontró» por responder
}
turnover-to-answer-ready = { $asked ->
    [one] { $left } de { $asked } revisión «antes de lista» por responder
   *[other] { $left } de { $asked } revisiones «antes de lista» por responder
}
turnover-to-answer-move-in = { $asked ->
    [one] { $left } de { $asked } revisión del día de entrada por responder
   *[other] { $left } de { $asked } revisiones del día de entrada por responder
}
turnover-unrepaired = { $where ->
    [place] N.º { $number } en { $place } ({ $severity }) no está reparada: { $title }. { $remedy }
   *[unit] N.º { $number } ({ $severity }) no está reparada: { $title }. { $remedy }
}
turnover-standing-open = { $where ->
    [place] N.º { $number } en { $place } ({ $severity }) está abierta: { $title }. { $remedy }
   *[unit] N.º { $number } ({ $severity }) está abierta: { $title }. { $remedy }
}
turnover-standing-repaired = { $where ->
    [place] N.º { $number } en { $place } ({ $severity }) está reparada, pero falta revisarla otra vez: { $title }. { $remedy }
   *[unit] N.º { $number } ({ $severity }) está reparada, pero falta revisarla otra vez: { $title }. { $remedy }
}
turnover-never-waived = Nunca se dispensa: anote la reparación y que pase su segunda revisión. Hasta entonces la unidad queda fuera de servicio.
turnover-note-repair = Primero anote la reparación.
turnover-let-pass = Que pase su segunda revisión, o que un administrador la dispense hasta un día.
turnover-waiver-ended = Su dispensa hasta { $day } ya no cubre la entrada. Que pase su segunda revisión, o que un administrador la dispense hasta un día.
turnover-short-unrepaired = N.º { $number }, { $severity }, sin reparar
turnover-short-open = N.º { $number }, { $severity }, abierta
turnover-short-recheck = N.º { $number }, { $severity }, por revisar otra vez

## El acta firmada

turnover-record-kept = Número { $number }, guardada { $kept } exactamente como se firmó.
turnover-open-record = Abrir el acta
turnover-record-pdf = Acta como PDF
turnover-copy = Copia para el hogar
turnover-copy-pdf = Copia como PDF
turnover-photos = Fotos
turnover-photo = Foto
turnover-photos-to-come = { $count } por llegar. Cada una se encuentra por el SHA-256 con el que su teléfono la anunció, que está en el acta.
turnover-photo-here = tomada { $taken }, recibida { $received }
turnover-photo-after = tomada { $taken }, recibida { $received }, después de la firma
turnover-photo-to-come = tomada { $taken }, por llegar
turnover-photo-refused = tomada { $taken }, no se pudo aceptar: { $why }
turnover-sum-kept = SHA-256 como se guardó
turnover-sum-announced = SHA-256 como se anunció
turnover-sums = SHA-256 de cada archivo
turnover-sums-how = Quien recibió un archivo puede compararlo con estos; esta orden compara todo con lo guardado:
turnover-sum-page = El acta como página
turnover-sum-pdf = El PDF
turnover-sum-copy = La copia del hogar
turnover-sum-copy-pdf = La copia del hogar como PDF
turnover-sum-manifest = La lista de aquello con que se hicieron (el manifiesto); está impresa en ellos

## Registrar

record-unit = Registrar, unidad { $unit }
record-at = Registrar, { $place }
record-no-room = Sin cuarto nombrado
record-recheck-of = segunda revisión de la deficiencia { $number }
record-none = Hoy no se puede hacer ninguna revisión aquí.
record-none-how = Lo que todavía no toca se puede registrar en la página de su aparato.
record-to-fixtures = A la unidad y sus aparatos
record-none-of-fixture = Hoy no se puede hacer ninguna revisión de este aparato.
record-later = Todavía no toca
record-later-how = Se puede registrar de todos modos; la fecha se mueve con ello.
record-another-time = Se hizo en otro momento
record-done-at = Hecho el
record-done-at-hint = Como 2026-11-24 14:30, con el reloj del edificio. Vacío: se hizo ahora.
record-answered = { $done } de { $all } respondidas
record-results-button = Registrar resultados
record-not-due-where = Lo que todavía no toca se registra en la página de su aparato: elija su etiqueta.
record-report = Hay otra cosa mal: anotar un reporte
record-leak-points = Puntos de fuga
record-all-pass = Todas estas pasan
record-all-pass-but-readings = Todas estas pasan, menos las lecturas
record-all-pass-hint = Miré cada una. Responda abajo la excepción; vale por sí misma.
record-done-by = lo hace: { $who }
record-how = Cómo
record-pass = pasa
record-opens-deficiency = abre una deficiencia
record-could-not = No se pudo revisar, porque…
record-say-why = diga por qué
record-passes = Pasa { $limit }
record-fails-without = Falla, sin una cifra
record-say-what = diga qué vio
record-note-what = anote qué vio
record-choose-or-write = elija uno o escríbalo
record-add-note = Agregar una nota
record-the-reading = Registrar la lectura
record-missed = Registrar que no se pudo revisar
record-refused = { $place }, { $check }: { $what }.
record-results = { $count ->
    [one] { $number } resultado registrado
   *[other] { $number } resultados registrados
}
record-opened = Abiertas
record-failed-again = Fallaron otra vez
record-closed = Cerradas
record-deficiency = Deficiencia { $number }
record-place = Lugar
record-answers = Respuestas
record-answer = Respuesta
record-next = Sigue
record-done-caption = Respuestas y cuándo toca otra vez cada revisión
record-not-asked = ningún calendario la pide
record-still = todavía { $due }
record-failed-next = deficiencia { $number }, { $until }; la revisión { $check }
record-back-to-visit = Volver a la visita
record-back-to-turnover = Volver al cambio de inquilino
record-what-else = Qué más se puede hacer aquí
record-to-unit = A la unidad

## Planear una visita

plan-head = Planear una visita, unidad { $unit }
plan-which-unit = ¿Para qué unidad es?
plan-go-on = Seguir
plan-back = Volver a las visitas
plan-back-to-unit = Volver a la unidad
plan-it = Planear la visita
plan-planned = Visita planeada para { $day }.
plan-already = Ya hay una visita planeada para { $day }: número { $visit }, { $state }.
plan-notice = { $building } pide avisar con { $hours } h: si avisa ahora, no entre antes de { $day }, { $time }.
plan-when-and-who = Cuándo y quién
plan-day = Día
plan-technician-hint = Quien trabaja en este edificio
plan-earlier = Antes de lo avisado, porque
plan-earlier-hint = Solo si es antes: el hogar aceptó, o no puede esperar
plan-what = Qué hacer ahí
plan-no-check = Ahí no se puede hacer ninguna revisión ahora.
plan-everything = Toda revisión que se puede hacer ahora
plan-one-by-one = Elegir revisión por revisión
plan-open-caption = Revisiones que se pueden hacer ahora, en el orden del recorrido
plan-later = Lo que se abre después
plan-later-caption = Revisiones cuyo plazo se abre después, primero la próxima
plan-choose = Elegir
plan-choose-check = Elegir { $check }, { $place }
plan-choose-repair = Elegir { $what }
plan-deficiencies = Deficiencias abiertas
plan-note = Nota para quien vaya
plan-note-hint = Dónde está la llave, cuándo venir
plan-nobody-lives = Hoy no vive ningún hogar aquí.

## En una unidad ahora

now-head = Ahora en la unidad { $unit }
now-nothing = Hoy no se puede hacer ninguna revisión aquí, y no hay nada que reparar.
now-nothing-how = Una sola revisión se puede registrar en la página de su aparato, se haya hecho cuando sea.
now-planned = planeada para { $day }. Se le agrega lo que se puede hacer desde entonces.
now-go-on = Seguir con la visita
now-start = Empezar la visita y registrar
now-open = { $count ->
    [one] Su visita está abierta: { $number } cosa por hacer.
   *[other] Su visita está abierta: { $number } cosas por hacer.
}
now-checks = Revisiones que se pueden hacer hoy
now-caption = En el orden del recorrido
now-window = Plazo, con hoy marcado
now-repairs = Por reparar o revisar otra vez
now-repairs-caption = Deficiencias que hay aquí

## El reporte de un residente

report-head = El reporte de un residente, unidad { $unit }
report-title = Reporte, unidad { $unit }
report-first = Primero
report-say-so = Dígaselo a quien lo reporta y luego siga aquí.
report-numbers = Números a los que llamar, y qué hacer si hay chispas, aguas negras o inundación
report-what-hint = En una línea, como: Agua debajo del fregadero
report-no-place = ningún lugar nombrado
report-how-grave = Qué gravedad
report-how-grave-hint = De ella depende el plazo para corregir. En la duda, la más grave.
report-life-threatening = Peligro de vida: gas, cables desnudos, sin alarma de humo o de monóxido de carbono, el único inodoro fuera de uso
report-severe = Grave: aguas negras, sin agua caliente, la única tina o regadera fuera de uso
report-moderate = Moderada: una fuga, un desagüe que no desagua, un aparato flojo
report-low = Leve: dañado, pero funciona
report-detail = En palabras del residente
report-detail-hint = Nada de salud, llaves ni códigos de alarma
report-take-down = Anotar el reporte
report-taken-down = Reporte anotado. Diga quién se encarga.

## Lo que se rechaza: de cambios de inquilino

sentence-move-in = Entrada
sentence-move-out = Salida
sentence-note = Nota
sentence-name = Nombre
sentence-why-may-stand = Por qué puede quedar
sentence-why-cancelled = Por qué se cancela
sentence-last-day-of-waiver = El último día de la dispensa
sentence-day-empty = { $label }: está vacío. Dé el día, como { $day }; basta una buena estimación.
sentence-day-bad = { $label }: «{ $given }» no es una fecha. Escriba año-mes-día, como 2026-02-03.
sentence-day-early = { $label }: { $day } es antes de { $earliest }. Déjelo vacío si no se sabe.
sentence-day-late = { $label }: { $day }, { $why }. Dé un día hasta { $latest }.
sentence-year-ahead = eso es más de un año adelante
sentence-year-after = eso es más de un año después de la entrada
sentence-in-before-out = La entrada { $in } es antes de la salida { $out }. Dé el mismo día o uno posterior.
sentence-in-past = La entrada { $in } ya pasó. Dé el día en que entra el siguiente hogar, { $today } o después.
sentence-long = { $label }: tiene { $length } caracteres y caben { $most } como máximo. Acórtelo en { $over }.
sentence-one-line = { $label }: debe ser una línea, sin tabuladores ni otros caracteres de control.
sentence-control = { $label }: hay un carácter de control. Escríbalo sin él.
sentence-unit-fill-in = Unidad: complete este campo, como en la puerta.
sentence-building-no-unit = { $building } no tiene la unidad «{ $label }». Escríbala como en la puerta; la página del edificio las enumera.
sentence-common-area = Nadie entra ni sale de un área común. Elija una unidad para el cambio de inquilino.
sentence-turnover-open = El cambio de inquilino { $number } de la unidad { $unit } está abierto, con la entrada el { $in }. Siga con él, o cancélelo primero.
sentence-nobody-on-record = No consta que alguien viva ahí hasta { $out }. Deje sin marcar «anotar la salida».
sentence-turnover-closed = Este cambio de inquilino está cerrado, y su acta queda como se firmó. Abra uno nuevo en la próxima salida.
sentence-turnover-cancelled = Este cambio de inquilino se canceló. Abra uno nuevo para la unidad.
sentence-turnover-closed-record = Este cambio de inquilino está cerrado, y su acta queda como se firmó. Registre en la página de la unidad.
sentence-reached-by-closing = Ocupada se alcanza al cerrar: cierre el cambio de inquilino con un nombre firmado cuando esté lista.
sentence-next-stage = La etapa siguiente es reparada o lista. Para dejar un cambio de inquilino, cancélelo.
sentence-repaired-first = Reparada va antes que lista: dé primero ese paso.
sentence-only-ready-closed = Está en la etapa «{ $stage }», y solo se cierra una unidad lista. Dé antes los pasos que faltan.
sentence-stage-found = como se encontró
sentence-stage-repaired = reparada
sentence-waiver-day-empty = El último día de la dispensa está vacío. Dé uno, { $first } o después.
sentence-waiver-day-early = El último día de la dispensa, { $day }, es antes de { $than }. Dé { $first } o después.
sentence-the-move-in-on = la entrada el { $day }
sentence-today-on = hoy, { $day }
sentence-closed-not-waived = La n.º { $number } está cerrada, así que no hay nada que dispensar.
sentence-life-never-waived = La n.º { $number } es un peligro de vida, y eso nunca se dispensa. Repárela y que pase su segunda revisión; hasta entonces la unidad queda fuera de servicio.
sentence-needs-no-waiver = La n.º { $number } es { $severity }; no impide que una unidad esté lista, así que no necesita dispensa. Sigue abierta.
sentence-waived-already = La n.º { $number } ya está dispensada; no se cambió nada.
sentence-such-deficiency-in-unit = tal deficiencia en esta unidad
sentence-record-yet = acta de este cambio de inquilino todavía; se hace al cerrarlo
sentence-only-managers = Solo un administrador puede { $what }. Pida ayuda al administrador del edificio.
sentence-only-staff = Solo administradores y técnicos pueden { $what }. Pida ayuda al administrador del edificio.
sentence-may-waive = dispensar una deficiencia
sentence-may-note-move-out = anotar una salida
sentence-may-turnover = trabajar en un cambio de inquilino
sentence-may-record = registrar resultados y deficiencias
sentence-may-visit = planear y cerrar visitas

## Lo que se rechaza: de respuestas

sentence-nothing-answered-yet = Todavía no hay ninguna respuesta. Responda lo que miró; lo que queda abierto sigue pendiente.
sentence-note-without-answer = Aquí hay una nota, pero ninguna respuesta. Responda si pasa o falla, o diga por qué no se pudo revisar.
sentence-missed-with-reading = está marcada como no revisada, pero hay una lectura «{ $reading }»; responda con la lectura, o quítela
sentence-reading-of-verdict = «{ $reading }» es una lectura, pero esta revisión pide pasa o falla; ponga la cifra en la nota
sentence-nothing-entered = no se escribió nada; escriba un valor como { $example }
sentence-unreadable = «{ $given }» no se puede leer como valor; escriba uno como { $example }
sentence-unknown-unit = «{ $word }» en «{ $given }» no es una unidad conocida; escriba una de { $units }
sentence-wrong-quantity = «{ $given }» no es lo que se pide: es { $found } y se pide { $wanted }; escriba un valor en { $units }
sentence-ambiguous-comma = «{ $given }» se puede leer de dos maneras; escríbalo con punto decimal, o sin la coma
sentence-below-zero = «{ $given }» es menos que cero; escriba 0 o más
sentence-divides-by-zero = «{ $given }» divide por cero; corrija la fracción
sentence-out-of-range = «{ $given }» es más grande o más fino de lo que se puede medir; revise las cifras y la unidad
sentence-not-exact = «{ $given }» no es una longitud exacta; escríbala en dieciseisavos, en decimales o en milímetros
sentence-length = longitud
sentence-time = tiempo
sentence-volume = volumen
sentence-flow = caudal
sentence-pressure = presión
sentence-temperature = temperatura
sentence-count = cantidad
sentence-percentage = porcentaje
sentence-too-many-characters = { $length } caracteres son demasiados para un texto; no pase de { $most }
sentence-done-ahead = dice que se hizo el { $given }, pero aquí son las { $now }; corrija la hora o el reloj
sentence-before-joined = dice que se hizo el { $given }, antes de que el edificio se uniera el { $joined }; corrija la fecha, o impórtela como última vez
sentence-before-stood = dice que se hizo el { $given }, pero este aparato consta aquí desde { $from }; corrija una de las dos fechas
sentence-done-at = «{ $given }» { $what }. Escríbala como 2026-11-24 14:30, con el reloj del edificio.
sentence-is-no-instant = no es una fecha con hora
sentence-is-no-date = no es una fecha con hora
sentence-was-skipped = no existió: el reloj se adelantó
sentence-record-what-stands = { $place }: { $state }; ya no se registra nada ahí. Registre en lo que hay ahora.
sentence-has-no-part = { $place }: no consta { $part }. Agregue primero la pieza, o deje esta revisión.
sentence-visit-cancelled = Esta visita se canceló. Haga una nueva, o registre en la página de la unidad.
sentence-such-question = tal pregunta
sentence-such-record = tal registro de respuestas
sentence-such-turnover-of-unit = tal cambio de inquilino de esta unidad
sentence-such-visit-of-unit = tal visita de esta unidad
sentence-id-taken = La identificación { $id } ya está tomada. Registre con una nueva.

## Lo que se rechaza: de visitas y reportes

sentence-unit-first = Elija primero una unidad; luego planee la visita.
sentence-visit-day-empty = Día: está vacío. Délo como 2026-11-25.
sentence-cant-be-read = «{ $given }» no se puede leer. Dé { $wanted }.
sentence-day-as = { $label } como año-mes-día, por ejemplo 2026-11-25
sentence-day = Día
sentence-technician-of-list = un técnico de la lista
sentence-building-choose = Edificio: elija aquel en que está la unidad.
sentence-no-unit-label = { $building } no tiene la unidad { $label }. Escríbala como en la puerta.
sentence-day-passed = { $day } ya pasó. Elija { $today } o un día posterior.
sentence-day-far = { $day } queda a más de { $days } días. Elija { $farthest } o un día anterior.
sentence-notice = { $building } pide avisar con { $hours } h; no entre antes de { $day }, { $time }. Elija un día posterior, o diga por qué es antes.
sentence-technician-elsewhere = Este técnico no trabaja en { $building }. Elija uno de la lista.
sentence-nothing-chosen = No se eligió nada. Elija al menos una revisión o deficiencia.
sentence-some-not-due = Algo de lo elegido ya no toca en esta unidad. Mire la lista otra vez.
sentence-text-too-long = { $label }: tiene { $length } caracteres. No pase de { $most }.
sentence-the-reason = El motivo
sentence-visit-closed = La visita { $visit } ya está cerrada como «{ $state }». Planee otra si alguien tiene que volver.
sentence-nothing-in-unit = Hoy no se puede hacer ninguna revisión en la unidad { $unit } y no hay nada que reparar. Registre una sola revisión en la página de su aparato.
sentence-no-row-ticked = No hay ninguna fila marcada. Vuelva, marque las revisiones de una unidad, y entonces haga la visita.
sentence-rows-in-units = Las filas marcadas son de { $count } unidades: { $units }. Una visita es a una sola unidad: vuelva y marque las filas de una.
sentence-report-what = Qué está mal: complete este campo, como «Agua debajo del fregadero».
sentence-report-long = { $length } caracteres son demasiados aquí. No pase de { $most }.
sentence-report-grave = Gravedad: elija una. En la duda, la más grave.
sentence-such-place-in-unit = tal lugar en esta unidad
