//! The nearest thing that is understood, for a message that is not.
//!
//! Decides which command or example comes nearest. Leaves how it is said to `words`.

use super::doubts::{is_question, over};
use super::names::Named;
use super::sentence::Sentence;
use super::subject::{self, Subject};
use super::words::Meaning;
use super::{Example, Heard, Own, Place, Understood};

/// Nothing was understood: the nearest example.
pub(super) fn nothing(of: &Sentence<'_>, subject: &Subject<'_>) -> Heard {
    // Of a bed it is said of a person.
    let died = (0..of.tokens.len()).any(|at| matches!(of.word(at), Some("died" | "murio")));
    if died && matches!(subject, Subject::One(_)) {
        return Heard::Nearest(Example::Voice);
    }
    if let Some(name) = command(of) {
        return Heard::Nearest(Example::Command(name));
    }
    let named = !matches!(subject, Subject::None | Subject::Strange(_));
    if mixes(of) {
        return Heard::Nearest(Example::Command("mix"));
    }
    let here = [
        (of.has(Meaning::Static), "static"),
        (of.has(Meaning::Damaged), "pull"),
        (
            of.setting.is_some() || of.has(Meaning::AtSetting),
            "setting",
        ),
    ];
    if let (true, Some((_, name))) = (named, here.iter().find(|(is, _)| *is)) {
        return Heard::Nearest(Example::Command(name));
    }
    // A short number among other words may count anything.
    let plain = of.names.iter().all(|name| !name.weak) || of.tokens.len() <= 2;
    if let Subject::One(tag) = subject
        && plain
        && (of.unread() == 0 && names_only(of) || of.unread() <= 1 && is_question(of))
    {
        return Heard::Understood {
            what: Understood::Where(Place::Surface((*tag).to_owned())),
            rest: false,
        };
    }
    // "Resident in 104 is safe", "omw to 104": the tap is on that card.
    let answered = (of.has(Meaning::Taking) || over(of)) && !of.has(Meaning::Mistake);
    if let (Subject::One(tag), true) = (subject, answered && !is_question(of)) {
        return Heard::Understood {
            what: Understood::Answered {
                tag: (*tag).to_owned(),
            },
            rest: false,
        };
    }
    Heard::Nearest(if of.has(Meaning::Mistake) {
        Example::TakeBack
    } else if (of.has(Meaning::Taking) || over(of)) && (named || !of.has(Meaning::AllGood)) {
        Example::AlarmCard
    } else if of.has(Meaning::Filter) {
        Example::Filter
    } else if of.has_any(&[
        Meaning::Cleaned,
        Meaning::Soap,
        Meaning::Quaternary,
        Meaning::Bleach,
        Meaning::Dirty,
        Meaning::Soiled,
        Meaning::Clean,
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
        Meaning::Stopped,
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
    })
}

/// What an example is to be about: the one surface, reading and unit that the message names.
pub(super) fn own(of: &Sentence<'_>) -> Own {
    let (subject, amounts) = subject::of(of);
    let mut units = of.units();
    Own {
        surface: match subject {
            Subject::One(tag) => Some(tag.to_owned()),
            Subject::Several(tags) => tags.first().map(|tag| (*tag).to_owned()),
            Subject::Strange(typed) => Some(typed),
            Subject::None | Subject::EmptyBed(_) | Subject::BedOrReading(_) => None,
        },
        air: match amounts.as_slice() {
            [amount] if amount.air.is_ok() && !amount.bare => of
                .tokens
                .get(amount.start..amount.end)
                .map(super::names::joined),
            _none_or_more => None,
        },
        unit: units.next().map(str::to_owned),
    }
}

/// Only a name, and small words around it.
pub(super) fn names_only(of: &Sentence<'_>) -> bool {
    of.hits.iter().all(|hit| {
        matches!(
            hit.meaning,
            Meaning::Filler | Meaning::Amount | Meaning::Status | Meaning::Where
        )
    }) && of.amounts.is_empty()
        && of.moments.is_empty()
}

/// The command whose work the message is about.
pub(super) fn command(of: &Sentence<'_>) -> Option<&'static str> {
    let named = of
        .names
        .iter()
        .any(|name| !matches!(name.named, Named::Unit(_)));
    let said = COMMANDS
        .iter()
        .filter(|(meaning, _)| named || !OF_A_SURFACE.contains(meaning))
        .find(|(meaning, _)| of.first(*meaning).is_some_and(|hit| !of.denied(hit)))
        .map(|(_, name)| *name)
        // "103 static for transfer" is about the mode, not the bed.
        .map(|name| match name {
            "move" if of.has(Meaning::Static) => "static",
            name => name,
        });
    let turned = of.has(Meaning::Static)
        && named
        && of.amounts.iter().all(|amount| amount.bare)
        && (0..of.tokens.len()).any(|at| {
            matches!(
                of.word(at),
                Some("till" | "til" | "until" | "hasta" | "put" | "poner")
            )
        });
    said.or_else(|| puts_under(of).then_some("place"))
        .or_else(|| turned.then_some("static"))
}

/// How much bleach goes in: a strength, or that it is mixed.
fn mixes(of: &Sentence<'_>) -> bool {
    let mixed = (0..of.tokens.len()).any(|at| {
        matches!(
            of.word(at),
            Some(
                "ppm"
                    | "mix"
                    | "dilute"
                    | "dilution"
                    | "mezclar"
                    | "mezclo"
                    | "diluir"
                    | "dilucion"
            )
        )
    });
    mixed && of.has(Meaning::Bleach)
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
    Meaning::BackInBed,
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
    (Meaning::Hold, "hold"),
    (Meaning::Release, "release"),
    (Meaning::Place, "place"),
    (Meaning::BackInBed, "leave"),
    (Meaning::Leave, "leave"),
    (Meaning::Setting, "setting"),
    (Meaning::Return, "return"),
    (Meaning::Zones, "zones"),
    (Meaning::Recall, "recall"),
    (Meaning::Rental, "rental list"),
    (Meaning::Stock, "stock"),
    (Meaning::Match, "match"),
    (Meaning::Admission, "match"),
    (Meaning::Service, "service"),
    (Meaning::LateList, "catchup"),
];

pub(super) fn commands_meanings() -> Vec<Meaning> {
    COMMANDS.iter().map(|(meaning, _)| *meaning).collect()
}
