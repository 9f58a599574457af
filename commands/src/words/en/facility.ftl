### Setting up a home: channels, roles, units, schedules, the ladder, policies.

facility-set = Set: time zone { $zone }, care in { $care }, supervisors in { $supervisor }.
facility-set-upkeep = Upkeep reads in { $channel }: its due list with the shift cards, what is ready before a weekend, recalls, what to order.
facility-first-schedules = Posted from now on: the due list at 07:00, 15:00 and 23:00, the handover 15 minutes before, and on Fridays at 12:00 what is ready for the weekend. Change it with `/facility schedule`.
facility-next-units = Next, the units and their beds: `/facility unit name:Elm beds:101-112, 114A`. Then the surfaces: `/fleet add` or `/fleet import`.
facility-set-again = Units, beds, schedules and policies stay as they were. See all of it: `/facility show`

unit-dropped = Unit { $unit } is removed, with what was posted for it. Its beds are in no unit now: { $beds }
unit-set = Unit **{ $unit }**: { $count ->
        [one] 1 bed
       *[other] { $count } beds
    } ({ $beds }). Its posts go to { $channel }.
all-units = all units

what-due-list = due list
what-handover = handover
what-summary = summary
what-weekend = ready for the weekend
schedule-set = **{ $what }**, { $unit }: posted { $when }.
    The next five: { $five }

# A pattern as it is read; it reads back as the same pattern.
pattern-daily = daily
pattern-weekdays = weekdays
pattern-weekends = weekends
pattern-monday = monday
pattern-tuesday = tuesday
pattern-wednesday = wednesday
pattern-thursday = thursday
pattern-friday = friday
pattern-saturday = saturday
pattern-sunday = sunday
pattern-every = every { $hours }h from { $time }

# Minutes after the opening, in the order in which people are called.
ladder-words = aides at once, aides and nurses after { $first } min, nurses and supervisors after { $second } min, everybody after { $third } min and then every { $repeat } min
ladder-figures = { $first }, { $second }, { $third } min, then every { $repeat } min
ladder-set = Set. While nobody takes an alarm: { $ladder }.
ladder-already = It is so already. While nobody takes an alarm: { $ladder }.

policy-set = **{ $name }** is { $value } from now on. { $meaning }.
policy-already = **{ $name }** is { $value } already. Nothing was changed.
policy-lists-stay = Posted as before: { $these }. To move a list too: `/facility schedule`

policy-air-low = Less air than this is low, unless the surface's profile says otherwise
policy-air-high = More air than this is high, unless the surface's profile says otherwise
policy-low-second-look = For how long after a low reading an adequate one is looked at by a nurse too; 0 for never
policy-air-unit-asked = Whether a bare number of air, such as 1, is asked about: for homes that measure in centimetres
policy-recheck = How soon a low or high reading is checked again
policy-try-again = How soon a check that could not be made is tried again
policy-layers-most = More layers than this between person and surface are too many
policy-loft-readings = A surface is said to trend lower after this many readings at least
policy-loft-days = A surface is said to trend lower over this many days at least
policy-loft-odds = Trending lower: how seldom chance alone may bring such a fall
policy-loft-fall = Trending lower: a smaller fall than this is not spoken of
policy-loft-ahead = Trending lower: one that would not be low within this many days is not spoken of
policy-safe-within = How soon after "On my way" the resident must be said to be safe
policy-fix-within = How soon after "On my way" the alarm must be fixed
policy-spare-alarm = How often an alarm is called again of a surface that is under nobody
policy-shift-start = When the first shift of the day starts
policy-shift-hours = How long a shift is
policy-turnover-hours = How soon after its release a surface should be ready again
policy-away-after = How long loftwatch may be away before supervisors are told
policy-set-up-within = How soon a checklist at a bed should be finished before somebody is called
policy-unplugged-most = How long a surface may be unplugged in a move, unless its profile says less
policy-static-most = How long static mode may last
policy-cpr-quiet = How long after an opened CPR valve the nurse is called once
policy-setting-by-aides = Whether aides may change a setting. Usually only the nurse
policy-roll-again = How soon after a finished roll the next one begins while a unit has no power
policy-rental-day = What renting one costs, where no rental of the kind is on record. 0.00 means not known
policy-beds-in-posts = Whether posts show beds as well as tags. Ask your privacy officer first
policy-safety-test-months = How soon after a safety test the next one is due, where nobody named a day
policy-outlet-test-months = How soon after its test an ordinary wall outlet at a bed is tested again
policy-office-from = From when on a work day somebody is there who gives a surface its papers
policy-office-to = Until when on a work day somebody is there who gives a surface its papers
policy-idle-hours = How long a rented surface may be under no bed before supervisors are told
policy-order-days = How long a delivery takes after an order
policy-order-service = In how many of 100 deliveries the shelf must not be empty before

