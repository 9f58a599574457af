### A unit without power, what is entered from paper afterwards, the sheets for the wall, a surface for an admission,
### and what is ready for the weekend.

## A power failure. First steps defer to the home's policy and the maker's instructions.

outage-first = First: battery or emergency outlet, no extension cords. Static or transport caps as the maker says. CPR valve stays closed; pinch or cap hoses only if the maker says so. Move residents by the care plan. Tell the charge nurse. Your home's policy and the maker's instructions come first.
outage-opened = **{ $unit }**: the power failure is open, and the unit is called to { $count ->
        [one] 1 surface
       *[other] { $count } surfaces
    }.
    { $first }
    { $caution }
outage-open-already = **{ $unit }** has an open power failure already, since { $at }. Nothing new was opened. Its card:
outage-taken = You call the roll. Finish it within { $minutes } min, or the others are called again.
outage-both-call = { $who } calls the roll too. You each get the next one that nobody has seen.
outage-ask = **Roll { $unit }** · { $left } left
    How does **{ $surface }** stand? Look at the resident first.
    Without power: { $holds }
outage-said = **{ $surface }**: { $how }.
outage-said-low = The nurse is called. It comes first in the next roll.
outage-said-flat = **Stay with the resident. Call the nurse and a second person.** Move the resident by the care plan. An alarm is open already: nothing more to type.
outage-said-flat-open = **Stay with the resident. Call the nurse and a second person.** Move the resident by the care plan. Its alarm was open, and the team is called again.
outage-seen-already = Not recorded: { $who } has seen **{ $surface }** at { $at }: { $how }. Is it worse now? Type `/alarm`.
outage-seen-by-you = Not recorded again: you have seen **{ $surface }** at { $at }: { $how }. Is it worse now? Type `/alarm`.
outage-gone = Not recorded: **{ $tag }** is under no bed of this unit any more.
outage-cpr = Not recorded: the CPR valve of **{ $tag }** is open. Nothing is asked about it until that is over.
outage-later = **{ $surface }** later. It is still open.
outage-ask-again = **{ $surface }**: you said: { $how }. How does it really stand? Look at the resident first.
outage-not-yours = Not recorded: **{ $surface }** was seen by somebody else. Is it worse now? Type `/alarm`.
outage-alarm-stays = Its alarm is still open: close it on its card once you have looked.
outage-other-roll = Not recorded: that card was of an earlier roll. This is the roll now:
outage-roll-done = **{ $unit }**: the roll is done, { $count } seen. The next one begins at { $at }, while there is no power.
outage-ended = **{ $unit }**: power is back, after { $span }. { $count ->
        [0] Nothing is asked for again: each had power, or its bed was empty.
        [one] Plug, setting and check are asked for again on 1 surface: see `/due`.
       *[other] Plug, setting and check are asked for again on { $count } surfaces: see `/due`.
    }
outage-line = **No power in { $unit }** for { $span }, { $left ->
        [0] roll done
        [one] 1 surface not seen yet
       *[other] { $left } surfaces not seen yet
    }: `/outage unit:{ $unit }`

roll-holding = holds air
roll-low = getting low
roll-flat = flat
roll-powered = has power
roll-empty = bed empty

holds-unknown = holding time not known
holds-over = its maker's holding time is over
holds-minutes = holds { $span } more, by its maker

button-call-roll = I call the roll
button-power-back = Power is back
button-holding = Holds air
button-low = Getting low
button-flat = Flat
button-powered = Has power
button-empty = Bed empty
button-later = Later
button-said-wrong = { $tag }: said wrong
button-go-on-roll = Go on with the roll
button-place-under = Place { $tag } under { $bed }

## Its card

card-outage = **No power in { $unit }** since { $at } ({ $who })
card-roll-nobody = Roll { $roll }: **nobody calls it.** Next call { $at } ({ $ago })
card-roll-dropped = Roll { $roll }: **begun, but not finished.** Next call { $at } ({ $ago })
card-roll-taken = Roll { $roll }: { $who } calls it, since { $at }. { $left } left
card-roll-done = Roll { $roll } is done. The next one begins at { $at }
card-roll-none = No surface is under a bed here now. Looked at again { $at }
card-roll-next = { $place }. **{ $surface }** · { $holds }
card-roll-then = Then: { $these }
card-roll-seen = { $how }: { $these }
card-roll-over = **No power in { $unit }.** Roll { $roll } is over: see the newer card below.
card-outage-ended = **Power is back in { $unit }** at { $at } ({ $who }), after { $span } and { $rolls ->
        [one] 1 roll
       *[other] { $rolls } rolls
    }.

## Calls about it

