//! What everything found in a message comes to.
//!
//! Decides which of its parts is meant, what comes first (a voice that is needed, then heat and fluid, then alarms), and how a
//! question, a denial, a past or a doubt turns an entry into something to ask. Leaves finding the parts to the files beside it.

use super::cares::{self, CARE_UNREAD_MAX};
use super::checks::{self, ALARM_UNREAD_MAX, CHECK_UNREAD_MAX};
use super::names::{Home, Named};
use super::sentence::Sentence;
use super::subject::{self, Subject};
use super::tokens::{Kind, Token};
use super::words::Meaning;
use super::{AirSaid, Asks, Doubt, Example, Heard, Place, Understood};
use crate::rules::look_first::Sign;

/// A question has at most so many words that mean nothing here.
const QUESTION_UNREAD_MAX: usize = 3;

/// One thing that a message says of a surface.
pub(super) enum Part {
    Done(Understood),
    Ask(Asks),
}

/// What the message comes to.
pub(super) fn compose(of: &Sentence<'_>, home: &Home<'_>) -> Heard {
    let says_something = of
        .tokens
        .iter()
        .any(|token| !matches!(token.kind, Kind::Mark(_)));
    if !says_something {
        return whole(Understood::Help);
    }
    let (subject, amounts) = subject::of(of);
    let troubled = of.has_any(&[
        Meaning::Beeping,
        Meaning::Alarm,
        Meaning::LowPressure,
        Meaning::HighPressure,
        Meaning::NoPower,
    ]);
    let entered = troubled
        || !amounts.is_empty()
        || of.has_any(&[Meaning::Low, Meaning::Touching, Meaning::Filter, Meaning::NotWorking]);
    if needs_a_voice(of, entered) {
        return Heard::Nearest(Example::Voice);
    }
    if of.has(Meaning::Other)
        && amounts.is_empty()
        && !of.has_any(&[
            Meaning::LowPressure,
            Meaning::HighPressure,
            Meaning::Filter,
            Meaning::Cleaned,
        ])
    {
        return Heard::Nearest(Example::NoSurface);
    }
    if let Some(asked) = question(of, &subject, amounts.is_empty()) {
        return asked;
    }
    match &subject {
        // "Oak 103", and 103 is in Elm.
        Subject::One(tag) if elsewhere(of, home) => about_several(of, &[tag], &amounts),
        Subject::One(tag) => about_one(of, tag, &amounts).unwrap_or_else(|| nothing(of, &subject)),
        Subject::Several(tags) => about_several(of, tags, &amounts),
        Subject::None => about_none(of, &amounts),
        Subject::EmptyBed(bed) => {
            if speaks_of_surface(of, &amounts) {
                Heard::Asks(Asks::EmptyBed {
                    bed: (*bed).to_owned(),
                })
            } else if of.unread() == 0 && names_only(of) {
                whole(Understood::Where(Place::Bed((*bed).to_owned())))
            } else {
                nothing(of, &subject)
            }
        }
        Subject::Strange(typed) => {
            if !speaks_of_surface(of, &amounts) {
                return nothing(of, &subject);
            }
            let near = subject::near(typed, home);
            let each = complete_each(of, near.iter().map(String::as_str), &amounts);
            let typed = typed.clone();
            Heard::Asks(Asks::NoSurface { typed, near, each })
        }
        Subject::BedOrReading(number) => {
            if of.unread() > CHECK_UNREAD_MAX {
                return nothing(of, &subject);
            }
            let number = number.clone();
            Heard::Asks(Asks::BedOrReading { number })
        }
    }
}

/// Whether a unit stands right before a bed that belongs to another.
fn elsewhere(of: &Sentence<'_>, home: &Home<'_>) -> bool {
    of.names.windows(2).any(|pair| {
        let [first, second] = pair else { return false };
        let (Named::Unit(unit), Named::Bed(bed)) = (&first.named, &second.named) else {
            return false;
        };
        let own = home.beds.iter().find(|other| other.bed == bed.bed);
        first.end == second.start && own.is_some_and(|own| own.unit != *unit)
    })
}

/// Understood, with nothing left over.
fn whole(what: Understood) -> Heard {
    Heard::Understood { what, rest: false }
}