show-head = **Time zone** { $zone } (zone data { $data }) · **Care** { $care } · **supervisors** { $supervisor } · **language** { $language }
show-upkeep-channel = - Upkeep reads in { $channel }
show-role = - Role { $role }: { $chat }
show-unit = - Unit **{ $unit }** ({ $count ->
        [one] 1 bed
       *[other] { $count } beds
    }): { $beds } · { $channel }
show-ladder = **While nobody takes an alarm:** { $ladder }
show-ladder-bounds = Usual { $usual }; each from 1 to { $most } min. Source: { $source }
show-schedule = - { $what }: { $when }
show-policies-usual = - the other { $count } as usual: open a page below.
show-policy-set = - { $name }: **{ $value }** (usual: { $default })
# Stands right behind a line of show-policy.

schedule-dropped = The { $what } for { $unit } is posted no more.

### What differs, and what waits.

policy-check-every = How often the air is checked under somebody: once in each shift, or so many hours after the last check
policy-recheck-high = How soon a high reading is checked again. As `recheck` until it is set itself
policy-ask-times = How often somebody is asked for the same thing before it is left to the lists
policy-take-back = For how long one's own entry can be taken back with its button
policy-late-days = How many days back an entry may be dated
policy-chair-hours = For how long a bed counts as empty while somebody is in a chair
policy-leave-days = For how many days a bed may be kept empty
policy-hold-remind = On which work day after an injury supervisors are first reminded of the report
policy-remind-again = How soon supervisors and upkeep are reminded again of what stays undone
policy-order-window = How many days of use the forecast of the shelf looks back on
policy-filter-learn = Whether the days between looks at a filter are learned from the looks that were made
policy-filter-chance = Of how many filters in a hundred it is accepted that they are dirty before their next look
policy-filter-looks = How many looks there must be before anything is learned from them
policy-filter-longer = Whether a learned look may come later than the profile says
policy-filter-most = The most days without a look at a filter, where the days are learned
policy-weekend-days = For how many days the shelf must last on a Friday
policy-post-late = How late a list may come before it says that it is late
policy-bleach-mixing = Whether bleach is mixed here with `/mix`. A home that uses ready-made products says no
policy-bleach-hours = How long a bleach mixture may be used before it is thrown away
policy-bleach-stock = What the label of your home's bleach says, such as 8.25 %. `off` if none is usual
policy-own-years = How long a surface is reckoned to last, for `/fleet cost`
policy-own-interest = The interest a year that owning is reckoned with, for `/fleet cost`
policy-own-upkeep = What repairs, covers, filters and tests of one surface cost, for `/fleet cost`. 0.00 means not known
policy-fleet-shortfall = Of 100 who need a surface, so many at most may find none ready, for `/fleet size`
policy-frame-free = How much of a frame may stay free beside a surface before its gaps are to be measured
policy-wish-days = For how many days a change waits for a supervisor before it is void

value-yes = yes
value-no = no
value-shift = each shift
value-unset = not set
value-layers = { $count ->
        [one] 1 layer
       *[other] { $count } layers
    }
value-times = { $count ->
        [one] 1 time
       *[other] { $count } times
    }
value-checks = { $count ->
        [one] 1 check
       *[other] { $count } checks
    }
value-readings = { $count ->
        [one] 1 reading
       *[other] { $count } readings
    }
value-looks = { $count ->
        [one] 1 look
       *[other] { $count } looks
    }
value-odds = 1 in { $count } looks
value-a-day = { $amount } a day
value-a-year = { $amount } a year
value-years = { $count ->
        [one] 1 year
       *[other] { $count } years
    }
value-months = { $count ->
        [one] 1 month
       *[other] { $count } months
    }
language-english = English
language-spanish = Spanish
when-never = never
not-on-the-list = none
approved-all = all surfaces
product-figures = { $method }, wet for { $minutes } min
product-figures-sporicidal = { $method }, wet for { $minutes } min, sporicidal

