### Personal de agencia, autorizaciones, segunda mirada, ritmo de una ronda.

## Para qué sirve cada orden y cada opción

about-agency = Dar entrada por un turno a alguien de una agencia
about-signoff = Autorizar a alguien para una tarea en superficies de un perfil
about-team = Ver quién tiene entrada y qué autorizaciones terminan pronto

option-agency-person = Quién trabaja aquí este turno. Elíjalo de la lista
option-agency-role = Como qué: aide (auxiliar) o nurse (enfermería)
option-agency-until = Hasta cuándo, por ejemplo 15:30 u 8 h. Termina por sí solo
option-signoff-person = A quién se autoriza. Elíjalo de la lista
option-task = Qué puede hacer: hand-check, set-up, cleaning, filter o turnover
option-signoff-profile = El perfil de las superficies
option-renew = El último día en que vale, por ejemplo 2027-03-31
option-team-person = Una persona, para ver y terminar sus autorizaciones

fault-person-pick = Elija a alguien de la lista del chat en **{ $option }**; un nombre escrito no se lee.
fault-person-program = Eso es un programa, no una persona. Elija a una de las personas de aquí.
fault-person-outside = Esa persona no está en este chat. Invítela primero y elíjala de nuevo.

## Entrada por un turno

let-in = { $who } tiene entrada como **{ $role }** hasta { $until }. Termina por sí solo.
let-in-before = Antes: { $role } hasta { $until }. Eso ya no vale.
let-in-next = Se le avisa en el canal. Lo primero que ve aquí es una pantalla para leer. En una alarma nunca se le detiene.
let-in-ended = { $who } ya no tiene entrada.
post-let-in = { $who }: { $by } le da entrada como **{ $role }** hasta { $until }. Su primer paso aquí muestra una pantalla para leer; una alarma va antes. Después: `/round`, `/due`, `/alarm`
post-let-in-ended = { $who } tenía entrada por un turno. { $by } la terminó a las { $at }.
button-out = Terminar ahora
button-out-of = Terminar el { $number }
fault-agency-self = No puede darse entrada a sí mismo. Otro supervisor puede.
fault-out-already = Eso ya terminó o se cambió después. Vea `/team`
fault-let-in-over = Tenía entrada hasta { $until } y ya terminó, así que no se hizo nada. ¿Es una alarma? Llame ya de viva voz a enfermería. Un supervisor puede darle entrada otra vez: `/agency`

## La primera pantalla: cabe en un teléfono

primer-head = **Lea esto primero, una vez.** Está aquí como { $role } hasta { $until }.
primer-hand = **Control manual**: mano plana bajo la parte más baja de la persona. De { $low } a { $high } de aire es adecuado. Menos: llame a enfermería.
primer-feel = Tarjetas **mirar y tocar**: sin mano debajo.
primer-no-check = A veces no hay control: la tarjeta lo dice.
primer-alternating = Celdas se llenan y vacían por turno: bien.
primer-low-air-loss = Por algunas fundas sale aire: está bien.
primer-alarm = **¿Alarma o plano?** Primero la persona, después `/alarm`. Silenciar no es resolver. Si duda, llame de voz.
primer-never = **Nunca** desenchufe y se vaya, cambie un ajuste sin enfermería, añada capas, limpie con algo fuera de la lista ni escriba nombres aquí. ¿No pudo controlar? Dígalo.
primer-nurse = **Enfermería**: { $nurses }
primer-for-nurse = **A cargo**: { $supervisors }
primer-foot = Van primero plan de cuidados, normas, fabricante y personal titulado.
button-primer-read = Lo he leído
primer-read = Gracias, anotado.
primer-read-already = Ya lo había leído. Gracias.
primer-next = Tiene entrada hasta { $until }. Ahora: `/round`, `/due`, `/alarm`, `/help`
fault-primer-not-yours = Esto es para quienes tienen entrada por un turno, y usted ahora no la tiene.

## Autorizaciones

task-hand-check = control manual
task-set-up = montaje
task-cleaning = limpieza
task-filter = filtro
task-turnover = preparación

