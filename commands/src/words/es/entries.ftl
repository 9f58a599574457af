### Lo que está en el registro: corregirlo, observaciones y firmas, cronologías.

about-amend = Diga cómo debía leerse una entrada suya, y por qué. Nada se borra
about-timeline = Todo lo que pasó con una superficie o en una cama, en una respuesta
option-entry = El número de la entrada, como 1234, o last para la suya más nueva. Se ofrecen
option-amend-reason = Por qué, en pocas palabras: sin nombre, peso ni diagnóstico. Sola, es una observación
option-amend-surface = La superficie de la que se trataba, como LW-08
option-amend-when = Cuándo pasó de verdad, como lo habría escrito entonces: 13:40 o 20 min ago
option-strike = on: se entró por error y no cuenta
option-timeline = Una etiqueta o una cama, como LW-07 o 103

## Correcciones

amend-done = Entrada #{ $entry } corregida · **{ $surface }**: { $what }.
amend-change = { $label } { $old } → { $new }
amend-struck = La entrada #{ $entry } ya no cuenta · **{ $surface }**: { $what }. Se entró por error.
amend-annotated = Su observación queda junto a la entrada #{ $entry } ({ $what }). Lo que dice no cambia.
amend-kept = El registro guarda lo que decía antes, con su motivo.
amend-history = Lo más nuevo de **{ $tag }** no cambia con esto: solo queda en la historia.
amend-no-check = **{ $tag }** no tiene ahora ninguna revisión aquí. Está en la lista de pendientes.
amend-recheck-off = La revisión fijada fuera de turno queda anulada.
amend-alarm-open = **Su alarma sigue abierta:** una corrección no cierra ninguna. Toque **Arreglado** en su tarjeta cuando esté resuelta.
amend-alarm-again = **{ $surface }**: la alarma #{ $alarm } se cerró con esta revisión, así que hay **otra vez** una alarma abierta y se llama a la unidad. Vaya a mirar.
amend-alarm-late = **{ $surface }**: la alarma #{ $alarm } se cerró con esta revisión. Fue hace un rato, así que no se abrió ninguna: mire otra vez **ahora**, y escriba `/alarm` si no está bien.
amend-step-again = Instalación de **{ $tag }**: hay que repetir su revisión.
amend-leave = La cama se dio por ocupada por esto. Si está vacía: `/leave`
amend-filter-unfit = Su filtro no sirve tal como se lee ahora: mírelo otra vez y avise a mantenimiento.
amend-not-ready = **{ $tag }** estaba lista por esto y ya no lo está: pasa otra vez por su preparación. Siguiente: `/clean`
amend-placed-so = **{ $surface } se colocó por esto.** Avise ahora a la enfermera y a control de infecciones.
amend-still-out = **{ $tag }** sigue fuera de servicio hasta que mantenimiento la devuelva con `/return`.
amend-field-air = aire
amend-field-surface = superficie
amend-field-when = hora
amend-field-position = posición
amend-field-mode = modo
amend-field-layers = capas
amend-field-setting = ajuste
amend-field-finding = hallado
amend-field-action = hecho
amend-field-method = limpiada con
amend-field-cover = funda
amend-step-on-card = Para su preparación, dígalo en su tarjeta: `/surface surface:{ $tag }`
amend-field-entry = entrada
post-amended = **{ $surface }**: la entrada #{ $entry } se corrigió ({ $who }): { $air }, { $judged }.
post-amended-away = **{ $surface }**: la entrada #{ $entry } fue un error y ya no cuenta aquí ({ $who }).

