### The house: frames and gaps of beds, papers, rentals, stock, whose a surface is.

## Frames

frame-set = Fijado.
frame-line = - **{ $beds }**: { $frame }
frame-more = …y { $count } más.
frame-unknown = nada anotado
frame-size = { $width } × { $length }
frame-width = { $width } de ancho
frame-length = { $length } de largo
frame-outlet-tested = toma probada { $day }
frame-outlet-failed = toma no pasó { $day }
outlet-failed = La toma de la cama { $bed } no pasó. Enchufe ya la superficie en otra que esté bien, sin alargue ni regleta, y vea que marcha y se llena. Que nadie use esta. Queda pendiente hasta que pase.
post-outlet-failed = **{ $surface }**: la toma de pared de su cama no pasó la prueba y no se debe usar ({ $who }). Enfermería, ¿marcha desde otra, con el ajuste de antes?
frame-approved = solo aprobados: { $these }
frame-measure = Mida otra vez los huecos con la superficie puesta: `/zones`
rails-none = sin barandillas
rails-full = barandillas completas
rails-split = barandillas partidas
rails-half = medias barandillas
rails-grip = solo agarradera
outlet-hospital-grade = toma de hospital
outlet-ordinary = toma común
outlet-emergency = toma con corriente de emergencia

fits-narrower = **Mire:** mide { $size } de ancho y el armazón { $frame }. Queda libre más de { $free }: mida ya los huecos junto a la barandilla (práctica común).
fits-shorter = **Mire:** mide { $size } de largo y el armazón { $frame }. Queda libre más de { $free } en la cabecera o a los pies: mida ya los huecos (práctica común).
fits-gap-over = **Un hueco de la cama { $bed } pasaba del límite** (zona { $zones }) y desde entonces no se ha medido dentro de él. Actúe ya y mida otra vez: `/zones`

## Gaps

zones-head = **Huecos de la cama { $bed }**, con { $tag } puesta:
zones-head-empty = **Huecos de la cama { $bed }**, sin superficie nuestra:
zones-within = - Zona { $zone }: { $gap }, bajo el límite
zones-over = - Zona { $zone }: { $gap }, **sobre el límite** (menos de { $limit })
zones-over-neck = - Zona { $zone }: { $gap }, **sobre el límite** (menos de { $limit }, y su ángulo más de { $degrees }°)
zones-noted = - Zona { $zone }: { $gap }, anotada: no tiene límite
zones-noted-air = - Zona { $zone }: { $gap }, anotada: en una superficie de aire no es un aprobado
zones-not-judged = - Zona { $zone }: { $gap }, no se puede juzgar sin su ángulo. Anótela otra vez con **angle4**
zones-act-nurse = **Actúe ya**, como dicen el plan de cuidados y sus normas. Se avisa a supervisión. Queda pendiente una valoración por personal con licencia hasta que se mida otra vez y no pase del límite.
zones-act = **Actúe ya**, como dicen el plan de cuidados y sus normas. Se avisa a enfermería y a supervisión. Queda pendiente una valoración por personal con licencia hasta que se mida otra vez y no pase del límite.
zones-still-over = La zona { $zones } pasaba antes del límite y no se midió ahora: sigue pendiente.
zones-over-ended = Ya no hay nada de esta cama anotado sobre el límite: sale de la lista de pendientes.
zones-step-done = Instalación: esto cuenta como barandillas y huecos revisados otra vez. Mire también las zonas que no midió.
zones-step-open = Instalación: barandillas y huecos siguen pendientes. Zonas sin medir ahora: { $zones }. Mida todas de la 1 a la 4 y escríbalas en un solo `/zones`, o mire todas y toque [Barandillas y huecos vistos].
zones-step-missed = Instalación: barandillas y huecos todavía no están bien.
zones-again = Mida otra vez con la superficie puesta: el aire cede.
zones-caution = Límites: guía de la FDA de 2006. Bajo el límite no es una promesa. Deciden las instrucciones del fabricante y una valoración por personal con licencia.
zones-acted = Anotado para la cama { $bed }: **{ $did }**. Queda pendiente una valoración por personal con licencia hasta que se mida otra vez y no pase del límite: `/zones`
zones-acted-already = { $who } ya lo dijo para la cama { $bed } a las { $at } ({ $did }). Sigue pendiente hasta que se mida otra vez: `/zones`
zones-did-what = ¿Qué se hizo enseguida en la cama { $bed }?
menu-gap-acts = Qué se hizo enseguida…
gap-act-rail-lowered = barandilla bajada
gap-act-rail-removed = barandilla quitada
gap-act-gap-filled = hueco rellenado
gap-act-bed-out = cama fuera de uso
gap-act-resident-moved = residente en otra cama
gap-act-assessment-asked = valoración pedida
gap-with-acts = { $surface } ({ $did })
card-gap-acted = Hecho enseguida: { $done }. Queda pendiente una valoración por personal con licencia.
post-gap-over = **{ $surface }**: hueco sobre el límite en su cama (zona { $zones }), lo midió { $who }. Enfermería: venga ya y actúe como dicen el plan de cuidados y sus normas. Queda pendiente una valoración por personal con licencia.
post-gap-over-nurse = **{ $surface }**: hueco sobre el límite en su cama (zona { $zones }). Lo midió { $who }, que actúa como dicen el plan de cuidados y sus normas. Queda pendiente una valoración por personal con licencia.
post-gap-over-ended = **{ $surface }**: { $who } midió otra vez, { $at }, y ya no pasa del límite (era la zona { $zones }). Sale de la lista de pendientes.
post-gap-over-empty = **Una cama de { $unit } sin superficie nuestra**: hueco sobre el límite (zona { $zones }). Lo midió { $who } y sabe qué cama es. Actúen como dicen sus normas. Queda pendiente una valoración por personal con licencia.

