### Messages in everyday words: what was understood, what is asked back, what comes nearest.

## What was understood

plain-check = **{ $surface }** · hand check: { $air }
plain-could-not = **{ $surface }** · could not check: { $air }
plain-layers = { $count ->
        [one] 1 layer
       *[other] { $count } layers
    }
plain-setting = setting { $setting }
plain-alarm = **{ $surface }** · alarm: { $kind }
plain-alarm-nobody = On record it is { $place }, under nobody. Another tag? Say it again with that one.
plain-power-found = **{ $surface }** · found without power: { $cause }. It has power again.
plain-alarm-cause = **{ $surface }** · alarm: { $kind }. Cause: { $cause }
plain-found = **{ $surface }** · found and put right: { $cause }.
plain-found-air = Air after it: { $air }.
plain-found-since = For how long was it so, about?
plain-fixed = **{ $surface }** · its alarm of { $at } is fixed: { $cause }.
plain-fixed-next = Then the air is checked: only an adequate check closes the alarm.
plain-cause-mended = Is it put right?
plain-cause-open = **{ $surface }** has an open alarm, and you said: { $cause }. Once it is put right, that is what fixed it.
plain-cause-other = The list of causes has no word of its own for that: say what it was in a note: **Type it** at the check, or `/amend` after.
plain-cause-no-air = Your reading is not recorded: whoever checks the air reads it again.
plain-no-alarm = **{ $surface }** has no open alarm, and nothing was recorded.
plain-on-card = **{ $surface }** has an open alarm. Nothing is recorded by a message: tap it here.
plain-power-since = For how long had it none, about?
plain-filter = **{ $surface }** · filter { $finding }, { $action }
plain-clean = **{ $surface }** · cleaned: { $reason }, { $method }, cover { $cover }
plain-echo = Nothing is recorded and nobody is called until { $who } taps.
plain-echo-menu = Nothing is recorded and nobody is called until { $who } chooses.
plain-rest = The rest of your message is not recorded.
plain-confirmed = Confirmed by { $who }.
plain-old = Nothing was recorded: that was more than { $minutes } minutes ago. Say it again as it is now.
plain-newer = Nothing was recorded: something newer is on record for **{ $surface }**. Look at `/surface`, then say it again if it is still so.
plain-newer-one = **{ $surface }**: not recorded, something newer is on record. Look at `/surface`.
fault-plain-not-yours = Only { $who } can confirm this, who wrote it. If you saw it too, write it yourself.

## Answers

plain-where-alarm = Its alarm of { $at } is open, and **nobody has taken it.**
plain-where-alarm-taken = Its alarm of { $at } is open. { $who } took it at { $since }.
plain-where-placed = **{ $surface }** · in place in { $unit }, since { $since }
plain-where-out-under = **{ $surface }** · **out of service** since { $since }, and still under a resident in { $unit }
plain-empty-bed = No surface is under that bed.
plain-help = Mention me and say it in a few words, with a tag or a bed. I repeat what I understood, and you tap once.
    - LW-07 1 1/4, two pads
    - low pressure on LW-07
    - filter LW-07 clogged, replaced
    - wiped down LW-07 soap and water, cover fine, routine
    - what's due · where's LW-07 · it's beeping
    Beds and tags only, never a name. `/help` shows the commands.
plain-unknown = A message does not show me whether you manage this chat. If you do, type the command instead: `/help`
# To the same, of what is open already.
plain-open-unknown = **{ $surface }** has an open alarm already, since { $at }. Nothing new was opened. Its card is where the unit reads it. Resident first: if in doubt, call the nurse by voice.
plain-outage-unknown = **{ $unit }**: the power failure is open already, since { $at }. Nothing new was opened. Its card is where the unit reads it. Residents first: if in doubt, call the nurse by voice.

## What is asked back

plain-say-again = Say it again with one tag or bed.
plain-ask-which = Which one: { $these }?
plain-ask-surface = Which surface? Say it with a tag or a bed, such as: { $example }
plain-ask-bed = Is { $number } a bed or a reading? Say it with the word: bed { $number }, and the reading with its unit.
plain-ask-low = **{ $surface }**: how low is it? Check the air, or say what the panel says.
plain-ask-high = **{ $surface }**: how high is it? Check the air, or say what the panel says.
plain-ask-cause = **{ $surface }** · found and put right. Which was it?
plain-ask-cause-fixed = **{ $surface }** has an open alarm. Which was it that is put right?
plain-ask-cause-alarm = **{ $surface }** · this starts its alarm. Which is it?
plain-ask-kind = **{ $surface }**: which does the panel say?
plain-ask-why = **{ $surface }**: could not check. Which was it?
plain-ask-filter = **{ $surface }**: which was it?
plain-ask-filter-all = **{ $surface }**: how did the filter look, and what did you do? Say it like: { $example }
plain-ask-clean-reason = **{ $surface }**: why was it cleaned?
plain-ask-clean-method = **{ $surface }**: with what was it cleaned?
plain-ask-clean-cover = **{ $surface }**: how did the cover look?
plain-ask-clean-all = **{ $surface }**: why, with what, and how did the cover look? Say it like: { $example }
plain-ask-clean-rest = **{ $surface }**: cleaned. Choose what else is so: why, with what, how the cover looked.
plain-clean-choice = { $reason }, { $method }, cover { $cover }
plain-left-none = **Not taken:** { $typed } is no bed or tag of this home. Say that one again.
plain-left-near = **Not taken:** { $typed } is no bed or tag of this home. Near it: { $these }. Say that one again.
plain-left-empty = **Not taken:** no surface is under bed { $typed }. Say that one again with another bed.
plain-left-unclear = **Not taken:** what you said of **{ $surface }** is not clear to me. Say that one again.
plain-ask-one = I see several surfaces and several readings, and nothing was recorded. One message each, or all at once with `/catchup`.
plain-ask-long = That is too long for me, and nothing was recorded. One thing in one short message, please.