post-roll-rung = **{ $unit }**: no power for { $span }, and { $left ->
        [one] 1 surface has
       *[other] { $left } surfaces have
    } not been looked at in this roll. Who calls the roll?
post-roll-top = **{ $unit }**: no power for { $span }, and { $left ->
        [one] 1 surface has
       *[other] { $left } surfaces have
    } not been looked at in this roll. **Go now**, or call each other by phone.
post-roll-again = **{ $unit }**: the roll was begun, but after { $minutes } min { $left ->
        [one] 1 surface has
       *[other] { $left } surfaces have
    } not been looked at. Who goes on?
post-low-no-power = **{ $surface }**: getting low without power ({ $who }). Nurse, please come and look.
post-low-no-power-nurse = **{ $surface }**: getting low without power. { $who } found it and is there. Who can help?
post-flat-no-power = **{ $surface }**: **flat** without power ({ $who }). Nurse, come now.
post-flat-no-power-nurse = **{ $surface }**: **flat** without power. { $who } found it and is there. A second person, come now.
post-roll-mistake = **{ $surface }**: what was said before was a mistake. Now: { $how } ({ $who }). An alarm that is open stays open.
post-power-back = **{ $unit }**: power is back. Look at plug, setting and air again ({ $count }): { $these }. Units forget their setting, or keep the last person's. Care plan, order or nurse say what it should be. Tap it in `/due`.
post-power-was-out = **{ $unit }** had no power from { $from } for { $span }. { $rolls ->
        [one] 1 roll was called.
       *[other] { $rolls } rolls were called.
    } Power is back ({ $who }).

fault-outage-unit = Which unit has no power? Type `/outage unit:` and one of these: { $these }
fault-outage-empty = No surface is under a bed in { $unit }, so there is no roll to call. Something else beeps? Type `/alarm`.
fault-outage-over = That power failure is over, and nothing was recorded. No power again? Type `/outage`.

## From paper

form-paper-title = Readings from paper
form-lines = One a line: bed or tag, time, reading
form-lines-hint = 103 13:40 1 1/4 · LW-07, 20 min ago, none · 104 yesterday 22:15 3/4 in
paper-taken = Recorded from paper: { $count ->
        [one] 1 reading
       *[other] { $count } readings
    }, { $from } to { $to }.
    Adequate { $adequate } · low { $low } · high { $high } · not checked { $not }
paper-lows = Low, look again:
paper-low = - **{ $surface }**: { $air }, { $at }
paper-more = and { $count } more
post-paper-low = **{ $surface }**: low on paper ({ $count }), entered by { $who }. Nurse, please look at each, and pick it here for a new reading:
paper-alarms = Just now bottomed out, so an alarm is open: { $count }. **Go there.**
paper-correct = One is wrong? Enter the right one with `/handcheck` and the option **when**, and tell your supervisor: the log keeps both.
paper-refused = Nothing was recorded. { $count ->
        [one] One line is not right:
       *[other] { $count } lines are not right:
    }
paper-back = Your text, to copy, put right and send again with `/catchup`:
paper-back-file = Your text is in the file, to copy, put right and send again with `/catchup`.

fault-paper-empty = I see no line. Type one reading a line, such as 103 13:40 1 1/4
fault-paper-lines = I take { $most } lines at once and see { $found }. Nothing was recorded. Send them in parts.
fault-paper-shape = I see no bed, time and reading. Type 103, 13:40, 1 1/4
fault-paper-commas = This can be read in two ways. Put commas: 103, 13:40, 1 1/4
fault-paper-twice = The same surface and time as line { $line }. Leave one of them out.
fault-paper-there = { $tag } has this reading of { $at } on record already. Leave the line out.
fault-paper-unit = { $tag } is not in { $unit }. Type `/catchup` without the unit, or leave the line out.

## For the wall. Text of a printed page: nothing in it is markup.

wall-made = The sheets for the wall, { $count ->
        [one] 1 unit
       *[other] { $count } units
    }. **Print them now**, on paper, and again after every move: when the network is gone, only paper is left. They hold beds and tags: hang them where residents' visitors cannot read them.