/// Somebody may be hurt. "Need a nurse" beside an entry is about that.
fn needs_a_voice(of: &Sentence<'_>, entered: bool) -> bool {
    of.hits.iter().any(|hit| {
        let call = matches!(
            of.word(hit.start),
            Some("help" | "auxilio" | "need" | "call" | "nurse" | "get" | "send" | "llama" | "llamen" | "necesito")
        );
        hit.meaning == Meaning::Voice && !of.denied(hit) && !(call && entered)
    })
}

/// Whether anything in it is about a surface at all, so that a missing name is worth asking for.
fn speaks_of_surface(of: &Sentence<'_>, amounts: &[super::amounts::Amount]) -> bool {
    let reading = amounts.iter().any(|amount| !amount.bare) && of.unread() <= CHECK_UNREAD_MAX;
    let trouble = of.has_any(&[
        Meaning::Beeping,
        Meaning::Alarm,
        Meaning::LowPressure,
        Meaning::HighPressure,
        Meaning::NoPower,
        Meaning::NoLights,
        Meaning::Fault,
        Meaning::Low,
        Meaning::Touching,
        Meaning::CannotCheck,
        Meaning::Hot,
        Meaning::Wet,
        Meaning::NotWorking,
        Meaning::NotAlternating,
    ]) && of.unread() <= ALARM_UNREAD_MAX;
    let care = of.has_any(&[
        Meaning::Filter,
        Meaning::Cleaned,
        Meaning::Washed,
        Meaning::Check,
        Meaning::Asleep,
        Meaning::Refused,
    ]) && of.unread() <= CARE_UNREAD_MAX;
    reading || trouble || care
}

/// Only a name, and small words around it.
fn names_only(of: &Sentence<'_>) -> bool {
    of.hits.iter().all(|hit| {
        matches!(
            hit.meaning,
            Meaning::Filler | Meaning::Amount | Meaning::Status | Meaning::Where
        )
    }) && of.amounts.is_empty()
        && of.moments.is_empty()
}

/// A question that is answered: what is due, where something is, what to look at, what can be said.
fn question(of: &Sentence<'_>, subject: &Subject<'_>, no_reading: bool) -> Option<Heard> {
    let unread = of.unread();
    let entry = of.has_any(&[
        Meaning::LowPressure,
        Meaning::HighPressure,
        Meaning::NoPower,
        Meaning::Alarm,
        Meaning::Beeping,
        Meaning::Replaced,
        Meaning::Cleaned,
        Meaning::CannotCheck,
        Meaning::Touching,
    ]) || !no_reading;
    if of.has(Meaning::LookFirst)
        && matches!(subject, Subject::None)
        && unread <= QUESTION_UNREAD_MAX
    {
        let kinds = checks::kinds(of, false);
        let sign = checks::sign(of, &kinds).unwrap_or(Sign::NotKnown);
        return Some(whole(Understood::LookFirst { tag: None, sign }));
    }
    if entry {
        return None;
    }
    let asks_due = of.has(Meaning::Due) && !of.has_any(&[Meaning::Filter, Meaning::Clean])
        || of.has(Meaning::Due) && is_question(of);
    if asks_due && unread <= QUESTION_UNREAD_MAX {
        return Some(due(of, subject));
    }
    if of.has_any(&[Meaning::Where, Meaning::Status]) && !of.has(Meaning::LookFirst) {
        return where_is(of, subject, unread);
    }
    let looked_up = is_question(of)
        && of.has(Meaning::Check)
        && !of.has_any(&[
            Meaning::Low,
            Meaning::High,
            Meaning::AllGood,
            Meaning::Filter,
        ])
        && unread <= CHECK_UNREAD_MAX;
    if let (true, Subject::One(tag)) = (looked_up, subject) {
        return Some(whole(Understood::Where(Place::Surface((*tag).to_owned()))));
    }
    let bare_help = of.has(Meaning::Help) && unread == 0 && matches!(subject, Subject::None);
    let others = of.has_any(&[Meaning::Filter, Meaning::Check, Meaning::Low, Meaning::High]);
    (bare_help && !others).then(|| whole(Understood::Help))
}

