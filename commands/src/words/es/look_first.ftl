### What to look at first, by what can be seen, heard, felt or smelled at the bed.

look-head = **{ $surface }** · { $sign }
look-head-any = **{ $sign }**
look-which = ¿Qué ve, oye, siente o huele?
look-raise = **Si hay alguien encima, reporte la alarma ya** y después mire. La lista no avisa a nadie.
look-held = Está retenida por una investigación: **no toque nada.** Atienda a la persona y llame a enfermería.
look-end-none = ¿Nada de esto? **Llame a enfermería. Fuera de servicio,** y traiga una de repuesto.
look-end-now = **Fuera de servicio ya:** nada de esta lista lo arregla. La persona necesita otra superficie.
look-maker = Las instrucciones del fabricante y las normas de su residencia van primero. Nunca abra la unidad de control.
look-in-order = Mire en este orden: { $these }. ¿Nada de esto? Enfermería, una de repuesto, fuera de servicio.
look-stay = **Quédese con la persona. Llame a enfermería y a otra persona.** Mueva a la persona según el plan de cuidados.

## Signs

sign-low-pressure = Suena: presión baja
sign-no-lights = Suena o está apagada: sin luces
sign-soft = Sin sonido, pero blanda o desinflada
sign-hard = Demasiado dura o alta
sign-one-part = Un lado o una parte desinflada
sign-not-alternating = Las celdas ya no cambian
sign-noise = Hace ruido o vibra
sign-fault = El panel muestra una falla
sign-hot = Calor, olor a quemado o humo
sign-wet = Agua o líquido por dentro
sign-not-known = Suena o falla, no se sabe por qué

## Each thing in one or two words, for an alarm's card

look-at-resident = residente
look-at-plug = enchufe
look-at-switch = interruptor
look-at-outlet = otra toma de pared (sin extensión)
look-at-cord = cable
look-at-panel = qué dice el panel
look-at-cpr-valve = válvula de RCP cerrada
look-at-hoses = mangueras puestas y sin dobleces
look-at-mode = modo (¿quedó en estático?)
look-at-setting = ajuste con enfermería
look-at-filter = filtro
look-at-layers = capas
look-at-head-angle = cabecera
look-at-place = dónde cuelga la unidad de control
look-at-leak = una fuga
look-at-unplug = desenchúfela
look-at-fire-plan = plan de incendios
look-at-cover = funda

## Each thing and how it is looked at

look-how-resident = **Residente:** a salvo, y en qué posición está. Si hay duda, llame a enfermería de viva voz.
look-how-plug = **Enchufe:** en la pared y en la unidad de control, hasta el fondo.
look-how-switch = **Interruptor:** encendido.
look-how-outlet = **Toma:** pruebe otra toma de pared. Sin extensión ni regleta de enchufes.
look-how-cord = **Cable:** ¿cortado, aplastado o caliente? No lo toque: fuera de servicio.
look-how-panel = **Panel:** lea lo que dice. Las instrucciones del fabricante explican qué significa.
look-how-cpr-valve = **Válvula de RCP:** cerrada, con su tapa o cinta en su lugar.
look-how-hoses = **Mangueras:** puestas en los dos extremos, sin dobleces, libres del armazón y de la ropa de cama a los pies.
look-how-mode = **Modo:** ¿quedó en estático? En modo alternante cada parte se ablanda por turnos, y no es una falla.
look-how-setting = **Ajuste:** ¿como dice el plan de cuidados? Sin corriente la unidad de control lo olvida. Decide enfermería.
look-how-filter = **Filtro:** ¿tapado? Así le quita el aire a la unidad de control.
look-how-layers = **Capas:** quite lo que el plan de cuidados no pide.
look-how-head-angle = **Cabecera:** ¿levantada? Carga más los glúteos.
look-how-place = **Unidad de control:** cuelga o está nivelada, no toca nada que vibre, no está tapada.
look-how-leak = **Fuga:** escuche y palpe mangueras, válvula y celdas. La que sigue desinflada pierde aire.
look-how-unplug = **Enchufe:** ¿sin humo, sin chispas, nada mojado alrededor? Primero el residente fuera; luego desenchufar de la pared, con las manos secas.
look-how-fire-plan = **Humo, chispas o llama:** el plan de incendios de la residencia, ahora. Primero el residente fuera, el oxígeno lejos. Una bomba en marcha da aire al fuego.
look-how-cover = **Funda:** mire de dónde viene el líquido, también por dentro si el fabricante lo permite.

## Buttons and menus

button-start-alarm = Reportar la alarma
menu-sign = ¿Qué ve o qué oye?

fault-look-old = Esta ficha es de otro turno, así que no se abrió ninguna alarma. ¿Suena ahora? `/alarm surface:{ $tag }`
