### The register: adding, listing, importing, exporting, retiring; what is wrong with a file.

fleet-added-ready = **{ $tag }** is in the register, profile { $profile }, and ready. A nurse puts it under a bed with `/place`.
fleet-added-untested = **{ $tag }** is in the register, profile { $profile }, and ready. Before a nurse places it, upkeep records its safety test: `/service`
fleet-added-rented = **{ $tag }** is in the register, profile { $profile }. Next, as it arrives: `/rental start surface:{ $tag }`, and its arrival check.
fleet-added-soiled = **{ $tag }** is in the register, profile { $profile }, and soiled. Next: `/clean` with the reason between-residents, then every step.
fleet-retired = **{ $tag }** is retired. Its history stays in the log.
retire-ask = **Retire { $tag }?** (profile { $profile }, { $state }, under nobody.) It leaves every list, and its tag is not used for another. Its history stays in the log.
retire-ask-alarm = Its alarm ends with it.
retire-ask-rental = It is rented, and paid for until the vendor is told: `/rental stop surface:{ $tag }` first.
retire-ask-foot = Only out of service for now? Then `/pull`.
retire-changed = Something was entered about it since. Look again:
button-retire = Retire { $tag }
retired-ask = **{ $tag }** was retired { $since }, and its history stays under that tag. Is it that same surface? Bring it back. Is it another one? Give it another tag, such as { $tag }-2.
retired-ask-supervisor = **{ $tag }** was retired { $since }, and its history stays under that tag. Is it that same surface? A supervisor brings it back, with the same command. Is it another one? Give it another tag, such as { $tag }-2.
button-bring-back = Bring back { $tag }
form-bring-back-title = Bring back { $tag }
form-bring-back = Why
form-bring-back-hint = such as: retired by mistake
fault-back-already = { $tag } is in the register already. Nothing was recorded.
fault-back-reason = Say why it comes back, such as "retired by mistake". Nothing was recorded.
brought-back = **{ $tag }** is in the register again, with its history, as soiled: it is cleaned and checked before anybody lies on it. Next: `/clean` with the reason between-residents.
brought-back-recalled = **{ $tag }** is in the register again, with its history. **It is of a recall, and out of service.** See `/recall`.
fleet-exported = The register, { $count ->
        [one] 1 surface
       *[other] { $count } surfaces
    }. The file may hold serial numbers: keep it inside the home.
profiles-exported = The profiles, { $count ->
        [one] 1 row
       *[other] { $count } rows
    }. Edit them and read them in again with `/fleet import`.

fleet-head = { $count ->
        [one] **1 surface**
       *[other] **{ $count } surfaces**
    } · { $placed } placed · { $ready } ready · { $soiled } soiled · { $out } out of service
fleet-line = - { $surface } · { $profile } · { $state }
fleet-more = …and { $count } more. `/fleet export` has them all.

state-placed = placed
state-soiled = soiled
state-ready = ready
state-out = out of service
state-retired = retired
state-held = held

## Importing

import-profiles = profiles
import-beds = beds
import-surfaces = surfaces
import-done = Read: { $what }, { $count ->
        [one] 1 row
       *[other] { $count } rows
    }.
import-unrated = **Rented, and what a day costs is not on record:** { $tags }. Say it with `/rental start`; until then no cost is reckoned for them.
import-extra = Not read, because I do not know these columns: { $columns }
import-placed = { $count ->
        [one] One of them is under a bed
       *[other] { $count } of them are under beds
    }, as the file says. No set-up, cleaning or check of theirs is on record here: a nurse looks at each now.
told-imported-placed = { $who } brought surfaces into the register under beds ({ $count }): { $tags }
    No set-up, cleaning or check of theirs is on record here: a nurse looks at each.
import-refused = Nothing was read. Correct { $count ->
        [one] this
       *[other] these { $count }
    } and send the whole file again:
import-line = - Line { $line }: { $fault }
import-more-faults = …and { $count } more.

csv-empty = The file is empty. Its first line must name the columns, such as tag,profile
csv-no-rows = The file has a header and no rows below it.
csv-too-many-rows = The file has too many rows. Split it into files of at most { $most } rows.
csv-not-utf8 = I cannot read these letters. Save the file as "CSV UTF-8" and send it again.
csv-workbook = This is a spreadsheet's own file (such as .xlsx), not CSV. In the spreadsheet choose "Save as", then "CSV UTF-8", and send that file.
csv-missing-column = The column { $column } is missing. Add it to the first line.
csv-missing-column-near = The column { $column } is missing. Is it "{ $near }"? Rename that one in the first line.
csv-absent-column = The file has no column { $column }, and each surface without a bed needs one (the first: line { $line }). Add it to the first line, and write there: { $words }
csv-column-twice = The column { $column } stands there twice. Keep one.
csv-cell-count = { $found ->
        [one] 1 cell
       *[other] { $found } cells
    } here, but { $expected } in the first line. Look for a comma too many or too few.
csv-break-in-cell = A line break inside a cell. Often a quotation mark is not closed.
csv-blank = { $column } is blank. Fill it in.
csv-not-one-of = { $column }: I do not know this word there. Write: { $words }
csv-not-a-number = { $column } must be a number, such as 30.
csv-not-a-load = { $column } must be a load, such as 600 (pounds), 600 lb or 272 kg.
csv-out-of-range = { $column } must be from { $least } to { $most }.
csv-not-a-date = { $column } must be a date like 2026-03-08.
csv-bad-name = { $column }: use letters, digits, spaces and dashes, at most { $most } characters.
csv-bad-settings = settings: write pounds and setting in pairs, the pounds rising, such as 120:1;160:2
csv-bad-band = low_in and high_in: give both or neither, the low one first and at least 0.5, such as 1 and 1.5
csv-filter-days = filter_check_days is longer than filter_max_days. A filter is looked at before its limit.
csv-soiled-under-bed = A soiled surface cannot be under a bed. Leave bed empty, or write ready.
csv-twice = { $column }: the same as in line { $line }. Each may stand there once.
csv-reserved = The profile { $name } is built in. Give yours another name.
csv-nurse-must-place = bed: surfaces lie under residents here already, so a nurse places this one with `/place`. Leave bed empty.
csv-too-many-to-ask = More than { $most } changes of this file wait for a supervisor, who reads each. Split the file.
csv-private = { $column } seems to hold { $what }. Take it out: the register is about beds and surfaces, not people.
csv-date-ahead = { $column } is still to come. Write the day on which it was done, or leave it empty.
csv-serial-taken = serial: { $tag } has this number already. Correct it, or take the row out.
csv-tag-retired = { $tag } was retired and keeps its history. The same surface? Bring it back below, and take the row out. Another one? Give it another tag.
csv-bed-elsewhere = bed { $bed } belongs to { $unit }. Take the row out, or bring it over first: `/facility unit name:{ $to } beds:{ $beds } take:yes`
csv-tag-taken = { $tag } is in the register already. Take the row out, or use another tag.
csv-no-such = { $column }: I do not know this one. Read it in first, or correct it.
csv-no-such-near = { $column }: I do not know this one. Did you mean { $near }?
