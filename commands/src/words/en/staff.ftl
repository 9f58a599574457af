### Agency staff, sign-offs, looking a second time, the pace of a round.

## What each command and option is for

about-agency = Let somebody from an agency in for a shift
about-signoff = Sign somebody off for a task on one profile, or, alone, see all sign-offs
about-team = See who is let in, and which sign-offs end soon

option-agency-person = Who works here for this shift. Pick them from the list
option-agency-role = As what: aide or nurse
option-agency-until = Until when, such as 15:30 or 8 h. It ends by itself
option-signoff-person = Who is signed off. Pick them from the list
option-task = What they may do: hand-check, set-up, cleaning, filter or turnover
option-signoff-profile = The profile of the surfaces
option-renew = The last day on which it holds, such as 2027-03-31, or 2 weeks, or 6 months
option-team-person = One person, to see and to end their sign-offs

fault-person-pick = Pick somebody from the chat's list for **{ $option }**; a typed name is not read.
fault-person-program = That is a program, not a person. Pick one of the people here.
fault-person-outside = That person is not in this home's chat. Invite them first, then pick them again.

## Let in for a shift

let-in = { $who } is let in as **{ $role }** until { $until }. It ends by itself.
let-in-before = Before: { $role } until { $until }. That holds no more.
# Somebody who holds a role of the home already: asked before anything is recorded.
let-in-own = { $who } is of this home already ({ $own }), and not from an agency. Nothing was recorded. Let in all the same, they may also act as **{ $role }** until { $until }.
let-in-own-same = { $who } is of this home already ({ $own }), and may do all that without being let in. Nothing was recorded.
button-let-in = Let in all the same
let-in-next = They are told in the channel. The first thing they see here is one screen to read. In an alarm they are never held up.
let-in-ended = { $who } is out from now on.
post-let-in = { $who }: { $by } lets you in as **{ $role }** until { $until }. Your first step here shows one screen to read; an alarm goes first. Then: `/round`, `/due`, `/alarm`
post-let-in-ended = { $who } was let in for a shift. { $by } ended that at { $at }.
button-out = End it now
button-out-of = End number { $number }
fault-agency-self = You cannot let yourself in. Another supervisor can.
fault-out-already = That is over already, or was changed since. See `/team`
fault-let-in-over = You were let in until { $until }, and that is over, so nothing was done. Is it an alarm? Call the nurse by voice now. A supervisor can let you in again: `/agency`
# Under the answer to an alarm that was raised after the shift of whoever raised it.
shift-over-called = Your shift ended at { $until }, and the call says so. Until { $last } you may still raise an alarm, and nothing else: tell whoever comes what you heard. A supervisor can let you in again: `/agency`
shift-over = Your shift ended at { $until }. Until { $last } you may still raise an alarm, and nothing else. A supervisor can let you in again: `/agency`
# Everything else, while an alarm may still be raised.
fault-let-in-over-soon = You were let in until { $until }, and that is over, so nothing was done. Is it an alarm? `/alarm` still works for you until { $last }; in doubt, call the nurse by voice. For anything else a supervisor can let you in again: `/agency`

## The primer: one screen of a phone

primer-head = **Read this once** ({ $role } until { $until }).
primer-hand = **Flat hand** under the lowest part: { $low } to { $high } of air. Less: call the nurse.
primer-feel = **Look and feel** cards: no hand under.
primer-no-check = Some have no check: see the card.
primer-alternating = Cells fill and empty in turn: fine.
primer-low-air-loss = Some covers let air through: fine.
# Both of these where a home has both, on one row.
primer-both-kinds = Cells fill in turn, covers breathe: fine.
primer-alarm = **Alarm, flat?** Person first, then `/alarm`; in doubt, by voice. Muted is not fixed.
primer-never = **Never** leave it unplugged, set it without the nurse, add layers, write names.
primer-nurse = **Ask**: { $nurses }
primer-for-nurse = **Ask**: { $supervisors }
primer-phone = **Phone**: { $words }
primer-foot = Care plan, policy, maker and nurse first.
button-primer-read = I have read it
primer-read = Thank you, noted.
primer-read-already = You have read it already. Thank you.
primer-begin = **You can begin.** Ask the nurse which unit is yours.
primer-begin-alarm = **You can begin.** First: an alarm is open in { $unit }. Read its card in the channel, and go or ask.
primer-begin-round = **You can begin.** First: the round of { $unit }. { $count ->
        [one] 1 check is due.
       *[other] { $count } checks are due.
    }
primer-begin-nothing = **You can begin.** No check is due in { $unit } now. Ask the nurse what comes first.
primer-next = You are in until { $until }. Now: `/round`, `/due`, `/alarm`, `/help`
# What they had typed before they read this, and the button that does it.
primer-typed = You had typed: `{ $line }`
button-primer-go = Go on with it
fault-primer-not-yours = This is for people who are let in for a shift, and you are not at the moment.

