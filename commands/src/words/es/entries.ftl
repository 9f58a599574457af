### What is in the log: correcting it, remarks and signatures, timelines.

about-amend = Decir cómo debía decir una anotación suya, y por qué. No se borra nada
about-timeline = Todo lo que pasó con una superficie o en una cama, en una respuesta
option-entry = El número de la anotación, por ejemplo 1234, o última para la suya más nueva. Se ofrecen
option-amend-reason = Por qué, en pocas palabras: sin nombre, peso ni diagnóstico. Solo, es un comentario
option-amend-surface = La superficie de la que de verdad trataba, por ejemplo LW-08
option-amend-when = Cuándo pasó de verdad, como lo habría escrito entonces: 13:40 o hace 20 min
option-strike = sí: se anotó por error y no cuenta para nada
option-timeline = Una etiqueta o una cama, por ejemplo LW-07 o 103

## Corrections

amend-done = Anotación #{ $entry } corregida · **{ $surface }**: { $what }.
amend-change = { $label } { $old } → { $new }
amend-struck = La anotación #{ $entry } ya no cuenta · **{ $surface }**: { $what }. Se anotó por error.
amend-which = **{ $surface }** es una superficie, y una entrada tiene un número. Las suyas, la más nueva primero:
amend-annotated = Su comentario queda junto a la anotación #{ $entry } ({ $what }). Lo que dice no cambia.
amend-air-meant = En su motivo hay una lectura. ¿La anotación #{ $entry } debe decir eso? Entonces tóquela; si no, déjela.
button-air-meant = Era { $air }
remark-taken-back = Su comentario en la anotación #{ $entry } queda deshecho. El registro guarda los dos.
fault-remark-gone = Ese comentario en la anotación #{ $entry } ya está deshecho.
fault-remark-late = Un comentario se deshace durante { $minutes } minutos, y ya pasaron. Agregue otro: `/amend`
amend-kept = El historial guarda lo que decía antes, con su motivo.
amend-history = Lo más nuevo de **{ $tag }** no cambia con esto: queda solo en el historial.
amend-no-check = **{ $tag }** no tiene ahora ninguna comprobación aquí. Está en la lista de pendientes.
amend-recheck-off = La comprobación prevista fuera de turno ya no se pide.
amend-alarm-open = **Su alarma sigue abierta:** una corrección no cierra ninguna. Toque **Resuelto** en su ficha cuando esté arreglada.
amend-alarm-again = **{ $surface }**: la alarma #{ $alarm } se cerró con esta comprobación, así que hay **otra vez** una alarma abierta y se avisa a la unidad. Vaya a mirar.
amend-alarm-late = **{ $surface }**: la alarma #{ $alarm } se cerró con esta comprobación. Fue hace un rato, así que no se abrió ninguna: mire otra vez **ahora**, y escriba `/alarm` si no está bien.
amend-step-again = Instalación de **{ $tag }**: hay que hacer otra vez su comprobación.
amend-leave = Por esto la cama contó como ocupada. Si está vacía: `/leave`
amend-filter-unfit = Como dice ahora, su filtro no sirve: mírelo otra vez y cámbielo.
amend-not-ready = **{ $tag }** estaba lista por esto y ya no lo está: pasa otra vez por su puesta a punto. Sigue: `/clean`
amend-placed-so = **{ $surface } se colocó por esto.** Avise ya a enfermería y a control de infecciones.
amend-still-out = **{ $tag }** sigue fuera de servicio hasta que mantenimiento la vuelva a poner en servicio con `/return`.
amend-field-air = aire
amend-field-surface = superficie
amend-field-when = hora
amend-field-position = posición
amend-field-mode = modo
amend-field-layers = capas
amend-field-setting = ajuste
amend-field-finding = se vio
amend-field-action = se hizo
amend-field-method = limpiada con
amend-field-cover = funda
amend-step-on-card = Para su puesta a punto, dígalo en su ficha: `/surface surface:{ $tag }`
amend-field-entry = anotación
post-amended = **{ $surface }**: se corrigió la anotación #{ $entry } ({ $who }): { $air }, { $judged }.
post-amended-away = **{ $surface }**: la anotación #{ $entry } fue un error y aquí ya no cuenta ({ $who }).

