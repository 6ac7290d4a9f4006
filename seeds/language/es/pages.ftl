# Las páginas que están enteras en el catálogo, y el marco de todas. De usted; frases cortas.

## El marco

frame-skip = Ir a la página
frame-demo-label = Demostración
frame-demo = Demostración: una flota inventada. Los correos van a una carpeta.
frame-menu = Menú
frame-urgent = Urgente
frame-urgent-more = : olor a gas, inundación
frame-places = Lugares
frame-sign-out = Cerrar sesión
place-due = Pendiente
place-turnovers = Cambios de inquilino
place-visits = Visitas
place-deficiencies = Deficiencias
place-buildings = Edificios
place-condition = Estado
place-schedules = Calendarios
place-checks = Revisiones
place-mail = Correo
place-people = Personas
place-account = Cuenta
role-manager = administrador
role-technician = técnico
role-owner = propietario

## Piezas de las páginas

to-mend = { $count ->
    [one] Una cosa por corregir
   *[other] { $count } cosas por corregir
}
back-without-saving = Volver sin guardar
date-as = Como 2026-02-03
first-rows = Volver a las primeras filas
next-rows = Filas siguientes
more-rows = Más filas
window-legend = En cada línea: corchete, se abre el plazo; muesca, la fecha; trazo corto, el último día; raya alta, hoy; rayado, días de atraso. Una flecha señala lo que queda más allá.
mind = Cuidado: { $dangers }.
what-to-mind = Qué cuidar
today-is = hoy, { $day }
done-of = { $done } de { $all }
answered = Respondidas
keep = Guardar

## Lo que falló

error-not-here = No está aquí
error-signed-out = Sesión cerrada
error-not-for-you = No es para usted
error-not-done = No se hizo
error-changed = Cambió mientras tanto
error-too-many = Demasiados intentos
error-unavailable = No disponible ahora
error-broke = Algo se rompió
error-internal = No se guardó nada. Intente de nuevo; si vuelve a pasar, dé la referencia a quien maneja el servidor.
error-reference = Referencia
error-start = A la página de inicio

## Iniciar sesión

sign-in = Iniciar sesión
sign-in-look-around = Mirar como
sign-in-or-password = O con una contraseña
sign-in-new-password = Poner una contraseña nueva
back-to-sign-in = Volver a iniciar sesión
demo-manager = El administrador de los edificios
demo-manager-sees = Ve todos los edificios: lo vencido, los cambios de inquilino, los calendarios, las personas.
demo-technician = Un técnico de mantenimiento
demo-technician-sees = Ve lo pendiente en las unidades de sus edificios y lo registra en un teléfono.
demo-owner = Un propietario
demo-owner-sees = Ve el estado de los edificios de su cartera, también como CSV.
mail-address = Correo electrónico
password = Contraseña
password-current = Contraseña actual
password-new = Contraseña nueva
password-hint = Al menos 15 caracteres. Cuatro palabras sin relación hacen una buena; los espacios cuentan.
password-keep = Guardar esta contraseña
password-others-end = Sus otras sesiones se cierran.

link-over = Este enlace ya no sirve
invitation = Su invitación
invitation-head = Le damos la bienvenida, { $name }
invitation-choose = Elija la contraseña con la que va a iniciar sesión.
invitation-take = Aceptar la invitación
invitation-taken = Le damos la bienvenida. Su contraseña está guardada.
invitation-over = Esta invitación ya se usó o se venció. Pida otra a quien lo invitó; si ya tiene contraseña, inicie sesión con ella.
new-password = Una contraseña nueva
new-password-ends = Cierra su sesión en todos los demás lugares.
new-password-kept = Su contraseña nueva está guardada. Inicie sesión con ella.
new-password-over = Este enlace ya se usó o pasó su hora. Pida otro.
new-password-again = Pedir otro enlace
reset-how = Un correo le trae un enlace que sirve una vez, durante una hora.
reset-send = Enviar el correo
reset-asked = Mire su correo
reset-asked-sent = Si la dirección es de alguien que puede iniciar sesión, va en camino un correo con un enlace. Sirve una vez, durante una hora.
reset-asked-nothing = ¿No hay nada después de diez minutos? Mire entre el correo no deseado, revise la dirección o pregunte al administrador.
set-up-over = Este enlace ya se usó o pasó su día. Mientras no haya nadie, el servidor muestra otro al arrancar.

## La cuenta

account = Cuenta
account-sessions = Dónde tiene sesión abierta
account-sessions-caption = Sus sesiones
account-browser = Navegador
account-browser-on = { $program } en { $system }
account-browser-unknown = un programa que no es un navegador conocido
account-since = Desde
account-last-used = Último uso
account-ends = Termina a más tardar
account-this-one = esta
account-end-it = Cerrarla
account-end = Cerrar
account-end-which = la sesión de { $browser } desde { $began }
account-end-others = Cerrar todas las demás
account-session-ended = Esa sesión se cerró.
account-sessions-ended = { $count ->
    [one] Se cerró { $number } sesión.
   *[other] Se cerraron { $number } sesiones.
}
account-zone = Zona
account-zone-and-mail = Zona y correo de la mañana
account-hours-kept = La zona y la hora están guardadas.
account-password-kept = Su contraseña nueva está guardada. Sus otras sesiones se cerraron.
time-zone = Zona horaria
time-zone-hint = Su nombre IANA, como America/Chicago
digest-hour = Hora del correo de la mañana
digest-hour-hint = De 0 a 23; no se envía si no hay nada pendiente
language = Idioma
language-of-pages = De páginas y correos
account-language-kept = Desde ahora en español.

## Urgente

