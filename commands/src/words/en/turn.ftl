### A turnover step by step, out of service and back, holds, recalls, and the lists behind them.

## Cleaning in a turnover

clean-logged-product = **{ $surface }**: cleaned with { $product } ({ $method }). Recorded. Done in this order?
clean-logged-taken = **{ $surface }**: cleaned with { $product }, the only product of this kind on your list ({ $method }). Recorded. Done in this order?
clean-wet-until = **Keep it wet until { $at }** ({ $minutes } min). I call you then. The label and the maker come first.
clean-no-list = Wet for the contact time on the label. There is no list of products here yet: a supervisor sets it with `/facility product`.
clean-soap-not-enough = Soap and water alone does not finish a cleaning between residents. Disinfect, then record that with `/clean` too.
clean-marked-not-sporicidal = **This does not finish it:** only a product that your list calls sporicidal does. Clean it again with one.
clean-marked-no-list = **This does not finish it yet.** Follow your home's policy for spores. It counts once a supervisor has the product on the list as sporicidal: `/facility product`
clean-again = It has to be disinfected again, then dried and looked at again.
clean-ready-soiled = **{ $tag }** was ready and is not any more: it goes through its turnover again. Next: `/clean` with the reason between-residents.
clean-still-out = **{ $tag }** is still out of service. Upkeep brings it back with `/return`.
clean-damaged = **{ $tag }** is out of service: a damaged cover lets fluid in. Put a label on it and keep it apart.
clean-damaged-under = **{ $tag }** is out of service: a damaged cover lets fluid in. A resident is on it: call the nurse now, who gets another surface. The unit has been told.

## Steps

lack-cleaned = cleaning between residents
lack-dried = rinse and dry
lack-inspected = inspection
lack-parts = parts
lack-filter = filter
lack-function = test run
released-turnover = Next, the turnover: upkeep does it, or whoever of the unit has time. `/clean` with the reason between-residents, then dry, look, parts, filter and test run. Target: { $hours } h.
released-place = It goes to: { $place }. Once ready: { $ready }
released-waiting = Still on one out of service, and waiting for a ready one ({ $count }): { $these }. Does it fit them? `/match`
released-held = **{ $tag }** stays held for an inquiry: leave it as it is. Nobody cleans, resets or repairs it.
released-out-of-service = **{ $tag }** is still out of service. Put a label on it and keep it apart from the ready ones.
turn-head = **{ $tag }**, turnover:
turn-marked = **Clean last, sporicidal only.**
turn-step-done = { $number }. { $step }: done { $at }, { $who }
turn-step-now = { $number }. **{ $step }: now**
turn-step-left = { $number }. { $step }
turn-now-cleaned = Unplug first. Cover closed while it is wet. Then record it: `/clean surface:{ $tag }`
turn-now-dried = Rinse, then dry it all, seams and zip too, before anything is plugged in.
turn-wet-until = Keep it wet until { $at }. Then rinse and dry.
turn-now-inspected = Unplugged. Look at all sides, zip and seams, then inside the cover. Never push a needle through a cover. The maker's instructions win.
turn-now-inspected-closed = Unplugged. Look at all sides, zip and seams. The maker says: do not open this cover.
turn-now-parts = Unplugged. Are control unit, every hose and connector, cord and plug and all straps clean and whole?
turn-now-filter = Unplug the control unit before you open it. A wet filter goes back only when it is dry.
turn-now-function = All dry? Plug it into the wall and let it fill with nobody on it. No alarm, and full within { $minutes } min.
turn-filter-already = **{ $tag }**: the filter has been seen to already.
turn-already = { $step }: recorded already, { $at }, { $who }.
turn-nothing-new = Nothing new to record here.
turn-stained = **{ $tag }**: stained outside. Recorded. Clean it again, then dry it and look again. A stain that stays: ask upkeep.
turn-which-part = **{ $tag }**: which part is damaged? It then goes out of service.
surface-out-next = To bring it back, upkeep types `/return surface:{ $tag }`.
turn-left = **{ $tag }** is not ready yet. Left: { $left }.
turn-ready = **{ $tag }** is ready for the next resident.
turn-quick = It may need { $needs } min to fill, and the step before was { $had ->
        [0] just now
        [one] a minute ago
       *[other] { $had } min ago
    }. Not quite full yet? Take it back.
