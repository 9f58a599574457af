### What is reckoned: bleach and water, owning or renting, how many to own.


## Bleach

# The amounts are a heading: they are read at arm's length, with gloves on.
mix-protect = {"**"}First:** gloves, eye protection, a window open or a fan on. **Never with acids, ammonia or any other cleaner: the gas is poison.**
mix-amounts = ## { $bleach } bleach in water, { $volume } in all
mix-makes = At least { $ppm } ppm ({ $percent } %) from bleach of { $stock } %: 1 part bleach and { $parts } parts water.
mix-in-ml = In millilitres: { $bleach } bleach in water, { $volume } in all.
mix-not-usual = {"**"}Your home's bleach usually says { $usual } %.** Read this label again.
mix-order = Most of the water first, cold, then the bleach, so that it does not splash. Then water up to the mark.
mix-label = Label the bottle: bleach, { $ppm } ppm, made { $made }. **Throw it away at { $until }** ({ $hours } h), fresh each day.
mix-first = Soap and water first, then rinse. Only on a surface whose maker allows bleach this strong.
mix-contact-label = Keep it wet as long as the product's label says. Then rinse well and dry.
mix-contact-listed = Keep it wet as long as your home's list says ({ $products }). Then rinse well and dry.
mix-contact-of = { $product }: { $minutes } min
mix-foot = The label, the maker and your home's policy decide. Strong smell: leave, and air the room.
mix-strong = {"**"}{ $percent } % is { $ppm } ppm, { $times } times the { $usual } ppm that is usual against spores.** It burns skin and eyes and ruins covers. Did you mean { $less } %?
button-mix-less = { $percent } % ({ $ppm } ppm)
button-mix-sure = No, { $percent } % ({ $ppm } ppm)
mix-and = { $first } and { $last }
mix-why = { $stock } % ÷ { $percent } % − 1 = { $parts } parts water (CDC, Best Practices for Environmental Cleaning, appendix E; WHO 2014, annex G). 1 % is 10,000 ppm.
    In { $volume } that is { $exact } mL of bleach. Rounded up to what can be measured, { $measured } mL make { $made } ppm: never weaker than asked.
    Taken as given: the bottle holds what its label says. An old or warm one holds less.
suggest-mix-stock = { $percent } % on the label ({ $ppm } ppm)

unit-teaspoon = { $count ->
        [one] teaspoon
       *[other] teaspoons
    }
unit-tablespoon = { $count ->
        [one] tablespoon
       *[other] tablespoons
    }
unit-ounce = { $count ->
        [one] ounce
       *[other] ounces
    }
unit-cup = { $count ->
        [one] cup
       *[other] cups
    }
unit-quart = { $count ->
        [one] quart
       *[other] quarts
    }
unit-gallon = { $count ->
        [one] gallon
       *[other] gallons
    }

fault-mix-off = Bleach is not mixed in this home. Use a ready-made product of your home's list. A supervisor can change that: `/facility policy name:bleach-mixing value:yes`
fault-mix-not-below = Water makes nothing stronger: the bottle has { $stock }, and **target** asks for { $target }. Type a weaker one, such as 5000 ppm, or read the label again: household bleach says 5 to 9 %.
fault-mix-nearly = {"**"}target** is nearly the bleach itself: { $target } from { $stock } leaves no room for water. Type a weaker one, such as 5000 ppm.
fault-mix-target-none = Water without bleach is no mixture: **target** must be above 0. Type the strength that you need, such as 5000 ppm or 0.5 %.
fault-mix-stock-none = A bottle with 0 % has no bleach in it. Type the percentage on its label as **stock**, such as 8.25.
fault-mix-little = That is too little bleach to measure. Mix more at once: type a larger **volume**, such as 1 L.
fault-mix-stock = I cannot read **stock**. Type the percentage on the label, such as 8.25.
fault-mix-stock-ppm = {"**"}stock** is the percentage on the label, such as 8.25, and no label says more than 100. If you mean ppm, write it: 52500 ppm.
fault-mix-stock-share = Does the label say { $percent } %? Then type it so. If it says { $typed } %, type the sign too.
fault-mix-percent = {"**"}{ $option }**: no percentage is above 100. For parts per million write ppm, such as 5000 ppm.
fault-mix-strong = {"**"}{ $option }** is stronger than bleach is sold for cleaning ({ $most } % at most). Read the label again: it says a percentage, such as 8.25.
fault-mix-weak = {"**"}{ $option }** is weaker than I work out ({ $least } ppm at least). If it was a percentage, write the sign: 0.5 %.
fault-mix-ratio = A ratio such as 1:10 means two things, so I do not read it. Type the percentage on the label as **stock** and ppm or percent as **target**, such as 5000 ppm.
fault-mix-target = I cannot read **target**. Type ppm or percent, such as 5000 ppm or 0.5 %.
fault-mix-target-unit = {"**"}target** needs its unit. Type { $typed } { $unit }.
fault-mix-target-units = {"**"}target** needs its unit: { $typed } ppm, or { $typed } %? Type one of the two.
fault-mix-volume = I cannot read **volume**. Type an amount and its unit, such as 1 L, 500 mL, 1 gallon or 32 oz.
fault-mix-volume-unit = { $typed } of what? Type the unit too, such as 1 L, 500 mL, 1 gallon or 32 oz.
fault-mix-volume-none = There must be something to mix. Type how much you need, such as 1 L.
fault-mix-volume-much = That is more than a drum of 200 L. Type what you mix at once, such as 5 L or 1 gallon.
fault-mix-volume-thousands = Does the mark in **volume** set off thousands? Type 1500 mL, or 1.5 L.

