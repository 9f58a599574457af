//! What everything found in a message comes to.
//!
//! Decides which of its parts is meant and what comes first: a voice that is needed, then questions, then what is wrong, then
//! readings and work. Leaves finding the parts, doubts of them, several surfaces, and the nearest example to the files beside it.

use super::amounts::{Amount, Limit};
use super::cares::{self, CARE_UNREAD_MAX};
use super::causes;
use super::checks::{self, ALARM_UNREAD_MAX, CHECK_UNREAD_MAX};
use super::doubts::{doubt, doubt_of_ask, is_question, over};
use super::examples::{command, commands_meanings, names_only, nothing};
use super::names::{Home, Named};
use super::sentence::Sentence;
use super::several;
use super::subject::{self, Subject};
use super::tokens::{Kind, Token};
use super::words::Meaning;
use super::works::{self, is_about_people};
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
        Meaning::Outage,
        Meaning::Stopped,
    ]);
    let entered = troubled
        || !amounts.is_empty()
        || of.has_any(&[
            Meaning::Low,
            Meaning::Touching,
            Meaning::Filter,
            Meaning::NotWorking,
        ]);
    if needs_a_voice(of, entered) {
        return Heard::Nearest(Example::Voice);
    }
    let of_surface = amounts.iter().any(|amount| !amount.vague)
        || of.has_any(&[
            Meaning::LowPressure,
            Meaning::HighPressure,
            Meaning::Filter,
            Meaning::CannotCheck,
            Meaning::LookFirst,
        ]);
    if of.has(Meaning::Other) && !of_surface {
        return Heard::Nearest(Example::NoSurface);
    }
    if let Some(heard) = works::of_the_house(of, &subject, amounts.is_empty()) {
        return heard;
    }
    if let Some(asked) = question(of, &subject, amounts.is_empty()) {
        return asked;
    }
    if let Some(each) = several::pairs(of, home) {
        return Heard::Asks(Asks::Each(each));
    }
    if let Some(some) = several::some(of, home) {
        return Heard::Asks(some);
    }
    match &subject {
        // "Oak 103", and 103 is in Elm.
        Subject::One(tag) if elsewhere(of, home) => several::about(of, &[tag], &amounts),
        Subject::One(tag) => {
            let heard = match about_one(of, tag, &amounts) {
                Some(Heard::Asks(Asks::Reading { .. })) | None
                    if amounts.is_empty() && resident_is_fine(of) =>
                {
                    let tag = (*tag).to_owned();
                    whole(Understood::Answered { tag })
                }
                Some(heard) => heard,
                None => nothing(of, &subject),
            };
            works::at_surface(of, tag, heard)
        }
        Subject::Several(tags) => several::about(of, tags, &amounts),
        Subject::None => about_none(of, home, &amounts),
        Subject::EmptyBed(bed) => {
            if let Some(heard) = works::at_empty_bed(of, bed) {
                heard
            } else if speaks_of_surface(of, &amounts) {
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
            let (near, room) = subject::near(typed, home);
            // What only looks alike is named, and never one tap away.
            let each = if room {
                complete_each(of, near.iter().map(String::as_str), &amounts)
            } else {
                Vec::new()
            };
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
pub(super) fn elsewhere(of: &Sentence<'_>, home: &Home<'_>) -> bool {
    of.names.windows(2).any(|pair| {
        let [first, second] = pair else { return false };
        let (Named::Unit(unit), Named::Bed(bed)) = (&first.named, &second.named) else {
            return false;
        };
        let own = home.beds.iter().find(|other| other.bed == bed.bed);
        first.end == second.start && own.is_some_and(|own| own.unit != *unit)
    })
}

/// "Pt in 216 is fine": of a person, and no reading.
fn resident_is_fine(of: &Sentence<'_>) -> bool {
    const PERSON: &[&str] = &[
        "resident",
        "res",
        "pt",
        "patient",
        "person",
        "residente",
        "paciente",
        "persona",
    ];
    let says = |words: &[&str]| {
        (0..of.tokens.len()).any(|at| of.word(at).is_some_and(|word| words.contains(&word)))
    };
    let fine = of.has(Meaning::AllGood) || says(&["safe", "salvo", "segura", "seguro"]);
    let other = of.has_any(&[
        Meaning::Check,
        Meaning::Not,
        Meaning::AirUnder,
        Meaning::Filter,
    ]);
    says(PERSON) && fine && !other && !is_question(of)
}

/// Understood, with nothing left over.
pub(super) fn whole(what: Understood) -> Heard {
    Heard::Understood { what, rest: false }
}

/// Somebody may be hurt. "Need a nurse" beside an entry is about that.
fn needs_a_voice(of: &Sentence<'_>, entered: bool) -> bool {
    of.hits.iter().any(|hit| {
        let call = matches!(
            of.word(hit.start),
            Some(
                "help"
                    | "ayuda"
                    | "auxilio"
                    | "need"
                    | "call"
                    | "nurse"
                    | "get"
                    | "send"
                    | "llama"
                    | "llamen"
                    | "necesito"
            )
        );
        hit.meaning == Meaning::Voice && !of.denied(hit) && !(call && entered)
    })
}

/// Whether anything in it is about a surface at all, so that a missing name is worth asking for.
fn speaks_of_surface(of: &Sentence<'_>, amounts: &[Amount]) -> bool {
    let reading = amounts.iter().any(|amount| !amount.bare) && of.unread() <= CHECK_UNREAD_MAX;
    let trouble = of.has_any(&[
        Meaning::Beeping,
        Meaning::Alarm,
        Meaning::LowPressure,
        Meaning::HighPressure,
        Meaning::NoPower,
        Meaning::Outage,
        Meaning::Stopped,
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

/// A question that is answered: what is due, where something is, what to look at, what can be said.
fn question(of: &Sentence<'_>, subject: &Subject<'_>, no_reading: bool) -> Option<Heard> {
    let unread = of.unread();
    let entry = of.has_any(&[
        Meaning::LowPressure,
        Meaning::HighPressure,
        Meaning::NoPower,
        Meaning::Outage,
        Meaning::Stopped,
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
    // "When was the filter of LW-12 changed": its card says so, and nothing is entered.
    let begins = of.hits.first().filter(|hit| hit.meaning == Meaning::Status);
    let asks_when = begins.is_some_and(|hit| matches!(of.word(hit.start), Some("when" | "cuando")));
    if let (true, Subject::One(tag)) = (asks_when, subject) {
        return Some(whole(Understood::Where(Place::Surface((*tag).to_owned()))));
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
pub(super) fn unread_place(of: &Sentence<'_>) -> Option<String> {
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
                Heard::Asks(Asks::Surface {
                    of: Example::Where,
                    likely: Vec::new(),
                    each: Vec::new(),
                })
            } else {
                Heard::Nearest(Example::Where)
            },
        ),
        Subject::Strange(_) | Subject::BedOrReading(_) => None,
    }
}

/// One surface was named.
pub(super) fn about_one(of: &Sentence<'_>, tag: &str, amounts: &[Amount]) -> Option<Heard> {
    let mut done = Vec::new();
    let mut ask = None;
    for part in parts(of, tag, amounts) {
        match part {
            Part::Done(what) => done.push(what),
            Part::Ask(asked) => ask = ask.or(Some(asked)),
        }
    }
    if ask.is_none() && done.is_empty() {
        let over = over(of) && of.unread() <= CHECK_UNREAD_MAX && command(of).is_none();
        return over.then(|| {
            Heard::Asks(Asks::Doubt {
                doubt: Doubt::Over,
                tag: Some(tag.to_owned()),
                of: None,
            })
        });
    }
    // At one surface no power is an alarm, and the lamps of a room are nothing of ours.
    let command =
        command(of).filter(|name| *name != "outage" && !matches!(ask, Some(Asks::Cause { .. })));
    if let (true, Some(name)) = (done.is_empty(), command) {
        return Some(Heard::Nearest(Example::Command(name)));
    }
    let rest = of.unread() > 0
        || done.iter().any(|what| leaves_reading(of, what))
        || (ask.is_some() && !done.is_empty() && matters(ask.as_ref()));
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
fn parts(of: &Sentence<'_>, tag: &str, amounts: &[Amount]) -> Vec<Part> {
    if let Some(said) = &of.cause
        && of.unread() <= ALARM_UNREAD_MAX
        && let Some(parts) = with_cause(of, tag, amounts, said)
    {
        return parts;
    }
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
        && (!care || of.has_any(&[Meaning::Beeping, Meaning::Alarm, Meaning::LowPressure]))
    {
        match checks::trouble(of, tag) {
            // "Low, 3/4": the reading says how low.
            Some(Part::Ask(Asks::HowLow { .. } | Asks::HowHigh { .. }))
                if measured || touching || unread > 1 => {}
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

/// The same where it says what was wrong: the reading goes with it. No air left is told by itself, because it calls people
/// at once; and so is a filter that was looked at.
fn with_cause(
    of: &Sentence<'_>,
    tag: &str,
    amounts: &[Amount],
    said: &causes::Said,
) -> Option<Vec<Part>> {
    let check = checks::check(of, tag, amounts);
    // It is echoed with the rest, so that words which mean nothing here make no doubt of it.
    let measured = match (&check, amounts) {
        (Some(Part::Done(Understood::HandCheck { air, .. })), _) => Some(*air),
        (Some(Part::Ask(Asks::Reading { among, .. })), [amount]) if !amount.bare => {
            match among.as_slice() {
                [air] if amount.limit == Limit::Exact => Some(*air),
                _none_or_more => None,
            }
        }
        (Some(_) | None, _) => None,
    };
    let cause = checks::caused(of, tag, said, measured)?;
    let mut parts = Vec::new();
    if let Some(Part::Done(Understood::HandCheck { air, .. })) = &check
        && matches!(air, AirSaid::Touching | AirSaid::CouldNot(_))
        && !said.mended
    {
        parts.extend(check);
    }
    parts.push(cause);
    parts.extend(cares::filter(of, tag).filter(|part| matches!(part, Part::Done(_))));
    Some(parts)
}

/// Whether a message with a cause says more of a reading than goes with it.
fn leaves_reading(of: &Sentence<'_>, what: &Understood) -> bool {
    let Understood::Caused(said) = what else {
        return false;
    };
    let named = of.has_any(&[
        Meaning::Buttocks,
        Meaning::Hips,
        Meaning::Shoulders,
        Meaning::BackRaised,
        Meaning::BackFlat,
        Meaning::Side,
    ]);
    let more = of.layers.is_some() || of.setting.is_some() || named;
    said.air.is_none() && !of.amounts.is_empty() || more
}

/// The one complete thing that the message says, for each of these surfaces; nothing where more is missing.
pub(super) fn complete_each<'t>(
    of: &Sentence<'_>,
    tags: impl Iterator<Item = &'t str>,
    amounts: &[Amount],
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

/// No surface was named.
fn about_none(of: &Sentence<'_>, home: &Home<'_>, amounts: &[Amount]) -> Heard {
    let unread = of.unread();
    if let Some(name) = command(of) {
        return Heard::Nearest(Example::Command(name));
    }
    let kinds = checks::kinds(of, false);
    let sign = checks::sign(of, &kinds);
    let anything = matches!(of.word(0), Some("anything" | "any" | "anyone"));
    let denied = anything || over(of) || of.has_any(&[Meaning::Not, Meaning::Beeped]);
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
        return which(of, home, amounts, Example::HandCheck);
    }
    if unread > 0 || is_question(of) {
        return nothing(of, &Subject::None);
    }
    let stopped = of.says(Meaning::Stopped) && !over(of);
    if of.cause.is_some() {
        return which(of, home, amounts, Example::Alarm);
    }
    let about = if !kinds.is_empty() || (of.has(Meaning::Alarm) || stopped) && !denied {
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
    } else if (of.has_any(&[Meaning::Low, Meaning::Touching, Meaning::CannotCheck])
        || of.has(Meaning::Refused) && of.has(Meaning::Check))
        && !denied
    {
        Example::HandCheck
    } else {
        return nothing(of, &Subject::None);
    };
    which(of, home, amounts, about)
}

/// Asks for the surface, with what it would be for each that is likely.
fn which(of: &Sentence<'_>, home: &Home<'_>, amounts: &[Amount], about: Example) -> Heard {
    let each = complete_each(of, home.likely.iter().copied(), amounts);
    let likely = if each.is_empty() {
        Vec::new()
    } else {
        home.likely.iter().map(|tag| (*tag).to_owned()).collect()
    };
    Heard::Asks(Asks::Surface {
        of: about,
        likely,
        each,
    })
}
