### A turnover step by step, out of service and back, holds, recalls, and the lists behind them.

## Cleaning in a turnover

clean-logged-product = **{ $surface }**: limpiada con { $product } ({ $method }). Anotado. ¿Se hizo en este orden?
clean-logged-taken = **{ $surface }**: limpiada con { $product }, el único producto de este tipo en su lista ({ $method }). Anotado. ¿Se hizo en este orden?
clean-wet-until = **Que quede mojada hasta las { $at }** ({ $minutes } min). Entonces le aviso. La etiqueta del producto y el fabricante van primero.
clean-no-list = Mojada durante el tiempo de contacto que dice la etiqueta. Aquí todavía no hay lista de productos: supervisión la fija con `/facility product`.
clean-soap-not-enough = Solo con agua y jabón no termina una limpieza entre residentes. Desinfecte y anótelo también con `/clean`.
clean-marked-not-sporicidal = **Con esto no termina:** solo cuenta un producto que su lista llame esporicida. Límpiela otra vez con uno.
clean-marked-no-list = **Con esto todavía no termina.** Siga las normas de su residencia para esporas. Cuenta cuando supervisión tenga el producto en la lista como esporicida: `/facility product`
clean-again = Hay que desinfectarla otra vez, y después secarla y revisarla de nuevo.
clean-ready-soiled = **{ $tag }** estaba lista y ya no lo está: pasa otra vez por su puesta a punto. Sigue: `/clean` con el motivo entre residentes.
clean-still-out = **{ $tag }** sigue fuera de servicio. Mantenimiento la vuelve a poner en servicio con `/return`.
clean-damaged = **{ $tag }** está fuera de servicio: una funda dañada deja entrar líquido. Póngale un aviso y sepárela.
clean-damaged-under = **{ $tag }** está fuera de servicio: una funda dañada deja entrar líquido. Hay una persona encima: llame ya a enfermería, que trae otra superficie. Se avisó a la unidad.

## Steps

lack-cleaned = limpieza entre residentes
lack-dried = enjuagar y secar
lack-inspected = revisión
lack-parts = piezas
lack-filter = filtro
lack-function = prueba de marcha
released-turnover = Sigue la puesta a punto: la hace mantenimiento, o quien tenga tiempo en la unidad. `/clean` con el motivo entre residentes, después secar, revisar, piezas, filtro y prueba de marcha. Meta: { $hours } h.
released-place = Va a: { $place }. Cuando esté lista: { $ready }
released-waiting = Todavía en una fuera de servicio y a la espera de una lista ({ $count }): { $these }. ¿Les sirve? `/match`
released-held = **{ $tag }** sigue retenida por una investigación: déjela como está. Nadie la limpia, reinicia ni repara.
released-out-of-service = **{ $tag }** sigue fuera de servicio. Póngale un aviso y sepárela de las que están listas.
turn-head = **{ $tag }**, puesta a punto:
turn-marked = **Limpiar al final, solo esporicida.**
turn-step-done = { $number }. { $step }: hecho { $at }, { $who }
turn-step-now = { $number }. **{ $step }: ahora**
turn-step-left = { $number }. { $step }
turn-now-cleaned = Desenchufe primero. Funda cerrada mientras esté mojada. Después anótelo: `/clean surface:{ $tag }`
turn-now-dried = Enjuague y después seque todo, también costuras y cierre, antes de enchufar nada.
turn-wet-until = Que quede mojada hasta las { $at }. Después enjuague y seque.
turn-now-inspected = Desenchufada. Mire todos los lados, cierre y costuras, y después dentro de la funda. Nunca clave una aguja en una funda. Mandan las instrucciones del fabricante.
turn-now-inspected-closed = Desenchufada. Mire todos los lados, cierre y costuras. El fabricante dice: no abrir esta funda.
turn-now-parts = Desenchufada. ¿Están limpios y enteros la unidad de control, cada manguera y conector, cable y enchufe y todas las correas?
turn-now-filter = Desenchufe la unidad de control antes de abrirla. Un filtro mojado se vuelve a poner solo cuando esté seco.
turn-now-function = ¿Todo seco? Enchúfela en la pared y deje que se llene sin nadie encima. Sin alarma, y llena en { $minutes } min.
turn-filter-already = **{ $tag }**: el filtro ya está atendido.
turn-already = { $step }: ya estaba anotado, { $at }, { $who }.
turn-nothing-new = No hay nada nuevo que anotar aquí.
turn-stained = **{ $tag }**: manchada por fuera. Anotado. Límpiela otra vez, después séquela y revísela de nuevo. Si la mancha no sale: pregunte a mantenimiento.
turn-which-part = **{ $tag }**: ¿qué pieza está dañada? Con eso queda fuera de servicio.
surface-out-next = Para volver a ponerla en servicio, mantenimiento escribe `/return surface:{ $tag }`.
turn-left = **{ $tag }** todavía no está lista. Falta: { $left }.
turn-ready = **{ $tag }** está lista para el próximo residente.
turn-quick = Puede tardar { $needs } min en llenarse, y el paso anterior fue { $had ->
        [0] ahora mismo
        [one] hace un minuto
       *[other] hace { $had } min
    }. ¿Todavía no está llena del todo? Deshágalo.
