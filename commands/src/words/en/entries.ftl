### What is in the log: correcting it, remarks and signatures, timelines.

about-amend = Say how an entry of yours should have read, and why. Nothing is erased
about-timeline = All that happened to a surface or at a bed, in one answer
option-entry = The entry's number, such as 1234, or last for your newest. They are offered
option-amend-reason = Why, in a few words: no name, no weight, no diagnosis. Alone, it is a remark
option-amend-surface = The surface it was really about, such as LW-08
option-amend-when = When it really happened, as you would have typed it then: 13:40 or 20 min ago
option-strike = on: it was entered by mistake and counts for nothing
option-timeline = A tag or a bed, such as LW-07 or 103

## Corrections

amend-done = Entry #{ $entry } corrected · **{ $surface }**: { $what }.
amend-change = { $label } { $old } → { $new }
amend-struck = Entry #{ $entry } counts no more · **{ $surface }**: { $what }. Entered by mistake.
amend-which = **{ $surface }** is a surface, and an entry has a number. Yours about it, the newest first:
amend-annotated = Your remark stands beside entry #{ $entry } ({ $what }). What it says is unchanged.
amend-air-meant = A reading stands in your reason. Should entry #{ $entry } read so? Then tap it; else leave it.
button-air-meant = It was { $air }
remark-taken-back = Your remark on entry #{ $entry } is taken back. The log keeps both.
fault-remark-gone = That remark on entry #{ $entry } is taken back already.
fault-remark-late = A remark can be taken back for { $minutes } minutes, and that is over. Add another one: `/amend`
amend-kept = The log keeps what it said before, with your reason.
amend-history = What is newest of **{ $tag }** does not change with it: this is history only.
amend-no-check = **{ $tag }** has no check here now. It stands on the due list.
amend-recheck-off = The check that was booked out of turn is off.
amend-alarm-open = **Its alarm stays open:** a correction closes none. Tap **Fixed** on its card when it is put right.
amend-alarm-again = **{ $surface }**: alarm #{ $alarm } was closed with this check, so an alarm is open **again**, and the unit is called. Go and look.
amend-alarm-late = **{ $surface }**: alarm #{ $alarm } was closed with this check. That was a while ago, so no alarm was opened: look again **now**, and type `/alarm` if it is not right.
amend-step-again = Set-up of **{ $tag }**: its check is to be done again.
amend-leave = The bed was taken to be occupied because of it. If it is empty: `/leave`
amend-filter-unfit = Its filter is not fit as it reads now: look at it again, and change it.
amend-not-ready = **{ $tag }** was ready because of it and is not any more: it goes through its turnover again. Next: `/clean`
amend-placed-so = **{ $surface } was placed because of it.** Tell the nurse and infection control now.
amend-still-out = **{ $tag }** stays out of service until upkeep brings it back with `/return`.
amend-field-air = air
amend-field-surface = surface
amend-field-when = time
amend-field-position = position
amend-field-mode = mode
amend-field-layers = layers
amend-field-setting = setting
amend-field-finding = found
amend-field-action = done
amend-field-method = cleaned with
amend-field-cover = cover
amend-step-on-card = For its turnover, say so on its card: `/surface surface:{ $tag }`
amend-field-entry = entry
post-amended = **{ $surface }**: entry #{ $entry } was corrected ({ $who }): { $air }, { $judged }.
post-amended-away = **{ $surface }**: entry #{ $entry } was a mistake and counts no more here ({ $who }).

fault-entry-number = "{ $typed }" is no number of an entry. It stands behind # at the end of its line, such as #1234: see `/timeline`
fault-entry-last = You have no entry that can be corrected yet. Type the number of one: it stands behind the sign # at the end of its line.
fault-amend-last = Nothing struck. What you did last, on { $surface } at { $at }, is no entry to strike: a step, a pull or a repair has **Take back** for some minutes. Your last entry that can be struck is #{ $entry }: { $about }, { $what }, { $when }. Mean that one? Type its number in **entry**.
fault-entry-none = There is no entry #{ $entry }. Numbers stand at the end of each line: see `/timeline`
fault-amend-other = Entry #{ $entry } is somebody else's, so nothing was recorded. Whoever made it corrects it. Tell them, or a supervisor, who can remark on it.
fault-amend-author = Entry #{ $entry } is somebody else's: only who made it says what it should have read. Leave out everything but the reason to put a remark beside it, and enter what is right now.
fault-amend-taken-back = Entry #{ $entry } was taken back and counts for nothing. Enter what is right as a new one.
fault-amend-strike = Nothing recorded: with strike:on entry #{ $entry } counts for nothing, so leave the rest out. Or leave strike out.
fault-amend-option = Nothing recorded: entry #{ $entry } has no **{ $option }**. It has: { $these }.
fault-amend-same = Entry #{ $entry } reads just so already. Nothing was recorded.
fault-amend-not-there = { $tag } was not there at that time, so nothing was recorded. Look at `/timeline what:{ $tag }`
fault-amend-kind = Entry #{ $entry } is not corrected: other entries build on it. Do what is right now, and put a remark beside it with the reason alone.
fault-amend-alarm = Entry #{ $entry } is an alarm's. Say what is right on its card, or raise it again with `/alarm`. The reason alone puts a remark beside it.
fault-amend-placing = Entry #{ $entry } says where a surface went. Put it right with `/move`, `/swap`, `/release` or `/place`. The reason alone puts a remark beside it.
fault-amend-setting = Entry #{ $entry } is a setting. Record the right one with `/setting`. The reason alone puts a remark beside it.
fault-amend-turnover = Entry #{ $entry } is a step of a turnover. Go on with what is right on its card: `/surface`. The reason alone puts a remark beside it.

