### La página de un informe: sus partes, los títulos de sus tablas, lo que va en sus celdas.

report-title = Pruebas: del { $first } al { $last }
report-made = Hecho para { $who } el { $at }, hora de la residencia ({ $zone }).
report-what = Sacado del historial de la propia residencia sobre sus superficies de aire, como están ahora las anotaciones: las corregidas, ya corregidas; las deshechas, fuera y listadas al final. Una lectura es un momento y no prueba que sea seguro. Trate esta página como un expediente.
report-beds = Se nombran camas: la residencia lo ha aprobado.
report-no-beds = No se nombran camas: la residencia no lo ha aprobado. Las superficies figuran por su etiqueta y la unidad en que estaban.

report-h-short = En resumen
report-h-asked = Lo que se suele pedir, y dónde está
report-h-checks = Comprobaciones hechas a tiempo
report-h-missing = Comprobaciones sin anotar
report-h-lows = Lecturas bajas y lo que siguió
report-h-alarms = Alarmas: cuánto duraron
report-h-each-alarm = Cada alarma
report-h-register = Inventario de superficies, como está ahora
report-h-set-ups = Instalación en cada cama, y barandillas vueltas a mirar
report-h-beds = Camas, barandillas y sus huecos, como están ahora
report-h-zones = Huecos medidos en estos días
report-h-outs = Fuera de servicio y de vuelta
report-h-services = Reparaciones, pruebas y mantenimiento
report-h-turns = Puestas a punto entre residentes
report-h-cleanings = Limpiezas
report-h-filters = Filtros
report-h-holds = Retenidas para una investigación
report-h-recalls = Retiros del mercado
report-h-outages = Cortes de luz
report-h-away = loftwatch ausente
report-h-overrides = Colocadas sin un papel, con el motivo
report-h-sign-offs = Autorizaciones
report-h-settings = Ajustes de la residencia cambiados en este periodo
report-h-corrected = Corregidas, comentadas, con visto bueno o deshechas
report-h-method = Cómo se calculó
report-h-seal = Sello del historial

report-asked-how = Según normas federales de los Estados Unidos. Por cuáles se guía la inspección, y qué más pide el estado, lo sabe la residencia.
report-ask-skin = Cuidado contra las lesiones por presión (42 CFR 483.25(b)(1))
report-ask-hazards = Peligros y vigilancia (42 CFR 483.25(d))
report-ask-equipment = Equipo en buen estado (42 CFR 483.90(d)(2))
report-ask-beds = Camas, superficies y barandillas miradas juntas (42 CFR 483.90(d)(3), 483.25(n))
report-ask-infection = Limpieza entre residentes (42 CFR 483.80(a))
report-ask-staff = Quién puede hacer qué sin que nadie mire
report-ask-injury = Daño con un aparato, y su aviso (21 CFR 803.30)
report-ask-absent = Lo que no se anotó, o se hizo sin ello
report-ask-true = Hasta dónde se puede fiar uno de esta página

report-none = Nada anotado en estos días.
report-table-left = { $count ->
        [one] La línea más antigua no está
       *[other] Las { $count } líneas más antiguas no están
    } aquí; el archivo de filas tiene las que admite el chat.
report-all = Todo junto
report-not-on-record = no consta
report-was-away = loftwatch no estuvo
report-approved-all = ningún perfil nombrado
report-gap-open = sin actuar
report-gap-acted = se actuó el { $at }
report-gap-none = ninguna
report-still-open = todavía no
report-still-held = sigue retenida
report-cause-none = sin nombrar
report-unit-none = Sin unidad
report-by-cause = Causa: { $cause }
report-by-unit = Unidad: { $unit }
report-by-shift = Turno desde las { $shift }
report-after = a los { $after }: { $what }
report-alarm-no = alarma #{ $no }
report-released = quitada de la cama
report-nothing-yet = nada anotado
report-placed = colocada
report-moved = trasladada con la persona
report-no-list = sin lista
report-complete-after = a los { $after }
report-done-of = { $done } de { $of }
report-rails-not-wanted = sin barandillas
report-went-out = interrumpida, fuera de servicio: { $why }
report-went-for-good = interrumpida, ya no está en la residencia
report-went-into-use = colocada; no consta lista
report-life-placed = en uso, { $at }
report-life-soiled = por poner a punto
report-life-ready = lista
report-filters-clean = Mirados, limpios y dejados como estaban: { $count }. Los demás:
report-turn-times = Desde que se quitó hasta lista: { $spread }.
report-seal = La anotación más nueva al hacer esta página es la #{ $no }. Su suma, que vale también por todas las anteriores:
report-seal-how = Para comprobarlo: `loftwatch verify --record { $no }`, sobre el archivo de la residencia, debe decir que está entero y dar esta misma suma. Cualquier anotación cambiada, añadida o quitada desde entonces la cambiaría.
report-seal-none = El sello del historial no estaba a mano.

