### No, and what to type instead: every refusal, and what the privacy guard found.

## Rights and set-up

fault-cannot-go-other = { $who } va en camino a **{ $surface }**, así que solo { $who } puede decirlo.
fault-cannot-go-nobody = Ahora nadie va en camino a **{ $surface }**: ya se avisa a los demás.
fault-not-safe-nobody = Nadie ha dicho que la persona en **{ $surface }** está a salvo: no hay nada que deshacer.
fault-not-safe-late = Esto se puede deshacer durante { $minutes } minutos. ¿La persona en **{ $surface }** está en peligro ahora? Vaya y llame a enfermería de viva voz.
fault-role = Para { $act } hace falta { $count ->
        [one] el rol { $roles }. Pídaselo a alguien que lo tenga.
       *[other] uno de estos roles: { $roles }. Pídaselo a alguien que lo tenga.
    }
fault-role-alarm = Para { $act } hace falta uno de estos roles: { $roles }. **¿Da alarma una superficie? Dígaselo ahora a enfermería, en persona.**
act-read = **leer esto**
act-check = **revisar el aire**
act-raise-alarm = **reportar una alarma**
act-answer-alarm = **atender una alarma**
act-call-roll = **pasar lista en un corte de luz**
act-pull = **poner fuera de servicio**
act-upkeep = **limpieza, filtros y puesta a punto**
act-place = **colocar, mover y quitar superficies**
act-setting = **cambiar un ajuste**
act-gaps = **los huecos de una cama**
act-duty = **tener una unidad**
act-hand-over = **recibir un turno**
act-maintain = **pruebas, reparaciones y existencias**
act-spares = **buscar una superficie**
act-read-recalls = **leer un retiro**
act-frames = **los armazones de camas**
act-look-again = **mirar por segunda vez**
act-supervise = **lo que decide supervisión**
act-amend = **corregir una anotación**
act-countersign = **dar el visto bueno a una anotación ajena**
act-read-fleet = **leer el inventario**
act-change-fleet = **cambiar el inventario**
act-reckon = **lo que cuestan las superficies**
act-settings = **la configuración de la residencia**
act-policy = **cambiar una norma**
act-confirm-policy = **aceptar un cambio de norma**
act-read-settings = **leer la configuración de la residencia**
act-read-evidence = **leer pruebas y alquileres**
act-read-shelf = **leer las existencias**
fault-not-set-up = loftwatch todavía no está configurado aquí. Quien administra este chat escribe `/facility setup`.
fault-unknown-command = No conozco este comando. Escriba `/help` para verlos todos.
fault-same-role = Auxiliar, enfermería, supervisión y mantenimiento deben ser roles del chat distintos. Elija otra vez.
fault-role-everybody = **{ $option }**: `@everyone` no es un rol que se pueda elegir. El chat no cuenta a nadie con él ni avisa a nadie por él. Cree un rol del chat, déselo solo a las personas de este trabajo y elija ese.
fault-set-up-lacks = La primera vez escriba también: { $these }.
fault-set-up-nothing = Escriba solo lo que cambia, por ejemplo `/facility setup beds-in-posts:yes`. Lo que vale ahora: `/facility show`
fault-zone = No conozco la zona horaria "{ $typed }". Escriba la de una ciudad, por ejemplo America/Chicago.
fault-zone-near = No conozco la zona horaria "{ $typed }". ¿Quiso decir: { $these }?
fault-ladder-order = Cada aviso debe venir más tarde que el anterior, por ejemplo first:5 second:10 third:15.
fault-policy-name = No conozco la norma "{ $typed }". `/facility show` las muestra todas, por páginas.
fault-policy-value = No entiendo este valor. **{ $name }** va de { $least } a { $most }, por ejemplo { $default }.
fault-price-none = ¿Cuánto cuesta comprar una? Escriba `price`, por ejemplo 4200.
fault-policy-comma = No entiendo una coma en un número. Escriba **{ $name }** con un punto antes de los centavos y sin otro signo, por ejemplo 45.50
fault-policy-whole = **{ $name }** solo admite números enteros, por ejemplo 6.
fault-policy-bounds = No se fijó: **{ $name }** debe ir de { $least } a { $most }, por ejemplo { $default }.
fault-policy-crossed = No se fijó: **air-low** debe ser siempre menos que **air-high**. Cambie primero el otro.
fault-policy-shifts = No se fijó: los turnos deben dividir el día en partes iguales. Escriba 6, 8 o 12 h.