## An entry

entry-numbered = { $line } (#{ $entry })

entry-head = **Entry #{ $entry }** · { $surface } · { $what }
entry-by = { $who }, { $at }
entry-entered = entered { $at }
entry-amended = ↳ corrected: { $what } ({ $who }, { $at }): { $reason }
entry-annotated = ↳ remark ({ $who }, { $at }): { $reason }
entry-unremarked = ↳ remark taken back ({ $who }, { $at })
entry-signed = ↳ countersigned ({ $who }, { $at })
entry-taken-back = ↳ taken back ({ $who }, { $at })
entry-no-reason = the reason was erased
entry-correct = Yours: `/amend` with this number corrects it.
entry-signed-now = Countersigned: entry #{ $entry } ({ $what }).
entry-newer = It was corrected since you looked, so nothing was signed. It reads now:
button-countersign = Countersign
suggest-entry = #{ $entry } · { $tag } { $what } · { $at }
fault-sign-own = Entry #{ $entry } is your own, or the clock's. Somebody else signs it.
fault-sign-already = You have countersigned entry #{ $entry } already, as it reads now.

## Taking back

fault-take-back-swap = There is something newer about one of the two surfaces, so this swap cannot be taken back. Put it right with `/swap`, or `/release { $tag }`.
fault-take-back-bed = Bed { $bed } has { $tag } by now, so this cannot be taken back. Put it right with `/move`, `/swap` or `/place`.
fault-take-back-alarm = An alarm of { $tag } ended with it, and others have read so. Put it right with `/place`, and raise the alarm again if there is one.

## Timelines

timeline-head = **{ $of }** · { $count ->
        [one] 1 entry
       *[other] { $count } entries
    }, newest first
timeline-bed = bed { $bed }
timeline-line = { $at } { $what } · { $who } · #{ $entry }
timeline-taken-back = { $what } taken back
timeline-struck = { $what } entered by mistake
timeline-moved = { $what } now about { $tag }
timeline-empty = Nothing is on record.
timeline-foot = All of it is in the file, to print. It names beds: treat it as a chart.
fault-timeline-several = Several surfaces end in "{ $typed }": { $these }. Type the tag of one.
timeline-corrections = **{ $of }**: what was corrected, remarked on, signed or taken back, newest first
timeline-uncorrected = Nothing was.
timeline-more = and { $count } more: all are in the file of `/timeline`
timeline-title = Timeline: { $of }
timeline-made = Made { $at } ({ $zone }). { $count ->
        [one] 1 entry
       *[other] { $count } entries
    }, newest first.
timeline-how = Struck through: how it read before, or what counts no more. No entry is erased; where a supervisor erased what was written beside one, that stands here. People stand by role and a number: the key at the end says who is who. A reading is one moment and no proof of safety. Treat this sheet as a chart.
timeline-cut = { $count ->
        [one] The oldest entry is
       *[other] The oldest { $count } entries are
    } left out: the chat takes no larger file. The home's own file has them all.
timeline-col-entry = Entry
timeline-col-when = When
timeline-col-what = What
timeline-col-who = Who
timeline-who = People on the sheet: { $these }
timeline-surface = Surface { $tag }, profile { $profile }
timeline-place = Bed { $bed }, unit { $unit }
timeline-days = Entries from { $first } to { $last }
timeline-col-later = Corrections and remarks
timeline-h-missed = Shifts without a check
timeline-missed = { $count ->
        [0] In the last { $days } days, every shift that is over and in which a check was due has one, or why there could be none.
        [one] In the last { $days } days, 1 shift that is over and in which a check was due has none on record:
       *[other] In the last { $days } days, { $count } shifts that are over and in which a check was due have none on record:
    }
timeline-missed-one = { $from } to { $to }: { $tag }, bed { $bed }
timeline-missed-away = { $from } to { $to }: { $tag }, bed { $bed }. loftwatch was away in it: look on paper
timeline-h-who = Who is who
timeline-col-number = Number
timeline-col-role = Role
timeline-col-chat = Number in the chat
timeline-col-name = Name (write it in)
menu-entry = Look at one of these
button-earlier = Earlier
button-newest = Newest
button-corrections = Corrections
fault-no-timeline = There is no "{ $typed }". Type a tag such as LW-07, or a bed such as 103.
fault-no-timeline-near = There is no "{ $typed }". Did you mean: { $these }?

## What a record says, in one line

line-none = none
line-struck = entered by mistake
line-added = in the register, profile { $profile }
line-brought-back = in the register again
line-note-erased = what was written beside entry #{ $entry } was erased
line-retired = retired
line-placed = placed under bed { $bed }
line-placed-unnamed = placed under a bed
line-released = released ({ $reason })
line-checked = air { $air }, { $judged }
line-recheck-asked = asked for the check again
line-alarm = alarm raised: { $kind }
line-alarm-shift-over = Alarm: { $kind }, reported by somebody whose shift had ended at { $at }
line-alarm-found = found without power: { $kind }
line-alarm-found-since = found without power since about { $since }: { $kind }
line-alarm-mended = found and put right: { $kind }
line-alarm-mended-since = found and put right, so since about { $since }: { $kind }
line-alarm-named = alarm is: { $kind }
line-alarm-taken = alarm: on the way
line-alarm-safe = alarm: resident safe
line-alarm-given-up = alarm: cannot go after all
line-alarm-not-safe = alarm: "resident safe" was a mistake
line-alarm-asked = alarm: called again ({ $rung })
line-alarm-again = alarm: not done in time, called anew
line-alarm-cause = alarm, cause: { $cause }
line-alarm-fixed = alarm closed: fixed
line-alarm-out = alarm closed: out of service
line-alarm-released = alarm closed: released
line-alarm-taken-back = alarm closed: taken back
line-alarm-wrong-tag = alarm closed: wrong tag
line-alarm-is-at = wrong tag: the alarm is at { $tag }
line-filter = filter { $finding }, { $action }
line-cleaned = cleaned ({ $reason }) with { $with }, cover { $cover }
line-pulled = out of service: { $fault }
line-taken-back = took back entry #{ $entry }
line-booked = a call is booked for { $at }
line-unbooked = a call is off
line-called = called, because it was time
line-steps = checklist opened
line-steps-done = checklist: { $steps }
line-step-missed = checklist, not right: { $step }
line-fill = it fills, full at { $at }
line-setting = setting { $setting }
line-moved = moved to bed { $bed }
line-moved-unnamed = moved to another bed
line-plugged = plugged in again after { $span }
line-leave = bed empty until { $until } ({ $why })
line-leave-ended = back in bed
line-static = static mode until { $until }
line-static-ended = alternating again
line-cpr = CPR valve opened
line-cpr-over = emergency over
line-turnover = turnover began
line-turn-shown = turnover: { $step }
line-turn-undone = turnover, to be done again: { $steps }
line-contact = disinfectant wet until { $until }
line-ready = ready for the next resident
line-waived = placed without: { $papers }
line-marked = marked: clean last
line-unmarked = mark "clean last" off
line-repaired = repaired, or found whole
line-returned = back from repair, to its turnover
line-held-known = held for an inquiry; the injury was known { $day }
line-held = held for an inquiry
line-hold-reported = the inquiry's report was made
line-hold-released = hold released
line-recalled = recalled
line-frame = what is known of the frame was entered
line-zones = gaps: { $gaps }
line-gap = zone { $zone } { $gap } mm
line-gap-over = zone { $zone } { $gap } mm, over
line-zones-acted = acted on a gap over the limit
line-zones-did = gap over the limit: { $did }
line-serviced = { $work }: { $outcome }
line-outage = power failure: { $roll }
line-rented = rental began
line-arrived = arrival looked through: { $outcome }
line-pickup = vendor asked to fetch it
line-pickup-confirmed = vendor confirmed the pickup
line-collected = fetched by the vendor
line-amended = corrected entry #{ $entry }
line-annotated = remark on entry #{ $entry }
line-unremarked = remark on entry #{ $entry } taken back
line-countersigned = countersigned entry #{ $entry }
line-second-wanted = second check wanted: { $task }
line-second-checked = second check done: { $task }
line-other = { $kind }

## Erasing a note

erase-written = { $who } wrote { $at }:
erase-ask = **Erase what is written beside entry #{ $entry }?** The text goes from the file for good; the entry stays, and so does who erased it and when. Messages in the chat that show it are deleted there, by whoever may. Backups made before still hold it: tell whoever runs loftwatch.
note-erased = What was written beside entry #{ $entry } is erased. The entry stays. Now delete the messages in the chat that show it, and tell whoever runs loftwatch of backups made before.
button-erase-note = Erase note of { $at }
button-erase-reason = Erase reason of { $at }
button-erase-remark = Erase remark of { $at }
button-erase-sure = Erase it for good
fault-note-gone = Beside entry #{ $entry } nothing is written any more. Nothing was recorded.