turn-ready-owner = **{ $tag }** is clean, to go back to its owner. It is not for the next resident.
turn-ready-place = It goes to: { $place }
turn-mark-ended = The marker "clean last" has ended with it.

button-dried = Rinsed and dry
button-whole = Whole and dry, inside too
button-whole-outside = Whole and dry outside
button-stained = Stained outside
button-wet-inside = Wet or stained inside
button-torn = Torn or damaged
button-parts = All clean and whole
button-part-damaged = One is damaged
button-fails = Alarm, or not full
menu-part = Which part is damaged?

post-contact = **{ $surface }**: the contact time is over. Rinse, dry, then tap.
post-contact-done = **{ $surface }**: rinsed and dry ({ $who }).
post-turnover-late = **Turnovers over { $hours } h ({ $count }).** Upkeep, please finish them:
post-turnover-line = - **{ $surface }** since { $since }. Left: { $left }
post-turnover-line-marked = - **{ $surface }** (clean last, sporicidal only) since { $since }. Left: { $left }
post-turnover-more = - and { $count } more

fault-turn-order = Nothing recorded: { $tag } first needs { $missing }.
fault-still-wet = Not yet: { $tag } must stay wet until { $at }, { $minutes ->
        [one] 1 more minute
       *[other] { $minutes } more minutes
    }. Nothing was recorded.
fault-turn-other = This card is from an earlier turnover of { $tag }, so nothing was recorded. Type `/surface surface:{ $tag }` for a new one.
fault-turn-out = { $tag } is out of service since { $since }, so its turnover has stopped. Upkeep brings it back with `/return`.

## The home's lists

product-set = On your home's list now:
show-product = - Disinfectant **{ $name }**: { $method }, wet for { $minutes } min
show-product-sporicidal = - Disinfectant **{ $name }**: { $method }, wet for { $minutes } min, sporicidal
show-storage = - Soiled surfaces stand in { $dirty }, ready ones in { $clean }
suggest-product = { $name }: wet for { $minutes } min
suggest-product-sporicidal = { $name }: wet for { $minutes } min, sporicidal
product-dropped = **{ $name }** is off your home's list. What was cleaned with it stays on record.
product-dropped-last = **{ $name }** is off your home's list, which is empty now: any disinfectant counts by its kind alone. Set the list soon.
product-quaternary-spores = Look at the label again: quaternary products do not usually kill spores.
storage-set = Set: soiled surfaces go to { $dirty }, ready ones to { $clean }.
mark-on = **{ $surface }**: clean last, sporicidal only. Do not write why, here or anywhere in this chat.
mark-on-ready = It was ready and is not any more: it is cleaned again first, with a sporicidal product.
mark-on-again = What was cleaned so far does not count: clean it again with a sporicidal product.
mark-off = **{ $surface }**: the marker "clean last" is off. Your infection control decides when it may be.
mark-on-already = **{ $surface }** has the marker already: clean last, sporicidal only.
mark-off-already = **{ $surface }** has no marker. There is nothing to take off.

fault-product-new = It is not on the list yet. Type its method and its contact minutes from the label, such as method:quaternary contact:3
fault-product-soap = Soap and water is no disinfectant, so it is not on this list. Choose quaternary, bleach or other.
fault-product-empty = There is no "{ $typed }": the list is still empty. Add it with method and contact, such as method:quaternary contact:3
fault-product-unknown = There is no "{ $typed }" on your list. On it: { $these }. To add it, type its method and contact too.
fault-products-many = The list holds at most { $most } products. Take one off with contact:0 first.
fault-product-method = { $name } is on your list as { $method }. Type method:{ $method }, or choose the product that you used.
fault-product-none = Your list has no product of the kind { $method }. On it: { $these }. Use one of these, or ask a supervisor to set `/facility product`.
fault-product-which = Which product? On your list: { $these }. Type it as **product**.
fault-product-unlisted = "{ $typed }" is not on your list. Of this kind there are: { $these }. Between residents use one of them.
fault-plain-name = **{ $option }** may have letters, digits and simple signs only. Type it as on the label or the door.
fault-storage-same = Soiled and ready surfaces must not stand in one place. Type two places.

## Out of service and back

