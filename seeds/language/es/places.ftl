# Dónde están las cosas y cuándo tocan: la lista de pendientes, la carga del año, edificios, unidades, revisiones.

## Meses, días de la semana, edades

month-name-1 = enero
month-name-2 = febrero
month-name-3 = marzo
month-name-4 = abril
month-name-5 = mayo
month-name-6 = junio
month-name-7 = julio
month-name-8 = agosto
month-name-9 = septiembre
month-name-10 = octubre
month-name-11 = noviembre
month-name-12 = diciembre
months-to = { $first } a { $last }
months-and = { $first } y { $last }
weekday-name-1 = lunes
weekday-name-2 = martes
weekday-name-3 = miércoles
weekday-name-4 = jueves
weekday-name-5 = viernes
weekday-name-6 = sábado
weekday-name-7 = domingo
weekday-every = Todos los días
weekdays-to = { $first } a { $last }
calendar-public-holidays = { $count ->
    [one] { $number } feriado
   *[other] { $number } feriados
}
calendar-shut-downs = { $count ->
    [one] { $number } período de cierre
   *[other] { $number } períodos de cierre
}
figures-day-of-month = { $day } { $month }
age-days = { $count ->
    [one] { $count } día
   *[other] { $count } días
}
age-months = { $count ->
    [one] { $count } mes
   *[other] { $count } meses
}
age-years = { $count ->
    [one] { $count } año
   *[other] { $count } años
}
age-month-of-year = { $month } { $year }

## Por qué se movió una fecha

moved-from = movida del { $day }: { $why }
moved-nobody-lived = nadie vivía ahí
moved-out-of-season = fuera de temporada ({ $season })
moved-closed = cerrado
moved-then = { $first }, luego { $then }
moved-no-working-day = no es día de trabajo
moved-public-holiday = feriado { $name }
moved-shut-down = período de cierre { $name }
window-days = se abre { $opens }, toca { $due }, último día { $last }

## La lista de pendientes

due-overdue = con atraso
due-due = por hacer
due-in-window = en plazo
due-later = más adelante
due-every-state = todas
due-head-overdue = Atraso
due-head-due = Por hacer
due-head-in-window = En plazo
due-label-in-window = En plazo
due-number-overdue = { $number } con atraso
due-number-due = { $number } por hacer
due-number-in-window = { $number } en plazo
due-none = ninguna
due-in-buildings = { $count ->
    [one] en { $number } edificio
   *[other] en { $number } edificios
}
due-tallies = Cuántas por edificio
due-tallies-worst-first = Cuántas por edificio, primero los de más atraso
due-tallies-caption = Lo que se puede hacer hoy, por edificio
due-tallies-of = Los { $shown } edificios con más atraso, de { $all }.
due-every-building = Todos los edificios
due-can-be-done = se pueden hacer hoy
due-code-of-building = código
due-order = Orden
due-most-overdue-first = primero lo más atrasado
due-by-building = por edificio
due-more-filters = Más filtros
due-fixture = Aparato
due-schedule = Calendario
due-unassigned = sin asignar
due-somebody-who-left = alguien que ya no está
due-empty = Aquí no hay nada pendiente.
due-empty-how = Una revisión aparece aquí desde el día en que se abre su plazo. Amplíe el filtro o mire lo que se abre más adelante.
due-every-state-link = Todas las situaciones
due-items = Revisiones pendientes
due-select = Marcar
due-select-every-row = Marcar todas las filas de esta página
due-select-row = Marcar { $row }
due-none-selected = ninguna marcada
due-selected = marcadas: { $number }
due-window = Plazo, con hoy marcado
due-record = Registrar
due-make-visit = Hacer una visita con lo marcado
due-download = Descargar como CSV
due-print = Imprimir
due-first-rows-of = Las primeras { $rows } de { $all }
due-rows-of = { $rows } filas en esta página, { $all } en total
due-rows-on-page = { $count ->
    [one] { $number } fila en esta página
   *[other] { $number } filas en esta página
}
due-rows = { $count ->
    [one] { $number } fila
   *[other] { $number } filas
}

## La carga del año

load-title = Carga
load-head = Carga del año
load-is = Lo que toca cada semana si cada revisión se hace el día en que toca, y lo que hoy ya pasó de ese día.
load-everybody = Todos
load-nobody = Sin nombre asignado
load-said = { $checks } revisiones, { $year } horas al año, { $busiest } horas en la semana más cargada
load-week-by-week = Semana por semana
load-caption = { $name }, semana por semana
load-week-of = Semana del
load-checks = Revisiones
load-hours = Horas
load-how = Una barra por semana. Un técnico hace revisiones durante { $hours } horas por semana (práctica común, sin fuente), sin contar traslados ni reparaciones; para todos, eso por tantos como haya con nombre. Es la línea punteada cuando una semana se le acerca; lo que pasa de ahí va rayado.

## Edificios