## A surface's card

whose-resident = **Es de un residente.** Se va con esa persona y no es para otras camas.
whose-hospice = **Es de un hospicio.** Vuelve al hospicio y no es para otras camas.
whose-rented = Alquilada, y sus días no se cuentan: `/rental start`
whose-rented-days = Alquilada, día { $days }
whose-rented-arrival = Alquilada, día { $days }. Sin revisar desde que llegó
whose-rented-called = Alquilada, día { $days }. Recogida pedida, sin confirmar
whose-rented-confirmed = Sin alquiler, después de { $days ->
        [one] 1 día
       *[other] { $days } días
    }. Falta que la recojan
surface-frame = Cama { $bed }: { $frame }
surface-gap-over = **Hueco sobre el límite** en la zona { $zones }, desde el { $since }
surface-gaps-wanted = Huecos: sin medir con ella puesta. `/zones bed:{ $bed }`
surface-tested = Prueba de seguridad: { $day }, próxima hasta el { $next }
surface-not-tested = Prueba de seguridad: ninguna anotada
surface-test-failed = Prueba de seguridad: no pasó { $day }
surface-maintenance = Mantenimiento del fabricante: toca { $day }
surface-waived = **En uso sin su documento:** { $missing }

## Papers

paper-safety-test = prueba de seguridad
paper-maintenance = mantenimiento del fabricante
paper-arrival = revisión de llegada
lack-paper-safety-test = una prueba de seguridad que haya pasado (mantenimiento la anota con `/service`)
lack-paper-maintenance = el mantenimiento del fabricante, ya vencido (mantenimiento lo anota con `/service`)
lack-paper-arrival = la revisión de cuando llegó (mantenimiento o supervisión, en su ficha de `/surface`; supervisión escribe antes `/rental start`)
papers-ask = A **{ $tag }** le falta: { $missing }. De { $from } a { $to } en días laborables lo da mantenimiento. Ahora puede colocarla igual: se avisa a supervisión, y queda pendiente hasta que llegue el documento.
papers-other = **{ $tag }** está lista, es del mismo perfil y tiene sus documentos.
button-waive = Colocar sin el documento
placed-without = **Sin su documento:** { $missing }. Se avisó a supervisión y a mantenimiento. Queda pendiente hasta que llegue.
post-paper-waived = **{ $surface }**: colocada sin su documento ({ $missing }) por { $who }, fuera del horario de oficina. Den el documento, o pongan otra superficie ahí.

## Service

