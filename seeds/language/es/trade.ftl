# Las palabras del oficio. El inglés está en seeds/catalogue y en el programa; aquí solo la traducción, por código. Cada revisión dice
# qué versión traduce: si la revisión cambia, se muestra el inglés hasta que la traducción la alcance, y una prueba lo avisa.
# Los términos elegidos están en seeds/language/README.md.

## Aparatos

fixture-kind-water_closet = Inodoro
fixture-kind-urinal = Mingitorio
fixture-kind-lavatory = Lavabo
fixture-kind-bathtub = Tina
fixture-kind-shower = Regadera
fixture-kind-kitchen_sink = Fregadero
fixture-kind-laundry_sink = Lavadero
fixture-kind-dishwasher = Lavavajillas
fixture-kind-disposer = Triturador
fixture-kind-ice_maker = Máquina de hielo
fixture-kind-washing_machine = Lavadora
fixture-kind-water_heater = Calentador de agua
fixture-kind-hose_bibb = Llave de manguera
fixture-kind-floor_drain = Coladera de piso
fixture-kind-seldom_used_trap = Sifón de poco uso
fixture-kind-sump_pump = Bomba de sumidero
fixture-kind-unit_shutoff = Llave general de la unidad
fixture-kind-main_shutoff = Llave general del edificio
fixture-kind-pressure_point = Punto de prueba de presión
fixture-kind-backflow_device = Dispositivo antirreflujo
fixture-kind-main_drain = Desagüe principal
fixture-kind-crawl_space = Espacio bajo el piso
fixture-kind-exhaust_fan = Extractor de aire
fixture-kind-smoke_alarm = Alarma de humo
fixture-kind-co_alarm = Alarma de monóxido de carbono
fixture-kind-gfci_outlet = Tomacorriente GFCI

## Piezas

part-supply_line = Manguera de suministro
part-supply_line_hot = Manguera de suministro, caliente
part-supply_line_cold = Manguera de suministro, fría
part-stop = Llave de paso
part-stop_hot = Llave de paso, caliente
part-stop_cold = Llave de paso, fría
part-wax_seal = Sello de cera
part-flapper = Tapón de descarga (sapito)
part-fill_valve = Válvula de llenado
part-flush_valve = Válvula de descarga
part-tank_bolts = Tornillos del tanque
part-seat = Asiento
part-trap = Sifón
part-faucet = Grifo
part-cartridge = Cartucho
part-mixing_valve = Válvula mezcladora
part-hose_hot = Manguera, caliente
part-hose_cold = Manguera, fría
part-drain_hose = Manguera de desagüe
part-relief_valve = Válvula de alivio
part-discharge_pipe = Tubo de descarga
part-pan = Bandeja de desagüe
part-anode = Ánodo
part-expansion_tank = Tanque de expansión
part-gas_connector = Conector de gas
part-flue = Ducto de gases
part-vacuum_breaker = Rompevacío
part-float_switch = Interruptor de flotador
part-check_valve = Válvula de retención
part-battery = Pila

## Gravedad, grupos, quién, etapas, resultados

severity-life_threatening = Peligro de vida
severity-severe = Grave
severity-moderate = Moderada
severity-low = Leve

group-look = Mirar
group-water = Agua
group-measure = Medir

turnover-stage-found = Como se encontró
turnover-stage-ready = Lista
turnover-stage-move_in = Día de entrada

performer-staff = Personal
performer-resident = Residente
performer-licensed_plumber = Plomero con licencia
performer-licensed_tester = Probador de antirreflujo con licencia
performer-licensed_gas_fitter = Gasista con licencia
performer-licensed_electrician = Electricista con licencia

verdict-pass = Pasa
verdict-fail = Falla

bound-at_least = como mínimo
bound-at_most = como máximo

outcome-pass = Pasó
outcome-fail = Falló
outcome-not_checked = No se revisó

reason-no_access = Sin acceso al cuarto
reason-blocked = Algo estorba
reason-supplies_off = El agua, la luz o el gas están cortados
reason-unsafe = No es seguro hacerlo
reason-needs_licence = Se necesita una persona con licencia
reason-no_tool = Falta la herramienta o la pieza
reason-objected = El residente se opuso
reason-not_there = Aquí no hay

reason-for-no-access-nobody_home = No hay nadie en casa
reason-for-no-access-refused = No dejaron entrar
reason-for-no-access-key = La llave no abre o no está
reason-for-no-access-child_alone = Solo hay un menor en casa
reason-for-no-access-animal = Un animal suelto adentro
reason-for-no-access-alarm = Hay una alarma puesta
reason-for-no-access-unsafe = No es seguro entrar

state-of-a-visit-planned = Planeada
state-of-a-visit-done = Hecha
state-of-a-visit-no_access = Sin acceso
state-of-a-visit-cancelled = Cancelada

status-open = Abierta
status-repaired = Reparada, falta revisarla otra vez
status-closed = Cerrada

occupancy-occupied = Ocupada
occupancy-vacant = Vacía
occupancy-turnover = En cambio de inquilino
occupancy-off_line = Fuera de servicio

kind-of-unit-unit = Unidad
kind-of-unit-common_area = Área común

source-result = Una revisión que falló
source-report = Un reporte de un residente

way-of-closing-recheck = Pasó la segunda revisión
way-of-closing-replaced = Se cambió, y el nuevo pasó

event-opened = Abierta
event-failed_again = Volvió a fallar
event-assigned = Asignada
event-repaired = Reparada
event-recheck_passed = Pasó la segunda revisión
event-closed = Cerrada
event-missed = No se pudo volver a revisar
event-moved = Movida
event-noted = Nota

escalation-one_grade = Un grado más grave
escalation-none = Tan grave como la primera vez

