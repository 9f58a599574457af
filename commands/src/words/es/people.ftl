# Duty, handover, due lists: who has a unit, who takes it over, what is done about an item.

## Duty

about-duty = Diga que tiene una unidad y hasta cuándo: las llamadas le suenan a usted
about-handover = Lo que el próximo turno debe saber
about-facility-phone = A quién telefonear cuando nadie responde a una alarma
option-duty-unit = La unidad que tiene; all para toda la casa. La suya si se omite
option-duty-until = Hasta cuándo, como 07:00 o 4 h; el fin del turno si se omite
option-phone-words = Quién, y qué extensión o número de guardia; none lo quita

button-have = Tengo { $unit } hasta { $at }
button-have-all = Tengo todo hasta { $at }
button-duty-end = Ya no la tengo
button-accept = Recibo el turno
button-rest = El resto

duty-taken = **{ $unit }** es suya ({ $role }) hasta { $until }. Las llamadas allí a ese rol ahora le suenan a usted.
duty-changed = **{ $unit }** es suya ({ $role }), ahora hasta { $until }.
duty-others = También de guardia allí: { $who }
duty-ended = **{ $unit }** ya no es suya. Lo que llama allí les suena a los demás.
duty-whole-house = Toda la casa
duty-line = De guardia: { $who }
duty-nobody = De guardia: nadie lo ha dicho
duty-who = { $who } ({ $role })
fault-duty-unit = ¿Qué unidad tiene? `/duty unit:` y una de estas: { $these }. Para toda la casa: `/duty unit:all`
fault-duty-past = Era hasta { $at }, que ya pasó. Escriba `/duty` para decir hasta cuándo está.
fault-duty-over = Ya no la tiene, así que no se cambió nada.

post-unclaimed = **{ $units }**: desde { $since } nadie ha dicho que { $count ->
        [one] la tiene
       *[other] las tiene
    }. Las llamadas allí suenan a todo el rol. ¿Quién { $count ->
        [one] la tiene
       *[other] las tiene
    }?
claim-all-taken = Cada unidad del turno que empezó { $since } tiene a alguien.

policy-duty-watched = Si se avisa a supervisión de unidades que nadie ha dicho tener
policy-claim-within = Cuánto después del inicio del turno alguien debe haber dicho que tiene una unidad
policy-accept-within = Cuánto después de una entrega el próximo turno debe haberla recibido

## Whom to phone

phone-now = **Telefonee ya:** { $words }
phone-now-unset = **Telefonee ya:** a la enfermera a cargo, o a quien nombre el plan de su casa. Aquí no hay número: `/facility phone`
phone-is = Cuando nadie responde, se dice que telefoneen: { $words }
phone-set = Desde ahora, cuando nadie responde, se dice que telefoneen: { $words }
phone-unset = No hay número. Cuando nadie responde, se dice que telefoneen a la enfermera a cargo o sigan el plan de su casa. Ponga uno: `/facility phone words:enfermera a cargo, extensión 100`
fault-phone-number = No se guardó: falta un número. Escriba quién y qué número, como: enfermera a cargo, extensión 100. Nunca el de un residente.

## Handover

handover-head = **Entrega, todas las unidades**, turno desde { $from }
handover-head-unit = **Entrega, { $unit }**, turno desde { $from }
handover-alarm = - **{ $surface }**: alarma abierta hace { $minutes } min, { $taken }
handover-taken = { $who } se ocupa
handover-not-taken = **nadie la ha tomado**
handover-recheck = - **{ $surface }**: baja o alta, revisar otra vez { $at }
handover-unchecked = - **{ $surface }**: no se pudo revisar, intentar { $at }
handover-still-under = - Fuera de servicio y aún bajo una cama ({ $count }): { $tags }
handover-check = - Revisiones no hechas en este turno: { $count }
handover-filter-old = - Filtros en el límite del fabricante: { $count }
handover-filter-look = - Filtros por mirar: { $count }
handover-turnover = - Preparaciones por terminar: { $count }
handover-repair = - Esperan reparación ({ $count }): { $tags }
handover-gap-over = - Huecos sobre el límite ({ $count }): { $tags }
handover-gap-beds = - Huecos sobre el límite en camas sin superficie ({ $count }): cama { $beds }. Medir antes de poner una: `/zones`
handover-gap-empty = - Huecos sobre el límite en camas sin superficie: { $count }. Supervisión lee cuáles.
handover-steps = - **{ $surface }**: puesta, faltan { $left }, empezada { $since } por { $who }
handover-static = - **{ $surface }**: modo estático hasta { $until }
handover-static-over = - **{ $surface }**: **aún en estático**, desde { $since }
handover-leave-over = - Salidas que debían terminar: { $count }
handover-safety-test = - Pruebas de seguridad pendientes: { $count }
handover-maintenance = - Mantenimientos pendientes: { $count }
handover-outlet-test = - Tomas de pared por probar: { $count }
handover-paper-missing = - **{ $surface }**: en uso sin su papel ({ $missing })
handover-waived = - **{ $surface }**: puesta { $at } sin su papel ({ $missing }), { $who }
handover-held = - Retenidas por una investigación ({ $count }): { $tags }
handover-idle = - Alquiladas sin uso: { $count }
handover-pickup = - Recogidas por confirmar o por venir: { $count }
handover-turnover-late = - Preparaciones de más de { $hours } h: { $count }
handover-clean-last = - Limpiar al final, solo esporicida: { $tags }
handover-told = - Avisados por **{ $surface }**: { $who }
handover-more = { $tags } y { $count } más
handover-nothing = Nada abierto y nada atrasado.
handover-rest = … y { $count } más: toque **El resto**
handover-no-rest = No hay más: todo está en la tarjeta.
handover-accepted = **Recibido** { $at } por { $who } ({ $role })
handover-yours = Ha recibido **{ $unit }**. Queda registrado, con la hora.
handover-yours-all = Ha recibido **toda la casa**. Queda registrado, con la hora.
post-handover-waits = **{ $unit }**: nadie ha recibido aún la entrega de { $at }. Léala y toque.
post-handover-accepted = **{ $unit }**: recibida { $at } por { $who } ({ $role }).
fault-handover-newer = Hay una entrega más nueva, así que no se registró nada. Vea `/handover`.
fault-handover-accepted = { $who } ({ $role }) la recibió a las { $at }. No hay más que hacer.
fault-handover-own = Usted la tiene hasta { $at }: la entrega es para quien viene después. Si se queda, escriba primero `/duty`.

