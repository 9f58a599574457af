### Setting up a home: channels, roles, units, schedules, the ladder, policies.

facility-set = Set: time zone { $zone }, care in { $care }, supervisors in { $supervisor }.
    Posts show tags, not beds, until your privacy officer has approved beds in the chat. Then: `/facility policy name:beds-in-posts value:yes`
facility-first-schedules = Posted from now on: the due list at 07:00, 15:00 and 23:00, the handover 15 minutes before, and on Fridays at 12:00 what is ready for the weekend. Change it with `/facility schedule`.
facility-next-units = Next, the units and their beds: `/facility unit name:Elm beds:101-112, 114A`. Then the surfaces: `/fleet add` or `/fleet import`.
facility-set-again = Units, beds, schedules and policies stay as they were. See all of it: `/facility show`

unit-set = Unit **{ $unit }**: { $count ->
        [one] 1 bed
       *[other] { $count } beds
    } ({ $beds }). Its posts go to { $channel }.
all-units = all units

what-due-list = due list
what-handover = handover
what-summary = summary
what-weekend = ready for the weekend
schedule-set = The { $what } for { $unit } is posted { $when }.
    The next five: { $five }

# A pattern as it is read; it reads back as the same pattern.
pattern-daily = daily
pattern-weekdays = weekdays
pattern-weekends = weekends
pattern-monday = monday
pattern-tuesday = tuesday
pattern-wednesday = wednesday
pattern-thursday = thursday
pattern-friday = friday
pattern-saturday = saturday
pattern-sunday = sunday
pattern-every = every { $hours }h from { $time }

# Minutes after the opening, in the order in which people are called.
ladder-words = aides at once, aides and nurses after { $first } min, nurses and supervisors after { $second } min, everybody after { $third } min and then every { $repeat } min
ladder-set = Set. While nobody takes an alarm: aides at once, aides and nurses after { $first } min, nurses and supervisors after { $second } min, everybody after { $third } min and then every { $repeat } min.
ladder-waits = While nobody takes an alarm it is to be: aides at once, aides and nurses after { $first } min, nurses and supervisors after { $second } min, everybody after { $third } min and then every { $repeat } min. A supervisor must agree first: they have been asked, and the old ladder holds until then.
ladder-agreed = { $who } agreed.
post-ladder-asked = **Ladder**: { $who } asks for another one: { $wished }. Now it is: { $now }.
    This is a clinical policy. Agree only if it fits your home's policy. Until then the old one holds.

policy-set = **{ $name }** is { $value } from now on. { $meaning }.
policy-waits = **{ $name }** is to be { $value }. { $meaning }. A supervisor must agree first: they have been asked, and the old value holds until then.
policy-agreed = **{ $name }** is { $value } from now on. { $who } agreed.
post-policy-asked = **{ $name }**: { $who } asks to set it to **{ $value }** (now { $now }). { $meaning }.
    This is a clinical policy. Agree only if it fits your home's policy and the makers' instructions. Until then the old value holds.

policy-air-low = Less air than this is low, unless the surface's profile says otherwise
policy-air-high = More air than this is high, unless the surface's profile says otherwise
policy-recheck = How soon a low or high reading is checked again
policy-try-again = How soon a check that could not be made is tried again
policy-layers-most = More layers than this between person and surface are too many
policy-safe-within = How soon after "On my way" the resident must be said to be safe
policy-fix-within = How soon after "On my way" the alarm must be fixed
policy-shift-start = When the first shift of the day starts
policy-shift-hours = How long a shift is
policy-turnover-hours = How soon after its release a surface should be ready again
policy-away-after = How long loftwatch may be away before supervisors are told
policy-set-up-within = How soon a checklist at a bed should be finished before somebody is called
policy-unplugged-most = How long a surface may be unplugged in a move, unless its profile says less
policy-static-most = How long static mode may last
policy-cpr-quiet = How long after an opened CPR valve the nurse is called once
policy-setting-by-aides = Whether aides may change a setting. Usually only the nurse
policy-roll-again = How soon after a finished roll the next one begins while a unit has no power
policy-rental-day = What renting one surface costs a day, for `/match`. 0.00 means not known
policy-beds-in-posts = Whether posts show beds as well as tags. Ask your privacy officer first
policy-safety-test-months = How soon after a safety test the next one is due, where nobody named a day
policy-outlet-test-months = How soon after its test an ordinary wall outlet at a bed is tested again
policy-office-from = From when on a work day somebody is there who gives a surface its papers
policy-office-to = Until when on a work day somebody is there who gives a surface its papers
policy-idle-hours = How long a rented surface may be under no bed before supervisors are told
policy-order-days = How long a delivery takes after an order
policy-order-service = In how many of 100 deliveries the shelf must not be empty before

show-head = **Time zone** { $zone } (zone data { $data }) · **care** { $care } · **supervisors** { $supervisor }
show-role = - Role { $role }: { $chat }
show-unit = - Unit **{ $unit }**: { $beds }
show-ladder = **While nobody takes an alarm:** aides at once, aides and nurses after { $first } min, nurses and supervisors after { $second } min, everybody after { $third } min, then every { $repeat } min
show-schedule = - { $what }, { $unit }: { $when }
show-policies = **Policies**, changed with `/facility policy`:
show-policy = - { $name }: { $value }
show-policies-usual = - { $count } as usual. Each is shown where you type `/facility policy`.
show-policy-set = - { $name }: **{ $value }** (usual: { $default })
# Stands right behind a line of show-policy.
show-policy-asked = { " " }· asked for: { $value }, waits for a supervisor
