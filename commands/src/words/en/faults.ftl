### No, and what to type instead: every refusal, and what the privacy guard found.

## Rights and set-up

fault-cannot-go-other = { $who } is on the way to **{ $surface }**, so only { $who } can say so.
fault-cannot-go-nobody = Nobody is on the way to **{ $surface }** now: the others are being asked already.
fault-not-safe-nobody = Nobody has said that the resident on **{ $surface }** is safe: nothing to take back.
fault-not-safe-late = This can be taken back for { $minutes } minutes. Is the resident on **{ $surface }** in danger now? Go, and call the nurse by voice.
fault-role = For { $act } you need { $count ->
        [one] the role { $roles }. Ask somebody who has it to do it.
       *[other] one of these roles: { $roles }. Ask one of them to do it.
    }
fault-role-alarm = For { $act } you need one of these roles: { $roles }. **Is a surface alarming? Tell a nurse now, in person.**
act-read = **reading this**
act-check = **checking the air**
act-raise-alarm = **raising an alarm**
act-answer-alarm = **answering an alarm**
act-call-roll = **the roll call of a power failure**
act-pull = **taking out of service**
act-upkeep = **cleaning, filters and turnovers**
act-place = **placing, moving and releasing surfaces**
act-setting = **changing a setting**
act-gaps = **the gaps of a bed**
act-duty = **having a unit**
act-hand-over = **taking a shift over**
act-maintain = **tests, repairs and stock**
act-spares = **finding a surface**
act-read-recalls = **reading a recall**
act-frames = **the frames of beds**
act-look-again = **looking a second time**
act-supervise = **what supervision decides**
act-amend = **correcting an entry**
act-countersign = **signing an entry of somebody else**
act-read-fleet = **reading the register**
act-change-fleet = **changing the register**
act-reckon = **what surfaces cost**
act-settings = **the settings of the home**
act-policy = **changing a policy**
act-confirm-policy = **agreeing to a change of policy**
act-read-settings = **reading the settings of the home**
act-read-evidence = **reading evidence and rentals**
act-read-shelf = **reading the stock**
fault-not-set-up = loftwatch is not set up here yet. Whoever manages this chat types `/facility setup`.
fault-unknown-command = I do not know this command. Type `/help` to see them all.
fault-same-role = Aide, nurse, supervisor and upkeep must each be a different chat role. Choose again.
fault-role-everybody = **{ $option }**: `@everyone` is no role to choose. The chat counts nobody as holding it and rings nobody by it. Make a chat role, give it to the people of this job alone, and choose that one.
fault-set-up-lacks = For the first set-up type these too: { $these }.
fault-set-up-nothing = Type only what is to change, such as `/facility setup beds-in-posts:yes`. What holds now: `/facility show`
fault-zone = I know no time zone "{ $typed }". Type a city's zone, such as America/Chicago.
fault-zone-near = I know no time zone "{ $typed }". Did you mean: { $these }?
fault-ladder-order = Each call must come later than the one before, such as first:5 second:10 third:15.
fault-policy-name = I know no policy "{ $typed }". `/facility show` has them all, by pages.
fault-policy-value = I cannot read this value. **{ $name }** is from { $least } to { $most }, such as { $default }.
fault-price-none = What does one cost to buy? Type `price`, such as 4200.
fault-policy-comma = I cannot read a comma in a number. Type **{ $name }** with a point before the cents and no other mark, such as 45.50
fault-policy-whole = **{ $name }** takes whole numbers only, such as 6.
fault-policy-bounds = Not set: **{ $name }** must be from { $least } to { $most }, such as { $default }.
fault-policy-crossed = Not set: **air-low** must stay less than **air-high**. Change the other one first.
fault-policy-shifts = Not set: shifts must fit the day evenly. Type 6, 8 or 12 h.

## Options

fault-missing = **{ $option }** is missing. Type the command again and fill it in.
fault-too-long = **{ $option }** is too long. Use at most { $most } characters.
fault-not-a-choice = **{ $option }** must be one of these: { $choices }
fault-not-whole = **{ $option }** must be a whole number, such as 2.
fault-out-of-range = **{ $option }** must be from { $least } to { $most }.
fault-stale-tap = This button no longer works, and nothing was recorded. Type the command instead, such as `/due`.
fault-card-old = This card is from another shift, so nothing was recorded. Type `/round` or `/due` for a new one.

## Air

fault-air-empty = How much air? Type 1 1/4, 3/4", 3 cm, or none if you could not check.
fault-air-unit = { $number } of what? Type { $one } or { $other }.
fault-air-unit-one = { $number } of what? Type it with its unit: { $one }.
fault-air-negative = Air cannot be less than nothing. Type 0 if your hand feels the base.
fault-air-deep = That is more than { $most }, too deep for a reading. Type 1 1/4, 3/4" or 3 cm.
fault-air-two = I see two numbers. Type the one reading, such as 1 1/4 or 3 cm.
fault-air-fraction = I cannot read this fraction. Type 1/4, 1/2, 3/4 or 1 1/4 in inches, or 3 cm.
fault-air-unknown-unit = I do not know this unit. Type in, cm or mm: 1 1/4 in, 3 cm, 30 mm.
fault-air-none = I see no number. Type 1 1/4, 3/4", 3 cm, or none if you could not check.

