//! Several surfaces in one message.
//!
//! Decides of which of them something is said: of all, or of each what stands beside it, as in `101 1.25, 102 1.5`. What may
//! belong to another one is never taken for one of them, and never left out: it is asked. Leaves what is said of one to
//! `compose`.

use super::amounts::Amount;
use super::compose::{about_one, complete_each, elsewhere};
use super::doubts::is_question;
use super::examples::{command, names_only, nothing};
use super::names::{Home, Named};
use super::sentence::Sentence;
use super::subject::{self, Subject};
use super::tokens::Kind;
use super::words::Meaning;
use super::{About, AirSaid, Asks, Example, Heard, Left, Understood};

/// What is said of each of several surfaces, where every one has its own beside it and nothing is left over.
pub(super) fn pairs(of: &Sentence<'_>, home: &Home<'_>) -> Option<Vec<Understood>> {
    // "101 1.25, not 102": what is denied, or one of two, is no list.
    let denied = of.has_any(&[Meaning::Not, Meaning::Or, Meaning::Mistake]);
    if denied || command(of).is_some_and(|name| name != "outage") || speaks_of_all(of) {
        return None;
    }
    let ways = [
        cut_at_marks(of, Nameless::ToTheOneBefore),
        cut_at_marks(of, Nameless::ToTheOneBehind),
        cut_at_names(of),
    ];
    let mut found: Option<Vec<Understood>> = None;
    for pieces in ways {
        let Some(each) = read_each(of, home, &pieces) else {
            continue;
        };
        match &found {
            // Two ways to read it are none.
            Some(other) if *other != each => return None,
            Some(_) | None => found = Some(each),
        }
    }
    found
}

/// Such words say that what is said is said of more than the surface beside them.
fn speaks_of_all(of: &Sentence<'_>) -> bool {
    const WORDS: &[&str] = &[
        "both", "each", "all", "same", "ditto", "likewise", "ambos", "ambas", "cada", "todos",
        "todas", "mismo", "misma", "igual", "iguales",
    ];
    (0..of.tokens.len()).any(|at| {
        let both = matches!(of.word(at), Some("las" | "los"))
            && matches!(of.word(at + 1), Some("dos" | "tres" | "2" | "3"));
        both || of.word(at).is_some_and(|word| WORDS.contains(&word))
    })
}

/// Where a piece without a surface goes: "an inch and a half" has a joint of its own.
#[derive(Clone, Copy)]
enum Nameless {
    ToTheOneBefore,
    ToTheOneBehind,
}

/// Whether one thought may end here and the next begin.
fn parts_thoughts(of: &Sentence<'_>, at: usize) -> bool {
    let mark = matches!(
        of.tokens.get(at).map(|token| token.kind),
        Some(Kind::Mark(',' | ';' | '/' | '&' | '+' | '.' | '|'))
    );
    mark || matches!(
        of.word(at),
        Some("and" | "n" | "y" | "e" | "then" | "luego")
    )
}

/// Whether a surface is named in this piece: a short number is one only where it comes first.
fn names_one(of: &Sentence<'_>, from: usize, to: usize) -> bool {
    of.names.iter().any(|name| {
        let inside = name.start >= from && name.end <= to;
        inside && !matches!(name.named, Named::Unit(_)) && (!name.weak || name.start == from)
    })
}

/// `101 1.25, 102 1.5`: pieces between marks, each with a surface in it.
fn cut_at_marks(of: &Sentence<'_>, nameless: Nameless) -> Vec<(usize, usize)> {
    let mut cuts = Vec::new();
    let mut from = 0;
    for at in 0..=of.tokens.len() {
        // A name has marks of its own.
        let within = of
            .names
            .iter()
            .any(|name| (name.start..name.end).contains(&at));
        if at == of.tokens.len() || (parts_thoughts(of, at) && !within) {
            if at > from {
                cuts.push((from, at));
            }
            from = at + 1;
        }
    }
    let mut pieces: Vec<(usize, usize)> = Vec::new();
    let mut waiting: Option<usize> = None;
    for (from, to) in cuts {
        let named = names_one(of, from, to);
        match (named, nameless, pieces.last_mut()) {
            (false, Nameless::ToTheOneBefore, Some(last)) => last.1 = to,
            (false, _, _) => waiting = waiting.or(Some(from)),
            (true, _, _) => pieces.push((waiting.take().unwrap_or(from), to)),
        }
    }
    // What stands behind the last surface, and was to go to one behind it, goes to none.
    if waiting.is_some() {
        return Vec::new();
    }
    pieces
}