way-repair = Reparar ahora
way-replace = Cambiar ahora
way-wait = Esperar hasta la próxima entrada

way-of-measuring-drips = Gotas contadas
way-of-measuring-cup = Taza con reloj
way-of-measuring-tank = Bajada del tanque
way-of-measuring-cycle = Ciclo de llenado
way-of-measuring-meter = Lectura del medidor
way-of-measuring-pinhole = Agujero en un tubo

status-in_service = En servicio
status-replaced = Cambiado
status-retired = Retirado

clearance-left = Del eje a la izquierda
clearance-right = Del eje a la derecha
clearance-near_side = Del eje al lado más cercano
clearance-front = Libre al frente
clearance-centre_to_centre = De centro a centro del aparato vecino
clearance-seat_height = Del piso a la parte de arriba del asiento
clearance-width = Ancho libre desde la pared lateral
clearance-depth = Fondo libre desde la pared de atrás

decision-kept = Se cumple cada límite que se midió
decision-as_found = Corto, aceptado como se encontró
decision-must_fix = Corto, hay que corregirlo

water-level-at_mark = En la marca
water-level-low = Debajo de la marca
water-level-high = Arriba de la marca
water-level-overflowing = Corre hacia el rebosadero
water-level-not_looked = No se miró

leak-dry = Seco
leak-damp = Húmedo
leak-drip = Gotea
leak-stream = Chorro

unit-of-length-in = pulgadas
unit-of-length-mm = milímetros

base-joint-policy-sealed = Sellada todo alrededor
base-joint-policy-rear_open = Atrás abierta
base-joint-policy-not_noted = Sin anotar

origin-builtin = De fábrica
origin-own = Propia

quantity-length = longitud
quantity-time = tiempo
quantity-volume = volumen
quantity-flow = caudal
quantity-pressure = presión
quantity-temperature = temperatura
quantity-count = cantidad
quantity-percent = porcentaje

unit-in = pulgadas
unit-ft = pies
unit-mm = milímetros
unit-cm = centímetros
unit-m = metros
unit-s = segundos
unit-min = minutos
unit-h = horas
unit-gal = galones de EE. UU.
unit-qt = cuartos de galón de EE. UU.
unit-cup = tazas de EE. UU.
unit-oz = onzas líquidas de EE. UU.
unit-imp_gal = galones imperiales
unit-ft3 = pies cúbicos
unit-m3 = metros cúbicos
unit-CCF = cientos de pies cúbicos
unit-kgal = miles de galones de EE. UU.
unit-L = litros
unit-mL = mililitros
unit-gpm = galones por minuto
unit-L-min = litros por minuto
unit-psi = libras por pulgada cuadrada
unit-kPa = kilopascales
unit-bar = bares
unit-F = grados Fahrenheit
unit-C = grados Celsius
unit-count = piezas
unit-percent = por ciento

## Peligros. Nada más débil que el inglés.

caution-deference = Deciden los códigos locales y el trabajo con licencia.
caution-gas_smell = ¿Huele a gas? Salga ahora mismo, no toque ningún interruptor, no encienda nada y llame desde afuera al número de emergencias del gas o a los bomberos.
caution-gas = Gas
    .advice = Los conectores y las llaves de gas solo se miran; el trabajo en ellos es para un gasista con licencia.
caution-combustion = Gases de combustión
    .advice = Los gases de combustión matan sin oler. Si el ducto está flojo, oxidado o suelto, o si hay hollín o quemaduras: apague el calentador, ventile el cuarto, no deje entrar a nadie y llame a un gasista con licencia.
caution-hot_water = Agua caliente
    .advice = El agua a 140 F (60 C) quema la mano de un adulto en 5 segundos, la de un niño antes. Déjela correr lejos de usted, no meta las manos en el chorro y no baje la temperatura de un calentador con tanque para enfriar un grifo: para eso está la válvula mezcladora.
caution-electricity = Electricidad
    .advice = Corte el circuito y compruebe que no tiene corriente antes de tocar un cable o un aparato mojado. Nunca se pare en agua. Una tapa abierta o un conductor desnudo: aleje a la gente y llame a un electricista con licencia.
caution-sewage = Aguas negras
    .advice = Las aguas negras transmiten enfermedades. Use guantes y protección para los ojos, no coma, aleje a los residentes de lo que tocaron y lávese antes de pasar al siguiente cuarto.
caution-pressure = Presión
    .advice = Las tuberías tienen presión. Sepa qué llave aguas arriba corta el agua antes de aflojar cualquier cosa, y no ponga la cara frente a la conexión.
caution-old_stops = Llaves de paso viejas
    .advice = Una llave de paso vieja puede gotear o romperse. Gírela solo después de comprobar que la llave aguas arriba corta el agua y con un repuesto a mano, nunca al final del día ni antes de un fin de semana, y jamás la fuerce. Mirarla también es una respuesta.
caution-asbestos = Asbesto
    .advice = Los pisos flexibles viejos y su pegamento pueden tener asbesto. Antes de levantar la taza sobre ellos, deténgase y pregunte; no los raspe, lije ni rompa.
caution-lead_paint = Pintura con plomo
    .advice = Las superficies pintadas de edificios anteriores a 1978 pueden tener plomo. No lije ni raspe; con más de 6 pies cuadrados en un cuarto rigen las reglas de trabajo seguro con plomo (40 CFR 745).
caution-confined_space = Espacios bajo el piso
    .advice = Nunca entre en un espacio bajo el piso sin compañía ni si hay cables mojados con corriente. Avise a alguien, lleve luz, guantes y mascarilla, y salga a cualquier olor a gas o a aguas negras.
