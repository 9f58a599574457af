### Surfaces that lose loft: trending lower, inspect; the figures behind it; what was found; what is usual for a control unit.

work-loft = **{ $surface }**: trending lower, { $when }: inspect. Hose and connectors, CPR valve, cover and cells, filter, the setting; then a hand check. It is no alarm: a low reading goes its own way.
button-loft-why = Why lower, with picture
button-loft-mended = Found and mended
button-loft-nothing = Nothing found
button-loft-later = In 3 days
button-loft-pull = Leak: out of service
button-loft-usual = Usual range?

loft-found-ask = **{ $surface }**: what was it?
loft-found-hint = What was found
loft-mended = **{ $surface }**: found and mended. It is off the list, and its readings count anew from now. Next: a hand check, `/handcheck`.
loft-nothing = **{ $surface }**: looked at, nothing found, and its card says so. It is off the list until { $day } at least, and then until readings from now on trend lower by themselves. Next: a hand check.
loft-later = **{ $surface }** is put aside until { $day }. If it still trends lower then, it is back on the list.

surface-loft = **Trending lower, { $when }: inspect.** { $readings } readings over { $days } days.
surface-loft-nothing = Trended lower; looked at by { $who } { $at }, nothing found. Off the list until { $day } at least.
surface-loft-aside = { $line } Put aside until { $day }.

loft-by-past = at the limit of { $low } already
loft-by-now = low by now, if it went on so
loft-by-day = low by about { $day }

loft-why = **{ $surface }: trending lower, { $when }: inspect.** { $readings } readings over { $days } days, at this bed and setting.
loft-why-fall = - Their line fell from { $from } in to { $to } in.
loft-why-week = - A week takes { $week } in ({ $from } to { $to }).
loft-why-week-open = - A week takes { $week } in; so few days leave open how sure that is.
loft-why-day = - Going on so, the line is below { $low } around { $day } (between { $from } and { $to }).
loft-why-day-open = - Going on so, the line is below { $low } around { $day } (from { $from } on, or much later).
loft-why-past = - The line is at { $low }, or below it, already.
loft-why-chance = - Such a fall would happen by chance at most once in { $odds } such rows of readings.
loft-rows-hundred = a hundred
loft-rows-thousand = a thousand
loft-rows-ten-thousand = ten thousand
loft-why-method = - Middle slope of all pairs of days (Theil–Sen, 95 % limits), order of the readings by Mann–Kendall.
loft-why-assumes = - Takes it that person, place of the hand and linen stayed the same, and that readings do not follow each other. A surface that is not named is not shown to be safe.

loft-usual = **{ $tag }**: out of its usual range, { $out } of the last { $count } readings.
loft-usual-out = - These: { $these }
loft-usual-one = { $air } ({ $day })
loft-usual-range = - Usual: { $from } to { $to } in, mean { $mean } in.
loft-usual-open = - No numbers, and so not among them: { $these }
loft-usual-falls = - Its readings fall now: what is usual was reckoned from the fall, too. It is no comfort.
loft-usual-below = - A reading is adequate from { $low } on: what is usual here reaches below that, and low stays low.
loft-usual-method = - Chart of single values: mean and three standard deviations by the mean moving range / 1.128 (NIST/SEMATECH e-Handbook 6.3.2.2), a deviation taken as an eighth of an inch at least: hands tell no finer.
loft-usual-assumes = - Takes readings at all its beds and settings as one: another person or setting moves them too. Usual is not safe.

line-loft-found = trending lower: found and mended: { $cause }
line-loft-mended = trending lower: found and mended
line-loft-nothing = trending lower: nothing found
line-loft-later = trending lower: put aside

fault-loft-gone = **{ $surface }** is not, or no longer, to be looked at for this: somebody has, its readings changed, or it is no longer at that bed and setting.
fault-loft-few = **{ $tag }** has { $count } readings that can be compared; what is usual can be said from { $least } on. Log them with `/handcheck` or `/round`.