buildings-count = { $count ->
    [one] { $number } edificio
   *[other] { $number } edificios
}
buildings-of = { $count ->
    [one] { $shown } de { $number } edificio
   *[other] { $shown } de { $number } edificios
}
buildings-empty = Aquí todavía no hay ningún edificio.
buildings-empty-how = Agregue uno a mano, o traiga toda la flota de una hoja de cálculo.
buildings-import = Importar una flota
buildings-none-assigned = Todavía no tiene ningún edificio asignado.
buildings-none-assigned-how = Pida al administrador que le deje ver los edificios en los que trabaja.
buildings-caption = Edificios por código
buildings-units = Unidades
buildings-add = Agregar un edificio
buildings-add-portfolio = Agregar una cartera
buildings-download = Descargar la flota como CSV
buildings-change = Cambiar { $name }

building-code = Código
building-portfolio = Cartera
building-address = Dirección
building-code-profile = Perfil de código
building-profile-dwelling = ADA, 604, viviendas
building-profile-own = Solo límites propios
building-lengths = Longitudes en
building-working-days = Días de trabajo
building-joined = Se incorporó
building-built = Construido
building-base-joint = Junta de la base
building-head-floor = Piso
building-head-riser = Columna
building-head-occupancy = Ocupación
building-head-fixtures = Aparatos
building-head-deficiencies = Deficiencias
building-head-worst = Peor
building-floors = { $count ->
    [one] { $number } piso
   *[other] { $number } pisos
}
building-fixtures = { $count ->
    [one] { $number } aparato
   *[other] { $number } aparatos
}
building-no-unit = Este edificio todavía no tiene unidades.
building-no-unit-add = Agregue la primera a mano, o tráigalas todas de una hoja de cálculo.
building-no-unit-ask = Pida al administrador que agregue sus unidades.
building-import = Importar unidades y aparatos
building-overdue-then = con atraso entonces
building-due-then = por hacer entonces
building-in-window-then = en plazo entonces
building-open-then = deficiencias abiertas entonces
building-open = deficiencias abiertas
building-open-leaks = Fugas abiertas
building-add-unit = Agregar una unidad
building-change = Cambiar el edificio
building-calendar = Días de trabajo y feriados
building-terms = Condiciones
building-labels = Etiquetas
building-score = Puntaje
building-forecast = Pronóstico
building-street = Desde la calle
building-as-of = En la fecha
building-past = Un día pasado, calculado con lo que hoy se sabe de calendarios y revisiones. La ocupación es la de hoy.
building-legend = Cuanto más denso el rayado, más grave la peor deficiencia abierta; un marco grueso es peligro de vida. El número cuenta deficiencias y revisiones con atraso. Con puntos: no se conoce ningún aparato.
building-units-of = Unidades de { $name }
building-facts = El edificio

## Un edificio desde la calle

front-danger = peligro
front-over = { $number } atraso
front-empty = vacía
front-worst = { $building } desde la calle; lo peor es { $severity } en { $unit }
front-none-open = { $building } desde la calle; ninguna deficiencia abierta
front-riser = columna { $riser }: deficiencias en { $wrong } de { $floors } pisos

## Unidades

units-heading = Unidad { $unit }
units-floor = piso { $floor }
units-riser = columna { $riser }
units-common-area = área común
units-not-known = no se sabe
units-not-noted = sin anotar
units-about = hacia { $month }
units-now = Estoy en esta unidad ahora
units-report = Avisar de un problema
units-to-turnover = Ir al cambio de inquilino
units-start-turnover = Empezar un cambio de inquilino
units-due-here = Pendiente aquí
units-none-today = Hoy no se puede hacer ninguna revisión.
units-due-caption = Revisiones que se pueden hacer hoy
units-later = { $count ->
    [one] { $number } revisión viene después; el próximo plazo se abre { $day }, { $distance }.
   *[other] { $number } revisiones vienen después; el próximo plazo se abre { $day }, { $distance }.
}
units-open-deficiencies = Deficiencias abiertas
units-none-open = Ninguna está abierta.
units-deficiencies-caption = Deficiencias abiertas, primero la más grave
units-number = Número
units-deadline-past = { $moment }, ya pasó
units-deficiency-closed = cerrada { $day }: { $how }
units-fixtures = Aparatos, en el orden del recorrido
units-no-fixture = Aquí todavía no hay ningún aparato.
units-no-fixture-add = Agregue lo que hay en cada cuarto; sus revisiones quedan pendientes por sí solas.
units-no-fixture-ask = Pida al administrador que agregue lo que hay en cada cuarto.
units-fixtures-caption = Aparatos por cuarto
units-tag = Etiqueta
units-kind = Clase
units-maker = Marca
units-maker-and-model = Marca y modelo
units-installed = Instalado
units-parts = Piezas
units-no-room = Sin cuarto
units-empty-places = Lugares que están vacíos
units-stood = , donde hubo { $kind }
units-add-fixture-at = Agregar un aparato en { $tag }
units-add-fixture = Agregar un aparato
units-rooms = Cuartos y su orden
units-change = Cambiar la unidad
units-no-household = Hoy no vive ningún hogar aquí.
units-common-area-nobody = Un área común: nadie vive aquí.
units-households = Hogares
units-none-noted = No hay ninguno anotado.
units-add-household = Agregar un hogar
units-lived = { $since } a { $until }
units-lives-since = desde { $since }