caution-backflow = Agua potable
    .advice = Un dispositivo antirreflujo evita que el agua sucia entre en el agua potable. Solo trabaja en él un probador con licencia; nunca lo puentee ni deje cerradas sus llaves.

## Urgencias. Salir y alejarse va antes de llamar.

urgency-gas = Olor a gas
    .step-1 = Salga ahora mismo, no toque ningún interruptor, llame desde afuera.
    .step-2 = Llévese a todos. Deje abiertas las puertas al salir.
    .step-3 = Ni timbre, ni enchufe, ni llama, ni llamadas adentro: llame bien lejos del edificio.
    .step-4 = Quédese afuera hasta que los bomberos o la compañía de gas le permitan entrar.
urgency-carbon_monoxide = Suena la alarma de monóxido de carbono
    .step-1 = Saque a todos al aire libre, de inmediato.
    .step-2 = Llame desde afuera. Diga si alguien tiene mareo, náuseas o dolor de cabeza.
    .step-3 = Quédese afuera hasta que los bomberos le permitan entrar. El calentador queda apagado hasta que lo revise un gasista con licencia.
urgency-sparks = Chispas, humo u olor a quemado
    .step-1 = Fuego o humo: salga, cierre la puerta al salir, llame desde afuera.
    .step-2 = No toque nada que eche chispas ni nada mojado cerca. No entre en el agua.
    .step-3 = Corte el circuito en el tablero solo con las manos secas y sobre piso seco.
    .step-4 = Déjelo cortado hasta que lo revise un electricista con licencia.
urgency-sewage = Suben aguas negras
    .step-1 = Aleje de ahí a las personas y a los animales.
    .step-2 = No abra el agua ni descargue ningún inodoro, tampoco en las unidades de arriba.
    .step-3 = No entre donde lleguen a tomacorrientes, cables o aparatos.
    .step-4 = Lávese las manos y lave los zapatos antes del siguiente cuarto.
urgency-flooding = El agua corre y no se puede parar
    .step-1 = No entre en agua que llegue a tomacorrientes, cables o aparatos.
    .step-2 = Corte el agua: la llave de paso del aparato; si no, la llave general de la unidad; si no, la del edificio. No fuerce una llave de paso.
    .step-3 = Avise a la unidad de abajo.

contact-emergency = Número de emergencias
contact-gas = Compañía de gas, emergencias
contact-electricity = Compañía de electricidad, emergencias
contact-water = Compañía de agua, emergencias
contact-plumber = Plomero con licencia de guardia
contact-office = Oficina de guardia

## De dónde viene un valor

source-common_practice = práctica común
source-no_source = práctica común, sin fuente
source-computed = calculado
source-from_memory = de memoria
source-cp_refill = hay varias opiniones: 30 a 90 s es lo usual, hasta 180 s es lento, más es restringido
    .of = refill bands differ: 30 to 90 s usual, slow to 180 s, restricted beyond
source-cp_moisture = los pisos de madera junto a los aparatos marcan 16 % como máximo con medidor de agujas; los medidores difieren
    .of = wood floors near fixtures read 16 % at most on a pin meter; meters differ
source-cp_relief_test = solo donde lo piden el fabricante y las reglas locales, y por quien ellos permiten; algunas válvulas no vuelven a cerrar
    .of = only where the maker and local rules want it, by whom they allow; some valves don't close again
source-cp_anode = se cambia cuando tiene menos de media pulgada de grueso o se ve el alambre
    .of = replaced when under half an inch thick or the core wire shows
source-cp_camera = desagües de barro y de hierro fundido en edificios de 40 años o más
    .of = clay and cast-iron laterals of buildings from 40 years on
source-cp_frost = mangueras quitadas y llaves de manguera vaciadas antes de la primera helada fuerte
    .of = hoses off and bibbs drained before the first hard frost
source-cp_leak_points = donde aparece agua en un aparato de esta clase; los dibujos muestran la construcción usual
    .of = where water shows at a fixture of this kind; drawings show the usual build
source-cp_clearance_found = lo antiguo puede aceptarse como se encontró donde la autoridad local lo permite
    .of = older work may be accepted as found where the local authority allows it
source-co_test = las alarmas de monóxido de carbono se prueban cada mes, igual que las de humo
    .of = carbon monoxide alarms are tested monthly, as smoke alarms are
source-co_maker = de 5 a 10 años según el fabricante; decide la fecha de vencimiento de la alarma
    .of = 5 to 10 years by maker; the end-of-life date on the alarm decides

source-ipc_504_diameters = dos diámetros de tubo (IPC 504) de un tubo de 3/4 in
    .of = two pipe diameters (IPC 504) of a 3/4 in pipe

## Puntos de fuga

leak-point-water_closet-supply = Conexión del suministro
leak-point-water_closet-shutoff = Llave de paso
leak-point-water_closet-tank = Del tanque a la taza
leak-point-water_closet-base = Base
leak-point-basin-faucet = Grifo
leak-point-basin-supply = Conexiones del suministro
leak-point-basin-shutoff = Llaves de paso
leak-point-basin-drain = Desagüe
leak-point-basin-trap = Sifón
leak-point-bathtub-spout = Salida y cabezal
leak-point-bathtub-valve = Válvula y placa
leak-point-bathtub-drain = Rebosadero y desagüe
leak-point-bathtub-rim = Borde y junta con la pared
leak-point-shower-head = Cabezal y brazo
leak-point-shower-valve = Válvula y placa
leak-point-shower-joint = Puerta, junta con la pared y borde
leak-point-shower-drain = Plato y desagüe
leak-point-heater-cold = Entrada fría y su llave de paso
leak-point-heater-hot = Salida caliente
leak-point-heater-relief = Válvula de alivio y tubo de descarga
leak-point-heater-drain = Llave de vaciado
leak-point-heater-tank = Tanque y bandeja
leak-point-washer-shutoff = Llaves de paso
leak-point-washer-hose = Mangueras de suministro
leak-point-washer-drain = Manguera de desagüe
leak-point-washer-below = Debajo de la máquina

