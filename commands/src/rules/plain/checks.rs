//! Hand checks, alarms and signs in a message.
//!
//! Decides what a reading, a kind or a sign comes to for one surface, and when it has to be asked. Leaves which surface to
//! `subject`, filters and cleanings to `cares`.

use super::amounts::{Amount, Limit};
use super::causes;
use super::compose::Part;
use super::doubts::over;
use super::examples::command;
use super::moments::Moment;
use super::names::Named;
use super::sentence::Sentence;
use super::words::Meaning;
use super::{About, AirSaid, Asks, Mishap, Understood};
use crate::choice::{Cause, Mode, Position, Site};
use crate::rules::hand_check::Why;
use crate::rules::look_first::Sign;
use crate::rules::priority::AlarmKind;

/// A message about a reading has at most so many words that mean nothing here: with more it is about something else.
pub(super) const CHECK_UNREAD_MAX: usize = 2;
/// The same of an alarm, which is rather heard than missed.
pub(super) const ALARM_UNREAD_MAX: usize = 4;

/// What the message says of a hand check under this surface.
pub(super) fn check(of: &Sentence<'_>, tag: &str, amounts: &[Amount]) -> Option<Part> {
    let reasons = reasons(of);
    let could_not = of.has(Meaning::CannotCheck) || (!reasons.is_empty() && amounts.is_empty());
    let mut among: Vec<AirSaid> = Vec::new();
    if of
        .first(Meaning::Touching)
        .is_some_and(|hit| !of.denied(hit))
    {
        among.push(AirSaid::Touching);
    }
    if of.has(Meaning::Within) {
        among.push(AirSaid::Within);
    }
    if could_not && !of.has(Meaning::Touching) {
        // "Won't let me, she is asleep": which of the two it was is asked.
        among.extend(reasons.iter().map(|why| AirSaid::CouldNot(*why)));
        if reasons.is_empty() {
            among.push(AirSaid::CouldNot(Why::Other));
        }
    }
    let words = among.len();
    let named = of.has_any(&[Meaning::Check, Meaning::AirUnder]);
    // A bare number among words that mean nothing here may count anything.
    let amounts: Vec<Amount> = amounts
        .iter()
        .filter(|amount| !amount.bare || named || of.unread() == 0)
        .cloned()
        .collect();
    let amounts = amounts.as_slice();
    let about = match about(of, tag) {
        Ok(about) => about,
        Err(ask) if words + amounts.len() > 0 => return Some(Part::Ask(ask)),
        Err(_) => return None,
    };
    if of.has(Meaning::Fingers) {
        let among = Vec::new();
        return Some(Part::Ask(Asks::Reading { about, among }));
    }
    if let ([amount], 0) = (amounts, words)
        && let Err(fault) = &amount.air
    {
        let fault = fault.clone();
        return Some(Part::Ask(Asks::Air { about, fault }));
    }
    let mut sure = true;
    for amount in amounts {
        let Ok(length) = amount.air else {
            sure = false;
            continue;
        };
        // "Rails up 1/2" is about rails.
        sure &= !(amount.vague && command(of).is_some());
        sure &= named || !(amount.bare || amount.vague && of.unread() > 0);
        match amount.limit {
            Limit::Exact => among.push(AirSaid::Measured(length)),
            Limit::Under => among.push(AirSaid::Under(length)),
            Limit::Over => among.push(AirSaid::Over(length)),
            Limit::About => {
                sure = false;
                among.push(AirSaid::Measured(length));
            }
            Limit::UnderOrExact => {
                sure = false;
                among.extend([AirSaid::Measured(length), AirSaid::Under(length)]);
            }
        }
    }
    among.dedup();
    match among.as_slice() {
        [air] if sure && amounts.len() + words == 1 => {
            Some(Part::Done(Understood::HandCheck { about, air: *air }))
        }
        // One that was said twice, such as "0, touching".
        [] if of.has_any(&[Meaning::Check, Meaning::AllGood, Meaning::AirUnder])
            || (about.layers.is_some() && of.unread() == 0 && !of.has(Meaning::NotYet)) =>
        {
            Some(Part::Ask(Asks::Reading { about, among }))
        }
        [] => None,
        _some => Some(Part::Ask(Asks::Reading { about, among })),
    }
}

