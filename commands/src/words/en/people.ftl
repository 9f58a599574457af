# Duty, handover, due lists: who has a unit, who takes it over, what is done about an item.

## Duty

about-duty = Say that you have a unit, and until when: calls then ring you
about-handover = What the next shift must know
about-facility-phone = Whom to phone when nobody answers an alarm
option-duty-unit = The unit that you have; all for the whole house. Yours if left out
option-duty-until = Until when, such as 07:00 or 4 h; the end of the shift if left out
option-phone-words = Who, and which house extension or on-call number; none takes it away

button-have = I have { $unit } until { $at }
button-have-all = Whole house until { $at }
button-duty-end = I have it no longer
button-accept = I take over
button-rest = The rest

duty-taken = **{ $unit }** is yours as { $role } until { $until }. Calls there for that role now ring you.
duty-changed = **{ $unit }** is yours as { $role }, now until { $until }.
duty-let-in = Until then you are let in. Staying longer? Ask a supervisor, then `/duty` again.
duty-others = Also on duty there: { $who }
duty-ended = **{ $unit }** is yours no longer. What calls there rings the others.
duty-relieved = { $who } no longer has **{ $unit }** and is told so. What calls there rings the others.
fault-relieve-over = They do not have it any more, so nothing was changed. Who is on duty: `/team`
post-relieved = **{ $unit }**: { $who }, you no longer have it, { $by } says at { $at }. Still here? `/duty`
duty-whole-house = The whole house
duty-line = On duty: { $who }
duty-had = On duty in that shift: { $who }
duty-nobody = On duty: nobody has said so
duty-who = { $who } ({ $role })
fault-duty-unit = Which unit do you have? `/duty unit:` and one of these: { $these }. For the whole house: `/duty unit:all`
fault-duty-past = This was until { $at }, which is past. Type `/duty` to say until when you are here.
# What an old card's button finds.
duty-newer = That button is of an earlier claim, so nothing was changed. You have now:
duty-newer-line = - **{ $unit }** as { $role }, since { $since }, until { $until }
button-duty-end-of = { $unit }: no longer
fault-duty-over = You do not have it any more, so nothing was changed.

post-unclaimed = **{ $units }**: nobody has said since { $since } that they have { $count ->
        [one] it
       *[other] them
    }. Calls there ring everybody of the role. Who has { $count ->
        [one] it
       *[other] them
    }?
claim-all-taken = Somebody has every unit of the shift that began { $since }.

policy-duty-watched = Whether supervisors are told of units that nobody has said they have
policy-round-within = From the beginning of a shift until supervisors are told of a round that is not entered; 0 for never
policy-claim-within = How soon after a shift's start somebody must have said that they have a unit
policy-accept-within = How soon after a handover the next shift must have taken it over

## Whom to phone

phone-now = **Phone now:** { $words }
phone-now-unset = **Phone now:** the charge nurse, or whoever your home's plan names. No number is set here: `/facility phone`
phone-is = When nobody answers, people are told to phone: { $words }
phone-set = From now on, when nobody answers, people are told to phone: { $words }
phone-unset = No number is set. When nobody answers, people are told to phone the charge nurse or to follow your home's plan. Set one: `/facility phone words:charge nurse, extension 100`
fault-phone-number = Not set: a number is missing. Type who and which number, such as: charge nurse, extension 100. No resident's number.
fault-phone-name = Not set: that looks like a person's name. Type a role and a number only, such as: nurse desk 555-0142, then charge nurse 555-0177.

## Handover

handover-head = **Handover, all units**, shift from { $from }
handover-head-unit = **Handover, { $unit }**, shift from { $from }
handover-alarm = - **{ $surface }**: alarm open for { $span }, { $taken }
handover-taken = { $who } is on it
handover-not-taken = **nobody has taken it**
handover-was-taken = taken { $at } by { $who } and **not fixed**: nobody is on it now
handover-was-safe = resident safe { $at } ({ $who })
handover-outage = - **Power failed in { $unit }** { $from } to { $to }, { $who }
handover-roll-by = roll called by { $who }
handover-roll-nobody = **no roll was called**
handover-recheck-low = - **{ $surface }**: **low**, check again { $at }
handover-recheck-high = - **{ $surface }**: high, check again { $at }
handover-unchecked = - **{ $surface }**: could not be checked, try again { $at }
handover-still-under = - Out of service, still under a bed ({ $count }): { $tags }
handover-check = - Checks not made this shift ({ $count }): { $tags }
handover-filter-old = - Filters at the maker's limit ({ $count }): { $tags }
handover-filter-look = - Filters to look at ({ $count }): { $tags }
handover-losing-loft = - Trending lower, inspect ({ $count }): { $tags }
handover-turnover = - Turnovers to finish ({ $count }): { $tags }
handover-repair = - Waiting for repair ({ $count }): { $tags }
handover-gap-over = - Gaps over the limit ({ $count }): { $tags }
handover-gap-beds = - Gaps over the limit at beds without a surface ({ $count }): bed { $beds }. Measure again before one goes there: `/zones`
handover-gap-empty = - Gaps over the limit at beds without a surface: { $count }. Supervisors read which.
handover-after-power = - **{ $surface }**: after the power failure { $since }, { $left } left
handover-after-power-too = - **{ $surface }**: set-up begun { $began } by { $who } and not finished, then the power failure { $since }: { $left } left
handover-steps = - **{ $surface }**: set-up, { $left } left, begun { $since } by { $who }
handover-static = - **{ $surface }**: static mode until { $until }
handover-static-over = - **{ $surface }**: **still static**, since { $since }; it was to end { $until }
handover-leave-over = - Leaves that were to end ({ $count }): { $tags }
handover-safety-test = - Safety tests due ({ $count }): { $tags }
handover-maintenance = - Maintenance due ({ $count }): { $tags }
handover-outlet-test = - Wall outlets to test ({ $count }): { $tags }
handover-paper-missing = - **{ $surface }**: in use without its paper ({ $missing })
handover-waived = - **{ $surface }**: placed { $at } without its paper ({ $missing }), { $who }
handover-held = - Held for an inquiry ({ $count }): { $tags }
handover-idle = - Rented and idle ({ $count }): { $tags }
handover-pickup = - Pickups to confirm or to come ({ $count }): { $tags }
handover-turnover-late = - Turnovers over { $hours } h ({ $count }): { $tags }
handover-clean-last = - Clean last, sporicidal only: { $tags }
handover-told = - Called about **{ $surface }**: { $who }
handover-told-often = - Called about **{ $surface }**: { $who }, last { $at }, { $count } calls
handover-told-least = - Called about **{ $surface }**: last { $at }, { $count } calls or more
handover-more = { $tags } and { $count } more
handover-nothing = Nothing open and nothing late.
handover-rest = … and { $count } more: tap **The rest**
handover-beds = { $count ->
        [one] bed
       *[other] beds
    } { $beds }