## Revisiones del inodoro

check-wc_tank_firm = Tanque firme sobre la taza
    .version = 1
    .ask = Sujete el tanque por los dos lados e intente moverlo.
    .method-1 = Mueva el tanque con cuidado de adelante hacia atrás y de lado a lado.
    .method-2 = Busque luz u óxido reciente en los tornillos del tanque.
    .method-3 = Apriete parejo los tornillos flojos, un cuarto de vuelta cada uno, y pare cuando el tanque asiente: la porcelana se raja.
    .pass = Firme
    .fail = Se mueve sobre la taza
check-wc_bowl_firm = Taza firme en el piso
    .version = 1
    .ask = Párese con un pie a cada lado, las rodillas contra la taza, e intente moverla.
    .method-1 = Empuje suavemente con la rodilla por cada lado.
    .method-2 = Una taza que se mueve ya rompió su sello: cálcela y vuelva a asentarla con un sello nuevo; nunca encime dos.
    .method-3 = Sobre piso flexible viejo, deténgase y pregunte antes de levantar la taza.
    .pass = Firme
    .fail = Se mueve, gira o no está atornillada
check-wc_cracks = Sin grietas en tanque, taza ni tapa
    .version = 1
    .ask = Revise el tanque, la tapa y la taza con una luz, también por detrás y por debajo.
    .method-1 = Siga con la yema del dedo cualquier línea fina: una grieta atrapa la uña, el cuarteado del esmalte no.
    .method-2 = Mire con más cuidado los tornillos del tanque, el pie de la taza y debajo de la bisagra del asiento.
    .pass = Entero
    .fail = Agrietado o roto
check-wc_seat = Asiento, tapa y palanca
    .version = 1
    .ask = Abra y cierre el asiento, muévalo hacia los lados, accione la palanca.
    .pass = Entero y ajustado
    .fail = Flojo, roto o falta
check-wc_base_joint_sealed = Junta de la base sellada todo alrededor
    .version = 1
    .ask = Mire la junta entre la taza y el piso, todo alrededor.
    .method-1 = Se pide donde el edificio usa junta sellada; el código local va primero.
    .pass = Sellada todo alrededor, firme
    .fail = Abierta, agrietada o con moho
check-wc_base_joint_rear_open = Junta de la base sellada, atrás abierta
    .version = 1
    .ask = Mire la junta entre la taza y el piso; atrás queda abierta.
    .method-1 = Se pide donde el edificio deja abierta la parte de atrás, para que se note un sello que falla; el código local va primero.
    .pass = Sellada al frente y a los lados, atrás abierta
    .fail = Abierta al frente o a un lado, o cerrada atrás
check-wc_tank_bowl_dry = Unión entre tanque y taza seca
    .version = 1
    .ask = Pase por debajo un papel seco por los tornillos del tanque y por la unión.
    .method-1 = Un tanque que suda está mojado por todas partes; una fuga moja un solo lugar.
    .pass = Papel seco
    .fail = Papel mojado en un tornillo o en la unión
check-wc_flushes = Está en su lugar y descarga
    .version = 1
    .ask = Descargue una vez: ¿hay aquí un inodoro que funcione?
    .pass = Descarga
    .fail = Falta, o no descarga
check-wc_base_dry = Base seca al descargar
    .version = 1
    .ask = Descargue, y mire y palpe todo alrededor de la base y el piso de atrás.
    .method-1 = Primero seque el piso, descargue, espere a que se llene y vuelva a pasar un papel.
    .method-2 = Huela junto a la base; un olor sin agua también es el sello.
    .method-3 = Mojado solo después de descargar: el sello. Mojado siempre: suministro, llave de paso o el tanque de arriba.
    .pass = Seca, sin olor
    .fail = Mojada, manchada o con olor
check-wc_flush_clears = La descarga limpia
    .version = 1
    .ask = Eche un puñado de papel y descargue una vez; en un cambio de inquilino, de tres a cinco veces.
    .method-1 = Una descarga en la visita anual, de tres a cinco en un cambio de inquilino.
    .method-2 = Descarga corta: el tapón cierra antes de tiempo, el nivel está bajo, los orificios están tapados o el desagüe está medio obstruido.
    .pass = Taza limpia con una descarga
    .fail = Deja papel, da vueltas o regresa
check-wc_refill = Tiempo de llenado
    .version = 1
    .ask = Mida el llenado desde el final de la descarga hasta que cierre la válvula.
    .method-1 = Empiece a contar cuando cierre el tapón de descarga, pare cuando termine el siseo.
    .method-2 = Lento: llave de paso no abierta del todo, manguera doblada, filtro tapado, poca presión.
    .of = Tiempo de llenado
check-wc_runs_on = En silencio una vez lleno
    .version = 1
    .ask = Escuche y mire dentro del tanque ya lleno: nada corre hacia el rebosadero.
    .method-1 = El nivel queda más o menos una pulgada por debajo del borde del rebosadero, o en la marca.
    .pass = Cierra, en silencio
    .fail = Sisea, o corre hacia el rebosadero
check-wc_flushes_again = No descarga ni se llena solo
    .version = 1
    .ask = Quédese hasta que el tanque esté lleno y un momento más: ni descarga otra vez ni se vuelve a llenar.
    .method-1 = El tapón se queda arriba, la cadena es muy corta o muy larga, el nivel está muy alto.
    .pass = Sigue lleno y quieto
    .fail = Descarga otra vez o se llena solo
