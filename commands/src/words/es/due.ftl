### What is due, what the clock posts, handover, summary, suggestions, help.

## Due lists. The names follow right behind each line that ends in a blank.

due-head = **Pendiente ahora, todas las unidades**
due-head-unit = **Pendiente ahora, { $unit }**
shift-head = **Turno nuevo, todas las unidades.** Pendiente ahora:
shift-head-unit = **Turno nuevo, { $unit }.** Pendiente ahora:
due-nothing = No hay nada pendiente. Próximas comprobaciones desde { $at }.
due-alarm = **Alarmas abiertas ({ $count })**, la más antigua { $oldest }:{ " " }
due-still-under = **Fuera de servicio, todavía en una cama ({ $count })**:{ " " }
due-recheck = **Comprobar otra vez ({ $count })**, la primera { $oldest }:{ " " }
due-try-again = **No se pudo comprobar, probar otra vez ({ $count })**, la primera { $oldest }:{ " " }
due-check = **Comprobaciones a mano ({ $count })**:{ " " }
due-filter-old = **Filtros en el límite del fabricante ({ $count })**:{ " " }
due-filter-look = **Filtros por mirar ({ $count })**:{ " " }
due-turnover = **Puestas a punto por terminar ({ $count })**:{ " " }
due-repair = **Esperan reparación ({ $count })**:{ " " }
due-gap-over = **Huecos sobre el límite, actúe ya ({ $count })**:{ " " }
due-steps = **Instalaciones por terminar ({ $count })**:{ " " }
due-static-over = **Todavía en modo estático ({ $count })**, desde { $oldest }:{ " " }
due-leave-over = **¿De vuelta en la cama? ({ $count })**:{ " " }
due-safety-test = **Pruebas de seguridad ({ $count })**:{ " " }
due-maintenance = **Mantenimiento del fabricante ({ $count })**:{ " " }
due-outlet-test = **Tomas de pared por probar ({ $count })**:{ " " }
due-paper-missing = **En uso sin un documento ({ $count })**:{ " " }
due-held = **Retenidas por una investigación ({ $count })**:{ " " }
due-idle = **Alquiladas y sin usar ({ $count })**:{ " " }
due-pickup = **Recogidas por confirmar o por venir ({ $count })**:{ " " }
due-clean-last = { $surface } (limpiar al final, solo esporicida)
due-more = { " " }y { $count } más
due-alarm-short = alarma abierta
due-still-under-short = necesita otra superficie
due-recheck-short = comprobar otra vez
due-try-again-short = probar otra vez
due-check-short = comprobar a mano
due-filter-old-short = cambiar el filtro
due-filter-look-short = mirar el filtro
due-turnover-short = terminar puesta a punto
due-repair-short = espera reparación
due-gap-over-short = hueco sobre el límite
due-steps-short = terminar la instalación
due-static-over-short = sigue en modo estático
due-leave-over-short = ¿de vuelta en la cama?
due-safety-test-short = toca prueba de seguridad
due-maintenance-short = toca mantenimiento
due-outlet-test-short = probar la toma
due-paper-missing-short = falta un documento
due-held-short = retenida (investigación)
due-idle-short = alquilada y sin usar
due-pickup-short = confirmar la recogida

slot-late = Tarde: esto era para { $at }.

post-recheck = **{ $surface }**: toca comprobar otra vez. ¿Cuánto aire hay debajo de la persona?
post-try-again = **{ $surface }**: antes no se pudo comprobar. Pruebe ahora, por favor. ¿Cuánto aire hay debajo de la persona?
post-undelivered = No se pudo publicar un aviso en { $channel }: allí no se ha avisado a nadie. Mire `/due` ahora y avíseles por teléfono. Quien administra este chat: deje que loftwatch vuelva a ver y escribir allí.
post-away = loftwatch estuvo ausente de { $from } a { $to } y en ese tiempo no avisó a nadie. Miren `/due` ahora, por favor. Lo que se escribió en papel: anótenlo con la opción **when**.

## Handover and summary

