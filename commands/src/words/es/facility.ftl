### Setting up a home: channels, roles, units, schedules, the ladder, policies.

facility-set = Fijado: zona horaria { $zone }, cuidados en { $care }, supervisión en { $supervisor }.
facility-set-upkeep = Mantenimiento lee en { $channel }: su lista de pendientes con las de los turnos, lo que está listo antes de un fin de semana, los retiros, lo que hay que pedir.
facility-first-schedules = Desde ahora se publica: la lista de pendientes a las 07:00, 15:00 y 23:00, el relevo 15 minutos antes, y los viernes a las 12:00 lo que está listo para el fin de semana. Se cambia con `/facility schedule`.
facility-next-units = Siguen las unidades y sus camas: `/facility unit name:Elm beds:101-112, 114A`. Después las superficies: `/fleet add` o `/fleet import`.
facility-set-again = Unidades, camas, horarios y normas quedan como estaban. Para ver todo: `/facility show`

unit-dropped = La unidad { $unit } se quitó, con lo que se publicaba para ella. Sus camas no están ahora en ninguna unidad: { $beds }
unit-set = Unidad **{ $unit }**: { $count ->
        [one] 1 cama
       *[other] { $count } camas
    } ({ $beds }). Sus publicaciones van a { $channel }.
all-units = todas las unidades

what-due-list = lista de pendientes
what-handover = relevo
what-summary = resumen
what-weekend = listo para el fin de semana
schedule-set = Se publica: { $what }, { $unit }, { $when }.
    Las cinco próximas: { $five }

# A pattern as it is read; it reads back as the same pattern.
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

# Minutes after the opening, in the order in which people are called.
ladder-words = auxiliares enseguida, auxiliares y enfermería a los { $first } min, enfermería y supervisión a los { $second } min, todos a los { $third } min y después cada { $repeat } min
ladder-figures = { $first }, { $second }, { $third } min, después cada { $repeat } min
ladder-set = Fijado. Mientras nadie tome una alarma: { $ladder }.
ladder-already = Ya es así. Mientras nadie tome una alarma: { $ladder }.

policy-set = **{ $name }** es desde ahora { $value }. { $meaning }.
policy-already = **{ $name }** ya es { $value }. No se cambió nada.
policy-lists-stay = Se publican como antes: { $these }. Para mover también una lista: `/facility schedule`

policy-air-low = Menos aire que esto es bajo, salvo que el perfil de la superficie diga otra cosa
policy-air-high = Más aire que esto es alto, salvo que el perfil de la superficie diga otra cosa
policy-low-second-look = Durante cuánto tiempo tras una lectura baja, una suficiente la mira también enfermería; 0 para nunca
policy-air-unit-asked = Si se pregunta la unidad de un número sin unidad, como 1: para residencias que miden en centímetros
policy-recheck = Cuándo se comprueba otra vez una lectura baja o alta
policy-try-again = Cuándo se prueba otra vez una comprobación que no se pudo hacer
policy-layers-most = Más capas que estas entre la persona y la superficie son demasiadas
policy-loft-readings = De una superficie se dice que baja tras estas lecturas como mínimo
policy-loft-days = De una superficie se dice que baja a lo largo de estos días como mínimo
policy-loft-odds = Tendencia a la baja: con qué rareza puede el azar solo traer una bajada así
policy-loft-fall = Tendencia a la baja: de una bajada menor que esta no se habla
policy-loft-ahead = Tendencia a la baja: no se habla de la que no sería baja en estos días
policy-safe-within = Plazo desde "Ya voy" para decir que la persona está a salvo
policy-fix-within = Plazo desde "Ya voy" para resolver la alarma
policy-spare-alarm = Cada cuánto se vuelve a llamar por la alarma de una superficie que nadie usa
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
policy-rental-day = Lo que cuesta alquilar una, si no hay alquiler de la clase anotado. 0.00 es que no se sabe
policy-beds-in-posts = Si las publicaciones muestran camas además de etiquetas. Pregunte antes a su responsable de privacidad
policy-safety-test-months = Cuánto después de una prueba de seguridad toca la próxima, si nadie puso un día
policy-outlet-test-months = Cuánto después de su prueba se vuelve a probar una toma común junto a una cama
policy-office-from = Desde cuándo en un día laborable hay alguien que da sus documentos a una superficie
policy-office-to = Hasta cuándo en un día laborable hay alguien que da sus documentos a una superficie
policy-idle-hours = Cuánto puede estar una superficie alquilada fuera de una cama antes de avisar a supervisión
policy-order-days = Cuánto tarda una entrega desde el pedido
policy-order-service = En cuántas de 100 entregas el estante no debe quedar vacío antes

