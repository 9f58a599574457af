### The house: frames and gaps of beds, papers, rentals, stock, whose a surface is.

## Frames

frame-set = Set.
frame-line = - **{ $beds }**: { $frame }
frame-more = …and { $count } more.
frame-unknown = nothing on record
frame-size = { $width } × { $length }
frame-width = { $width } wide
frame-length = { $length } long
frame-outlet-tested = outlet tested { $day }
frame-outlet-failed = outlet failed { $day }
outlet-failed = The outlet at bed { $bed } failed. Plug the surface into another good one now, no extension cord or power strip, and see that it runs and fills. Keep this one from being used. It stays due until it passes.
post-outlet-failed = **{ $surface }**: the wall outlet at its bed failed its test and must not be used ({ $who }). Nurse, is it running from another one, with its setting as before?
frame-approved = approved only: { $these }
frame-measure = Measure the gaps again with the surface in place: `/zones`
rails-none = no rails
rails-full = full rails
rails-split = split rails
rails-half = half rails
rails-grip = grip only
outlet-hospital-grade = hospital-grade outlet
outlet-ordinary = ordinary outlet
outlet-emergency = outlet on emergency power

fits-narrower = **Look:** it is { $size } wide and the frame { $frame }. More than { $free } stays free: measure the gaps at the rails now (common practice).
fits-shorter = **Look:** it is { $size } long and the frame { $frame }. More than { $free } stays free at head or foot: measure the gaps now (common practice).
fits-gap-over = **A gap of bed { $bed } was over the limit** (zone { $zones }) and has not been measured within it since. Act on it now, and measure again: `/zones`

## Gaps

zones-head = **Gaps of bed { $bed }**, with { $tag } in place:
zones-head-empty = **Gaps of bed { $bed }**, with no surface of ours there:
zones-within = - Zone { $zone }: { $gap }, under the limit
zones-over = - Zone { $zone }: { $gap }, **over the limit** (less than { $limit })
zones-over-neck = - Zone { $zone }: { $gap }, **over the limit** (less than { $limit }, its angle more than { $degrees }°)
zones-noted = - Zone { $zone }: { $gap }, noted: there is no limit for it
zones-noted-air = - Zone { $zone }: { $gap }, noted: no pass on an air surface
zones-not-judged = - Zone { $zone }: { $gap }, not judged without its angle. Enter it again with **angle4**
zones-act-nurse = **Act now**, as the care plan and your policy say. The supervisor is called. It stays due for a licensed assessment until it is measured again and not over.
zones-act = **Act now**, as the care plan and your policy say. Nurse and supervisor are called. It stays due for a licensed assessment until it is measured again and not over.
zones-still-over = Zone { $zones } was over before and was not measured now: it stays due.
zones-over-ended = Nothing of this bed is on record as over any more: it is off the due list.
zones-step-done = Set-up: this counts as rails and gaps looked at again. Look at the zones that you did not measure, too.
zones-step-open = Set-up: rails and gaps stay open. Zones not measured now: { $zones }. Measure all of 1 to 4 and type them in one `/zones`, or look at all and tap [Rails and gaps looked at].
zones-step-missed = Set-up: rails and gaps are not right yet.
zones-again = Measure again with the surface in place: air gives way.
zones-caution = Limits: FDA guidance of 2006. Under a limit is no promise. The maker's instructions and a licensed assessment decide.
zones-acted = Noted for bed { $bed }: **{ $did }**. It stays due for a licensed assessment until it is measured again and not over: `/zones`
zones-acted-already = { $who } said so for bed { $bed } at { $at } ({ $did }). It stays due until it is measured again: `/zones`
zones-did-what = What was done at once at bed { $bed }?
menu-gap-acts = What was done at once…
gap-act-rail-lowered = rail lowered
gap-act-rail-removed = rail removed
gap-act-gap-filled = gap filled
gap-act-bed-out = bed taken out of use
gap-act-resident-moved = resident moved to another bed
gap-act-assessment-asked = assessment asked for
gap-with-acts = { $surface } ({ $did })
card-gap-acted = Done at once: { $done }. It stays due for a licensed assessment.
post-gap-over = **{ $surface }**: gap over the limit at its bed (zone { $zones }), measured by { $who }. Nurse, come now: act as the care plan and your policy say. A licensed assessment is due.
post-gap-over-nurse = **{ $surface }**: gap over the limit at its bed (zone { $zones }). { $who } measured it and acts as the care plan and your policy say. A licensed assessment is due.
post-gap-over-ended = **{ $surface }**: measured again { $at } by { $who }, and not over the limit any more (it was zone { $zones }). Off the due list.
post-gap-over-empty = **A bed in { $unit } with no surface of ours**: gap over the limit (zone { $zones }). { $who } measured it and knows which bed. Act as your policy says. A licensed assessment is due.

