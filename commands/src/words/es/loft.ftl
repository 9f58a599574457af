### Superficies que pierden altura: tendencia a la baja, revisar; las cifras; lo encontrado; lo habitual de una unidad de control.

work-loft = **{ $surface }**: tendencia a la baja, { $when }: revisar. Manguera y conectores, válvula de RCP, funda y celdas, filtro, el ajuste; luego una comprobación a mano. No es una alarma: una lectura baja sigue su propio camino.
button-loft-why = Por qué baja, y gráfico
button-loft-mended = Encontrado y reparado
button-loft-nothing = No se encontró nada
button-loft-later = En 3 días
button-loft-pull = Fuga: fuera de servicio
button-loft-usual = ¿Lo habitual?

loft-found-ask = **{ $surface }**: ¿qué era?
loft-found-hint = Qué se encontró
loft-mended = **{ $surface }**: encontrado y reparado. Sale de la lista, y sus lecturas cuentan de nuevo desde ahora. Sigue: una comprobación a mano, `/handcheck`.
loft-nothing = **{ $surface }**: revisada, no se encontró nada, y su ficha lo dice. Sale de la lista hasta el { $day } por lo menos, y después hasta que las lecturas de ahora en adelante bajen por sí solas. Ahora: una comprobación con la mano.
loft-later = **{ $surface }** queda aparte hasta el { $day }. Si entonces la tendencia sigue a la baja, vuelve a la lista.

surface-loft = **Tendencia a la baja, { $when }: revisar.** { $readings } lecturas en { $days } días.
surface-loft-nothing = Bajaba; la revisó { $who } { $at }, no se encontró nada. Fuera de la lista hasta el { $day } por lo menos.
surface-loft-aside = { $line } Aparte hasta el { $day }.

loft-by-past = ya en el límite de { $low }
loft-by-now = a estas alturas por debajo del límite, si siguió así
loft-by-day = por debajo del límite hacia el { $day }

loft-why = **{ $surface }: tendencia a la baja, { $when }: revisar.** { $readings } lecturas en { $days } días, en esta cama y con este ajuste.
loft-why-fall = - Su línea bajó de { $from } in a { $to } in.
loft-why-week = - Una semana quita { $week } in ({ $from } a { $to }).
loft-why-week-open = - Una semana quita { $week } in; tan pocos días dejan abierto qué tan seguro es.
loft-why-day = - Si sigue así, la línea está por debajo de { $low } hacia el { $day } (entre el { $from } y el { $to }).
loft-why-day-open = - Si sigue así, la línea está por debajo de { $low } hacia el { $day } (desde el { $from }, o mucho después).
loft-why-past = - La línea ya está en { $low } o por debajo.
loft-why-chance = - Una bajada así ocurriría por azar como mucho una vez en { $odds } series de lecturas como esta.
loft-rows-hundred = cien
loft-rows-thousand = mil
loft-rows-ten-thousand = diez mil
loft-why-method = - Pendiente mediana de todos los pares de días (Theil–Sen, límites del 95 %), orden de las lecturas según Mann–Kendall.
loft-why-assumes = - Supone que la persona, el lugar de la mano y la ropa de cama no cambiaron, y que una lectura no sigue a la otra. De una superficie que no se señala no se sabe que sea segura.

loft-usual = **{ $tag }**: fuera de lo habitual, { $out } de las últimas { $count } lecturas.
loft-usual-out = - Estas: { $these }
loft-usual-one = { $air } ({ $day })
loft-usual-range = - Lo habitual: { $from } a { $to } in, media { $mean } in.
loft-usual-open = - No son números, y no están entre ellas: { $these }
loft-usual-falls = - Ahora sus lecturas bajan: lo habitual se calculó también con la bajada. No es un consuelo.
loft-usual-below = - Una lectura es adecuada desde { $low }: aquí lo habitual llega más abajo, y bajo sigue siendo bajo.
loft-usual-method = - Gráfico de valores individuales: media y tres desviaciones, por el recorrido móvil medio / 1.128 (NIST/SEMATECH e-Handbook 6.3.2.2); la desviación se toma como un octavo de pulgada, o más: la mano no dice menos.
loft-usual-assumes = - Toma como una sola serie las lecturas de todas sus camas y ajustes: otra persona u otro ajuste también las mueve. Habitual no es seguro.

line-loft-found = tendencia a la baja: se encontró y se arregló: { $cause }
line-loft-mended = tendencia a la baja: encontrado y reparado
line-loft-nothing = tendencia a la baja: no se encontró nada
line-loft-later = tendencia a la baja: queda aparte

fault-loft-gone = **{ $surface }** no está, o ya no está, por revisar por esto: alguien ya lo hizo, sus lecturas cambiaron, o ya no está en esa cama y con ese ajuste.
fault-loft-few = **{ $tag }** tiene { $count } lecturas que se pueden comparar; lo habitual se puede decir a partir de { $least }. Anótelas con `/handcheck` o `/round`.
