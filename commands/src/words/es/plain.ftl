### Messages in everyday words: what was understood, what is asked back, what comes nearest.

## What was understood

plain-check = **{ $surface }** · comprobación a mano: { $air }
plain-could-not = **{ $surface }** · no se pudo comprobar: { $air }
plain-layers = { $count ->
        [one] 1 capa
       *[other] { $count } capas
    }
plain-setting = ajuste { $setting }
plain-alarm = **{ $surface }** · alarma: { $kind }
plain-alarm-nobody = Según el registro está { $place } y nadie la usa. ¿Otra etiqueta? Dígalo otra vez con esa.
plain-power-found = **{ $surface }** · hallada sin corriente: { $cause }. Ya tiene corriente.
plain-alarm-cause = **{ $surface }** · alarma: { $kind }. Causa: { $cause }
plain-found = **{ $surface }** · hallada así y ya resuelta: { $cause }.
plain-found-air = Aire después: { $air }.
plain-found-since = ¿Cuánto tiempo estuvo así, más o menos?
plain-fixed = **{ $surface }** · su alarma de las { $at } está resuelta: { $cause }.
plain-fixed-next = Después se comprueba el aire: solo una comprobación adecuada cierra la alarma.
plain-cause-mended = ¿Ya está resuelto?
plain-cause-open = **{ $surface }** tiene una alarma abierta, y usted dijo: { $cause }. Cuando esté resuelto, eso fue lo que la resolvió.
plain-cause-other = La lista de causas no tiene una palabra propia para eso: diga qué fue en una nota: **Escribirlo** al comprobar, o después `/amend`.
plain-cause-no-air = Su lectura no se anota: quien compruebe el aire la toma otra vez.
plain-no-alarm = **{ $surface }** no tiene ninguna alarma abierta, y no se anotó nada.
plain-on-card = **{ $surface }** tiene una alarma abierta. Un mensaje no anota nada: tóquelo aquí.
plain-power-since = ¿Cuánto tiempo estuvo sin corriente, más o menos?
plain-filter = **{ $surface }** · filtro { $finding }, { $action }
plain-clean = **{ $surface }** · limpieza: { $reason }, { $method }, funda { $cover }
plain-echo = No se anota nada ni se avisa a nadie hasta que { $who } toque el botón.
plain-echo-menu = No se anota nada ni se avisa a nadie hasta que { $who } elija.
plain-rest = El resto de su mensaje no se anota.
plain-confirmed = Lo confirmó { $who }.
plain-old = No se anotó nada: fue hace más de { $minutes } minutos. Dígalo otra vez como está ahora.
plain-newer = No se anotó nada: hay algo más reciente de **{ $surface }**. Mire `/surface` y, si sigue igual, dígalo otra vez.
plain-newer-one = **{ $surface }**: no se anotó, ya hay algo más nuevo. Mire `/surface`.
fault-plain-not-yours = Solo { $who } puede confirmarlo, porque lo escribió. Si usted también lo vio, escríbalo.

## Answers

plain-where-alarm = Su alarma de las { $at } está abierta, y **nadie la ha tomado.**
plain-where-alarm-taken = Su alarma de las { $at } está abierta. { $who } la tomó a las { $since }.
plain-where-placed = **{ $surface }** · en uso en { $unit }, desde el { $since }
plain-where-out-under = **{ $surface }** · **fuera de servicio** desde el { $since }, y todavía debajo de una persona en { $unit }
plain-empty-bed = Esa cama no tiene ninguna superficie.
plain-help = Mencióneme y dígalo en pocas palabras, con una etiqueta o una cama. Repito lo que entendí y usted toca una vez.
    - LW-07 1 1/4, dos capas
    - baja presión en LW-07
    - filtro LW-07 tapado, cambiado
    - limpié LW-07 de rutina con agua y jabón, funda bien
    - qué toca · dónde está LW-07 · está pitando
    Solo camas y etiquetas, nunca un nombre. `/help` muestra los comandos.