fault-entry-number = "{ $typed }" no es el número de una anotación. Está detrás de # al final de su línea, por ejemplo #1234: vea `/timeline`
fault-entry-last = Todavía no tiene ninguna anotación que se pueda corregir. Escriba el número de una: está detrás del signo # al final de su línea.
fault-amend-last = No se tachó nada. Lo último que hizo, en { $surface } a las { $at }, no es una anotación que se tache: un paso, un retiro o una reparación tiene **Deshacer** unos minutos. Su última anotación que se puede tachar es #{ $entry }: { $about }, { $what }, { $when }. ¿Es esa? Escriba su número en **entry**.
fault-entry-none = No hay ninguna anotación #{ $entry }. Los números están al final de cada línea: vea `/timeline`
fault-amend-other = La anotación #{ $entry } es de otra persona, así que no se anotó nada. La corrige quien la hizo. Dígaselo, o dígalo a supervisión, que puede comentarla.
fault-amend-author = La anotación #{ $entry } es de otra persona: solo quien la hizo dice cómo debía decir. Deje solo el motivo para poner un comentario al lado, y anote lo que vale ahora.
fault-amend-taken-back = La anotación #{ $entry } se deshizo y no cuenta para nada. Anote lo correcto como una nueva.
fault-amend-strike = No se anotó nada: con **strike** en sí, la anotación #{ $entry } no cuenta para nada, así que deje vacío lo demás. O deje vacío **strike**.
fault-amend-option = No se anotó nada: la anotación #{ $entry } no tiene **{ $option }**. Tiene: { $these }.
fault-amend-same = La anotación #{ $entry } ya dice justo eso. No se anotó nada.
fault-amend-not-there = { $tag } no estaba ahí a esa hora, así que no se anotó nada. Mire `/timeline what:{ $tag }`
fault-amend-kind = La anotación #{ $entry } no se corrige: otras se apoyan en ella. Haga lo que vale ahora, y ponga al lado un comentario con solo el motivo.
fault-amend-alarm = La anotación #{ $entry } es de una alarma. Diga lo correcto en su ficha, o repórtela otra vez con `/alarm`. Con solo el motivo se pone un comentario al lado.
fault-amend-placing = La anotación #{ $entry } dice adónde fue una superficie. Corríjalo con `/move`, `/swap`, `/release` o `/place`. Con solo el motivo se pone un comentario al lado.
fault-amend-setting = La anotación #{ $entry } es un ajuste. Anote el correcto con `/setting`. Con solo el motivo se pone un comentario al lado.
fault-amend-turnover = La anotación #{ $entry } es un paso de una puesta a punto. Siga con lo correcto en su ficha: `/surface`. Con solo el motivo se pone un comentario al lado.

## An entry

