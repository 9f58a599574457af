### Words that several sentences share: roles, how a surface is named, readings, buttons, forms and menus.

# A surface as the people of its home read it.
# In place of an answer that the whole channel would see, and that names a bed.
answer-hidden = It is recorded. What follows from it names a bed, so it is not shown here: see `/surface` or `/due`.
surface-with-bed = { $tag } (bed { $bed })

which-bed = **{ $tag }** is under bed { $bed }, { $unit }.
which-beds = **No power in { $unit }** since { $at }
which-beds-left = Not seen in this roll yet: { $these }
which-beds-seen = Seen: { $these }

## Roles

role-admin = admin
role-upkeep = upkeep
role-aide = aide
role-nurse = nurse
role-supervisor = supervisor

## Readings

air-under = under { $low }
air-over = over { $high }
air-touching = no air
air-none = none
air-within = looked and felt right
band = adequate: { $low } to { $high }

judged-adequate = adequate
judged-low = low
judged-bottomed-out = bottomed out
judged-high = high
judged-could-not = not checked

## Why a check could not be made

why-asleep = asleep
why-refused = refused
why-out = not in bed
why-isolation = isolation
why-other = another reason

## Buttons

button-take = On my way
button-safe = Resident safe
button-fixed = Fixed
button-cannot-go = I cannot go
button-not-safe = Not safe: a mistake
button-which-bed = Which bed?
button-which-beds = Which beds?
button-bed = { $tag } ({ $bed })
button-of = { $name }: { $label }
button-measured-again = Yes, measured again
button-pull = Out of service
button-take-back = Take back
button-why = Why?
button-type = Type it
button-skip = Skip
button-touching = Touching
button-under = Under { $low }
button-over = Over { $high }
button-within = Looks and feels right
button-feels-low = Feels low
button-feels-high = Feels too firm
button-start-round = Round { $unit }
button-go-on = Go on with the round
button-go-again = Go through the rest
button-filter-clean = Filter clean
button-filter-replaced = Filter dirty, replaced
button-filter-rinsed = Filter dirty, rinsed
button-function = Runs, fills, no alarm
button-agree = Agree
button-decline = Decline
button-agree-to = Agree: { $what }
button-decline-of = Decline: { $what }
button-withdraw = Take it back
button-withdraw-of = Take back: { $what }

## Menus

menu-could-not = Could not check, because…
menu-kind = What does the alarm say?
menu-cause = What was the cause?
menu-pick = Act on one of these
menu-pick-some = Act on one of these ({ $some } of { $all })
menu-pages = Open a page
menu-help = More of what you can do

## Forms

form-air-title = Air under the person: { $tag }
form-air = Air under the person
form-air-hint = 1 1/4, 3/4", 3 cm, or none if you could not check
form-note = Note (no names)
form-note-hint = About the surface only: no name, no weight, no diagnosis

## Pages

# Read out before a table of a page.
page-table = A table; move it sideways where it is wider than the screen
