### What people pick from beside each option, in a client of their language. `choice-`, the option's key without
### `option-`, and the word that comes back. In English the two are the same, because there they are also typed.

choice-site-buttocks = buttocks
choice-site-hips = hips
choice-site-shoulders = shoulders

choice-position-back-flat = back-flat
choice-position-back-raised = back-raised
choice-position-side = side

choice-mode-alternating = alternating
choice-mode-static = static

choice-alarm-kind-unknown = unknown
choice-alarm-kind-low-pressure = low-pressure
choice-alarm-kind-power = power
choice-alarm-kind-high-pressure = high-pressure
choice-alarm-kind-fault = fault

choice-clean-reason-routine = routine
choice-clean-reason-soiled = soiled
choice-clean-reason-between-residents = between-residents

choice-method-soap-and-water = soap-and-water
choice-method-quaternary = quaternary
choice-method-bleach = bleach
choice-method-other = other

choice-cover-intact = intact
choice-cover-stained = stained
choice-cover-damaged = damaged

choice-finding-clean = clean
choice-finding-dusty = dusty
choice-finding-clogged = clogged
choice-finding-damaged = damaged

choice-action-left = left
choice-action-replaced = replaced
choice-action-rinsed = rinsed

choice-release-reason-discharge = discharge
choice-release-reason-transfer = transfer
choice-release-reason-surface-change = surface-change
choice-release-reason-other = other

choice-clean-last-on = on
choice-clean-last-off = off

choice-leave-why-chair = chair
choice-leave-why-hospital = hospital
choice-leave-why-bed-hold = bed-hold

choice-kind-alternating = alternating
choice-kind-low-air-loss = low-air-loss
choice-kind-both = both
choice-kind-static = static

choice-fleet-kind-alternating = alternating
choice-fleet-kind-low-air-loss = low-air-loss
choice-fleet-kind-both = both
choice-fleet-kind-static = static

choice-fault-control-unit = control-unit
choice-fault-cord = cord
choice-fault-hose = hose
choice-fault-leak = leak
choice-fault-cpr-valve = cpr-valve
choice-fault-filter = filter
choice-fault-cover = cover
choice-fault-wet-inside = wet-inside
choice-fault-other = other

choice-work-safety-test = safety-test
choice-work-maintenance = maintenance

choice-result-passed = passed
choice-result-failed = failed

choice-owned-owned = owned
choice-owned-rented = rented
choice-owned-resident = resident
choice-owned-hospice = hospice

choice-state-ready = ready
choice-state-soiled = soiled

choice-import-profiles = profiles
choice-import-beds = beds
choice-import-surfaces = surfaces

choice-export-register = register
choice-export-profiles = profiles
choice-export-wall = wall

choice-language-english = english
choice-language-spanish = spanish

choice-rails-none = none
choice-rails-full = full
choice-rails-split = split
choice-rails-half = half
choice-rails-grip = grip

choice-outlet-hospital-grade = hospital-grade
choice-outlet-ordinary = ordinary
choice-outlet-emergency = emergency

choice-sporicidal-on = on
choice-sporicidal-off = off

choice-what-due-list = due-list
choice-what-handover = handover
choice-what-summary = summary
choice-what-weekend = weekend

choice-sign-low-pressure = low-pressure
choice-sign-no-lights = no-lights
choice-sign-soft = soft
choice-sign-hard = hard
choice-sign-one-part = one-part
choice-sign-not-alternating = not-alternating
choice-sign-noise = noise
choice-sign-fault = fault
choice-sign-hot = hot
choice-sign-wet = wet
choice-sign-not-known = not-known
choice-agency-role-aide = aide
choice-agency-role-nurse = nurse

choice-task-hand-check = hand-check
choice-task-set-up = set-up
choice-task-cleaning = cleaning
choice-task-filter = filter
choice-task-turnover = turnover

choice-beds-in-posts-yes = yes
choice-beds-in-posts-no = no

choice-unit-take-yes = yes
choice-unit-take-no = no

choice-strike-on = on
choice-strike-off = off