fn due(of: &Sentence<'_>, subject: &Subject<'_>) -> Heard {
    match subject {
        Subject::One(tag) => whole(Understood::Where(Place::Surface((*tag).to_owned()))),
        Subject::EmptyBed(bed) => whole(Understood::Where(Place::Bed((*bed).to_owned()))),
        Subject::None | Subject::Several(_) | Subject::Strange(_) | Subject::BedOrReading(_) => {
            let mut units = of.units();
            match (units.next(), units.next()) {
                (Some(unit), None) => whole(Understood::Due {
                    unit: Some(unit.to_owned()),
                }),
                (Some(_), Some(_)) => Heard::Nearest(Example::Due),
                (None, _) => match unread_place(of) {
                    Some(typed) => Heard::Asks(Asks::Unit { typed }),
                    None if of.unread() > 1 => Heard::Nearest(Example::Due),
                    None => whole(Understood::Due { unit: None }),
                },
            }
        }
    }
}

/// A word that stands where a unit would, and is none.
fn unread_place(of: &Sentence<'_>) -> Option<String> {
    (1..of.tokens.len()).find_map(|at| {
        let before = matches!(
            of.word(at - 1),
            Some("in" | "on" | "for" | "en" | "de" | "unit" | "wing")
        );
        let known = of.hits.iter().any(|hit| (hit.start..hit.end).contains(&at));
        let token: &Token = of.tokens.get(at)?;
        (before && !known && token.is_word() && of.free(at)).then(|| token.text.clone())
    })
}

fn where_is(of: &Sentence<'_>, subject: &Subject<'_>, unread: usize) -> Option<Heard> {
    match subject {
        Subject::One(tag) if unread <= QUESTION_UNREAD_MAX => {
            Some(whole(Understood::Where(Place::Surface((*tag).to_owned()))))
        }
        Subject::EmptyBed(bed) if unread <= QUESTION_UNREAD_MAX => {
            Some(whole(Understood::Where(Place::Bed((*bed).to_owned()))))
        }
        Subject::Several(tags) => {
            let tags: Vec<String> = tags.iter().map(|tag| (*tag).to_owned()).collect();
            let each = tags
                .iter()
                .map(|tag| Understood::Where(Place::Surface(tag.clone())))
                .collect();
            Some(Heard::Asks(Asks::Which { tags, each }))
        }
        Subject::One(_) | Subject::EmptyBed(_) => Some(Heard::Nearest(Example::Where)),
        Subject::None if of.has_any(&commands_meanings()) => None,
        Subject::None => Some(
            if unread == 0 && !is_about_people(of) && of.has(Meaning::Where) {
                Heard::Asks(Asks::Surface { of: Example::Where })
            } else {
                Heard::Nearest(Example::Where)
            },
        ),
        Subject::Strange(_) | Subject::BedOrReading(_) => None,
    }
}

/// "Who has Elm tonight?" is about staff.
fn is_about_people(of: &Sentence<'_>) -> bool {
    of.hits.iter().any(|hit| {
        hit.meaning == Meaning::Where
            && matches!(of.word(hit.start), Some("who" | "whos" | "quien"))
    })
}

/// One surface was named.
fn about_one(of: &Sentence<'_>, tag: &str, amounts: &[super::amounts::Amount]) -> Option<Heard> {
    let mut done = Vec::new();
    let mut ask = None;
    for part in parts(of, tag, amounts) {
        match part {
            Part::Done(what) => done.push(what),
            Part::Ask(asked) => ask = ask.or(Some(asked)),
        }
    }
    if ask.is_none() && done.is_empty() {
        let over =
            of.has(Meaning::Over) && of.unread() <= CHECK_UNREAD_MAX && command(of).is_none();
        return over.then(|| {
            Heard::Asks(Asks::Doubt {
                doubt: Doubt::Over,
                tag: Some(tag.to_owned()),
                of: None,
            })
        });
    }
    let command = command(of);
    if let (true, Some(name)) = (done.is_empty(), command) {
        return Some(Heard::Nearest(Example::Command(name)));
    }
    let rest = of.unread() > 0 || (ask.is_some() && !done.is_empty() && matters(ask.as_ref()));
    match done.as_slice() {
        [] => {
            let asked = ask?;
            Some(match doubt_of_ask(of, &asked) {
                Some(doubt) => Heard::Asks(Asks::Doubt {
                    doubt,
                    tag: Some(tag.to_owned()),
                    of: None,
                }),
                None => Heard::Asks(asked),
            })
        }
        [only] => Some(match doubt(of, only) {
            Some(doubt) => Heard::Asks(Asks::Doubt {
                doubt,
                tag: Some(tag.to_owned()),
                of: Some(only.clone()),
            }),
            None => Heard::Understood {
                what: only.clone(),
                rest,
            },
        }),
        several => {
            let doubts = several.iter().find_map(|what| doubt(of, what));
            Some(Heard::Asks(match doubts {
                Some(doubt) => Asks::Doubt {
                    doubt,
                    tag: Some(tag.to_owned()),
                    of: None,
                },
                None => Asks::Each(several.to_vec()),
            }))
        }
    }
}