check-wc_dye = Prueba de colorante
    .version = 1
    .ask = Ponga colorante en el tanque, no descargue en 10 minutos y luego mire la taza.
    .method-1 = Una pastilla o diez gotas de colorante de comida en el tanque, lo primero en la unidad.
    .method-2 = Haga el resto del recorrido; mire después de 10 minutos.
    .method-3 = Color en la taza es una fuga. Descargue enseguida para que nada se manche.
    .pass = Taza clara después de 10 minutos
    .fail = Color en la taza
check-wc_paper_load = Se lleva una carga completa de papel
    .version = 1
    .ask = El día de entrada, descargue dos veces una carga de diez hojas, cada una arrugada.
    .method-1 = Quédese hasta que la taza esté limpia y el tubo de abajo se la haya llevado; pare en cuanto suba.
    .pass = Se la lleva, dos veces
    .fail = Se tapa, sube o necesita destapacaños
check-wc_clearance_side = Espacio al lado
    .version = 1
    .ask = Mida desde el eje de la taza hasta la pared u obstáculo más cercano.
    .method-1 = Una vez, al registrar, y después de mover el aparato o de una remodelación.
    .method-2 = Hasta la superficie terminada; el portarrollos y las barras de apoyo no cuentan.
    .of = Del eje al lado más cercano
check-wc_clearance_front = Espacio al frente
    .version = 1
    .ask = Mida el espacio libre desde el borde delantero de la taza hasta la pared, aparato o puerta siguiente.
    .method-1 = Una vez, al registrar, y después de mover el aparato o de una remodelación.
    .of = Libre al frente
check-wc_clearance_plan = Espacios en el plano
    .version = 1
    .ask = Mida izquierda, derecha, frente y asiento, y compárelos con el perfil del edificio.
    .method-1 = Una vez, al registrar, y después de mover el aparato o de una remodelación.
    .method-2 = Hasta la superficie terminada; el portarrollos y las barras de apoyo no cuentan.
    .method-3 = Lo que falta puede aceptarse como se encontró donde la autoridad local permite lo antiguo, o debe corregirse.
    .pass = Cumplidos, o aceptados como se encontraron
    .fail = Faltan, deben corregirse

## Revisiones de lavabos, fregaderos y mingitorios

check-sink_firm = Lavabo firme y entero
    .version = 1
    .ask = Apóyese en el lavabo, mire la junta con la pared o la cubierta y toda la superficie.
    .pass = Firme, entero
    .fail = Se despega, agrietado o desportillado a fondo
check-sink_trap_dry = Sifón y desagüe secos por debajo
    .version = 1
    .ask = Llene el lavabo, suelte el agua de golpe y palpe el sifón y sus tuercas con un papel seco.
    .method-1 = Mire si el piso del gabinete tiene manchas o está hinchado.
    .method-2 = Sin olor: el sifón conserva su agua.
    .pass = Seco, sin olor
    .fail = Mojado, manchado, flojo o con olor
check-sink_drains = El lavabo desagua
    .version = 1
    .ask = Suelte un lavabo lleno: se vacía sin estancarse ni regresar.
    .pass = Se vacía libremente
    .fail = Lento, se estanca o regresa
check-faucet_sound = El grifo cierra; salen caliente y fría
    .version = 1
    .ask = Abra caliente y fría, cierre las dos, cuente las gotas medio minuto y seque la base del grifo.
    .method-1 = En una unidad vacía, deje correr el agua estancada hasta que salga clara y fresca.
    .pass = Corre, cierra, seco en la base
    .fail = Gotea, pierde por la base, o falta la caliente o la fría
check-faucet_flow = Caudal del grifo
    .version = 1
    .ask = Abra la fría por completo en una taza medidora durante diez segundos; seis veces eso es un minuto.
    .method-1 = Se pide donde se ahorra agua con números; el límite es para accesorios nuevos.
    .of = Caudal, abierto por completo
check-urinal_flushes = El mingitorio descarga y desagua
    .version = 1
    .ask = Descargue una vez; vea que se limpie, cierre y quede seco por debajo.
    .pass = Se limpia, cierra, seco
    .fail = No descarga, sigue corriendo, regresa o pierde

## Revisiones de tinas y regaderas

check-bath_whole = Superficie y juntas enteras
    .version = 1
    .ask = Revise la tina o el plato, la pared y las juntas; presione los azulejos cerca de la válvula.
    .pass = Entera, juntas cerradas, azulejos firmes
    .fail = Agrietada, juntas abiertas, azulejos blandos o flojos
check-bath_works = Corre, desvía y cierra
    .version = 1
    .ask = Abra caliente y fría, desvíe a la regadera, cierre y espere a que deje de gotear.
    .method-1 = En una unidad vacía, deje correr el agua estancada hasta que salga clara y fresca.
    .pass = Corre, desvía, cierra
    .fail = Gotea, no desvía o falta el cabezal
check-bath_usable = Está en su lugar y se puede usar
    .version = 1
    .ask = ¿Hay aquí una tina o regadera que dé agua y la desagüe?
    .pass = Se puede usar
    .fail = Sin agua, sin cabezal o no desagua
check-bath_drains = Desagüe y rebosadero secos
    .version = 1
    .ask = Suelte una pulgada de agua; mire si hay humedad en el panel de acceso o en el techo de abajo.
    .pass = Se vacía libremente, seco abajo
    .fail = Lento, regresa o mojado abajo
check-bath_hot_temperature = Agua caliente en tina o regadera
    .version = 1
    .ask = Deje correr la caliente dos minutos y ponga el termómetro en el chorro, con la mano fuera de él.
    .method-1 = Demasiado caliente: una válvula mezcladora, trabajo con licencia. Un calentador con tanque no se enfría por eso, porque en los tanques tibios crecen bacterias.
    .method-2 = A 120 F la piel de un adulto se quema en 5 minutos, a 140 F en 5 segundos (Moritz y Henriques 1947); la de niños y ancianos, antes.
    .of = Agua caliente, estable
