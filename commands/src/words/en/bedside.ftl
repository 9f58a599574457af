### At the bed: the checklist of a set-up, the setting, moves, leaves, static mode, the CPR valve.

## The checklist

steps-head-placed = **{ $surface }**: set-up
steps-head-moved = **{ $surface }**: after the move
steps-head-cpr = **{ $surface }**: after the CPR valve was open
steps-head-power = **{ $surface }**: after the power failure
steps-done = - Done: { $what } ({ $who }, { $at })
steps-some = { $part }, { $count } of { $all }
steps-not-right = - **Not right:** { $what } ({ $who }, { $at })
steps-only-missed = Only what is not right is left: put it right, then choose it under **Right now**.
steps-setting = { $what }: **{ $setting }**
steps-now = **Now: { $part }**
steps-maker = The maker's instructions come first.
steps-maker-empty = Nobody on it yet. The maker's instructions come first.
steps-fill-lowest = It fills with nobody on it, **at the lowest setting first**. Turn it up later, by care plan or order.
steps-fill-highest = It fills with nobody on it, **at the highest setting first**. Turn it down later, by care plan or order.
steps-refill = Let it refill by the maker's instructions, with nobody on it where that is possible.
steps-full-at = It should be full at { $at }. The unit is called then.
steps-full-since = It should have been full at { $at }.
steps-setting-nurse = The nurse says what the setting is: tell the nurse now. It stands on the due list.
steps-rails-nurse = Then the nurse looks at rails and gaps again.
steps-hand = A hand under the surface below the hips. Only an adequate check counts, and it is no proof of safety.
steps-look = The maker wants looking and feeling, not a hand under it. Only an adequate check counts, and it is no proof of safety.
steps-rails = Another surface, place or height changes the gaps. Look at each again, measure in doubt: `/zones`. A gap too wide: act now and call the nurse.
steps-unplugged = It was unplugged for { $span }.
steps-unplugged-long = It was unplugged for { $span }, and holds its air for { $holds } min by its profile: **look for air under the person first.**
steps-complete = **{ $surface }**: all of it is done.
steps-complete-caution = Turning, skin checks and the next hand check go on as planned.
steps-complete-already = **{ $surface }**: all of this list is done already.
steps-stale = **{ $surface }**: your card was of an earlier list, so nothing was recorded. This is the one of now:
steps-done-already = Done already: { $part } ({ $who }, { $at }).
steps-missed = **Not right:** { $step }. Put it right, then choose it under **Right now**.
steps-check-done = Checklist: the check is done. Left: { $left }.
steps-check-last = Checklist: with this check all of it is done.
steps-check-early = Kept. It counts here as soon as this is done: { $first }. Only a change of setting or filling asks for another check.
steps-check-counts = The check of { $at } ({ $who }) counts.

stage-empty = before filling
stage-plugged = plugged in again
stage-full = filled with nobody on it
stage-refilled = refilled
stage-setting = the setting
stage-rest = with the resident
stage-check = the check
stage-rails = rails and gaps

step-brakes = brakes on
step-frame-fits = fits the frame with no gap at the ends
step-hoses = hoses free at the foot end
step-straps = straps only to parts that move with it
step-hung = control unit hung or level
step-outlet = wall outlet and no extension cord
step-connector = hose connector seated
step-valve = CPR valve closed
step-plugged = plugged in and running
step-full = full with nobody on it
step-setting = setting by care plan or order
step-settled = settled under the resident
step-linen = few layers of linen
step-audible = alarm on and heard in the corridor
step-locked = panel locked
step-check = adequate check
step-rails = rails and gaps looked at again

button-all-done = All done
button-plugged = Plugged in and running
button-full = Full, nobody on it
button-refilled = Refilled
button-full-already = It is full
steps-full-already = **{ $surface }**: nothing recorded yet. By its profile it takes { $minutes } min to fill, and it began at { $at }. Full already?
button-rails = Rails and gaps looked at
button-steps = Set-up card
button-minutes = Correct the minutes
menu-step-missed = One is not right…
menu-step-right = Right now…

form-minutes-title = Unplugged: { $tag }
form-minutes = Minutes without power
form-minutes-hint = 12

