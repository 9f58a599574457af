### What is due, what the clock posts, handover, summary, suggestions, help.

## Due lists. The names follow right behind each line that ends in a blank.

due-head = **Due now, all units**
due-head-unit = **Due now, { $unit }**
shift-head = **New shift, all units.** Due now:
shift-head-unit = **New shift, { $unit }.** Due now:
shift-head-upkeep = **New shift, upkeep.** Due now:
due-order = **To order ({ $count })**: { $these }
due-order-item = { $item } ({ $count } left)
due-recalled = { $surface } (recalled)
due-nothing = Nothing is due. Next checks from { $at }.
due-alarm = **Alarms open ({ $count })**, oldest { $oldest }:{ " " }
due-still-under = **Out of service, still under a bed ({ $count })**:{ " " }
due-recheck = **Check again ({ $count })**, first { $oldest }:{ " " }
due-try-again = **Could not be checked, try again ({ $count })**, first { $oldest }:{ " " }
due-check = **Hand checks ({ $count })**:{ " " }
due-filter-old = **Filters at the maker's limit ({ $count })**:{ " " }
due-filter-look = **Filters to look at ({ $count })**:{ " " }
due-losing-loft = **Trending lower, inspect ({ $count })**:{ " " }
due-turnover = **Turnovers to finish ({ $count })**:{ " " }
due-repair = **Waiting for repair ({ $count })**:{ " " }
due-gap-over = **Gaps over the limit, act now ({ $count })**:{ " " }
due-after-power = **After the power failure ({ $count })**:{ " " }
due-steps = **Set-up to finish ({ $count })**:{ " " }
due-static-over = **Static mode over its time ({ $count })**, since { $oldest }:{ " " }
due-leave-over = **Back in bed? ({ $count })**:{ " " }
due-safety-test = **Safety tests ({ $count })**:{ " " }
due-maintenance = **Maintenance ({ $count })**:{ " " }
due-outlet-test = **Wall outlets to test ({ $count })**:{ " " }
due-paper-missing = **In use without a paper ({ $count })**:{ " " }
due-held = **Held for an inquiry ({ $count })**:{ " " }
due-idle = **Rented and idle ({ $count })**:{ " " }
due-pickup = **Pickups to confirm or to come ({ $count })**:{ " " }
due-clean-last = { $surface } (clean last, sporicidal only)
due-more = { " " }and { $count } more
due-alarm-short = alarm open
due-still-under-short = needs another surface
due-recheck-short = check again
due-try-again-short = try the check again
due-check-short = hand check due
due-filter-old-short = change the filter
due-filter-look-short = look at the filter
due-losing-loft-short = trending lower, inspect
due-turnover-short = finish the turnover
due-repair-short = waiting for repair
due-gap-over-short = gap over the limit
due-after-power-short = after the power failure
due-steps-short = finish the set-up
due-static-over-short = still in static mode
due-leave-over-short = back in bed?
due-safety-test-short = safety test due
due-maintenance-short = maintenance due
due-outlet-test-short = test the outlet
due-paper-missing-short = paper missing
due-held-short = held for an inquiry
due-idle-short = rented and idle
due-pickup-short = pickup to confirm

slot-late = Late: this was meant for { $at }.

post-recheck = **{ $surface }**: time to check again. How much air under the person?
post-recheck-shift = **{ $surface }**: **low, and not looked at again** since { $at }. How much air under the person now?
post-try-again = **{ $surface }**: could not be checked before. Please try now. How much air under the person?
post-undelivered-alarm = **{ $surface }**: alarm open for { $span } and nobody is on it. The call could not be posted in { $channel }: **nobody there has been called.** Go now, or send somebody by phone. Whoever manages this chat: let loftwatch see and write there again.
post-undelivered-spare = **{ $surface }**: alarm open for { $span }. On record nobody lies on it. The call could not be posted in { $channel }: **nobody there has been called.** Send somebody to look whether that is so. Whoever manages this chat: let loftwatch see and write there again.
post-undelivered-recheck = **{ $surface }**: it is time to check the air again. The call could not be posted in { $channel }: nobody there has been called. Tell them by phone. Whoever manages this chat: let loftwatch see and write there again.
post-undelivered-list = A list could not be posted in { $channel }: nobody there can read it. Look at `/due` and `/handover`, and tell them what is on it. Whoever manages this chat: let loftwatch see and write there again.
post-undelivered = A call could not be posted in { $channel }: nobody there has been called. Look at `/due` now and tell them by phone. Whoever manages this chat: let loftwatch see and write there again.
unsaved = **I can save nothing at the moment.** I take no entries, and I call nobody, not even for an open alarm. Until I say here that it works again, go by voice and phone, and write on paper. Whoever runs loftwatch: look at its disk now.
unsaved-open = Alarms open: { $tags }
unsaved-over = **I can save again.** What was due in the meantime is called now, late. Enter what stands on paper: `/catchup`
uncalled = **I call nobody at the moment**, not even for an open alarm: something in me fails when I look for what is due. I take entries as before. Until I say here that it works again, go by voice and phone. Whoever runs loftwatch: look at its log now.
uncalled-over = **I call again.** What was due in the meantime is called now, late.
post-clock-back = This computer's clock was set back by { $span }; it is now { $now } by it. Calls go on as if nothing had been. Times of entries just before are as the old clock had them: look them through with `/timeline`, and put right with `/amend` what matters.
post-clock-on = This computer's clock was set forward by { $span }; it is now { $now } by it. What was to come meanwhile comes now. Times of entries just before are as the old clock had them: look them through with `/timeline`, and put right with `/amend` what matters.
post-away = loftwatch was away from { $from } to { $to } and called nobody in that time. Please look at `/due` now. What was written on paper: enter it with the option **when**.
post-put-back = loftwatch was put back, from a backup, to how it stood on { $from }. **What was entered since then is not in it.** Enter it again from paper and from this chat, with the option **when**. Calls that were on their way then are not repeated. Please look at `/due` now.
post-no-backup = No backup of loftwatch's records could be made; the newest is from { $last }. Everything is recorded and called as usual, but if this computer's disk fails, what was entered since is lost. Please tell whoever runs loftwatch today.
post-no-backup-yet = No backup of loftwatch's records could be made, and there is none yet. Everything is recorded and called as usual, but if this computer's disk fails, all of it is lost. Please tell whoever runs loftwatch today.