/// Whether what would be asked is more than an aside, such as "good" beside a filter.
fn matters(ask: Option<&Asks>) -> bool {
    !matches!(
        ask,
        None | Some(Asks::Reading { .. } | Asks::HowLow { .. } | Asks::HowHigh { .. })
    )
}

/// Everything that the message says of one surface.
fn parts(of: &Sentence<'_>, tag: &str, amounts: &[super::amounts::Amount]) -> Vec<Part> {
    let unread = of.unread();
    let care = of.has_any(&[
        Meaning::Filter,
        Meaning::Cleaned,
        Meaning::Washed,
        Meaning::Replaced,
        Meaning::Soap,
        Meaning::Quaternary,
        Meaning::Bleach,
    ]);
    let mut parts = Vec::new();
    let check = (unread <= CHECK_UNREAD_MAX)
        .then(|| checks::check(of, tag, amounts))
        .flatten();
    let measured = matches!(&check, Some(Part::Done(_)));
    let touching = of.has(Meaning::Touching);
    if unread <= ALARM_UNREAD_MAX
        && !(care && !of.has_any(&[Meaning::Beeping, Meaning::Alarm, Meaning::LowPressure]))
    {
        match checks::trouble(of, tag) {
            // "Low, 3/4": the reading says how low.
            Some(Part::Ask(Asks::HowLow { .. } | Asks::HowHigh { .. })) if measured || touching => {
            }
            // "Bottomed out, no air": said by the check.
            Some(part) => parts.push(part),
            None => {}
        }
    }
    match check {
        Some(Part::Ask(_)) if care && amounts.is_empty() => {}
        Some(part) => parts.push(part),
        None => {}
    }
    if unread <= CARE_UNREAD_MAX {
        parts.extend(cares::filter(of, tag));
        parts.extend(cares::clean(of, tag));
    }
    parts
}

/// The one complete thing that the message says, for each of these surfaces; nothing where more is missing.
fn complete_each<'t>(
    of: &Sentence<'_>,
    tags: impl Iterator<Item = &'t str>,
    amounts: &[super::amounts::Amount],
) -> Vec<Understood> {
    let mut each = Vec::new();
    for tag in tags {
        match about_one(of, tag, amounts) {
            Some(Heard::Understood { what, .. }) => each.push(what),
            Some(Heard::Asks(_) | Heard::Nearest(_) | Heard::Private(_)) | None => {
                return Vec::new();
            }
        }
    }
    each
}

fn about_several(of: &Sentence<'_>, tags: &[&str], amounts: &[super::amounts::Amount]) -> Heard {
    if let Some(name) = command(of) {
        return Heard::Nearest(Example::Command(name));
    }
    if amounts.len() > 1 {
        return Heard::Asks(Asks::OneAtATime);
    }
    let spoken = tags.iter().any(|tag| about_one(of, tag, amounts).is_some());
    if !spoken {
        return nothing(of, &Subject::Several(tags.to_vec()));
    }
    let each = complete_each(of, tags.iter().copied(), amounts);
    let tags = tags.iter().map(|tag| (*tag).to_owned()).collect();
    Heard::Asks(Asks::Which { tags, each })
}

