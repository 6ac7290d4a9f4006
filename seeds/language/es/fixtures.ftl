# Deficiencias, agua, aparatos y sus piezas, lo que se mide en ellos, y el camino del síntoma a la causa.

## Deficiencias

deficiency-title = { $check }: { $seen }
deficiency-number = Deficiencia { $number }
deficiency-number-short = N.º { $number }
deficiency-closed-at = cerrada { $moment }
deficiency-reported = reportada
deficiency-by-vendor = { $vendor } (contratista con licencia)
deficiency-repeats = repite la
deficiencies-are = Primero la del plazo más cercano. Solo se cierra con una segunda revisión que pasó.
deficiencies-open-leaks = Fugas abiertas
deficiencies-not-closed = sin cerrar
deficiencies-every-state = Todas las situaciones
deficiencies-of-nobody = Nadie todavía
deficiencies-of-vendor = Un contratista con licencia
deficiencies-none = Aquí no hay ninguna deficiencia.
deficiencies-none-how = La abriría una revisión que falló o un reporte de un residente. Amplíe el filtro para ver las cerradas.
deficiencies-caption = Deficiencias por plazo
deficiencies-no = N.º
deficiencies-what = Qué
deficiencies-sees-to-it = La atiende
deficiencies-csv = Descargar como CSV
deficiencies-print = Imprimir
deficiencies-on-page = { $count ->
    [one] { $number } deficiencia en esta página
   *[other] { $number } deficiencias en esta página
}
deficiency-repeated = Repetida:
deficiency-repeated-as = se había cerrado en los doce meses anteriores como
deficiency-number-word = número { $number }
deficiency-find-cause = Buscar la causa
deficiency-points = { $points }.
deficiency-found-by = La encontró
deficiency-since = Desde
deficiency-part = Pieza
deficiency-repaired = Reparada
deficiency-parts-used = Piezas usadas
deficiency-work = Trabajo
deficiency-cost = Costo
deficiency-cost-as = Como 84.50
deficiency-closed = Cerrada
deficiency-closed-how = { $moment }. { $how }
deficiency-happened = Qué pasó
deficiency-command-line = línea de comandos
deficiency-add-note = Agregar una nota
deficiency-add-the-note = Agregar la nota
deficiency-note-added = Nota agregada.
deficiency-who-sees = Quién la atiende
deficiency-licensed-people = El gas, los ductos de gases, la electricidad, los dispositivos antirreflujo y el drenaje son para personas con licencia.
deficiency-vendor-below = un contratista con licencia, nombrado abajo
deficiency-vendor = Contratista con licencia
deficiency-vendor-hint = Si la atiende un contratista con licencia
deficiency-assign = Asignar
deficiency-assigned = Asignada.
deficiency-repair = Reparación
deficiency-repair-note = Nota sobre la reparación
deficiency-note-repair = Anotar la reparación
deficiency-repair-noted = Reparación anotada. Se cierra cuando pase la segunda revisión.
deficiency-recheck = Volver a revisar
deficiency-look-again = Mire lo que estaba mal: ¿ya está bien?
deficiency-recheck-hint = Si pasa, se cierra; si falla, se le agrega.
deficiency-note-seen = anote lo que vio
deficiency-could-not = No se pudo revisar, porque…
deficiency-say-why = diga por qué
deficiency-closes-it = la cierra
deficiency-still-open = sigue abierta
deficiency-right-now = Ya está bien
deficiency-still-wrong = Sigue mal
deficiency-by-reading = Pasa por su lectura
deficiency-fails-bare = Falla, sin cifra
deficiency-choose-reason = elija uno, o escríbalo
deficiency-recheck-note = Nota sobre la segunda revisión
deficiency-record-recheck = Registrar la segunda revisión
deficiency-passed = Pasó la segunda revisión. Está cerrada.
deficiency-failed-again = Volvió a fallar. Sigue abierta.
deficiency-not-checked = Se anotó que no se pudo revisar. Queda como estaba.

## Lo que se guardó de una deficiencia y se lee de nuevo

sentence-practice-none = práctica común, sin fuente
sentence-practice = práctica común: { $what }
sentence-computed = calculado: { $what }
sentence-from-memory = { $what }, de memoria
sentence-under = { $reading } está por debajo de { $limit } ({ $source })
sentence-over = { $reading } pasa de { $limit } ({ $source })
sentence-without-reading = falló sin lectura, vea la nota
sentence-still-wrong = Sigue mal.
sentence-right-again = Se volvió a mirar y está bien.
sentence-to-nobody = A nadie por ahora.
sentence-to-vendor = Al contratista con licencia { $vendor }.
sentence-nothing-noted = Nada anotado de piezas, tiempo o costo.
event-repeats = { $title }. Repite la número { $number }.
event-repeats-graver = { $title }. Repite la número { $number }: por ser la segunda vez es { $grade } en lugar de { $first }.
event-reported = Reportada: { $title }
event-passed = Pasó: { $check }.
event-missed = No se pudo volver a revisar: { $why }
event-to = A { $name }.
event-parts = Piezas: { $parts }.
event-cost = Costo { $cost }.
sentence-moved-from = Se movió con el aparato desde { $place }.
event-found = { $symptom }: { $cause }.

