### What stands in a picture, and what is read out in its place.

picture-day = { $day } { $month ->
    [1] ene
    [2] feb
    [3] mar
    [4] abr
    [5] may
    [6] jun
    [7] jul
    [8] ago
    [9] sep
    [10] oct
    [11] nov
   *[12] dic
}
picture-percent = { $part } %
picture-span = del { $from } al { $to }
picture-day-year = { $day } { $year }
picture-newest-of = { $span }; las últimas { $shown } de { $count }

## Readings

button-picture = Gráfico
picture-said = **{ $surface }**: sus lecturas desde que está en la cama, { $count } en total. Una comprobación adecuada no demuestra que sea seguro.
picture-said-no-bed = **{ $surface }**: sus lecturas más recientes, { $count } en total. Una comprobación adecuada no demuestra que sea seguro.
picture-nothing = **{ $surface }** todavía no tiene lecturas que dibujar. Anote una con `/handcheck surface:{ $tag }`
picture-readings = { $tag }: aire debajo de la persona
picture-band = adecuado: { $band }
picture-could-not = sin comprobar
picture-felt = vista y palpada: sin pulgadas
picture-felt-of = De ellas { $count ->
    [one] una fue a la vista y al tacto, y está
   *[other] { $count } fueron a la vista y al tacto, y están
} aparte, abajo, sin pulgadas.
picture-mark-newest = última { $air }
picture-mark-lowest = más baja { $air }
picture-trend = tendencia
picture-crosses = bajo el { $day }
picture-placed = colocada
picture-moved = trasladada
picture-filter = filtro { $action }
picture-setting = ajuste { $setting }
picture-readings-text = Gráfico del aire debajo de la persona en { $tag }, { $span }. Adecuado es { $band }.
picture-no-readings = No hay lecturas.
picture-counts = Comprobaciones: { $counts }.
picture-count-adequate = adecuadas { $count }
picture-count-right = bien a la vista y al tacto { $count }
picture-count-low = bajas { $count }
picture-count-bottomed-out = toca fondo { $count }
picture-count-high = altas { $count }
picture-count-could-not = sin poder hacerse { $count }
picture-newest = La más reciente, { $at }: { $air }.
picture-lowest = La más baja, { $at }: { $air }.
picture-events = Lo que pasó, lo más reciente primero: { $events }.
picture-and-more = { $these }; y { $count ->
    [one] una cosa más, anterior
   *[other] { $count } más, anteriores
}
picture-looked = { $tag }: mirada y palpada
picture-looked-text = Gráfico de cómo se veía y se palpaba { $tag }, { $span }.
picture-lowest-measured = La más baja con número, { $at }: { $air }.
picture-left-out-about = { $span }; { $count ->
    [one] una comprobación no está en la línea y falta aquí
   *[other] { $count } comprobaciones no están en la línea y faltan aquí
}
picture-trend-lower = La línea que las sigue baja.
picture-trend-higher = La línea que las sigue sube.
picture-trend-level = La línea que las sigue no sube ni baja.
picture-trend-crosses = Si sigue así, está bajo el { $day }.

## A filter's life

picture-lives = Cuánto tiempo sigue limpio un filtro
picture-lives-home = toda la residencia
picture-lives-about = { $of }: { $count ->
    [one] un filtro, de nuevo a sucio o hasta que se miró por última vez
   *[other] { $count } filtros, de nuevo a sucio o hasta que se miraron por última vez
}
picture-lives-up = Todavía limpios
picture-lives-across = días desde que era nuevo o se enjuagó
picture-lives-seen = como se vio
picture-lives-fitted = calculado
picture-lives-promise = prometido: { $share } limpios
picture-lives-cycle = { $days ->
    [one] mirar cada día
   *[other] mirar cada { $days } días
}
picture-lives-promise-from = prometido: { $share } de los limpios el día { $age }
picture-lives-next = mirar otra vez el día { $day }
picture-lives-text = Gráfico de cuánto tiempo sigue limpio un filtro, de { $count ->
    [one] uno que se miró
   *[other] { $count } que se miraron
} ({ $of }). Prometido: al menos { $share } están limpios cuando se miran otra vez.
picture-lives-apart = No siguen una sola curva.
picture-lives-worse = Vale lo peor: lo visto o lo calculado.
picture-lives-half = { $days ->
    [one] La mitad está sucia después de un día más o menos.
   *[other] La mitad está sucia después de unos { $days } días.
}
picture-lives-cycle-text = { $days ->
    [one] Mirar cada día
   *[other] Mirar cada { $days } días
}: para entonces { $chance } están sucios.
picture-lives-left = día { $day }: { $finding }, se dejó
picture-lives-left-text = Este se encontró { $finding } el día { $day } y se dejó puesto: cámbielo, o enjuáguelo si el fabricante lo dice. Cuándo, lo deciden la norma y las instrucciones del fabricante.
picture-lives-next-text = Este estaba limpio el día { $age }. Se mira otra vez el día { $day }: para entonces { $chance } de los que son así están sucios.

