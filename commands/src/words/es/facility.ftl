### Setting up a home: channels, roles, units, schedules, the ladder, policies.

facility-set = Listo: zona horaria { $zone }, cuidados en { $care }, supervisores en { $supervisor }.
facility-first-schedules = Posted from now on: the due list at 07:00, 15:00 and 23:00, the handover 15 minutes before, and on Fridays at 12:00 what is ready for the weekend. Change it with `/facility schedule`.
facility-next-units = Next, the units and their beds: `/facility unit name:Elm beds:101-112, 114A`. Then the surfaces: `/fleet add` or `/fleet import`.
facility-set-again = Units, beds, schedules and policies stay as they were. See all of it: `/facility show`

unit-set = Unit **{ $unit }**: { $count ->
        [one] 1 bed
       *[other] { $count } beds
    } ({ $beds }). Its posts go to { $channel }.
all-units = all units

what-due-list = due list
what-handover = handover
what-summary = summary
what-weekend = ready for the weekend
schedule-set = The { $what } for { $unit } is posted { $when }.
    The next five: { $five }

# Minutes after the opening, in the order in which people are called.
ladder-words = auxiliares en seguida, auxiliares y enfermería a los { $first } min, enfermería y supervisores a los { $second } min, todos a los { $third } min y luego cada { $repeat } min
ladder-figures = { $first }, { $second }, { $third } min, luego cada { $repeat } min
ladder-set = Listo. Mientras nadie atienda una alarma: { $ladder }.

policy-set = **{ $name }** is { $value } from now on. { $meaning }.

policy-air-low = Less air than this is low, unless the surface's profile says otherwise
policy-air-high = More air than this is high, unless the surface's profile says otherwise
policy-recheck = How soon a low or high reading is checked again
policy-try-again = How soon a check that could not be made is tried again
policy-layers-most = More layers than this between person and surface are too many
policy-safe-within = How soon after "On my way" the resident must be said to be safe
policy-fix-within = How soon after "On my way" the alarm must be fixed
policy-shift-start = When the first shift of the day starts
policy-shift-hours = How long a shift is
policy-turnover-hours = How soon after its release a surface should be ready again
policy-away-after = How long loftwatch may be away before supervisors are told
policy-set-up-within = How soon a checklist at a bed should be finished before somebody is called
policy-unplugged-most = How long a surface may be unplugged in a move, unless its profile says less
policy-static-most = How long static mode may last
policy-cpr-quiet = How long after an opened CPR valve the nurse is called once
policy-setting-by-aides = Whether aides may change a setting. Usually only the nurse
policy-roll-again = How soon after a finished roll the next one begins while a unit has no power
policy-rental-day = What renting one surface costs a day, for `/match`. 0.00 means not known
policy-beds-in-posts = Whether posts show beds as well as tags. Ask your privacy officer first
policy-safety-test-months = How soon after a safety test the next one is due, where nobody named a day
policy-outlet-test-months = How soon after its test an ordinary wall outlet at a bed is tested again
policy-office-from = From when on a work day somebody is there who gives a surface its papers
policy-office-to = Until when on a work day somebody is there who gives a surface its papers
policy-idle-hours = How long a rented surface may be under no bed before supervisors are told
policy-order-days = How long a delivery takes after an order
policy-order-service = In how many of 100 deliveries the shelf must not be empty before

show-head = **Zona horaria** { $zone } (datos { $data }) · **Cuidados** { $care } · **supervisores** { $supervisor } · **idioma** { $language }
show-role = - Role { $role }: { $chat }
show-unit = - Unidad **{ $unit }** ({ $count ->
        [one] 1 cama
       *[other] { $count } camas
    }): { $beds } · { $channel }
show-ladder = **Mientras nadie atienda una alarma:** { $ladder }
show-schedule = - { $what }: { $when }
show-policies-usual = - las otras { $count }, como siempre: abra una página abajo.
show-policy-set = - { $name }: **{ $value }** (usual: { $default })
# Stands right behind a line of show-policy.

schedule-dropped = Ya no se publica: { $what }, { $unit }.

### Lo que difiere y lo que espera.

policy-check-every = Cada cuánto se comprueba el aire debajo de alguien: una vez en cada turno, o tantas horas después de la última vez
policy-recheck-high = Cuándo se vuelve a comprobar una lectura alta. Como `recheck` hasta que se fije aparte
policy-ask-times = Cuántas veces se pide lo mismo antes de dejarlo a las listas
policy-take-back = Durante cuánto tiempo se puede retirar lo que uno mismo anotó
policy-late-days = Cuántos días atrás puede fecharse una anotación
policy-chair-hours = Durante cuánto tiempo la cama cuenta como vacía mientras alguien está en un sillón
policy-leave-days = Cuántos días se puede guardar una cama vacía
policy-hold-remind = En qué día hábil después de una lesión se recuerda por primera vez el informe
policy-remind-again = Cuándo se recuerda otra vez lo que sigue sin hacerse
policy-order-window = Cuántos días de uso mira el cálculo de existencias
policy-weekend-days = Para cuántos días deben alcanzar las existencias un viernes
policy-post-late = Cuánto puede tardar una lista antes de decir que llega tarde
policy-frame-free = Cuánto puede quedar libre de la base junto a una superficie antes de medir los huecos
policy-wish-days = Cuántos días espera un cambio a un supervisor antes de quedar sin efecto