## Agua perdida

water-measured-leaks = { $count ->
    [one] { $number } fuga medida pierde { $volume } al día.
   *[other] { $number } fugas medidas pierden { $volume } al día.
}
water-week-costs = Esperar una semana cuesta { $cost }.
water-not-measured = { $count ->
    [one] { $number } fuga está sin medir.
   *[other] { $number } fugas están sin medir.
}
water-without-tariff = { $count ->
    [one] { $number } fuga medida está en edificios sin precio del agua.
   *[other] { $number } fugas medidas están en edificios sin precio del agua.
}
water-under-tenth = menos de 0.1
water-a-day = { $volume } al día
water-span-day = Un día
water-span-week = Una semana
water-span-month = Un mes de 30 días
water-until-visit = Hasta la próxima visita
water-until-check = Hasta la próxima revisión
water-found = Lo que se encontró
water = Agua
water-nobody-measured = Nadie ha medido lo que pierde.
water-reckoned-by = Calculado por: { $convention }.
water-where-from = De dónde viene
water-measure-leak = Medir la fuga
water-measure-again = Medir otra vez
water-lost = Agua perdida
water-lost-title = Agua perdida, deficiencia { $number }
water-what-it-loses = Lo que pierde
water-over = En
water-costs = Cuesta
water-no-price = sin precio
water-conventions-differ = Calculado por: { $convention }. Las convenciones difieren hasta en la mitad; por eso cada cifra dice la suya.
water-measure-it = Medirla
water-measure-it-again = Medirla otra vez
water-ways = Maneras de medir
water-reckoned = Calculado por
water-convention-hint = Cuántas gotas hacen un galón; las fuentes difieren
water-keep = Guardar la medición
water-closed = Está cerrada y ya no pierde nada.
water-so-far = Medido hasta ahora
water-measurements = Mediciones, primero la última
water-how = Cómo
water-as-typed = Como se escribió
water-loses = Pierde
water-a-minute = por minuto
water-measured = Medido: { $gallons } gal al día, { $litres } L.
water-number = Número { $number }
sentence-water-lost = Agua perdida: { $gallons } gal al día ({ $litres } L). { $typed }; { $convention }.
sentence-convention-of = { $convention } ({ $source })
sentence-volume-over-time = volumen por tiempo
sentence-drips-given = { $number } gotas por galón, según se indicó
sentence-drips-thousands = 10,000 gotas por galón
sentence-drips-third = 1/3 mL por gota, 11,350 gotas por galón
sentence-drips-quarter = 1/4 mL por gota, 15,140 gotas por galón
sentence-orifice = flujo por un agujero de canto vivo, coeficiente de descarga { $coefficient }
sentence-when-drips = Gotas sueltas que se pueden contar.
sentence-when-cup = Un chorro, o gotas tan rápidas que no se cuentan: recójalo en una taza.
sentence-when-tank = Un tanque que pierde agua con su llave de paso cerrada.
sentence-when-cycle = Un tanque que se llena solo de vez en cuando.
sentence-when-meter = Todo cerrado en la unidad, y el medidor sigue moviéndose.
sentence-when-pinhole = Un agujero que rocía y no se puede recoger.
sentence-ask-drips = Gotas por minuto
sentence-ask-drips-hint = Cuente un cuarto de minuto y multiplique por cuatro
sentence-ask-caught = Recogido
sentence-ask-caught-hint = En onzas líquidas; una taza son 8
sentence-ask-in = En
sentence-ask-in-hint = Como 45 s o 1 min 20
sentence-ask-length = Tanque por dentro, de izquierda a derecha
sentence-ask-width = Tanque por dentro, de adelante hacia atrás
sentence-ask-side-hint = A la altura del agua
sentence-ask-drop = El agua bajó
sentence-ask-drop-hint = Llave cerrada, nivel marcado, sin descargar
sentence-ask-hours-hint = Como 2 h o 30 min
sentence-ask-refill = Una llenada
sentence-ask-refill-hint = La parte de un tanque que entra sola
sentence-ask-every = Se llena cada
sentence-ask-every-hint = De un comienzo al siguiente, como 12 min
sentence-ask-meter = El medidor avanzó
sentence-ask-meter-hint = Con su unidad, como 3 gal o 0.4 ft3
sentence-ask-meter-hours-hint = Sin usar agua; lo usual son dos horas por lo menos
sentence-ask-hole = Ancho del agujero
sentence-ask-hole-hint = Como 1/16 in
sentence-ask-pressure = Presión
sentence-ask-pressure-hint = Como la lee un manómetro en la llave de manguera más cercana
sentence-no-loss = Con estas cifras no se pierde nada. Revíselas, y también sus unidades.
sentence-too-long-figure = { $label }: la cifra es demasiado larga.
sentence-nothing-reckoned = { $label }: «{ $typed }» es nada, y con nada no se calcula. Dé más de 0.
sentence-over-most = { $label }: «{ $typed }» pasa de { $most }; { $beyond }.
sentence-is-stream = eso es un chorro; mídalo con una taza
sentence-check-unit = revise la cifra y su unidad
sentence-no-convention = «{ $typed }» no es una convención de gotas. Elija una de { $known }.
sentence-closed-loses = La número { $number } está cerrada y no pierde nada. Si vuelve a gotear, registre la revisión que falla o repórtela de nuevo.

