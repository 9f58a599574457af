### Alarms: what is reported, taken, safe, fixed, out of service; their cards and calls.

kind-unknown = Alarma, todavía sin mirar
kind-low-pressure = Presión baja
kind-power = Sin corriente
kind-high-pressure = Presión alta
kind-fault = Falla de la unidad de control
kind-bottomed-out = Toca fondo
kind-kept = Retenida por una investigación
title-taken = Alarma, alguien va en camino
title-safe = Alarma, residente a salvo
title-cause = Alarma: { $cause }
title-over = Alarma, terminada

priority-high = alta: vaya ya
priority-medium = media: vaya pronto
priority-low = baja: eche un vistazo

cause-unplugged = Estaba desenchufada
cause-switched-off = Estaba apagada
cause-wrong-setting = Ajuste o modo equivocado
cause-hose = Manguera suelta o doblada
cause-cpr-valve = Válvula de RCP abierta
cause-leak = Fuga
cause-filter = Filtro tapado
cause-other = Otra cosa

## Answers to whoever reports or works on one

alarm-raised = **{ $surface }**: la alarma está abierta y se avisa a la unidad.
alarm-raised-nowhere = **{ $surface }**: la alarma está abierta y se avisa en el canal de cuidados.
alarm-under-nobody = **Según el registro, { $tag } está { $place } y nadie la usa. ¿La etiqueta es correcta?** Si no: **Otra etiqueta**. Si hay alguien encima, avise a enfermería.
alarm-power-found = **{ $surface }**: anotada como hallada sin corriente. Usted lleva su alarma, y no se llama a nadie más mientras la comprueba.
alarm-power-found-call = **{ $surface }**: anotada como hallada sin corriente. Se llama a la unidad para comprobar el aire debajo de la persona.
alarm-found = **{ $surface }**: anotada como hallada así y ya resuelta. Usted lleva su alarma, y no se llama a nadie más mientras la comprueba.
alarm-found-call = **{ $surface }**: anotada como hallada así y ya resuelta. Se llama a la unidad para comprobar el aire debajo de la persona.
alarm-open-already = **{ $surface }** ya tiene una alarma abierta, desde las { $at }. No se abrió otra. Su ficha:
alarm-note-not-kept = Su nota no se agregó: dígalo en el canal, sin nombres.
alarm-caution = Primero la persona. Si tiene dudas, llame a enfermería de viva voz: este chat no es un sistema de alarma.
alarm-named = **{ $surface }**: { $kind }.
alarm-taken = **{ $surface }** es suya. Toque **Residente a salvo** antes de { $safe } min y **Resuelto** antes de { $fix } min, o se avisa otra vez a los demás.
alarm-taken-pulled = **{ $surface }** es suya. Toque **Residente a salvo** en menos de { $safe } min. Está fuera de servicio: que enfermería la cambie en menos de { $fix } min, o se llama otra vez a los demás.
alarm-taken-nobody = **{ $surface }** es suya. Mire si hay alguien encima a pesar de todo. Toque **Resuelto**, **Fuera de servicio** u **Otra etiqueta** en su ficha en menos de { $fix } min, o se llama otra vez a los demás.
alarm-taken-by-you = **{ $surface }** ya es suya, desde las { $at }.
alarm-taken-already = { $who } ya va a **{ $surface }**, desde las { $at }. Vaya también si hacen falta dos.
alarm-safe = **{ $surface }**: residente a salvo. La alarma sigue abierta hasta que se resuelva, a más tardar { $fix } min después de "Ya voy".
alarm-safe-pulled = **{ $surface }**: residente a salvo. **Está fuera de servicio y hace falta otra superficie:** avise ya a enfermería, que la cambia. La alarma sigue abierta hasta entonces.
alarm-safe-pulled-nurse = **{ $surface }**: residente a salvo. **Está fuera de servicio: cámbiela.** Elija otra aquí, o escriba `/swap`. La alarma sigue abierta hasta entonces.
alarm-safe-already = { $who } ya dijo que la persona en **{ $surface }** está a salvo: { $at }.
alarm-given-up = **{ $surface }** ya no es suya, y ahora se avisa a los siguientes. ¿Puede ir al final?
alarm-not-safe = **{ $surface }**: todavía no está a salvo. Vaya o mande a alguien: se espera **Residente a salvo** antes de { $safe } min desde "Ya voy", o se avisa otra vez a los demás.
alarm-ask-cause = **{ $surface }**: ¿qué fue?
alarm-ask-check = **{ $surface }** · causa: { $cause }
    Deje que se llene y compruebe el aire debajo de la persona. Solo una comprobación adecuada cierra la alarma.
alarm-fixed-but-low = **{ $surface }**: aire { $air }, sigue bajo, así que la alarma sigue abierta.
    1. Llame a enfermería. El ajuste lo decide enfermería.
    2. Busque otra causa: válvula de RCP, mangueras, modo, capas, cabecera, una fuga.
    3. Tenga lista una de repuesto. Después toque **Resuelto** otra vez.