## Moments

fault-when-shape = When was it? Type 13:40 or 20 min ago.
fault-when-unit = Minutes or hours? Type 20 min ago or 2 h ago.
fault-when-future = { $at } is still to come. Type when your hand was there, such as 13:40 or 20 min ago.
fault-when-old = That is too long ago. An entry can go back to { $oldest }.
fault-when-skipped = The clocks skipped that time. The next one there was is { $next }.
fault-when-half-day = { $second } or { $first }? Type it so, or with am or pm.
fault-entry-tag-none = { $surface } is a surface, and an entry has a number. You have none about it that can be corrected: look in `/timeline`.
fault-when-twice = The clocks showed that time twice. Type how long ago it was instead, such as 3 h ago.

## Surfaces, beds, units

fault-no-surface = No surface has the tag "{ $typed }", and none is under a bed of that name. Type a tag or a bed, such as LW-07 or 103.
fault-no-surface-near = I find no "{ $typed }". Did you mean: { $these }?
fault-which-surface = "{ $typed }" could be: { $these }. Type the whole tag or bed.
fault-no-unit = There is no unit "{ $typed }". Type one of these: { $these }
fault-no-units = There are no units yet. An admin types `/facility unit`.
fault-round-unit = Which unit? Type `/round unit:` and one of these: { $these }
fault-no-bed = There is no bed "{ $typed }". Choose one from the list that comes up while you type.
fault-no-bed-near = There is no bed "{ $typed }". Did you mean: { $these }?
fault-bed-empty = Bed { $bed } has no surface now. Type the tag of the surface you mean, such as LW-07.
fault-bed-taken-swap = Under bed { $bed } there is { $other } already. To put { $tag } in its place: `/swap bed:{ $bed } surface:{ $tag }`.
fault-bed-taken = Under bed { $bed } there is { $tag } already. Release that one first, or choose another bed.
fault-bed-elsewhere = Bed { $bed } belongs to { $unit }. Leave it out here, or add `take:yes` and it comes over with what is under it.
fault-unit-in-use = Unit { $unit } is not removed: { $tag } is under bed { $bed } there. Release or move what is under its beds first, or move the bed to another unit with `/facility unit`.
fault-unit-outage = Unit { $unit } is not removed: it is without power. Say first that power is back, on its card.
fault-capacity = I cannot use "{ $typed }" as a load. Write pounds or kilograms, such as 600 lb or 272 kg, up to { $most } lb.
fault-currency = I cannot use "{ $typed }" as a currency. Write its sign, such as €, or its code of three letters, such as USD; `none` for amounts without.
fault-bed-in-use = Bed { $bed } cannot go: { $tag } is under it. Release that one first, or keep the bed.
fault-unit-name = A unit's name is short, at most { $most } letters, digits, spaces and the signs - _ . / & ( ) + ' only. Type one like Elm.
fault-too-many-units = There are { $most } units already, which is the most.
fault-beds-empty = Which beds? Type them like 101-112, 114A.
fault-beds-name = I cannot read "{ $piece }" as a bed. Type beds like 101-112, 114A.
fault-beds-backwards = "{ $piece }" runs backwards. Type the lower number first, such as 101-112.
fault-beds-letters = "{ $piece }" is a range with letters. Type those beds one by one, such as 114A, 114B.
fault-beds-twice = Bed { $bed } stands there twice. Type it once.
fault-beds-many = Those are more than { $most } beds. Make two units of them.
fault-under-no-bed = { $tag } is under no bed, so there is nothing to do here. A nurse puts it under one with `/place`.
fault-before-placed = { $tag } has been there only since { $since }. Type a later time.
fault-placed-already = { $tag } is under bed { $bed } already. Release it there first.
fault-not-ready = { $tag } is not ready. Left: { $missing }. Choose another from the list, or finish this one first.
fault-out-of-service = { $tag } is out of service since { $since }. Choose another: while you type, the list shows those that are ready.
fault-retired = { $tag } is retired. Choose another.
fault-retire-under = { $tag } is under bed { $bed }. A nurse releases it first with `/release`.
fault-ready-already = { $tag } is ready already. There is nothing left to do.
fault-no-turnover = { $surface } is not in a turnover. If nobody lies on it any more, a nurse types `/release` first.
fault-clean-still-under = { $tag } is still under a bed. A nurse releases it first with `/release`. Cleaning it where it is: choose the reason routine or soiled.
fault-no-filter = { $tag } has no filter, its profile says. There is nothing to record.
fault-filter-not-rinsed = { $tag } has a filter that is not rinsed, its profile says. Put a new one in and choose replaced, or choose left.
fault-tag = A tag has letters, digits and dashes, at most { $most } of them, such as LW-41.
fault-tag-taken = { $tag } is in the register already. Use another tag.
fault-no-profile = There is no profile "{ $typed }". Type one of these: { $these }
fault-export = The file could not be made. Try again, and tell whoever runs loftwatch if it fails again.
fault-file-large = The file is too large. It may have { $most } MB. Split it.
fault-file-unavailable = The chat did not hand the file over. Send the command again.
fault-file-foreign = This file does not come from the chat itself. Attach it to the command.

