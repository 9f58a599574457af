### What stands in a picture, and what is read out in its place.

picture-day = { $day } { $month ->
    [1] Jan
    [2] Feb
    [3] Mar
    [4] Apr
    [5] May
    [6] Jun
    [7] Jul
    [8] Aug
    [9] Sep
    [10] Oct
    [11] Nov
   *[12] Dec
}
picture-percent = { $part }%
picture-span = { $from } to { $to }
picture-day-year = { $day } { $year }
picture-newest-of = { $span }; the newest { $shown } of { $count }

## Readings

button-picture = Picture
picture-said = **{ $surface }**: its readings since it was placed, { $count } of them. One adequate check is no proof of safety.
picture-said-no-bed = **{ $surface }**: its newest readings, { $count } of them. One adequate check is no proof of safety.
picture-nothing = **{ $surface }** has no reading to draw yet. Log one with `/handcheck surface:{ $tag }`
picture-readings = { $tag }: air under the person
picture-band = adequate: { $band }
picture-could-not = could not check
picture-felt = looked at and felt: no inches
picture-felt-of = Of these { $count ->
    [one] one was looked at and felt, and stands
   *[other] { $count } were looked at and felt, and stand
} apart below, without inches.
picture-mark-newest = newest { $air }
picture-mark-lowest = lowest { $air }
picture-trend = trend
picture-crosses = low on { $day }
picture-placed = placed
picture-moved = moved
picture-filter = filter { $action }
picture-setting = setting { $setting }
picture-readings-text = Picture of the air under the person on { $tag }, { $span }. Adequate is { $band }.
picture-no-readings = There are no readings.
picture-counts = Checks: { $counts }.
picture-count-adequate = { $count } adequate
picture-count-right = { $count } looked and felt right
picture-count-low = { $count } low
picture-count-bottomed-out = { $count } bottomed out
picture-count-high = { $count } high
picture-count-could-not = { $count } could not be made
picture-newest = Newest, { $at }: { $air }.
picture-lowest = Lowest, { $at }: { $air }.
picture-events = What happened, newest first: { $events }.
picture-and-more = { $these }; and { $count ->
    [one] one more, older
   *[other] { $count } more, older
}
picture-looked = { $tag }: looked at and felt
picture-looked-text = Picture of how { $tag } looked and felt, { $span }.
picture-lowest-measured = Lowest with a number, { $at }: { $air }.
picture-left-out-about = { $span }; { $count ->
    [one] one check is not on the line, and left out
   *[other] { $count } checks are not on the line, and left out
}
picture-trend-lower = The line through them goes lower.
picture-trend-higher = The line through them goes higher.
picture-trend-level = The line through them is level.
picture-trend-crosses = If it goes on so, it is low on { $day }.

## A filter's life

picture-lives = How long a filter stays clean
picture-lives-home = the whole home
picture-lives-about = { $of }: { $count ->
    [one] one filter, from new to dirty or to its last look
   *[other] { $count } filters, each from new to dirty or to its last look
}
picture-lives-up = Still clean
picture-lives-across = days since it was new or rinsed
picture-lives-seen = as found
picture-lives-fitted = worked out
picture-lives-promise = promised: { $share } clean
picture-lives-cycle = { $days ->
    [one] look every day
   *[other] look every { $days } days
}
picture-lives-promise-from = promised: { $share } of those clean on day { $age }
picture-lives-next = next look on day { $day }
picture-lives-text = Picture of how long a filter stays clean, from { $count ->
    [one] one that was looked at
   *[other] { $count } that were looked at
} ({ $of }). Promised: at least { $share } are clean at the next look.
picture-lives-apart = They follow no one curve.
picture-lives-worse = The worse holds: what was seen, or what was worked out.
picture-lives-half = { $days ->
    [one] Half are dirty after about a day.
   *[other] Half are dirty after about { $days } days.
}
picture-lives-cycle-text = { $days ->
    [one] Look every day
   *[other] Look every { $days } days
}: by then { $chance } are dirty.
picture-lives-left = day { $day }: { $finding }, left in
picture-lives-left-text = This one was found { $finding } on day { $day } and left in: change it, or rinse it if the maker says so. Policy and the maker's instructions decide how soon.
picture-lives-next-text = This one was clean on day { $age }. The next look is on day { $day }: by then { $chance } of such are dirty.