work-safety-test = prueba de seguridad
work-maintenance = mantenimiento del fabricante
service-passed = **{ $surface }**: { $work }, pasó, { $day }.
service-failed = **{ $surface }**: { $work }, no pasó, { $day }.
service-next = Próxima vez hasta el { $day }.
service-no-next = Sin día para la próxima vez: su perfil no dice ninguno. Póngalo con la opción **next**.
service-caution = Qué debe mostrar una prueba lo deciden las instrucciones del fabricante y los reglamentos locales.
out-now = **{ $tag }** está fuera de servicio. Póngale un aviso y sepárela.
out-under = **{ $surface }** está fuera de servicio y la persona sigue encima. Se avisa a enfermería y a mantenimiento. La alarma sigue abierta hasta que la persona esté en otra superficie.
out-already = **{ $surface }** ya está fuera de servicio.

## Rentals

rental-started = **{ $surface }** está alquilada desde hoy, { $rate } por día.
rental-arrival = **Revisión de llegada:** limpia y seca · funda entera, también por dentro si el fabricante deja mirar · completa, con cable, mangueras y correas · la etiqueta de la prueba del proveedor · marcha, llena, sin alarma. ¿Está todo?
rental-arrived = **{ $surface }** llegó como debía.
rental-arrived-test = También necesita una prueba de seguridad anotada antes del primer uso: `/service`. El día está en la etiqueta del proveedor.
rental-arrived-badly = No la use. Avise ya al proveedor. Para devolverla: `/rental stop`
rental-called = **{ $tag }**: recogida pedida. Avise ya al proveedor. Sigue costando hasta que la confirme: pídale su número.
rental-reference = Su número para el alquiler: { $reference }
rental-called-already = **{ $tag }**: la recogida se pidió { $since } y todavía no está confirmada.
rental-confirmed-already = **{ $tag }**: la recogida se pidió { $since } y está confirmada. Falta que la recojan.
rental-confirmed = **{ $tag }** ya no está alquilada. { $days ->
        [one] 1 día
       *[other] { $days } días
    }, { $cost } en total. Toque cuando el proveedor la haya recogido.
rental-collected = **{ $tag }** está otra vez con el proveedor y fuera del inventario. Aquí no hace falta puesta a punto. { $days ->
        [one] 1 día
       *[other] { $days } días
    }, { $cost } en total.
rental-collected-unconfirmed = El proveedor nunca confirmó la recogida: pídala por escrito, o puede seguir costando.
rental-none = No hay nada alquilado. Una superficie alquilada se agrega con `/fleet add …` eligiendo en **owned** alquilada; después `/rental start`.
rental-head = { $count ->
        [one] **1 superficie alquilada**
       *[other] **{ $count } superficies alquiladas**
    }, { $cost } hasta ahora
rental-line = - { $surface } · { $days ->
        [one] 1 día
       *[other] { $days } días
    } · { $cost }
rental-line-unknown = - { $surface } · sin contar: `/rental start`
rental-line-idle = **sin usar** desde el { $since }
rental-line-called = recogida pedida, sin confirmar
rental-line-confirmed = ya sin alquiler, falta que la recojan
rental-more = …y { $count } más.
rental-foot = Un día empezado cuenta como un día. Decide el contrato del proveedor.
post-rental-idle = **{ $surface }**: alquilada y en ninguna cama desde el { $since }. { $days ->
        [one] 1 día
       *[other] { $days } días
    }, { $cost } hasta ahora. Colóquenla, o devuélvanla con `/rental stop`.
post-pickup-unconfirmed = **{ $surface }**: recogida pedida { $called }, sin confirmar. Sigue costando. Pidan al proveedor su número.
post-pickup-late = **{ $surface }**: ya sin alquiler, pero todavía no la recogen (recogida pedida { $called }). Pregunten al proveedor cuándo vienen.
button-arrived-well = Llegó como debía
button-arrived-badly = No llegó como debía
button-pickup-confirmed = El proveedor confirmó
button-collected = Recogida
form-pickup-title = Recogida confirmada: { $tag }
form-pickup = El número del proveedor
form-pickup-hint = Como lo dieron, por ejemplo P-20418. Déjelo vacío si no dieron ninguno
owned-owned = propia de la residencia
owned-rented = alquilada
owned-resident = de un residente
owned-hospice = de un hospicio

## Whose it is

