# Las pantallas del teléfono de un técnico. Lo que pide una revisión viene de trade.ftl; las notas quedan como se escribieron.

## El marco

skip = Saltar a la página
urgent-short = Urgente
undo = Deshacer
taken-back = Se deshizo.
undo-too-late = Ya va en camino. Responda otra vez; cuenta la respuesta posterior.
broken = Esta pantalla no se pudo dibujar. Cargue la página de nuevo; no se pierde nada de lo guardado.
no-room = Este teléfono no tiene espacio: eso no se guardó. Envíe lo que hay aquí o libere espacio, y hágalo otra vez.
no-room-photo = Este teléfono no tiene espacio para la foto. La respuesta se guardó; la foto no.
photo-unreadable = Este archivo no es una foto que se pueda leer. Tome otra, en JPEG, PNG o WebP.
line-signed-out = Sesión cerrada. Lo que haga se guarda en este teléfono.
line-sign-in = Inicie sesión para enviarlo
line-other-person = En este teléfono hay respuestas de otra persona sin enviar.
line-look = Verlas
line-silent = El servidor no responde. Se intenta de nuevo solo.
line-reached = El servidor responde.
line-sending = Enviando…

## Lo que falta enviar

unsent-none = Todo enviado
unsent-answers = { $answers ->
    [one] { $answers } sin enviar
   *[other] { $answers } sin enviar
  }
unsent-photos = { $photos ->
    [one] { $photos } foto sin enviar
   *[other] { $photos } fotos sin enviar
  }
unsent-both = { $answers } y { $photos ->
    [one] { $photos } foto
   *[other] { $photos } fotos
  } sin enviar
unsent-none-long = Todo está en la oficina.
not-yet-sent = Sin enviar
send-now = Enviar ahora
noted = Anotado
state-here = en este teléfono
state-sending = enviando
state-sent = enviado
state-attention = requiere atención
state-fetched = enviado
photo-share = { $share } % enviado
op-photo = Foto
op-report = Reporte
op-repaired = Una reparación
op-word = Vuelto a mirar
op-advance = Un paso del cambio de inquilino
op-close = El cierre del cambio de inquilino
op-visit-done = Visita terminada
op-no-access = Nadie pudo entrar
op-urgent = Urgente
file-why = Cuando este teléfono no pueda enviar, guarde lo que hay aquí en un archivo. Se puede cargar en otro teléfono, con la sesión de la misma persona.
file-save = Guardar en un archivo
file-take = Cargar un archivo
file-taken = { $answers ->
    [one] Se cargó { $answers }.
   *[other] Se cargaron { $answers }.
  }
file-refused = Este archivo no se puede cargar. Elija uno guardado aquí, de la misma persona.
sign-out = Cerrar sesión
out-asks = Al cerrar sesión se borra de este teléfono lo que falta enviar. Envíelo antes, o guárdelo en un archivo.
out-clean = No falta nada por enviar. Al cerrar sesión se borran las listas de este teléfono.
out-and-remove = Cerrar sesión y borrarlo
out-no-line = Para cerrar sesión hace falta conexión con el servidor.

## Hoy

today = Hoy
today-none = Hoy no le toca ninguna unidad.
today-not-fetched = Todavía no se ha traído nada. Para eso hace falta conexión con el servidor, una vez.
today-not-staff = Las unidades por recorrer son de técnicos y administradores.
today-sign-in = Inicie sesión para traer las unidades de hoy.
today-turnover = entrada { $day }
today-visit = visita hoy
today-visit-left = visita pendiente del { $day }
today-over = { $over ->
    [one] ahí hay { $over } revisión vencida
   *[other] ahí hay { $over } revisiones vencidas
  }
today-not-listed = Ya no le toca. Lo que hizo aquí se envía de todos modos.
today-load = { $kinds ->
    [one] Para llevar: { $kinds } clase de pieza
   *[other] Para llevar: { $kinds } clases de piezas
  }
floor = piso { $floor }
entry = Cómo entrar
entry-on-line = Cómo entrar se muestra solo mientras hay conexión; nunca se guarda en el teléfono.
entry-none = No hay nada anotado.
fetched-at = Traído a las { $time }
fetch-now = Traer de nuevo
fetching = Trayendo…
more = Todo lo demás
more-on-line = Estas páginas necesitan conexión con el servidor.
signed-in-as = Sesión de { $name }
back-to-today = Volver a hoy
place-due = Pendiente
place-turnovers = Cambios de inquilino
place-visits = Visitas
place-deficiencies = Deficiencias
place-buildings = Edificios
place-checks = Revisiones
place-account = Cuenta
label-unknown = Esta etiqueta no es de ninguna unidad de este teléfono. Escanéela otra vez donde haya conexión.
not-here = No está en este teléfono
not-here-words = Esta unidad no se trajo para hoy. Su página dice qué se pide ahí.
open-page = Abrir la página de la unidad
needs-line = hace falta conexión