post-plugged = **{ $surface }**: plugged in and running. { $who }, { $at }
post-full = **{ $surface }**: full. { $who }, { $at }
post-steps-complete-unit = **{ $unit }**: all is seen to after the power failure, { $at }.
post-steps-complete = **{ $surface }**: checklist done. { $who }, { $at }
post-fill-over = **{ $surface }**: it should be full now. Look with nobody on it.
post-refill-over = **{ $surface }**: it should be refilled now. Look at it.
post-plug-over = **{ $surface }**: moved { $span } ago. Is it plugged in and running? Without power it loses its air.
post-steps-open-unit = **{ $unit }**, after the power failure, still to be done on { $count ->
        [one] 1 surface
       *[other] { $count } surfaces
    }:
post-steps-open-line = - **{ $surface }**: { $left }
post-steps-open = **{ $surface }**: still to be done: { $left }.

fault-steps-none = Nothing is left to do on a list for { $surface }. See `/surface`.
fault-steps-order = Nothing recorded for { $surface }. First: { $first }.
fault-steps-not-right = Not right yet for { $surface }: { $steps }. Put it right, then choose it under **Right now**.
fault-minutes = How many minutes? Type a whole number up to { $most }, such as 12.

surface-steps = **Set-up not finished.** Left: { $left }
surface-steps-power = **It was without power, and not all has been looked at since.** Left: { $left }

## The setting

setting-in-use = Setting in use: **{ $setting }** ({ $who }, { $at })
setting-none = Setting: none on record since it was placed.
setting-table = The maker's table, as your home typed it: { $rows }. Care plan, order or nurse decide, not this table.
setting-row = to { $most } lb: **{ $setting }**
setting-entry = the maker's table: to { $most } lb
setting-no-table = Its profile has no table of settings. See the maker's instructions; care plan, order or nurse decide.
setting-how = To record one: `/setting surface:{ $tag } set:` and what the panel shows.
setting-set = **{ $surface }**: setting **{ $setting }** recorded.
setting-before = Before: { $setting }.
setting-not-listed = Not recorded yet: **{ $setting }** is not in the maker's table. Look at the panel again, and choose what it shows:
setting-next = In the maker's table: { $below } below it, { $above } above.
setting-none-next = nothing
button-setting-shown = The panel shows { $setting }
setting-early = The set-up will ask for the setting again once the surface is full.
setting-caution = The care plan, the order or the nurse say what it should be.
setting-check = Let it settle, then check the air under the person:

button-setting-same = Still on { $setting }
button-setting-type = Type the setting
menu-setting = The setting on the panel…
form-setting-title = Setting: { $tag }
form-setting = What the panel shows
form-setting-hint = 4, soft. Never a weight

fault-setting = I cannot read this setting. Type what the panel shows, such as 4 or soft.
fault-setting-weight = Nothing was recorded: this looks like a weight. Type what the panel shows, such as 4 or soft. No weight is kept here.

## Moves and swaps

moved = **{ $surface }**: moved from bed { $from } with the resident aboard. Unplug last, keep it level, keep the cord off the floor. Plug in first: the unit is called after { $minutes } min.
swapped = Bed { $bed }: **{ $new }** takes the place of **{ $old }**. Move the resident by the care plan, never by pulling the surface.
swap-ask = Nothing recorded yet: **{ $tag }** does not fit bed { $bed } in all.
swap-ask-caution = Care plan, order or nurse decide. Another one, or this all the same?
button-swap-sure = Swap all the same
misfit-kind = { $tag } is { $kind }; { $old } is { $other }.
misfit-capacity = { $tag } carries { $capacity } lb by its profile, { $old } { $least } lb.
spare-ready = Ready and fits: { $these }.
spare-one = **{ $tag }** ({ $about })
spare-misfit = does not fit in all
spare-none = Nothing ready fits for sure: look with `/match` for what comes next.
surface-instead = It took the place of { $tag }
surface-replaced = Its place was taken by { $surface }

fault-move-same = { $tag } is under bed { $bed } already. Choose the bed that it goes to.
fault-out-still-under = { $surface } is out of service and still under a resident. Put a ready one in its place with `/swap`.
fault-swap-empty = Under bed { $bed } there is no surface. Type `/place surface:{ $tag } bed:{ $bed }`.
fault-swap-same = { $tag } is the one under bed { $bed }. Choose the ready one that comes.

