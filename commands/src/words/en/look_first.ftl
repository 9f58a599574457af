### What to look at first, by what can be seen, heard, felt or smelled at the bed.

look-head = **{ $surface }** · { $sign }
look-head-any = **{ $sign }**
look-which = What do you see, hear, feel or smell?
look-raise = **If somebody lies on it, start the alarm now**, then look. The list does not call anybody.
look-held = It is kept for an inquiry: **touch nothing on it.** Look after the resident and call the nurse.
look-end-none = None of these? **Call the nurse. Out of service,** and bring a spare surface.
look-end-now = **Out of service now:** nothing on this list puts it right. The resident needs a spare surface.
look-maker = The maker's instructions and your home's policy come first. Never open the control unit.
look-in-order = Look, in order: { $these }. None of these: the nurse, a spare, out of service.
look-stay = **Stay with the resident. Call the nurse and a second person.** Move the resident by the care plan.

## Signs

sign-low-pressure = It beeps: low pressure
sign-no-lights = It beeps or is off: no lights
sign-soft = No sound, but soft or flat
sign-hard = Too hard or too high
sign-one-part = One side or part is flat
sign-not-alternating = The cells no longer change
sign-noise = It is loud or shakes
sign-fault = The panel shows a fault
sign-hot = Hot, burnt smell or smoke
sign-wet = Water or fluid inside
sign-not-known = It beeps or acts up, cause not known

## Each thing in one or two words, for an alarm's card

look-at-resident = resident
look-at-plug = plug
look-at-switch = power switch
look-at-outlet = another wall outlet (no extension cord)
look-at-cord = cord
look-at-panel = what the panel says
look-at-cpr-valve = CPR valve closed
look-at-hoses = hoses in and not kinked
look-at-mode = mode (static left on?)
look-at-setting = setting with the nurse
look-at-filter = filter
look-at-layers = layers
look-at-head-angle = head angle
look-at-place = where the unit hangs
look-at-leak = a leak
look-at-unplug = unplug it
look-at-fire-plan = fire plan
look-at-cover = cover

## Each thing and how it is looked at

look-how-resident = **Resident:** safe, and how they lie. If in doubt, call the nurse by voice.
look-how-plug = **Plug:** in the wall and in the control unit, all the way.
look-how-switch = **Power switch:** on.
look-how-outlet = **Outlet:** try another wall outlet. No extension cord, no power strip.
look-how-cord = **Cord:** cut, crushed or hot? Then do not touch it: out of service.
look-how-panel = **Panel:** read what it says. The maker's instructions tell what it means.
look-how-cpr-valve = **CPR valve:** closed, its cap or strap in place.
look-how-hoses = **Hoses:** seated at both ends, not kinked, free of frame and linen at the foot end.
look-how-mode = **Mode:** static left on? In alternating mode each part is soft in turn, and that is no fault.
look-how-setting = **Setting:** as the care plan says? A unit forgets it without power. The nurse decides.
look-how-filter = **Filter:** clogged? A clogged one takes the unit's air.
look-how-layers = **Layers:** take out what the care plan does not ask for.
look-how-head-angle = **Head of the bed:** raised? It presses more on the buttocks.
look-how-place = **Control unit:** hangs or stands level, touches nothing that can rattle, is not covered.
look-how-leak = **Leak:** listen and feel along hoses, valve and cells. One that stays flat leaks.
look-how-unplug = **Plug:** no smoke, no sparks, nothing wet around it? The resident off first, then pull it at the wall, with dry hands.
look-how-fire-plan = **Smoke, sparks or flame:** your home's fire plan, now. The resident out of it first, oxygen away. A running pump feeds a fire with air.
look-how-cover = **Cover:** look where the fluid comes from, inside too where the maker allows it.

## Buttons and menus

button-start-alarm = Start the alarm
menu-sign = What do you see or hear?

fault-look-old = This card is from another shift, so no alarm was started. It beeps now? `/alarm surface:{ $tag }`