what-zone = Time zone
what-care = Care channel
what-supervisors = Supervisors' channel
what-upkeep-channel = Upkeep's channel
what-language = Language
what-home = Home's name
what-beds = Beds in posts
what-storage = Storage, soiled and ready
what-ladder = Ladder
what-for = { $what }, { $unit }
what-approved = Surfaces approved for { $beds }
# On a button: a list that has no room there.
what-approved-more = Surfaces approved for { $bed } and { $count } more
what-currency = Currency
what-roles = Chat roles
what-profile = Profile { $profile }

# A change that was made, to the supervisors, without a sound.
told-change = **{ $what }**: { $old } → **{ $new }**
told-by = { $changes }
    Changed by { $who }.
told-role-instead = The chat's role for **{ $role }** had been deleted. { $new } has it from now on, mapped by { $who }. Whoever did not expect that asks the administrator.
post-role-everybody = For **{ $role }** this home has `@everyone`: the chat counts nobody as holding it, and calls by it ring nobody. Whoever manages the chat makes a role for the people of this job alone and sets it: `/facility setup { $option }:@role`
post-role-deleted = The chat's role for **{ $role }** was deleted: nobody can act in it, and calls for it reach nobody. Whoever manages the chat maps another at once: `/facility setup { $option }:@role`

wish-waits = **{ $what }** is to be: { $wished }. A supervisor must agree first: they have been asked. Until then: { $now }.
post-wish = **{ $what }**: { $who } asks for a change.
    Now: { $now }
    Wished: **{ $wished }**
post-wish-again = **{ $what }** still waits for a supervisor. { $who } asked for it.
    Now: { $now }
    Wished: **{ $wished }**
wish-meaning = { $meaning }. Usual { $default }, from { $least } to { $most }.
wish-ladder = While nobody takes an alarm: aides at once; then aides and nurses; then nurses and supervisors; then everybody, again and again. Usual { $usual }; each from 1 to { $most } min.
wish-caution = Agree only if it fits your home's policy and the makers' instructions. Until then what is now holds.
wish-agreed = **{ $what }**: { $now } → **{ $wished }**. { $asker } asked, { $who } agreed.
wish-declined = **{ $what }** stays: { $now }. { $asker } asked for { $wished }, { $who } declined.
wish-reason-erased = **{ $what }**: { $who } declined { $wished }. The reason that stood here was erased.
form-decline-title = Decline
form-decline = Why (may be left empty)
wish-replaced = **{ $what }**: { $wished } is not asked for any more. A newer wish has taken its place.
wish-expired = **{ $what }** stays: { $now }. { $asker } asked for { $wished }, and nobody answered in { $days ->
        [one] 1 day
       *[other] { $days } days
    }. Type it again to ask again.
wish-overtaken = **{ $what }**: { $wished } is not asked for any more. { $who } has set it anew.
wish-unit-dropped = **{ $what }**: { $wished } is not asked for any more. { $who } has taken the unit off the list.
wish-withdrawn = **{ $what }** stays: { $now }. { $who } asked for { $wished } and has taken that back.
due-wishes = **Waiting for a supervisor ({ $count })**: { $these }. See `/facility show`

file-profiles = Profiles
file-frames = Frames of the beds
# In the file a channel stands by what the home has it for.
file-channel = another channel of the chat
file-channel-care = the channel of care
file-channel-supervisor = the channel of supervisors
file-channel-unit = the channel of { $unit }
file-channel-upkeep = the channel of upkeep
file-set = set in the chat
file-names = What is set in the chat stands by its name under `/facility show`, page "Channels, roles, beds in posts".
file-role = another role of the chat
# Who did it, by the role in which they did; a file has no names.
file-person = somebody of this chat
file-person-as = somebody as { $role }
show-wishes = **Waiting for a supervisor ({ $count })**
show-wish = - { $what }: { $now } → **{ $wished }**, asked by { $who } { $since }
show-wishes-more = - and { $count } more, once these are answered.
show-own = **Not as usual ({ $count })**
show-own-more = - and { $count } more: open a page below.
show-all-usual = All { $count } policies are as usual: open a page below.
show-count = **Units** { $units } · **beds** { $beds } · **surfaces** { $surfaces }
show-foot = Open a page below, or the file with everything. One of them: `/facility policy name:recheck`
show-page = **{ $page }**
show-admins = - Role admin: whoever may manage this chat. Clinical changes wait for a supervisor.
policy-card = **{ $name }**{ $mark }: **{ $value }**
    { $meaning }.
    Usual { $default }, from { $least } to { $most }. Source: { $source }
