### The surface itself: cleaning, filters, placing, releasing, turnover, its card.

## Cleaning

method-soap-and-water = agua y jabón
method-quaternary = un desinfectante cuaternario
method-bleach = cloro (lejía)
method-other = un desinfectante de la lista de la residencia
reason-routine = de rutina
reason-soiled = por suciedad
reason-between-residents = entre residentes

clean-logged = **{ $surface }**: limpiada con { $method }. Anotado. ¿Se hizo en este orden?
clean-steps-soap-and-water = 1. Funda cerrada. Desenchufe solo sin nadie encima.
    2. Agua y jabón, y después quite el jabón con un paño.
    3. También la unidad de control (húmeda, no mojada), mangueras, cable y correas.
    4. Seque todo antes de poner ropa de cama.
clean-steps-quaternary = 1. Funda cerrada. Desenchufe solo sin nadie encima. Póngase guantes.
    2. Primero agua y jabón, y después quite el jabón con un paño: debilita el producto.
    3. El producto que permiten el fabricante y la lista de su residencia: que quede mojada durante el tiempo de contacto.
    4. También la unidad de control (húmeda, no mojada), mangueras, cable y correas. Enjuague y seque.
    Nunca lo mezcle con cloro (lejía). No mata esporas: después de un aislamiento pregunte a enfermería qué producto usar.
clean-steps-bleach = 1. Funda cerrada. Desenchufe solo sin nadie encima. Póngase guantes y ventile.
    2. Primero agua y jabón, y después enjuague.
    3. Cloro (lejía) tan fuerte como permiten el fabricante y la lista de su residencia: que quede mojada durante el tiempo de contacto.
    4. También la unidad de control (húmeda, no mojada), mangueras, cable y correas. Enjuague bien y seque.
    {"**"}Nunca mezcle cloro (lejía) con amoníaco, ácidos ni ningún otro limpiador: el gas es venenoso.** Si huele fuerte: salga y ventile.
clean-steps-other = 1. Funda cerrada. Desenchufe solo sin nadie encima. Póngase guantes.
    2. Primero agua y jabón, y después quite el jabón con un paño.
    3. El producto que permiten el fabricante y la lista de su residencia: que quede mojada durante el tiempo de contacto.
    4. También la unidad de control (húmeda, no mojada), mangueras, cable y correas. Enjuague y seque.
    Nunca lo mezcle con cloro (lejía) ni con otro producto.
clean-stained = Manchada: mire dentro de la funda si el fabricante lo permite. Mojada o manchada por dentro cuenta como dañada: anótela otra vez y elija en **cover** dañada.
clean-stained-not-finished = Con la funda manchada no termina la limpieza entre residentes: límpiela otra vez hasta que no se vea nada, y anótela eligiendo en **cover** entera.
clean-caution = Las instrucciones del fabricante y la lista de su residencia van primero.
clean-rinse-first = {"**"}Alto: a las { $at } se puso { $product } en { $surface }.** Antes enjuáguelo del todo con agua: un producto sobre otro puede soltar gas venenoso, y ninguno sirve. Todavía no se registró nada.
clean-rinse-note = La nota no va con el toque: agréguela después con `/amend entry:last`.
button-rinsed = Enjuagado, registrar


## Filters

finding-clean = limpio
finding-dusty = con polvo
finding-clogged = tapado
finding-damaged = dañado
action-left = se dejó puesto
action-replaced = se cambió
action-rinsed = se enjuagó

filter-logged = **{ $surface }**: filtro { $finding }, { $action }. Anotado.
filter-clogged-left = Un filtro tapado le quita aire a la unidad de control. Cámbielo ya, o enjuáguelo si el fabricante lo dice, y anótelo otra vez.
filter-damaged-left = Un filtro dañado deja entrar polvo en la unidad de control. Ponga uno nuevo y anótelo otra vez.
filter-damaged-rinsed = Enjuagar no arregla un filtro dañado. Ponga uno nuevo y anótelo otra vez.
filter-dusty-left = Con polvo: prevea uno nuevo, o enjuáguelo si el fabricante lo dice.
filter-rinsed-dry = Vuelva a ponerlo solo cuando esté seco del todo.
filter-next = Mirarlo otra vez en { $days ->
        [one] 1 día
       *[other] { $days } días
    }.

## Placing and releasing

released = **{ $tag }** ya no está en la cama { $bed }.
released-next = Si alguien se queda en la cama { $bed }, póngale ya una superficie lista: `/place`


## A surface's card

surface-head = **{ $surface }** · perfil { $profile }
surface-alarm = **Alarma abierta:** { $kind }, { $ago }
surface-readings = **Lecturas** ({ $band }):
    { $readings }
surface-reading = - { $air } · { $judged } · { $ago }
surface-no-readings = Todavía sin lecturas.
surface-recheck = Comprobar otra vez: { $at } ({ $ago })
surface-filter = Filtro: { $finding }, { $ago }
surface-filter-replaced = Filtro: nuevo, { $ago } (el anterior: { $finding })
surface-filter-rinsed = Filtro: enjuagado, { $ago } (antes: { $finding })
filter-under = Con una persona encima: ¿está enchufada y en marcha otra vez, y con el ajuste de antes?
surface-filter-new = Filtro: nuevo { $day }, desde entonces no se ha mirado aquí
surface-no-filter = Filtro: todavía sin mirar
surface-cleaned = Limpieza: { $reason }, { $ago }
surface-not-cleaned = Limpieza: nada anotado
surface-last-alarm = Terminó la última alarma: { $ago }
surface-caution = Una lectura es un momento y no prueba que haya seguridad. Deciden el plan de cuidados y enfermería.

life-placed = En la cama { $bed }, { $unit }, desde el { $since }
life-soiled = Sucia desde el { $since }. Falta: { $left }
life-ready = Lista desde el { $since }
surface-place = Su lugar: { $place }
life-out = **Fuera de servicio** desde el { $since }: { $fault }
life-out-under = **Fuera de servicio** desde el { $since }: { $fault }. **Sigue en la cama { $bed }:** la persona necesita otra superficie.
life-retired = Dada de baja { $since }

fault-is-alarm = después de una alarma
fault-is-cover = funda dañada
fault-is-wet = mojada o manchada por dentro
fault-is-filter = filtro
fault-is-control-unit = unidad de control
fault-is-cord = cable o enchufe
fault-is-hose = manguera o conector
fault-is-leak = fuga
fault-is-cpr-valve = válvula de RCP
fault-is-test = no pasó una prueba
fault-is-recall = retiro del mercado
fault-is-inquiry = retenida por una investigación
fault-is-arrival = no llegó como debía
fault-is-other = otra falla