## Rounds that are not entered

rounds-head = **Hand checks not entered yet** in the shift from { $since }:
rounds-line = - **{ $unit }**, { $left } of { $all }: { $tags }
rounds-foot = Beds that were said to be empty are not among them. Made, but not entered: `/catchup`

## Summary

summary-head = **Summary, all units**
summary-head-unit = **Summary, { $unit }**
summary-figures = Checked this shift: { $checked } of { $placed } placed
    Ready { $ready } · soiled { $soiled } · out of service { $out }
    Alarms open: { $alarms }

## Suggestions while somebody types

suggest-why = { $surface }: { $why }
suggest-alarm = alarm open, { $span }
suggest-bed = { $bed }, { $unit }
suggest-policy = { $name }, now { $value }

## Help

help-line = `/{ $path }` { $about }
help-group = { $paths } { $about }
help-option = - `{ $name }`: { $about }
help-option-may = - `{ $name }` (may be left out): { $about }
help-columns = First line of **{ $what }**: `{ $must }`, and if known `{ $may }`
help-more = Everything else
help-foot = Care plan, home's policy and maker first.
    More below, or: `/help topic:alarm`
help-unknown = I have no command and no topic "{ $topic }". Try beeping, low, filter, clean, bleach, power, admission or mistake; `/help` alone has every command.
help-not-set-up = loftwatch is not set up here yet. Whoever manages this chat types `/facility setup`.
help-no-role = I do not know your role here yet. Ask your supervisor for the chat role of an aide, a nurse, a supervisor or upkeep.

mention-files = I take files only with `/fleet import`, and nothing was recorded. If the file shows a person or a name, please delete your message.
help-head = **What you do most** ({ $roles })
help-begin = loftwatch is not set up here yet, and you may do it: type `/facility setup`. It asks for:
    - the time zone of the home
    - the channels of care and of supervisors
    - the chat roles of aides, nurses and supervisors
    Then `/facility unit` and `/fleet import`. `/facility show` says what is still missing.

# A few words behind a command, so that both fit one line of a phone.
help-short-round = Due beds, one tap each
help-short-alarm = It beeps, or it is flat
help-short-due = What waits now
help-short-handcheck = One reading, typed
help-short-clean-filter = Clean it, look at it
help-short-static-cpr = Hold still, CPR
help-short-surface-timeline = One surface
help-short-duty-handover = Your shift
help-short-pull = Take it out of service
help-short-outage = The power is out
help-short-alarm-outage = It beeps, no power
help-short-place-release = Under a bed, off it
help-short-move-swap-leave = Bed changes
help-short-setting = Table and setting in use
help-short-handcheck-round = Check air
help-short-match = One for an admission
help-short-fleet-list = Every surface
help-short-report = Evidence for a survey
help-short-agency-team-signoff = People
help-short-hold-recall = Injury, recall
help-short-match-rental-list = Spares, rent
help-short-facility-show = This home's settings
help-short-pull-return = Out of service, back
help-short-service = Tests and maintenance
help-short-stock = The shelf, when to order
help-short-mix = How much bleach goes in
help-short-zones = Gaps at a bed
help-short-facility-setup = Zone, roles
help-short-facility-unit = A unit and its beds
help-short-fleet-import = Read a CSV file
help-short-facility-schedule = When lists come
help-short-facility-policy = One limit or time
help-short-facility-ladder = Who is called
help-short-fleet-size = How many to own
help-short-fleet-cost = Own or rent
