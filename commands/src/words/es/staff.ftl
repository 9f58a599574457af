### Agency staff, sign-offs, looking a second time, the pace of a round.

## What each command and option is for

about-agency = Dar entrada por un turno a alguien de una agencia
about-signoff = Autorizar a alguien para una tarea en un perfil o, sin nada más, ver todas las autorizaciones
about-team = Ver quién tiene entrada y qué autorizaciones terminan pronto

option-agency-person = Quién trabaja aquí este turno. Elija de la lista
option-agency-role = Como qué: auxiliar o enfermería
option-agency-until = Hasta cuándo, por ejemplo 15:30 u 8 h. Termina por sí solo
option-signoff-person = A quién se autoriza. Elija de la lista
option-task = Qué puede hacer: comprobación a mano, instalación, limpieza, filtro o puesta a punto
option-signoff-profile = El perfil de las superficies
option-renew = Último día en que vale, por ejemplo 2027-03-31, 2 semanas o 6 meses
option-team-person = Una persona, para ver y terminar sus autorizaciones

fault-person-pick = Elija a alguien de la lista del chat en **{ $option }**; un nombre escrito no se lee.
fault-person-program = Eso es un programa, no una persona. Elija a una de las personas de aquí.
fault-person-outside = Esa persona no está en este chat. Invítela primero y elíjala de nuevo.

## Let in for a shift

let-in = { $who } tiene entrada como **{ $role }** hasta el { $until }. Termina sola.
let-in-before = Antes: { $role } hasta el { $until }. Eso ya no vale.
# Quien ya tiene un rol de la residencia: se pregunta antes de anotar nada.
let-in-own = { $who } ya es de esta residencia ({ $own }), no de una agencia. No se anotó nada. Con la entrada, además puede actuar como **{ $role }** hasta el { $until }.
let-in-own-same = { $who } ya es de esta residencia ({ $own }) y puede hacer todo eso sin la entrada. No se anotó nada.
button-let-in = Darle entrada igual
let-in-next = Se le avisa en el canal. Lo primero que ve aquí es una pantalla para leer. En una alarma nunca se le detiene.
let-in-ended = { $who } ya no tiene entrada.
post-let-in = { $who }: { $by } le da entrada como **{ $role }** hasta el { $until }. Su primer paso aquí muestra una pantalla para leer; una alarma va antes. Después: `/round`, `/due`, `/alarm`
post-let-in-ended = { $who } tenía entrada por un turno. { $by } la terminó, { $at }.
button-out = Terminar ahora
button-out-of = Terminar la { $number }
fault-agency-self = No puede darse entrada a usted. Puede otra persona de supervisión.
fault-out-already = Eso ya terminó o se cambió después. Vea `/team`
fault-let-in-over = Tenía entrada hasta el { $until } y ya terminó, así que no se hizo nada. ¿Es una alarma? Llame ya a enfermería de viva voz. Supervisión puede darle entrada otra vez: `/agency`
# Debajo de la respuesta a una alarma de alguien cuyo turno terminó.
shift-over-called = Su turno terminó a las { $until }, y el aviso lo dice. Hasta las { $last } todavía puede dar una alarma, y nada más: diga a quien venga lo que oyó. Supervisión puede darle entrada otra vez: `/agency`
shift-over = Su turno terminó a las { $until }. Hasta las { $last } todavía puede dar una alarma, y nada más. Supervisión puede darle entrada otra vez: `/agency`
# Todo lo demás, mientras todavía puede dar una alarma.
fault-let-in-over-soon = Tenía entrada hasta el { $until } y ya terminó, así que no se hizo nada. ¿Es una alarma? `/alarm` le sirve todavía hasta el { $last }; si hay duda, llame a enfermería de viva voz. Para lo demás, supervisión puede darle entrada otra vez: `/agency`

## The primer: one screen of a phone

primer-head = **Lea esto una vez** ({ $role } hasta las { $until }).
primer-hand = **Mano plana** bajo la parte más baja: { $low } a { $high } de aire. Menos: llame a enfermería.
primer-feel = Fichas **mirar y palpar**: sin mano debajo.
primer-no-check = Sin comprobación: lo dice la ficha.
primer-alternating = Las celdas se llenan por turnos: bien.
primer-low-air-loss = Por algunas fundas sale aire: bien.
# Las dos cosas donde hay de ambas, en una línea.
primer-both-kinds = Celdas por turnos y fundas con aire: bien.
primer-alarm = **¿Alarma, desinflada?** La persona, luego `/alarm`; si duda, de viva voz. Callada no es resuelta.
primer-never = **Nunca** lo deje desenchufado, lo ajuste sin enfermería, agregue capas ni escriba nombres.
primer-nurse = **Pregunte a**: { $nurses }
primer-for-nurse = **Pregunte a**: { $supervisors }
primer-phone = **Teléfono**: { $words }
primer-foot = Primero: plan, normas, fabricante, enfermería.
button-primer-read = Lo he leído
primer-read = Gracias, anotado.
primer-read-already = Ya lo había leído. Gracias.
primer-begin = **Ya puede empezar.** Pregunte a enfermería qué unidad le toca.
primer-begin-alarm = **Ya puede empezar.** Primero: hay una alarma abierta en { $unit }. Lea su tarjeta en el canal y vaya o pregunte.
primer-begin-round = **Ya puede empezar.** Primero: la ronda de { $unit }. { $count ->
        [one] Toca 1 revisión.
       *[other] Tocan { $count } revisiones.
    }
primer-begin-nothing = **Ya puede empezar.** Ahora no toca ninguna revisión en { $unit }. Pregunte a enfermería qué va primero.
primer-next = Tiene entrada hasta el { $until }. Ahora: `/round`, `/due`, `/alarm`, `/help`
# Lo que habían escrito antes de leer esto, y el botón que lo hace.
primer-typed = Había escrito: `{ $line }`
button-primer-go = Seguir con eso
fault-primer-not-yours = Esto es para quienes tienen entrada por un turno, y usted ahora no la tiene.

