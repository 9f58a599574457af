### Hand checks and rounds: what is asked, how a reading is judged, what to do next.

ask-air = **{ $surface }**: ¿cuánto aire hay debajo de la persona?
ask-air-last = Última: { $air }, { $ago }
ask-air-last-low = **Antes estaba bajo:** { $air }, { $ago }
ask-air-out = **Fuera de servicio**, y todavía hay alguien encima: hace falta otra superficie.

check-adequate = **{ $surface }**: aire { $air }. Adecuado.
check-low = **{ $surface }**: aire { $air }. **Bajo** (menos de { $low }).
check-bottomed-out = **{ $surface }**: no hay aire debajo de la persona. **Toca fondo.**
check-high = **{ $surface }**: aire { $air }. **Alto** (más de { $high }).
check-could-not = **{ $surface }**: sin comprobar ({ $air }).

check-low-next = 1. Mire: enchufe, manguera, válvula de RCP, modo, capas, cabecera.
    2. Llame a enfermería. El ajuste lo decide enfermería.
check-low-next-nurse = 1. Mire: enchufe, manguera, válvula de RCP, modo, capas, cabecera.
    2. El ajuste lo decide usted, según el plan de cuidados o la orden.
check-low-again-nurse = Otra vez bajo.
    1. Busque una fuga: escuche y palpe mangueras, válvula y celdas.
    2. El ajuste lo decide usted, según el plan de cuidados o la orden.
    3. Tenga lista una superficie de repuesto.
check-low-again = Otra vez bajo.
    1. Llame ya a enfermería. El ajuste lo decide enfermería.
    2. Busque una fuga: escuche y palpe mangueras, válvula y celdas.
    3. Tenga lista una superficie de repuesto.
check-bottomed-out-next = 1. **Quédese con la persona.** Llame ya a enfermería y a otra persona.
    2. Mueva a la persona solo según el plan de cuidados.
    3. La alarma ya está abierta: no hay que escribir nada más.
check-bottomed-out-next-nurse = 1. **Quédese con la persona.** Llame ya a otra persona.
    2. Mueva a la persona solo según el plan de cuidados.
    3. La alarma ya está abierta: no hay que escribir nada más.
check-bottomed-out-late-nurse = Eso fue hace un rato, así que no se abrió ninguna alarma: mire otra vez **ahora**. Sin aire: quédese, llame a otra persona y escriba `/alarm`.
check-bottomed-out-late = Eso fue hace un rato, así que no se abrió ninguna alarma: mire otra vez **ahora**. Sin aire: quédese, llame a enfermería y a otra persona, y escriba `/alarm`.
check-could-not-low-nurse = Antes estaba bajo, así que pruebe otra vez pronto.
check-could-not-low = Antes estaba bajo, así que pruebe otra vez pronto. Diga a enfermería que no se pudo comprobar.
check-alarm-open = **Su alarma sigue abierta:** toque **Resuelto** en su ficha cuando la causa esté arreglada.
check-out-of-service = Está fuera de servicio: la persona necesita otra superficie. Llame a enfermería.
check-out-of-service-nurse = Está fuera de servicio: la persona necesita otra superficie. Elíjala con `/swap`.
check-high-next-nurse = 1. Mire el modo: el estático es más firme.
    2. El ajuste lo decide usted, según el plan de cuidados o la orden.
check-high-next = 1. Mire el modo: el estático es más firme.
    2. Avise a enfermería, que puede bajar el ajuste.
check-could-not-next-nurse = Sigue en la lista de pendientes. Si algo se ve o suena mal, no espere.
check-could-not-next = Sigue en la lista de pendientes. Si algo se ve o suena mal, no espere: llame a enfermería.

check-late = Anotado tarde, para { $at }.
check-not-newest = Hay una comprobación más nueva. Esta queda solo en el historial.
check-layers = Demasiadas capas: el límite de su residencia es { $most }. Quite lo que el plan de cuidados no pide.
check-raised = La cabecera estaba alta, y así pesan más los glúteos. Si el plan de cuidados lo permite, bájela y compruebe otra vez.
check-maker-look = Para esta el fabricante pide mirar y palpar desde arriba, no meter la mano debajo. Siga las instrucciones del fabricante.
check-maker-none = Para esta el fabricante no pide comprobar el aire. Siga las instrucciones del fabricante y llame a enfermería si algo se ve mal.
check-recheck = Compruebe otra vez: { $at } ({ $ago }).
check-next = Próxima comprobación desde las { $at }, en el próximo turno.

check-already = No se anotó, porque alguien llegó antes. **{ $surface }**: { $air }, { $at } { $who }
check-already-yours = No se anotó otra vez: usted ya anotó **{ $surface }**, { $air }, { $at }.
check-asked-back = Usted dijo **{ $before }** para **{ $surface }** { $ago }. ¿La midió otra vez, y ahora { $air }? Todavía no se anotó nada. ¿Era otra cama? Toque la ficha de esa cama.
check-moved = No se anotó, porque **{ $tag }** cambió de lugar desde que llegó esta ficha. Escriba `/round` o `/due` para una nueva.

taken-back-swap = Y **{ $surface }** está otra vez en su lugar.
taken-back = Deshecho: **{ $surface }** queda como estaba antes. El historial guarda las dos cosas.
taken-back-low = Lo que vale: **bajo**. Se avisa otra vez a enfermería. { $check }
taken-back-low-twice = Lo que vale: **bajo dos veces**. Se avisa otra vez a enfermería. { $check }
taken-back-check = Lo que vale: { $check }
taken-back-at = Compruebe otra vez: { $at }.
taken-back-now = Compruebe otra vez **ahora**.

## A round

round-head = **Ronda { $unit }** · por ver: { $left }
round-skipped = Saltada: **{ $surface }**. Sigue en la lista de pendientes.
round-not-due = **{ $surface }**: ahora no hay ninguna comprobación pendiente.
round-back-in-bed = **{ $surface }**: { $why }, iba a volver { $until }. **¿Ya está en la cama?** Mire antes de medir.
round-no-surface = No hay ninguna superficie colocada en { $unit }, así que no hay nada que comprobar.
round-some-left = **{ $unit }**: esa fue la última cama. { $left ->
        [one] Queda 1 pendiente
       *[other] Quedan { $left } pendientes
    }: { $these }
round-done = **{ $unit }**: { $placed ->
        [one] su única superficie está hecha.
       *[other] ninguna de sus { $placed } superficies tiene ahora una comprobación pendiente.
    } Próximas desde las { $at }.
