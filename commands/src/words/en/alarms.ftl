### Alarms: what is reported, taken, safe, fixed, out of service; their cards and calls.

kind-unknown = Alarm, not looked at yet
kind-low-pressure = Low pressure
kind-power = No power
kind-high-pressure = High pressure
kind-fault = Control unit fault
kind-bottomed-out = Bottomed out
kind-kept = Kept for an inquiry
title-taken = Alarm, somebody is on the way
title-safe = Alarm, resident safe
title-cause = Alarm: { $cause }
title-over = Alarm, over

priority-high = high: go now
priority-medium = medium: go promptly
priority-low = low: have a look

cause-unplugged = Plug was out
cause-switched-off = Switched off
cause-wrong-setting = Wrong setting or mode
cause-hose = Hose loose or kinked
cause-cpr-valve = CPR valve open
cause-leak = Leak
cause-filter = Filter blocked
cause-other = Something else

## Answers to whoever reports or works on one

alarm-raised = **{ $surface }**: the alarm is open, and the unit is called.
alarm-raised-nowhere = **{ $surface }**: the alarm is open, and the care channel is called.
alarm-under-nobody = **On record { $tag } is { $place }, under nobody. Is the tag right?** If not: **Wrong tag**. If somebody lies on it, tell the nurse.
alarm-power-found = **{ $surface }**: recorded as found without power. You have its alarm, and nobody else is called while you check it.
alarm-power-found-call = **{ $surface }**: recorded as found without power. The unit is called to check the air under the person.
alarm-found = **{ $surface }**: recorded as found and put right. You have its alarm, and nobody else is called while you check it.
alarm-found-call = **{ $surface }**: recorded as found and put right. The unit is called to check the air under the person.
alarm-open-already = **{ $surface }** has an open alarm already, since { $at }. Nothing new was opened. Its card:
alarm-note-not-kept = Your note was not added to it: say it in the channel, without names.
alarm-caution = Resident first. If you are in doubt, call the nurse by voice: this chat is no alarm system.
alarm-named = **{ $surface }**: { $kind }.
alarm-taken = **{ $surface }** is yours. Tap **Resident safe** within { $safe } min and **Fixed** within { $fix } min, or the others are called again.
alarm-taken-pulled = **{ $surface }** is yours. Tap **Resident safe** within { $safe } min. It is out of service: have the nurse swap it within { $fix } min, or the others are called again.
alarm-taken-nobody = **{ $surface }** is yours. Look whether somebody lies on it after all. Tap **Fixed**, **Out of service** or **Wrong tag** on its card within { $fix } min, or the others are called again.
alarm-taken-by-you = **{ $surface }** is yours already, since { $at }.
alarm-taken-already = { $who } is on the way to **{ $surface }**, since { $at }. Go too if two are needed.
alarm-safe = **{ $surface }**: resident safe. The alarm stays open until it is fixed, { $fix } min after "On my way" at the latest.
alarm-safe-pulled = **{ $surface }**: resident safe. **It is out of service, so the resident needs another surface:** tell the nurse now, who swaps it. The alarm stays open until then.
alarm-safe-pulled-nurse = **{ $surface }**: resident safe. **It is out of service, so swap it:** choose one here, or type `/swap`. The alarm stays open until then.
alarm-safe-already = { $who } said at { $at } that the resident on **{ $surface }** is safe.
alarm-given-up = **{ $surface }** is yours no longer, and the next are asked now. Can you go after all?
alarm-not-safe = **{ $surface }**: not safe yet. Go there or send somebody: **Resident safe** is awaited within { $safe } min of "On my way", or the others are called again.
alarm-ask-cause = **{ $surface }**: what was it?
alarm-ask-check = **{ $surface }** · cause: { $cause }
    Let it fill, then check the air under the person. Only an adequate check closes the alarm.
alarm-fixed-but-low = **{ $surface }**: air { $air } is still low, so the alarm stays open.
    1. Call the nurse. The nurse decides about the setting.
    2. Look for a second cause: CPR valve, hoses, mode, layers, head angle, a leak.
    3. Have a spare ready. Then tap **Fixed** again.