## A surface's card

whose-resident = **A resident's own.** It goes with them and is not for other beds.
whose-hospice = **A hospice's.** It goes back to them and is not for other beds.
whose-rented = Rented, and its days are not counted: `/rental start`
whose-rented-days = Rented, day { $days }
whose-rented-arrival = Rented, day { $days }. Not looked through since it came
whose-rented-called = Rented, day { $days }. Pickup called, not confirmed
whose-rented-confirmed = Off rent after { $days ->
        [one] 1 day
       *[other] { $days } days
    }. To be collected
surface-frame = Bed { $bed }: { $frame }
surface-gap-over = **Gap over the limit** at zone { $zones }, since { $since }
surface-gaps-wanted = Gaps: not measured with it in place. `/zones bed:{ $bed }`
surface-tested = Safety test: { $day }, next by { $next }
surface-not-tested = Safety test: none on record
surface-test-failed = Safety test: failed { $day }
surface-maintenance = Maintenance: due { $day }
surface-waived = **In use without its paper:** { $missing }

## Papers

paper-safety-test = safety test
paper-maintenance = maintenance
paper-arrival = arrival check
lack-paper-safety-test = a passed safety test (upkeep records it with `/service`)
lack-paper-maintenance = the maker's maintenance, past its day (upkeep records it with `/service`)
lack-paper-arrival = the check when it arrived (upkeep or supervisor, on its `/surface` card; a supervisor first types `/rental start`)
papers-ask = **{ $tag }** lacks: { $missing }. From { $from } to { $to } on work days upkeep gives it. Now you may place it all the same: a supervisor is told, and it stays due until the paper comes.
papers-other = **{ $tag }** is ready, of the same profile, and has its papers.
button-waive = Place without the paper
placed-without = **Without its paper:** { $missing }. Supervisor and upkeep were told. It stays due until the paper comes.
post-paper-waived = **{ $surface }**: placed without its paper ({ $missing }) by { $who }, outside office hours. Give the paper, or put another surface there.

## Service

work-safety-test = safety test
work-maintenance = maintenance
service-passed = **{ $surface }**: { $work } passed on { $day }.
service-failed = **{ $surface }**: { $work } failed on { $day }.
service-next = Next by { $day }.
service-no-next = No day for the next: its profile names none. Give one with the option **next**.
service-caution = The maker's instructions and local codes decide what a test must show.
out-now = **{ $tag }** is out of service. Put a label on it and keep it apart.
out-under = **{ $surface }** is out of service and still under the resident. Nurse and upkeep are called. The alarm stays open until the resident is on another surface.
out-already = **{ $surface }** is out of service already.

## Rentals

rental-started = **{ $surface }** is on rent from today, { $rate } a day.
rental-arrival = **Arrival check:** clean and dry · cover whole, inside too where the maker allows a look · complete with cord, hoses and straps · the label of the vendor's test · runs, fills, no alarm. All of it?
rental-arrived = **{ $surface }** arrived as it should.
rental-arrived-test = It also needs a safety test on record before first use: `/service`. The vendor's label gives the day.
rental-arrived-badly = Do not use it. Tell the vendor now. To send it back: `/rental stop`
rental-called = **{ $tag }**: pickup called. Tell the vendor now. It costs until they confirm: ask for their number.
rental-reference = Their number for the rental: { $reference }
rental-called-already = **{ $tag }**: pickup was called { $since } and is not confirmed yet.
rental-confirmed-already = **{ $tag }**: pickup was called { $since } and is confirmed. It waits to be collected.
rental-confirmed = **{ $tag }** is off rent. { $days ->
        [one] 1 day
       *[other] { $days } days
    }, { $cost } in all. Tap when the vendor has collected it.
rental-collected = **{ $tag }** is back at the vendor and out of the register. No turnover is needed here. { $days ->
        [one] 1 day
       *[other] { $days } days
    }, { $cost } in all.