## Alarms and taking back

fault-alarm-over = The alarm of { $tag } has been over since { $at }. { $who }
fault-alarm-unknown = This alarm is over. If it beeps again, type `/alarm`.
fault-alarm-bottomed-out = { $tag } is bottomed out. Only an adequate check closes that: tap **Fixed** on its card.
fault-take-back-newer = This cannot be taken back any more: there is something newer about { $tag }. Enter what is right now.
fault-take-back-other = Only the person who made an entry can take it back.
fault-take-back-late = An entry can be taken back for { $minutes } minutes. Enter what is right now, with a note.
fault-take-back-no-bed = The home has no bed { $bed } any more, so this cannot be taken back. Enter what is right now.
fault-take-back-taken = Somebody is on the way to { $tag } because of this. Tell them, then tap **Fixed** on the card.

## Schedules

fault-schedule-shape = When? Type daily 07:00, weekdays 06:45, every 8h from 07:00, never, or a cron line.
fault-schedule-time = I cannot read the time. Type hours and minutes, such as daily 07:00 or friday 15:30.
fault-schedule-twice = The same time stands there twice. Type it once.
fault-schedule-hours = Every { $hours } hours does not fit the day evenly. Type 1, 2, 3, 4, 6, 8 or 12 h, such as every 8h from 07:00.
fault-schedule-from = From when? Type it like every 8h from 07:00.
fault-schedule-fields = A cron line has 5 fields, and this has { $found }. Easier: daily 07:00.
fault-schedule-field = I cannot read this cron line. Easier: daily 07:00 or weekdays 06:45.
fault-schedule-weekday = Type weekdays as words, such as MON-FRI: their numbers mean different days to different people.
fault-schedule-day-and-weekday = Type the day of the month or the weekday, not both.
fault-schedule-often = That is too often. Leave at least { $least } minutes between two posts.
fault-schedule-never = That would never come. Type a day that exists.

## The privacy guard. Neither the text nor what was found in it is repeated.

fault-private = Nothing was recorded. Your text seems to hold { $what }. Write it again about the surface only: beds and tags, no people. If it stands in a message, delete that message.
private-social = a social security number
private-record-number = a record number
private-birth-date = a date of birth
private-phone = a telephone number
private-address = where somebody lives
private-email = an e-mail address
private-link = a web address
private-age = somebody's age
private-weight = somebody's weight
private-diagnosis = a diagnosis
private-serial = a serial number
private-name = a person's name
fault-alarm-pulled = { $tag } is out of service, so nothing on it counts as fixed. The alarm ends when the nurse has put another surface in its place: `/swap`
fault-tag-is-bed = { $bed } is a bed here, so a tag of that name would be mistaken for it. Give it another tag, such as LW-41.
fault-bed-is-tag = { $tag } is the tag of a surface, so a bed of that name would be mistaken for it. Give the bed another name.

fault-day = "{ $typed }" is not a day I can read. Type it like this, which is today: { $example }
fault-day-span = "{ $typed }" is not a day I can read. Type 2 weeks, 6 months, 1 year, or a day like this, which is today: { $example }
fault-day-past = "{ $typed }" is not a day I can read. Type yesterday, 3 days ago, 2 March, or a day like this, which is today: { $example }
fault-day-which = "{ $typed }" could be { $first } or { $second }. Type the one that you mean, as it stands here.
fault-day-ahead = { $typed } is still to come. Type the day on which it was done.

fault-policy-near = I know no policy "{ $typed }". Did you mean: { $these }? `/facility show` has them all.
fault-policy-yes-no = I cannot read this value. **{ $name }** is yes or no.
fault-policy-beds = Not set: who approved beds in posts is recorded with the set-up. Type `/facility setup` with beds-in-posts:yes once your privacy officer has.
fault-wish-gone = Nobody asks for this change any more, so nothing was set. See `/facility show`.
fault-wish-own = You asked for this change, so another supervisor must agree. To stop it: `/facility show`
fault-wish-of-other = { $who } asked for this change and takes it back. A supervisor can decline it.
fault-schedule-none = There is no such list to stop: { $what }. See `/facility show`.
fault-approved-alone = Which surfaces are approved waits for a supervisor. Type that by itself, and size, rails and outlet by themselves.
fault-unit-empty = Not set: { $unit } would have no bed left. Leave it one, or give this unit fewer.