alarm-fixed-but-high = **{ $surface }**: aire { $air }, alto, así que la alarma sigue abierta. Mire el modo y avise a enfermería, que puede bajar el ajuste. Después toque **Resuelto** otra vez.
alarm-fixed-but-bottomed-out = **{ $surface }**: sin aire. **Quédese con la persona. Llame ya a enfermería y a otra persona.** Mueva a la persona según el plan de cuidados. La alarma sigue abierta y se avisa otra vez al equipo.
alarm-fixed-but-low-nurse = **{ $surface }**: el aire { $air } sigue bajo, así que la alarma sigue abierta.
    1. Busque otra causa: válvula de RCP, mangueras, modo, capas, cabecera, una fuga.
    2. El ajuste lo decide usted, según el plan de cuidados o la orden. Después toque otra vez **Resuelto**.
    3. Si sigue bajo, elija aquí otra superficie.
alarm-fixed-but-high-nurse = **{ $surface }**: el aire { $air } está alto, así que la alarma sigue abierta. Mire el modo. El ajuste lo decide usted, según el plan de cuidados o la orden. Después toque otra vez **Resuelto**.
alarm-fixed-but-bottomed-out-nurse = **{ $surface }**: no hay aire. **Quédese con la persona. Llame ya a otra persona.** Mueva a la persona según el plan de cuidados. La alarma sigue abierta, y se avisa otra vez al equipo.
alarm-fixed-but-could-not = **{ $surface }**: sin comprobar, así que la alarma sigue abierta. Se avisa a enfermería para que la compruebe.
alarm-closed-checked = **{ $surface }**: alarma cerrada, el aire es adecuado. Causa: { $cause }.
alarm-closed = **{ $surface }**: alarma cerrada. Causa: { $cause }.
alarm-power-setting = Estuvo sin corriente: mire otra vez el ajuste y el modo. Las unidades de control los olvidan, o guardan los de la persona anterior. Cuáles deben ser lo dicen el plan de cuidados, la orden o enfermería.
alarm-pulled = **{ $surface }** está fuera de servicio y su alarma, cerrada. Póngale un aviso y sepárela.
alarm-pulled-under = **{ $surface }** está fuera de servicio y la persona sigue encima.
    1. Quédese. Llame a enfermería y a otra persona.
    2. Traiga una superficie lista. Mueva a la persona según el plan de cuidados.
    3. Enfermería escribe `/swap`, que pone la nueva en su lugar. Hasta entonces la alarma sigue abierta.
alarm-pulled-under-nurse = **{ $surface }** está fuera de servicio y la persona sigue encima.
    1. Quédese. Llame a otra persona.
    2. Traiga una superficie lista. Mueva a la persona según el plan de cuidados.
    3. Elíjala aquí, o con `/swap`. Hasta entonces la alarma sigue abierta.
alarm-held = Está retenida por una investigación: atiendan a la persona, si hay alguien encima, y no toquen nada más. Llamen a supervisión.
alarm-out-closed-held = **{ $surface }** está retenida por una investigación y debajo de nadie: su alarma queda cerrada. Déjenla tal como está: no la desenchufen, limpien, reinicien ni muevan. Pregunten a supervisión.
alarm-out-closed = **{ $surface }** está fuera de servicio y debajo de nadie: su alarma queda cerrada. Apáguenla y sepárenla hasta que se repare.
alarm-pulled-already = **{ $surface }** ya está fuera de servicio. La alarma sigue abierta hasta que enfermería ponga otra en su lugar con `/swap`.

## Of a surface that is under nobody

stands-ready = lista en el almacén
stands-ready-in = lista en el almacén ({ $place })
stands-soiled = en su puesta a punto
stands-out = fuera de servicio
stands-held = retenida por una investigación
wrong-tag-which = ¿Qué superficie da la alarma? La alarma de **{ $tag }** se cierra, y empieza la de esa.
wrong-tag-closed = **{ $tag }**: su alarma está cerrada, etiqueta equivocada.
wrong-tag-open = **{ $surface }** ya tiene una alarma abierta. Su ficha:
fault-wrong-tag-same = { $tag } es la etiqueta que ya tiene la alarma. Elija la superficie que suena, o cierre el formulario.
button-wrong-tag = Otra etiqueta
button-type-tag = Escribir cuál
form-tag-title = ¿Qué superficie da la alarma?
form-tag = Etiqueta o cama
form-tag-hint = LW-07 o 103

## An alarm's card