## Revisiones

checks-are = Lo que se puede mirar, probar o medir, por clase de aparato. Cada límite y cada gravedad dice de dónde viene.
checks-add-own = Agregar una revisión propia
checks-all-values = Todos los valores y sus fuentes
checks-from = De
checks-anywhere = cualquier origen
checks-none-such = No hay tal revisión.
checks-none-such-how = Agregue una propia, o copie una de fábrica y cambie la copia.
checks-every = Todas las revisiones
checks-caption = Revisiones por clase de aparato
checks-group = Grupo
checks-answer = Respuesta
checks-who = Quién
checks-mark-own = propia
checks-mark-several-kinds = de varias clases
checks-mark-off = apagada hasta que se elija
checks-mark-withdrawn = retirada
checks-pass-or-fail = pasa o falla
checks-any-value = { $of }, cualquier valor
checks-limit-by-profile = { $of }, límite según el perfil de código
checks-every-profile = todos los perfiles
checks-own-version = Propia, versión { $version }
checks-own-version-then = Propia, versión { $version }: como se pedía entonces
checks-built-in-version = De fábrica, versión { $version }
checks-built-in-version-then = De fábrica, versión { $version }: como se pedía entonces
checks-as-now = como es ahora
checks-gas-smell = Olor a gas
checks-how = Cómo
checks-passes = Pasa
checks-fails = Falla
checks-reading = { $of }, en { $unit }
checks-any-value-is-kept = Cualquier valor es una respuesta; se guarda como constancia.
checks-limits = Límites, cada uno inclusive
checks-limit = Límite
checks-under = Según
checks-source = Fuente
checks-in-short = En breve
checks-asked-of = Se pide de
checks-who-may = Quién puede hacerla
checks-severity-of-failure = Gravedad de una falla
checks-severity-only-one = { $severity }, { $other } si la unidad no tiene otro
checks-severity-common-area = { $severity }, { $other } en un área común
checks-in-a-turnover = En un cambio de inquilino
checks-only-in-buildings = Solo en edificios
checks-at-least-years = de { $years } años o más, o de edad desconocida; { $source }
checks-only-base-joint = Solo donde la junta de la base está
checks-method-from = Método de
checks-schedules = Calendarios que la piden
checks-no-schedule = Ninguno.
checks-off = apagado
checks-versions = Versiones
checks-since = desde { $day }
checks-copy-as-own = Copiar como propia
checks-copy-how = La copia es suya y puede cambiarla. Ninguna actualización nuestra la toca, y los calendarios siguen pidiendo esta.
checks-copy-code = Código de la copia
checks-copy-code-hint = Letras minúsculas, cifras y guiones bajos
checks-copy = Copiar la revisión
checks-change = Cambiar la revisión
checks-offer = Ofrecerla otra vez
checks-withdraw = Retirarla de calendarios nuevos

## Fugas abiertas de un edificio

leaks-title = Agua perdida, { $building }
leaks-none-measured = sin medir
leaks-none-open = Aquí no hay ninguna fuga abierta.
leaks-none-open-how = Una revisión que falló y pierde agua queda aquí hasta que esté bien, con lo que pierde cuando alguien lo haya medido.
leaks-to-deficiencies = Deficiencias del edificio
leaks-caption = Fugas abiertas, primero la que más pierde
leaks-of-number = , número { $number }
leaks-all-measured = Todas las medidas
leaks-left-out = Una fuga reparada que espera su segunda revisión no se cuenta. Las convenciones de un goteo difieren hasta en la mitad; por eso cada cifra nombra la suya.
leaks-no-price = Este edificio no tiene precio del agua.
leaks-price = Precio: { $tariff }.
leaks-set-price = Poner lo que cuesta el agua aquí
sentence-tariff = { $water } de agua y { $sewer } de drenaje, { $currency } por { $unit }

## Lo que pide la dirección de una lista y no hay

sentence-such-version = tal versión
sentence-such-version-of-check = tal versión de esta revisión
sentence-no-order = «{ $given }» no es un orden de esta lista; es uno de last_day, building.
sentence-no-place-in-list = La dirección no dice dónde empieza la página. Regrese a las primeras filas de la lista.
sentence-no-state = «{ $given }» no es una situación; es una de overdue, due, in_window, later, all.
sentence-no-check = No hay ninguna revisión «{ $given }». Elija una de la lista.
sentence-no-schedule = No hay ningún calendario «{ $given }». Elija uno de la lista.
sentence-no-technician = El filtro «technician» no nombra a nadie conocido. Elija uno de la lista.