/// No surface was named.
fn about_none(of: &Sentence<'_>, amounts: &[super::amounts::Amount]) -> Heard {
    let unread = of.unread();
    if let Some(name) = command(of) {
        return Heard::Nearest(Example::Command(name));
    }
    let kinds = checks::kinds(of, false);
    let sign = checks::sign(of, &kinds);
    let anything = matches!(of.word(0), Some("anything" | "any" | "anyone"));
    let denied = anything || of.has_any(&[Meaning::Not, Meaning::Over, Meaning::Beeped]);
    // What is beeping, hot or wet is looked at first, whichever it is; nothing is recorded by that.
    if let (Some(sign), true, [], false) =
        (sign, unread <= CHECK_UNREAD_MAX, kinds.as_slice(), denied)
        && (sign != Sign::NotKnown && sign != Sign::Noise || of.has(Meaning::Beeping))
    {
        return whole(Understood::LookFirst { tag: None, sign });
    }
    let readings = amounts
        .iter()
        .any(|amount| !amount.bare && amount.air.is_ok());
    if readings && unread == 0 && !of.has_any(&[Meaning::NotYet, Meaning::Question]) {
        return Heard::Asks(Asks::Surface {
            of: Example::HandCheck,
        });
    }
    if unread > 1 || is_question(of) {
        return nothing(of, &Subject::None);
    }
    let of = if !kinds.is_empty() || of.has(Meaning::Alarm) && !denied {
        Example::Alarm
    } else if of.has(Meaning::Filter)
        && of.has_any(&[
            Meaning::Replaced,
            Meaning::Rinsed,
            Meaning::Clogged,
            Meaning::Dusty,
        ])
        && !of.has(Meaning::NotYet)
    {
        Example::Filter
    } else if of.has_any(&[Meaning::Cleaned, Meaning::Washed])
        && of.has_any(&[
            Meaning::Soap,
            Meaning::Quaternary,
            Meaning::Bleach,
            Meaning::Cover,
        ])
    {
        Example::Clean
    } else if of.has_any(&[Meaning::Low, Meaning::Touching, Meaning::CannotCheck]) && !denied {
        Example::HandCheck
    } else {
        return nothing(of, &Subject::None);
    };
    Heard::Asks(Asks::Surface { of })
}

/// Why what was said is no entry.
fn doubt(of: &Sentence<'_>, what: &Understood) -> Option<Doubt> {
    let past = of.has(Meaning::Past) && of.moments.is_empty();
    match what {
        Understood::HandCheck { air, .. } => {
            let denied = of.amounts.iter().any(|amount| {
                of.denied(&super::words::Hit {
                    meaning: Meaning::Amount,
                    start: amount.start,
                    end: amount.end,
                })
            });
            let could_not = matches!(air, AirSaid::CouldNot(_));
            first_of(&[
                (is_question(of), Doubt::Question),
                (denied && !could_not, Doubt::Negation),
                (past, Doubt::Past),
                (of.has_any(&[Meaning::Maybe, Meaning::Or]), Doubt::Unsure),
                (of.has_any(&[Meaning::If, Meaning::Ought]), Doubt::NotYet),
            ])
        }
        Understood::Alarm { .. } => first_of(&[
            (of.has(Meaning::If), Doubt::NotYet),
            (is_question(of), Doubt::Question),
            (of.has(Meaning::Over), Doubt::Over),
            (of.denies_trouble(), Doubt::Negation),
            (past || was(of) || !of.moments.is_empty(), Doubt::Past),
            (of.has_any(&[Meaning::Maybe, Meaning::Or]), Doubt::Unsure),
        ]),
        Understood::LookFirst { .. } => {
            let looking = of.has(Meaning::LookFirst);
            first_of(&[
                (of.has(Meaning::Over), Doubt::Over),
                (of.denies_trouble(), Doubt::Negation),
                (past || was(of) || !of.moments.is_empty(), Doubt::Past),
            ])
            .filter(|_| !looking)
        }
        Understood::Filter { .. } | Understood::Clean { .. } => first_of(&[
            (is_question(of), Doubt::Question),
            (denies_care(of), Doubt::Negation),
            (past || !of.moments.is_empty(), Doubt::Past),
            (of.has_any(&[Meaning::Maybe, Meaning::Or]), Doubt::Unsure),
            (of.has_any(&[Meaning::If, Meaning::Ought]), Doubt::NotYet),
        ]),
        Understood::Due { .. } | Understood::Where(_) | Understood::Help => None,
    }
}

