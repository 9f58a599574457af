### What is due, what the clock posts, handover, summary, suggestions, help.

## Due lists. The names follow right behind each line that ends in a blank.

due-head = **Pendiente ahora, todas las unidades**
due-head-unit = **Pendiente ahora, { $unit }**
shift-head = **Turno nuevo, todas las unidades.** Pendiente ahora:
shift-head-unit = **Turno nuevo, { $unit }.** Pendiente ahora:
shift-head-upkeep = **Turno nuevo, mantenimiento.** Pendiente ahora:
due-order = **Por pedir ({ $count })**: { $these }
due-order-item = { $item } (quedan { $count })
due-recalled = { $surface } (por retiro)
due-nothing = No hay nada pendiente. Próximas comprobaciones desde las { $at }.
due-alarm = **Alarmas abiertas ({ $count })**, la más antigua { $oldest }:{ " " }
due-still-under = **Fuera de servicio, todavía en una cama ({ $count })**:{ " " }
due-recheck = **Comprobar otra vez ({ $count })**, la primera { $oldest }:{ " " }
due-try-again = **No se pudo comprobar, probar otra vez ({ $count })**, la primera { $oldest }:{ " " }
due-check = **Comprobaciones a mano ({ $count })**:{ " " }
due-filter-old = **Filtros en el límite del fabricante ({ $count })**:{ " " }
due-filter-look = **Filtros por mirar ({ $count })**:{ " " }
due-losing-loft = **Tendencia a la baja, revisar ({ $count })**:{ " " }
due-turnover = **Puestas a punto por terminar ({ $count })**:{ " " }
due-repair = **Esperan reparación ({ $count })**:{ " " }
due-gap-over = **Huecos sobre el límite, actúe ya ({ $count })**:{ " " }
due-after-power = **Después del corte de luz ({ $count })**:{ " " }
due-steps = **Instalaciones por terminar ({ $count })**:{ " " }
due-static-over = **Modo estático pasado de su hora ({ $count })**, desde las { $oldest }:{ " " }
due-leave-over = **¿De vuelta en la cama? ({ $count })**:{ " " }
due-safety-test = **Pruebas de seguridad ({ $count })**:{ " " }
due-maintenance = **Mantenimiento del fabricante ({ $count })**:{ " " }
due-outlet-test = **Tomas de pared por probar ({ $count })**:{ " " }
due-paper-missing = **En uso sin un documento ({ $count })**:{ " " }
due-held = **Retenidas por una investigación ({ $count })**:{ " " }
due-idle = **Alquiladas y sin usar ({ $count })**:{ " " }
due-pickup = **Recogidas por confirmar o por venir ({ $count })**:{ " " }
due-clean-last = { $surface } (limpiar al final, solo esporicida)
due-more = { " " }y { $count } más
due-alarm-short = alarma abierta
due-still-under-short = necesita otra superficie
due-recheck-short = comprobar otra vez
due-try-again-short = probar otra vez
due-check-short = comprobar a mano
due-filter-old-short = cambiar el filtro
due-filter-look-short = mirar el filtro
due-losing-loft-short = a la baja, revisar
due-turnover-short = terminar puesta a punto
due-repair-short = espera reparación
due-gap-over-short = hueco sobre el límite
due-after-power-short = después del corte de luz
due-steps-short = terminar la instalación
due-static-over-short = sigue en modo estático
due-leave-over-short = ¿de vuelta en la cama?
due-safety-test-short = toca prueba de seguridad
due-maintenance-short = toca mantenimiento
due-outlet-test-short = probar la toma
due-paper-missing-short = falta un documento
due-held-short = retenida (investigación)
due-idle-short = alquilada y sin usar
due-pickup-short = confirmar la recogida

slot-late = Tarde: esto era para { $at }.

