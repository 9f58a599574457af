### Hand checks and rounds: what is asked, how a reading is judged, what to do next.

ask-air = **{ $surface }**: how much air under the person?
ask-air-last = Last: { $air }, { $ago }
ask-air-last-low = **Low before:** { $air }, { $ago }
ask-air-out = **Out of service**, and somebody still lies on it: another surface is needed.

check-adequate = **{ $surface }**: air { $air }. Adequate.
check-low = **{ $surface }**: air { $air }. **Low** (less than { $low }).
check-bottomed-out = **{ $surface }**: no air under the person. **Bottomed out.**
check-high = **{ $surface }**: air { $air }. **High** (more than { $high }).
check-could-not = **{ $surface }**: not checked ({ $air }).

check-low-next = 1. Look: plug, hose, CPR valve, mode, layers, head angle.
    2. Call the nurse. The nurse decides about the setting.
check-low-next-nurse = 1. Look: plug, hose, CPR valve, mode, layers, head angle.
    2. You decide about the setting, by care plan or order.
check-low-again-nurse = Low again.
    1. Look for a leak: listen and feel along hoses, valve and cells.
    2. You decide about the setting, by care plan or order.
    3. Have a spare surface ready.
check-low-again = Low again.
    1. Call the nurse now. The nurse decides about the setting.
    2. Look for a leak: listen and feel along hoses, valve and cells.
    3. Have a spare surface ready.
check-bottomed-out-next = 1. **Stay with the resident.** Call the nurse and a second person now.
    2. Move the resident only by the care plan.
    3. The alarm is open already: nothing more to type.
check-bottomed-out-next-nurse = 1. **Stay with the resident.** Call a second person now.
    2. Move the resident only by the care plan.
    3. The alarm is open already: nothing more to type.
check-bottomed-out-late-nurse = That was a while ago, so no alarm was opened: look again **now**. No air: stay, call a second person, and type `/alarm`.
check-bottomed-out-late = That was a while ago, so no alarm was opened: look again **now**. No air: stay, call the nurse and a second person, and type `/alarm`.
check-could-not-low-nurse = It was low before, so try again soon.
check-could-not-low = It was low before, so try again soon. Tell the nurse that it could not be checked.
check-alarm-open = **The alarm on it is still open:** tap **Fixed** on its card when the cause is put right.
check-out-of-service = It is out of service: the resident needs another surface. Call the nurse.
check-out-of-service-nurse = It is out of service: the resident needs another surface. Choose one with `/swap`.
check-high-next-nurse = 1. Look at the mode: static is firmer.
    2. You decide about the setting, by care plan or order.
check-high-next = 1. Look at the mode: static is firmer.
    2. Tell the nurse, who may lower the setting.
check-could-not-next-nurse = It stays on the due list. If something looks or sounds wrong, do not wait.
check-could-not-next = It stays on the due list. If something looks or sounds wrong, do not wait: call the nurse.

check-late = Late entry, for { $at }.
check-not-newest = A newer check is on record. This one goes into the history only.
check-layers = Too many layers: your home's limit is { $most }. Take out what the care plan does not ask for.
check-raised = The head was raised, which presses more on the buttocks. If the care plan allows, lower it and check again.
check-maker-look = The maker wants this one looked at and felt from above, not a hand under it. Follow the maker's instructions.
check-maker-none = The maker asks for no air check on this one. Follow the maker's instructions, and call the nurse if something looks wrong.
check-recheck = Check again at { $at } ({ $ago }).
check-next = Next check from { $at }, the next shift.

check-already = Not recorded, because somebody was faster. **{ $surface }**: { $air }, { $at } { $who }
check-already-yours = Not recorded again: you have entered **{ $surface }** already, { $air } at { $at }.
check-asked-back = You said **{ $before }** for **{ $surface }** { $ago }. Measured again, and now { $air }? Nothing is recorded yet. Meant another bed? Tap that bed's own card.
check-moved = Not recorded, because **{ $tag }** has been moved since this card came. Type `/round` or `/due` for a new one.

taken-back-swap = And **{ $surface }** is back in its place.
taken-back = Taken back: **{ $surface }** stands as it did before. The log keeps both.
taken-back-low = What stands: **low**. The nurse is called again. { $check }
taken-back-low-twice = What stands: **low twice**. The nurse is called again. { $check }
taken-back-check = What stands: { $check }
taken-back-at = Check again at { $at }.
taken-back-now = Check again **now**.

## A round

round-head = **Round { $unit }** · { $left } left
round-skipped = Skipped: **{ $surface }**. It stays on the due list.
round-not-due = **{ $surface }**: no check is due there now.
round-back-in-bed = **{ $surface }**: { $why }, was to be back { $until }. **Back in bed?** Look before you measure.
round-no-surface = No surface is placed in { $unit }, so there is nothing to check.
round-some-left = **{ $unit }**: that was the last bed. { $left ->
        [one] 1 is still due
       *[other] { $left } are still due
    }: { $these }
round-done = **{ $unit }**: { $placed ->
        [one] its one surface is done.
       *[other] no check is due now on its { $placed } surfaces.
    } Next from { $at }.
