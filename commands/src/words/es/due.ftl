### What is due, what the clock posts, handover, summary, suggestions, help.

## Due lists. The names follow right behind each line that ends in a blank.

due-head = **Due now, all units**
due-head-unit = **Due now, { $unit }**
shift-head = **New shift, all units.** Due now:
shift-head-unit = **New shift, { $unit }.** Due now:
due-nothing = Nothing is due. Next checks from { $at }.
due-alarm = **Alarms open ({ $count })**, oldest { $oldest }:{ " " }
due-still-under = **Out of service, still under a bed ({ $count })**:{ " " }
due-recheck = **Check again ({ $count })**, first { $oldest }:{ " " }
due-try-again = **Could not be checked, try again ({ $count })**, first { $oldest }:{ " " }
due-check = **Hand checks ({ $count })**:{ " " }
due-filter-old = **Filters at the maker's limit ({ $count })**:{ " " }
due-filter-look = **Filters to look at ({ $count })**:{ " " }
due-turnover = **Turnovers to finish ({ $count })**:{ " " }
due-repair = **Waiting for repair ({ $count })**:{ " " }
due-gap-over = **Gaps over the limit, act now ({ $count })**:{ " " }
due-steps = **Set-up to finish ({ $count })**:{ " " }
due-static-over = **Still in static mode ({ $count })**, since { $oldest }:{ " " }
due-leave-over = **Back in bed? ({ $count })**:{ " " }
due-safety-test = **Safety tests ({ $count })**:{ " " }
due-maintenance = **Maintenance ({ $count })**:{ " " }
due-outlet-test = **Wall outlets to test ({ $count })**:{ " " }
due-paper-missing = **In use without a paper ({ $count })**:{ " " }
due-held = **Held for an inquiry ({ $count })**:{ " " }
due-idle = **Rented and idle ({ $count })**:{ " " }
due-pickup = **Pickups to confirm or to come ({ $count })**:{ " " }
due-clean-last = { $surface } (clean last, sporicidal only)
due-more = { " " }and { $count } more
due-alarm-short = alarm open
due-still-under-short = needs another surface
due-recheck-short = check again
due-try-again-short = try the check again
due-check-short = hand check due
due-filter-old-short = change the filter
due-filter-look-short = look at the filter
due-turnover-short = finish the turnover
due-repair-short = waiting for repair
due-gap-over-short = gap over the limit
due-steps-short = finish the set-up
due-static-over-short = still in static mode
due-leave-over-short = back in bed?
due-safety-test-short = safety test due
due-maintenance-short = maintenance due
due-outlet-test-short = test the outlet
due-paper-missing-short = paper missing
due-held-short = held for an inquiry
due-idle-short = rented and idle
due-pickup-short = pickup to confirm

slot-late = Late: this was meant for { $at }.

post-recheck = **{ $surface }**: time to check again. How much air under the person?
post-try-again = **{ $surface }**: could not be checked before. Please try now. How much air under the person?
post-undelivered = A call could not be posted in { $channel }: nobody there has been called. Look at `/due` now and tell them by phone. Whoever manages this chat: let loftwatch see and write there again.
post-away = loftwatch was away from { $from } to { $to } and called nobody in that time. Please look at `/due` now. What was written on paper: enter it with the option **when**.

## Handover and summary

handover-head = **Handover, all units**
handover-head-unit = **Handover, { $unit }**
handover-alarm = - **{ $surface }**: alarm open for { $minutes } min, { $taken }
handover-taken = { $who } is on it
handover-not-taken = **nobody has taken it**
handover-recheck = - **{ $surface }**: low or high, check again { $at }
handover-unchecked = - **{ $surface }**: could not be checked, try again { $at }
handover-still-under = - Out of service and still under a bed ({ $count }): { $tags }
handover-check = - Checks not made yet this shift: { $count }
handover-filter-old = - Filters at the maker's limit: { $count }
handover-filter-look = - Filters to look at: { $count }
handover-turnover = - Turnovers to finish: { $count }
handover-repair = - Waiting for repair ({ $count }): { $tags }
handover-gap-over = - Gaps over the limit: { $count }
handover-gap-beds = - Gaps over the limit at beds without a surface ({ $count }): bed { $beds }. Measure again before one goes there: `/zones`
handover-gap-empty = - Gaps over the limit at beds without a surface: { $count }. Supervisors read which.
handover-steps = - Set-ups to finish: { $count }
handover-static-over = - Still in static mode: { $count }
handover-leave-over = - Leaves that were to end: { $count }
handover-safety-test = - Safety tests due: { $count }
handover-maintenance = - Maintenance due: { $count }
handover-outlet-test = - Wall outlets to test: { $count }
handover-paper-missing = - **{ $surface }**: in use without its paper ({ $missing })
handover-held = - Held for an inquiry ({ $count }): { $tags }
handover-idle = - Rented and idle: { $count }
handover-pickup = - Pickups to confirm or to come: { $count }
handover-turnover-late = - Turnovers that have taken longer than { $hours } h: { $count }
handover-clean-last = - Clean last, sporicidal only: { $tags }
handover-more = { $tags } and { $count } more
handover-nothing = Nothing open and nothing late.