turn-ready-owner = **{ $tag }** está limpia para volver a su dueño. No es para el próximo residente.
turn-ready-place = Va a: { $place }
turn-mark-ended = La marca "limpiar al final" terminó con esto.

button-dried = Enjuagada y seca
button-whole = Entera y seca, dentro y fuera
button-whole-outside = Entera y seca por fuera
button-stained = Manchada por fuera
button-wet-inside = Mojada o manchada dentro
button-torn = Rota o dañada
button-parts = Todo limpio y entero
button-part-damaged = Una está dañada
button-fails = Alarma, o no se llena
menu-part = ¿Qué pieza está dañada?

post-contact = **{ $surface }**: terminó el tiempo de contacto. Enjuague, seque y después toque.
post-contact-done = **{ $surface }**: enjuagada y seca ({ $who }).
post-turnover-late = **Puestas a punto de más de { $hours } h ({ $count }).** Mantenimiento: termínenlas, por favor:
post-turnover-line = - **{ $surface }** desde el { $since }. Falta: { $left }
post-turnover-line-marked = - **{ $surface }** (limpiar al final, solo esporicida) desde el { $since }. Falta: { $left }
post-turnover-more = - y { $count } más

fault-turn-order = No se anotó nada: a { $tag } antes le falta { $missing }.
fault-still-wet = Todavía no: { $tag } debe quedar mojada hasta las { $at }, { $minutes ->
        [one] 1 minuto más
       *[other] { $minutes } minutos más
    }. No se anotó nada.
fault-turn-other = Esta ficha es de una puesta a punto anterior de { $tag }, así que no se anotó nada. Escriba `/surface surface:{ $tag }` para una nueva.
fault-turn-out = { $tag } está fuera de servicio desde el { $since }, así que su puesta a punto se detuvo. Mantenimiento la vuelve a poner en servicio con `/return`.

## The home's lists

product-set = En la lista de su residencia ahora:
show-product = - Desinfectante **{ $name }**: { $method }, mojado { $minutes } min
show-product-sporicidal = - Desinfectante **{ $name }**: { $method }, mojado { $minutes } min, esporicida
show-storage = - Las superficies sucias están en { $dirty }, las listas en { $clean }
suggest-product = { $name }: mojado { $minutes } min
suggest-product-sporicidal = { $name }: mojado { $minutes } min, esporicida
product-dropped = **{ $name }** salió de la lista de su residencia. Lo que se limpió con él sigue anotado.
product-dropped-last = **{ $name }** salió de la lista de su residencia, que queda vacía: cualquier desinfectante cuenta solo por su tipo. Fije pronto la lista.
product-quaternary-spores = Mire otra vez la etiqueta del producto: los cuaternarios normalmente no matan esporas.
storage-set = Fijado: las superficies sucias van a { $dirty }, las listas a { $clean }.
mark-on = **{ $surface }**: limpiar al final, solo esporicida. No escriba por qué, ni aquí ni en ninguna parte de este chat.
mark-on-ready = Estaba lista y ya no lo está: antes se limpia otra vez, con un producto esporicida.
mark-on-again = Lo que se limpió hasta ahora no cuenta: límpiela otra vez con un producto esporicida.
mark-off = **{ $surface }**: se quitó la marca "limpiar al final". Cuándo se puede quitar lo decide control de infecciones.
mark-on-already = **{ $surface }** ya tiene la marca: limpiar al final, solo esporicida.
mark-off-already = **{ $surface }** no tiene marca. No hay nada que quitar.