/// `101: 1.25 102: 1.5`: each surface with what stands behind it, and the first with what stands before it.
fn cut_at_names(of: &Sentence<'_>) -> Vec<(usize, usize)> {
    let starts: Vec<usize> = of
        .names
        .iter()
        .filter(|name| !name.weak && !matches!(name.named, Named::Unit(_)))
        .map(|name| name.start)
        .collect();
    let ends = starts.iter().skip(1).copied().chain([of.tokens.len()]);
    starts
        .iter()
        .enumerate()
        .map(|(place, start)| if place == 0 { 0 } else { *start })
        .zip(ends)
        .collect()
}

/// Each piece, read as if it were a message by itself. None where one of them is not whole, or tells of a surface again.
fn read_each(
    of: &Sentence<'_>,
    home: &Home<'_>,
    pieces: &[(usize, usize)],
) -> Option<Vec<Understood>> {
    if pieces.len() < 2 {
        return None;
    }
    let mut each = Vec::new();
    let mut tags: Vec<String> = Vec::new();
    let mut bare = 0;
    for (from, to) in pieces {
        let tokens = of.tokens.get(*from..*to)?;
        let one = Sentence::of_tokens(tokens.to_vec(), home);
        let (subject, amounts) = subject::of(&one);
        let Subject::One(tag) = subject else {
            return None;
        };
        if elsewhere(&one, home) || tags.iter().any(|other| other == tag) {
            return None;
        }
        let what = match about_one(&one, tag, &amounts)? {
            Heard::Understood { what, rest: false } => what,
            Heard::Asks(Asks::Reading { about, among }) if is_bare(&one, &amounts) => {
                bare += 1;
                let [air @ AirSaid::Measured(_)] = among.as_slice() else {
                    return None;
                };
                let air = *air;
                Understood::HandCheck { about, air }
            }
            Heard::Understood { .. } | Heard::Asks(_) | Heard::Nearest(_) | Heard::Private(_) => {
                return None;
            }
        };
        tags.push(tag.to_owned());
        each.push(what);
    }
    // `101 1, 102 2` may count anything; beside `102 1.5` it is a reading.
    let plain = bare < each.len();
    (plain && each_has_its_own(of, &each)).then_some(each)
}