## Owning or renting

cost-own = Owning beats renting from **{ $from } days** of use a year; yours were used **{ $used }**.
cost-rent = Renting is cheaper below **{ $from } days** of use a year; yours were used **{ $used }**.
cost-own-typed = Owning beats renting from **{ $from } days** of use a year, so it does at **{ $used }**.
cost-rent-typed = Renting is cheaper below **{ $from } days** of use a year, so it is at **{ $used }**.
cost-unknown = Owning beats renting from **{ $from } days** of use a year. How much yours are used is not known yet: type `days`.
cost-never = Renting is cheaper even for all days of a year: owning would need **{ $days }** days of use to pay.
cost-each = Owning one: { $own } a year. Renting one: { $rate } a day.
cost-year = { $days } days a year: { $rent } rented, { $own } owned.
cost-typed = Typed: { $what }
cost-policy = By your home's policies: { $what }
cost-records = From your records: { $what }
cost-beside = Your own records, not taken here: { $what }
cost-price = price { $price }
cost-salvage = brings { $salvage } at the end
cost-years = lasts { $years } years
cost-interest = interest { $interest } % a year
cost-upkeep = upkeep { $upkeep } a year
cost-rental = rent { $rate } a day
cost-rental-of = rent { $rate } a day ({ $count ->
        [one] 1 rental
       *[other] the middle of { $count } rentals
    }{ $kind })
cost-of-kind = { "" }, { $kind } only
cost-used = used { $days } days a year
cost-used-of = used { $days } days a year (of the last { $known } days: { $count ->
        [one] 1 surface was your own
       *[other] { $count } surfaces were your own
    } at some time{ $part }; today { $own }. Each day of each counted, they were yours for { $had } days)
cost-used-part = , { $count } of them not all of it
cost-not-policy = Not used: the { $set } a day of the policy rental-day. What you rent for comes first; type `rental` to try another figure.
cost-no-upkeep = Repairs, covers, filters and tests are not in it. Type `upkeep`, or set the policy own-upkeep.
cost-too-little = { $known ->
        [one] Only 1 day is on record
       *[other] Only { $known } days are on record
    }, and { $enough } are needed to say how much yours are used.
cost-table-head = Days of use from which owning pays, if one of these were a fifth less or more:
cost-less = less
cost-more = more
cost-cell-never = never
input-price = price
input-salvage = end value
input-years = years
input-interest = interest
input-upkeep = upkeep
input-rental = rent a day
cost-foot = A yardstick before tax and without staff time. Whoever buys decides.
cost-why = Owning a year: ({ $price } − { $salvage }) × { $factor } + { $salvage } × { $interest } % + { $upkeep } = **{ $own }**. { $factor } is what each year pays back of 1 at { $interest } % over { $years } years (the uniform series of engineering economy texts). { $own } ÷ { $rate } a day = **{ $days } days**.
cost-why-used = Use: in the last { $known } whole days you had { $count ->
        [one] 1 surface of your own
       *[other] { $count } surfaces of your own
    } at some time, and have { $own } today. Each day of each counted, they were yours for { $had } days, and under a bed on { $used } of these: { $year } days a year each. Each came from its bed { $turns } times a year.
cost-why-part = { $count ->
        [one] 1 of them came or went in that time, and counts for its days in the register.
       *[other] { $count } of them came or went in that time, and count for their days in the register.
    }
cost-why-mean = On average { $under } of { $had } were under a bed.
cost-why-taken = Taken as given: the same upkeep each year, a rental that is billed for its days under a bed only, and a vendor who has one when you need it.