fault-product-new = Todavía no está en la lista. Ponga su método y sus minutos de contacto de la etiqueta, por ejemplo en **method** cuaternario y en **contact** 3
fault-product-soap = Agua y jabón no es un desinfectante, así que no va en esta lista. Elija cuaternario, cloro (lejía) u otro.
fault-product-empty = No hay ningún "{ $typed }": la lista todavía está vacía. Agréguelo con método y contacto, por ejemplo en **method** cuaternario y en **contact** 3
fault-product-unknown = No hay ningún "{ $typed }" en su lista. En ella están: { $these }. Para agregarlo, ponga también su método y su contacto.
fault-products-many = En la lista caben como máximo { $most } productos. Saque antes uno con contact:0.
fault-product-method = { $name } está en su lista como { $method }. Elija en **method** { $method }, o el producto que usó.
fault-product-none = Su lista no tiene ningún producto del tipo { $method }. En ella están: { $these }. Use uno de estos, o pida a supervisión que fije `/facility product`.
fault-product-which = ¿Qué producto? En su lista: { $these }. Escríbalo en **product**.
fault-product-unlisted = "{ $typed }" no está en su lista. De este tipo hay: { $these }. Entre residentes use uno de ellos.
fault-plain-name = **{ $option }** solo puede tener letras, cifras y signos sencillos. Escríbalo como está en la etiqueta o en la puerta.
fault-storage-same = Las superficies sucias y las listas no deben estar en el mismo lugar. Escriba dos lugares.

## Out of service and back

pulled = **{ $tag }** está fuera de servicio: { $fault }. Póngale un aviso y sepárela. Mantenimiento la vuelve a poner en servicio con `/return`.
pulled-under = **{ $surface }** está fuera de servicio: { $fault }. **Hay una persona encima:** quédese, y que enfermería venga con una superficie lista. Se avisó a la unidad, y la alarma sigue abierta hasta que la persona esté en otra superficie.
pulled-under-nurse = **{ $surface }** está fuera de servicio: { $fault }. **Hay una persona encima:** quédese con ella, que traigan una superficie lista, y cámbiela según el plan de cuidados. Se avisó a la unidad, y la alarma sigue abierta hasta que la persona esté en otra superficie.
returned = **{ $tag }**: reparada, y pasó la prueba de seguridad. Ahora va su puesta a punto.
return-head = **{ $tag }**, de vuelta al servicio:
return-repair = 1. **Reparada, o revisada y hallada entera: ahora**
return-correct = 1. **Hecha la corrección del fabricante, como dice el retiro: ahora**
return-repaired = 1. Reparada o hallada entera: hecho { $at }, { $who }
return-corrected = 1. Corrección del fabricante: hecho { $at }, { $who }
return-test = 2. Después, la prueba de seguridad
return-test-failed = 2. Prueba de seguridad: **no pasó.** Sigue fuera de servicio. Repárela y pruébela otra vez.
return-then = 3. Después su puesta a punto: limpieza, revisión, prueba de marcha.
button-repaired = Reparada, o está entera
button-corrected = Corrección hecha
button-repair-note = Con una nota
button-test-passed = Pasó la prueba
button-test-failed = No pasó la prueba
form-repair-title = Reparada: { $tag }

post-pull-taken-back = **{ $surface }**: lo de fuera de servicio fue un error y se deshizo ({ $who }).
post-pulled = **{ $surface }**: fuera de servicio, { $fault } ({ $who }). Mantenimiento: sepárenla, por favor.
post-pulled-under = **{ $surface }**: fuera de servicio, { $fault }, y la persona sigue encima ({ $who }). Enfermería: venga ya. Traiga una superficie lista.
post-pulled-under-nurse = **{ $surface }**: fuera de servicio, { $fault }, y la persona sigue encima. { $who } está allí y decide. Traigan una superficie lista.