plain-unknown = Un mensaje no me deja ver si usted administra este chat. Si es así, escriba el comando: `/help`
# To the same, of what is open already.
plain-open-unknown = **{ $surface }** ya tiene una alarma abierta, desde las { $at }. No se abrió nada nuevo. Su ficha está donde lee la unidad. Primero el residente: en caso de duda, llame a enfermería de viva voz.
plain-outage-unknown = **{ $unit }**: el corte de luz ya está abierto, desde las { $at }. No se abrió nada nuevo. Su ficha está donde lee la unidad. Primero los residentes: en caso de duda, llame a enfermería de viva voz.

## What is asked back

plain-say-again = Dígalo otra vez con una sola etiqueta o cama.
plain-ask-which = ¿Cuál: { $these }?
plain-ask-surface = ¿Qué superficie? Dígalo con una etiqueta o una cama, por ejemplo: { $example }
plain-ask-bed = ¿{ $number } es una cama o una lectura? Dígalo con la palabra: cama { $number }, y la lectura con su unidad.
plain-ask-low = **{ $surface }**: ¿qué tan baja está? Compruebe el aire, o diga qué dice el panel.
plain-ask-high = **{ $surface }**: ¿qué tan alta está? Compruebe el aire, o diga qué dice el panel.
plain-ask-cause = **{ $surface }** · hallada así y ya resuelta. ¿Qué fue?
plain-ask-cause-fixed = **{ $surface }** tiene una alarma abierta. ¿Qué fue lo que ya está resuelto?
plain-ask-cause-alarm = **{ $surface }** · esto abre su alarma. ¿Qué es?
plain-ask-kind = **{ $surface }**: ¿cuál dice el panel?
plain-ask-why = **{ $surface }**: no se pudo comprobar. ¿Qué fue?
plain-ask-filter = **{ $surface }**: ¿cuál fue?
plain-ask-filter-all = **{ $surface }**: ¿cómo estaba el filtro y qué hizo? Dígalo así: { $example }
plain-ask-clean-reason = **{ $surface }**: ¿por qué se limpió?
plain-ask-clean-method = **{ $surface }**: ¿con qué se limpió?
plain-ask-clean-cover = **{ $surface }**: ¿cómo estaba la funda?
plain-ask-clean-all = **{ $surface }**: ¿por qué, con qué, y cómo estaba la funda? Dígalo así: { $example }
plain-ask-clean-rest = **{ $surface }**: limpia. Elija lo demás: por qué, con qué, cómo estaba la funda.
plain-clean-choice = { $reason }, { $method }, funda { $cover }
plain-left-none = **Sin tomar:** { $typed } no es cama ni etiqueta de esta residencia. Diga esa otra vez.
plain-left-near = **Sin tomar:** { $typed } no es cama ni etiqueta de esta residencia. Parecidas: { $these }. Diga esa otra vez.
plain-left-empty = **Sin tomar:** no hay superficie en la cama { $typed }. Diga esa otra vez con otra cama.
plain-left-unclear = **Sin tomar:** no está claro lo que dijo de **{ $surface }**. Diga esa otra vez.
plain-ask-one = Veo varias superficies y varias lecturas, y no se anotó nada. Un mensaje para cada una, o todas juntas con `/catchup`.
plain-ask-long = Es demasiado largo para mí, y no se anotó nada. Una sola cosa en un mensaje corto, por favor.

## Said in a way that is no entry

plain-doubt-question = Suena a pregunta, así que no se anotó nada.
plain-doubt-not = Entendí "no", así que no se anotó nada de **{ $surface }**.
plain-doubt-over = Suena a que ya pasó en **{ $surface }**. No se anotó nada: una alarma abierta termina con **Resuelto** en su ficha.
plain-doubt-past = Suena a que fue hace un rato, así que no se anotó nada. Una comprobación puede decir cuándo: 13:40 o hace 20 min.
plain-doubt-unsure = No suena seguro, así que no se anotó nada. Mire **{ $surface }** otra vez y después dígalo.
plain-doubt-not-yet = Suena a que todavía falta hacerlo en **{ $surface }**. Dígalo cuando esté hecho. ¿Suena la alarma? Entonces `/alarm`.

## Nothing was understood