show-head = **Zona horaria** { $zone } (datos de zonas { $data }) · **Cuidados** { $care } · **supervisión** { $supervisor } · **idioma** { $language }
show-upkeep-channel = - Mantenimiento lee en { $channel }
show-role = - Rol { $role }: { $chat }
show-unit = - Unidad **{ $unit }** ({ $count ->
        [one] 1 cama
       *[other] { $count } camas
    }): { $beds } · { $channel }
show-ladder = **Mientras nadie tome una alarma:** { $ladder }
show-ladder-bounds = Usual { $usual }; cada uno de 1 a { $most } min. Fuente: { $source }
show-schedule = - { $what }: { $when }
show-policies-usual = - las otras { $count }, con su valor usual: abra una página abajo.
show-policy-set = - { $name }: **{ $value }** (usual: { $default })
# Stands right behind a line of show-policy.

schedule-dropped = Ya no se publica: { $what }, { $unit }.

### What differs, and what waits.

policy-check-every = Cada cuánto se comprueba el aire debajo de una persona: una vez por turno, o tantas horas después de la última
policy-recheck-high = Cuándo se comprueba otra vez una lectura alta. Como `recheck` hasta que se fije aparte
policy-ask-times = Cuántas veces se pide lo mismo antes de dejarlo a las listas
policy-take-back = Durante cuánto tiempo se puede deshacer una anotación propia con su botón
policy-late-days = Cuántos días atrás puede fecharse una anotación
policy-chair-hours = Durante cuánto tiempo una cama cuenta como vacía mientras alguien está en el sillón
policy-leave-days = Durante cuántos días puede quedar vacía una cama
policy-hold-remind = En qué día laborable después de una lesión se recuerda por primera vez el informe a supervisión
policy-remind-again = Cuándo se recuerda otra vez a supervisión y mantenimiento lo que sigue sin hacerse
policy-order-window = Cuántos días de uso mira hacia atrás el cálculo de existencias
policy-filter-learn = Si los días hasta mirar un filtro otra vez se aprenden de las veces que se miró
policy-filter-chance = De cuántos filtros de cada cien se acepta que estén sucios antes de mirarlos otra vez
policy-filter-looks = Cuántas veces hay que haber mirado antes de aprender algo
policy-filter-longer = Si se puede mirar más tarde de lo que dice el perfil cuando así se aprende
policy-filter-most = Cuántos días como mucho sin mirar un filtro, donde los días se aprenden
policy-weekend-days = Para cuántos días deben alcanzar las existencias un viernes
policy-post-late = Cuánto puede tardar una lista antes de decir que llega tarde
policy-bleach-mixing = Si aquí se mezcla cloro con `/mix`. Una residencia que usa productos listos dice que no
policy-bleach-hours = Cuánto tiempo se puede usar una mezcla de cloro antes de tirarla
policy-bleach-stock = Lo que dice la etiqueta del cloro de la residencia, por ejemplo 8.25 %. `off` si no hay uno habitual
policy-own-years = Cuánto se calcula que dura una superficie, para `/fleet cost`
policy-own-interest = El interés anual con que se calcula tener superficies propias, para `/fleet cost`
policy-own-upkeep = Lo que cuestan reparaciones, fundas, filtros y pruebas de una superficie, para `/fleet cost`. 0.00 es que no se sabe
policy-fleet-shortfall = De 100 que necesitan una superficie, cuántos como máximo pueden no encontrar ninguna lista, para `/fleet size`
policy-frame-free = Cuánto armazón puede quedar libre junto a una superficie antes de que haya que medir los huecos
policy-wish-days = Cuántos días espera un cambio a supervisión antes de quedar sin efecto