placed-again-resident = **{ $tag } es de un residente** y ya estuvo en una cama. Es solo para su dueño. Si esta es otra persona, quítela ya.
placed-again-hospice = **{ $tag } es de un hospicio** y ya estuvo en una cama. Pregunte antes al hospicio. Si no está de acuerdo, quítela ya.
released-resident = **{ $tag } es de un residente.** Haga llamar al contacto de la familia, como se hace en su residencia, para que la recoja.
released-hospice = **{ $tag } es de un hospicio.** Llame al hospicio para que la recoja.
fleet-others = No son de la residencia y no están en estas cifras: { $count }
fleet-whose = { $line } · { $whose }

## Stock

stock-head = **En el estante**
stock-line = - **{ $item }**: { $count }
stock-line-not-counted = - **{ $item }**: todavía sin contar
stock-lasts = { $week } por semana, alcanza hasta cerca de { $day }
stock-unused = últimamente no se usó
stock-order-at = pedir al llegar a { $point }
stock-order-now = **pedir ya** (en { $point } o menos)
stock-too-little = muy poco historial para calcular
stock-more = …y { $count } más. `/stock item:` muestra cada uno.
stock-foot = Contar: `/stock item:… count:12`. ¿Por qué pedir entonces? `/stock item:…`
stock-nothing = Aquí no se cuenta nada todavía. Escriba `/stock item:conectores de manguera count:6`
stock-about = **{ $item }**: hay { $count }, contado { $counted }.
stock-below = Según lo anotado se usó más de lo que había, por { $count }. Cuente otra vez.
stock-why = Por qué { $point }: lo mínimo que alcanza para { $days } días de entrega en { $service } de 100 casos, si en ese tiempo se usan { $mean } en promedio (últimos { $window } días, Poisson; order-days, order-service y order-window en `/facility policy`).
stock-not-counted = **{ $item }** todavía no está contado. Escriba cuántos hay con la opción **count**.
stock-counted = **{ $item }**: hay { $count }.
stock-books = Según lo anotado había { $books }.
stock-count-order = Eso es { $point } o menos: **pedir ya**.
stock-first = Desde ahora se cuenta. Los filtros bajan solos cuando se cambian.
stock-new = Toque solo si es otra cosa que todavía no está en la lista.
button-new-item = Es un artículo nuevo
post-stock-order = **{ $item }**: en el estante: { $count }. Pidan más ya. `/stock` dice cuánto alcanza.
stock-left = **{ $item }**: quedan { $count } en el estante. Pida más ya.

## No, and what to type instead

