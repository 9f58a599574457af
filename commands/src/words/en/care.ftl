### The surface itself: cleaning, filters, placing, releasing, turnover, its card.

## Cleaning

method-soap-and-water = soap and water
method-quaternary = a quaternary disinfectant
method-bleach = bleach
method-other = a disinfectant of the home's list
reason-routine = routine
reason-soiled = soiled
reason-between-residents = between residents

clean-logged = **{ $surface }**: cleaned with { $method }. Recorded. Done in this order?
clean-steps-soap-and-water = 1. Cover closed. Unplug only with nobody on it.
    2. Soap and water, then wipe the soap off.
    3. Control unit (damp, not wet), hoses, cord and straps too.
    4. Dry it all before linen goes on.
clean-steps-quaternary = 1. Cover closed. Unplug only with nobody on it. Gloves on.
    2. Soap and water first, then wipe the soap off: it weakens the product.
    3. The product that the maker and your home's list allow: wet for its contact time.
    4. Control unit (damp, not wet), hoses, cord and straps too. Rinse, dry.
    Never mix it with bleach. It does not kill spores: after isolation ask the nurse which product.
clean-steps-bleach = 1. Cover closed. Unplug only with nobody on it. Gloves on, air the room.
    2. Soap and water first, then rinse.
    3. Bleach as strong as the maker and your home's list allow: wet for its contact time.
    4. Control unit (damp, not wet), hoses, cord and straps too. Rinse well, dry.
    {"**"}Never mix bleach with ammonia, acids or any other cleaner: the gas is poison.** Strong smell: leave, and air the room.
clean-steps-other = 1. Cover closed. Unplug only with nobody on it. Gloves on.
    2. Soap and water first, then wipe the soap off.
    3. The product that the maker and your home's list allow: wet for its contact time.
    4. Control unit (damp, not wet), hoses, cord and straps too. Rinse, dry.
    Never mix it with bleach or another product.
clean-stained = Stained: look inside the cover where the maker allows it. Wet or stained inside counts as damaged: record it again with cover:damaged.
clean-stained-not-finished = A stained cover does not finish the cleaning between residents: clean it again until nothing shows, and record it with cover:intact.
clean-caution = The maker's instructions and your home's list come first.
clean-rinse-first = {"**"}Stop: { $product } went on { $surface } at { $at }.** Rinse it off completely with water first: one product on top of another can give off poisonous gas, and neither works. Nothing is recorded yet.
clean-rinse-note = Your note does not go with the tap: add it after with `/amend entry:last`.
button-rinsed = Rinsed off, record it


## Filters

finding-clean = clean
finding-dusty = dusty
finding-clogged = clogged
finding-damaged = damaged
action-left = left in
action-replaced = replaced
action-rinsed = rinsed

filter-logged = **{ $surface }**: filter { $finding }, { $action }. Recorded.
filter-clogged-left = A clogged filter takes the unit's air. Change it now, or rinse it if the maker says so, and record it again.
filter-damaged-left = A damaged filter lets dust into the unit. Put a new one in and record it again.
filter-damaged-rinsed = Rinsing does not mend a damaged filter. Put a new one in and record it again.
filter-dusty-left = Dusty: plan a new one, or rinse it if the maker says so.
filter-rinsed-dry = Put it back only when it is dry all through.
filter-next = Next look in { $days ->
        [one] 1 day
       *[other] { $days } days
    }.

## Placing and releasing

released = **{ $tag }** is no longer under bed { $bed }.
released-next = If somebody stays in bed { $bed }, put a ready surface under them now: `/place`


## A surface's card

surface-head = **{ $surface }** · profile { $profile }
surface-alarm = **Alarm open:** { $kind }, { $ago }
surface-readings = **Readings** ({ $band }):
    { $readings }
surface-reading = - { $air } · { $judged } · { $ago }
surface-no-readings = No readings yet.
surface-recheck = Check again at { $at } ({ $ago })
surface-filter = Filter: { $finding }, { $ago }
surface-filter-replaced = Filter: new, { $ago } (the one before: { $finding })
surface-filter-rinsed = Filter: rinsed, { $ago } (before that: { $finding })
filter-under = With a resident on it: is it plugged in and running again, and the setting as before?
surface-filter-new = Filter: new { $day }, not looked at here since
surface-no-filter = Filter: not looked at yet
surface-cleaned = Cleaned: { $reason }, { $ago }
surface-not-cleaned = Cleaned: not on record
surface-last-alarm = Last alarm over: { $ago }
surface-caution = A reading is one moment and no proof of safety. Care plan and nurse decide.

life-placed = Under bed { $bed }, { $unit }, since { $since }
life-soiled = Soiled since { $since }. Left: { $left }
life-ready = Ready since { $since }
surface-place = Its place: { $place }
life-out = **Out of service** since { $since }: { $fault }
life-out-under = **Out of service** since { $since }: { $fault }. **Still under bed { $bed }:** the resident needs another surface.
life-retired = Retired { $since }

fault-is-alarm = after an alarm
fault-is-cover = damaged cover
fault-is-wet = wet or stained inside
fault-is-filter = filter
fault-is-control-unit = control unit
fault-is-cord = power cord or plug
fault-is-hose = hose or connector
fault-is-leak = leak
fault-is-cpr-valve = CPR valve
fault-is-test = failed a test
fault-is-recall = recalled
fault-is-inquiry = kept for an inquiry
fault-is-arrival = did not arrive as it should
fault-is-other = another fault