wall-title = Sheets for the wall, { $day }
wall-beds = { $unit }: beds and surfaces, { $day }
wall-private = Holds beds and tags. Hang it where residents' visitors cannot read it.
wall-anew = Print it anew after every move, and throw the old one away as your home does with such papers.
wall-order = In a power failure look at them from top to bottom: holding time not known comes first, then the shortest.
wall-first = Battery or emergency outlet first. No extension cords. Static or transport caps as the maker says. Move residents by the care plan, tell the charge nurse. Your home's policy and the maker's instructions come first.
wall-valve = CPR valve: closed, and it stays closed. Pinch or cap hoses only if the maker says so. After power is back: plug, setting, check.
wall-bed = Bed
wall-tag = Tag
wall-profile = Profile
wall-holds = Holds air without power
wall-setting = Setting in use
wall-first-fill = First fill
wall-outlet = Outlet
wall-minutes = { $minutes } min
wall-not-known = not known
wall-no-surface = no surface
wall-fill-lowest = lowest, { $minutes } min
wall-fill-highest = highest, { $minutes } min
wall-outlet-hospital = hospital grade
wall-outlet-ordinary = ordinary
wall-outlet-emergency = emergency power
wall-spare = Ready to use when this was printed: { $these }
wall-no-spare = Ready to use when this was printed: none
wall-storage = They stand here: { $place }
wall-whom = Whom to call when an alarm is not answered
wall-ladder = Aides at once. Aides and nurses after { $first } min. Nurses and supervisors after { $second } min. Everybody after { $third } min, then every { $repeat } min.
wall-phone-nurse = Nurse in charge:
wall-phone-supervisor = Supervisor on call:
wall-phone-upkeep = Upkeep on call:
wall-phone-physician = Physician or emergency:
wall-phone-power = Power company or generator:
wall-form = { $unit }: form for hand checks, alarms and cleaning on paper
wall-form-how = One thing a line. No names of residents and no initials. Air in inches, or "none" if you could not check. Low: look at plug, hose and CPR valve, then call the nurse. No air: stay, call the nurse and a second person.
wall-when = Day and time
wall-bed-or-tag = Bed or tag
wall-air = Air
wall-what = Alarm, cleaning or other
wall-role = Who (role)
wall-form-after = When the chat is back: type /catchup for the hand checks, and /alarm, /clean or /filter for the rest.

## A surface for an admission

match-head = **Looking for**: { $asks }
match-wide = { $width } wide
match-carries = { $capacity } lb
match-for-bed = for bed { $bed }
match-line = - **{ $tag }** · { $parts }
match-ask = Ask first, not all is on record. Then `/place`:
match-lacks-width = ask its width
match-lacks-length = ask its length
match-frame-unknown = The frame of bed { $bed } has no width on record: measure it before you place one, or type **width** here.
match-lacks-capacity = ask its capacity
match-rented = rented
match-papers = paper missing: { $missing }
match-more = and { $count } more
match-storage = They stand here: { $place }
match-bed-taken = { $tag } is under bed { $bed } now: release it first, or type `/swap`.
match-none = Nothing ready fits.
match-none-sure = Nothing ready fits for sure.
match-no-turnover = No turnover under way will give one.
match-turnovers = Ready next:
match-steps-left = { $count ->
        [one] 1 step left
       *[other] { $count } steps left
    }, target { $by }
match-steps-left-late = { $count ->
        [one] 1 step left
       *[other] { $count } steps left
    }, was due { $by }
match-clean-last = cleaned last
match-rent = Renting until the first is ready, at { $rate } a day: { $days ->
        [one] 1 day
       *[other] { $days } days
    }, { $cost }. The vendor's contract decides.
match-rent-a-day = Renting costs { $rate } a day. The vendor's contract decides.
match-rate-of-other = What renting one of this kind costs is not on record; those of other kinds cost { $rate } a day.
match-no-rate = What renting one of this kind costs is not on record. A supervisor sets it with `/facility policy name:rental-day`
match-limits = Look up the limits of the surface, the frame and the lift, each, and the maker's list of frames. They are never assumed here.

## Kinds of surfaces

surface-kind-alternating = alternating
surface-kind-low-air-loss = low air loss
surface-kind-both = alternating with low air loss
surface-kind-static = static

## Ready for the weekend

weekend-head = **Ready for the weekend?**
weekend-ready = - Ready, { $kind }: **{ $count }** ({ $these })
weekend-none = - Ready, { $kind }: **none**
weekend-turnover = - Turnover **{ $tag }**: { $left ->
        [one] 1 step
       *[other] { $left } steps
    } left, can be ready by { $by }
weekend-turnover-late = - Turnover **{ $tag }**: { $left ->
        [one] 1 step
       *[other] { $left } steps
    } left, **over its target** of { $by }
weekend-turnovers-more = - and { $count } turnovers more
weekend-out = - Out of service ({ $count }): { $these }
weekend-idle = - Rented and idle ({ $count }): { $these }. Call the pickup, or use them.
weekend-stock = - Stock that does not last to Monday ({ $count }): { $these }
weekend-foot = Admissions are not guessed here. For one that is expected: `/match`.