post-recheck = **{ $surface }**: toca comprobar otra vez. ¿Cuánto aire hay debajo de la persona?
post-recheck-shift = **{ $surface }**: **bajo, y nadie lo ha vuelto a mirar** desde el { $at }. ¿Cuánto aire hay ahora debajo de la persona?
post-try-again = **{ $surface }**: antes no se pudo comprobar. Pruebe ahora, por favor. ¿Cuánto aire hay debajo de la persona?
post-undelivered-alarm = **{ $surface }**: alarma abierta hace { $span } y nadie la atiende. La llamada no se pudo publicar en { $channel }: **allí no se ha avisado a nadie.** Vayan ya, o manden a alguien por teléfono. Quien administra este chat: deje que loftwatch vuelva a ver y escribir allí.
post-undelivered-spare = **{ $surface }**: alarma abierta hace { $span }. Según el registro nadie la usa. La llamada no se pudo publicar en { $channel }: **allí no se ha avisado a nadie.** Manden a alguien a mirar si es así. Quien administra este chat: deje que loftwatch vuelva a ver y escribir allí.
post-undelivered-recheck = **{ $surface }**: toca comprobar otra vez el aire. El aviso no se pudo publicar en { $channel }: allí no se ha avisado a nadie. Avísenles por teléfono. Quien administra este chat: deje que loftwatch vuelva a ver y escribir allí.
post-undelivered-list = No se pudo publicar una lista en { $channel }: allí nadie puede leerla. Mire `/due` y `/handover`, y dígales qué hay en ella. Quien administra este chat: deje que loftwatch vuelva a ver y escribir allí.
post-undelivered = No se pudo publicar un aviso en { $channel }: allí no se ha avisado a nadie. Mire `/due` ahora y avíseles por teléfono. Quien administra este chat: deje que loftwatch vuelva a ver y escribir allí.
unsaved = **En este momento no puedo guardar nada.** No se acepta ninguna anotación y no aviso a nadie: ni de alarmas abiertas ni de lo pendiente. Hasta que diga aquí que ya funciona, avísense de viva voz y por teléfono, y anoten en papel. Quien maneja loftwatch: mire su disco ahora.
unsaved-open = Alarmas abiertas: { $tags }
unsaved-over = **Ya puedo guardar otra vez.** Lo que tocaba entretanto se avisa ahora, con retraso. Anote lo que quedó en papel: `/catchup`
uncalled = **Por ahora no aviso a nadie**, ni siquiera por una alarma abierta: algo falla en mí al buscar lo que toca. Sigo tomando anotaciones. Hasta que diga aquí que vuelve a funcionar, guíense por la voz y el teléfono. Quien maneja loftwatch: mire ya su registro.
uncalled-over = **Vuelvo a avisar.** Lo que tocaba entretanto se avisa ahora, tarde.
post-clock-back = El reloj de esta computadora se atrasó { $span }; ahora marca { $now }. Los avisos siguen como si nada. Las horas de las últimas anotaciones son las del reloj de antes: mírenlas con `/timeline` y corrijan con `/amend` lo que importe.
post-clock-on = El reloj de esta computadora se adelantó { $span }; ahora marca { $now }. Lo que debía venir entretanto viene ahora. Las horas de las últimas anotaciones son las del reloj de antes: mírenlas con `/timeline` y corrijan con `/amend` lo que importe.
post-away = loftwatch estuvo ausente de { $from } a { $to } y en ese tiempo no avisó a nadie. Miren `/due` ahora, por favor. Lo que se escribió en papel: anótenlo con la opción **when**.
post-put-back = loftwatch volvió, desde una copia de seguridad, a como estaba el { $from }. **Lo que se anotó desde entonces no está.** Anótenlo otra vez, del papel y de este chat, con la opción **when**. Los avisos que iban a salir entonces no se repiten. Miren `/due` ahora, por favor.
post-no-backup = No se pudo hacer una copia de seguridad de los registros de loftwatch; la más nueva es del { $last }. Todo se anota y se avisa como siempre, pero si falla el disco de esta computadora se pierde lo anotado desde entonces. Avisen hoy a quien maneja loftwatch, por favor.
post-no-backup-yet = No se pudo hacer una copia de seguridad de los registros de loftwatch, y todavía no hay ninguna. Todo se anota y se avisa como siempre, pero si falla el disco de esta computadora se pierde todo. Avisen hoy a quien maneja loftwatch, por favor.