handover-head = **Relevo, todas las unidades**
handover-head-unit = **Relevo, { $unit }**
handover-alarm = - **{ $surface }**: alarma abierta hace { $minutes } min, { $taken }
handover-taken = la atiende { $who }
handover-not-taken = **nadie la ha tomado**
handover-recheck = - **{ $surface }**: bajo o alto, comprobar otra vez { $at }
handover-unchecked = - **{ $surface }**: no se pudo comprobar, probar otra vez { $at }
handover-still-under = - Fuera de servicio y todavía en una cama ({ $count }): { $tags }
handover-check = - Comprobaciones sin hacer en este turno: { $count }
handover-filter-old = - Filtros en el límite del fabricante: { $count }
handover-filter-look = - Filtros por mirar: { $count }
handover-turnover = - Puestas a punto por terminar: { $count }
handover-repair = - Esperan reparación ({ $count }): { $tags }
handover-gap-over = - Huecos sobre el límite: { $count }
handover-gap-beds = - Huecos sobre el límite en camas sin superficie ({ $count }): cama { $beds }. Mida otra vez antes de poner una: `/zones`
handover-gap-empty = - Huecos sobre el límite en camas sin superficie: { $count }. Supervisión lee cuáles.
handover-steps = - Instalaciones por terminar: { $count }
handover-static-over = - Todavía en modo estático: { $count }
handover-leave-over = - Ausencias que debían terminar: { $count }
handover-safety-test = - Pruebas de seguridad pendientes: { $count }
handover-maintenance = - Mantenimiento del fabricante pendiente: { $count }
handover-outlet-test = - Tomas de pared por probar: { $count }
handover-paper-missing = - **{ $surface }**: en uso sin su documento ({ $missing })
handover-held = - Retenidas por una investigación ({ $count }): { $tags }
handover-idle = - Alquiladas y sin usar: { $count }
handover-pickup = - Recogidas por confirmar o por venir: { $count }
handover-turnover-late = - Puestas a punto que ya llevan más de { $hours } h: { $count }
handover-clean-last = - Limpiar al final, solo esporicida: { $tags }
handover-more = { $tags } y { $count } más
handover-nothing = Nada abierto y nada atrasado.

summary-head = **Resumen, todas las unidades**
summary-head-unit = **Resumen, { $unit }**
summary-figures = Comprobadas en este turno: { $checked } de { $placed } colocadas
    Listas { $ready } · sucias { $soiled } · fuera de servicio { $out }
    Alarmas abiertas: { $alarms }

## Suggestions while somebody types

suggest-why = { $surface }: { $why }
suggest-alarm = alarma abierta, { $minutes } min
suggest-bed = { $bed }, { $unit }
suggest-policy = { $name }, ahora { $value }

## Help

help-head-aide = **Qué puede hacer.** Empiece con `/round` o `/due`. Si algo suena: `/alarm`.
help-head-nurse = **Qué puede hacer.** `/due` muestra lo que espera; `/place` y `/release` mueven superficies. Los ajustes los decide usted.
help-head-supervisor = **Qué puede hacer.** `/due` muestra lo atrasado, `/fleet list` las superficies, `/facility show` las normas.
help-head-upkeep = **Qué puede hacer.** `/due` muestra puestas a punto, reparaciones, pruebas y filtros. Después `/clean`, `/filter`, `/return` y `/service`.
help-head-admin = **Qué puede hacer.** Empiece con `/facility setup`; después `/facility unit` y `/fleet import`. Los límites clínicos necesitan a supervisión.
help-line = `/{ $path }` { $about }
help-others = También: { $names }
help-option = - `{ $name }`: { $about }
help-option-may = - `{ $name }` (se puede omitir): { $about }
help-foot = Más: `/help topic:alarm`. El plan de cuidados, las normas y el fabricante van primero.
help-unknown = No tengo ningún comando "{ $topic }". Escriba `/help` para verlos todos.
help-not-set-up = loftwatch todavía no está configurado aquí. Quien administra este chat escribe `/facility setup`.
help-no-role = Todavía no conozco su rol aquí. Pida a supervisión el rol del chat de auxiliar, enfermería, supervisión o mantenimiento.

mention = Leo comandos, no mensajes, y no se anotó nada. Pruebe `/handcheck`, `/alarm` o `/due`. `/help` muestra lo demás.
mention-files = Solo acepto archivos con `/fleet import`, y no se anotó nada. Si el archivo muestra a una persona o un nombre, borre su mensaje, por favor.