summary-head = **Summary, all units**
summary-head-unit = **Summary, { $unit }**
summary-figures = Checked this shift: { $checked } of { $placed } placed
    Ready { $ready } · soiled { $soiled } · out of service { $out }
    Alarms open: { $alarms }

## Suggestions while somebody types

suggest-why = { $surface }: { $why }
suggest-alarm = alarm open, { $minutes } min
suggest-bed = { $bed }, { $unit }
suggest-policy = { $name }, now { $value }

## Help

help-line = `/{ $path }` { $about }
help-option = - `{ $name }`: { $about }
help-option-may = - `{ $name }` (may be left out): { $about }
help-foot = Primero: plan de cuidados, normas y fabricante.
    Más abajo, o: `/help topic:alarm`
help-unknown = I have no command "{ $topic }". Type `/help` to see them all.
help-not-set-up = loftwatch is not set up here yet. Whoever manages this chat types `/facility setup`.
help-no-role = I do not know your role here yet. Ask your supervisor for the chat role of an aide, a nurse, a supervisor or upkeep.

mention = I read commands, not messages, and nothing was recorded. Try `/handcheck`, `/alarm` or `/due`. `/help` shows the rest.
mention-files = I take files only with `/fleet import`, and nothing was recorded. If the file shows a person or a name, please delete your message.
help-head = **Lo que más hace** ({ $roles })
help-begin = loftwatch aún no está preparado aquí, y usted puede hacerlo: escriba `/facility setup`. Pide:
    - la zona horaria de la residencia
    - los canales de cuidados y de supervisores
    - los roles de auxiliares, enfermería y supervisores
    Luego `/facility unit` y `/fleet import`. `/facility show` dice lo que falta.

# A few words behind a command, so that both fit one line of a phone.
help-short-round = Camas pendientes, un toque
help-short-alarm = Suena, o está sin aire
help-short-due = Lo que espera ahora
help-short-handcheck = Una lectura, escrita
help-short-clean = Una limpieza y sus pasos
help-short-filter = Revisar un filtro
help-short-static = Quieto para atender
help-short-surface = Todo de una superficie
help-short-pull = Sacar de servicio
help-short-outage = No hay corriente
help-short-cpr = Válvula RCP abierta
help-short-place = Una lista bajo una cama
help-short-release = Fuera de la cama, a limpiar
help-short-setting = Tabla y ajuste en uso
help-short-move = A otra cama, con residente
help-short-swap = Otra superficie, igual cama
help-short-leave = Cama vacía un tiempo
help-short-match = Una para un ingreso
help-short-fleet-list = Todas, y dónde están
help-short-rental-list = Lo alquilado y su costo
help-short-hold = No tocar tras una lesión
help-short-recall = Sacar lo retirado
help-short-service = Pruebas y mantenimiento
help-short-facility-show = Ajustes de la casa
help-short-facility-policy = Un límite o un tiempo
help-short-return = De vuelta al servicio
help-short-stock = Existencias, qué pedir
help-short-zones = Huecos de una cama
help-short-facility-frame = Bases de las camas
help-short-facility-setup = Zona, canales, roles
help-short-facility-unit = Una unidad y sus camas
help-short-fleet-import = Leer un archivo CSV
help-short-fleet-add = Una superficie más
help-short-facility-schedule = Cuándo salen las listas
help-short-facility-ladder = A quién se llama, y cuándo
help-short-facility-product = Desinfectantes
help-short-facility-storage = Dónde están guardadas
