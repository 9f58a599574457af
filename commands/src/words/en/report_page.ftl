### A report's page: its parts, the heads of its tables, what stands in their cells.

report-title = Evidence: { $first } to { $last }
report-made = Made for { $who } on { $at }, the home's time ({ $zone }).
report-what = Taken from the home's own log of its powered air surfaces, as entries stand now: corrected ones as corrected, those taken back left out and listed at the end. A reading is one moment and no proof of safety. Treat this page as a chart.
report-beds = Beds are named: the home has approved that.
report-no-beds = Beds are not named: the home has not approved that. Surfaces stand by their tag and the unit they lay in.

report-h-short = In short
report-h-asked = What is often asked for, and where it stands
report-h-checks = Checks made on time
report-h-missing = Checks that are not on record
report-h-lows = Low readings and what followed
report-h-alarms = Alarms: how long they took
report-h-each-alarm = Each alarm
report-h-register = Register of surfaces, as it stands now
report-h-set-ups = Set-up of each placement, and rails looked at again
report-h-beds = Beds, rails and their gaps, as they stand now
report-h-zones = Gaps as measured in these days
report-h-outs = Out of service and back
report-h-services = Repairs, tests and maintenance
report-h-turns = Turnovers between residents
report-h-cleanings = Cleanings
report-h-filters = Filters
report-h-holds = Kept for an inquiry
report-h-recalls = Recalls
report-h-outages = Power failures
report-h-away = loftwatch away
report-h-overrides = Placed without a paper, with the reason
report-h-sign-offs = Sign-offs
report-h-settings = Settings changed in this period
report-h-corrected = Corrected, remarked on, signed or taken back
report-h-method = How it was worked out
report-h-seal = Seal of the log

report-asked-how = By regulations of the United States. Which of them a surveyor goes by, and what else the State asks for, the home knows.
report-ask-skin = Care against pressure injury (42 CFR 483.25(b)(1))
report-ask-hazards = Hazards and supervision (42 CFR 483.25(d))
report-ask-equipment = Equipment in safe working order (42 CFR 483.90(d)(2))
report-ask-beds = Bed frames, surfaces and rails looked at together (42 CFR 483.90(d)(3), 483.25(n))
report-ask-infection = Cleaned between residents (42 CFR 483.80(a))
report-ask-staff = Who may do what without being looked after
report-ask-injury = Injury with a device, and its report (21 CFR 803.30)
report-ask-absent = What was not recorded, or was done without
report-ask-true = How far this page can be relied on

report-none = None on record in these days.
report-table-left = { $count ->
        [one] The oldest line is
       *[other] The oldest { $count } lines are
    } left out here; the rows' file has what the chat takes.
report-all = All together
report-not-on-record = not on record
report-was-away = loftwatch was away
report-approved-all = no profile named
report-gap-open = not acted on
report-gap-acted = acted on { $at }
report-gap-none = none
report-still-open = not yet
report-still-held = still held
report-cause-none = not named
report-unit-none = No unit
report-by-cause = Cause: { $cause }
report-by-unit = Unit: { $unit }
report-by-shift = Shift from { $shift }
report-after = after { $after }: { $what }
report-alarm-no = alarm #{ $no }
report-released = released from the bed
report-nothing-yet = nothing on record
report-placed = placed
report-moved = moved with the resident
report-no-list = no checklist
report-complete-after = after { $after }
report-done-of = { $done } of { $of }
report-rails-not-wanted = no rails
report-went-out = broken off, out of service: { $why }
report-went-for-good = broken off, left for good
report-went-into-use = placed; ready not on record
report-life-placed = in use, { $at }
report-life-soiled = to be turned over
report-life-ready = ready
report-filters-clean = Looked at, clean and left as they were: { $count }. The others:
report-turn-times = From released to ready: { $spread }.
report-seal = The newest record when this page was made is #{ $no }. Its hash, which stands for every record before it as well:
report-seal-how = To check: `loftwatch verify --record { $no }`, run on the home's file, must call it whole and give this same hash. Any record altered, added or taken out since would change it.
report-seal-none = The log's seal was not at hand.

report-col-entry = Entry
report-col-when = When
report-col-began = Began
report-col-from = From
report-col-until = Until
report-col-lasted = Lasted
report-col-day = Day
report-col-which = Which
report-col-bed = Bed
report-col-beds = Beds
report-col-rails-of = Rails
report-col-approved = Approved for
report-col-measured-ever = Gaps ever measured
report-col-measured-last = Gaps last measured
report-col-measured = Measured in these days
report-col-gap-over = Over the limit, zones
report-col-surface = Surface
report-col-surfaces = Surfaces
report-col-profile = Profile
report-col-lot = Lot
report-col-serial = Serial, lot
report-col-state = State
report-col-in-service = In service since
report-col-safety-test = Safety test
report-col-maintenance = Maintenance
report-col-filter-look = Filter looked at
report-col-filter-new = Filter changed
report-col-cleaned = Cleaned
report-col-part = Unit and shift
report-col-on-time = On time
report-col-made = Made
report-col-could-not = Could not
report-col-missing = Not on record
report-col-away = Of these, away
report-col-group = Which
report-col-alarms = Alarms
report-col-open = Open
report-col-taken = On the way
report-col-safe = Resident safe
report-col-over = Over
report-col-taken-after = On the way after
report-col-safe-after = Safe after
report-col-over-after = Over after
report-col-what = What
report-col-cause = Cause
report-col-called = Calls
report-col-reading = Reading
report-col-role = Role
report-col-followed = What followed
report-col-how = How
report-col-complete = Checklist
report-col-left = Left on it
report-col-rails = Rails and gaps
report-col-fault = Why
report-col-why = Why
report-col-repaired = Repaired
report-col-tested = Safety test
report-col-returned = Let back
report-col-ready = Ready
report-col-ready-after = Took
report-col-cleaned-with = Cleaned with
report-col-reported = Entered as reported
report-col-released = Released
report-col-unit = Unit
report-col-looked-at = Looked at
report-col-task = Task
report-col-current = Current
report-col-lapsed = Lapsed
report-col-was = Was
report-col-set-to = Set to
report-col-agreed = Agreed to by

## Settings that were changed

report-set = { $what }: { $from } → { $to }
report-set-agreed = { $what } (asked for by { $asker }, agreed to by { $who })
report-agreed-none = needs nobody else
report-set-none = not set
report-set-usual = { $value }, as usual
report-set-one = one
report-set-another = another
report-set-up = Home set up; time zone
report-set-role = Chat role: { $role }
report-set-channel-of = { $what }, its channel
report-set-product = Disinfectant { $name }
report-set-not-same = { $what }, not the same ones
report-set-beds = { $count ->
        [one] 1 bed
       *[other] { $count } beds
    }
report-set-frame = Frame: beds { $beds }
report-set-frames = { $count ->
        [one] Frame of 1 bed
       *[other] Frames of { $count } beds
    }