urgent = Urgente
urgent-head = Urgente: primero esto
urgent-numbers-of = Números de { $building }.
urgent-not-set = { $name }: no está puesto aquí; mire el aviso en la entrada o la factura.
urgent-choose-building = { $name }: no está puesto para toda la oficina; elija el edificio
urgent-filter = Números de
urgent-of-office = la oficina
urgent-set-numbers = Poner los números de la oficina
urgent-set-numbers-of = Poner los números de { $building }
urgent-record = Cuando la gente esté a salvo: anótelo
urgent-is-record = Esto es la constancia y no llama a nadie. Cada administrador la recibe por correo.
urgent-kind = Qué es
urgent-not-said = sin decir
urgent-unit-hint = Como en su puerta; vacío para todo el edificio
note = Nota
urgent-note-hint = Qué se hizo, a quién se llamó. Queda en esta página y fuera del correo.
urgent-take-down = Anotarlo
urgent-taken-down = Anotado
urgent-reports = Emergencias anotadas, primero la última
what = Qué
who = Quién
when = Cuándo
unit-within = unidad

## Palabras de muchas páginas

unit = Unidad
building = Edificio
technician = Técnico
state = Situación
severity = Gravedad
check = Revisión
where = Dónde
minutes = Minutos
why = Por qué
because = Porque
in-words = En palabras
open = Abrir
do = Hacer
show = Mostrar
all = todos
anyone = cualquiera
nobody-yet = nadie todavía
whole-unit = toda la unidad
what-is-wrong = Qué está mal
correct-by = Corregir antes de
may-stay-empty = Puede quedar vacío
choose-or-say-below = elija uno, o dígalo abajo
widen-filter = Amplíe el filtro.
to-due-list = A la lista de pendientes
entry = Entrada
entry-household = Hogar
entry-hours = Horas acordadas
entry-no-days = Sin entrar
entry-notice = Aviso antes de entrar
entry-notice-hours = { $count ->
    [one] { $count } hora
   *[other] { $count } horas
}
entry-visit-note = Nota de la visita
entry-none = nada anotado

## Visitas

visits = Visitas
visits-are = Una entrada a una unidad, con lo que se hace ahí.
visits-plan = Planear una visita
visits-what = Qué
visits-closed = cerradas
visits-planned = planeadas
visits-say-how = diga cómo fue
visits-which = la visita { $visit }, unidad { $unit }
visits-none-such = No hay tal visita.
visits-planned-ones = Visitas planeadas
visits-none-planned = No hay ninguna visita planeada.
visits-how-to-plan = Marque revisiones de una unidad en la lista de pendientes y haga con ellas una visita, o planee una aquí.
visits-by-day = Visitas por día
visits-lately = Cerradas hace poco
visits-lately-caption = Visitas cerradas hace poco, primero la última
visits-all-closed = Todas las visitas cerradas
visits-on-page = { $count ->
    [one] { $number } visita en esta página
   *[other] { $number } visitas en esta página
}
visit-head = Visita, unidad { $unit }
visit-number = Visita { $visit }
visit-record = Registrar resultados
visit-done = Visita hecha
visit-to-do = Qué hacer
visit-was-planned = Lo que se planeó
visit-recorded-of = { $answered } de { $checks } registradas.
visit-rest-due = Lo que no se registró sigue pendiente.
visit-checks-caption = Revisiones de esta visita, en el orden del recorrido
visit-repairs-caption = Reparaciones y segundas revisiones
visit-state-or-recorded = Situación, o lo que se registró
visit-nothing-chosen-here = No se eligió nada para esta visita. Lo pendiente en la unidad se registra de todos modos.
visit-recorded = Registrado en esta visita
visit-also-recorded = También registrado en esta visita
visit-also-caption = Otras revisiones registradas en esta visita
visit-nobody-in = Nadie pudo entrar
visit-no-access-how = Cada revisión sin respuesta queda como no revisada, con el motivo: prueba del intento. Sigue pendiente.
visit-close-no-access = Cerrar sin acceso
visit-cancel-this = Cancelar esta visita
visit-cancel = Cancelar la visita
visit-another = Planear otra visita a esta unidad
visit-no-access-kept = Cerrada sin acceso. Lo que habría atendido sigue pendiente.
visit-done-kept = Visita cerrada como hecha.
visit-cancelled = Visita cancelada.
visit-made = Creada
visit-closed = Cerrada
visit-passed = pasó
visit-failed = falló
visit-not-checked = no se revisó: { $reason }
visit-not-asked = ya no se pide
visit-nothing-chosen = nada elegido
visit-repairs = { $count ->
    [one] { $number } reparación
   *[other] { $number } reparaciones
}
visit-results = { $count ->
    [one] { $number } resultado
   *[other] { $number } resultados
}

## Etiquetas

label-unknown = Etiqueta desconocida
label-unknown-how = Ninguna etiqueta que usted pueda ver tiene este código. Escanéela otra vez, o busque la unidad por su puerta.
label-withdrawn = Etiqueta retirada
label-withdrawn-on = Esta etiqueta se retiró el { $day } y otra tomó su lugar. Estaba pegada a { $place } en la unidad { $unit } de { $building }. Mire si todavía está ahí antes de seguir, y quítela.
label-withdrawn-once = Esta etiqueta se retiró y otra tomó su lugar. Estaba pegada a { $place } en la unidad { $unit } de { $building }. Mire si todavía está ahí antes de seguir, y quítela.
label-go-on = Seguir a { $place } en la unidad { $unit }
label-the-unit = La unidad
label-today = Las unidades de hoy

urgent-taken = Anotado y enviado por correo a cada administrador. No llama a nadie: llame ahora si nadie lo ha hecho.

leak-points = Puntos de fuga: { $points }
leak-point-deficient = { $point }, con deficiencia
