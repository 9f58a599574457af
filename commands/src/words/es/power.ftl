### A unit without power, what is entered from paper afterwards, the sheets for the wall, a surface for an admission,
### and what is ready for the weekend.

## A power failure. First steps defer to the home's policy and the maker's instructions.

outage-first = Primero: batería o toma de emergencia, nada de extensiones. Modo estático o tapas de transporte, como diga el fabricante. La válvula de RCP sigue cerrada; apriete o tape mangueras solo si el fabricante lo dice. Mueva a las personas según el plan de cuidados. Avise a la jefatura de enfermería. Las normas de su residencia y las instrucciones del fabricante van primero.
outage-opened = **{ $unit }**: el corte de luz está abierto y se avisa a la unidad para que vaya a { $count ->
        [one] 1 superficie
       *[other] { $count } superficies
    }.
    { $first }
    { $caution }
outage-open-already = **{ $unit }** ya tiene un corte de luz abierto, desde las { $at }. No se abrió otro. Su ficha:
outage-taken = Usted hace el recuento. Termínelo antes de { $minutes } min, o se avisa otra vez a los demás.
outage-both-call = { $who } también hace el recuento. Cada quien recibe la próxima que nadie ha visto.
outage-ask = **Recuento { $unit }** · por ver: { $left }
    ¿Cómo está **{ $surface }**? Mire primero a la persona.
    Sin corriente: { $holds }
outage-said = **{ $surface }**: { $how }.
outage-said-low = Se avisa a enfermería. Va primero en el próximo recuento.
outage-said-flat = **Quédese con la persona. Llame a enfermería y a otra persona.** Mueva a la persona según el plan de cuidados. Ya hay una alarma abierta: no hay que escribir nada más.
outage-said-flat-open = **Quédese con la persona. Llame a enfermería y a otra persona.** Mueva a la persona según el plan de cuidados. Su alarma estaba abierta, y se avisa otra vez al equipo.
outage-seen-already = No se anotó: { $who } ya vio **{ $surface }**, { $at }: { $how }. ¿Está peor ahora? Escriba `/alarm`.
outage-seen-by-you = No se anotó otra vez: usted ya vio **{ $surface }**, { $at }: { $how }. ¿Está peor ahora? Escriba `/alarm`.
outage-gone = No se anotó: **{ $tag }** ya no está en ninguna cama de esta unidad.
outage-cpr = No se anotó: la válvula de RCP de **{ $tag }** está abierta. Hasta que eso termine no se pregunta nada sobre ella.
outage-later = **{ $surface }** queda para después. Sigue pendiente.
outage-ask-again = **{ $surface }**: usted dijo: { $how }. ¿Cómo está de verdad? Mire primero a la persona.
outage-not-yours = No se anotó: **{ $surface }** la vio otra persona. ¿Está peor ahora? Escriba `/alarm`.
outage-alarm-stays = Su alarma sigue abierta: ciérrela en su ficha cuando haya mirado.
outage-other-roll = No se anotó: esa ficha era de un recuento anterior. Este es el de ahora:
outage-roll-done = **{ $unit }**: el recuento está hecho, vistas: { $count }. El próximo empieza { $at }, mientras no haya corriente.
outage-ended = **{ $unit }**: volvió la corriente, después de { $span }. { $count ->
        [0] No se vuelve a pedir nada: cada una tenía corriente o su cama estaba vacía.
        [one] Enchufe, ajuste y comprobación se vuelven a pedir en 1 superficie: vea `/due`.
       *[other] Enchufe, ajuste y comprobación se vuelven a pedir en { $count } superficies: vea `/due`.
    }
outage-line = **Sin corriente en { $unit }** hace { $span }, { $left ->
        [0] recuento hecho
        [one] 1 superficie todavía sin ver
       *[other] { $left } superficies todavía sin ver
    }: `/outage unit:{ $unit }`

roll-holding = mantiene el aire
roll-low = está bajando
roll-flat = desinflada
roll-powered = tiene corriente
roll-empty = cama vacía

holds-unknown = no se sabe cuánto mantiene el aire
holds-over = ya pasó el tiempo que da el fabricante
holds-minutes = mantiene el aire { $span } más, según el fabricante