alarm-fixed-but-low-nurse = **{ $surface }**: air { $air } is still low, so the alarm stays open.
    1. Look for a second cause: CPR valve, hoses, mode, layers, head angle, a leak.
    2. You decide about the setting, by care plan or order. Then tap **Fixed** again.
    3. If it stays low, choose another surface here.
alarm-fixed-but-high-nurse = **{ $surface }**: air { $air } is high, so the alarm stays open. Look at the mode. You decide about the setting, by care plan or order. Then tap **Fixed** again.
alarm-fixed-but-bottomed-out-nurse = **{ $surface }**: no air. **Stay with the resident. Call a second person now.** Move the resident by the care plan. The alarm stays open, and the team is called again.
alarm-fixed-but-high = **{ $surface }**: air { $air } is high, so the alarm stays open. Look at the mode, and tell the nurse, who may lower the setting. Then tap **Fixed** again.
alarm-fixed-but-bottomed-out = **{ $surface }**: no air. **Stay with the resident. Call the nurse and a second person now.** Move the resident by the care plan. The alarm stays open, and the team is called again.
alarm-fixed-but-could-not = **{ $surface }**: not checked, so the alarm stays open. The nurse is called to check it.
alarm-closed-checked = **{ $surface }**: alarm closed, the air is adequate. Cause: { $cause }.
alarm-closed = **{ $surface }**: alarm closed. Cause: { $cause }.
alarm-power-setting = It had no power: look at setting and mode again. Units forget them, or keep the last person's. Care plan, order or nurse say what they should be.
alarm-pulled = **{ $surface }** is out of service, and its alarm is closed. Put a label on it and keep it apart.
alarm-pulled-under = **{ $surface }** is out of service and still under the resident.
    1. Stay. Call the nurse and a second person.
    2. Bring a ready surface. Move the resident by the care plan.
    3. The nurse types `/swap`, which takes the new one into its place. Until then the alarm stays open.
alarm-pulled-under-nurse = **{ $surface }** is out of service and still under the resident.
    1. Stay. Call a second person.
    2. Bring a ready surface. Move the resident by the care plan.
    3. Choose it here, or with `/swap`. Until then the alarm stays open.
alarm-held = It is held for an inquiry: look to the resident, if one is on it, and touch nothing else. Call the supervisor.
alarm-out-closed-held = **{ $surface }** is held for an inquiry and under nobody: its alarm is closed. Leave it exactly as it is: do not unplug, clean, reset or move it. Ask the supervisor.
alarm-out-closed = **{ $surface }** is out of service and under nobody: its alarm is closed. Switch it off and keep it apart until it is repaired.
alarm-pulled-already = **{ $surface }** is out of service already. The alarm stays open until the nurse has put another in its place with `/swap`.

## Of a surface that is under nobody

stands-ready = ready in the store
stands-ready-in = ready in the store ({ $place })
stands-soiled = in its turnover
stands-out = out of service
stands-held = held for an inquiry
wrong-tag-which = Which surface alarms? The alarm of **{ $tag }** closes, and that one's begins.
wrong-tag-closed = **{ $tag }**: its alarm is closed, wrong tag.
wrong-tag-open = **{ $surface }** has an open alarm already. Its card:
fault-wrong-tag-same = { $tag } is the tag that the alarm has. Choose the surface that alarms, or close the form.
button-wrong-tag = Wrong tag
button-type-tag = Type tag or bed
form-tag-title = Which surface alarms?
form-tag = Tag or bed
form-tag-hint = LW-07 or 103

## An alarm's card