card-head = **{ $surface }** · { $kind } · prioridad { $priority }
card-unit = Unidad { $unit }
card-reported = La reportó { $who }, { $at }
card-shift-over = Su turno había terminado a las { $at }
card-found = Hallada { $at } por { $who }: sin corriente, y ya la tiene. No se sabe desde cuándo
card-found-since = Hallada { $at } por { $who }: sin corriente desde las { $since } más o menos, y ya la tiene
card-mended = Hallada { $at } por { $who }, y ya resuelta. No se sabe desde cuándo
card-mended-since = Hallada { $at } por { $who }, y ya resuelta: así desde las { $since } más o menos
card-under-nobody = **Según el registro, { $place } y nadie la usa.** Mire si es así, o toque **Otra etiqueta**.
card-nobody = **Nadie la ha tomado.** Próximo aviso { $at } ({ $ago })
card-nobody-again = **Alguien la tomó, pero ahora nadie la atiende.** Próximo aviso { $at } ({ $ago })
card-taken = Va en camino: { $who }, { $at }
card-safe = Residente a salvo: { $who }, { $at }
card-not-safe = Residente a salvo: nadie lo ha dicho aún
card-safe-never = Residente a salvo: nadie lo dijo
card-cause = Causa: { $cause }
card-pulled = **Fuera de servicio:** { $fault }. La alarma sigue abierta hasta que la persona esté en otra superficie.
card-end-fixed = **Cerrada** { $at }: resuelta. { $who }
card-end-out-of-service = **Cerrada** { $at }: fuera de servicio. { $who }
card-end-released = **Cerrada** { $at }: se quitó de la cama, no hay nadie encima. { $who }
card-end-taken-back = **Cerrada** { $at }: se deshizo, fue un error. { $who }
card-end-wrong-tag = **Cerrada** { $at }: etiqueta equivocada, la alarma está en otra superficie. { $who }
card-end-is-at = **Cerrada** { $at }: etiqueta equivocada, pasó a { $surface }. { $who }

## Calls in the unit's channel

post-worse = **{ $surface }** está peor: { $kind }. Vaya ya.
post-rung = **{ $surface }**: alarma abierta hace { $span } y nadie la ha tomado. ¿Quién va?
post-rung-again = **{ $surface }**: alarma abierta hace { $span }. Alguien la tomó, pero **ahora nadie la atiende**. Vayan ya, o llámense por teléfono.
post-rung-top = **{ $surface }**: alarma abierta hace { $span } y **nadie la ha tomado. Vayan ya**, o llámense por teléfono.
post-rung-nobody = **{ $surface }**: alarma abierta hace { $span }. Según el registro nadie la usa: mire si es así, apáguela, o toque **Otra etiqueta** en su ficha.
post-call-again = **{ $surface }**: entonces no la tomó nadie. Se llamó otra vez { $at }: vea la última llamada.
post-call-taken = **{ $surface }**: { $who } va en camino, desde las { $at }.
post-call-left = **{ $surface }**: { $who } iba en camino desde las { $at } y ya no. Vea la última llamada.
post-call-ended = **{ $surface }**: { $end }
post-not-safe = **{ $surface }**: alguien la tomó, pero después de { $minutes } min nadie ha dicho que la persona está a salvo. ¿Quién va?
post-not-fixed = **{ $surface }**: alguien la tomó, pero después de { $minutes } min no está resuelta. ¿Quién va? Tengan lista una superficie de repuesto.
post-low = **{ $surface }**: bajo, aire { $air } ({ $who }). Enfermería: venga a mirar, por favor. El ajuste lo decide enfermería. Nueva lectura:
post-low-again = **{ $surface }**: **otra vez bajo**, aire { $air } ({ $who }). Enfermería: venga, por favor. Busquen una fuga y tengan lista una de repuesto. Nueva lectura:
post-low-nurse = **{ $surface }**: bajo, aire { $air }. La midió { $who }, que decide el ajuste. Nueva lectura:
post-low-again-nurse = **{ $surface }**: **otra vez bajo**, aire { $air }. La midió { $who }, que decide el ajuste. Tengan lista una de repuesto. Nueva lectura:
post-low-taken-back = **{ $surface }**: la lectura baja fue un error y se deshizo ({ $who }). No hay que ir.
post-low-taken-back-newer = **{ $surface }**: esta lectura baja fue un error y se deshizo ({ $who }). Antes estaba bajo: vea la ficha más nueva abajo.
post-answer-taken-back = **{ $surface }**: la lectura que contestaba esto se deshizo ({ $who }). Vea la ficha más nueva abajo.
post-recheck-again = **{ $surface }**: la lectura que contestaba esto se deshizo ({ $who }). ¿Cuánto aire hay debajo de la persona?
post-low-stands = **{ $surface }**: **sigue bajo.** Una lectura más nueva se deshizo ({ $who }); vale { $air }, { $at }. Enfermería: venga a mirar, por favor. El ajuste lo decide enfermería. Nueva lectura:
post-low-stands-twice = **{ $surface }**: **sigue bajo, dos veces.** Una lectura más nueva se deshizo ({ $who }); vale { $air }, { $at }. Enfermería: venga, por favor. Busquen una fuga y tengan lista una de repuesto. Nueva lectura:
post-worse-taken-back = **{ $surface }**: que estaba peor fue un error y se deshizo ({ $who }). La alarma sigue abierta.
post-answered-soon = **{ $surface }**: { $at } { $who } leyó { $air }, { $judged }, poco después de estar baja. Enfermería: mírela de todos modos; está en `/due`.
post-answered = **{ $surface }**: { $who } la miró otra vez, { $at }: { $air }, { $judged }.
post-fixed-unchecked = **{ $surface }**: { $who } arregló la causa ({ $cause }) pero no pudo comprobar el aire. Enfermería: compruébelo, por favor. La alarma está abierta.