value-yes = sí
value-no = no
value-shift = cada turno
language-english = inglés
language-spanish = español
when-never = nunca
not-on-the-list = ninguno
approved-all = todas las superficies
product-figures = { $method }, mojado { $minutes } min
product-figures-sporicidal = { $method }, mojado { $minutes } min, esporicida

what-zone = Zona horaria
what-care = Canal de cuidados
what-supervisors = Canal de supervisores
what-language = Idioma
what-beds = Camas en las publicaciones
what-storage = Almacén, sucias y listas
what-ladder = Escalera
what-for = { $what }, { $unit }
what-approved = Superficies aprobadas para { $beds }

# A change that was made, to the supervisors, without a sound.
told-change = **{ $what }**: { $old } → **{ $new }**
told-by = { $changes }
    Lo cambió { $who }.

wish-waits = **{ $what }** debe ser: { $wished }. Antes debe aceptarlo un supervisor: ya se le preguntó. Hasta entonces: { $now }.
post-wish = **{ $what }**: { $who } pide un cambio.
    Ahora: { $now }
    Pedido: **{ $wished }**
post-wish-again = **{ $what }** sigue esperando a un supervisor. Lo pidió { $who }.
    Ahora: { $now }
    Pedido: **{ $wished }**
wish-meaning = { $meaning }.
wish-ladder = Mientras nadie atienda una alarma: auxiliares en seguida; luego auxiliares y enfermería; luego enfermería y supervisores; luego todos, una y otra vez.
wish-caution = Acéptelo solo si concuerda con las normas de su residencia y las instrucciones del fabricante. Hasta entonces vale lo de ahora.
wish-agreed = **{ $what }**: { $now } → **{ $wished }**. Lo pidió { $asker }, lo aceptó { $who }.
wish-declined = **{ $what }** queda: { $now }. { $asker } pidió { $wished }, { $who } no lo aceptó.
wish-replaced = **{ $what }**: ya no se pide { $wished }. Hay un pedido más nuevo.
wish-expired = **{ $what }** queda: { $now }. { $asker } pidió { $wished }, y nadie contestó en { $days ->
        [one] 1 día
       *[other] { $days } días
    }. Escríbalo otra vez para volver a pedirlo.
due-wishes = **Esperan a un supervisor ({ $count })**: { $these }. Vea `/facility show`

show-wishes = **Esperan a un supervisor ({ $count })**
show-wish = - { $what }: { $now } → **{ $wished }**, lo pidió { $who } { $since }
show-own = **Distinto de lo usual ({ $count })**
show-all-usual = Las { $count } normas están como siempre: abra una página abajo.
show-count = **Unidades** { $units } · **camas** { $beds } · **superficies** { $surfaces }
show-foot = Abra una página abajo, o el archivo con todo. Una sola: `/facility policy name:recheck`
show-page = **{ $page }**
show-admins = - Rol admin: quien puede administrar este chat. Los cambios clínicos esperan a un supervisor.
policy-card = **{ $name }**: **{ $value }**
    { $meaning }.
    Usual { $default }, de { $least } a { $most }. Fuente: { $source }

missing-head = **Todavía falta ({ $count })**
missing-units = - Unidades y sus camas: `/facility unit`
missing-surfaces = - Superficies: `/fleet import` o `/fleet add`
missing-placed = - Superficies en las camas: enfermería escribe `/place`
missing-due-list = - La lista de pendientes en cada turno: `/facility schedule what:due-list when:every 8h from 07:00`
missing-upkeep = - Un rol para mantenimiento: `/facility setup`
missing-products = - Los desinfectantes de la residencia: `/facility product`
missing-storage = - Dónde están las superficies sucias y las listas: `/facility storage`

beds-approved = **Camas en las publicaciones:** aprobado, lo anotó { $who } { $at }
beds-withdrawn = **Camas en las publicaciones:** solo etiquetas, lo anotó { $who } { $at }
beds-shown = **Camas en las publicaciones:** se muestran. No consta quién lo aprobó: `/facility setup`, opción beds-in-posts
beds-hidden = **Camas en las publicaciones:** solo etiquetas, hasta que el responsable de privacidad las apruebe: `/facility setup`, opción beds-in-posts

page-home = Canales, roles, camas a la vista
page-units = Unidades y camas
page-ladder = Escalera y horarios
page-lists = Desinfectantes y almacén
page-checks = Límites de la comprobación
page-calls = Alarmas y recordatorios
page-bedside = Junto a la cama
page-upkeep = Rotación, pruebas, papeles
page-supply = Existencias y alquiler
page-house = Turnos, anotaciones, avisos