## Reparar, cambiar o esperar

choice = Reparar, cambiar o esperar
choice-title = Reparar, cambiar o esperar, deficiencia { $number }
choice-caption = Reparar, cambiar o esperar, lado a lado
choice-way = Camino
choice-work-and-parts = Trabajo y piezas
choice-work = Trabajo
choice-entries = Entradas
choice-water-until = Agua hasta entonces
choice-water = Agua
choice-fails-before = Falla antes
choice-risk = Riesgo
choice-all-known = Todo lo que se sabe
choice-sum = Suma
choice-least = lo que menos cuesta
choice-left-out = Lo que nadie sabe queda fuera de la suma.
choice-other-figures = Calcular con otras cifras
choice-repair-costs = La reparación cuesta
choice-repair-hint = Trabajo y piezas, como 84.50
choice-new-costs = Uno nuevo cuesta
choice-new-hint = Ya instalado, como 310.00
choice-reckon = Calcular con estas
choice-back = Volver a la número { $number }
choice-until = Hasta la próxima entrada: la primera visita planeada a la unidad; si no hay, la primera revisión que toca ahí. Una reparación de hoy ya no pierde agua. Aquí no se registra nada.
choice-prices = Precios de una hora, una entrada y una falla
choice-not-known = no se sabe
choice-none-more = ninguna más
choice-more = { $number } más
choice-more-for = { $number } más, { $cost }
choice-none-before = ninguna antes
sentence-new-given = Uno nuevo: según se indicó aquí.
sentence-new-costs = Nuevo ({ $item }): { $source }.
sentence-failure-on-top = Una falla: lo que cuesta además de uno nuevo ({ $item }; { $source }).
sentence-failure-price = Una falla: el precio de la oficina.
sentence-entry-price = Una entrada: el precio de la oficina.
sentence-repair-given = Reparación: según se indicó aquí.
sentence-repair-noted = Reparación: como se anotó en la última.
sentence-repair-minutes = Reparación: { $minutes } min al precio de la hora de la oficina, sin contar piezas.
sentence-repair-middle = Reparación: el costo mediano de las anteriores aquí.
sentence-repair-usual = Reparación: lo que suele costar una { $grade } ({ $source }).
sentence-fails-before = Falla antes: { $item }, vida media de { $years } años ({ $source }), contado como de { $age } años por su estado.
sentence-endangers-life = Pone vidas en peligro: no espera.
sentence-nobody-comes = No hay entrada planeada ni revisión que toque: nadie vendría.
sentence-entry-late-day = La próxima entrada es { $days } día después del plazo.
sentence-entry-late-days = La próxima entrada es { $days } días después del plazo.
sentence-what-offices-budget = lo que presupuestan las oficinas
sentence-round-figures = cifras redondas de 2026 con mano de obra, dólares de EE. UU.; cámbielas por las suyas
sentence-life-tables = tablas de vida de los inspectores: piezas del tanque 5 a 10 años, media 7; tapón de descarga 4 a 5; llaves de paso 10 a 25, media 20
sentence-life-supply = mangueras de suministro: 5 años con tuerca de plástico o de hule, 10 las de metal trenzado
sentence-life-fixtures = Marshall & Swift 2012: aparatos de plomería 17, 20, 25, 30 años (bajo, promedio, bueno, excelente)
sentence-life-faucets = Marshall & Swift 2012: grifos y válvulas 8, 10, 13, 16 años (bajo, promedio, bueno, excelente)
sentence-life-nahb = NAHB 2007, estudio de la vida esperada de los componentes de una casa
sentence-life-heater = IBHS: los calentadores de agua fallaron a los 10.7 años en promedio
sentence-life-hoses = IBHS: mangueras que se miran cada mes y se cambian cada 5 años
sentence-life-smoke = NFPA 72: probar cada mes, cambiar 10 años después de su fabricación
sentence-drips-awwa = la cuenta de la calculadora de goteo de la AWWA, que da 4,205 gal al año con 80 gotas por minuto (Chicago Tribune, 19 de mayo de 2006)
sentence-drips-usgs-third = USGS, Drip Accumulator, página anterior: 1/3 mL por gota, unas 11,350 gotas por galón
sentence-drips-usgs-quarter = USGS, Drip Calculator, página posterior: 1/4 mL por gota, 15,140 gotas por galón