card-head = **{ $surface }** · { $kind } · priority { $priority }
card-unit = Unit { $unit }
card-reported = Reported { $at } by { $who }
card-shift-over = Their shift had ended at { $at }
card-found = Found { $at } by { $who }: no power, and given back. Since when is not known
card-found-since = Found { $at } by { $who }: no power since about { $since }, and given back
card-mended = Found { $at } by { $who }, and put right. Since when it was so is not known
card-mended-since = Found { $at } by { $who }, and put right: so since about { $since }
card-under-nobody = **On record { $place }, under nobody.** Look whether that is so, or tap **Wrong tag**.
card-nobody = **Nobody has taken it.** Next call { $at } ({ $ago })
card-nobody-again = **It was taken, but nobody is on it now.** Next call { $at } ({ $ago })
card-taken = On the way: { $who }, { $at }
card-safe = Resident safe: { $who }, { $at }
card-not-safe = Resident safe: not said yet
card-safe-never = Resident safe: nobody said so
card-cause = Cause: { $cause }
card-pulled = **Out of service:** { $fault }. The alarm stays open until the resident is on another surface.
card-end-fixed = **Closed** { $at }: fixed. { $who }
card-end-out-of-service = **Closed** { $at }: out of service. { $who }
card-end-released = **Closed** { $at }: released, nobody lies on it. { $who }
card-end-taken-back = **Closed** { $at }: taken back, it was a mistake. { $who }
card-end-wrong-tag = **Closed** { $at }: wrong tag, the alarm is at another surface. { $who }
card-end-is-at = **Closed** { $at }: wrong tag, moved to { $surface }. { $who }

## Calls in the unit's channel

post-worse = **{ $surface }** is worse: { $kind }. Go now.
post-rung = **{ $surface }**: alarm open for { $span } and nobody has taken it. Who goes?
post-rung-again = **{ $surface }**: alarm open for { $span }. It was taken, but **nobody is on it now**. Go now, or call each other by phone.
post-rung-top = **{ $surface }**: alarm open for { $span } and **nobody has taken it. Go now.**
post-rung-nobody = **{ $surface }**: alarm open for { $span }. On record nobody lies on it: look whether that is so, switch it off, or tap **Wrong tag** on its card.
post-call-again = **{ $surface }**: nobody took it then. Called again { $at }: see the newest call.
post-call-taken = **{ $surface }**: { $who } is on the way, since { $at }.
post-call-left = **{ $surface }**: { $who } was on the way from { $at }, and is no longer. See the newest call.
post-call-ended = **{ $surface }**: { $end }
post-not-safe = **{ $surface }**: taken, but after { $minutes } min nobody has said that the resident is safe. Who goes?
post-not-fixed = **{ $surface }**: taken, but not fixed after { $minutes } min. Who goes? Have a spare surface ready.
post-low = **{ $surface }**: low, air { $air } ({ $who }). Nurse, please look: the setting is yours to decide. New reading:
post-low-again = **{ $surface }**: **low again**, air { $air } ({ $who }). Nurse, please come. Look for a leak, have a spare ready. New reading:
post-low-nurse = **{ $surface }**: low, air { $air }. { $who }, who decides about the setting, has measured it. New reading:
post-low-again-nurse = **{ $surface }**: **low again**, air { $air }. { $who }, who decides about the setting, has measured it. Have a spare ready. New reading:
post-low-taken-back = **{ $surface }**: the low reading was a mistake and is taken back ({ $who }). No call.
post-low-taken-back-newer = **{ $surface }**: this low reading was a mistake and is taken back ({ $who }). It was low before: see the newer card below.
post-answer-taken-back = **{ $surface }**: the reading that answered this is taken back ({ $who }). See the newer card below.
post-recheck-again = **{ $surface }**: the reading that answered this is taken back ({ $who }). How much air under the person?
post-low-stands = **{ $surface }**: **still low.** A newer reading is taken back ({ $who }); what stands is { $air }, { $at }. Nurse, please look: the setting is yours to decide. New reading:
post-low-stands-twice = **{ $surface }**: **still low, twice.** A newer reading is taken back ({ $who }); what stands is { $air }, { $at }. Nurse, please come. Look for a leak, have a spare ready. New reading:
post-worse-taken-back = **{ $surface }**: that it got worse was a mistake and is taken back ({ $who }). The alarm stays open.
post-answered-soon = **{ $surface }**: { $at } { $who } read { $air }, { $judged }, soon after it was low. Nurse, please still look: it is on `/due`.
post-answered = **{ $surface }**: looked at again { $at } by { $who }: { $air }, { $judged }.
post-fixed-unchecked = **{ $surface }**: { $who } dealt with the cause ({ $cause }) but could not check the air. Nurse, please check it. The alarm is open.