pulled = **{ $tag }** is out of service: { $fault }. Put a label on it and keep it apart. Upkeep brings it back with `/return`.
pulled-under = **{ $surface }** is out of service: { $fault }. **A resident is on it:** stay, and have a nurse come with a ready surface. The unit has been called, and the alarm stays open until the resident is on another surface.
pulled-under-nurse = **{ $surface }** is out of service: { $fault }. **A resident is on it:** stay with them, have a ready surface brought, and move them by the care plan. The unit has been called, and the alarm stays open until they are on another surface.
returned = **{ $tag }**: repaired, and the safety test passed. Its turnover is next.
return-head = **{ $tag }**, back into service:
return-repair = 1. **Repaired, or looked through and found whole: now**
return-correct = 1. **The maker's correction is done, as the recall says: now**
return-repaired = 1. Repaired or found whole: done { $at }, { $who }
return-corrected = 1. Maker's correction: done { $at }, { $who }
return-test = 2. Safety test after that
return-test-failed = 2. Safety test: **failed.** It stays out of service. Repair it, then test again.
return-then = 3. Then its turnover: cleaning, inspection, test run.
button-repaired = Repaired, or found whole
button-corrected = Maker's correction done
button-repair-note = With a note
button-test-passed = Safety test passed
button-test-failed = Safety test failed
form-repair-title = Repaired: { $tag }

post-pull-taken-back = **{ $surface }**: out of service was a mistake and is taken back ({ $who }).
post-pulled = **{ $surface }**: out of service, { $fault } ({ $who }). Upkeep, please keep it apart.
post-pulled-under = **{ $surface }**: out of service, { $fault }, and still under a resident ({ $who }). Nurse, come now. Bring a ready surface.
post-pulled-under-nurse = **{ $surface }**: out of service, { $fault }, and still under a resident. { $who } is there and decides. Bring a ready surface.

fault-pulled = { $surface } is out of service already, since { $since }: { $fault }. Upkeep brings it back with `/return`.
fault-pulled-under = { $surface } is out of service already, since { $since }: { $fault }. **A resident is on it:** stay, and have a nurse come with a ready surface.
fault-pulled-under-nurse = { $surface } is out of service already, since { $since }: { $fault }. **A resident is on it:** stay with them, have a ready surface brought, and move them by the care plan.
fault-return-under = { $tag } is still under bed { $bed }. A nurse gets the resident onto another surface first: `/release`
fault-return-in-use = { $surface } is in use and not out of service. There is nothing to bring back.
fault-return-turnover = { $tag } is back already and in its turnover. Go on with `/clean` or `/surface`.
fault-test-first = Nothing recorded: { $tag } is repaired, or found whole, before its safety test.

## Holds

held = **{ $surface }** is held for an inquiry and out of service. Only a supervisor can release the hold.
held-under = **A resident is on it:** get them onto another surface now. `/release` is allowed, and it stays held.
held-steps = 1. Leave it as it is, plugged in or not. Nobody cleans, resets, opens or repairs it.
    2. Write down on paper what the panel shows, and how cord, hoses and settings are.
    3. No photo and no names into this chat: your risk manager says how to take one.
held-report = Reports (21 CFR 803; your risk manager decides what applies): a death to the FDA and the maker, a serious injury to the maker, within { $days } work days of { $from }, so by **{ $by }**. The days count from when somebody here first knew; another day: `/hold` again with `known:`. Local rules and licensed staff come first.
held-report-over = **The days to report were over on { $by }** ({ $days } work days of { $from }, when somebody here first knew; 21 CFR 803). Call your risk manager now. Another day: `/hold` again with `known:`.
hold-head = **{ $surface }** is held for an inquiry by { $who } since { $since }.
hold-reported = Reported { $at }, { $who }.
hold-reported-now = **{ $tag }**: reported. Nobody is reminded any more. It stays held.
# A day so long ago may be a slip: asked before anything is recorded.
hold-ask = **{ $surface }**: known since { $day }, { $count } days ago? Nothing is recorded yet. Holding it takes it out of service at once.
hold-ask-under = **A resident is on it,** and would need another surface now.
button-hold-sure = Yes, hold it
fault-known-ahead = { $typed } is still to come. Type the day on which somebody here first knew of the injury.
hold-sure = Release the hold of **{ $tag }**? From then on it may be cleaned, repaired and tested, and what it shows may be lost. Ask your risk manager first.
hold-sure-unreported = **Nobody has said yet that the injury was reported.**
hold-released = The hold of **{ $tag }** is released. It stays out of service until upkeep brings it back with `/return`.
surface-held = **Held for an inquiry** by { $who } since { $since }: do not clean, reset or move it on.
card-held = **Held for an inquiry:** do not clean, reset or unplug it once nobody is on it.
button-reported = Reported
button-let-go = Release the hold
button-let-go-sure = Yes, release it

