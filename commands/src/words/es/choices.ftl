### What people pick from beside each option, in a client of their language. `choice-`, the option's key without
### `option-`, and the word that comes back.

choice-site-buttocks = glúteos
choice-site-hips = caderas
choice-site-shoulders = hombros

choice-position-back-flat = boca arriba, plana
choice-position-back-raised = boca arriba, cabecera alta
choice-position-side = de lado

choice-mode-alternating = alternante
choice-mode-static = estático

choice-alarm-kind-unknown = no se sabe
choice-alarm-kind-low-pressure = presión baja
choice-alarm-kind-power = sin corriente
choice-alarm-kind-high-pressure = presión alta
choice-alarm-kind-fault = falla de la unidad de control

choice-clean-reason-routine = de rutina
choice-clean-reason-soiled = por suciedad
choice-clean-reason-between-residents = entre residentes

choice-method-soap-and-water = agua y jabón
choice-method-quaternary = cuaternario
choice-method-bleach = cloro (lejía)
choice-method-other = otro

choice-cover-intact = entera
choice-cover-stained = manchada
choice-cover-damaged = dañada

choice-finding-clean = limpio
choice-finding-dusty = con polvo
choice-finding-clogged = tapado
choice-finding-damaged = dañado

choice-action-left = se dejó puesto
choice-action-replaced = se cambió
choice-action-rinsed = se enjuagó

choice-release-reason-discharge = alta
choice-release-reason-transfer = traslado
choice-release-reason-surface-change = cambio de superficie
choice-release-reason-other = otro

choice-clean-last-on = sí
choice-clean-last-off = no

choice-leave-why-chair = en el sillón
choice-leave-why-hospital = hospital
choice-leave-why-bed-hold = cama reservada

choice-kind-alternating = alternante
choice-kind-low-air-loss = baja pérdida de aire
choice-kind-both = las dos cosas
choice-kind-static = estática

choice-fleet-kind-alternating = alternante
choice-fleet-kind-low-air-loss = baja pérdida de aire
choice-fleet-kind-both = las dos cosas
choice-fleet-kind-static = estática

choice-fault-control-unit = unidad de control
choice-fault-cord = cable o enchufe
choice-fault-hose = manguera o conector
choice-fault-leak = fuga
choice-fault-cpr-valve = válvula de RCP
choice-fault-filter = filtro
choice-fault-cover = funda dañada
choice-fault-wet-inside = mojada o manchada por dentro
choice-fault-other = otra falla

choice-work-safety-test = prueba de seguridad
choice-work-maintenance = mantenimiento del fabricante

choice-result-passed = pasó
choice-result-failed = no pasó

choice-owned-owned = propia
choice-owned-rented = alquilada
choice-owned-resident = de residente
choice-owned-hospice = de hospicio

choice-state-ready = lista
choice-state-soiled = sucia

choice-import-profiles = perfiles
choice-import-beds = camas
choice-import-surfaces = superficies

choice-export-register = inventario
choice-export-profiles = perfiles
choice-export-wall = hojas para la pared

choice-language-english = inglés
choice-language-spanish = español

choice-rails-none = ninguna
choice-rails-full = completas
choice-rails-split = partidas
choice-rails-half = medias
choice-rails-grip = solo agarradera

choice-outlet-hospital-grade = de hospital
choice-outlet-ordinary = común
choice-outlet-emergency = de emergencia

choice-sporicidal-on = sí
choice-sporicidal-off = no

choice-what-due-list = lista de pendientes
choice-what-handover = relevo
choice-what-summary = resumen
choice-what-weekend = fin de semana

choice-sign-low-pressure = presión baja
choice-sign-no-lights = sin luces
choice-sign-soft = blanda
choice-sign-hard = dura
choice-sign-one-part = una parte
choice-sign-not-alternating = no alterna
choice-sign-noise = ruido
choice-sign-fault = falla
choice-sign-hot = calor
choice-sign-wet = mojada
choice-sign-not-known = no sé
choice-agency-role-aide = auxiliar
choice-agency-role-nurse = enfermería

choice-task-hand-check = comprobación a mano
choice-task-set-up = instalación
choice-task-cleaning = limpieza
choice-task-filter = filtro
choice-task-turnover = puesta a punto

choice-beds-in-posts-yes = sí
choice-beds-in-posts-no = no

choice-unit-take-yes = sí
choice-unit-take-no = no

choice-strike-on = sí
choice-strike-off = no