/// Every reason why it could not be checked.
fn reasons(of: &Sentence<'_>) -> Vec<Why> {
    [
        (Meaning::Asleep, Why::Asleep),
        (Meaning::Refused, Why::Refused),
        (Meaning::Out, Why::Out),
        (Meaning::Isolation, Why::Isolation),
    ]
    .into_iter()
    .filter(|(meaning, _)| of.first(*meaning).is_some_and(|hit| !of.denied(hit)))
    .map(|(_, why)| why)
    .collect()
}

/// What belongs to a check besides the reading.
fn about(of: &Sentence<'_>, tag: &str) -> Result<About, Asks> {
    let tag = tag.to_owned();
    let when = match of.moments.as_slice() {
        [] => None,
        [Moment::Said(text)] => Some(text.clone()),
        [Moment::HalfDay] | [_, _, ..] => return Err(Asks::When { tag }),
    };
    Ok(About {
        tag,
        site: only(
            of,
            &[
                (Meaning::Buttocks, Site::Buttocks),
                (Meaning::Hips, Site::Hips),
                (Meaning::Shoulders, Site::Shoulders),
            ],
        ),
        position: of.head.or_else(|| {
            only(
                of,
                &[
                    (Meaning::BackFlat, Position::BackFlat),
                    (Meaning::BackRaised, Position::BackRaised),
                    (Meaning::Side, Position::Side),
                ],
            )
        }),
        mode: only(
            of,
            &[
                (Meaning::Alternating, Mode::Alternating),
                (Meaning::Static, Mode::Static),
            ],
        ),
        layers: of.layers,
        setting: of.setting.clone(),
        when,
    })
}

/// The one of a list that was said; none where two were, or none.
fn only<T: Copy>(of: &Sentence<'_>, list: &[(Meaning, T)]) -> Option<T> {
    let mut said = list
        .iter()
        .filter(|(meaning, _)| of.first(*meaning).is_some_and(|hit| !of.denied(hit)));
    let first = said.next()?;
    said.next().is_none().then_some(first.1)
}

/// The kinds of alarm that the message names and does not deny.
pub(super) fn kinds(of: &Sentence<'_>, on_surface: bool) -> Vec<AlarmKind> {
    let said = |meaning: Meaning| of.says(meaning);
    let mut kinds = Vec::new();
    if said(Meaning::LowPressure) {
        kinds.push(AlarmKind::LowPressure);
    }
    if said(Meaning::NoPower) || (on_surface && no_power_there(of)) {
        kinds.push(AlarmKind::Power);
    }
    if said(Meaning::HighPressure) {
        kinds.push(AlarmKind::HighPressure);
    }
    if said(Meaning::Fault) {
        kinds.push(AlarmKind::Fault);
    }
    kinds
}

/// Whether a surface is said to have no power. "The lights are out" in a room is about its lamps.
fn no_power_there(of: &Sentence<'_>) -> bool {
    of.says(Meaning::Outage)
        && of.hits.iter().any(|hit| {
            hit.meaning == Meaning::Outage && !matches!(of.word(hit.start), Some("lights"))
        })
}

/// Whether something in a message is a machine, which can stop or die where a person is not meant.
fn is_of_machine(of: &Sentence<'_>) -> bool {
    const WORDS: &[&str] = &[
        "pump",
        "unit",
        "machine",
        "motor",
        "mattress",
        "compressor",
        "blower",
        "box",
        "device",
        "surface",
        "overlay",
        "it",
        "bed",
        "bomba",
        "maquina",
        "aparato",
        "unidad",
        "colchon",
        "superficie",
        "motor",
        "control",
    ];
    let word = (0..of.tokens.len()).any(|at| of.word(at).is_some_and(|word| WORDS.contains(&word)));
    let tag = of
        .names
        .iter()
        .any(|name| matches!(name.named, Named::Tag(_)));
    word || tag
}