handover-no-rest = Nothing more: all of it is on the card.
handover-waits-for = **Not taken over yet.** A nurse or a supervisor does that.
handover-accepted-of = The handover of { $of } was **taken over** { $at } by { $who } ({ $role }).
handover-not-accepted-of = The handover of { $of } was **not taken over** by anybody.
button-accept-of = I take it over
handover-accepted = **Taken over** { $at } by { $who } ({ $role })
handover-yours = You have taken over **{ $unit }**. It is recorded, with the time.
handover-yours-all = You have taken over **the whole house**. It is recorded, with the time.
post-handover-waits = **{ $unit }**: nobody has taken over the handover of { $at } yet. Read it, then tap.
post-handover-accepted = **{ $unit }**: taken over { $at } by { $who } ({ $role }).
fault-handover-newer = There is a newer handover, so nothing was recorded. See `/handover`.
fault-handover-accepted = { $who } ({ $role }) has taken it over at { $at }. Nothing more to do.
fault-handover-own = You have it until { $at }: the handover is for whoever comes after you. If you stay on, type `/duty` first.

told-aide = aides
told-nurse = nurses
told-supervisor = supervisors
told-upkeep = upkeep
told-admin = admins
told-clock = loftwatch
told-everybody = everybody

## Lists that are worked through

button-next = Next one
button-list = The list
button-return = Back into service
button-stop = Vendor called
button-zones = Measured again
button-outlet = Tested today, good
button-outlet-bad = Not good
button-serve = Another day
button-served-passed = Passed today
button-served-failed = Failed today
button-filter-clogged = Clogged, replaced
button-filter-damaged = Damaged, replaced
button-filter-left = Dirty, left in
menu-swap = Which one takes its place?
menu-cleaned = Cleaned. With what, and the cover?

due-left = ({ $left } left of { $all })
due-before-weekend = { $surface } (before the weekend)
due-before-holiday = { $surface } (before the holiday)
work-head = **Due, all units**
work-head-unit = **Due, { $unit }**
work-done-by = **{ $surface }**: done meanwhile by { $who }, { $at } ({ $what }).
work-done = **{ $surface }**: no longer due ({ $what }).
work-gone = **{ $tag }** is not in the register any more.
work-filter = **{ $surface }**: look at its filter. What did you find and do?
work-filter-last = Last look: { $finding }, { $ago }
work-service = **{ $surface }**: { $work } is due. Done?
work-service-last = Last done: { $day }
work-papers = **{ $surface }** is in use without its paper: { $missing }. Has it come?
work-outlet = **{ $surface }**: test the wall outlet at its bed.
work-outlet-failed = It failed on { $day } and has passed no test since.
work-gap = **{ $surface }**: a gap of its bed is over the limit (zone { $zones }). Do something at once by your home's plan, have it assessed, then measure again.
work-cleaned = { $what }, { $cover }
work-cover-intact = cover intact
work-cover-stained = cover stained
work-cover-damaged = cover damaged
chosen-swap = The resident needs another surface. The nurse chooses it here or with `/swap`.
chosen-swap-none = No ready surface fits. Look with `/match` for the next that will be, and rent if it takes too long.
outcome-passed = passed
outcome-failed = failed

form-service-title = Done: { $tag }
form-result = Result
form-result-hint = passed or failed
form-day = Day
form-day-hint = 2026-03-01; today if left empty
form-next-day = Next
form-next-day-hint = 2027-03-01, if the paper names a day
form-zones-title = Gaps at bed { $bed }
form-zone1 = Zone 1, within the rail
form-zone1-hint = 110 mm or 4 1/4 in; leave empty what you did not measure
form-zone2 = Zone 2, under the rail
form-zone2-hint = 100 mm
form-zone3 = Zone 3, between rail and mattress
form-zone3-hint = 100 mm
form-zone4 = Zone 4, under the end of the rail
form-zone4-hint = 50 mm
form-angle4 = Angle at zone 4
form-angle4-hint = 65, in degrees

fault-work-already = { $who } has done **{ $surface }** since this card was shown, { $at }. Nothing was recorded twice.
fault-outlet-already = The outlet at bed { $bed } was tested today already.
fault-swap-gone = **{ $tag }** is not under bed { $bed } any more, so nothing was changed. See `/due`.
fault-result = I cannot read this result. Type passed or failed.