post-held = **{ $surface }** is held for an inquiry ({ $who }). Nobody cleans, resets, repairs or moves it on. Keep it apart as it is.
post-held-under = **{ $surface }** is held for an inquiry and still under a resident ({ $who }). Nurse, come now, bring a ready surface. Then leave it as it is: nobody cleans or resets it.
post-held-under-nurse = **{ $surface }** is held for an inquiry and still under a resident. { $who } is there and decides. Bring a ready surface. Then leave it as it is: nobody cleans or resets it.
post-hold = **{ $surface }** is held for an inquiry. { $left ->
        [0] **Today is the last work day** to report
        [one] 1 work day is left to report
       *[other] { $left } work days are left to report
    } (21 CFR 803, by { $by }), if it applies. Risk manager and local rules decide.
post-hold-over = **{ $surface }** is held for an inquiry, and **nobody has said that it was reported.** The work days of 21 CFR 803 ended on { $by }. Speak with your risk manager today.
post-hold-settled = **{ $surface }**: seen to ({ $who }).

fault-held = { $tag } is held for an inquiry by { $who } since { $since }, so nothing was recorded. Leave it as it is. A supervisor can release it: `/hold`
fault-hold-over = This hold of { $tag } is over. Type `/hold` to see how it stands.

## Recalls

recall-what-lot = { $profile }, lot { $lot }
recall-preview = **Recall { $what }**: { $count ->
        [one] 1 surface
       *[other] { $count } surfaces
    } found. Nothing is pulled yet.
recall-under = **Under residents: { $count }.** They stay there until a nurse has another surface for each:
recall-under-none = None is under a resident.
recall-still-under = Still under residents: { $tags }.
recall-unit = - { $unit }: { $tags }
recall-preview-foot = "Pull all" tells the units and cannot be taken back: each comes back singly, with the maker's correction. Check profile and lot against the maker's letter first; what it says about residents comes first.
recall-pulled = Pulled: { $count }. Still under residents: { $under }.
recall-told = The units, and upkeep in { $channel }, have been told, and supervisors are reminded every day. See how it goes: `/recall` again.
recall-told-no-upkeep = The units have been told, and supervisors are reminded every day. There is no role for upkeep here: tell whoever keeps them apart. See how it goes: `/recall` again.
recall-supervisors-pull = A supervisor pulls them. Read here how far it is.
recall-changed = The register has changed since. Look again:
recall-already = They have been pulled already.
recall-head = **Recall { $what }**, since { $since }: { $open } of { $all } open
recall-by-unit = { $unit }: { $tags }
recall-is-under = - **Still under residents ({ $count })**: { $tags }
recall-is-held = - Held for an inquiry ({ $count }): { $tags }
recall-is-waiting = - Waiting for the maker's correction ({ $count }): { $tags }
recall-is-corrected = - Corrected, test to come ({ $count }): { $tags }
recall-is-in-turnover = - In turnover ({ $count }): { $tags }
recall-is-ready = - Ready again ({ $count }): { $tags }
recall-is-retired = - Retired ({ $count }): { $tags }
recall-over = **All have come to their end.** Answer the maker's letter and file it.
button-recall = Pull all { $count }
fleet-added-recalled = **{ $tag }** is in the register with profile { $profile }. **It is of a recall, so it is out of service at once.** See `/recall`.
import-recalled = **Of a recall, and out of service at once:** { $tags }. If one is under a resident, get another surface there. See `/recall`.

post-recall-unit = **Recall { $what }.** Out of service and still under residents here: { $tags }. Nurse, plan another surface for each, as the maker's letter says.
post-recall = **Recall { $what }**: { $count ->
        [one] 1 surface is
       *[other] { $count } surfaces are
    } out of service ({ $who }). { $under } Upkeep, keep the others apart.

fault-recall-none = No surface of { $what } is in the register. If one comes in later, type `/recall` again.
fault-no-lot = There is no lot "{ $typed }" of this profile. Did you mean: { $these }?
fault-no-lots = No surface of { $profile } has its lot on record. Leave **lot** out to see all of them.