## How many to own

picture-fleet = Cuántas superficies bastan
picture-fleet-up = Parte de las peticiones sin ninguna lista
picture-fleet-across = superficies propias
picture-fleet-none = con { $count }, { $chance } sin ninguna
picture-fleet-none-over = con { $count }, { $chance } sin ninguna: más de lo prometido
picture-fleet-range = el área: donde también puede estar, por lo anotado
picture-fleet-range-text = Por lo anotado puede ser más o menos: con { $count }, de { $least } a { $most }.
picture-fleet-promise = prometido: { $chance } o menos
picture-fleet-now = propias hoy: { $count }
picture-fleet-now-beyond = propias hoy: { $count } →
picture-fleet-fewest = bastan: { $count }
picture-fleet-both = propias hoy: { $count }, bastan
picture-fleet-text = Gráfico de la parte de las peticiones para las que no hay ninguna superficie lista, según cuántas sean propias. Con las { $owned } propias hoy, { $now } sin ninguna. Prometido: { $promise } o menos. Las menos que lo cumplen: { $fewest }; entonces { $then } sin ninguna.

## What is usual for a surface

picture-usual = { $tag }: qué es habitual en ella
picture-usual-high = habitual hasta { $air } in
picture-usual-low = habitual desde { $air } in
picture-usual-mean = media { $air } in
picture-usual-text = Gráfico de { $count ->
    [one] una lectura
   *[other] { $count } lecturas
} de { $tag }, { $span }. El azar solo las tendría entre { $from } y { $to } in; su media es { $mean } in.
picture-usual-adequate = adecuada desde { $air }
picture-usual-below = Una lectura es adecuada desde { $air }: lo habitual llega más abajo.
picture-usual-within = Una lectura es adecuada desde { $air }.
picture-usual-none = Ninguna se sale.
picture-usual-out = { $count ->
    [one] Una se sale
   *[other] { $count } se salen
}, la más nueva primero: { $these }.

## Coverage

picture-coverage = Comprobaciones hechas a tiempo
picture-coverage-across = parte hecha a tiempo; la línea: donde puede estar
picture-coverage-said = { $made } de { $of }, probable de { $low } a { $high }
picture-coverage-told = { $made } de { $of }, de { $low } a { $high }
picture-coverage-about = { $span }; el eje empieza en { $from }
picture-coverage-none = ninguna pendiente
picture-coverage-text = Gráfico de las comprobaciones hechas a tiempo, { $span }. Detrás de cada una, dónde puede estar su parte. { $rows }.

picture-rows = { $span }; filas { $from } a { $to } de { $rows }

## How long alarms waited

picture-waits = Alarmas: hasta que alguien iba en camino
picture-waits-count = { $count ->
    [one] 1 alarma
   *[other] { $count } alarmas
}
picture-waits-half = la mitad en { $time }
picture-waits-most = 9 de cada 10 en { $time }
picture-waits-one = a los { $time }
picture-waits-first = la más corta { $time }
picture-waits-last = la más larga { $time }
picture-waits-not-known = todavía no se sabe
picture-waits-still = sigue esperando, más de { $time }
picture-waits-still-new = sigue esperando
picture-waits-some-still = { $count ->
    [one] una sigue esperando, más de { $time }
   *[other] { $count } siguen esperando, una más de { $time }
}
picture-waits-some-still-new = { $count } en espera todavía
picture-waits-text = Gráfico de cuánto esperaron las alarmas hasta que alguien iba en camino, { $span }. { $rows }.

## Alarms

button-picture-alarm = Última alarma
picture-alarm-said = **{ $surface }**: cómo fue su última alarma.
picture-alarm-none = **{ $surface }** no ha tenido ninguna alarma.
picture-alarm-name = { $tag }, { $kind }, { $at }
picture-alarm = { $name }
picture-alarms = { $count ->
    [0] { $of }: ninguna alarma
    [one] { $of }: una alarma
   *[other] { $of }: { $count } alarmas
}
picture-alarms-across = minutos desde que empezó
picture-alarms-none = Gráfico de alarmas, { $of }: no hubo ninguna.
picture-alarms-text = Gráfico de cómo fue. { $alarms }.
picture-step-opened = empezó
picture-step-asked = aviso
picture-step-again = aviso de nuevo
picture-step-taken = alguien va
picture-step-safe = residente a salvo
picture-step-fixed = terminó
picture-asked = { $count ->
    [one] un aviso
   *[other] { $count } avisos
}
picture-still-open = sigue abierta después de { $time }