fault-entry-number = "{ $typed }" no es número de una entrada. Está tras # al final de su línea, como #1234: vea `/timeline`
fault-entry-last = Aún no tiene ninguna entrada que se pueda corregir. Escriba el número de una: está tras el signo # al final de su línea.
fault-entry-none = No hay entrada #{ $entry }. Los números están al final de cada línea: vea `/timeline`
fault-amend-other = La entrada #{ $entry } es de otra persona, así que no se registró nada. La corrige quien la hizo. Dígaselo, o a un supervisor, que puede ponerle una observación.
fault-amend-author = La entrada #{ $entry } es de otra persona: solo quien la hizo dice cómo debía leerse. Deje solo el motivo para ponerle una observación, y entre lo que es correcto ahora.
fault-amend-taken-back = La entrada #{ $entry } se retiró y no cuenta. Entre lo correcto como una nueva.
fault-amend-strike = No se registró nada: con strike:on la entrada #{ $entry } no cuenta, así que deje fuera lo demás. O deje fuera strike.
fault-amend-option = No se registró nada: la entrada #{ $entry } no tiene **{ $option }**. Tiene: { $these }.
fault-amend-same = La entrada #{ $entry } ya se lee así. No se registró nada.
fault-amend-not-there = { $tag } no estaba allí a esa hora, así que no se registró nada. Mire `/timeline what:{ $tag }`
fault-amend-kind = La entrada #{ $entry } no se corrige: otras se apoyan en ella. Haga lo que es correcto ahora, y ponga una observación con el motivo solo.
fault-amend-alarm = La entrada #{ $entry } es de una alarma. Diga lo correcto en su tarjeta, o dela otra vez con `/alarm`. El motivo solo pone una observación.
fault-amend-placing = La entrada #{ $entry } dice adónde fue una superficie. Corríjalo con `/move`, `/swap`, `/release` o `/place`. El motivo solo pone una observación.
fault-amend-setting = La entrada #{ $entry } es un ajuste. Registre el correcto con `/setting`. El motivo solo pone una observación.
fault-amend-turnover = La entrada #{ $entry } es un paso de una preparación. Siga con lo correcto en su tarjeta: `/surface`. El motivo solo pone una observación.

## Una entrada

entry-numbered = { $line } · #{ $entry }

entry-head = **Entrada #{ $entry }** · { $surface } · { $what }
entry-by = { $who }, { $at }
entry-entered = entrada { $at }
entry-amended = ↳ corregida: { $what } ({ $who }, { $at }): { $reason }
entry-annotated = ↳ observación ({ $who }, { $at }): { $reason }
entry-signed = ↳ refrendada ({ $who }, { $at })
entry-taken-back = ↳ retirada ({ $who }, { $at })
entry-no-reason = el motivo se borró
entry-correct = Suya: `/amend` con este número la corrige.
entry-signed-now = Refrendada: entrada #{ $entry } ({ $what }).
entry-newer = Se corrigió desde que la miró, así que no se firmó nada. Ahora se lee:
button-countersign = Refrendar
suggest-entry = #{ $entry } · { $tag } { $what } · { $at }
fault-sign-own = La entrada #{ $entry } es suya, o del reloj. La firma otra persona.
fault-sign-already = Ya ha refrendado la entrada #{ $entry }, tal como se lee ahora.

## Retirar

fault-take-back-swap = Un cambio son dos superficies, así que no se retira con un toque. Corríjalo con `/swap`, o `/release { $tag }`.
fault-take-back-bed = La cama { $bed } ya tiene { $tag }, así que esto no se puede retirar. Corríjalo con `/move`, `/swap` o `/place`.
fault-take-back-alarm = Una alarma de { $tag } terminó con esto, y otros lo han leído. Corríjalo con `/place`, y dé otra vez la alarma si la hay.

## Cronologías

timeline-head = **{ $of }** · { $count ->
        [one] 1 entrada
       *[other] { $count } entradas
    }, primero lo más nuevo
timeline-bed = cama { $bed }
timeline-line = { $at } { $what } · { $who } · #{ $entry }
timeline-taken-back = { $what } retirada
timeline-struck = { $what } entrada por error
timeline-moved = { $what } ahora de { $tag }
timeline-empty = No hay nada registrado.
timeline-foot = Todo está en el archivo, para imprimir. Nombra camas: trátelo como un expediente.
timeline-corrections = **{ $of }**: lo corregido, observado, firmado o retirado, primero lo más nuevo
timeline-uncorrected = Nada lo fue.
timeline-more = y { $count } más: todas están en el archivo de `/timeline`
timeline-title = Cronología: { $of }
timeline-made = Hecha { $at } ({ $zone }). { $count ->
        [one] 1 entrada
       *[other] { $count } entradas
    }, primero lo más nuevo.