## Sign-offs

task-hand-check = hand check
task-set-up = set-up
task-cleaning = cleaning
task-filter = filter
task-turnover = turnover

signed-off = { $who } is signed off for **{ $task }** on **{ $profile }** until { $renew }.
signed-off-before = Before: until { $renew }.
sign-off-ended = { $who } is no longer signed off for **{ $task }** on **{ $profile }**.
button-end-sign-off = End this sign-off
menu-end-sign-off = End a sign-off…
fault-sign-off-self = You cannot sign yourself off. Another supervisor can.
fault-sign-off-gone = That sign-off is over already, or was renewed since. See `/team`
fault-sign-off-task = **{ $profile }** has no { $task } to sign off, so nothing was recorded. It has: { $these }.
fault-renew = { $typed } cannot be the last day. Type a day from tomorrow to { $latest }, such as { $latest }.

## The team

team-nobody = **Nobody is let in now.** `/agency` lets somebody in for a shift.
team-head = **Let in now ({ $count })**
team-let-in = { $who }: { $role } until { $until }{ $unit }
team-on-duty = **On duty now ({ $count })**
team-on-duty-line = { $number }. { $who }: { $unit } until { $until }
team-on-duty-entry = { $number }: { $role }, { $unit }
menu-relieve = Somebody is not here any more…
team-soon = **Sign-offs that end within 30 days, or are over ({ $count })**
team-none-soon = No sign-off ends within 30 days.
team-sign-off = { $task }, { $profile }
team-more = …and { $count } more
team-foot = Others that hold: { $count }. One person's: `/team` with **person**
team-one = { $who } is not let in now.
team-was-in = Was let in as { $role } from { $from } until { $until }, by { $by }.
sign-offs-none = No sign-off is on record. `/signoff` with person, task and profile makes one.
sign-offs-over = **Over ({ $count })**
sign-offs-soon = **End within 30 days ({ $count })**
sign-offs-hold = **Hold ({ $count })**
sign-offs-foot = These are all. One person's, and to end one: `/team` with **person**
button-sign-offs-more = More of them
team-no-sign-off = No sign-off is on record.
sign-off-until = until { $renew }
sign-off-over = **over** since { $renew }
renew-due = **Sign-offs to renew ({ $count })**: { $names }. See `/team`

## Looking a second time

second-wanted = Kept. A colleague will look a second time, as nobody has signed you off for this here yet.
second-wanted-soon = Kept. It was low a moment ago, so a nurse is asked to look a second time.
second-wanted-outside = Kept. A colleague will look a second time, as for everybody who is here for a shift.
second-settled = This is also the second look at { $who }'s entry ({ $task }).
second-head = **{ $surface }**: a second look is wanted: { $task }, entered by { $who } at { $at }.
second-how = Look for yourself. Is it right? Tap. If not, enter what you find.
second-looked = **{ $surface }**: noted, you looked a second time ({ $task }, entered by { $who }).
second-already = **{ $surface }**: { $who } looked a second time at { $at } ({ $task }).
button-looked = I looked, it is right
button-looked-at = It is right: { $task }
fault-second-own = This is your own entry: a colleague looks at it.
fault-second-may = A nurse, a supervisor or somebody signed off for this looks at it. Thank you for asking.
fault-second-over = Nothing of **{ $tag }** waits for this any more: there is a newer entry, or it was moved on. See `/surface`
surface-second-wanted = **Second look wanted**: { $task }, { $who }, { $at }
surface-second-seen = Second look: { $task } of { $who }, looked at by { $by }, { $at }
due-second-check = **Second look ({ $count })**:{ " " }
due-second-check-short = look a second time
handover-second = - Second looks wanted ({ $count }): { $these }
handover-second-one = { $surface } { $task } ({ $who })
handover-second-seen = - Second looks done this shift: { $count }

## The pace of a round

post-pace = **{ $unit }**, for information: { $checks } checks entered in { $span } by { $who }, { $middle } s apart at the middle; the home's figure is { $limit } s. There may be a good reason, e.g. entered after the round. Only this channel reads it; it is in no report.
span-minutes = { $count ->
        [one] 1 minute
       *[other] { $count } minutes
    }
span-seconds = { $count ->
        [one] 1 second
       *[other] { $count } seconds
    }

## Policies

policy-agency-hours = For how many hours at most somebody from an agency is let in
policy-primer-days = After how many days somebody let in reads the first screen again
policy-sign-off-months = After how many months a sign-off is renewed
policy-sign-off-wanted = Whether entries of people who are not signed off are looked at a second time
policy-pace-seconds = A round with less than this between two checks, at the middle, is pointed out to supervisors. 0 for never
policy-agency-second-look = Whether entries of people let in for a shift are looked at a second time, even where those of others are not
policy-pace-checks = How many checks in a row are looked at for that, at least
