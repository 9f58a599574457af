### Cada cuánto se mira un filtro: lo que enseñan las revisiones de la residencia, y por qué.

filter-every = Mirarlo cada { $days ->
        [one] día
       *[other] { $days } días
    }.
filter-every-now = Desde ahora, mirarlo cada { $days ->
        [one] día
       *[other] { $days } días
    } (antes: { $before }): { $why }.
filter-now-new = el filtro es nuevo
filter-now-rinsed = el filtro está enjuagado
filter-now-longer = lo anotado permite más días
filter-now-older = por lo anotado, los filtros de su edad se ensucian antes que los nuevos
filter-now-sooner = por lo anotado, estos filtros se ensucian antes de lo que se pensaba
filter-now-all-dirty = todos estaban sucios la primera vez
filter-now-dusty = tiene polvo, así que no más de lo que dice su perfil
filter-now-policy = la norma de su residencia no deja más días
filter-now-profile = valen los días de su perfil
filter-even-a-day = Mirarlo cada día. Aun así puede estar sucio antes de mirarlo más a menudo de lo que su residencia permite: por lo anotado, los filtros como este se ensucian así de pronto. Pregunte si conviene cambiarlos antes, y busque de dónde viene el polvo; deciden la norma de su residencia y las instrucciones del fabricante.
filter-limit = La próxima mirada es en { $days ->
        [one] 1 día
       *[other] { $days } días
    }: entonces tendrá la edad máxima de su fabricante.
filter-over = {"**"}Este filtro tiene { $age } días, y el límite de su fabricante es { $most }: cámbielo**, y luego mírelo en { $days ->
        [one] 1 día
       *[other] { $days } días
    }.
filter-new-instead = Este filtro lleva { $age ->
        [one] 1 día
       *[other] { $age } días
    } en marcha. Cámbielo hoy y la próxima mirada es en { $days } días.
filter-left-dirty = {"**"}Se encontró { $finding } el día { $day } de su uso y se dejó puesto: cámbielo.{"**"} Cuándo, lo deciden la norma de su residencia y las instrucciones del fabricante.
filter-left-dirty-rinse = {"**"}Se encontró { $finding } el día { $day } desde nuevo o enjuagado y se dejó puesto: enjuáguelo o cámbielo.{"**"} Cuándo, lo deciden la norma de su residencia y las instrucciones del fabricante.
filter-early = {"**"}Se encontró { $finding } el día { $day } de uso, mucho antes de lo habitual.{"**"} Busque la causa: una corriente de aire, pelusa, una manta sobre la entrada de aire. Mírelo otra vez pronto; deciden la norma de su residencia y las instrucciones del fabricante.
surface-filter-cycle = Mirar el filtro otra vez: { $day } (cada { $days ->
        [one] día
       *[other] { $days } días
    })
surface-filter-cycle-limit = Próxima revisión del filtro: { $day } ({ $days ->
        [one] 1 día
       *[other] { $days } días
    } después de la última: límite del fabricante)
surface-filter-over = {"**"}Su filtro tiene { $age } días, y el límite de su fabricante es { $most }: cámbielo.**
surface-filter-shelf = Las miradas a su filtro esperan hasta que esté en una cama.
amend-filter-days = { $tag }: mirarlo otra vez { $days ->
        [one] 1 día
       *[other] { $days } días
    } después de la última vez (antes: { $before }).

button-filter-why = Filtro: ¿por qué así?
button-cycles = Todas las unidades

## Why

cycle-head = **{ $surface }**: { $days ->
        [one] 1 día
       *[other] { $days } días
    } desde que se miró su filtro hasta la próxima vez