plain-none = No lo entendí, y no se anotó nada. Mencióneme con **ayuda** para ver lo que entiendo.
plain-none-like = No lo entendí, y no se anotó nada. Dígalo así: { $example }
plain-none-command = No se anotó nada. Para esto escriba `/{ $name }`.
plain-none-voice = No se anotó nada. **Si alguien puede estar herido, llame ya a enfermería de viva voz:** este chat no es un sistema de alarma.
plain-none-surface = Suena a otra cosa y no a una superficie con aire, y no se anotó nada. Si alguien necesita ayuda, llame de viva voz.
plain-none-card = No se anotó nada. En la ficha de la alarma toque **Ya voy**, **Residente a salvo** o **Resuelto**.
plain-none-take-back = No se anotó nada. Lo que acaba de anotar tiene un botón **Deshacer**.
plain-like-check = { $surface } { $air }, dos capas
plain-like-alarm = baja presión en { $surface }
plain-like-filter = filtro { $surface } tapado, cambiado
plain-like-clean = limpié { $surface } de rutina con agua y jabón, funda bien
plain-like-due = qué toca en { $unit }
plain-like-where = dónde está { $surface }
plain-like-look = { $surface } pita, sin luces

## Buttons and menus

button-confirm = Sí, anotarlo
button-confirm-all = { $count ->
        [2] Sí, anotar las dos
       *[other] Sí, anotar las { $count }
    }
button-confirm-alarm = Sí, reportar la alarma
button-so-now = Está así ahora: anotarlo
button-card = Ver su ficha
button-look = Qué mirar primero
plain-button-alarm = Alarma: { $kind }
plain-button-filter = { $finding }, { $action }
plain-button-cover = Funda { $cover }
button-mended = Ya está resuelto
button-mended-air = Resuelto, aire ahora { $air }
button-not-mended = Todavía no: abrir la alarma
button-only-air = Solo el aire: { $air }
menu-clean = ¿Cómo fue?
menu-surface = ¿Qué superficie?

## Other work, and what is asked about it

plain-outage = **{ $unit }** · sin corriente en toda la unidad
plain-outage-where = Sin corriente: ¿en qué unidad?
plain-duty = **{ $unit }** · de turno ahí
plain-cpr = **{ $surface }** · válvula de RCP abierta
plain-cpr-first = **Primero el plan de emergencia de la residencia.** Este chat no llama a nadie para eso.
plain-away = **{ $surface }** · nadie en la cama: { $why }. ¿Cuánto tiempo, hasta que se pregunte de nuevo?
plain-back = **{ $surface }** · la cama vuelve a estar ocupada
plain-not-away = **{ $surface }** no consta como vacía, así que no hay nada que terminar.
plain-static = **{ $surface }** · modo estático. ¿Cuánto tiempo?
plain-set = **{ $surface }** · ajuste { $setting }
plain-gaps = Los huecos se miden y se escriben en el formulario. **Un hueco que ahora se ve demasiado grande:** llame a enfermería de viva voz.
plain-match-kind = ¿De qué tipo: alternante o de baja pérdida de aire? Dígalo con la cama, o escriba `/match`.
plain-no-duties = Nadie ha dicho aquí quién está de turno. `/duty` lo dice.
plain-calls = **Llame ahora a enfermería de viva voz:** nadie oye un chat.
plain-which-beeps = **¿Hay alguien encima? Inicie su alarma:** dígalo con la etiqueta o la cama, o escriba `/alarm`. Después, mire.
plain-which-beeps-menu = **¿Hay alguien encima? Elíjala abajo:** eso inicia su alarma. Después, mire.
plain-ask-half-day = ¿En qué mitad del día fue?
plain-button-outage = Sin corriente: { $unit }
plain-button-gaps = Escribir los huecos
plain-button-minutes = { $count } minutos
plain-button-hours = { $count ->
        [one] 1 hora
       *[other] { $count } horas
    }
plain-button-since-unknown = No se sabe
plain-button-days = { $count ->
        [one] 1 día
       *[other] { $count } días
    }
plain-button-at = Sí, a las { $time }
plain-button-not-over = No: iniciar la alarma
button-confirm-outage = Sí, sin corriente
menu-start-alarm = Iniciar la alarma de…