fault-amount = I cannot read **{ $option }**. Type an amount of money, such as { $example }.
fault-amount-negative = {"**"}{ $option }** cannot be less than nothing. Type an amount, such as { $example }.
fault-amount-comma = Does the mark in **{ $option }** set off thousands? Type 4200, or 38.50 with a point and two digits.
fault-amount-much = {"**"}{ $option }** is more than { $most }. Type what one surface costs, such as { $example }.
fault-salvage = {"**"}salvage** is more than the price of { $price }. Type what it still brings at the end of its life, or leave it out.
fault-rental-free = A rental that costs nothing needs no reckoning. Type what one costs a day, such as 38.50.
fault-no-rental = What renting costs is not on record, or not for this kind. Type it with `rental`, such as 38.50, or set the policy rental-day.
fault-interest-share = Is that { $percent } % a year? Then type it so. If you mean { $typed } %, type the sign too.
fault-share = Is that { $percent } %? Then type it so. If you mean { $typed } %, type the sign too.
fault-figure = I cannot read **{ $option }**. Type a number, such as { $example }.
fault-figure-negative = {"**"}{ $option }** cannot be less than nothing. Type a number, such as { $example }.
fault-figure-thousands = Does the mark in **{ $option }** set off thousands? Type 1500, or 1.5.
fault-figure-range = {"**"}{ $option }** must be from { $least } to { $most }. Type such as { $example }.

## How many to own

size-need = { $count ->
        [one] {"**"}1 surface** keeps the promise
       *[other] {"**"}{ $count } surfaces** keep the promise
    }: of those who need one, at most { $promise } will find none ready. You own **{ $own }**.
size-range = **Between { $low } and { $high } surfaces** keep the promise by what is on record, { $count } most likely: of those who need one, at most { $promise } will find none ready. You own **{ $own }**.
size-sure = All that is on record says { $count }.
size-now = With your { $own }, { $share } will find none ready.
size-now-out = With your { $own }, { $share } will find none ready; with the { $working } that work now, { $less }.
size-rented = { $count ->
        [one] 1 more is rented now.
       *[other] { $count } more are rented now.
    }
size-table-head = Surfaces owned, and how many will find none ready:
size-row-need = enough
size-row-own = yours
size-row-both = yours, enough
size-row-under = under 1 in 1,000
size-from-records = From your own records: on average { $load } were in use in the last { $known } days. To try other figures type `admissions`, `stay` or `shortfall`.
size-from-both = From what you typed ({ $typed }), and for the rest from your own records of { $known } days.
size-typed-admissions = { $day } a day need one, which is { $week } a week
size-typed-stay = each for { $days } days
size-from-typed = From what you typed: { $typed }. Without it your own records are used.
size-foot = A yardstick. Your home decides what it promises, and whom it helps elsewhere meanwhile.
share-one-in = 1 in { $count }
share-in-hundred = { $count } in 100
share-in-ten = { $count } in 10
share-under = under 1 in 1,000
share-all = over 9 in 10
size-why-load = If there were always one, **{ $load }** would be in use on average.
size-why-load-range = If there were always one, **{ $load }** would be in use on average (95 of 100 sure: { $low } to { $high }).
size-why-in-use = Your records of { $known } whole days: on average { $own } of your own under a bed, { $rented } rented ones, { $turning } in their turnover.
size-why-sure = How sure that is allows for days that are alike, because who has one today has it tomorrow: a use lasts about { $stay } days, and { $ended } ended in that time.
size-why-records = From { $requests } placements and { $ended } uses that ended in { $known } days; a use lasts { $stay } days, its turnover included.
size-why-admissions = Typed: { $count } a day need one.
size-why-stay = Typed: one is needed for { $days } days.
size-why-beds = Engset's formula, because only { $beds } beds can ask and each asks only while it has none.
size-why-beds-turning = Engset's formula, because only your { $beds } beds can ask and each asks only while it has none. They count as { $asking }: while a surface is in its turnover, the bed it came from can ask for another (about { $more } at a time).
size-why-open = Erlang's loss formula, because those who may ask are many beside those who have one.
size-why-taken = Taken as given: people come independently of each other, whoever finds none is helped elsewhere, days in turnover count as in use and days in repair do not, and those who found none before are on record only where one was rented.

fault-size-too-little = Too little is on record: { $known ->
        [one] 1 day
       *[other] { $known } days
    } and { $ended ->
        [one] 1 use that ended
       *[other] { $ended } uses that ended
    }, of { $days } days and { $stays } uses at least. Type both yourself: `admissions`, such as 3 a week, and `stay`, such as 40 days.
fault-size-fills = That would keep { $load } in use at once, and fill all { $beds } beds that can ask: check the figures.
fault-size-beds-used = **beds**: { $used } surfaces lie under beds now, so { $beds } beds cannot be all that could ask for one. Type { $used } or more, or leave it out: your home's own beds are taken then.
fault-size-home = **admissions** and **stay**: together they would keep { $load } surfaces in use at once, and your home has { $beds } beds. Type fewer `admissions` or a shorter `stay`, or type in `beds` how many beds could ask.
fault-size-load = That would be more than 1,000 surfaces in use at once. Type fewer `admissions` or a shorter `stay`.