fn first_of(doubts: &[(bool, Doubt)]) -> Option<Doubt> {
    doubts.iter().find(|(is, _)| *is).map(|(_, doubt)| *doubt)
}

/// Why what would be asked is not even that.
fn doubt_of_ask(of: &Sentence<'_>, ask: &Asks) -> Option<Doubt> {
    let past = of.has(Meaning::Past) && of.moments.is_empty();
    match ask {
        Asks::HowLow { .. } | Asks::HowHigh { .. } | Asks::Kind { .. } => first_of(&[
            (is_question(of), Doubt::Question),
            (of.has(Meaning::Over), Doubt::Over),
            (of.denies_trouble(), Doubt::Negation),
            (past || was(of), Doubt::Past),
            (of.has(Meaning::If), Doubt::NotYet),
        ]),
        Asks::Reading { .. } | Asks::Air { .. } | Asks::Filter { .. } | Asks::Clean { .. } => {
            first_of(&[
                (is_question(of), Doubt::Question),
                (past, Doubt::Past),
                (of.has_any(&[Meaning::If, Meaning::Ought]), Doubt::NotYet),
                (
                    of.has(Meaning::NotYet)
                        && !of.has_any(&[
                            Meaning::Clogged,
                            Meaning::Dusty,
                            Meaning::Dirty,
                            Meaning::Damaged,
                        ]),
                    Doubt::NotYet,
                ),
            ])
        }
        Asks::Which { .. }
        | Asks::Surface { .. }
        | Asks::NoSurface { .. }
        | Asks::EmptyBed { .. }
        | Asks::Unit { .. }
        | Asks::BedOrReading { .. }
        | Asks::When { .. }
        | Asks::Doubt { .. }
        | Asks::Each(_)
        | Asks::OneAtATime
        | Asks::TooLong => None,
    }
}

fn was(of: &Sentence<'_>) -> bool {
    of.has_any(&[Meaning::Was, Meaning::Beeped])
}

fn denies_care(of: &Sentence<'_>) -> bool {
    of.hits.iter().any(|hit| {
        matches!(
            hit.meaning,
            Meaning::Clean
                | Meaning::Cleaned
                | Meaning::Washed
                | Meaning::Replaced
                | Meaning::Rinsed
                | Meaning::Dusty
                | Meaning::Dirty
                | Meaning::Clogged
        ) && of.denied(hit)
    })
}

/// Whether it is asked: a question mark, or a question's word at its beginning.
pub(super) fn is_question(of: &Sentence<'_>) -> bool {
    if of
        .tokens
        .iter()
        .any(|token| token.is_mark('?') || token.is_mark('¿'))
    {
        return true;
    }
    let small = |at: usize| {
        of.tokens
            .get(at)
            .is_some_and(|token| matches!(token.kind, Kind::Mark(_)))
            || of
                .hits
                .iter()
                .any(|hit| hit.meaning == Meaning::Filler && (hit.start..hit.end).contains(&at))
    };
    let first = (0..of.tokens.len()).find(|at| !small(*at));
    let Some(hit) = first.and_then(|at| of.hits.iter().find(|hit| hit.start == at)) else {
        return false;
    };
    // "Is beeping LW-07": a statement by somebody whose first language leaves the subject for later.
    let next = of.hits.iter().find(|other| other.start == hit.end);
    let statement = matches!(of.word(hit.start), Some("is" | "are"))
        && hit.end - hit.start == 1
        && next.is_some_and(|next| {
            !matches!(
                next.meaning,
                Meaning::Filler | Meaning::Question | Meaning::Not
            )
        });
    hit.meaning == Meaning::Question && !statement
}