button-call-roll = Yo hago el recuento
button-power-back = Volvió la corriente
button-holding = Mantiene el aire
button-low = Está bajando
button-flat = Desinflada
button-powered = Tiene corriente
button-empty = Cama vacía
button-later = Después
button-said-wrong = { $tag }: me equivoqué
button-go-on-roll = Seguir con el recuento
button-place-under = Poner { $tag } en { $bed }

## Its card

card-outage = **Sin corriente en { $unit }** desde las { $at } ({ $who })
card-roll-nobody = Recuento { $roll }: **nadie lo hace.** Próximo aviso { $at } ({ $ago })
card-roll-dropped = Recuento { $roll }: **empezado, pero sin terminar.** Próximo aviso { $at } ({ $ago })
card-roll-taken = Recuento { $roll }: lo hace { $who }, desde las { $at }. Por ver: { $left }
card-roll-done = El recuento { $roll } está hecho. El próximo empieza { $at }
card-roll-none = Ahora no hay ninguna superficie en una cama aquí. Se mira otra vez { $at }
card-roll-next = { $place }. **{ $surface }** · { $holds }
card-roll-then = Después: { $these }
card-roll-seen = { $how }: { $these }
card-roll-over = **Sin corriente en { $unit }.** El recuento { $roll } terminó: vea abajo la ficha más nueva.
card-outage-ended = **Volvió la corriente en { $unit }** { $at } ({ $who }), después de { $span } y { $rolls ->
        [one] 1 recuento
       *[other] { $rolls } recuentos
    }.

## Calls about it

post-roll-rung = **{ $unit }**: sin corriente hace { $span }, y { $left ->
        [one] 1 superficie no se ha
       *[other] { $left } superficies no se han
    } mirado en este recuento. ¿Quién lo hace?
post-roll-top = **{ $unit }**: sin corriente hace { $span }, y { $left ->
        [one] 1 superficie no se ha
       *[other] { $left } superficies no se han
    } mirado en este recuento. **Vayan ya**, o llámense por teléfono.
post-roll-again = **{ $unit }**: el recuento se empezó, pero después de { $minutes } min { $left ->
        [one] 1 superficie no se ha
       *[other] { $left } superficies no se han
    } mirado. ¿Quién sigue?
post-low-no-power = **{ $surface }**: está bajando sin corriente ({ $who }). Enfermería: venga a mirar, por favor.
post-low-no-power-nurse = **{ $surface }**: pierde aire sin corriente. { $who } la encontró y está allí. ¿Quién puede ayudar?
post-flat-no-power = **{ $surface }**: **desinflada** sin corriente ({ $who }). Enfermería: venga ya.
post-flat-no-power-nurse = **{ $surface }**: **desinflada** sin corriente. { $who } la encontró y está allí. Una segunda persona: venga ya.
post-roll-mistake = **{ $surface }**: lo que se dijo antes fue un error. Ahora: { $how } ({ $who }). Si hay una alarma abierta, sigue abierta.
post-power-back = **{ $unit }**: volvió la corriente. Miren otra vez enchufe, ajuste y aire ({ $count }): { $these }. Las unidades de control olvidan su ajuste, o guardan el de la persona anterior. Cuál debe ser lo dicen el plan de cuidados, la orden o enfermería. Tóquenlo en `/due`.
post-power-was-out = **{ $unit }** estuvo sin corriente desde las { $from }, { $span }. { $rolls ->
        [one] Se hizo 1 recuento.
       *[other] Se hicieron { $rolls } recuentos.
    } Volvió la corriente ({ $who }).

fault-outage-unit = ¿Qué unidad está sin corriente? Escriba `/outage unit:` y una de estas: { $these }
fault-outage-empty = No hay ninguna superficie en una cama de { $unit }, así que no hay recuento que hacer. ¿Suena otra cosa? Escriba `/alarm`.
fault-outage-over = Ese corte de luz ya terminó y no se anotó nada. ¿Otra vez sin corriente? Escriba `/outage`.

## From paper

form-paper-title = Lecturas en papel
form-lines = Una por línea: cama o etiqueta, hora, lectura
form-lines-hint = 103 13:40 1 1/4 · LW-07, hace 20 min, ninguno · 104 ayer 22:15 3/4 in
paper-taken = Anotado del papel: { $count ->
        [one] 1 lectura
       *[other] { $count } lecturas
    }, de { $from } a { $to }.
    Adecuado { $adequate } · bajo { $low } · alto { $high } · sin comprobar { $not }