## Sign-offs

task-hand-check = comprobación a mano
task-set-up = instalación
task-cleaning = limpieza
task-filter = filtro
task-turnover = puesta a punto

signed-off = { $who } tiene autorización para **{ $task }** en **{ $profile }** hasta el { $renew }.
signed-off-before = Antes: hasta el { $renew }.
sign-off-ended = { $who } ya no tiene autorización para **{ $task }** en **{ $profile }**.
button-end-sign-off = Terminar autorización
menu-end-sign-off = Terminar una autorización…
fault-sign-off-self = No puede autorizarse a usted. Puede otra persona de supervisión.
fault-sign-off-gone = Esa autorización ya terminó o se renovó después. Vea `/team`
fault-sign-off-task = **{ $profile }** no tiene { $task } que autorizar, así que no se anotó nada. Tiene: { $these }.
fault-renew = { $typed } no puede ser el último día. Escriba un día desde mañana hasta el { $latest }, por ejemplo { $latest }.

## The team

team-nobody = **Ahora nadie tiene entrada.** `/agency` da entrada por un turno.
team-head = **Con entrada ahora ({ $count })**
team-let-in = { $who }: { $role } hasta el { $until }{ $unit }
team-on-duty = **De turno ahora ({ $count })**
team-on-duty-line = { $number }. { $who }: { $unit } hasta las { $until }
team-on-duty-entry = { $number }: { $role }, { $unit }
menu-relieve = Alguien ya no está aquí…
team-soon = **Autorizaciones que terminan en 30 días o ya terminaron ({ $count })**
team-none-soon = Ninguna autorización termina en 30 días.
team-sign-off = { $task }, { $profile }
team-more = …y { $count } más
team-foot = Otras que valen: { $count }. Las de una persona: `/team` con **person**
team-one = { $who } no tiene entrada ahora.
team-was-in = Tuvo entrada como { $role } de { $from } a { $until }, por { $by }.
sign-offs-none = No hay ninguna autorización anotada. `/signoff` con person, task y profile hace una.
sign-offs-over = **Vencidas ({ $count })**
sign-offs-soon = **Terminan en 30 días ({ $count })**
sign-offs-hold = **Valen ({ $count })**
sign-offs-foot = Estas son todas. Las de una persona, y terminar una: `/team` con **person**
button-sign-offs-more = Ver más
team-no-sign-off = No hay ninguna autorización anotada.
sign-off-until = hasta el { $renew }
sign-off-over = **terminada** desde el { $renew }
renew-due = **Autorizaciones por renovar ({ $count })**: { $names }. Vea `/team`

## Looking a second time

second-wanted = Anotado. Otra persona lo mirará también, porque aquí todavía nadie le autorizó para esto.
second-wanted-soon = Anotado. Estaba baja hace un momento: se pide a enfermería que la mire también.
second-wanted-outside = Anotado. Otra persona lo mirará también, como con todos los que están por un turno.
second-settled = Vale también como segunda mirada a lo que anotó { $who } ({ $task }).
second-head = **{ $surface }**: falta una segunda mirada: { $task }, lo anotó { $who }, { $at }.
second-how = Mírelo usted. ¿Está bien? Toque. Si no, anote lo que encuentre.
second-looked = **{ $surface }**: anotado, usted lo miró también ({ $task }, lo anotó { $who }).
second-already = **{ $surface }**: { $who } ya lo miró, { $at } ({ $task }).
button-looked = Lo miré, está bien
button-looked-at = Bien: { $task }
fault-second-own = Es su propia anotación: la mira otra persona.
fault-second-may = Lo mira enfermería, supervisión o alguien con autorización para esto. Gracias por preguntar.
fault-second-over = Nada de **{ $tag }** espera ya por esto: hay algo más nuevo o cambió de lugar. Vea `/surface`
surface-second-wanted = **Falta segunda mirada**: { $task }, { $who }, { $at }
surface-second-seen = Segunda mirada: { $task } de { $who }, la miró { $by }, { $at }
due-second-check = **Segunda mirada ({ $count })**:{ " " }
due-second-check-short = mirar otra vez
handover-second = - Faltan segundas miradas ({ $count }): { $these }
handover-second-one = { $surface } { $task } ({ $who })
handover-second-seen = - Segundas miradas en este turno: { $count }

## The pace of a round

post-pace = **{ $unit }**, como información: { $checks } comprobaciones anotadas en { $span } por { $who }, con { $middle } s entre una y otra en el medio; la cifra de la residencia es { $limit } s. Puede haber un buen motivo, p. ej. anotarlas después de la ronda. Solo se lee en este canal; no está en ningún informe.
span-minutes = { $count ->
        [one] 1 minuto
       *[other] { $count } minutos
    }
span-seconds = { $count ->
        [one] 1 segundo
       *[other] { $count } segundos
    }

## Policies

policy-agency-hours = Cuántas horas como máximo tiene entrada alguien de una agencia
policy-primer-days = Tras cuántos días quien tiene entrada lee otra vez la primera pantalla
policy-sign-off-months = Tras cuántos meses se renueva una autorización
policy-sign-off-wanted = Si lo que anota quien no tiene autorización lo mira otra persona
policy-pace-seconds = Una ronda con menos que esto entre dos comprobaciones, en el medio, se señala a supervisión. 0 es nunca
policy-agency-second-look = Si lo que anota quien entra por un turno lo mira otra persona, aunque no se mire lo de los demás
policy-pace-checks = Cuántas comprobaciones seguidas se miran para eso, como mínimo