told-aide = auxiliares
told-nurse = enfermería
told-supervisor = supervisión
told-upkeep = mantenimiento
told-admin = administración
told-clock = loftwatch

## Lists that are worked through

button-next = La siguiente
button-list = La lista
button-return = De vuelta al servicio
button-stop = Proveedor avisado
button-zones = Medido otra vez
button-outlet = Probada hoy, bien
button-serve = Otro día
button-served-passed = Pasó hoy
button-served-failed = Falló hoy
button-filter-clogged = Obstruido, cambiado
button-filter-damaged = Dañado, cambiado
button-filter-left = Sucio, dejado
menu-swap = ¿Cuál toma su lugar?
menu-cleaned = Limpia. ¿Con qué, y la funda?

due-left = (faltan { $left } de { $all })
due-before-weekend = { $surface } (antes del fin de semana)
due-before-holiday = { $surface } (antes del feriado)
work-head = **Pendiente, todas las unidades**
work-head-unit = **Pendiente, { $unit }**
work-done-by = **{ $surface }**: lo hizo mientras tanto { $who }, { $at } ({ $what }).
work-done = **{ $surface }**: ya no está pendiente ({ $what }).
work-gone = **{ $tag }** ya no está en el registro.
work-filter = **{ $surface }**: mire su filtro. ¿Qué encontró y qué hizo?
work-filter-last = Última mirada: { $finding }, { $ago }
work-service = **{ $surface }**: toca { $work }. ¿Hecho?
work-service-last = Hecho por última vez: { $day }
work-papers = **{ $surface }** está en uso sin su papel: { $missing }. ¿Ha llegado?
work-outlet = **{ $surface }**: pruebe la toma de pared de su cama. Si no está bien, use otra y avise a mantenimiento.
work-gap = **{ $surface }**: un hueco de su cama está sobre el límite (zona { $zones }). Actúe ya según el plan de su casa, pida una evaluación y mida otra vez.
work-cleaned = { $what }, { $cover }
work-cover-intact = funda entera
work-cover-stained = funda manchada
work-cover-damaged = funda dañada
chosen-swap = El residente necesita otra superficie. La enfermera la elige aquí o con `/swap`.
chosen-swap-none = No hay ninguna lista. Busque con `/match` la próxima, y alquile si tarda demasiado.
outcome-passed = pasó
outcome-failed = falló

form-service-title = Hecho: { $tag }
form-result = Resultado
form-result-hint = pasó o falló
form-day = Día
form-day-hint = 2026-03-01; hoy si se deja vacío
form-next-day = Próximo
form-next-day-hint = 2027-03-01, si el papel nombra un día
form-zones-title = Huecos en la cama { $bed }
form-zone1 = Zona 1, dentro de la baranda
form-zone1-hint = 110 mm o 4 1/4 in; vacío lo que no midió
form-zone2 = Zona 2, bajo la baranda
form-zone2-hint = 100 mm
form-zone3 = Zona 3, entre baranda y colchón
form-zone3-hint = 100 mm
form-zone4 = Zona 4, bajo el extremo de la baranda
form-zone4-hint = 50 mm
form-angle4 = Ángulo en la zona 4
form-angle4-hint = 65, en grados

fault-work-already = { $who } ya hizo **{ $surface }** desde que se mostró esta tarjeta, { $at }. Nada se registró dos veces.
fault-outlet-already = La toma de la cama { $bed } ya se probó hoy.
fault-swap-gone = **{ $tag }** ya no está bajo la cama { $bed }, así que no se cambió nada. Vea `/due`.
fault-result = No puedo leer este resultado. Escriba pasó o falló.