check-shower_flow = Caudal de la regadera
    .version = 1
    .ask = Ponga una cubeta bajo la regadera abierta por completo durante treinta segundos; el doble es un minuto.
    .method-1 = Se pide donde se ahorra agua con números; el límite es para cabezales nuevos.
    .of = Caudal, abierta por completo

## Revisiones del suministro

check-supply_line_sound = Manguera de suministro y conexiones secas
    .version = 1
    .ask = Pase un papel seco por la manguera y alrededor de las dos tuercas.
    .method-1 = Busque óxido, bultos, dobleces, malla rota y tuercas de plástico agrietadas.
    .method-2 = Cámbiela a los 5 años si tiene tuerca de plástico o es de hule, a los 10 si es de malla metálica (práctica común; las aseguradoras dicen hasta 15).
    .pass = Seca y sana
    .fail = Mojada, oxidada, doblada, abultada o agrietada
check-stop_works = La llave de paso está y funciona
    .version = 1
    .ask = Encuentre la llave de paso y mírela; ciérrela y ábrala solo donde el aviso lo permite.
    .method-1 = Al alcance, seca, sin costra verde o blanca en el vástago ni en las tuercas, con su manija.
    .method-2 = Si la giró: corta el agua y no gotea después. Espere un minuto y seque el vástago.
    .method-3 = Demasiado vieja para girarla: dígalo en la nota; mirarla y dejarla así es una respuesta.
    .pass = Está, seca, y corta; o se miró y se dejó así
    .fail = Falta, gotea, corroída, trabada o no corta
check-unit_shutoff_works = Llave general de la unidad: hallada, marcada y funciona
    .version = 1
    .ask = Encuentre la llave general de la unidad, lea su marca y gírela solo donde el aviso lo permite.
    .method-1 = Con la llave cerrada, el grifo de la cocina se seca en medio minuto.
    .pass = Marcada, al alcance, seca, y corta la unidad; o se miró y se dejó así
    .fail = No se halló, tapada, gotea, trabada o no corta
check-main_shutoff_works = Llave general del edificio: hallada, marcada y funciona
    .version = 1
    .ask = Encuentre la llave general del edificio, despeje el paso, lea su marca; gírela solo donde el aviso lo permite.
    .method-1 = Avise a los residentes antes de cortar el agua, y después ábrala despacio.
    .method-2 = Una llave general que nadie ha girado en años es para un plomero con licencia.
    .pass = Marcada, al alcance, seca y libre; o se miró y se dejó así
    .fail = No se halló, tapada, gotea o trabada
check-static_pressure = Presión estática
    .version = 1
    .ask = Ponga el manómetro en una rosca de manguera con todos los grifos cerrados y léalo.
    .method-1 = Lea cuando nadie use agua; un manómetro con aguja de arrastre durante la noche muestra el máximo.
    .method-2 = Por encima del límite: válvula reductora, trabajo con licencia.
    .of = Presión estática
check-hose_bibb_frost = Llave de manguera lista para la helada
    .version = 1
    .ask = Quite las mangueras, cierre la llave interior si la hay, vacíe la llave de manguera; antes hágala correr y busque agua dentro de la pared.
    .method-1 = Corre afuera y gotea adentro: ya se congeló antes y se rajó.
    .pass = Sin manguera, vaciada, seca por dentro
    .fail = Gotea, rajada, sin rompevacío o no se puede vaciar
check-hose_bibb_sound = Llave de manguera y rompevacío
    .version = 1
    .ask = Abra y cierre la llave y mire la salida, el vástago y el rompevacío.
    .pass = Cierra, no gotea, rompevacío puesto
    .fail = Gotea, floja o falta el rompevacío
check-backflow_test = Dispositivo antirreflujo probado
    .version = 1
    .ask = Haga probar el dispositivo por un probador con licencia y guarde el informe.
    .method-1 = La compañía de agua dice quién puede probar, en qué formulario y hasta cuándo.
    .pass = El informe dice que pasó
    .fail = El informe dice que falló, o no hay informe

## Revisiones del calentador de agua

check-heater_leaks = Calentador seco
    .version = 1
    .ask = Mire con una luz el tanque, las conexiones y el piso alrededor; palpe el pie de la cubierta.
    .pass = Seco, sin rastros de óxido
    .fail = Mojado, gotea, perforado por óxido o abultado
check-heater_relief_valve = Válvula de alivio puesta y seca
    .version = 1
    .ask = Mire la válvula de alivio: puesta, sin tapón, sin goteo, con la placa legible.
    .method-1 = Solo mirar. Levantar la palanca es otra revisión, apagada hasta que se elija.
    .method-2 = Valores máximos: 210 F y 150 psi (IPC 504).
    .pass = Puesta, seca, libre
    .fail = Falta, taponada, gotea o con costra
check-heater_discharge_pipe = Tubo de descarga de la válvula de alivio
    .version = 1
    .ask = Siga el tubo desde la válvula de alivio hasta su extremo: diámetro completo, con caída, sin llave, sin rosca, sin sifón, extremo abierto.
    .pass = Está, con caída, extremo abierto
    .fail = Falta, tapado, con llave, con rosca, con sifón o sube
check-heater_discharge_height = Altura del extremo del tubo de descarga
    .version = 1
    .ask = Mida desde el extremo del tubo de descarga hasta el piso o la bandeja.
    .method-1 = También al menos dos diámetros del tubo (IPC 504): 1 1/2 in para un tubo de 3/4 in.
    .of = Extremo sobre el piso