signed-off = { $who } tiene autorización para **{ $task }** en **{ $profile }** hasta { $renew }.
signed-off-before = Antes: hasta { $renew }.
sign-off-ended = { $who } ya no tiene autorización para **{ $task }** en **{ $profile }**.
button-end-sign-off = Terminarla
menu-end-sign-off = Terminar una autorización…
fault-sign-off-self = No puede autorizarse a sí mismo. Otro supervisor puede.
fault-sign-off-gone = Esa autorización ya terminó o se renovó después. Vea `/team`
fault-renew = { $typed } no puede ser el último día. Escriba un día desde mañana hasta { $latest }, por ejemplo { $latest }.

## El equipo

team-nobody = **Ahora nadie tiene entrada.** `/agency` da entrada por un turno.
team-head = **Con entrada ahora ({ $count })**
team-let-in = { $who }: { $role } hasta { $until }{ $unit }
team-soon = **Autorizaciones que terminan en 30 días o ya terminaron ({ $count })**
team-none-soon = Ninguna autorización termina en 30 días.
team-sign-off = { $task }, { $profile }
team-more = …y { $count } más
team-foot = Otras que valen: { $count }. Las de una persona: `/team` con **person**
team-one = { $who } no tiene entrada ahora.
team-no-sign-off = No consta ninguna autorización.
sign-off-until = hasta { $renew }
sign-off-over = **terminada** desde { $renew }
renew-due = **Autorizaciones por renovar ({ $count })**: { $names }. Vea `/team`

## Segunda mirada

second-wanted = Guardado. Otra persona lo mirará también, porque aquí todavía nadie le ha autorizado para esto.
second-wanted-outside = Guardado. Otra persona lo mirará también, como con todos los que están por un turno.
second-settled = Vale también como segunda mirada a lo que anotó { $who } ({ $task }).
second-head = **{ $surface }**: falta una segunda mirada: { $task }, anotado por { $who } a las { $at }.
second-how = Mírelo usted. ¿Está bien? Toque. Si no, anote lo que encuentre.
second-looked = **{ $surface }**: anotado, usted lo miró también ({ $task }, anotado por { $who }).
second-already = **{ $surface }**: { $who } ya lo miró a las { $at } ({ $task }).
button-looked = Lo miré, está bien
button-looked-at = Bien: { $task }
fault-second-own = Es su propia anotación: la mira otra persona.
fault-second-may = Lo mira enfermería, un supervisor o alguien autorizado para esto. Gracias por preguntar.
fault-second-over = Nada de **{ $tag }** espera ya por esto: hay algo más nuevo o se cambió de lugar. Vea `/surface`
surface-second-wanted = **Falta segunda mirada**: { $task }, { $who }, { $at }
surface-second-seen = Segunda mirada: { $task } de { $who }, la miró { $by }, { $at }
due-second-check = **Segunda mirada ({ $count })**:{ " " }
due-second-check-short = mirar otra vez
handover-second = - Faltan segundas miradas ({ $count }): { $these }
handover-second-one = { $surface } { $task } ({ $who })
handover-second-seen = - Segundas miradas en este turno: { $count }

## El ritmo de una ronda

post-pace = **{ $unit }**, como información: { $checks } controles anotados en { $span } por { $who }, con { $middle } s entre uno y otro en el medio; la cifra de la casa es { $limit } s. Puede haber un buen motivo, p. ej. anotados después de la ronda. Solo ustedes leen esto; no está en ningún informe.
span-minutes = { $count ->
        [one] 1 minuto
       *[other] { $count } minutos
    }
span-seconds = { $count ->
        [one] 1 segundo
       *[other] { $count } segundos
    }

## Políticas

policy-agency-hours = Cuántas horas como máximo tiene entrada alguien de una agencia
policy-primer-days = Tras cuántos días quien tiene entrada lee otra vez la primera pantalla
policy-sign-off-months = Tras cuántos meses se renueva una autorización
policy-sign-off-wanted = Si lo que anota quien no tiene autorización lo mira otra persona
policy-pace-seconds = Una ronda con menos de esto entre dos controles, en el medio, se señala a los supervisores. 0 para nunca
policy-pace-checks = Cuántos controles seguidos se miran para eso, como mínimo
