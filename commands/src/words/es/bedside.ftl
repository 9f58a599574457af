### At the bed: the checklist of a set-up, the setting, moves, leaves, static mode, the CPR valve.

## The checklist

steps-head-placed = **{ $surface }**: instalación
steps-head-moved = **{ $surface }**: después de moverla
steps-head-cpr = **{ $surface }**: después de abrir la válvula de RCP
steps-head-power = **{ $surface }**: después del corte de luz
steps-done = - Hecho: { $what } ({ $who }, { $at })
steps-some = { $part }, { $count } de { $all }
steps-not-right = - **No está bien:** { $what } ({ $who }, { $at })
steps-only-missed = Solo queda lo que no está bien: corríjalo y elíjalo después en **Ya está bien**.
steps-setting = { $what }: **{ $setting }**
steps-now = **Ahora: { $part }**
steps-maker = Las instrucciones del fabricante van primero.
steps-maker-empty = Todavía sin nadie encima. Las instrucciones del fabricante van primero.
steps-fill-lowest = Se llena sin nadie encima, **primero con el ajuste más bajo**. Súbalo después, según el plan de cuidados o la orden.
steps-fill-highest = Se llena sin nadie encima, **primero con el ajuste más alto**. Bájelo después, según el plan de cuidados o la orden.
steps-refill = Deje que se llene otra vez según las instrucciones del fabricante, sin nadie encima si es posible.
steps-full-at = Debería estar llena: { $at }. Entonces se avisa a la unidad.
steps-full-since = Ya debería estar llena, desde las { $at }.
steps-setting-nurse = El ajuste lo dice enfermería: avise ya a enfermería. Está en la lista de pendientes.
steps-rails-nurse = Después enfermería revisa otra vez barandillas y huecos.
steps-hand = Una mano debajo de la superficie, bajo las caderas. Solo cuenta una comprobación adecuada, y no prueba que haya seguridad.
steps-look = El fabricante pide mirar y palpar, no meter la mano debajo. Solo cuenta una comprobación adecuada, y no prueba que haya seguridad.
steps-rails = Otra superficie, otro lugar u otra altura cambian los huecos. Mírelos todos otra vez y mida si hay duda: `/zones`. Un hueco demasiado ancho: actúe ya y llame a enfermería.
steps-unplugged = Estuvo desenchufada { $span }.
steps-unplugged-long = Estuvo desenchufada { $span } y según su perfil mantiene el aire { $holds } min: **mire primero si hay aire debajo de la persona.**
steps-complete = **{ $surface }**: todo está hecho.
steps-complete-caution = Los cambios de posición, la revisión de la piel y la próxima comprobación siguen como estaban previstos.
steps-complete-already = **{ $surface }**: toda esta lista ya está hecha.
steps-stale = **{ $surface }**: su ficha era de una lista anterior, así que no se anotó nada. Esta es la de ahora:
steps-done-already = Ya estaba hecho: { $part } ({ $who }, { $at }).
steps-missed = **No está bien:** { $step }. Corríjalo y elíjalo después en **Ya está bien**.
steps-check-done = Lista: la comprobación está hecha. Falta: { $left }.
steps-check-last = Lista: con esta comprobación todo está hecho.
steps-check-early = Queda anotada. Cuenta aquí en cuanto esto esté hecho: { $first }. Solo un cambio de ajuste o de llenado pide otra comprobación.
steps-check-counts = La comprobación de { $at } ({ $who }) cuenta.

stage-empty = antes de llenarla
stage-plugged = enchufada otra vez
stage-full = llena sin nadie encima
stage-refilled = llena otra vez
stage-setting = el ajuste
stage-rest = con la persona encima
stage-check = la comprobación
stage-rails = barandillas y huecos

