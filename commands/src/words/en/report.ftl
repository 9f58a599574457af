### A report: the command, what the chat says of a period, how its figures were worked out.

about-report = The evidence of a period: a page to print and its rows, for a survey
option-report-period = Which days, such as: last month, 2026-10, last 30 days
option-report-from = The first day, such as 2026-10-01, instead of a period
option-report-to = The last day, such as 2026-10-31; today if you leave it out

fault-period = "{ $typed }" is no period that I know. Type `last month`, `2026-10`, `last 30 days`, or `2026-10-01 to 2026-10-31`.
fault-period-ahead = Nothing is on record yet: { $first } is ahead, and today is { $today }. Type a period that has begun, such as `last month`.
fault-period-backwards = { $last } is before { $first }. Type the earlier day first, such as `{ $last } to { $first }`.
fault-period-long = That is { $days ->
        [one] 1 day
       *[other] { $days } days
    }; one report covers at most { $most }. Ask for it in parts, such as a year and then the next.
fault-period-to = From which day? Give `from` too, such as `from:2026-10-01`, or type a `period`, such as `last month`.
fault-period-twice = Give either a `period` or `from` and `to`, not both.

button-by-part = By unit and shift

report-head = **{ $first } to { $last }** ({ $days ->
        [one] 1 day
       *[other] { $days } days
    })
report-alarms-none = Alarms: none.
report-alarms = Alarms: { $count }. On the way: { $taken }.
report-alarms-over = Over: { $over }.
report-alarms-open = Not over yet: { $count }.
report-spread = half within { $half }, 9 in 10 within { $most }
report-spread-few = after { $least } to { $most }
report-spread-one = after { $after }
report-spread-half = half within { $half }, fewer than 9 in 10 are over
report-not-known = fewer than half are over
report-not-yet = not yet
report-minutes = { $count } min
report-hours = { $count } h
report-days = { $count ->
        [one] 1 day
       *[other] { $count } days
    }
report-hours-and = { $count } h { $rest } min
report-days-and = { $count ->
        [one] 1 day
       *[other] { $count } days
    } { $rest } h
report-checks-none = Checks: none was due.
report-checks = Checks: { $checks }.
report-share = { $done } of { $due } on time (between { $low } and { $high } in 100 would be no surprise)
report-share-sure = { $done } of { $due } on time ({ $share } in 100)
report-could-not = Of these, could not be made, with why: { $count }.
report-running = The shift from { $from } is not over and is not counted.
report-missed-away = Not on record, in a shift in which loftwatch was away: { $count }.
report-again = Looked at again in time, where that was booked: { $kept } of { $booked }.
report-lows = Low readings: { $count }, with no air left: { $bottomed }.
report-trending = Trending lower now, to be inspected: { $tags }.
report-set-ups = Set-ups: { $complete } of { $count } complete.
report-house = Out of service: { $out }. Turnovers: { $turns }. Cleanings: { $cleanings }. Filters looked at: { $filters }.
report-corrected = Corrected, remarked on or taken back: { $count }. Each stands with how it read before.
report-files = Below: a page to print, and the rows for a spreadsheet. In these `kind` and `status` are fixed words for programs, and `what` says it in plain ones. Look through both before they leave the house. A reading is one moment and no proof of safety.
report-rows-left = The chat takes no larger file: the oldest { $count ->
        [one] row is
       *[other] { $count } rows are
    } not in it. For them ask again: `/report from:{ $first } to:{ $from }`.
report-rows-left-day = The chat takes no larger file: the oldest { $count ->
        [one] row of { $first } is
       *[other] { $count } rows of { $first } are
    } not in it. They are kept in the home's own file: ask whoever runs the computer.
report-begins = The log begins on { $began }: of the days before that it knows nothing.
report-begins-after = The log begins on { $began }, after these days: it knows nothing of them.

report-parts-checks = **Checks on time**
report-parts-alarms = **Alarms**, until somebody was on the way
report-part = { $unit }, shift from { $shift }
report-part-none = no unit, shift from { $shift }
report-part-alarms = - { $part }: { $count ->
        [one] 1 alarm
       *[other] { $count } alarms
    }, { $taken }

## How the figures were worked out, a line each

report-how-checks = Checks (due: { $due }): one in each shift, or in each stretch that the home's policy check-every sets, for every surface whose profile wants one and that lay in service under an occupied bed for at least half of it. On time: a check, or why there could be none, that happened in it, whenever it was typed. Corrected entries count as corrected, and what was typed from paper by when it happened.
report-how-share = "A to B in 100": where the share may lie if chance alone moved it (Wilson's score interval, 95 in 100; Wilson 1927, Newcombe 1998). A small count gives a wide one.
report-how-again = Looked at again: within { $minutes } min after it was booked for, when a second call would come. Left out, because no more needed by then: { $moot }.
report-how-alarms = Alarms: from being raised to "on my way", to "resident safe", and to the end (fixed with an adequate check, or the surface off the resident). One taken back as a mistake is none. loftwatch knows of an alarm when somebody types it, not when it sounds.
report-how-waits = Half and 9 in 10: the product-limit estimate (Kaplan and Meier 1958), in which an alarm that is not over counts as longer than it has lasted. Of fewer than 5 the shortest and the longest are given. The cause is what was entered last. Times are never said shorter than they were: part of a minute counts as a minute, from 3 hours on part of an hour as an hour, from 3 days on part of a day as a day, here and in the pictures.
report-how-limits = It shows what was entered, not what was done and left out; it says nothing of any person, and no figure here is a standard. Policy, the maker's instructions and licensed staff decide.
report-how-lows = Low readings: by the band that each was judged by when it was made. What followed runs to the next reading on the same surface; "nothing on record" says just that, not that nothing was done.
report-how-set-ups = Set-ups: every placement and move of the period with its checklist; a surface that came into the register with its bed lay there already, and is none. Complete means that nothing was left on it; a list that came later, after a power failure for example, is not counted.
report-how-turns = Turnovers: from released to ready, for those that began in the period; one that is not ready counts as longer than it has lasted, and one that was broken off (out of service, recalled, kept for an inquiry, gone for good) as longer than it had lasted then. Costs are in no report.
report-how-register = Register: as it stands when the page is made, not at the end of the period. A day without an entry is not on record.
report-how-settings = Settings: each change with what held before it, when it took effect, who made it or asked for it and, where another had to agree, who agreed. What was set to what it was already is no change. What is not listed held all through these days.
report-how-corrected = Corrections: how an entry read before is struck through, with the role, the time and the reason under it. Nothing is erased from the log.
report-how-time = Times: the home's own ({ $zone }; zone rules { $rules }). A shift belongs to the day on which it begins. Shifts, units and policies are those in force at the time.
report-how-home = The home's own figures today: adequate from { $low } to { $high } of air, unless a profile says otherwise; an alarm that nobody takes calls after { $first }, { $second } and { $third } min, then every { $repeat } min; a safety test every { $months } months.
report-how-people = People stand by role only, on this page and in its rows: whom it was made for, who entered, corrected, asked or agreed. No name and no number of anybody's account is in either, unless somebody typed one into a note. The number of an entry (#) is that of the log, where the home finds who made it.