## Leaves

leave-chair = up in a chair
leave-hospital = in hospital
leave-bed-hold = bed held
leave-began = **{ $surface }**: empty until { $until } ({ $why }). No check is asked for until then; from then on it counts as occupied. Leave it running unless the nurse says otherwise.
leave-instead = It takes the place of what was said before: empty until { $until } ({ $why }).
leave-back = **{ $surface }**: back in bed.
leave-back-check = A check is due now:
leave-ended = Its leave is over: the bed counts as occupied again.
surface-away = **Bed empty** until { $until }: { $why }
surface-away-over = **Back in bed?** It was to be empty until { $until }: { $why }
longer-1h = for 1 hour
longer-4h = for 4 hours
longer-tomorrow = until tomorrow noon
longer-3d = for 3 days
button-back = Back in bed
button-gone = Gone for good
menu-still-away = Still away…

post-leave-over = **{ $surface }**: the bed was to be empty until now ({ $why }). Back in bed? Until somebody says so it counts as occupied.
post-still-away = **{ $surface }**: still empty until { $until }. { $who }
post-back = **{ $surface }**: back in bed. { $who }, { $at }
post-gone = **{ $surface }**: released. { $who }

fault-leave-no-surface = Under bed { $bed } there is no surface, so there is nothing to say of it.
fault-leave-chair = Up in a chair is for { $most } hours at most. Type a nearer time, or choose hospital or bed-hold.
fault-leave-why = Longer than { $most } hours: say why, with why:hospital or why:bed-hold.
fault-leave-long = That would be more than { $most } days in all. If nobody comes back to it: `/release`.
fault-leave-over = That leave of { $surface } is over already. Nothing was recorded.
fault-until-hours = Until when? Type 15:30, 45 min or 2 h.
fault-until-shape = Until when? Type 15:30, 2 h, tomorrow 10:00 or 3 days.
fault-until-unit = Hours or minutes? Type 2 h, 45 min or 15:30.
fault-until-past = { $at } is past. Type a time that is still to come, such as 15:30 or 2 h.
fault-until-far = That is too far ahead. Type { $latest } at the latest.

## Static mode

static-began = **{ $surface }**: static until { $until }. Held still, it does not relieve by turns: turn the resident as planned. The unit is called to turn it back.
static-over = **{ $surface }**: alternating again. Look at the panel: is the setting still right? Turning and skin checks by the care plan.
surface-static = **Static** until { $until }
button-alternating = Alternating again

post-static-over = **{ $surface }**: static since { $at }, and its time is over. Please turn it back to alternating.
post-static-longer = **{ $surface }**: static until { $until }. { $who }
post-alternating = **{ $surface }**: alternating again. { $who }, { $at }

fault-static-kind = { $surface } does not alternate, its profile { $profile } says. There is nothing to hold still.
fault-static-over = { $surface } is not in static mode any more. Nothing was recorded.

## The CPR valve

cpr-opened = **{ $surface }**: CPR valve open. I ask nothing and call nobody about it.
cpr-open = **{ $surface }**: CPR valve open since { $at } ({ $who }).
cpr-alarm = Its alarm is expected, so none was opened and nobody is called. By voice if you need help. When it is over:
cpr-over-gone = If nobody lies on it any more: `/release`.
cpr-over-out = **{ $surface }**: it is out of service, so no list follows. The resident needs another surface: `/swap`.
surface-cpr = **CPR valve open** since { $at }
button-cpr-over = It is over

post-cpr-open = **{ $surface }**: its CPR valve was opened { $span } ago. Is it over? Then the valve, the air and the setting must be put right.
post-cpr-forgotten = **{ $surface }**: its CPR valve was opened { $span } ago, and nobody has said that it is over. With it open there is no air under whoever lies there: look now. From now on its alarms call as usual.
post-cpr-over = **{ $surface }**: the emergency is over, the valve is being seen to. { $who }, { $at }

fault-cpr-open = The CPR valve of { $surface } is open, so nothing was recorded. When it is over: tap **It is over**, or type `/cpr surface:{ $tag }`.
fault-cpr-over = { $surface }: no CPR valve is on record as open any more. Nothing was recorded.