/// What is whole of a message about several surfaces, and what is not: `102 1.25, 999 1.5`. Only between marks, where every
/// part names one surface, so that what belongs to one is surely said of no other.
pub(super) fn some(of: &Sentence<'_>, home: &Home<'_>) -> Option<Asks> {
    const OF_THE_WHOLE: &[Meaning] = &[Meaning::Or, Meaning::Mistake, Meaning::If, Meaning::Ought];
    if of.has_any(OF_THE_WHOLE) || is_question(of) || speaks_of_all(of) {
        return None;
    }
    let pieces = cut_at_marks(of, Nameless::ToTheOneBefore);
    if pieces.len() < 2 || pieces.first().is_none_or(|(from, _)| *from > 0) {
        return None;
    }
    let (mut taken, mut left) = (Vec::new(), Vec::new());
    let mut seen: Vec<String> = Vec::new();
    for (from, to) in pieces {
        let one = Sentence::of_tokens(of.tokens.get(from..to)?.to_vec(), home);
        let (subject, amounts) = subject::of(&one);
        // A short number in front of a part may count what another one tells of, and a number behind a mark goes on.
        let weak = one.names.iter().all(|name| name.weak);
        // "101 and 102 1.5": where nothing is said of one, the next may be of both.
        let bare = names_only(&one) && amounts.is_empty() && one.unread() == 0;
        if bare || elsewhere(&one, home) || command(&one).is_some() || goes_on(&one) {
            return None;
        }
        let (name, what) = match subject {
            Subject::Strange(typed) => {
                let near = subject::near(&typed, home).0;
                (typed.clone(), Err(Left::NoSurface { typed, near }))
            }
            Subject::EmptyBed(_) if weak => return None,
            Subject::EmptyBed(bed) => {
                let bed = bed.to_owned();
                (bed.clone(), Err(Left::EmptyBed { bed }))
            }
            Subject::One(tag) => (tag.to_owned(), part_of(&one, tag, &amounts)?),
            Subject::None | Subject::Several(_) | Subject::BedOrReading(_) => return None,
        };
        if seen.contains(&name) {
            return None;
        }
        seen.push(name);
        match what {
            Ok(what) => taken.push(what),
            Err(what) => left.push(what),
        }
    }
    let readings = taken
        .iter()
        .any(|what| matches!(what, Understood::HandCheck { .. }));
    // What stands behind the last one may be said of all where it is more than a reading.
    if !readings || !each_has_its_own(of, &taken) {
        return None;
    }
    match (taken.len(), left.len()) {
        (_, 1..) => Some(Asks::Some { taken, left }),
        (2.., _) => Some(Asks::Each(taken)),
        (_, _) => None,
    }
}

/// Whether a number stands right behind a mark: `1,25,102` may be cut in two ways.
fn goes_on(one: &Sentence<'_>) -> bool {
    (1..one.tokens.len()).any(|at| {
        let number = matches!(
            one.tokens.get(at).map(|token| token.kind),
            Some(Kind::Whole | Kind::Decimal | Kind::Fraction)
        );
        number && parts_thoughts(one, at - 1) && !one.names.iter().any(|name| name.start == at)
    })
}

/// What one part says of its surface. None where it denies something: then it may deny what is said of another.
fn part_of(one: &Sentence<'_>, tag: &str, amounts: &[Amount]) -> Option<Result<Understood, Left>> {
    let unclear = Left::Unclear {
        tag: tag.to_owned(),
    };
    let heard = about_one(one, tag, amounts);
    let could_not = |what: &Understood| {
        matches!(
            what,
            Understood::HandCheck {
                air: AirSaid::CouldNot(_),
                ..
            }
        )
    };
    match heard {
        Some(Heard::Understood { what, .. }) if could_not(&what) => Some(Ok(what)),
        _denied if one.has(Meaning::Not) => None,
        Some(Heard::Understood { what, rest: false }) => Some(Ok(what)),
        Some(Heard::Understood { .. } | Heard::Asks(_) | Heard::Nearest(_) | Heard::Private(_))
        | None => Some(Err(unclear)),
    }
}

/// One whole number without a unit, and nothing else.
fn is_bare(one: &Sentence<'_>, amounts: &[Amount]) -> bool {
    matches!(amounts, [amount] if amount.bare) && one.unread() == 0
}

/// Whether what belongs to a check, such as layers, surely belongs to that one: behind the last reading, or in front of
/// the first surface, it may be said of all.
fn each_has_its_own(of: &Sentence<'_>, each: &[Understood]) -> bool {
    let more = |what: &Understood| match what {
        Understood::HandCheck { about, .. } => {
            let alone = About {
                tag: about.tag.clone(),
                ..About::default()
            };
            *about != alone
        }
        Understood::Alarm { .. }
        | Understood::Caused(_)
        | Understood::Filter { .. }
        | Understood::Clean { .. }
        | Understood::Due { .. }
        | Understood::Where(_)
        | Understood::Outage { .. }
        | Understood::Match { .. }
        | Understood::OnDuty { .. }
        | Understood::Claim { .. }
        | Understood::Deed { .. }
        | Understood::Answered { .. }
        | Understood::Gaps { .. }
        | Understood::LookFirst { .. }
        | Understood::Help => false,
    };
    let checks = || {
        each.iter()
            .filter(|what| matches!(what, Understood::HandCheck { .. }))
    };
    if checks().all(&more) || checks().count() < 2 {
        return true;
    }
    let begins = of.tokens.first().is_some_and(super::names::is_marker)
        || of.names.iter().any(|name| name.start == 0);
    let last = each.last().is_some_and(&more);
    let first = each.first().is_some_and(more);
    !last && (begins || !first)
}

