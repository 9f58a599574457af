### Un informe: el comando, lo que el chat dice de un periodo, cómo se calcularon las cifras.

about-report = Las pruebas de un periodo: una página para imprimir y sus filas, para una inspección
option-report-period = Qué días, por ejemplo: mes pasado, 2026-10, últimos 30 días
option-report-from = El primer día, por ejemplo 2026-10-01, en lugar de un periodo
option-report-to = El último día, por ejemplo 2026-10-31; hoy si no se escribe

fault-period = "{ $typed }" no es un periodo que yo conozca. Escriba `mes pasado`, `2026-10`, `últimos 30 días` o `2026-10-01 a 2026-10-31`.
fault-period-ahead = Aún no hay nada anotado: el { $first } no ha llegado, y hoy es { $today }. Escriba un periodo que ya haya empezado, por ejemplo `mes pasado`.
fault-period-backwards = { $last } es antes de { $first }. Escriba primero el día anterior, por ejemplo `{ $last } a { $first }`.
fault-period-long = Son { $days ->
        [one] 1 día
       *[other] { $days } días
    }; un informe abarca { $most } como máximo. Pídalo por partes, por ejemplo un año y luego el siguiente.
fault-period-to = ¿Desde qué día? Dé también `from`, por ejemplo `from:2026-10-01`, o escriba un `period`, por ejemplo `mes pasado`.
fault-period-twice = Dé un `period`, o `from` y `to`, pero no ambas cosas.

button-by-part = Por unidad y turno

report-head = **Del { $first } al { $last }** ({ $days ->
        [one] 1 día
       *[other] { $days } días
    })
report-alarms-none = Alarmas: ninguna.
report-alarms = Alarmas: { $count }. En camino: { $taken }.
report-alarms-over = Terminadas: { $over }.
report-alarms-open = Sin terminar: { $count }.
report-spread = la mitad en { $half }, 9 de cada 10 en { $most }
report-spread-few = a los { $least } hasta { $most }
report-spread-one = a los { $after }
report-spread-half = la mitad en { $half }, menos de 9 de cada 10 han terminado
report-not-known = menos de la mitad han terminado
report-not-yet = todavía no
report-minutes = { $count } min
report-hours = { $count } h
report-days = { $count ->
        [one] 1 día
       *[other] { $count } días
    }
report-hours-and = { $count } h { $rest } min
report-days-and = { $count ->
        [one] 1 día
       *[other] { $count } días
    } { $rest } h
report-checks-none = Comprobaciones: no tocaba ninguna.
report-checks = Comprobaciones: { $checks }.
report-share = { $done } de { $due } a tiempo (entre { $low } y { $high } de cada 100 no sorprenderían)
report-share-sure = { $done } de { $due } a tiempo ({ $share } de cada 100)
report-could-not = De ellas, no se pudieron hacer, con el motivo: { $count }.
report-running = El turno desde las { $from } no ha terminado y no se cuenta.
report-missed-away = Sin anotar, en un turno en que loftwatch no estuvo: { $count }.
report-again = Vueltas a mirar a tiempo, donde se había apuntado: { $kept } de { $booked }.
report-lows = Lecturas bajas: { $count }, sin nada de aire: { $bottomed }.
report-trending = Bajan ahora, por revisar: { $tags }.
report-set-ups = Instalaciones: { $complete } de { $count } completas.
report-house = Fuera de servicio: { $out }. Puestas a punto: { $turns }. Limpiezas: { $cleanings }. Filtros mirados: { $filters }.
report-corrected = Corregidas, comentadas o deshechas: { $count }. Cada una figura con lo que decía antes.
report-files = Abajo: una página para imprimir, y las filas para una hoja de cálculo. En ellas `kind` y `status` son palabras fijas para programas, y `what` lo dice en palabras corrientes. Revise ambas antes de que salgan de la residencia. Una lectura es un momento y no prueba que sea seguro.
report-rows-left = El chat no admite un archivo mayor: no { $count ->
        [one] está la fila más antigua
       *[other] están las { $count } filas más antiguas
    }. Para tenerlas, pida `/report from:{ $first } to:{ $from }`.
report-rows-left-day = El chat no admite un archivo mayor: no { $count ->
        [one] está la fila más antigua del { $first }
       *[other] están las { $count } filas más antiguas del { $first }
    }. Están en el archivo de la residencia: pregunte a quien lleva el ordenador.
report-begins = El historial empieza el { $began }: de los días anteriores no sabe nada.
report-begins-after = El historial empieza el { $began }, después de estos días: no sabe nada de ellos.