## How many to own

picture-fleet = How many surfaces are enough
picture-fleet-up = Share of requests with no ready surface
picture-fleet-across = surfaces owned
picture-fleet-none = with { $count }, { $chance } find none
picture-fleet-none-over = with { $count }, { $chance } find none: more than promised
picture-fleet-range = the area: where it may lie as well, by your records
picture-fleet-range-text = By your records it may be more or less: with { $count } from { $least } to { $most }.
picture-fleet-promise = promised: { $chance } or less
picture-fleet-now = owned today: { $count }
picture-fleet-now-beyond = owned today: { $count } →
picture-fleet-fewest = enough: { $count }
picture-fleet-both = owned today: { $count }, enough
picture-fleet-text = Picture of the share of requests for which no surface is ready, by how many surfaces are owned. With the { $owned } owned today { $now } find none. Promised: { $promise } or less. The fewest that keep it: { $fewest }; then { $then } find none.

## What is usual for a surface

picture-usual = { $tag }: what is usual for it
picture-usual-high = usual up to { $air } in
picture-usual-low = usual from { $air } in
picture-usual-mean = mean { $air } in
picture-usual-text = Picture of { $count ->
    [one] one reading
   *[other] { $count } readings
} of { $tag }, { $span }. Chance alone would keep them from { $from } to { $to } in; their mean is { $mean } in.
picture-usual-adequate = adequate from { $air }
picture-usual-below = A reading is adequate from { $air } on: what is usual reaches below that.
picture-usual-within = A reading is adequate from { $air } on.
picture-usual-none = None stands out.
picture-usual-out = { $count ->
    [one] One stands out
   *[other] { $count } stand out
}, newest first: { $these }.

## Coverage

picture-coverage = Checks made on time
picture-coverage-across = share made on time; the line: where it likely lies
picture-coverage-said = { $made } of { $of }, likely from { $low } to { $high }
picture-coverage-told = { $made } of { $of }, { $low } to { $high }
picture-coverage-about = { $span }; the axis begins at { $from }
picture-coverage-none = none to make
picture-coverage-text = Picture of the checks made on time, { $span }. Behind each: from where to where its share likely lies. { $rows }.

picture-rows = { $span }; rows { $from } to { $to } of { $rows }

## How long alarms waited

picture-waits = Alarms: until somebody was on the way
picture-waits-count = { $count ->
    [one] 1 alarm
   *[other] { $count } alarms
}
picture-waits-half = half within { $time }
picture-waits-most = 9 in 10 within { $time }
picture-waits-one = after { $time }
picture-waits-first = shortest { $time }
picture-waits-last = longest { $time }
picture-waits-not-known = not known yet
picture-waits-still = still waiting, longer than { $time }
picture-waits-still-new = still waiting
picture-waits-some-still = { $count ->
    [one] one still waiting, longer than { $time }
   *[other] { $count } still waiting, one longer than { $time }
}
picture-waits-some-still-new = { $count } still waiting
picture-waits-text = Picture of how long alarms waited until somebody was on the way, { $span }. { $rows }.

## Alarms

button-picture-alarm = Last alarm
picture-alarm-said = **{ $surface }**: how its last alarm went.
picture-alarm-none = **{ $surface }** has had no alarm.
picture-alarm-name = { $tag }, { $kind }, { $at }
picture-alarm = { $name }
picture-alarms = { $count ->
    [0] { $of }: no alarm
    [one] { $of }: one alarm
   *[other] { $of }: { $count } alarms
}
picture-alarms-across = minutes since it was opened
picture-alarms-none = Picture of alarms, { $of }: there was none.
picture-alarms-text = Picture of how it went. { $alarms }.
picture-step-opened = opened
picture-step-asked = asked
picture-step-again = called again
picture-step-taken = taken
picture-step-safe = resident safe
picture-step-fixed = over
picture-asked = { $count ->
    [one] asked once
   *[other] asked { $count } times
}
picture-still-open = still open after { $time }