## Rounds that are not entered

rounds-head = **Comprobaciones aún sin anotar** en el turno desde las { $since }:
rounds-line = - **{ $unit }**, { $left } de { $all }: { $tags }
rounds-foot = No están las camas que alguien dijo vacías. Hechas, pero sin anotar: `/catchup`

## Summary

summary-head = **Resumen, todas las unidades**
summary-head-unit = **Resumen, { $unit }**
summary-figures = Comprobadas en este turno: { $checked } de { $placed } colocadas
    Listas { $ready } · sucias { $soiled } · fuera de servicio { $out }
    Alarmas abiertas: { $alarms }

## Suggestions while somebody types

suggest-why = { $surface }: { $why }
suggest-alarm = alarma abierta, { $span }
suggest-bed = { $bed }, { $unit }
suggest-policy = { $name }, ahora { $value }

## Help

help-line = `/{ $path }` { $about }
help-group = { $paths } { $about }
help-option = - `{ $name }`: { $about }
help-option-may = - `{ $name }` (se puede omitir): { $about }
help-columns = Primera línea de **{ $what }**: `{ $must }` y, si se sabe, `{ $may }`
help-more = Todo lo demás
help-foot = Primero: plan, normas y fabricante.
    Más abajo, o: `/help topic:alarm`
help-unknown = No tengo ningún comando ni tema "{ $topic }". Pruebe pitido, baja, filtro, limpieza, lejía, luz, ingreso o error; `/help` solo tiene todos los comandos.
help-not-set-up = loftwatch todavía no está configurado aquí. Quien administra este chat escribe `/facility setup`.
help-no-role = Todavía no conozco su rol aquí. Pida a supervisión el rol del chat de auxiliar, enfermería, supervisión o mantenimiento.

mention-files = Solo acepto archivos con `/fleet import`, y no se anotó nada. Si el archivo muestra a una persona o un nombre, borre su mensaje, por favor.
help-head = **Lo que más hace** ({ $roles })
help-begin = loftwatch todavía no está configurado aquí, y usted puede hacerlo: escriba `/facility setup`. Pide:
    - la zona horaria de la residencia
    - los canales de cuidados y de supervisión
    - los roles del chat de auxiliares, enfermería y supervisión
    Después `/facility unit` y `/fleet import`. `/facility show` dice lo que todavía falta.

# A few words behind a command, so that both fit one line of a phone.
help-short-round = Camas pendientes
help-short-alarm = Suena, o está desinflada
help-short-due = Lo que espera ahora
help-short-handcheck = Una lectura, escrita
help-short-clean-filter = Limpiar, revisar
help-short-static-cpr = Quieta, RCP
help-short-surface-timeline = Una superficie
help-short-duty-handover = Su turno
help-short-pull = Fuera de servicio ya
help-short-outage = Corte de luz
help-short-alarm-outage = Suena, sin luz
help-short-place-release = Ponerla, quitarla
help-short-move-swap-leave = Cambios
help-short-setting = Tabla y ajuste en uso
help-short-handcheck-round = Lecturas
help-short-match = Una para un ingreso
help-short-fleet-list = Todas, y dónde
help-short-report = Pruebas escritas
help-short-agency-team-signoff = Personas
help-short-hold-recall = Lesión, retiro
help-short-match-rental-list = Libre, alquiler
help-short-facility-show = Ajustes
help-short-pull-return = Fuera, de vuelta
help-short-service = Pruebas y servicio
help-short-stock = Existencias, qué pedir
help-short-mix = Cuánto cloro se pone
help-short-zones = Huecos de una cama
help-short-facility-setup = Zona, roles
help-short-facility-unit = Unidad y camas
help-short-fleet-import = Leer un CSV
help-short-facility-schedule = Cuándo salen
help-short-facility-policy = Límite o plazo
help-short-facility-ladder = A quién se avisa
help-short-fleet-size = Cuántas tener
help-short-fleet-cost = Comprar o alquilar