/// The command whose work the message is about.
fn command(of: &Sentence<'_>) -> Option<&'static str> {
    let named = of
        .names
        .iter()
        .any(|name| !matches!(name.named, Named::Unit(_)));
    let said = COMMANDS
        .iter()
        .filter(|(meaning, _)| named || !OF_A_SURFACE.contains(meaning))
        .find(|(meaning, _)| of.first(*meaning).is_some_and(|hit| !of.denied(hit)))
        .map(|(_, name)| *name);
    let turned = of.has(Meaning::Static)
        && named
        && of.amounts.iter().all(|amount| amount.bare)
        && (0..of.tokens.len()).any(|at| matches!(of.word(at), Some("till" | "til" | "until" | "hasta" | "put" | "poner")));
    said.or_else(|| puts_under(of).then_some("place"))
        .or_else(|| turned.then_some("static"))
}

/// "Put LW-20 on 104": a surface, and a bed with nothing under it.
fn puts_under(of: &Sentence<'_>) -> bool {
    let put = (0..of.tokens.len()).any(|at| {
        matches!(
            of.word(at),
            Some("put" | "putting" | "puse" | "pon" | "pongan" | "goes")
        )
    });
    let tag = of
        .names
        .iter()
        .any(|name| matches!(name.named, Named::Tag(_)));
    let free = of
        .names
        .iter()
        .any(|name| matches!(&name.named, Named::Bed(bed) if bed.under.is_none()));
    put && tag && free
}

/// Everyday words that are this work only where a surface or a bed is named.
const OF_A_SURFACE: &[Meaning] = &[
    Meaning::Place,
    Meaning::Release,
    Meaning::Swap,
    Meaning::Move,
    Meaning::Leave,
    Meaning::Pull,
    Meaning::Return,
    Meaning::Hold,
    Meaning::Setting,
];

/// Other work and its commands, the urgent first.
const COMMANDS: &[(Meaning, &str)] = &[
    (Meaning::Cpr, "cpr"),
    (Meaning::Outage, "outage"),
    (Meaning::Pull, "pull"),
    (Meaning::Swap, "swap"),
    (Meaning::Move, "move"),
    (Meaning::Release, "release"),
    (Meaning::Place, "place"),
    (Meaning::Leave, "leave"),
    (Meaning::Setting, "setting"),
    (Meaning::Return, "return"),
    (Meaning::Hold, "hold"),
    (Meaning::Zones, "zones"),
    (Meaning::Recall, "recall"),
    (Meaning::Rental, "rental list"),
    (Meaning::Stock, "stock"),
    (Meaning::Match, "match"),
    (Meaning::Service, "service"),
    (Meaning::LateList, "catchup"),
];

fn commands_meanings() -> Vec<Meaning> {
    COMMANDS.iter().map(|(meaning, _)| *meaning).collect()
}

/// Nothing was understood: the nearest example.
fn nothing(of: &Sentence<'_>, subject: &Subject<'_>) -> Heard {
    if let Some(name) = command(of) {
        return Heard::Nearest(Example::Command(name));
    }
    let named = !matches!(subject, Subject::None | Subject::Strange(_));
    if let Subject::One(tag) = subject
        && (of.unread() == 0 && names_only(of) || of.unread() <= 1 && is_question(of))
    {
        return whole(Understood::Where(Place::Surface((*tag).to_owned())));
    }
    if named && of.has_any(&[Meaning::Static]) {
        return Heard::Nearest(Example::Command("static"));
    }
    Heard::Nearest(
        if of.has_any(&[Meaning::Taking, Meaning::Over]) && (named || !of.has(Meaning::AllGood)) {
            Example::AlarmCard
        } else if of.has(Meaning::Filter) {
            Example::Filter
        } else if of.has_any(&[
            Meaning::Cleaned,
            Meaning::Soap,
            Meaning::Quaternary,
            Meaning::Bleach,
        ]) {
            Example::Clean
        } else if of.has_any(&[Meaning::Valve, Meaning::NotWorking, Meaning::Noise]) {
            Example::LookFirst
        } else if of.has_any(&[
            Meaning::Beeping,
            Meaning::Beeped,
            Meaning::Alarm,
            Meaning::LowPressure,
            Meaning::HighPressure,
            Meaning::NoPower,
            Meaning::Fault,
        ]) {
            Example::Alarm
        } else if of.has(Meaning::Due) {
            Example::Due
        } else if of.has_any(&[Meaning::Where, Meaning::Status]) {
            Example::Where
        } else if named
            || of.has_any(&[
                Meaning::Check,
                Meaning::AirUnder,
                Meaning::Low,
                Meaning::High,
                Meaning::Touching,
            ])
        {
            Example::HandCheck
        } else {
            Example::Any
        },
    )
}