paper-lows = Bajo, mire otra vez:
paper-low = - **{ $surface }**: { $air }, { $at }
paper-more = y { $count } más
post-paper-low = **{ $surface }**: bajo en el papel ({ $count }), anotó { $who }. Enfermería: mire cada una, por favor, y elíjala aquí para una nueva lectura:
paper-alarms = Acaban de tocar fondo, así que hay una alarma abierta: { $count }. **Vaya allí.**
paper-correct = ¿Alguna está mal? Anote la correcta con `/handcheck` y la opción **when**, y avise a supervisión: el historial guarda las dos.
paper-refused = No se anotó nada. { $count ->
        [one] Una línea no está bien:
       *[other] { $count } líneas no están bien:
    }
paper-back = Su texto, para copiar, corregir y mandar otra vez con `/catchup`:
paper-back-file = Su texto está en el archivo, para copiar, corregir y mandar otra vez con `/catchup`.

fault-paper-empty = No veo ninguna línea. Escriba una lectura por línea, por ejemplo 103 13:40 1 1/4
fault-paper-lines = Acepto { $most } líneas a la vez y veo { $found }. No se anotó nada. Mándelas por partes.
fault-paper-shape = No veo cama, hora y lectura. Escriba 103, 13:40, 1 1/4
fault-paper-commas = Esto se puede leer de dos maneras. Ponga comas: 103, 13:40, 1 1/4
fault-paper-twice = La misma superficie y hora que en la línea { $line }. Deje una de las dos.
fault-paper-there = { $tag } ya tiene anotada esta lectura de { $at }. Quite la línea.
fault-paper-unit = { $tag } no está en { $unit }. Escriba `/catchup` sin la unidad, o quite la línea.

## For the wall. Text of a printed page: nothing in it is markup.

wall-made = Las hojas para la pared, { $count ->
        [one] 1 unidad
       *[other] { $count } unidades
    }. **Imprímalas ahora**, en papel, y otra vez después de cada cambio: cuando tampoco hay red, solo queda el papel. Tienen camas y etiquetas: cuélguelas donde las visitas no puedan leerlas.
wall-title = Hojas para la pared, { $day }
wall-beds = { $unit }: camas y superficies, { $day }
wall-private = Tiene camas y etiquetas. Cuélguela donde las visitas no puedan leerla.
wall-anew = Imprímala de nuevo después de cada cambio y tire la anterior como su residencia hace con estos papeles.
wall-order = En un corte de luz mírelas de arriba abajo: primero las que no se sabe cuánto mantienen el aire, después las que menos.
wall-first = Primero batería o toma de emergencia. Nada de extensiones. Modo estático o tapas de transporte, como diga el fabricante. Mueva a las personas según el plan de cuidados, avise a la jefatura de enfermería. Las normas de su residencia y las instrucciones del fabricante van primero.
wall-valve = Válvula de RCP: cerrada, y sigue cerrada. Apriete o tape mangueras solo si el fabricante lo dice. Cuando vuelva la corriente: enchufe, ajuste, comprobación.
wall-bed = Cama
wall-tag = Etiqueta
wall-profile = Perfil
wall-holds = Mantiene el aire sin corriente
wall-setting = Ajuste en uso
wall-first-fill = Primer llenado
wall-outlet = Toma
wall-minutes = { $minutes } min
wall-not-known = no se sabe
wall-no-surface = sin superficie
wall-fill-lowest = el más bajo, { $minutes } min
wall-fill-highest = el más alto, { $minutes } min
wall-outlet-hospital = de hospital
wall-outlet-ordinary = común
wall-outlet-emergency = corriente de emergencia
wall-spare = Listas para usar al imprimir esto: { $these }
wall-no-spare = Listas para usar al imprimir esto: ninguna
wall-storage = Están aquí: { $place }
wall-whom = A quién llamar cuando nadie atiende una alarma
wall-ladder = Auxiliares enseguida. Auxiliares y enfermería a los { $first } min. Enfermería y supervisión a los { $second } min. Todos a los { $third } min, después cada { $repeat } min.
wall-phone-nurse = Enfermería a cargo:
wall-phone-supervisor = Supervisión de guardia:
wall-phone-upkeep = Mantenimiento de guardia:
wall-phone-physician = Médico o emergencia:
wall-phone-power = Compañía eléctrica o generador:
wall-form = { $unit }: formulario en papel para comprobaciones a mano, alarmas y limpieza
wall-form-how = Una cosa por línea. Sin nombres ni iniciales de residentes. Aire en pulgadas, o "ninguno" si no se pudo comprobar. Bajo: mire enchufe, manguera y válvula de RCP, después llame a enfermería. Sin aire: quédese, llame a enfermería y a otra persona.
wall-when = Día y hora
wall-bed-or-tag = Cama o etiqueta
wall-air = Aire
wall-what = Alarma, limpieza u otra cosa
wall-role = Quién (rol)
wall-form-after = Cuando vuelva el chat: escriba /catchup para las comprobaciones a mano, y /alarm, /clean o /filter para lo demás.