## Una unidad y su recorrido

unit = Unidad { $unit }
progress = { $answered } de { $asked }
all-answered = { $checks ->
    [one] respondida
   *[other] las { $checks } respondidas
  }
some-fail = { $fails ->
    [one] { $fails } falla
   *[other] { $fails } fallan
  }
some-missed = { $missed } sin revisar
round = ronda { $round } de { $rounds }: { $part }
remarks = Queda así
part-found = Como se encontró
part-ready = Antes de lista
part-move-in = Día de entrada
part-visit = Visita
group-look = mirar y tocar
group-water = agua
group-measure = medir
go-on = Seguir
open = falta
open-count = { $checks ->
    [one] falta { $checks }
   *[other] faltan { $checks }
  }
one-by-one = Una por una
all-pass = { $checks ->
    [one] Pasa
   *[other] Las { $checks } pasan
  }
i-looked = { $checks ->
    [one] La miré
   *[other] Miré cada una
  }
kept-passes = { $checks ->
    [one] { $checks } que pasa, guardada en este teléfono.
   *[other] { $checks } que pasan, guardadas en este teléfono.
  }
nothing-asked = Aquí no se pide nada ahora.
note = Nota
back-to-unit = Volver a la unidad
something-else = Hay otra cosa mal
leak-points = Dibujo con los puntos de fuga
mind-more = Qué cuidar
codes-decide = Deciden los códigos locales y el trabajo con licencia.
whole-unit = toda la unidad
keeps-back-repaired = Qué impide darla por reparada
keeps-back-ready = Qué impide darla por lista
keeps-back-close = Qué impide cerrarla
block-found = { $left ->
    [one] { $left } de { $asked } revisiones «como se encontró» no tiene respuesta.
   *[other] { $left } de { $asked } revisiones «como se encontró» no tienen respuesta.
  }
block-ready = { $left ->
    [one] { $left } de { $asked } revisiones «antes de lista» no tiene respuesta.
   *[other] { $left } de { $asked } revisiones «antes de lista» no tienen respuesta.
  }
block-move-in = { $left ->
    [one] { $left } de { $asked } revisiones del día de entrada no tiene respuesta.
   *[other] { $left } de { $asked } revisiones del día de entrada no tienen respuesta.
  }
block-unrepaired = { $place }: { $title } ({ $severity }). Primero anote la reparación.
block-recheck = { $place }: { $title } ({ $severity }). Está reparada; su nueva revisión debe pasar, o un administrador la dispensa.
block-standing = { $place }: { $title } ({ $severity }). Repárela y que pase su nueva revisión, o que un administrador la dispense.
block-never-waived = { $place }: { $title } ({ $severity }). Nunca se dispensa: anote la reparación y que pase su nueva revisión.
what-is-wrong = Qué está mal
wrong-count = { $wrong ->
    [one] { $wrong } cosa
   *[other] { $wrong } cosas
  }
advance-repaired = Todo está reparado
advance-repaired-then = siguen las revisiones antes de lista
advance-ready = La unidad está lista
advance-ready-then = siguen las revisiones del día de entrada
kept-repaired = Reparada: siguen las revisiones antes de lista.
kept-ready = Lista: siguen las revisiones del día de entrada.
sign-and-close = Firmar y cerrar
leave-unit = Salir de la unidad
unit-closed-here = firmada
unit-done-here = visita terminada
closed-words = Firmada en este teléfono. El acta se hace cuando el servidor la haya recibido.
left-words = La visita terminó. Lo que todavía responda aquí se envía de todos modos.

## Una revisión