check-heater_pan = Bandeja seca y con desagüe
    .version = 1
    .ask = Mire dentro de la bandeja y en su desagüe.
    .pass = Seca, desagüe libre; o aquí no hay ni hace falta
    .fail = Con agua, agrietada o con el desagüe tapado
check-heater_gas_connector = Conector y llave de gas
    .version = 1
    .ask = Primero quédese quieto y huela; luego mire el conector y la llave: enteros, sin dobleces, la llave junto al calentador.
    .method-1 = Huele a gas: salga, no toque ningún interruptor, llame desde afuera.
    .method-2 = Solo mirar. Las pruebas con jabón y el trabajo en el gas son para un gasista con licencia.
    .pass = Sin olor, conector y llave sanos; o aquí no hay gas
    .fail = Olor, doblado, corroído o sin llave
check-heater_flue = Ducto de gases y aire para la combustión
    .version = 1
    .ask = Siga el ducto del calentador a la chimenea y mire las entradas de aire del cuarto.
    .method-1 = Unido, con subida, sin huecos, perforaciones de óxido ni quemaduras; nada guardado contra él.
    .method-2 = Entradas de aire del clóset o cuarto abiertas, sin pelusa, sin cosas guardadas.
    .pass = Unido, con subida, entradas de aire libres; o aquí no hay ducto
    .fail = Suelto, perforado por óxido, quemado o sin aire
check-heater_hot_water = Llega agua caliente
    .version = 1
    .ask = Abra la caliente en el grifo más cercano hasta que llegue.
    .pass = Llega caliente
    .fail = Sigue fría o tibia
check-heater_relief_test = Válvula de alivio accionada
    .version = 1
    .ask = Donde se eligió, y solo con un tubo de descarga sano y un desagüe: levante la palanca, deje correr, deje cerrar.
    .method-1 = Algunas válvulas no vuelven a cerrar: tenga una nueva a mano.
    .method-2 = El fabricante y las reglas locales dicen si se hace, cada cuánto y por quién.
    .pass = Corrió libre y cerró bien
    .fail = Trabada, o no cierra
check-heater_anode = Ánodo
    .version = 1
    .ask = Donde se eligió: enfríe y vacíe por debajo del ánodo, sáquelo, mida su parte más delgada.
    .of = Parte más delgada

## Revisiones de aparatos con manguera y extractores

check-washer_hose_sound = Manguera de la lavadora
    .version = 1
    .ask = Mire y palpe la manguera y los dos extremos; lea su fecha si la tiene.
    .method-1 = Bultos, grietas, óxido en el casquillo: cámbiela por una de malla.
    .method-2 = Cámbiela cada 5 años aunque se vea bien (IBHS).
    .pass = Seca, sin bultos ni grietas, no pasa de 5 años
    .fail = Mojada, abultada, agrietada, oxidada o de más de 5 años
check-washer_drain = Manguera de desagüe de la lavadora
    .version = 1
    .ask = Vea que la manguera esté sujeta en el tubo vertical y busque manchas alrededor; haga un desagüe corto si la máquina es nuestra.
    .pass = Sujeta, sin manchas
    .fail = Floja, se desbordó o rota
check-dishwasher_dry = Lavavajillas seco y desagua
    .version = 1
    .ask = Ábralo, mire el fondo, el sello de la puerta y el piso de enfrente; póngalo a desaguar.
    .pass = Desagua, seco alrededor
    .fail = Queda agua, pierde por la puerta o por debajo
check-dishwasher_drain_hose = Manguera de desagüe del lavavajillas en alto
    .version = 1
    .ask = Mire bajo la cubierta: la manguera sube hasta la cara inferior o hasta un cierre de aire antes de bajar.
    .pass = Curva alta o cierre de aire, seca
    .fail = Sin curva, floja o mojada
check-disposer_works = El triturador gira y está seco
    .version = 1
    .ask = Abra el agua y enciéndalo un momento; palpe por debajo con un papel. Nunca meta la mano.
    .pass = Gira parejo, seco por debajo
    .fail = Zumba, se traba, pierde o vibra
check-ice_maker_line = Máquina de hielo seca
    .version = 1
    .ask = Mire el piso detrás y debajo del refrigerador, donde termina la manguera.
    .pass = Seco
    .fail = Mojado, manchado o manguera doblada
check-exhaust_fan_draws = El extractor jala aire
    .version = 1
    .ask = Enciéndalo y ponga una hoja de papel delgado contra la rejilla.
    .pass = Sostiene el papel
    .fail = Mudo, o el papel cae

## Revisiones de desagües

check-trap_holds = El sifón conserva el agua
    .version = 1
    .ask = Mire dentro del sifón, llénelo con una cubeta de agua y vea que el nivel se mantenga.
    .method-1 = En una unidad vacía los sifones se secan en semanas: cada desagüe recibe agua.
    .method-2 = Rejilla puesta, sin olor.
    .pass = Lleno, el nivel se mantiene, sin olor
    .fail = El nivel baja, hay olor o falta la rejilla
check-floor_drain_clears = La coladera desagua
    .version = 1
    .ask = Eche de golpe una cubeta de agua y vea cómo se va.
    .pass = Se va libremente
    .fail = Se estanca o regresa
check-sump_runs = La bomba de sumidero trabaja
    .version = 1
    .ask = Eche agua en el pozo hasta que suba el flotador: la bomba arranca, vacía y para sola.
    .method-1 = Escuche que cierre la válvula de retención: el agua cae una vez, no una y otra vez.
    .method-2 = La salida de afuera corre libre.
    .pass = Arranca, vacía, para
    .fail = No arranca, no para o trabaja en seco
