### How often a filter is looked at: what was learned from the home's looks, and why.

filter-every = Look every { $days ->
        [one] day
       *[other] { $days } days
    }.
filter-every-now = Look every { $days ->
        [one] day
       *[other] { $days } days
    } from now on (before: { $before }): { $why }.
filter-now-new = the filter is new
filter-now-rinsed = the filter is rinsed
filter-now-longer = the looks on record let it go longer
filter-now-older = by the looks on record filters of its age get dirty sooner than new ones
filter-now-sooner = by the looks on record such filters get dirty sooner than was thought
filter-now-all-dirty = each was dirty at its first look
filter-now-dusty = it is dusty, so no longer than its profile says
filter-now-policy = your home's policy lets it go no longer
filter-now-profile = its profile's days hold
filter-even-a-day = Look every day. Even so it may be dirty before the look more often than your home allows: by the looks on record, filters like this get dirty that soon. Ask whether to change them sooner, and look for where the dust comes from; your home's policy and the maker's instructions decide.
filter-limit = Next look in { $days ->
        [one] 1 day
       *[other] { $days } days
    }: then it is as old as its maker lets it be.
filter-over = {"**"}This filter is { $age } days old, and its maker's limit is { $most }: change it**, then look in { $days ->
        [one] 1 day
       *[other] { $days } days
    }.
filter-new-instead = This filter has run { $age ->
        [one] 1 day
       *[other] { $age } days
    }. Change it today, and the next look is in { $days } days.
filter-left-dirty = {"**"}Found { $finding } on day { $day } of its use and left in: change it.{"**"} Your home's policy and the maker's instructions decide how soon.
filter-left-dirty-rinse = {"**"}Found { $finding } on day { $day } since it was new or rinsed and left in: rinse or change it.{"**"} Your home's policy and the maker's instructions decide how soon.
filter-early = {"**"}Found { $finding } on day { $day } of its use, long before the usual.{"**"} Look for the cause: a draught, lint, a blanket over the intake. Look again soon; your home's policy and the maker's instructions decide.
surface-filter-cycle = Next look at the filter: { $day } (every { $days ->
        [one] day
       *[other] { $days } days
    })
surface-filter-cycle-limit = Next look at the filter: { $day } ({ $days ->
        [one] 1 day
       *[other] { $days } days
    } after the last one: maker's limit)
surface-filter-over = {"**"}Its filter is { $age } days old, and its maker's limit is { $most }: change it.**
surface-filter-shelf = Looks at its filter wait until it is under a bed.
amend-filter-days = { $tag }: look again { $days ->
        [one] 1 day
       *[other] { $days } days
    } after the last look (before: { $before }).

button-filter-why = Filter: why so often?
button-cycles = All care units

## Why

cycle-head = **{ $surface }**: { $days ->
        [one] 1 day
       *[other] { $days } days
    } from the last look at its filter to the next
cycle-own = Its own looks: { $looks }, dirty or clogged at { $dirty }.
cycle-moved = Only those since it came to this care unit: other air, other dust.
cycle-by-own = Enough to go by themselves: { $filters } filters, one after another.
cycle-by-unit = Its own filters say too little alone, so with the others of its care unit: { $looks } looks at { $units } control units, dirty at { $dirty }. They tell how long { $filters } filters stayed clean.
cycle-by-home = Its own filters say too little alone, so with the others of the home: { $looks } looks at { $units } control units, dirty at { $dirty }. They tell how long { $filters } filters stayed clean.
cycle-few = Nothing is learned before there are { $looks } looks that tell something: the profile's days hold.
cycle-never = None was dirty, so nobody knows how long one lasts: on average { $mean } days at least (95% sure). The profile's days hold.
cycle-all-dirty = Each was dirty at its first look, the soonest after { $by ->
        [one] 1 day
       *[other] { $by } days
    }: half of that, until one is found clean.
cycle-off = The home has switched learning off: the profile's days hold, or fewer where fewer were said.
cycle-half-steady = By them half of the filters are dirty after { $half } days, with the same chance every day.
cycle-half-older = By them half of the filters are dirty after { $half } days, and an old one sooner than a new one: looks come closer with age.
cycle-half-apart = By them half of the filters are dirty after { $half } days. They follow no one curve: more were dirty early than a curve lets chance do.
cycle-seen = As they were seen it would be about { $seen } in 100, by { $filters ->
        [one] one filter that was looked at later
       *[other] { $filters } filters that were looked at later
    }; the worse holds.
cycle-seen-worse = That is as they were seen, by { $filters ->
        [one] one filter that was looked at later
       *[other] { $filters } filters that were looked at later
    }; by the curve it would be about { $curve } in 100, and the worse holds.
cycle-even-a-day = {"**"}Even after one day about { $chance } in 100 would be dirty, more than the home allows.{"**"} Nothing shorter than a day can be said: ask whether such filters should be changed sooner.
cycle-early = So the next look comes once after as many days, to see whether the cause is still there. Without that:
cycle-chance = Dirty before the next look, after { $days ->
        [one] 1 day
       *[other] { $days } days
    }: about { $chance } in 100. The home allows { $most } in 100, and the careful side is taken of what few looks leave open: it holds in 8 of 10 such cases.
cycle-held = The looks would allow { $free } days. A cycle grows by half at a time, to { $most } days at most, and a dusty filter that was left in, or the home's rule, may keep it to the profile's.
cycle-sooner = By what is known now it would be { $free ->
        [one] 1 day
       *[other] { $free } days
    }: said at its next look, which stays on its day.
cycle-limit = The profile says { $days ->
        [one] 1 day
       *[other] { $days } days
    }. The maker's limit stays { $limit } days from new: { $day }.
cycle-limit-over = The profile says { $days ->
        [one] 1 day
       *[other] { $days } days
    }. The maker's limit of { $limit } days from new ended on { $day }: a new filter comes before another look.
cycle-assumed = Assumed: it got dirty some day between two looks; days on a shelf are left out; the air stays as it was.

## By care unit

cycles-head = **Looks at filters, as they stand now**
cycles-line = - **{ $unit }**: { $days } · { $looks } looks, dirty at { $dirty }
cycles-days = every { $days ->
        [one] day
       *[other] { $days } days
    }
cycles-days-from = every { $least } to { $most } days
cycles-half = { " " }· half are dirty after { $half } days
cycles-rinsable = { $unit }, rinsed ones
cycles-more = And { $count } more.
cycles-none = Nothing with a filter is under a bed.
cycles-foot = Each filter has its own day: `/surface` says it, `/due` lists it.