pass = pasa
opens = abre una deficiencia, { $severity }
kept = { $title }: { $said }
kept-missed = { $title }, sin revisar: { $said }
kept-here = Guardado en este teléfono.
opens-here = Abre una deficiencia: { $severity }.
so-far = Hasta ahora:
said-by = { $who }, { $day } { $time }
said-missed = No se pudo revisar: { $reason }
how = Cómo
done-by = lo hace: { $who }
could-not = No se pudo revisar, porque…
because = Porque
choose-reason = elija uno o escríbalo
in-words = En palabras
keep-missed = Guardar que no se pudo revisar
missed-needs-reason = Elija un motivo o escriba uno.
reason-no_access = Sin acceso al cuarto
reason-blocked = Algo estorba
reason-supplies_off = El agua, la luz o el gas están cortados
reason-unsafe = No es seguro hacerlo
reason-needs_licence = Se necesita una persona con licencia
reason-no_tool = Falta la herramienta o la pieza
reason-objected = El residente se opuso
reason-not_there = Aquí no hay
passes = Pasa { $limits }
passes-when = Pasa si: { $pass }
check-due = Esta revisión: { $due }
early-words = Esto es para el día de la entrada, { $day }.
at-least = como mínimo { $value } ({ $source })
at-most = como máximo { $value } ({ $source })
keep-reading = Guardar la lectura
reading-unreadable = «{ $given }» no se entiende. Escriba un número en { $unit }, como { $like }.
reading-empty = Todavía no hay nada escrito. Escriba un número en { $unit }, como { $like }.
reading-unit = «{ $given }» no está en una unidad que sirva. Escríbalo en { $unit }.
reading-negative = «{ $given }» es menos que cero. Mida otra vez.
reading-too-large = «{ $given }» tiene demasiadas cifras.
reading-sure = ¿{ $reading }? Está lejos de lo usual aquí.
reading-meant = Quise decir { $reading }
reading-right = { $reading } es correcto
reading-again = Leer otra vez
reading-broken = { $bound ->
    [at_least] { $reading } es menos que { $value }
   *[at_most] { $reading } es más que { $value }
  }
fails-without = Falla, sin una cifra
say-what = diga qué vio
flush-of = descarga { $flush } de { $flushes }
stopwatch-start = Iniciar el cronómetro
stopwatch-stop = Parar
which-point = Dónde
no-point = ningún punto del dibujo
at-point = En { $point }
add-photo = Agregar una foto
add-photo-more = Agregar otra foto
photos-kept = { $photos ->
    [one] { $photos } foto guardada en este teléfono.
   *[other] { $photos } fotos guardadas en este teléfono.
  }
done-go-on = Listo, seguir
grave-first = Primero las personas:

## Pasos

number = N.º { $number }
new-here = Nuevo aquí:
standing-open = abierta
standing-repaired = reparada, falta revisarla otra vez
this-is-repaired = Esto está reparado
parts-used = Piezas usadas
minutes = Minutos de trabajo
minutes-unreadable = «{ $given }» no es un número de minutos. Escriba uno, como 20.
note-repair = Anotar la reparación
kept-repair = Reparada: { $title }
matter-open = por mirar otra vez
matter-said = mirada
look-again = Mirarla otra vez
matter-right = Ahora está bien
matter-still = Sigue mal
matter-could-not = No se pudo mirar
matter-needs-note = Diga en la nota qué vio, o por qué no pudo mirar.
kept-word = Vuelta a mirar: { $title }
nothing-wrong = Aquí no hay nada mal.
where = Dónde
report-needs-title = Diga en pocas palabras qué está mal.
keep-report = Guardar el reporte
kept-report = Reportado: { $title }
leave-words = Lo que no se respondió sigue pendiente.
visit-done = Visita terminada
kept-visit-done = La visita terminó.
nobody-in = Nadie pudo entrar
close-no-access = Cerrar sin acceso
kept-no-access = Nadie pudo entrar: guardado como prueba del intento.
visit-reason-nobody_home = No hay nadie en casa
visit-reason-refused = No dejaron entrar
visit-reason-key = La llave no abre o no está
visit-reason-child_alone = Solo hay un menor en casa
visit-reason-animal = Un animal suelto adentro
visit-reason-alarm = Hay una alarma puesta
visit-reason-unsafe = No es seguro entrar
sign-words = Al cerrar se hace el acta con su nombre. Después no se puede cambiar.
name = Nombre
name-hint = El suyo, como firma. Con una firma dibujada puede quedar vacío.
sign-here = Firme aquí con un dedo
sign-instead = Un nombre escrito arriba vale igual.
sign-clear = Borrar la firma
sign-needs-name = Escriba su nombre o dibuje su firma.
close-turnover = Cerrar el cambio de inquilino
kept-close = La unidad { $unit } está firmada. Se envía cuando haya conexión.

## Urgente

urgent = Urgente: primero esto
urgent-first = Olor a gas, chispas, aguas negras, inundación:
urgent-record = Anotar algo urgente
urgent-not-alarm = Esto es la constancia, no la alarma. Salga, y primero llame.
urgent-what-first = Qué hacer primero y a quién llamar
urgent-kind = Qué es
urgent-gas = Olor a gas
urgent-carbon-monoxide = Suena la alarma de monóxido de carbono
urgent-sparks = Chispas, humo u olor a quemado
urgent-sewage = Suben aguas negras
urgent-flooding = El agua corre y no se puede parar
urgent-elsewhere = otro lugar
urgent-keep = Guardar la constancia
kept-urgent = Guardado. La oficina lo recibe por correo cuando haya conexión.