## Lo que no se puede tomar en los formularios de una deficiencia

sentence-closed-history = La número { $number } está cerrada, y su historia queda como está. Si vuelve a estar mal, registre la revisión que falla o repórtela de nuevo.
sentence-not-in-building = Esta persona no trabaja en el edificio. Elija una de la lista.
sentence-names-nobody = Esto no nombra a nadie de la oficina. Elija a alguien de la lista.
sentence-vendor-name = Contratista con licencia: escriba un nombre de 1 a { $most } caracteres.
sentence-note-length = Nota: escriba de 1 a { $most } caracteres; hay { $length }.
sentence-text-long = Un texto es demasiado largo. Que no pase de { $most } caracteres.
sentence-nothing-answered = No se respondió nada. Diga si ya está bien, o por qué no se pudo revisar.
sentence-no-reason = No se revisó y no se da un motivo. Diga por qué no se pudo revisar.
sentence-characters-many = { $length } caracteres son demasiados aquí. Que no pase de { $most }.
sentence-no-minutes = «{ $typed }» no es un tiempo de trabajo. Escriba minutos de 0 a { $most }, como 35.
sentence-no-amount = «{ $typed }» no es una cantidad. Escríbala con punto antes de los centavos, como 84.50.
sentence-amount-large = «{ $typed }» es más de lo que cuesta cualquier reparación. Revise las cifras.
sentence-about-place = { $place }, { $check }: { $what }.
sentence-nothing-given = no se respondió nada; responda pasa o falla, o diga por qué no se pudo revisar
sentence-no-reason-given = no se revisó y no se da un motivo; diga por qué no se pudo revisar
sentence-done-with-reason = «{ $reason }» es un motivo para no revisar, pero la revisión está respondida; elija una cosa y ponga lo demás en la nota
sentence-pass-needs-reading = para que pase hace falta la lectura ({ $of }); escriba lo que se midió
sentence-fail-needs-reading = para que falle hace falta la lectura ({ $of }), o una nota que diga lo que se vio; escriba una de las dos
sentence-contradiction = la respuesta es { $given }, pero la lectura dice otra cosa: { $found }; deje que decida la lectura, o corríjala

## Plazos para corregir

times = Plazos para corregir
times-are = Desde que alguien de la oficina lo supo. Las horas son de reloj; los días conservan la hora. Una deficiencia conserva el plazo con el que se abrió. Corregido es lo que pasó una segunda revisión; la reparación sola no detiene el reloj. Un edificio puede seguir otro programa: vea sus condiciones.
times-caption = Plazos para corregir por programa y gravedad
times-holds = Vale aquí
times-here = Aquí
times-programme = Programa
times-programme-of = Programa { $code }
times-letters = h son horas, d son días, ninguno es sin plazo.
times-none = ninguno
times-set-them = Fijarlos
times-hint = Como 24 h, 30 d o none; vacío toma el del programa
times-second = La segunda vez en doce meses
times-second-hint = Lo que vuelve dentro de un año no se arregló la primera vez; práctica común, sin fuente
times-set-the = Fijar los plazos
times-set = Plazos fijados. Valen para lo que se abra desde ahora.
sentence-programme-default = Plazos para corregir
sentence-programme-voucher = Plazos para corregir en programas de vales
sentence-nspire-times = Normas NSPIRE de HUD, plazos para corregir (2023)
sentence-nspire-voucher = Normas NSPIRE de HUD, plazos para corregir en programas de vales (2023)
sentence-no-programme = «{ $given }» no es un programa. Elija uno de { $known }.
sentence-no-time = «{ $given }» no es un plazo. Escriba horas de reloj como 24 h, días como 30 d (1 a { $most } días), o none.

## Del síntoma a la causa

find-what = Qué está mal