fault-pulled = { $surface } ya está fuera de servicio, desde el { $since }: { $fault }. Mantenimiento la vuelve a poner en servicio con `/return`.
fault-pulled-under = { $surface } ya está fuera de servicio, desde el { $since }: { $fault }. **Hay una persona encima:** quédese, y que enfermería venga con una superficie lista.
fault-pulled-under-nurse = { $surface } ya está fuera de servicio, desde el { $since }: { $fault }. **Hay una persona encima:** quédese con ella, que traigan una superficie lista, y cámbiela según el plan de cuidados.
fault-return-under = { $tag } sigue en la cama { $bed }. Enfermería pasa antes a la persona a otra superficie: `/release`
fault-return-in-use = { $surface } está en uso y no fuera de servicio. No hay nada que devolver al servicio.
fault-return-turnover = { $tag } ya volvió y está en su puesta a punto. Siga con `/clean` o `/surface`.
fault-test-first = No se anotó nada: { $tag } se repara, o se halla entera, antes de su prueba de seguridad.

## Holds

held = **{ $surface }** está retenida por una investigación y fuera de servicio. Solo supervisión puede liberarla.
held-under = **Hay una persona encima:** pásela ya a otra superficie. `/release` se permite, y sigue retenida.
held-steps = 1. Déjela como está, enchufada o no. Nadie la limpia, reinicia, abre ni repara.
    2. Escriba en papel lo que muestra el panel, y cómo están cable, mangueras y ajustes.
    3. Ninguna foto ni nombres en este chat: gestión de riesgos dice cómo tomar una.
held-report = Informes (21 CFR 803; decide gestión de riesgos qué corresponde): una muerte, a la FDA y al fabricante; una lesión grave, al fabricante; en { $days } días laborables desde el { $from }, es decir, hasta **{ $by }**. Los días cuentan desde que alguien de aquí lo supo; otro día: otra vez `/hold` con `known:`. Las reglas locales y el personal con licencia van primero.
held-report-over = **El plazo para informar terminó el { $by }** ({ $days } días laborables desde el { $from }, cuando alguien de aquí lo supo; 21 CFR 803). Llame ya a gestión de riesgos. Otro día: otra vez `/hold` con `known:`.
hold-head = **{ $surface }** está retenida por una investigación por { $who } desde el { $since }.
hold-reported = Informado { $at }, { $who }.
hold-reported-now = **{ $tag }**: informado. Ya no se recuerda a nadie. Sigue retenida.
# Un día tan lejano puede ser un error: se pregunta antes de anotar nada.
hold-ask = **{ $surface }**: ¿se sabe desde el { $day }, hace { $count } días? Todavía no se anotó nada. Retenerla la saca de servicio en el acto.
hold-ask-under = **Hay una persona encima,** y necesitaría ya otra superficie.
button-hold-sure = Sí, retenerla
fault-known-ahead = { $typed } todavía no llega. Escriba el día en que alguien de aquí supo de la lesión.
hold-sure = ¿Liberar **{ $tag }**? Desde entonces se puede limpiar, reparar y probar, y lo que muestra se puede perder. Pregunte antes a gestión de riesgos.
hold-sure-unreported = **Todavía nadie ha dicho que se informó de la lesión.**
hold-released = **{ $tag }** ya no está retenida. Sigue fuera de servicio hasta que mantenimiento la vuelva a poner en servicio con `/return`.
surface-held = **Retenida por una investigación** por { $who } desde el { $since }: no la limpie, no la reinicie ni la lleve a otro sitio.
card-held = **Retenida por una investigación:** no la limpie, reinicie ni desenchufe cuando no haya nadie encima.
button-reported = Informado
button-let-go = Liberarla
button-let-go-sure = Sí, liberarla

post-held = **{ $surface }** está retenida por una investigación ({ $who }). Nadie la limpia, reinicia, repara ni la lleva a otro sitio. Sepárenla tal como está.
post-held-under = **{ $surface }** está retenida por una investigación y la persona sigue encima ({ $who }). Enfermería: venga ya y traiga una superficie lista. Después déjenla como está: nadie la limpia ni reinicia.
post-held-under-nurse = **{ $surface }** está retenida por una investigación y la persona sigue encima. { $who } está allí y decide. Traigan una superficie lista. Después déjenla como está: nadie la limpia ni reinicia.
post-hold = **{ $surface }** está retenida por una investigación. { $left ->
        [0] **Hoy es el último día laborable** para informar
        [one] Queda 1 día laborable para informar
       *[other] Quedan { $left } días laborables para informar
    } (21 CFR 803, hasta el { $by }), si corresponde. Deciden gestión de riesgos y las reglas locales.