report-parts-checks = **Comprobaciones a tiempo**
report-parts-alarms = **Alarmas**, hasta que alguien estuvo en camino
report-part = { $unit }, turno desde las { $shift }
report-part-none = sin unidad, turno desde las { $shift }
report-part-alarms = - { $part }: { $count ->
        [one] 1 alarma
       *[other] { $count } alarmas
    }, { $taken }

## Cómo se calcularon las cifras, una línea cada una

report-how-checks = Comprobaciones (tocaban: { $due }): una en cada turno, o en cada tramo que fija la norma check-every, por cada superficie cuyo perfil la pide y que estuvo en servicio, en una cama ocupada, al menos la mitad de ese tiempo. A tiempo: una comprobación, o por qué no se pudo, que ocurrió en él, se escribiera cuando se escribiera. Lo corregido cuenta como quedó, y lo pasado desde papel, por cuándo ocurrió.
report-how-share = "De A a B de cada 100": dónde puede estar la proporción si solo la movió el azar (intervalo de Wilson, 95 de cada 100; Wilson 1927, Newcombe 1998). Con pocas, es ancho.
report-how-again = Vueltas a mirar: hasta { $minutes } min después de lo apuntado, cuando llegaría un segundo aviso. No se cuentan, porque ya no hacía falta: { $moot }.
report-how-alarms = Alarmas: desde que se dio hasta "voy", hasta "residente a salvo" y hasta el final (resuelta con una comprobación adecuada, o la superficie fuera de la persona). La deshecha por error no es una alarma. loftwatch sabe de ella cuando alguien la escribe, no cuando suena.
report-how-waits = La mitad y 9 de cada 10: estimación de Kaplan y Meier (1958), en la que una alarma sin terminar cuenta como más larga de lo que ha durado. De menos de 5 se dan la más corta y la más larga. La causa es la última anotada. Ningún tiempo se dice más corto de lo que fue: parte de un minuto cuenta como un minuto, desde 3 horas parte de una hora como una hora, desde 3 días parte de un día como un día, aquí y en los gráficos.
report-how-limits = Muestra lo anotado, no lo hecho y no anotado; no dice nada de ninguna persona, y ninguna cifra es una norma oficial. Deciden la norma de la residencia, las instrucciones del fabricante y el personal con licencia.
report-how-lows = Lecturas bajas: según los límites con que se juzgó cada una al hacerla. Lo que siguió llega hasta la lectura siguiente de la misma superficie; "nada anotado" quiere decir eso, no que no se hiciera.
report-how-set-ups = Instalaciones: cada colocación y traslado del periodo con su lista; la superficie que entró en el inventario con su cama ya estaba allí y no cuenta. Completa quiere decir que no quedó nada en ella; no cuenta una lista posterior, por ejemplo tras un corte de luz.
report-how-turns = Puestas a punto: desde que se quitó hasta lista, las que empezaron en el periodo; la que no está lista cuenta como más larga de lo que ha durado, y la que se interrumpió (fuera de servicio, retiro del mercado, retenida por una investigación, dada de baja) como más larga de lo que había durado entonces. Ningún informe lleva costos.
report-how-register = Inventario: como está al hacer la página, no al final del periodo. Un día sin anotar no consta.
report-how-settings = Ajustes de la residencia: cada cambio con lo que valía antes, cuándo empezó a valer, quién lo hizo o lo pidió y, si otra persona tenía que estar de acuerdo, quién lo estuvo. Fijar lo que ya valía no es un cambio. Lo que no aparece valió todo este periodo.
report-how-corrected = Correcciones: lo que decía antes va tachado, y debajo la función, la hora y el motivo. Nada se borra del historial.
report-how-time = Horas: las de la residencia ({ $zone }; reglas { $rules }). Un turno es del día en que empieza. Turnos, unidades y normas son los que regían entonces.
report-how-home = Las cifras de la residencia hoy: adecuado de { $low } a { $high } de aire, salvo lo que diga un perfil; una alarma que nadie atiende avisa a los { $first }, { $second } y { $third } min, y luego cada { $repeat } min; una prueba de seguridad cada { $months } meses.
report-how-people = Las personas figuran solo por su función, en esta página y en sus filas: para quién se hizo, quién anotó, corrigió, pidió o estuvo de acuerdo. No lleva ningún nombre ni número de cuenta de nadie, salvo que alguien lo escribiera en una nota. El número de una anotación (#) es el del historial, donde la residencia encuentra quién la hizo.