## Options

fault-missing = Falta **{ $option }**. Escriba otra vez el comando y complétela.
fault-too-long = **{ $option }** es demasiado larga. Use como máximo { $most } caracteres.
fault-not-a-choice = **{ $option }** debe ser una de estas: { $choices }
fault-not-whole = **{ $option }** debe ser un número entero, por ejemplo 2.
fault-out-of-range = **{ $option }** debe ir de { $least } a { $most }.
fault-stale-tap = Este botón ya no funciona y no se anotó nada. Escriba el comando en su lugar, por ejemplo `/due`.
fault-card-old = Esta ficha es de otro turno, así que no se anotó nada. Escriba `/round` o `/due` para una nueva.

## Air

fault-air-empty = ¿Cuánto aire? Escriba 1 1/4, 3/4", 3 cm, o ninguno si no se pudo comprobar.
fault-air-unit = ¿{ $number } de qué? Escriba { $one } o { $other }.
fault-air-unit-one = ¿{ $number } de qué? Escríbalo con su unidad: { $one }.
fault-air-negative = El aire no puede ser menos que nada. Escriba 0 si la mano toca la base.
fault-air-deep = Eso es más de { $most }, demasiado hondo para una lectura. Escriba 1 1/4, 3/4" o 3 cm.
fault-air-two = Veo dos números. Escriba solo la lectura, por ejemplo 1 1/4 o 3 cm.
fault-air-fraction = No entiendo esta fracción. Escriba 1/4, 1/2, 3/4 o 1 1/4 en pulgadas, o 3 cm.
fault-air-unknown-unit = No conozco esta unidad. Escriba in, cm o mm: 1 1/4 in, 3 cm, 30 mm.
fault-air-none = No veo ningún número. Escriba 1 1/4, 3/4", 3 cm, o ninguno si no se pudo comprobar.

## Moments

fault-when-shape = ¿Cuándo fue? Escriba 13:40 o hace 20 min.
fault-when-unit = ¿Minutos u horas? Escriba hace 20 min o hace 2 h.
fault-when-future = { $at } todavía no ha llegado. Escriba cuándo metió la mano, por ejemplo 13:40 o hace 20 min.
fault-when-old = Fue hace demasiado tiempo. Se puede anotar desde el { $oldest }.
fault-when-skipped = Los relojes saltaron esa hora. La primera que hubo después es { $next }.
fault-when-half-day = ¿{ $second } o { $first }? Escríbalo así, o con am o pm.
fault-entry-tag-none = { $surface } es una superficie, y una entrada tiene un número. No hay ninguna suya que se pueda corregir: mire en `/timeline`.
fault-when-twice = Los relojes mostraron esa hora dos veces. Escriba cuánto hace, por ejemplo hace 3 h.

## Surfaces, beds, units