cycle-own = Veces que se miró: { $looks }; con polvo u obstruido: { $dirty }.
cycle-moved = Solo desde que está en esta unidad: otro aire, otro polvo.
cycle-by-own = Bastan por sí solas: { $filters } filtros, uno tras otro.
cycle-by-unit = Sus filtros solos dicen poco, así que cuentan también las demás de su unidad: { $looks } veces en { $units } unidades de control; sucio: { $dirty }. Dicen cuánto siguieron limpios { $filters } filtros.
cycle-by-home = Sus filtros solos dicen poco, así que cuentan también las demás de la residencia: { $looks } veces en { $units } unidades de control; sucio: { $dirty }. Dicen cuánto siguieron limpios { $filters } filtros.
cycle-few = No se aprende nada antes de { $looks } veces que digan algo: valen los días del perfil.
cycle-never = Ninguno estaba sucio, así que no se sabe cuánto dura: { $mean } días en promedio, o más (95 % seguro). Valen los días del perfil.
cycle-all-dirty = Todos estaban sucios la primera vez, el más temprano a { $by ->
        [one] 1 día
       *[other] { $by } días
    }: la mitad, hasta que uno esté limpio.
cycle-off = La residencia no quiere que se aprenda: valen los días del perfil, o menos donde se dijeron menos.
cycle-half-steady = Según ellas, la mitad de los filtros está sucia a los { $half } días, con la misma probabilidad cada día.
cycle-half-older = Según ellas, la mitad de los filtros está sucia a los { $half } días, y uno viejo antes que uno nuevo: con la edad se mira más a menudo.
cycle-half-apart = Según ellas, la mitad de los filtros está sucia a los { $half } días. No siguen una sola curva: pronto hubo más sucios de los que el azar pone en una.
cycle-seen = Como se vio serían unos { $seen } de cada 100, por { $filters ->
        [one] un filtro que se miró más tarde
       *[other] { $filters } filtros que se miraron más tarde
    }; vale lo peor.
cycle-seen-worse = Así se vio, por { $filters ->
        [one] un filtro que se miró más tarde
       *[other] { $filters } filtros que se miraron más tarde
    }; por la curva serían unos { $curve } de cada 100, y vale lo peor.
cycle-even-a-day = {"**"}Ya a 1 día estarían sucios unos { $chance } de cada 100, más de lo que la residencia permite.{"**"} Menos de un día no se puede decir: pregunte si conviene cambiar antes estos filtros.
cycle-early = Por eso se mira una vez a los mismos días, para ver si la causa sigue ahí. Sin eso:
cycle-chance = Sucio antes de la próxima vez, a { $days ->
        [one] 1 día
       *[other] { $days } días
    }: unos { $chance } de cada 100. La residencia permite { $most } de cada 100, y de lo que pocas miradas dejan abierto se toma lo más prudente: se cumple en 8 de 10 casos así.
cycle-held = Por lo visto bastarían { $free } días. El plazo crece la mitad cada vez, hasta { $most } días como mucho, y un filtro con polvo que se dejó puesto, o la norma de la residencia, puede dejarlo en el del perfil.
cycle-sooner = Por lo que se sabe ahora sería { $free ->
        [one] 1 día
       *[other] { $free } días
    }: se dirá la próxima vez que se mire, que queda en su día.
cycle-limit = El perfil dice { $days ->
        [one] 1 día
       *[other] { $days } días
    }. El límite del fabricante sigue en { $limit } días desde que era nuevo: { $day }.
cycle-limit-over = El perfil dice { $days ->
        [one] 1 día
       *[other] { $days } días
    }. El límite del fabricante, { $limit } días desde nuevo, terminó el { $day }: un filtro nuevo va antes que otra mirada.
cycle-assumed = Se supone que se ensució algún día entre dos veces; los días en el almacén no cuentan; el aire sigue como estaba.

## By care unit

cycles-head = **Cada cuánto se miran los filtros ahora**
cycles-line = - **{ $unit }**: { $days } · { $looks } veces, sucio: { $dirty }
cycles-days = cada { $days ->
        [one] día
       *[other] { $days } días
    }
cycles-days-from = cada { $least } a { $most } días
cycles-half = { " " }· la mitad está sucia a los { $half } días
cycles-rinsable = { $unit }, los que se enjuagan
cycles-more = Y { $count } más.
cycles-none = No hay nada con filtro en ninguna cama.
cycles-foot = Cada filtro tiene su día: `/surface` lo dice, `/due` lo enumera.