history-head = **{ $name }** is **{ $value }** now.
history-none = It was never set: that is the usual value.
history-set = - { $at }: { $old } → **{ $new }**, set by { $who }
history-agreed = - { $at }: { $old } → **{ $new }**, asked by { $asker }, agreed by { $who }
policy-on-page = **{ $name }**{ $mark }: **{ $value }**
    { $meaning }. Usual { $default }, from { $least } to { $most }.
policy-marked = { $mark } An admin's change waits for a supervisor.
policy-clinical = An admin's change of it waits for a supervisor.

missing-head = **Still missing ({ $count })**
missing-units = - Units and their beds: `/facility unit`
missing-surfaces = - Surfaces: `/fleet import` or `/fleet add`
missing-placed = - Surfaces under beds: a nurse types `/place`
missing-due-list = - The due list at each shift: `/facility schedule what:due-list when:every 8h from 07:00`
missing-upkeep = - A role for upkeep: `/facility setup`
missing-products = - The home's disinfectants: `/facility product`
missing-storage = - Where soiled and ready surfaces stand: `/facility storage`

beds-approved = **Beds in posts:** approved, recorded by { $who } { $at }
beds-withdrawn = **Beds in posts:** tags only, recorded by { $who } { $at }
beds-shown = **Beds in posts:** shown. Who approved it is not recorded: `/facility setup`, option beds-in-posts
beds-hidden = **Beds in posts:** tags only, until your privacy officer approves beds: `/facility setup`, option beds-in-posts
currency-shown = **Amounts of money:** such as { $example }
home-called = **On printed pages:** { $home }
home-unnamed = **On printed pages:** no name of the home yet: `/facility setup`, option home

page-home = Channels, roles, beds in posts
page-units = Units and beds
page-ladder = Ladder and schedules
page-lists = Disinfectants and storage
page-checks = Limits of the hand check
page-loft = Surfaces that lose loft
page-calls = Alarms and reminders
page-bedside = At the bed
page-upkeep = Turnover, tests, papers
page-filters = Looks at filters
page-supply = Shelf, rentals, money
page-staff = Agency staff, sign-offs, pace
page-house = Shifts, entries, posts

## Where a policy's usual value comes from

source-common = common practice
source-air-low = less than 1 in: AHCPR Guideline 15 (1994) and CMS survey guidance, from memory; RNAO has ½ in
source-layers = fewer is better: NPUAP; Williamson et al., Ostomy Wound Management 2013; the number is common practice
source-well-inside-the-hour = well inside the hour of Gefen, Ostomy Wound Management 2008; the number is common practice
source-inside-the-hour = inside the hour of Gefen, Ostomy Wound Management 2008; the number is common practice
source-beds-in-posts = off until the home's privacy officer has approved beds in the chat
source-unknown = unknown until the home sets it
source-safety-test = 6 to 36 months where a maker names none: IEC 62353, from memory
source-outlet-test = 12 months for outlets that are not of hospital grade: NFPA 99-2012, 6.3.4.1, from memory
source-order-service = the newsvendor's service level of operations texts; the number is common practice
source-check-every = no published interval; each shift is common practice
source-loft = no published figure; chosen by counting on invented surfaces
source-hold-remind = half of the 10 work days of 21 CFR 803.30, from memory; the half is common practice
source-frame-free = no published figure; an inch is common practice
source-bleach-hours = fresh each day is common practice; what diluted bleach loses: Rutala et al., Infect Control Hosp Epidemiol 1998
source-own-years = the reasonable useful lifetime of 42 CFR 414.210(f), 5 years: a yardstick
source-sign-off = 12 months: yearly competency review is common practice
source-agency-second-look = on, because nobody here has seen the hand of somebody from outside: common practice
source-low-second-look = cells that were low take minutes to fill, so a sudden good reading is looked at again: common practice
source-air-unit-asked = no, as the trade's band is in inches and every answer says the unit: common practice
source-sign-off-wanted = off until the home has signed its people off, so that nobody is flooded: common practice
