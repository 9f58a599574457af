# Duty, handover, due lists: who has a unit, who takes it over, what is done about an item.

## Duty

about-duty = Decir que tiene una unidad y hasta cuándo: los avisos le llegan a usted
about-handover = Lo que debe saber el próximo turno
about-facility-phone = A quién llamar por teléfono cuando nadie atiende una alarma
option-duty-unit = La unidad que tiene; todas para toda la residencia. La suya si lo deja vacío
option-duty-until = Hasta cuándo, por ejemplo 07:00 o 4 h; el fin del turno si lo deja vacío
option-phone-words = Quién, y qué extensión o número de guardia; ninguno lo quita

button-have = Tengo { $unit } hasta las { $at }
button-have-all = Toda la casa hasta las { $at }
button-duty-end = Ya no la tengo
button-accept = Recibo el relevo
button-rest = Lo demás

duty-taken = **{ $unit }** es suya como { $role } hasta las { $until }. Los avisos de allí a ese rol ahora le llegan a usted.
duty-changed = **{ $unit }** es suya como { $role }, ahora hasta las { $until }.
duty-let-in = Hasta entonces tiene acceso. ¿Se queda más? Pídalo a un supervisor, y después otra vez `/duty`.
duty-others = También a cargo allí: { $who }
duty-ended = **{ $unit }** ya no es suya. Los avisos de allí llegan a los demás.
duty-relieved = { $who } ya no tiene **{ $unit }** y queda avisado. Los avisos de allí llegan a los demás.
fault-relieve-over = Ya no la tiene, así que nada cambió. Quién está de turno: `/team`
post-relieved = **{ $unit }**: { $who }, ya no está a su cargo, según { $by } a las { $at }. ¿Sigue aquí? `/duty`
duty-whole-house = Toda la residencia
duty-line = A cargo: { $who }
duty-had = De turno entonces: { $who }
duty-nobody = A cargo: nadie lo ha dicho
duty-who = { $who } ({ $role })
fault-duty-unit = ¿Qué unidad tiene? `/duty unit:` y una de estas: { $these }. Para toda la residencia: `/duty unit:all`
fault-duty-past = Era hasta las { $at }, que ya pasó. Escriba `/duty` para decir hasta cuándo está aquí.
# Lo que encuentra el botón de una tarjeta vieja.
duty-newer = Ese botón es de antes, así que no se cambió nada. Ahora tiene:
duty-newer-line = - **{ $unit }** como { $role }, desde las { $since }, hasta las { $until }
button-duty-end-of = { $unit }: ya no
fault-duty-over = Ya no la tiene, así que no se cambió nada.

post-unclaimed = **{ $units }**: desde las { $since } nadie ha dicho que { $count ->
        [one] la tiene
       *[other] las tiene
    }. Los avisos de allí llegan a todos los del rol. ¿Quién { $count ->
        [one] la tiene
       *[other] las tiene
    }?
claim-all-taken = Cada unidad del turno que empezó { $since } tiene a alguien.

policy-duty-watched = Si se avisa a supervisión de las unidades que nadie ha dicho que tiene
policy-round-within = Desde el comienzo de un turno hasta que se avisa a supervisión de una ronda sin anotar; 0 para nunca
policy-claim-within = Plazo desde el comienzo de un turno para que alguien diga que tiene una unidad
policy-accept-within = Plazo desde un relevo para que el próximo turno lo reciba

## Whom to phone

phone-now = **Llame ya por teléfono:** { $words }
phone-now-unset = **Llame ya por teléfono:** a enfermería a cargo, o a quien diga el plan de su residencia. Aquí no hay ningún número: `/facility phone`
phone-is = Cuando nadie contesta, se dice que llamen por teléfono a: { $words }
phone-set = Desde ahora, cuando nadie contesta, se dice que llamen por teléfono a: { $words }
phone-unset = No hay ningún número. Cuando nadie contesta, se dice que llamen a enfermería a cargo o sigan el plan de su residencia. Ponga uno: `/facility phone words:enfermería a cargo, extensión 100`
fault-phone-number = No se fijó: falta un número. Escriba quién y qué número, por ejemplo: enfermería a cargo, extensión 100. Nunca el de un residente.
fault-phone-name = No se fijó: parece el nombre de una persona. Escriba solo una función y un número, por ejemplo: puesto de enfermería 555-0142, después enfermería a cargo 555-0177.

## Handover