## Said in a way that is no entry

plain-doubt-question = That sounds like a question, so nothing was recorded.
plain-doubt-not = I understood "not", so nothing was recorded about **{ $surface }**.
plain-doubt-over = That sounds as if it were over for **{ $surface }**. Nothing was recorded: an open alarm ends with **Fixed** on its card.
plain-doubt-past = That sounds like some time ago, so nothing was recorded. A hand check may say when: 13:40 or 20 min ago.
plain-doubt-unsure = You do not sound sure, so nothing was recorded. Look at **{ $surface }** again, then say it.
plain-doubt-not-yet = That sounds as if it were still to be done for **{ $surface }**. Say it once it is done. It beeps? Then `/alarm`.

## Nothing was understood

plain-none = I did not understand that, and nothing was recorded. Mention me with **help** to see what I understand.
plain-none-like = I did not understand that, and nothing was recorded. Say it like: { $example }
plain-none-command = Nothing was recorded. For this type `/{ $name }`.
plain-none-voice = Nothing was recorded. **If somebody may be hurt, call the nurse by voice now:** this chat is no alarm system.
plain-none-surface = That sounds like something else than a powered surface, and nothing was recorded. If somebody needs help, call by voice.
plain-none-card = Nothing was recorded. On an alarm's card, tap **On my way**, **Resident safe** or **Fixed**.
plain-none-take-back = Nothing was recorded. What you have just entered has a button **Take back**.
plain-like-check = { $surface } { $air }, two pads
plain-like-alarm = low pressure on { $surface }
plain-like-filter = filter { $surface } clogged, replaced
plain-like-clean = cleaned { $surface } routine, soap and water, cover fine
plain-like-due = what's due in { $unit }
plain-like-where = where's { $surface }
plain-like-look = { $surface } beeping, no lights

## Buttons and menus

button-confirm = Yes, record it
button-confirm-all = { $count ->
        [2] Yes, record both
       *[other] Yes, record all { $count }
    }
button-confirm-alarm = Yes, start the alarm
button-so-now = It is so now: record it
button-card = Show its card
button-look = What to look at first
plain-button-alarm = Alarm: { $kind }
plain-button-filter = { $finding }, { $action }
plain-button-cover = Cover { $cover }
button-mended = It is put right
button-mended-air = Put right, air now { $air }
button-not-mended = Not yet: start the alarm
button-only-air = Only the air: { $air }
menu-clean = What was it?
menu-surface = Which surface?

## Other work, and what is asked about it

plain-outage = **{ $unit }** · no power in the whole unit
plain-outage-where = No power: in which unit?
plain-duty = **{ $unit }** · on duty there
plain-cpr = **{ $surface }** · CPR valve opened
plain-cpr-first = **Your home's emergency plan comes first.** This chat calls nobody for it.
plain-away = **{ $surface }** · nobody in the bed: { $why }. For how long, until it is asked again?
plain-back = **{ $surface }** · somebody is in the bed again
plain-not-away = **{ $surface }** is not on record as empty, so there is nothing to end.
plain-static = **{ $surface }** · static mode. For how long?
plain-set = **{ $surface }** · setting { $setting }
plain-gaps = The gaps are measured and typed in the form. **A gap that looks too big now:** call the nurse by voice.
plain-match-kind = Which kind: alternating or low air loss? Say it with the bed, such as: low air loss for the bed, or type `/match`.
plain-no-duties = Nobody has said here who is on duty. `/duty` says it.
plain-calls = **Call the nurse by voice now:** nobody hears a chat.
plain-which-beeps = **Somebody lies on it? Start its alarm:** say it with the tag or the bed, or type `/alarm`. Then look.
plain-which-beeps-menu = **Somebody lies on it? Choose it below:** that starts its alarm. Then look.
plain-ask-half-day = In which half of the day was it?
plain-button-outage = No power in { $unit }
plain-button-gaps = Type the gaps
plain-button-minutes = { $count } minutes
plain-button-hours = { $count ->
        [one] 1 hour
       *[other] { $count } hours
    }
plain-button-since-unknown = Not known
plain-button-days = { $count ->
        [one] 1 day
       *[other] { $count } days
    }
plain-button-at = Yes, at { $time }
plain-button-not-over = It is not: start the alarm
button-confirm-outage = Yes, no power
menu-start-alarm = Start the alarm of…