fault-no-surface = Ninguna superficie tiene la etiqueta "{ $typed }" ni está en una cama con ese nombre. Escriba una etiqueta o una cama, por ejemplo LW-07 o 103.
fault-no-surface-near = No encuentro "{ $typed }". ¿Quiso decir: { $these }?
fault-which-surface = "{ $typed }" puede ser: { $these }. Escriba la etiqueta o la cama completa.
fault-no-unit = No hay ninguna unidad "{ $typed }". Escriba una de estas: { $these }
fault-no-units = Todavía no hay unidades. Administración escribe `/facility unit`.
fault-round-unit = ¿Qué unidad? Escriba `/round unit:` y una de estas: { $these }
fault-no-bed = No hay ninguna cama "{ $typed }". Elija una de la lista que sale mientras escribe.
fault-no-bed-near = No hay ninguna cama "{ $typed }". ¿Quiso decir: { $these }?
fault-bed-empty = La cama { $bed } no tiene ahora ninguna superficie. Escriba la etiqueta de la superficie, por ejemplo LW-07.
fault-bed-taken-swap = En la cama { $bed } ya está { $other }. Para poner { $tag } en su lugar: `/swap bed:{ $bed } surface:{ $tag }`.
fault-bed-taken = En la cama { $bed } ya está { $tag }. Quite esa primero, o elija otra cama.
fault-bed-elsewhere = La cama { $bed } es de { $unit }. No la ponga aquí, o elija en **take** sí y pasa con lo que tiene puesto.
fault-unit-in-use = La unidad no se quita: { $tag } está en la cama { $bed } de { $unit }. Antes quite o mueva lo que hay en sus camas, o pase la cama a otra unidad con `/facility unit`.
fault-unit-outage = La unidad { $unit } no se quita: está sin corriente. Antes diga en su tarjeta que volvió la corriente.
fault-capacity = No puedo usar "{ $typed }" como carga. Escriba libras o kilogramos, por ejemplo 600 lb o 272 kg, hasta { $most } lb.
fault-currency = No puedo usar "{ $typed }" como moneda. Escriba su signo, como €, o su código de tres letras, como USD; `ninguna` para importes sin él.
fault-bed-in-use = La cama { $bed } no se puede sacar: tiene { $tag }. Quite esa primero, o deje la cama.
fault-unit-name = El nombre de una unidad es corto, como máximo { $most } letras, cifras, espacios y solo los signos - _ . / & ( ) + '. Escriba uno como Elm.
fault-too-many-units = Ya hay { $most } unidades, que es el máximo.
fault-beds-empty = ¿Qué camas? Escríbalas así: 101-112, 114A.
fault-beds-name = No entiendo "{ $piece }" como cama. Escriba camas así: 101-112, 114A.
fault-beds-backwards = "{ $piece }" va al revés. Escriba primero el número menor, por ejemplo 101-112.
fault-beds-letters = "{ $piece }" es un tramo con letras. Escriba esas camas una por una, por ejemplo 114A, 114B.
fault-beds-twice = La cama { $bed } está dos veces. Escríbala una vez.
fault-beds-many = Son más de { $most } camas. Haga dos unidades con ellas.
fault-under-no-bed = { $tag } no está en ninguna cama, así que aquí no hay nada que hacer. Enfermería la pone en una con `/place`.
fault-before-placed = { $tag } está ahí solo desde el { $since }. Escriba una hora más tardía.
fault-placed-already = { $tag } ya está en la cama { $bed }. Quítela de allí primero.
fault-not-ready = { $tag } no está lista. Falta: { $missing }. Elija otra de la lista, o termine esta primero.
fault-out-of-service = { $tag } está fuera de servicio desde el { $since }. Elija otra: mientras escribe, la lista muestra las que están listas.
fault-retired = { $tag } está dada de baja. Elija otra.
fault-retire-under = { $tag } está en la cama { $bed }. Enfermería la quita primero con `/release`.
fault-ready-already = { $tag } ya está lista. No queda nada por hacer.
fault-no-turnover = { $surface } no está en puesta a punto. Si ya no hay nadie encima, enfermería escribe primero `/release`.
fault-clean-still-under = { $tag } sigue en una cama. Enfermería la quita primero con `/release`. Para limpiarla donde está: elija el motivo de rutina o por suciedad.
fault-no-filter = { $tag } no tiene filtro, según su perfil. No hay nada que anotar.
fault-filter-not-rinsed = { $tag } tiene un filtro que no se enjuaga, según su perfil. Ponga uno nuevo y elija que se cambió, o que se dejó puesto.
fault-tag = Una etiqueta tiene letras, cifras y guiones, como máximo { $most }, por ejemplo LW-41.
fault-tag-taken = { $tag } ya está en el inventario. Use otra etiqueta.
fault-no-profile = No hay ningún perfil "{ $typed }". Escriba uno de estos: { $these }
fault-export = No se pudo hacer el archivo. Pruebe otra vez, y si vuelve a fallar avise a quien maneja loftwatch.
fault-file-large = El archivo es demasiado grande. Puede tener { $most } MB. Divídalo.
fault-file-unavailable = El chat no entregó el archivo. Mande otra vez el comando.
fault-file-foreign = Este archivo no viene del chat mismo. Adjúntelo al comando.

## Alarms and taking back

fault-alarm-over = La alarma de { $tag } terminó { $at }. { $who }
fault-alarm-unknown = Esta alarma ya terminó. Si vuelve a sonar, escriba `/alarm`.
fault-alarm-bottomed-out = { $tag } toca fondo. Eso solo lo cierra una comprobación adecuada: toque **Resuelto** en su ficha.
fault-take-back-newer = Esto ya no se puede deshacer: hay algo más nuevo sobre { $tag }. Anote lo que vale ahora.
fault-take-back-other = Solo puede deshacer una anotación quien la hizo.
fault-take-back-late = Una anotación se puede deshacer durante { $minutes } minutos. Anote lo que vale ahora, con una nota.
fault-take-back-no-bed = La residencia ya no tiene la cama { $bed }, así que esto no se puede deshacer. Anote lo que vale ahora.
fault-take-back-taken = Alguien va en camino a { $tag } por esto. Avísele, y después toque **Resuelto** en la ficha.