timeline-how = Tachado: cómo se leía antes, o lo que ya no cuenta. Nada se borra. Las personas figuran por su función y el número con que el chat las conoce. Una lectura es un momento y no prueba seguridad. Trate esta hoja como un expediente.
timeline-cut = { $count ->
        [one] La entrada más antigua queda
       *[other] Las { $count } entradas más antiguas quedan
    } fuera: el chat no admite un archivo mayor. El archivo de la residencia las tiene todas.
timeline-col-entry = Entrada
timeline-col-when = Cuándo
timeline-col-what = Qué
timeline-col-who = Quién
menu-entry = Mire una de estas
button-earlier = Anteriores
button-newest = Más nuevas
button-corrections = Correcciones
fault-no-timeline = No hay "{ $typed }". Escriba una etiqueta como LW-07, o una cama como 103.
fault-no-timeline-near = No hay "{ $typed }". ¿Quiso decir: { $these }?

## Lo que dice un registro, en una línea

line-none = ninguno
line-struck = entrada por error
line-added = en el inventario, perfil { $profile }
line-retired = dada de baja
line-placed = colocada en la cama { $bed }
line-released = retirada de la cama ({ $reason })
line-checked = aire { $air }, { $judged }
line-recheck-asked = se pidió otra vez la revisión
line-alarm = alarma dada: { $kind }
line-alarm-named = la alarma es: { $kind }
line-alarm-taken = alarma: en camino
line-alarm-safe = alarma: residente a salvo
line-alarm-asked = alarma: otra llamada ({ $rung })
line-alarm-again = alarma: no se hizo a tiempo, se llama de nuevo
line-alarm-cause = alarma, causa: { $cause }
line-alarm-fixed = alarma cerrada: arreglada
line-alarm-out = alarma cerrada: fuera de servicio
line-alarm-released = alarma cerrada: sin nadie encima
line-alarm-taken-back = alarma cerrada: fue un error
line-filter = filtro { $finding }, { $action }
line-cleaned = limpiada ({ $reason }) con { $with }, funda { $cover }
line-pulled = fuera de servicio: { $fault }
line-taken-back = retiró la entrada #{ $entry }
line-booked = hay una llamada fijada para { $at }
line-unbooked = una llamada queda anulada
line-called = se llamó, porque era la hora
line-steps = se abrió la lista de pasos
line-steps-done = lista: { $steps }
line-step-missed = lista, no está bien: { $step }
line-fill = se llena, llena a las { $at }
line-setting = ajuste { $setting }
line-moved = pasada a la cama { $bed }
line-plugged = enchufada otra vez tras { $minutes } min
line-leave = cama vacía hasta { $until } ({ $why })
line-leave-ended = de vuelta en la cama
line-static = modo estático hasta { $until }
line-static-ended = alterna otra vez
line-cpr = válvula de RCP abierta
line-cpr-over = la urgencia pasó
line-turnover = empezó la preparación
line-turn-shown = preparación: { $step }
line-turn-undone = preparación, hay que repetir: { $steps }
line-contact = desinfectante mojado hasta { $until }
line-ready = lista para el próximo residente
line-waived = colocada sin: { $papers }
line-marked = marcada: limpiar al final
line-unmarked = marca "limpiar al final" quitada
line-repaired = reparada, o hallada entera
line-returned = de vuelta de la reparación, a su preparación
line-held = retenida para una investigación
line-hold-reported = se hizo el informe de la investigación
line-hold-released = retención levantada
line-recalled = retirada por el fabricante
line-frame = se entró lo que se sabe del armazón
line-zones = huecos: { $gaps }
line-gap = zona { $zone } { $gap } mm
line-gap-over = zona { $zone } { $gap } mm, sobre el límite
line-zones-acted = se actuó por un hueco sobre el límite
line-serviced = { $work }: { $outcome }
line-outage = corte de luz: { $roll }
line-rented = empezó el alquiler
line-arrived = se revisó al llegar: { $outcome }
line-pickup = se pidió al proveedor que la recoja
line-pickup-confirmed = el proveedor confirmó la recogida
line-collected = la recogió el proveedor
line-amended = corrigió la entrada #{ $entry }
line-annotated = observación a la entrada #{ $entry }
line-countersigned = refrendó la entrada #{ $entry }
line-second-wanted = se pide una segunda mirada: { $task }
line-second-checked = segunda mirada hecha: { $task }
line-other = { $kind }