handover-head = **Relevo, todas las unidades**, turno desde las { $from }
handover-head-unit = **Relevo, { $unit }**, turno desde las { $from }
handover-alarm = - **{ $surface }**: alarma abierta hace { $span }, { $taken }
handover-taken = la atiende { $who }
handover-not-taken = **nadie la ha tomado**
handover-was-taken = la tomó { $who } { $at } y **no está resuelta**: ahora nadie la atiende
handover-was-safe = residente a salvo { $at } ({ $who })
handover-outage = - **Corte de luz en { $unit }**, { $from } a { $to }, { $who }
handover-roll-by = el recuento lo hizo { $who }
handover-roll-nobody = **nadie hizo el recuento**
handover-recheck-low = - **{ $surface }**: **bajo**, comprobar otra vez { $at }
handover-recheck-high = - **{ $surface }**: alto, comprobar otra vez { $at }
handover-unchecked = - **{ $surface }**: no se pudo comprobar, probar otra vez { $at }
handover-still-under = - Fuera de servicio y todavía en una cama ({ $count }): { $tags }
handover-check = - Comprobaciones sin hacer en este turno ({ $count }): { $tags }
handover-filter-old = - Filtros en el límite del fabricante ({ $count }): { $tags }
handover-filter-look = - Filtros por mirar ({ $count }): { $tags }
handover-losing-loft = - Tendencia a la baja, revisar ({ $count }): { $tags }
handover-turnover = - Puestas a punto por terminar ({ $count }): { $tags }
handover-repair = - Esperan reparación ({ $count }): { $tags }
handover-gap-over = - Huecos sobre el límite ({ $count }): { $tags }
handover-gap-beds = - Huecos sobre el límite en camas sin superficie ({ $count }): cama { $beds }. Mida otra vez antes de poner una: `/zones`
handover-gap-empty = - Huecos sobre el límite en camas sin superficie: { $count }. Supervisión lee cuáles.
handover-after-power = - **{ $surface }**: después del corte de luz { $since }, por hacer: { $left }
handover-after-power-too = - **{ $surface }**: instalación que empezó { $who } { $began }, sin terminar, y después el corte de luz { $since }, por hacer: { $left }
handover-steps = - **{ $surface }**: instalación, por hacer: { $left }, la empezó { $who } { $since }
handover-static = - **{ $surface }**: modo estático hasta las { $until }
handover-static-over = - **{ $surface }**: **todavía en modo estático**, desde las { $since }; debía terminar { $until }
handover-leave-over = - Ausencias que debían terminar ({ $count }): { $tags }
handover-safety-test = - Pruebas de seguridad pendientes ({ $count }): { $tags }
handover-maintenance = - Mantenimiento del fabricante pendiente ({ $count }): { $tags }
handover-outlet-test = - Tomas de pared por probar ({ $count }): { $tags }
handover-paper-missing = - **{ $surface }**: en uso sin su documento ({ $missing })
handover-waived = - **{ $surface }**: colocada { $at } sin su documento ({ $missing }), { $who }
handover-held = - Retenidas por una investigación ({ $count }): { $tags }
handover-idle = - Alquiladas y sin usar ({ $count }): { $tags }
handover-pickup = - Recogidas por confirmar o por venir ({ $count }): { $tags }
handover-turnover-late = - Puestas a punto de más de { $hours } h ({ $count }): { $tags }
handover-clean-last = - Limpiar al final, solo esporicida: { $tags }
handover-told = - Se avisó por **{ $surface }**: { $who }
handover-told-often = - Se avisó por **{ $surface }**: { $who }, el último { $at }, { $count } avisos
handover-told-least = - Se avisó por **{ $surface }**: el último { $at }, { $count } avisos o más
handover-more = { $tags } y { $count } más
handover-nothing = Nada abierto y nada atrasado.
handover-rest = … y { $count } más: toque **Lo demás**
handover-beds = { $count ->
        [one] cama
       *[other] camas
    } { $beds }