fault-policy-office = No se fijó: **office-from** debe ser antes que **office-to**. Cambie primero el otro.
fault-beds-unknown = No hay ninguna cama { $these }. Escriba camas de esta residencia, por ejemplo 101-104.
fault-approved-empty = ¿Qué perfiles? Escriba sus nombres con comas, o todos.
fault-frame-size = **{ $option }** debe ir de { $least } a { $most } in. Escríbalo así: 36 in o 91 cm.
fault-frame-unit = **{ $option }**: ¿{ $number } de qué? Escríbalo con su unidad: 36 in, 91 cm o 914 mm.
fault-not-approved = { $profile } no está aprobado para la cama { $bed }. Aprobados allí: { $these }. Elija uno de esos. Mantenimiento o supervisión cambian la lista con `/facility frame`.
fault-too-wide = { $profile } mide { $size } de ancho, y el armazón de la cama { $bed } solo { $frame }. Elija una más estrecha. Si el armazón está mal anotado, mantenimiento o supervisión lo corrigen con `/facility frame`.
fault-too-long-for = { $profile } mide { $size } de largo, y el armazón de la cama { $bed } solo { $frame }. Elija una más corta. Si el armazón está mal anotado, mantenimiento o supervisión lo corrigen con `/facility frame`.
fault-zones-none = ¿Qué huecos? Ponga al menos uno, por ejemplo zone1:110 mm. Mida con la herramienta y con la superficie puesta.
fault-angle-alone = **angle4** va con **zone4**. Ponga los dos, por ejemplo zone4:50 mm angle4:65.
fault-angle = **angle4** va en grados enteros de 0 a 90, por ejemplo 65.
fault-angle-whole = **angle4** va en grados enteros. 60.5 no cuenta como más de 60: escriba 60.
fault-angle-big = **angle4** es como máximo { $most } grados. Escríbalo así: 65.
fault-length-none = **{ $option }**: no veo ninguna medida. Escríbala así: 110 mm o 4 3/8 in.
fault-length-unit = **{ $option }**: ¿{ $number } de qué? Escriba { $number } mm, { $number } cm o { $number } in.
fault-length-negative = **{ $option }** no puede ser menos que nada. Escríbala así: 110 mm.
fault-length-big = **{ $option }** es más de { $most }. Escríbala así: 110 mm o 4 3/8 in.
fault-length-two = **{ $option }**: veo dos números. Escriba uno, por ejemplo 110 mm.
fault-length-fraction = **{ $option }**: no entiendo esta fracción. Escríbala así: 4 3/8 in o 110 mm.
fault-length-unknown = **{ $option }**: no conozco esta unidad. Escriba in, cm o mm, por ejemplo 110 mm.
fault-gap-over-no-more = La cama { $bed } se midió otra vez y ahora nada pasa del límite. No se anotó nada.
fault-gap-newer = La cama { $bed } se midió otra vez desde entonces. Toque en la ficha más nueva.
fault-papers = { $tag } todavía no se puede colocar. Falta: { $missing }. Elija otra, o pida antes el documento.
fault-service-held = { $tag } está retenida por una investigación: no se le hace nada hasta que supervisión la libere.
fault-service-next-failed = Después de una que no pasó no hay próximo día: deje **next** vacío. Se prueba otra vez después de repararla.
fault-service-next = **next** debe ser después de { $on }, y como máximo { $years } años adelante. Escríbalo así: 2027-03-01.
fault-service-newer = { $tag } tiene anotada una más nueva, de { $day }. No se anotó nada.
fault-not-rented = { $tag } es { $whose }, según el inventario. Una superficie alquilada se agrega con `/fleet add …` eligiendo en **owned** alquilada.
fault-rental-runs = { $tag } ya está alquilada, desde el { $since }. `/rental list` muestra cuánto cuesta.
fault-rental-called = La recogida de { $tag } está pedida, y su alquiler desde el { $since } sigue corriendo. Toque antes **El proveedor confirmó**: `/rental stop` muestra los botones.
fault-rental-not-started = No sé desde cuándo está alquilada { $tag }. Escriba antes `/rental start`.
fault-rental-under = { $tag } está en la cama { $bed }. Enfermería la quita primero con `/release`.
fault-rental-held = { $tag } está retenida por una investigación y se queda aquí hasta que supervisión la libere. Avise al proveedor.
fault-rental-other = Esta ficha es de un alquiler anterior de { $tag }, así que no se anotó nada. Vea `/rental list`.
fault-retired-back = { $tag } ya salió de la residencia. No se anotó nada.
fault-arrived-already = { $tag } ya se revisó, { $at }. { $who }
fault-pickup-not-called = No hay recogida pedida para { $tag }. Escriba antes `/rental stop`.
fault-confirmed-already = La recogida de { $tag } ya se confirmó, { $at }.
fault-place-called = Se pidió al proveedor que recoja { $tag }. Elija otra.
fault-money = No entiendo **rate**. Escriba lo que cuesta un día, por ejemplo 38.50.
fault-money-negative = **rate** no puede ser menos que nada. Escriba lo que cuesta un día, por ejemplo 38.50.
fault-money-cents = **rate** tiene como máximo dos cifras después del punto, por ejemplo 38.50.
fault-money-comma = ¿La coma en **rate** separa miles? Escriba 1200, o 38.50 con punto.
fault-money-much = **rate** es más de { $most } por día. Escriba lo que cuesta un día, por ejemplo 38.50.
fault-which-item = "{ $typed }" puede ser: { $these }. Escriba el nombre completo.
fault-no-item = No hay ningún artículo "{ $typed }" en el estante. `/stock` los muestra todos.
fault-no-item-near = No hay ningún artículo "{ $typed }". ¿Quiso decir: { $these }?
fault-item-name = Un artículo tiene letras, cifras, espacios y guiones, como máximo { $most }, por ejemplo conectores de manguera.
fault-items-many = Ya hay { $most } artículos, que es el máximo.