post-hold-over = **{ $surface }** está retenida por una investigación, y **nadie ha dicho que se informó.** Los días laborables de 21 CFR 803 terminaron { $by }. Hable hoy con gestión de riesgos.
post-hold-settled = **{ $surface }**: atendida ({ $who }).

fault-held = { $tag } está retenida por una investigación por { $who } desde el { $since }, así que no se anotó nada. Déjela como está. Supervisión puede liberarla: `/hold`
fault-hold-over = { $tag } ya no está retenida por eso. Escriba `/hold` para ver cómo está.

## Recalls

recall-what-lot = { $profile }, lote { $lot }
recall-preview = **Retiro { $what }**: { $count ->
        [one] se halló 1 superficie
       *[other] se hallaron { $count } superficies
    }. Todavía no se apartó nada.
recall-under = **Con una persona encima: { $count }.** Se quedan ahí hasta que enfermería tenga otra superficie para cada una:
recall-under-none = Ninguna tiene una persona encima.
recall-still-under = Todavía con una persona encima: { $tags }.
recall-unit = - { $unit }: { $tags }
recall-preview-foot = "Apartar todas" avisa a las unidades y no se deshace: cada una vuelve sola, con la corrección del fabricante. Compare antes perfil y lote con la carta del fabricante; lo que dice de los residentes va primero.
recall-pulled = Fuera de servicio: { $count }. Todavía con una persona encima: { $under }.
recall-told = Se avisó a las unidades, y a mantenimiento en { $channel }, y a supervisión se le recuerda cada día. Vea cómo va: otra vez `/recall`.
recall-told-no-upkeep = Se avisó a las unidades, y a supervisión se le recuerda cada día. Aquí no hay rol de mantenimiento: avise a quien las separa. Vea cómo va: otra vez `/recall`.
recall-supervisors-pull = Las aparta supervisión. Lea aquí cómo va.
recall-changed = El inventario cambió desde entonces. Mire otra vez:
recall-already = Ya están fuera de servicio.
recall-head = **Retiro { $what }**, desde el { $since }: abiertas { $open } de { $all }
recall-by-unit = { $unit }: { $tags }
recall-is-under = - **Todavía con una persona encima ({ $count })**: { $tags }
recall-is-held = - Retenidas por una investigación ({ $count }): { $tags }
recall-is-waiting = - Esperan la corrección del fabricante ({ $count }): { $tags }
recall-is-corrected = - Corregidas, falta la prueba ({ $count }): { $tags }
recall-is-in-turnover = - En puesta a punto ({ $count }): { $tags }
recall-is-ready = - Listas otra vez ({ $count }): { $tags }
recall-is-retired = - Dadas de baja ({ $count }): { $tags }
recall-over = **Todas llegaron a su fin.** Conteste la carta del fabricante y archívela.
button-recall = Apartar todas ({ $count })
fleet-added-recalled = **{ $tag }** está en el inventario con el perfil { $profile }. **Es de un retiro del mercado, así que queda fuera de servicio enseguida.** Vea `/recall`.
import-recalled = **De un retiro del mercado, y fuera de servicio enseguida:** { $tags }. Si alguna tiene una persona encima, lleve allí otra superficie. Vea `/recall`.

post-recall-unit = **Retiro { $what }.** Fuera de servicio y con una persona encima aquí: { $tags }. Enfermería: prevea otra superficie para cada una, como dice la carta del fabricante.
post-recall = **Retiro { $what }**: fuera de servicio { $count ->
        [one] 1 superficie
       *[other] { $count } superficies
    } ({ $who }). { $under } Mantenimiento: aparten las demás.

fault-recall-none = No hay ninguna superficie de { $what } en el inventario. Si después llega una, escriba `/recall` otra vez.
fault-no-lot = No hay ningún lote "{ $typed }" de este perfil. ¿Quiso decir: { $these }?
fault-no-lots = Ninguna superficie de { $profile } tiene su lote anotado. Deje **lot** vacío para verlas todas.