## A surface for an admission

match-head = **Se busca**: { $asks }
match-wide = { $width } de ancho
match-carries = { $capacity } lb
match-for-bed = para la cama { $bed }
match-line = - **{ $tag }** · { $parts }
match-ask = Pregunte antes, no todo está anotado. Después `/place`:
match-lacks-width = pregunte su ancho
match-lacks-length = pregunte su largo
match-frame-unknown = El armazón de la cama { $bed } no tiene ancho anotado: mídalo antes de colocar una, o escriba aquí **width**.
match-lacks-capacity = pregunte cuánto soporta
match-rented = alquilada
match-papers = falta documento: { $missing }
match-more = y { $count } más
match-storage = Están aquí: { $place }
match-bed-taken = { $tag } está ahora en la cama { $bed }: quítela primero, o escriba `/swap`.
match-none = Ninguna lista sirve.
match-none-sure = Ninguna lista sirve con seguridad.
match-no-turnover = Ninguna puesta a punto en marcha dará una.
match-turnovers = Las próximas listas:
match-steps-left = { $count ->
        [one] falta 1 paso
       *[other] faltan { $count } pasos
    }, meta { $by }
match-steps-left-late = { $count ->
        [one] falta 1 paso
       *[other] faltan { $count } pasos
    }, era para { $by }
match-clean-last = se limpia al final
match-rent = Alquilar hasta que la primera esté lista, a { $rate } por día: { $days ->
        [one] 1 día
       *[other] { $days } días
    }, { $cost }. Decide el contrato del proveedor.
match-rent-a-day = Alquilar cuesta { $rate } por día. Decide el contrato del proveedor.
match-rate-of-other = No está anotado lo que cuesta alquilar una de esta clase; las de otra clase cuestan { $rate } por día.
match-no-rate = No está anotado lo que cuesta alquilar una de esta clase. Supervisión lo fija con `/facility policy name:rental-day`
match-limits = Mire los límites de la superficie, del armazón y de la grúa, cada uno, y la lista de armazones del fabricante. Aquí nunca se dan por hechos.

## Kinds of surfaces

surface-kind-alternating = alternante
surface-kind-low-air-loss = baja pérdida de aire
surface-kind-both = alternante con baja pérdida de aire
surface-kind-static = estática

## Ready for the weekend

weekend-head = **¿Listo para el fin de semana?**
weekend-ready = - Listas, { $kind }: **{ $count }** ({ $these })
weekend-none = - Listas, { $kind }: **ninguna**
weekend-turnover = - Puesta a punto **{ $tag }**: { $left ->
        [one] falta 1 paso
       *[other] faltan { $left } pasos
    }, puede estar lista { $by }
weekend-turnover-late = - Puesta a punto **{ $tag }**: { $left ->
        [one] falta 1 paso
       *[other] faltan { $left } pasos
    }, **ya pasó su meta**, { $by }
weekend-turnovers-more = - y más puestas a punto: { $count }
weekend-out = - Fuera de servicio ({ $count }): { $these }
weekend-idle = - Alquiladas y sin usar ({ $count }): { $these }. Pidan la recogida, o úsenlas.
weekend-stock = - Existencias que no alcanzan hasta el lunes ({ $count }): { $these }
weekend-foot = Aquí no se adivinan ingresos. Para uno que se espera: `/match`.