step-brakes = frenos puestos
step-frame-fits = encaja en el armazón, sin hueco en los extremos
step-hoses = mangueras libres, a los pies de la cama
step-straps = correas solo a partes que se mueven con ella
step-hung = unidad de control colgada o a nivel
step-outlet = toma de pared y sin extensión
step-connector = conector de la manguera bien puesto
step-valve = válvula de RCP cerrada
step-plugged = enchufada y en marcha
step-full = llena sin nadie encima
step-setting = ajuste según plan de cuidados u orden
step-settled = asentada debajo de la persona
step-linen = pocas capas de ropa de cama
step-audible = alarma encendida y se oye en el pasillo
step-locked = panel bloqueado
step-check = comprobación adecuada
step-rails = barandillas y huecos revisados otra vez

button-all-done = Todo hecho
button-plugged = Enchufada y en marcha
button-full = Llena, nadie encima
button-refilled = Llena otra vez
button-full-already = Ya está llena
steps-full-already = **{ $surface }**: todavía sin anotar. Según su perfil tarda { $minutes } min en llenarse, y empezó a las { $at }. ¿Ya está llena?
button-rails = Barandillas y huecos vistos
button-steps = Ficha de instalación
button-minutes = Corregir los minutos
menu-step-missed = Algo no está bien…
menu-step-right = Ya está bien…

form-minutes-title = Desenchufada: { $tag }
form-minutes = Minutos sin corriente
form-minutes-hint = 12

post-plugged = **{ $surface }**: enchufada y en marcha. { $who }, { $at }
post-full = **{ $surface }**: llena. { $who }, { $at }
post-steps-complete-unit = **{ $unit }**: todo está visto después del corte de luz, { $at }.
post-steps-complete = **{ $surface }**: lista terminada. { $who }, { $at }
post-fill-over = **{ $surface }**: ya debería estar llena. Mire sin nadie encima.
post-refill-over = **{ $surface }**: ya debería estar llena otra vez. Mírela.
post-plug-over = **{ $surface }**: se movió hace { $span }. ¿Está enchufada y en marcha? Sin corriente pierde el aire.
post-steps-open-unit = **{ $unit }**, después del corte de luz, falta por hacer en { $count ->
        [one] 1 superficie
       *[other] { $count } superficies
    }:
post-steps-open-line = - **{ $surface }**: { $left }
post-steps-open = **{ $surface }**: falta por hacer: { $left }.

fault-steps-none = No queda nada por hacer en una lista de { $surface }. Vea `/surface`.
fault-steps-order = No se anotó nada de { $surface }. Primero: { $first }.
fault-steps-not-right = Todavía no está bien en { $surface }: { $steps }. Corríjalo y elíjalo después en **Ya está bien**.
fault-minutes = ¿Cuántos minutos? Escriba un número entero hasta { $most }, por ejemplo 12.

surface-steps = **Instalación sin terminar.** Falta: { $left }
surface-steps-power = **Estuvo sin corriente y desde entonces no se ha mirado todo.** Falta: { $left }

## The setting

setting-in-use = Ajuste en uso: **{ $setting }** ({ $who }, { $at })
setting-none = Ajuste: no hay ninguno anotado desde que se colocó.
setting-table = La tabla del fabricante, como la escribió su residencia: { $rows }. Deciden el plan de cuidados, la orden o enfermería, no esta tabla.
setting-row = hasta { $most } lb: **{ $setting }**
setting-entry = la tabla del fabricante: hasta { $most } lb
setting-no-table = Su perfil no tiene tabla de ajustes. Vea las instrucciones del fabricante; deciden el plan de cuidados, la orden o enfermería.
setting-how = Para anotar uno: `/setting surface:{ $tag } set:` y lo que muestra el panel.
setting-set = **{ $surface }**: ajuste **{ $setting }** anotado.
setting-before = Antes: { $setting }.
setting-not-listed = Todavía sin anotar: **{ $setting }** no está en la tabla del fabricante. Mire otra vez el panel y elija lo que muestra:
setting-next = En la tabla del fabricante: { $below } por debajo, { $above } por encima.
setting-none-next = nada
button-setting-shown = El panel muestra { $setting }
setting-early = La instalación volverá a pedir el ajuste cuando la superficie esté llena.
setting-caution = Cuál debe ser lo dicen el plan de cuidados, la orden o enfermería.
setting-check = Deje que se asiente y compruebe el aire debajo de la persona:

button-setting-same = Sigue en { $setting }
button-setting-type = Escribir el ajuste
menu-setting = El ajuste que muestra el panel…
form-setting-title = Ajuste: { $tag }
form-setting = Lo que muestra el panel
form-setting-hint = 4, soft. Nunca un peso

fault-setting = No entiendo este ajuste. Escriba lo que muestra el panel, por ejemplo 4 o soft.
fault-setting-weight = No se anotó nada: esto parece un peso. Escriba lo que muestra el panel, por ejemplo 4 o soft. Aquí no se guarda ningún peso.

## Moves and swaps

moved = **{ $surface }**: movida de la cama { $from } con la persona encima. Desenchufe al final, llévela a nivel y con el cable sin tocar el suelo. Al llegar, enchufe primero: se avisa a la unidad después de { $minutes } min.
swapped = Cama { $bed }: **{ $new }** toma el lugar de **{ $old }**. Mueva a la persona según el plan de cuidados, nunca tirando de la superficie.
swap-ask = Todavía sin anotar: **{ $tag }** no encaja del todo en la cama { $bed }.
swap-ask-caution = Deciden el plan de cuidados, la orden o enfermería. ¿Otra, o esta de todos modos?
button-swap-sure = Cambiarla de todos modos
misfit-kind = { $tag } es { $kind }; { $old } es { $other }.
misfit-capacity = { $tag } soporta { $capacity } lb según su perfil, { $old } { $least } lb.
spare-ready = Lista y encaja: { $these }.
spare-one = **{ $tag }** ({ $about })
spare-misfit = no encaja del todo
spare-none = Ninguna lista encaja con seguridad: busque con `/match` la próxima.
surface-instead = Tomó el lugar de { $tag }
surface-replaced = Su lugar lo tomó { $surface }

fault-move-same = { $tag } ya está en la cama { $bed }. Elija la cama a la que va.
fault-out-still-under = { $surface } está fuera de servicio y la persona sigue encima. Ponga una lista en su lugar con `/swap`.
fault-swap-empty = En la cama { $bed } no hay ninguna superficie. Escriba `/place surface:{ $tag } bed:{ $bed }`.
fault-swap-same = { $tag } es la que está en la cama { $bed }. Elija la superficie lista que llega.

## Leaves

leave-chair = en el sillón
leave-hospital = en el hospital
leave-bed-hold = cama reservada
leave-began = **{ $surface }**: cama vacía hasta el { $until } ({ $why }). Hasta entonces no se pide ninguna comprobación; después cuenta otra vez como ocupada. Déjela en marcha, salvo que enfermería diga otra cosa.
leave-instead = Esto reemplaza lo que se dijo antes: vacía hasta el { $until } ({ $why }).
leave-back = **{ $surface }**: de vuelta en la cama.
leave-back-check = Ahora toca una comprobación:
leave-ended = Su ausencia terminó: la cama cuenta otra vez como ocupada.
surface-away = **Cama vacía** hasta el { $until }: { $why }
surface-away-over = **¿De vuelta en la cama?** Iba a estar vacía hasta el { $until }: { $why }
longer-1h = 1 hora más
longer-4h = 4 horas más
longer-tomorrow = hasta mañana al mediodía
longer-3d = 3 días más
button-back = De vuelta en la cama
button-gone = Se fue del todo
menu-still-away = Sigue fuera…