rental-collected-unconfirmed = The vendor never confirmed the pickup: ask for it in writing, or it may go on costing.
rental-none = Nothing is rented. A rented surface is added with `/fleet add … owned:rented`, then `/rental start`.
rental-head = { $count ->
        [one] **1 rented surface**
       *[other] **{ $count } rented surfaces**
    }, { $cost } so far
rental-line = - { $surface } · { $days ->
        [one] 1 day
       *[other] { $days } days
    } · { $cost }
rental-line-unknown = - { $surface } · not counted: `/rental start`
rental-line-idle = **idle** since { $since }
rental-line-called = pickup called, not confirmed
rental-line-confirmed = off rent, to be collected
rental-more = …and { $count } more.
rental-foot = A day begun counts as a day. The vendor's contract decides.
post-rental-idle = **{ $surface }**: rented and under no bed since { $since }. { $days ->
        [one] 1 day
       *[other] { $days } days
    }, { $cost } so far. Place it, or send it back with `/rental stop`.
post-pickup-unconfirmed = **{ $surface }**: pickup called { $called }, not confirmed. It goes on costing. Ask the vendor for their number.
post-pickup-late = **{ $surface }**: off rent, but not collected yet (pickup called { $called }). Ask the vendor when they come.
button-arrived-well = Arrived as it should
button-arrived-badly = Not as it should
button-pickup-confirmed = Vendor confirmed
button-collected = Collected
form-pickup-title = Pickup confirmed: { $tag }
form-pickup = The vendor's number
form-pickup-hint = As they gave it, such as P-20418. Leave it empty if they gave none
owned-owned = the home's own
owned-rented = rented
owned-resident = a resident's own
owned-hospice = a hospice's

## Whose it is

placed-again-resident = **{ $tag } is a resident's own** and was under a bed before. It is only for the one it belongs to. If this is another resident, release it now.
placed-again-hospice = **{ $tag } is a hospice's** and was under a bed before. Ask the hospice first. If they do not agree, release it now.
released-resident = **{ $tag } is a resident's own.** Have the family contact called, in your home's way, to fetch it.
released-hospice = **{ $tag } is a hospice's.** Call the hospice to fetch it.
fleet-others = Not the home's, and not in these figures: { $count }
fleet-whose = { $line } · { $whose }

## Stock

stock-head = **On the shelf**
stock-line = - **{ $item }**: { $count }
stock-line-not-counted = - **{ $item }**: not counted yet
stock-lasts = { $week } a week, lasts until about { $day }
stock-unused = none used lately
stock-order-at = order at { $point }
stock-order-now = **order now** (at or under { $point })
stock-too-little = too little history for a forecast
stock-more = …and { $count } more. `/stock item:` shows each.
stock-foot = Count: `/stock item:… count:12`. Why order then? `/stock item:…`
stock-nothing = Nothing is counted here. Type `/stock item:hose connectors count:6`
stock-about = **{ $item }**: { $count } on hand, counted { $counted }.
stock-below = By the books { $count } more were used than there were. Count again.
stock-why = Why { $point }: the fewest that last through { $days } days of delivery in { $service } of 100 cases, with { $mean } used in that time on average (last { $window } days, Poisson; order-days, order-service and order-window in `/facility policy`).
stock-not-counted = **{ $item }** is not counted yet. Type how many there are with the option **count**.
stock-counted = **{ $item }**: { $count } on hand.
stock-books = By the books there were { $books }.
stock-count-order = That is at or under { $point }: **order now**.
stock-first = Counted from now on. Filters go down by themselves as they are replaced.
stock-new = Tap only if it is something else that is not on the list yet.
button-new-item = It is a new item
post-stock-order = **{ $item }**: { $count } left on the shelf. Order more now. `/stock` says how long they last.
stock-left = **{ $item }**: { $count } left on the shelf. Order more now.

## No, and what to type instead