## Schedules

fault-schedule-shape = ¿Cuándo? Escriba cada día 07:00, días laborables 06:45, cada 8h desde las 07:00, nunca, o una línea cron.
fault-schedule-time = No entiendo la hora. Escriba horas y minutos, por ejemplo diario 07:00 o viernes 15:30.
fault-schedule-twice = La misma hora está dos veces. Escríbala una vez.
fault-schedule-hours = Cada { $hours } horas no divide el día en partes iguales. Escriba 1, 2, 3, 4, 6, 8 o 12 h, por ejemplo cada 8h desde las 07:00.
fault-schedule-from = ¿Desde cuándo? Escríbalo así: cada 8h desde las 07:00.
fault-schedule-fields = Una línea cron tiene 5 campos y esta tiene { $found }. Más fácil: cada día 07:00.
fault-schedule-field = No entiendo esta línea cron. Más fácil: cada día 07:00 o días laborables 06:45.
fault-schedule-weekday = Escriba los días de la semana con palabras, por ejemplo MON-FRI: los números no significan lo mismo para todos.
fault-schedule-day-and-weekday = Escriba el día del mes o el día de la semana, no los dos.
fault-schedule-often = Es demasiado seguido. Deje al menos { $least } minutos entre dos publicaciones.
fault-schedule-never = Eso no llegaría nunca. Escriba un día que exista.

## The privacy guard. Neither the text nor what was found in it is repeated.

fault-private = No se anotó nada. Su texto parece tener { $what }. Escríbalo otra vez solo sobre la superficie: camas y etiquetas, nada de personas. Si está en un mensaje, borre ese mensaje.
private-social = un número de seguro social o de identidad
private-record-number = un número de expediente
private-birth-date = una fecha de nacimiento
private-phone = un número de teléfono
private-address = dónde vive alguien
private-email = un correo electrónico
private-link = una dirección web
private-age = la edad de alguien
private-weight = el peso de alguien
private-diagnosis = un diagnóstico
private-serial = un número de serie
private-name = el nombre de una persona
fault-alarm-pulled = { $tag } está fuera de servicio, así que nada en ella cuenta como resuelto. La alarma termina cuando enfermería ponga otra superficie en su lugar: `/swap`
fault-tag-is-bed = { $bed } es una cama aquí, y una etiqueta con ese nombre se confundiría con ella. Póngale otra etiqueta, por ejemplo LW-41.
fault-bed-is-tag = { $tag } es la etiqueta de una superficie, y una cama con ese nombre se confundiría con ella. Póngale otro nombre a la cama.

fault-day = "{ $typed }" no es un día que yo entienda. Escríbalo así, que es hoy: { $example }
fault-day-span = No puedo leer "{ $typed }" como día. Escriba 2 semanas, 6 meses, 1 año, o un día así, que es hoy: { $example }
fault-day-past = "{ $typed }" no es un día que pueda leer. Escriba ayer, hace 3 días, 2 de marzo, o un día así, que es hoy: { $example }
fault-day-which = "{ $typed }" puede ser { $first } o { $second }. Escriba el que quiere decir, tal como está aquí.
fault-day-ahead = { $typed } todavía no ha llegado. Escriba el día en que se hizo.

fault-policy-near = No conozco la norma "{ $typed }". ¿Quiso decir: { $these }? `/facility show` las muestra todas.
fault-policy-yes-no = No entiendo este valor. **{ $name }** es sí o no.
fault-policy-beds = No se cambió: quién aprobó las camas se anota al configurar. Escriba `/facility setup` y elija en beds-in-posts sí, cuando las apruebe su responsable de privacidad.
fault-wish-gone = Ya nadie pide este cambio, así que no se cambió nada. Vea `/facility show`.
fault-wish-own = Usted pidió este cambio, así que debe estar de acuerdo otra persona de supervisión. Para pararlo: `/facility show`
fault-wish-of-other = { $who } pidió este cambio y lo retira. Supervisión puede no aceptarlo.
fault-schedule-none = No hay ninguna lista así que parar: { $what }. Vea `/facility show`.
fault-approved-alone = Qué superficies se aprueban espera a supervisión. Escríbalo solo, y aparte las medidas, las barandillas y la toma.
fault-unit-empty = No se cambió: { $unit } quedaría sin camas. Déjele una, o dé menos a esta unidad.