value-yes = sí
value-no = no
value-shift = cada turno
value-unset = sin fijar
value-layers = { $count ->
        [one] 1 capa
       *[other] { $count } capas
    }
value-times = { $count ->
        [one] 1 vez
       *[other] { $count } veces
    }
value-checks = { $count ->
        [one] 1 comprobación
       *[other] { $count } comprobaciones
    }
value-readings = { $count ->
        [one] 1 lectura
       *[other] { $count } lecturas
    }
value-looks = { $count ->
        [one] 1 mirada
       *[other] { $count } miradas
    }
value-odds = 1 de cada { $count } miradas
value-a-day = { $amount } al día
value-a-year = { $amount } al año
value-years = { $count ->
        [one] 1 año
       *[other] { $count } años
    }
value-months = { $count ->
        [one] 1 mes
       *[other] { $count } meses
    }
language-english = inglés
language-spanish = español
when-never = nunca
not-on-the-list = ninguno
approved-all = todas las superficies
product-figures = { $method }, mojada { $minutes } min
product-figures-sporicidal = { $method }, mojada { $minutes } min, esporicida

what-zone = Zona horaria
what-care = Canal de cuidados
what-supervisors = Canal de supervisión
what-upkeep-channel = Canal de mantenimiento
what-language = Idioma
what-home = Nombre de la residencia
what-beds = Camas en las publicaciones
what-storage = Almacén: sucias y listas
what-ladder = Escala de avisos
what-for = { $what }, { $unit }
what-approved = Superficies aprobadas para { $beds }
# On a button: a list that has no room there.
what-approved-more = Superficies aprobadas para { $bed } y { $count } más
what-currency = Moneda
what-roles = Roles del chat
what-profile = Perfil { $profile }

# A change that was made, to the supervisors, without a sound.
told-change = **{ $what }**: { $old } → **{ $new }**
told-by = { $changes }
    Lo cambió { $who }.
told-role-instead = Se había borrado el rol del chat de **{ $role }**. Desde ahora es { $new }, asignado por { $who }. Quien no lo esperaba pregunta a la administración.
post-role-everybody = Para **{ $role }** esta residencia tiene `@everyone`: el chat no cuenta a nadie en él y sus llamadas no suenan para nadie. Quien gestiona el chat crea un rol solo para la gente de ese trabajo y lo asigna: `/facility setup { $option }:@rol`
post-role-deleted = Se borró el rol del chat de **{ $role }**: nadie puede actuar en él y sus llamadas no llegan a nadie. Quien gestiona el chat asigna otro enseguida: `/facility setup { $option }:@rol`

wish-waits = **{ $what }** debe ser: { $wished }. Antes debe estar de acuerdo supervisión: ya se le preguntó. Hasta entonces: { $now }.
post-wish = **{ $what }**: { $who } pide un cambio.
    Ahora: { $now }
    Pedido: **{ $wished }**
post-wish-again = **{ $what }** sigue esperando a supervisión. Lo pidió { $who }.
    Ahora: { $now }
    Pedido: **{ $wished }**