fault-policy-office = Not set: **office-from** must be earlier than **office-to**. Change the other one first.
fault-beds-unknown = There is no bed { $these }. Type beds of this home, such as 101-104.
fault-approved-empty = Which profiles? Type their names with commas between, or all.
fault-frame-size = **{ $option }** must be from { $least } to { $most } in. Type it like 36 in or 91 cm.
fault-frame-unit = **{ $option }**: { $number } of what? Type it with its unit: 36 in, 91 cm or 914 mm.
fault-not-approved = { $profile } is not approved for bed { $bed }. Approved there: { $these }. Choose one of those. Upkeep or a supervisor changes the list with `/facility frame`.
fault-too-wide = { $profile } is { $size } wide, and the frame of bed { $bed } only { $frame }. Choose a narrower one. If the frame is wrong, upkeep or a supervisor corrects it with `/facility frame`.
fault-too-long-for = { $profile } is { $size } long, and the frame of bed { $bed } only { $frame }. Choose a shorter one. If the frame is wrong, upkeep or a supervisor corrects it with `/facility frame`.
fault-zones-none = Which gaps? Give at least one, such as zone1:110 mm. Measure with the tool, and with the surface in place.
fault-angle-alone = **angle4** goes with **zone4**. Give both, such as zone4:50 mm angle4:65.
fault-angle = **angle4** is in whole degrees from 0 to 90, such as 65.
fault-angle-whole = **angle4** is in whole degrees. 60.5 does not count as more than 60: type 60.
fault-angle-big = **angle4** is at most { $most } degrees. Type it like 65.
fault-length-none = **{ $option }**: I see no measure. Type it like 110 mm or 4 3/8 in.
fault-length-unit = **{ $option }**: { $number } of what? Type { $number } mm, { $number } cm or { $number } in.
fault-length-negative = **{ $option }** cannot be less than nothing. Type it like 110 mm.
fault-length-big = **{ $option }** is more than { $most }. Type it like 110 mm or 4 3/8 in.
fault-length-two = **{ $option }**: I see two numbers. Type one, such as 110 mm.
fault-length-fraction = **{ $option }**: I cannot read this fraction. Type it like 4 3/8 in, or 110 mm.
fault-length-unknown = **{ $option }**: I do not know this unit. Type in, cm or mm, such as 110 mm.
fault-gap-over-no-more = Bed { $bed } was measured again, and nothing is over the limit now. Nothing was recorded.
fault-gap-newer = Bed { $bed } was measured again since. Tap on the newest card instead.
fault-papers = { $tag } may not be placed yet. Missing: { $missing }. Choose another, or have the paper given first.
fault-service-held = { $tag } is held for an inquiry: nothing is done to it until a supervisor releases it.
fault-service-next-failed = After a failed one there is no next day: leave **next** out. It is tested again after its repair.
fault-service-next = **next** must be after { $on }, and at most { $years } years ahead. Type it like 2027-03-01.
fault-service-newer = { $tag } has a newer one on record, of { $day }. Nothing was recorded.
fault-not-rented = { $tag } is { $whose }, by the register. A rented surface is added with `/fleet add … owned:rented`.
fault-rental-runs = { $tag } is on rent already, since { $since }. `/rental list` shows what it costs.
fault-rental-called = The pickup of { $tag } is called, and its rental since { $since } still runs. Tap **Vendor confirmed** first: `/rental stop` shows the buttons.
fault-rental-not-started = I do not know since when { $tag } is rented. Type `/rental start` first.
fault-rental-under = { $tag } is under bed { $bed }. A nurse releases it first with `/release`.
fault-rental-held = { $tag } is held for an inquiry and stays here until a supervisor releases it. Tell the vendor.
fault-rental-other = This card is about an earlier rental of { $tag }, so nothing was recorded. See `/rental list`.
fault-retired-back = { $tag } has left the house. Nothing was recorded.
fault-arrived-already = { $tag } was looked through already, { $at }. { $who }
fault-pickup-not-called = No pickup is called for { $tag }. Type `/rental stop` first.
fault-confirmed-already = The pickup of { $tag } was confirmed already, { $at }.
fault-place-called = The vendor was asked to fetch { $tag }. Choose another.
fault-money = I cannot read **rate**. Type what a day costs, such as 38.50.
fault-money-negative = **rate** cannot be less than nothing. Type what a day costs, such as 38.50.
fault-money-cents = **rate** has at most two digits after the point, such as 38.50.
fault-money-comma = Does the comma in **rate** set off thousands? Type 1200, or 38.50 with a point.
fault-money-much = **rate** is more than { $most } a day. Type what one day costs, such as 38.50.
fault-which-item = "{ $typed }" could be: { $these }. Type the whole name.
fault-no-item = There is no item "{ $typed }" on the shelf. `/stock` shows all.
fault-no-item-near = There is no item "{ $typed }". Did you mean: { $these }?
fault-item-name = An item has letters, digits, spaces and dashes, at most { $most } of them, such as hose connectors.
fault-items-many = There are { $most } items already, which is the most.