entry-numbered = { $line } (#{ $entry })

entry-head = **Anotación #{ $entry }** · { $surface } · { $what }
entry-by = { $who }, { $at }
entry-entered = anotada { $at }
entry-amended = ↳ corregida: { $what } ({ $who }, { $at }): { $reason }
entry-annotated = ↳ comentario ({ $who }, { $at }): { $reason }
entry-unremarked = ↳ comentario deshecho ({ $who }, { $at })
entry-signed = ↳ visto bueno ({ $who }, { $at })
entry-taken-back = ↳ deshecha ({ $who }, { $at })
entry-no-reason = el motivo se borró
entry-correct = Es suya: `/amend` con este número la corrige.
entry-signed-now = Visto bueno: anotación #{ $entry } ({ $what }).
entry-newer = Se corrigió desde que la miró, así que no se dio el visto bueno. Ahora dice:
button-countersign = Dar el visto bueno
suggest-entry = #{ $entry } · { $tag } { $what } · { $at }
fault-sign-own = La anotación #{ $entry } es suya, o del reloj. El visto bueno lo da otra persona.
fault-sign-already = Usted ya dio el visto bueno a la anotación #{ $entry }, como dice ahora.

## Taking back

fault-take-back-swap = Hay algo más nuevo de una de las dos superficies, así que este cambio ya no se deshace. Corríjalo con `/swap` o `/release { $tag }`.
fault-take-back-bed = La cama { $bed } ya tiene { $tag }, así que esto no se puede deshacer. Corríjalo con `/move`, `/swap` o `/place`.
fault-take-back-alarm = Una alarma de { $tag } terminó con esto, y otros ya lo leyeron. Corríjalo con `/place`, y reporte otra vez la alarma si la hay.

## Timelines

timeline-head = **{ $of }** · { $count ->
        [one] 1 anotación
       *[other] { $count } anotaciones
    }, primero lo más nuevo
timeline-bed = cama { $bed }
timeline-line = { $at } { $what } · { $who } · #{ $entry }
timeline-taken-back = { $what } deshecho
timeline-struck = { $what } por error
timeline-moved = { $what } ahora de { $tag }
timeline-empty = No hay nada anotado.
timeline-foot = Todo está en el archivo, para imprimir. Nombra camas: trátelo como un expediente.
fault-timeline-several = Varias superficies terminan en "{ $typed }": { $these }. Escriba la etiqueta de una.
timeline-corrections = **{ $of }**: lo que se corrigió, se comentó, tuvo visto bueno o se deshizo, primero lo más nuevo
timeline-uncorrected = Nada.
timeline-more = y { $count } más: todas están en el archivo de `/timeline`
timeline-title = Cronología: { $of }
timeline-made = Hecha { $at } ({ $zone }). { $count ->
        [one] 1 anotación
       *[other] { $count } anotaciones
    }, primero lo más nuevo.
timeline-how = Tachado: lo que decía antes, o lo que ya no cuenta. Ninguna anotación se borra; si supervisión borró lo escrito al lado de una, aquí consta. Las personas aparecen con su rol y un número: la clave del final dice quién es quién. Una lectura es un momento y no prueba que haya seguridad. Trate esta hoja como un expediente.
timeline-cut = { $count ->
        [one] La anotación más antigua queda
       *[other] Las { $count } anotaciones más antiguas quedan
    } fuera: el chat no acepta un archivo más grande. El archivo de la residencia las tiene todas.
timeline-col-entry = Anotación
timeline-col-when = Cuándo
timeline-col-what = Qué
timeline-col-who = Quién
timeline-who = Personas en la hoja: { $these }
timeline-surface = Superficie { $tag }, perfil { $profile }
timeline-place = Cama { $bed }, unidad { $unit }
timeline-days = Anotaciones desde el { $first } hasta el { $last }
timeline-col-later = Correcciones y comentarios
timeline-h-missed = Turnos sin revisión
timeline-missed = { $count ->
        [0] En los últimos { $days } días, cada turno ya terminado en que tocaba una revisión la tiene, o dice por qué no se pudo.
        [one] En los últimos { $days } días, 1 turno ya terminado en que tocaba una revisión no tiene ninguna anotada:
       *[other] En los últimos { $days } días, { $count } turnos ya terminados en que tocaba una revisión no tienen ninguna anotada:
    }
timeline-missed-one = { $from } a { $to }: { $tag }, cama { $bed }
timeline-missed-away = { $from } a { $to }: { $tag }, cama { $bed }. loftwatch no estaba en marcha: mire en el papel
timeline-h-who = Quién es quién
timeline-col-number = Número
timeline-col-role = Rol
timeline-col-chat = Número en el chat
timeline-col-name = Nombre (escríbalo)
menu-entry = Mire una de estas
button-earlier = Anteriores
button-newest = Las más nuevas
button-corrections = Correcciones
fault-no-timeline = No hay ninguna "{ $typed }". Escriba una etiqueta, por ejemplo LW-07, o una cama, por ejemplo 103.
fault-no-timeline-near = No hay ninguna "{ $typed }". ¿Quiso decir: { $these }?

## What a record says, in one line

line-none = ninguno
line-struck = se anotó por error
line-added = en el inventario, perfil { $profile }
line-brought-back = otra vez en el inventario
line-note-erased = se borró lo escrito junto a la anotación #{ $entry }
line-retired = dada de baja
line-placed = colocada en la cama { $bed }
line-placed-unnamed = colocada en una cama
line-released = se quitó de la cama ({ $reason })
line-checked = aire { $air }, { $judged }
line-recheck-asked = se pidió otra vez la comprobación
line-alarm = alarma reportada: { $kind }
line-alarm-shift-over = Alarma: { $kind }, reportada por alguien cuyo turno había terminado a las { $at }
line-alarm-found = hallada sin corriente: { $kind }
line-alarm-found-since = hallada sin corriente desde el { $since }, más o menos: { $kind }
line-alarm-mended = hallada así y ya resuelta: { $kind }
line-alarm-mended-since = hallada así y ya resuelta, así desde el { $since }, más o menos: { $kind }
line-alarm-named = la alarma es: { $kind }
line-alarm-taken = alarma: va en camino
line-alarm-safe = alarma: residente a salvo
line-alarm-given-up = alarma: al final no puede ir
line-alarm-not-safe = alarma: "residente a salvo" fue un error
line-alarm-asked = alarma: otro aviso ({ $rung })
line-alarm-again = alarma: no se hizo a tiempo, se avisa de nuevo
line-alarm-cause = alarma, causa: { $cause }
line-alarm-fixed = alarma cerrada: resuelta
line-alarm-out = alarma cerrada: fuera de servicio
line-alarm-released = alarma cerrada: se quitó de la cama
line-alarm-taken-back = alarma cerrada: se deshizo
line-alarm-wrong-tag = alarma cerrada: etiqueta equivocada
line-alarm-is-at = etiqueta equivocada: la alarma está en { $tag }
line-filter = filtro { $finding }, { $action }
line-cleaned = limpiada ({ $reason }) con { $with }, funda { $cover }
line-pulled = fuera de servicio: { $fault }
line-taken-back = deshizo la anotación #{ $entry }
line-booked = hay un aviso previsto, { $at }
line-unbooked = un aviso ya no se da
line-called = se avisó, porque era la hora
line-steps = se abrió la lista de pasos
line-steps-done = lista: { $steps }
line-step-missed = lista, no está bien: { $step }
line-fill = se llena, llena { $at }
line-setting = ajuste { $setting }
line-moved = movida a la cama { $bed }
line-moved-unnamed = movida a otra cama
line-plugged = enchufada otra vez después de { $span }
line-leave = cama vacía hasta el { $until } ({ $why })
line-leave-ended = de vuelta en la cama
line-static = modo estático hasta el { $until }
line-static-ended = otra vez alternante
line-cpr = se abrió la válvula de RCP
line-cpr-over = la emergencia terminó
line-turnover = empezó la puesta a punto
line-turn-shown = puesta a punto: { $step }
line-turn-undone = puesta a punto, hay que repetir: { $steps }
line-contact = mojada con desinfectante hasta el { $until }
line-ready = lista para el próximo residente
line-waived = colocada sin: { $papers }
line-marked = marcada: limpiar al final
line-unmarked = se quitó la marca "limpiar al final"
line-repaired = reparada, o hallada entera
line-returned = volvió de reparación, a su puesta a punto
line-held-known = retenida por una investigación; la lesión se supo el { $day }
line-held = retenida por una investigación
line-hold-reported = se informó de la lesión
line-hold-released = ya no está retenida
line-recalled = retiro del mercado
line-frame = se anotó lo que se sabe del armazón
line-zones = huecos: { $gaps }
line-gap = zona { $zone } { $gap } mm
line-gap-over = zona { $zone } { $gap } mm, sobre el límite
line-zones-acted = se hizo algo por un hueco sobre el límite
line-zones-did = hueco sobre el límite: { $did }
line-serviced = { $work }: { $outcome }
line-outage = corte de luz: { $roll }
line-rented = empezó el alquiler
line-arrived = revisión de llegada: { $outcome }
line-pickup = se pidió al proveedor que la recoja
line-pickup-confirmed = el proveedor confirmó la recogida
line-collected = la recogió el proveedor
line-amended = corrigió la entrada #{ $entry }
line-annotated = comentario a la anotación #{ $entry }
line-unremarked = comentario en la anotación #{ $entry } deshecho
line-countersigned = dio el visto bueno a la anotación #{ $entry }
line-second-wanted = se pide una segunda mirada: { $task }
line-second-checked = segunda mirada hecha: { $task }
line-other = { $kind }

## Erasing a note

erase-written = { $who } escribió { $at }:
erase-ask = **¿Borrar lo escrito junto a la anotación #{ $entry }?** El texto sale del archivo para siempre; la anotación queda, y también quién lo borró y cuándo. Los mensajes del chat que lo muestran los borra allí quien pueda. Las copias de seguridad anteriores aún lo tienen: avise a quien maneja loftwatch.
note-erased = Lo escrito junto a la anotación #{ $entry } está borrado. La anotación queda. Ahora borre los mensajes del chat que lo muestran, y avise a quien maneja loftwatch de las copias de seguridad anteriores.
button-erase-note = Borrar nota de { $at }
button-erase-reason = Borrar motivo de { $at }
button-erase-remark = Borrar comentario de { $at }
button-erase-sure = Borrar para siempre
fault-note-gone = Junto a la anotación #{ $entry } ya no hay nada escrito. No se anotó nada.