wish-meaning = { $meaning }. Usual { $default }, de { $least } a { $most }.
wish-ladder = Mientras nadie tome una alarma: auxiliares enseguida; después auxiliares y enfermería; después enfermería y supervisión; después todos, una y otra vez. Usual { $usual }; cada uno de 1 a { $most } min.
wish-caution = Dé su acuerdo solo si encaja con las normas de su residencia y las instrucciones de los fabricantes. Hasta entonces vale lo de ahora.
wish-agreed = **{ $what }**: { $now } → **{ $wished }**. Lo pidió { $asker }; { $who } está de acuerdo.
wish-declined = **{ $what }** queda: { $now }. { $asker } pidió { $wished }; { $who } no lo aceptó.
wish-reason-erased = **{ $what }**: { $who } no aceptó { $wished }. El motivo que estaba aquí se borró.
form-decline-title = No aceptar
form-decline = Por qué (puede quedar vacío)
wish-replaced = **{ $what }**: ya no se pide { $wished }. Hay un pedido más nuevo.
wish-expired = **{ $what }** queda: { $now }. { $asker } pidió { $wished }, y nadie contestó en { $days ->
        [one] 1 día
       *[other] { $days } días
    }. Escríbalo otra vez para volver a pedirlo.
wish-overtaken = **{ $what }**: ya no se pide { $wished }. { $who } puso otro valor.
wish-unit-dropped = **{ $what }**: ya no se pide { $wished }. { $who } quitó la unidad de la lista.
wish-withdrawn = **{ $what }** queda: { $now }. { $who } pidió { $wished } y retiró el pedido.
due-wishes = **Esperan a supervisión ({ $count })**: { $these }. Vea `/facility show`

file-profiles = Perfiles
file-frames = Armazones de las camas
# En el archivo, un canal aparece por aquello para lo que la residencia lo tiene.
file-channel = otro canal del chat
file-channel-care = el canal de cuidados
file-channel-supervisor = el canal de supervisión
file-channel-unit = el canal de { $unit }
file-channel-upkeep = el canal de mantenimiento
file-set = puesto en el chat
file-names = Lo puesto en el chat aparece por su nombre en `/facility show`, página "Canales, roles, camas a la vista".
file-role = otro rol del chat
# Quién lo hizo, por el rol en que lo hizo; un archivo no tiene nombres.
file-person = alguien de este chat
file-person-as = alguien como { $role }
show-wishes = **Esperan a supervisión ({ $count })**
show-wish = - { $what }: { $now } → **{ $wished }**, lo pidió { $who } { $since }
show-wishes-more = - y { $count } más, cuando estos tengan respuesta.
show-own = **Distinto de lo usual ({ $count })**
show-own-more = - y { $count } más: abra una página abajo.
show-all-usual = Todas las normas, { $count }, tienen su valor usual: abra una página abajo.
show-count = **Unidades** { $units } · **camas** { $beds } · **superficies** { $surfaces }
show-foot = Abra una página abajo, o el archivo con todo. Una sola: `/facility policy name:recheck`
show-page = **{ $page }**
show-admins = - Rol administración: quien puede administrar este chat. Los cambios clínicos esperan a supervisión.
policy-card = **{ $name }**{ $mark }: **{ $value }**
    { $meaning }.
    Usual { $default }, de { $least } a { $most }. Fuente: { $source }
history-head = **{ $name }** es **{ $value }** ahora.
history-none = Nunca se cambió: es el valor usual.
history-set = - { $at }: { $old } → **{ $new }**, lo puso { $who }
history-agreed = - { $at }: { $old } → **{ $new }**, lo pidió { $asker }, estuvo de acuerdo { $who }
policy-on-page = **{ $name }**{ $mark }: **{ $value }**
    { $meaning }. Usual { $default }, de { $least } a { $most }.
policy-marked = { $mark } Si lo cambia administración, espera a supervisión.
policy-clinical = Si lo cambia administración, espera a supervisión.