/// Whether the surface itself is said to have stopped. "106 died" is no machine.
fn has_stopped(of: &Sentence<'_>) -> bool {
    of.says(Meaning::Stopped)
        && !over(of)
        && of.hits.iter().any(|hit| {
            let dies = (hit.start..hit.end)
                .any(|at| matches!(of.word(at), Some("died" | "murio" | "out")));
            hit.meaning == Meaning::Stopped && (!dies || is_of_machine(of))
        })
}

/// The sign to look first for, where one is named or asked for.
pub(super) fn sign(of: &Sentence<'_>, kinds: &[AlarmKind]) -> Option<Sign> {
    let said = |meaning: Meaning| of.says(meaning);
    let asked = of.has(Meaning::LookFirst);
    let beeps = said(Meaning::Beeping) || of.has(Meaning::Beeped);
    let soft = said(Meaning::Low);
    if said(Meaning::Hot) {
        Some(Sign::Hot)
    } else if said(Meaning::Wet) {
        Some(Sign::Wet)
    } else if said(Meaning::NoLights) {
        Some(Sign::NoLights)
    } else if said(Meaning::NotAlternating) {
        Some(Sign::NotAlternating)
    } else if said(Meaning::OnePart) && (soft || said(Meaning::High) || said(Meaning::NotWorking)) {
        Some(Sign::OnePart)
    } else if asked {
        Some(match kinds {
            [AlarmKind::LowPressure] => Sign::LowPressure,
            [AlarmKind::Power] => Sign::NoLights,
            [AlarmKind::Fault] => Sign::Fault,
            [AlarmKind::HighPressure] => Sign::Hard,
            _none_or_more if soft => Sign::Soft,
            _none_or_more if said(Meaning::High) => Sign::Hard,
            _none_or_more if said(Meaning::Noise) => Sign::Noise,
            _none_or_more => Sign::NotKnown,
        })
    } else if said(Meaning::Noise) {
        Some(Sign::Noise)
    } else if beeps || said(Meaning::NotWorking) {
        Some(Sign::NotKnown)
    } else {
        None
    }
}

/// Whether it had no power and somebody gave it back: the plug is in again, or it was off and is on. What else is wrong with
/// it is said to be over in other words.
fn has_power_again(of: &Sentence<'_>, kinds: &[AlarmKind]) -> Option<Cause> {
    const PLUG: &[&str] = &[
        "plug",
        "plugged",
        "replugged",
        "enchufe",
        "enchufar",
        "enchufarla",
        "enchufarlo",
        "enchufado",
        "enchufada",
        "conecte",
        "conectar",
        "conectarla",
        "conectarlo",
    ];
    const ON: &[&str] = &["on", "prendi", "prender", "encendi"];
    let without = kinds == [AlarmKind::Power];
    if !without && !kinds.is_empty() {
        return None;
    }
    of.hits.iter().find_map(|hit| {
        let says = |words: &[&str]| {
            (hit.start..hit.end).any(|at| of.word(at).is_some_and(|word| words.contains(&word)))
        };
        if hit.meaning != Meaning::Over || of.denied(hit) {
            None
        } else if says(PLUG) {
            Some(Cause::Unplugged)
        } else {
            (without && says(ON)).then_some(Cause::SwitchedOff)
        }
    })
}

/// Since when, as typed: the words behind "since".
fn since(of: &Sentence<'_>) -> Option<String> {
    const PIECES_MAX: usize = 5;
    let start = (0..of.tokens.len()).find(|at| matches!(of.word(*at), Some("since" | "desde")))?;
    let mut text = String::new();
    for token in of.tokens.iter().skip(start + 1).take(PIECES_MAX) {
        if token.is_break() && !token.is_mark(':') {
            break;
        }
        if !text.is_empty() && !token.glued {
            text.push(' ');
        }
        text.push_str(&token.text);
    }
    (!text.is_empty()).then_some(text)
}

