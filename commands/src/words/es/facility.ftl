### Setting up a home: channels, roles, units, schedules, the ladder, policies.

facility-set = Listo: zona horaria { $zone }, cuidados en { $care }, supervisores en { $supervisor }.
facility-first-schedules = Desde ahora se publica: la lista de pendientes a las 07:00, 15:00 y 23:00, el relevo 15 minutos antes, y los viernes a las 12:00 lo que está listo para el fin de semana. Se cambia con `/facility schedule`.
facility-next-units = Siguen las unidades y sus camas: `/facility unit name:Elm beds:101-112, 114A`. Después las superficies: `/fleet add` o `/fleet import`.
facility-set-again = Unidades, camas, horarios y normas quedan como estaban. Para ver todo: `/facility show`
unit-set = Unidad **{ $unit }**: { $count ->
        [one] 1 cama
       *[other] { $count } camas
    } ({ $beds }). Sus avisos van a { $channel }.
all-units = todas las unidades
what-due-list = lista de pendientes
what-handover = relevo
what-summary = resumen
what-weekend = listo para el fin de semana
schedule-set = Se publica: { $what }, { $unit }, { $when }.
    Las cinco próximas: { $five }
pattern-daily = cada día
pattern-weekdays = días laborables
pattern-weekends = fines de semana
pattern-monday = lunes
pattern-tuesday = martes
pattern-wednesday = miércoles
pattern-thursday = jueves
pattern-friday = viernes
pattern-saturday = sábado
pattern-sunday = domingo
pattern-every = cada { $hours }h desde las { $time }
ladder-words = auxiliares en seguida, auxiliares y enfermería a los { $first } min, enfermería y supervisores a los { $second } min, todos a los { $third } min y luego cada { $repeat } min
ladder-figures = { $first }, { $second }, { $third } min, luego cada { $repeat } min
ladder-set = Listo. Mientras nadie atienda una alarma: { $ladder }.
policy-set = **{ $name }** es desde ahora { $value }. { $meaning }.
policy-air-low = Menos aire que esto es bajo, salvo que el perfil de la superficie diga otra cosa
policy-air-high = Más aire que esto es alto, salvo que el perfil de la superficie diga otra cosa
policy-recheck = Cuándo se comprueba otra vez una lectura baja o alta
policy-try-again = Cuándo se prueba otra vez una comprobación que no se pudo hacer
policy-layers-most = Más capas que estas entre la persona y la superficie son demasiadas
policy-safe-within = Plazo desde "Ya voy" para decir que la persona está a salvo
policy-fix-within = Plazo desde "Ya voy" para resolver la alarma
policy-shift-start = Cuándo empieza el primer turno del día
policy-shift-hours = Cuánto dura un turno
policy-turnover-hours = Plazo para que una superficie quitada de la cama esté lista otra vez
policy-away-after = Cuánto puede estar ausente loftwatch antes de avisar a supervisión
policy-set-up-within = Plazo para terminar una lista junto a la cama antes de avisar a alguien
policy-unplugged-most = Cuánto puede estar desenchufada una superficie al moverla, si su perfil no dice menos
policy-static-most = Cuánto puede durar el modo estático
policy-cpr-quiet = Cuánto después de abrir la válvula de RCP se avisa una vez a enfermería
policy-setting-by-aides = Si los auxiliares pueden cambiar un ajuste. Normalmente solo enfermería
policy-roll-again = Cuánto después de un recuento terminado empieza el próximo mientras una unidad no tiene corriente
policy-rental-day = Lo que cuesta por día alquilar una superficie, para `/match`. 0.00 es que no se sabe
policy-beds-in-posts = Si los avisos muestran camas además de etiquetas. Pregunte antes a su responsable de privacidad
policy-safety-test-months = Cuánto después de una prueba de seguridad toca la próxima, si nadie puso un día
policy-outlet-test-months = Cuánto después de su prueba se vuelve a probar una toma común junto a una cama
policy-office-from = Desde cuándo en un día laborable hay alguien que da sus documentos a una superficie
policy-office-to = Hasta cuándo en un día laborable hay alguien que da sus documentos a una superficie
policy-idle-hours = Cuánto puede estar una superficie alquilada fuera de una cama antes de avisar a supervisión
policy-order-days = Cuánto tarda una entrega desde el pedido
policy-order-service = En cuántas de 100 entregas el estante no debe quedar vacío antes
show-head = **Zona horaria** { $zone } (datos { $data }) · **Cuidados** { $care } · **supervisores** { $supervisor } · **idioma** { $language }
show-role = - Rol { $role }: { $chat }
show-unit = - Unidad **{ $unit }** ({ $count ->
        [one] 1 cama
       *[other] { $count } camas
    }): { $beds } · { $channel }
show-ladder = **Mientras nadie atienda una alarma:** { $ladder }
show-schedule = - { $what }: { $when }
show-policies-usual = - las otras { $count }, como siempre: abra una página abajo.
show-policy-set = - { $name }: **{ $value }** (usual: { $default })
schedule-dropped = Ya no se publica: { $what }, { $unit }.
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
page-staff = Personal de agencia, habilitaciones, ritmo
page-house = Turnos, anotaciones, avisos