report-col-entry = Anotación
report-col-when = Cuándo
report-col-began = Empezó
report-col-from = Desde
report-col-until = Hasta
report-col-lasted = Duró
report-col-day = Día
report-col-which = Cuáles
report-col-bed = Cama
report-col-beds = Camas
report-col-rails-of = Barandillas
report-col-approved = Aprobada para
report-col-measured-ever = Huecos medidos alguna vez
report-col-measured-last = Huecos medidos por última vez
report-col-measured = Medidos en estos días
report-col-gap-over = Sobre el límite, zonas
report-col-surface = Superficie
report-col-surfaces = Superficies
report-col-profile = Perfil
report-col-lot = Lote
report-col-serial = Serie, lote
report-col-state = Estado
report-col-in-service = En servicio desde
report-col-safety-test = Prueba de seguridad
report-col-maintenance = Mantenimiento
report-col-filter-look = Filtro mirado
report-col-filter-new = Filtro cambiado
report-col-cleaned = Limpiada
report-col-part = Unidad y turno
report-col-on-time = A tiempo
report-col-made = Hechas
report-col-could-not = No se pudo
report-col-missing = Sin anotar
report-col-away = De ellas, ausente
report-col-group = Cuáles
report-col-alarms = Alarmas
report-col-open = Sin terminar
report-col-taken = En camino
report-col-safe = Residente a salvo
report-col-over = Terminada
report-col-taken-after = En camino a los
report-col-safe-after = A salvo a los
report-col-over-after = Terminada a los
report-col-what = Qué
report-col-cause = Causa
report-col-called = Avisos
report-col-reading = Lectura
report-col-role = Función
report-col-followed = Lo que siguió
report-col-how = Cómo
report-col-complete = Lista
report-col-left = Quedó en ella
report-col-rails = Barandillas y huecos
report-col-fault = Por qué
report-col-why = Por qué
report-col-repaired = Reparada
report-col-tested = Prueba de seguridad
report-col-returned = Readmitida
report-col-ready = Lista
report-col-ready-after = Tardó
report-col-cleaned-with = Limpiada con
report-col-reported = Anotado como comunicado
report-col-released = Liberada
report-col-unit = Unidad
report-col-looked-at = Miradas
report-col-task = Tarea
report-col-current = Vigentes
report-col-lapsed = Vencidas
report-col-was = Era
report-col-set-to = Pasó a
report-col-agreed = Con el acuerdo de

## Settings that were changed

report-set = { $what }: { $from } → { $to }
report-set-agreed = { $what } (a petición de { $asker }, con el acuerdo de { $who })
report-agreed-none = no hace falta
report-set-none = sin fijar
report-set-usual = { $value }, lo habitual
report-set-one = uno
report-set-another = otro
report-set-up = Residencia dada de alta; zona horaria
report-set-role = Rol del chat: { $role }
report-set-channel-of = { $what }, su canal
report-set-product = Desinfectante { $name }
report-set-not-same = { $what }, no las mismas
report-set-beds = { $count ->
        [one] 1 cama
       *[other] { $count } camas
    }
report-set-frame = Armazón: camas { $beds }
report-set-frames = { $count ->
        [one] Armazón de 1 cama
       *[other] Armazones de { $count } camas
    }