post-leave-over = **{ $surface }**: la cama iba a estar vacía hasta ahora ({ $why }). ¿De vuelta en la cama? Mientras nadie lo diga, cuenta como ocupada.
post-still-away = **{ $surface }**: la cama sigue vacía hasta el { $until }. { $who }
post-back = **{ $surface }**: de vuelta en la cama. { $who }, { $at }
post-gone = **{ $surface }**: se quitó de la cama. { $who }

fault-leave-no-surface = En la cama { $bed } no hay ninguna superficie, así que no hay nada que anotar.
fault-leave-chair = En el sillón: { $most } horas como máximo. Escriba una hora más cercana, o elija hospital o cama reservada.
fault-leave-why = Más de { $most } horas: diga por qué; elija en **why** hospital o cama reservada.
fault-leave-long = Serían más de { $most } días en total. Si nadie vuelve a ella: `/release`.
fault-leave-over = Esa ausencia de { $surface } ya terminó. No se anotó nada.
fault-until-hours = ¿Hasta cuándo? Escriba 15:30, 45 min o 2 h.
fault-until-shape = ¿Hasta cuándo? Escriba 15:30, 2 h, mañana 10:00 o 3 días.
fault-until-unit = ¿Horas o minutos? Escriba 2 h, 45 min o 15:30.
fault-until-past = { $at } ya pasó. Escriba una hora que esté por venir, por ejemplo 15:30 o 2 h.
fault-until-far = Falta demasiado para eso. Escriba a más tardar { $latest }.

## Static mode

static-began = **{ $surface }**: modo estático hasta las { $until }. Quieta no alivia por turnos: cambie de posición a la persona como está previsto. Se avisará a la unidad para volver al modo alternante.
static-over = **{ $surface }**: otra vez alternante. Mire el panel: ¿sigue bien el ajuste? Cambios de posición y revisión de la piel según el plan de cuidados.
surface-static = **Modo estático** hasta las { $until }
button-alternating = Otra vez alternante

post-static-over = **{ $surface }**: en modo estático desde las { $at }, y su tiempo terminó. Vuelvan a ponerla en alternante, por favor.
post-static-longer = **{ $surface }**: modo estático hasta las { $until }. { $who }
post-alternating = **{ $surface }**: otra vez alternante. { $who }, { $at }

fault-static-kind = { $surface } no es alternante, según su perfil { $profile }. No hay nada que dejar quieto.
fault-static-over = { $surface } ya no está en modo estático. No se anotó nada.

## The CPR valve

cpr-opened = **{ $surface }**: válvula de RCP abierta. No pregunto nada y no aviso a nadie por esto.
cpr-open = **{ $surface }**: válvula de RCP abierta desde las { $at } ({ $who }).
cpr-alarm = Su alarma es de esperar, así que no se abrió ninguna y no se avisa a nadie. Si necesita ayuda, pídala de viva voz. Cuando termine:
cpr-over-gone = Si ya no hay nadie encima: `/release`.
cpr-over-out = **{ $surface }**: está fuera de servicio, así que no sigue ninguna lista. La persona necesita otra superficie: `/swap`.
surface-cpr = **Válvula de RCP abierta** desde las { $at }
button-cpr-over = Ya terminó

post-cpr-open = **{ $surface }**: su válvula de RCP se abrió hace { $span }. ¿Ya terminó? Entonces hay que dejar bien la válvula, el aire y el ajuste.
post-cpr-forgotten = **{ $surface }**: su válvula de RCP se abrió hace { $span } y nadie ha dicho que terminó. Con ella abierta no hay aire debajo de quien esté acostado: miren ahora. Desde este momento sus alarmas avisan como siempre.
post-cpr-over = **{ $surface }**: la emergencia terminó y se está atendiendo la válvula. { $who }, { $at }

fault-cpr-open = La válvula de RCP de { $surface } está abierta, así que no se anotó nada. Cuando termine: toque **Ya terminó**, o escriba `/cpr surface:{ $tag }`.
fault-cpr-over = { $surface }: ya no hay ninguna válvula de RCP anotada como abierta. No se anotó nada.