check-sump_check_valve = La válvula de retención del sumidero aguanta
    .version = 1
    .ask = Cuando pare la bomba, mire el pozo un minuto: el nivel se mantiene.
    .pass = El nivel se mantiene
    .fail = El agua regresa, o la válvula pierde
check-main_drain_cleanout = Registros tapados y secos
    .version = 1
    .ask = Encuentre cada registro y vea que su tapa esté puesta, seca y al alcance.
    .pass = Tapados, secos, al alcance
    .fail = Falta la tapa, gotea o está enterrado
check-main_drain_camera = Inspección del desagüe principal con cámara
    .version = 1
    .ask = Haga recorrer el tubo con una cámara del registro a la red, y guarde la grabación y la distancia de cada falla.
    .method-1 = Raíces, desvíos, panzas, grietas, y a qué distancia del registro.
    .pass = Libre y entero
    .fail = Raíces, panza, desvío, grieta o derrumbe

## Revisiones de pisos y del espacio bajo el piso

check-floor_around = Piso alrededor firme y seco
    .version = 1
    .ask = Camine y presione el piso alrededor del aparato; busque manchas, bordes levantados y juntas oscuras.
    .method-1 = Blando o manchado: tome una lectura de humedad.
    .pass = Firme, seco, sin manchas
    .fail = Blando, manchado, levantado o mojado
check-floor_moisture = Humedad del piso
    .version = 1
    .ask = Mida el piso junto al aparato con el medidor de agujas, y una vez en el centro del cuarto para comparar.
    .method-1 = Anote la lectura más alta junto al aparato.
    .of = Lectura más alta junto al aparato
check-crawl_space_wood = Madera sana bajo los cuartos con agua
    .version = 1
    .ask = Desde abajo, mire el entrepiso y las vigas bajo cada baño, cocina y lavandería; presione la madera oscura con un punzón.
    .pass = Dura, seca, sin manchas
    .fail = Blanda, manchada o mojada
check-crawl_space_dry = Espacio bajo el piso seco
    .version = 1
    .ask = Mire el suelo y siga las tuberías: sin agua estancada, sin goteo, sin aguas negras, con la cubierta del suelo puesta.
    .pass = Seco
    .fail = Agua estancada, goteo o aguas negras
check-crawl_space_moisture = Humedad de la madera por debajo
    .version = 1
    .ask = Mida las vigas bajo cada cuarto con agua con el medidor de agujas y anote la lectura más alta.
    .of = Lectura más alta

## Revisiones de alarmas y tomacorrientes GFCI

check-smoke_alarm_sounds = La alarma de humo suena
    .version = 1
    .ask = Presione el botón de prueba: suena, y también las otras a las que está unida.
    .method-1 = Avise antes a quien esté en casa, y a la central de monitoreo donde la haya.
    .pass = Suena
    .fail = Falta, muda, tapada o pita
check-smoke_alarm_in_date = Alarma de humo de menos de 10 años
    .version = 1
    .ask = Bájela y lea atrás la fecha de fabricación.
    .pass = Menos de 10 años desde su fabricación
    .fail = 10 años o más, o sin fecha
check-alarm_battery = Pila de la alarma nueva
    .version = 1
    .ask = Ponga una pila nueva, o vea que sea de las selladas de diez años y muestre carga.
    .pass = Nueva, o sellada y con carga
    .fail = Débil, equivocada o falta
check-co_alarm_sounds = La alarma de monóxido de carbono suena
    .version = 1
    .ask = Presione el botón de prueba hasta que suene.
    .method-1 = Si suena sola: todos afuera, aire libre, llame a los bomberos desde afuera.
    .pass = Suena
    .fail = Falta, muda o pita
check-co_alarm_in_date = Alarma de monóxido de carbono dentro de su vida útil
    .version = 1
    .ask = Lea atrás la fecha de vencimiento.
    .pass = Antes de la fecha de vencimiento del fabricante
    .fail = Vencida, o sin fecha
check-gfci_trips = El GFCI dispara y se restablece
    .version = 1
    .ask = Conecte una lámpara o un probador, presione prueba: sin corriente; presione restablecer: con corriente.
    .pass = Dispara y se restablece
    .fail = No dispara, no se restablece, agrietado o abierto
check-smoke_alarm_monthly = Alarma de humo, prueba mensual del residente
    .version = 1
    .ask = Presione el botón de prueba hasta que suene, y avise si no suena.
    .pass = Suena
    .fail = No suena
check-co_alarm_monthly = Alarma de monóxido de carbono, prueba mensual del residente
    .version = 1
    .ask = Presione el botón de prueba hasta que suene, y avise si no suena.
    .pass = Suena
    .fail = No suena
check-gfci_monthly = GFCI, prueba mensual del residente
    .version = 1
    .ask = Presione prueba y luego restablecer, y avise si el tomacorriente no se queda sin corriente y la recupera.
    .pass = Dispara y se restablece
    .fail = No dispara o no se restablece

## Puntos de fuga como revisión

check-leak_points_water = Puntos de fuga secos
    .version = 1
    .ask = Pase un papel seco por cada punto del dibujo: seco, húmedo, gotea o chorro.
    .method-1 = Toque el punto en el dibujo; cuente las gotas durante un minuto, recoja un chorro en una taza.
    .method-2 = Un tanque o tubo que suda está mojado por todas partes; una fuga moja un solo lugar.
    .pass = Seco en cada punto que se miró
    .fail = Húmedo, gotea o corre
check-leak_points_sewage = Base seca, vista en el dibujo
    .version = 1
    .ask = Descargue y luego pase un papel seco todo alrededor de la base: seco, húmedo, gotea o chorro.
    .pass = Seca todo alrededor
    .fail = Húmeda, gotea o corre