/// What the message says of the cause of something that is wrong with this surface, with what was measured then. What was read before it was mended is no reading of after.
pub(super) fn caused(
    of: &Sentence<'_>,
    tag: &str,
    said: &causes::Said,
    measured: Option<AirSaid>,
) -> Option<Part> {
    let [cause, more @ ..] = said.among.as_slice() else {
        return None;
    };
    let mut kinds = kinds(of, true);
    let of_power = matches!(cause, Cause::Unplugged | Cause::SwitchedOff);
    if kinds.len() > 1 && of_power {
        kinds.retain(|kind| *kind != AlarmKind::Power);
    }
    let kind = match kinds.as_slice() {
        [] if of_power => AlarmKind::Power,
        [] => AlarmKind::Unknown,
        [kind] => *kind,
        _several => {
            return Some(Part::Ask(Asks::Kind {
                tag: tag.to_owned(),
                among: kinds,
            }));
        }
    };
    let behind = of.amounts.iter().any(|amount| amount.start > said.last());
    let air = measured.filter(|_| behind || !said.mended);
    let mishap = Mishap {
        tag: tag.to_owned(),
        kind,
        cause: *cause,
        mended: said.mended,
        since: since(of),
        air: air.filter(|air| matches!(air, AirSaid::Measured(_))),
    };
    Some(if more.is_empty() {
        Part::Done(Understood::Caused(mishap))
    } else {
        Part::Ask(Asks::Cause {
            of: mishap,
            among: said.among.clone(),
        })
    })
}

/// What the message says of an alarm of this surface, or of something wrong with it.
pub(super) fn trouble(of: &Sentence<'_>, tag: &str) -> Option<Part> {
    let owned = || tag.to_owned();
    let kinds = kinds(of, true);
    let said = |meaning: Meaning| of.says(meaning);
    let sign = sign(of, &kinds);
    if let (Some(cause), None) = (has_power_again(of, &kinds), sign) {
        return Some(Part::Done(Understood::Caused(Mishap {
            tag: owned(),
            kind: AlarmKind::Power,
            cause,
            mended: true,
            since: since(of),
            air: None,
        })));
    }
    let at_once = matches!(sign, Some(Sign::Hot | Sign::Wet)) || of.has(Meaning::LookFirst);
    match (kinds.as_slice(), sign) {
        ([kind], _) if !at_once => {
            return Some(Part::Done(Understood::Alarm {
                tag: owned(),
                kind: *kind,
            }));
        }
        ([_, _, ..], _) if !at_once => {
            return Some(Part::Ask(Asks::Kind {
                tag: owned(),
                among: kinds,
            }));
        }
        (_, Some(Sign::NotKnown)) | (_, None) => {}
        (_, Some(sign)) => {
            return Some(Part::Done(Understood::LookFirst {
                tag: Some(owned()),
                sign,
            }));
        }
    }
    // It beeps and is going down: that is an alarm, whatever a hand would find. The panel's own word is a kind.
    let sounds = said(Meaning::Beeping) || said(Meaning::Alarm);
    if !at_once && sounds && said(Meaning::Low) {
        let of_air = of.hits.iter().any(|hit| {
            hit.meaning == Meaning::Low
                && (hit.start..hit.end).any(|at| matches!(of.word(at), Some("air" | "aire")))
        });
        let kind = if of_air {
            AlarmKind::LowPressure
        } else {
            AlarmKind::Unknown
        };
        return Some(Part::Done(Understood::Alarm { tag: owned(), kind }));
    }
    if !at_once && has_stopped(of) {
        let kind = AlarmKind::Unknown;
        return Some(Part::Done(Understood::Alarm { tag: owned(), kind }));
    }
    if !at_once && said(Meaning::Low) {
        return Some(Part::Ask(Asks::HowLow { tag: owned() }));
    }
    if !at_once && said(Meaning::High) {
        return Some(Part::Ask(Asks::HowHigh { tag: owned() }));
    }
    if !at_once && said(Meaning::Alarm) {
        let kind = AlarmKind::Unknown;
        return Some(Part::Done(Understood::Alarm { tag: owned(), kind }));
    }
    sign.map(|sign| {
        Part::Done(Understood::LookFirst {
            tag: Some(owned()),
            sign,
        })
    })
}
