### Setting up a home: channels, roles, units, schedules, the ladder, policies.

facility-set = Fijado: zona horaria { $zone }, cuidados en { $care }, supervisión en { $supervisor }.
    Los avisos muestran etiquetas, no camas, hasta que su responsable de privacidad apruebe las camas en el chat. Entonces: `/facility policy name:beds-in-posts value:yes`
facility-first-schedules = Desde ahora se publica: la lista de pendientes a las 07:00, 15:00 y 23:00, el relevo 15 minutos antes, y los viernes a las 12:00 lo que está listo para el fin de semana. Se cambia con `/facility schedule`.
facility-next-units = Siguen las unidades y sus camas: `/facility unit name:Elm beds:101-112, 114A`. Después las superficies: `/fleet add` o `/fleet import`.
facility-set-again = Unidades, camas, horarios y normas quedan como estaban. Para ver todo: `/facility show`

unit-set = Unidad **{ $unit }**: { $count ->
        [one] 1 cama
       *[other] { $count } camas
    } ({ $beds }). Sus avisos van a { $channel }.
all-units = todas las unidades

what-due-list = lista de pendientes
what-handover = relevo
what-summary = resumen
what-weekend = listo para el fin de semana
schedule-set = Se publica: { $what }, { $unit }, { $when }.
    Las cinco próximas: { $five }

# A pattern as it is read; it reads back as the same pattern.
pattern-daily = cada día
pattern-weekdays = días laborables
pattern-weekends = fines de semana
pattern-monday = lunes
pattern-tuesday = martes
pattern-wednesday = miércoles
pattern-thursday = jueves
pattern-friday = viernes
pattern-saturday = sábado
pattern-sunday = domingo
pattern-every = cada { $hours }h desde las { $time }

# Minutes after the opening, in the order in which people are called.
ladder-words = auxiliares enseguida, auxiliares y enfermería a los { $first } min, enfermería y supervisión a los { $second } min, todos a los { $third } min y después cada { $repeat } min
ladder-set = Fijado. Mientras nadie tome una alarma: auxiliares enseguida, auxiliares y enfermería a los { $first } min, enfermería y supervisión a los { $second } min, todos a los { $third } min y después cada { $repeat } min.
ladder-waits = Mientras nadie tome una alarma debe ser: auxiliares enseguida, auxiliares y enfermería a los { $first } min, enfermería y supervisión a los { $second } min, todos a los { $third } min y después cada { $repeat } min. Antes debe estar de acuerdo supervisión: ya se le preguntó, y hasta entonces vale la escala anterior.
ladder-agreed = { $who } está de acuerdo.
post-ladder-asked = **Escala de avisos**: { $who } pide otra: { $wished }. Ahora es: { $now }.
    Es una norma clínica. Dé su acuerdo solo si encaja con las normas de su residencia. Hasta entonces vale la anterior.

policy-set = **{ $name }** es desde ahora { $value }. { $meaning }.
policy-waits = **{ $name }** debe ser { $value }. { $meaning }. Antes debe estar de acuerdo supervisión: ya se le preguntó, y hasta entonces vale el valor anterior.
policy-agreed = **{ $name }** es desde ahora { $value }. { $who } está de acuerdo.
post-policy-asked = **{ $name }**: { $who } pide fijarlo en **{ $value }** (ahora { $now }). { $meaning }.
    Es una norma clínica. Dé su acuerdo solo si encaja con las normas de su residencia y las instrucciones de los fabricantes. Hasta entonces vale el valor anterior.

policy-air-low = Menos aire que esto es bajo, salvo que el perfil de la superficie diga otra cosa
policy-air-high = Más aire que esto es alto, salvo que el perfil de la superficie diga otra cosa
policy-recheck = Cuándo se comprueba otra vez una lectura baja o alta
policy-try-again = Cuándo se prueba otra vez una comprobación que no se pudo hacer
policy-layers-most = Más capas que estas entre la persona y la superficie son demasiadas
policy-safe-within = Plazo desde "Ya voy" para decir que la persona está a salvo
policy-fix-within = Plazo desde "Ya voy" para resolver la alarma
policy-shift-start = Cuándo empieza el primer turno del día
policy-shift-hours = Cuánto dura un turno
policy-turnover-hours = Plazo para que una superficie quitada de la cama esté lista otra vez
policy-away-after = Cuánto puede estar ausente loftwatch antes de avisar a supervisión
policy-set-up-within = Plazo para terminar una lista junto a la cama antes de avisar a alguien
policy-unplugged-most = Cuánto puede estar desenchufada una superficie al moverla, si su perfil no dice menos
policy-static-most = Cuánto puede durar el modo estático
policy-cpr-quiet = Cuánto después de abrir la válvula de RCP se avisa una vez a enfermería
policy-setting-by-aides = Si los auxiliares pueden cambiar un ajuste. Normalmente solo enfermería
policy-roll-again = Cuánto después de un recuento terminado empieza el próximo mientras una unidad no tiene corriente
policy-rental-day = Lo que cuesta por día alquilar una superficie, para `/match`. 0.00 es que no se sabe
policy-beds-in-posts = Si los avisos muestran camas además de etiquetas. Pregunte antes a su responsable de privacidad
policy-safety-test-months = Cuánto después de una prueba de seguridad toca la próxima, si nadie puso un día
policy-outlet-test-months = Cuánto después de su prueba se vuelve a probar una toma común junto a una cama
policy-office-from = Desde cuándo en un día laborable hay alguien que da sus documentos a una superficie
policy-office-to = Hasta cuándo en un día laborable hay alguien que da sus documentos a una superficie
policy-idle-hours = Cuánto puede estar una superficie alquilada fuera de una cama antes de avisar a supervisión
policy-order-days = Cuánto tarda una entrega desde el pedido
policy-order-service = En cuántas de 100 entregas el estante no debe quedar vacío antes

show-head = **Zona horaria** { $zone } (datos de zonas { $data }) · **cuidados** { $care } · **supervisión** { $supervisor }
show-role = - Rol { $role }: { $chat }
show-unit = - Unidad **{ $unit }**: { $beds }
show-ladder = **Mientras nadie tome una alarma:** auxiliares enseguida, auxiliares y enfermería a los { $first } min, enfermería y supervisión a los { $second } min, todos a los { $third } min, después cada { $repeat } min
show-schedule = - { $what }, { $unit }: { $when }
show-policies = **Normas**, se cambian con `/facility policy`:
show-policy = - { $name }: { $value }
show-policies-usual = - { $count } con su valor usual. Cada una se ve al escribir `/facility policy`.
show-policy-set = - { $name }: **{ $value }** (usual: { $default })
# Stands right behind a line of show-policy.
show-policy-asked = { " " }· se pidió: { $value }, espera a supervisión