/// Between the names of surfaces, and in front of a list of them, such words say nothing of any.
const BESIDE_NAMES: &[&str] = &[
    "and", "plus", "both", "the", "in", "on", "at", "of", "for", "bed", "beds", "room", "rooms",
    "y", "e", "la", "el", "las", "los", "en", "de", "cama", "camas",
];

/// Between two names such words say that it is one of them, or none of those in between.
const ONE_OF: &[&str] = &[
    "or", "not", "thru", "through", "to", "till", "until", "o", "no", "ni", "a", "al", "hasta",
];

/// Of which of the surfaces that are named something is said.
enum Of {
    /// Of all: it stands in front of their list, or behind it, and nothing stands in between.
    All,
    /// Of each something else: what stands beside one of them is never taken for the other, and never left out.
    Each,
    /// It cannot be told of which.
    One,
}

fn said_of(of: &Sentence<'_>) -> Of {
    let names = || of.names.iter().filter(|name| !name.weak);
    let (Some(from), Some(to)) = (
        names().map(|name| name.start).min(),
        names().map(|name| name.end).max(),
    ) else {
        return Of::One;
    };
    let speaks = |at: &usize| {
        let named = names().any(|name| (name.start..name.end).contains(at));
        let token = of.tokens.get(*at);
        let mark = matches!(token.map(|token| token.kind), Some(Kind::Mark(_)));
        let word = of.word(*at);
        !named && !mark && word.is_none_or(|word| !BESIDE_NAMES.contains(&word))
    };
    let one_of = |at: usize| of.word(at).is_some_and(|word| ONE_OF.contains(&word));
    let between: Vec<usize> = (from..to).filter(speaks).collect();
    let (before, after) = (
        (0..from).any(|at| speaks(&at)),
        (to..of.tokens.len()).any(|at| speaks(&at)),
    );
    if between.is_empty() && before != after {
        Of::All
    } else if between.into_iter().all(one_of) {
        Of::One
    } else {
        Of::Each
    }
}

/// `101-104`: the beds between would be left out without a word.
fn is_range(of: &Sentence<'_>) -> bool {
    let both =
        (0..of.tokens.len()).any(|at| matches!(of.word(at), Some("both" | "ambas" | "ambos")));
    let dash = |at: usize| of.tokens.get(at).is_some_and(|token| token.is_mark('-'));
    let mut pairs = of.names.windows(2);
    !both && pairs.any(|pair| pair[0].end + 1 == pair[1].start && dash(pair[0].end))
}

/// Several surfaces were named.
pub(super) fn about(of: &Sentence<'_>, tags: &[&str], amounts: &[Amount]) -> Heard {
    // Two surfaces without power are two alarms, not a whole unit's.
    if let Some(name) = command(of).filter(|name| *name != "outage") {
        return Heard::Nearest(Example::Command(name));
    }
    if amounts.len() > 1 || is_range(of) {
        return Heard::Asks(Asks::OneAtATime);
    }
    let spoken = tags.iter().any(|tag| about_one(of, tag, amounts).is_some());
    if !spoken {
        return nothing(of, &Subject::Several(tags.to_vec()));
    }
    let each = match said_of(of) {
        Of::Each if tags.len() > 1 => return Heard::Asks(Asks::OneAtATime),
        Of::One if tags.len() > 1 => Vec::new(),
        Of::All | Of::Each | Of::One => complete_each(of, tags.iter().copied(), amounts),
    };
    let tags = tags.iter().map(|tag| (*tag).to_owned()).collect();
    Heard::Asks(Asks::Which { tags, each })
}