missing-head = **Todavía falta ({ $count })**
missing-units = - Unidades y sus camas: `/facility unit`
missing-surfaces = - Superficies: `/fleet import` o `/fleet add`
missing-placed = - Superficies en las camas: enfermería escribe `/place`
missing-due-list = - La lista de pendientes en cada turno: `/facility schedule` eligiendo en **what** la lista de pendientes, y en **when** cada 8h desde las 07:00
missing-upkeep = - Un rol para mantenimiento: `/facility setup`
missing-products = - Los desinfectantes de la residencia: `/facility product`
missing-storage = - Dónde están las superficies sucias y las listas: `/facility storage`

beds-approved = **Camas en las publicaciones:** aprobadas, lo anotó { $who } { $at }
beds-withdrawn = **Camas en las publicaciones:** solo etiquetas, lo anotó { $who } { $at }
beds-shown = **Camas en las publicaciones:** se muestran. No consta quién lo aprobó: `/facility setup`, opción beds-in-posts
beds-hidden = **Camas en las publicaciones:** solo etiquetas, hasta que su responsable de privacidad las apruebe: `/facility setup`, opción beds-in-posts
currency-shown = **Importes:** por ejemplo { $example }
home-called = **En las hojas impresas:** { $home }
home-unnamed = **En las hojas impresas:** aún sin el nombre de la residencia: `/facility setup`, opción home

page-home = Canales, roles, camas a la vista
page-units = Unidades y camas
page-ladder = Escala de avisos y horarios
page-lists = Desinfectantes y almacén
page-checks = Límites de la comprobación
page-loft = Superficies que pierden aire
page-calls = Alarmas y recordatorios
page-bedside = Junto a la cama
page-upkeep = Puestas a punto, pruebas, documentos
page-filters = Cuándo se miran los filtros
page-supply = Existencias, alquiler, dinero
page-staff = Agencia, autorizaciones, ritmo
page-house = Turnos, anotaciones, publicaciones

## Where a policy's usual value comes from

source-common = práctica común
source-air-low = menos de 1 in: AHCPR Guideline 15 (1994) y guía de inspección de CMS, de memoria; RNAO tiene ½ in
source-layers = menos es mejor: NPUAP; Williamson et al., Ostomy Wound Management 2013; el número es práctica común
source-well-inside-the-hour = muy por debajo de la hora de Gefen, Ostomy Wound Management 2008; el número es práctica común
source-inside-the-hour = por debajo de la hora de Gefen, Ostomy Wound Management 2008; el número es práctica común
source-beds-in-posts = no, hasta que el responsable de privacidad de la residencia apruebe las camas en el chat
source-unknown = no se sabe hasta que la residencia lo fije
source-safety-test = de 6 a 36 meses si el fabricante no dice nada: IEC 62353, de memoria
source-outlet-test = 12 meses para tomas que no son de hospital: NFPA 99-2012, 6.3.4.1, de memoria
source-order-service = el nivel de servicio de los textos de inventarios (modelo del vendedor de periódicos); el número es práctica común
source-check-every = no hay intervalo publicado; cada turno es práctica común
source-loft = no hay cifra publicada; elegido contando en superficies inventadas
source-hold-remind = la mitad de los 10 días laborables de 21 CFR 803.30, de memoria; la mitad es práctica común
source-frame-free = no hay cifra publicada; una pulgada es práctica común
source-bleach-hours = fresca cada día es práctica común; lo que pierde el cloro diluido: Rutala et al., Infect Control Hosp Epidemiol 1998
source-own-years = la vida útil razonable de 42 CFR 414.210(f), 5 años: una referencia
source-sign-off = 12 meses: la revisión anual de competencias es práctica común
source-agency-second-look = sí, porque aquí nadie ha visto trabajar a quien viene de fuera: práctica común
source-low-second-look = las celdas bajas tardan minutos en llenarse, por eso una buena lectura repentina se mira otra vez: práctica común
source-air-unit-asked = no, porque el margen del oficio está en pulgadas y cada respuesta dice la unidad: práctica común
source-sign-off-wanted = no, hasta que la residencia haya autorizado a su gente, para no abrumar a nadie: práctica común