handover-no-rest = No hay más: todo está en la ficha.
handover-waits-for = **Nadie lo ha recibido todavía.** Eso lo hace enfermería o supervisión.
handover-accepted-of = El relevo de las { $of } lo **recibió** { $who } ({ $role }), { $at }.
handover-not-accepted-of = El relevo de las { $of } **no lo recibió** nadie.
button-accept-of = Lo recibo yo
handover-accepted = **Recibido** { $at } por { $who } ({ $role })
handover-yours = Usted recibió el relevo de **{ $unit }**. Queda anotado, con la hora.
handover-yours-all = Usted recibió el relevo de **toda la residencia**. Queda anotado, con la hora.
post-handover-waits = **{ $unit }**: nadie ha recibido todavía el relevo de { $at }. Léalo y después toque.
post-handover-accepted = **{ $unit }**: relevo recibido { $at } por { $who } ({ $role }).
fault-handover-newer = Hay un relevo más nuevo, así que no se anotó nada. Vea `/handover`.
fault-handover-accepted = { $who } ({ $role }) ya lo recibió, { $at }. No hay más que hacer.
fault-handover-own = Usted la tiene hasta las { $at }: el relevo es para quien viene después. Si se queda, escriba primero `/duty`.

told-aide = auxiliares
told-nurse = enfermería
told-supervisor = supervisión
told-upkeep = mantenimiento
told-admin = administración
told-clock = loftwatch
told-everybody = todo el personal

## Lists that are worked through

button-next = La siguiente
button-list = La lista
button-return = De vuelta al servicio
button-stop = Avisé al proveedor
button-zones = Medido otra vez
button-outlet = Probada hoy, bien
button-outlet-bad = No está bien
button-serve = Otro día
button-served-passed = Pasó hoy
button-served-failed = No pasó hoy
button-filter-clogged = Tapado, cambiado
button-filter-damaged = Dañado, cambiado
button-filter-left = Sucio, se dejó puesto
menu-swap = ¿Cuál toma su lugar?
menu-cleaned = Limpiada. ¿Con qué, y la funda?

due-left = (por hacer: { $left } de { $all })
due-before-weekend = { $surface } (antes del fin de semana)
due-before-holiday = { $surface } (antes del feriado)
work-head = **Pendiente, todas las unidades**
work-head-unit = **Pendiente, { $unit }**
work-done-by = **{ $surface }**: lo hizo mientras tanto { $who }, { $at } ({ $what }).
work-done = **{ $surface }**: ya no está pendiente ({ $what }).
work-gone = **{ $tag }** ya no está en el inventario.
work-filter = **{ $surface }**: mire su filtro. ¿Qué encontró y qué hizo?
work-filter-last = Última mirada: { $finding }, { $ago }
work-service = **{ $surface }**: toca { $work }. ¿Hecho?
work-service-last = Última vez: { $day }
work-papers = **{ $surface }** está en uso sin su documento: { $missing }. ¿Ya llegó?
work-outlet = **{ $surface }**: pruebe la toma de pared de su cama.
work-outlet-failed = No pasó el { $day }, y desde entonces no ha pasado ninguna prueba.
work-gap = **{ $surface }**: un hueco de su cama pasa del límite (zona { $zones }). Actúe ya según el plan de su residencia, pida una valoración y después mida otra vez.
work-cleaned = { $what }, { $cover }
work-cover-intact = funda entera
work-cover-stained = funda manchada
work-cover-damaged = funda dañada
chosen-swap = La persona necesita otra superficie. Enfermería la elige aquí o con `/swap`.
chosen-swap-none = Ninguna lista encaja. Busque con `/match` la próxima que lo estará, y alquile si tarda demasiado.
outcome-passed = pasó
outcome-failed = no pasó

form-service-title = Hecho: { $tag }
form-result = Resultado
form-result-hint = pasó o no pasó
form-day = Día
form-day-hint = 2026-03-01; hoy si lo deja vacío
form-next-day = Próximo
form-next-day-hint = 2027-03-01, si el documento dice un día
form-zones-title = Huecos de la cama { $bed }
form-zone1 = Zona 1, dentro de la barandilla
form-zone1-hint = 110 mm o 4 1/4 in; deje vacío lo que no midió
form-zone2 = Zona 2, debajo de la barandilla
form-zone2-hint = 100 mm
form-zone3 = Zona 3, entre barandilla y colchón
form-zone3-hint = 100 mm
form-zone4 = Zona 4, debajo del extremo de la barandilla
form-zone4-hint = 50 mm
form-angle4 = Ángulo en la zona 4
form-angle4-hint = 65, en grados

fault-work-already = { $who } ya hizo **{ $surface }** desde que salió esta ficha, { $at }. No se anotó dos veces.
fault-outlet-already = La toma de la cama { $bed } ya se probó hoy.
fault-swap-gone = **{ $tag }** ya no está en la cama { $bed }, así que no se cambió nada. Vea `/due`.
fault-result = No entiendo este resultado. Escriba pasó o no pasó.
