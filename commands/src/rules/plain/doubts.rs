//! What makes an entry none: a question, a denial, a past, a doubt, work that is still to be done.
//!
//! Decides for each kind of entry which of these count. Leaves what is asked then to `decide`.

use super::sentence::Sentence;
use super::tokens::Kind;
use super::words::{Hit, Meaning};
use super::{AirSaid, Asks, Doubt, Understood};

/// Why what was said is no entry.
pub(super) fn doubt(of: &Sentence<'_>, what: &Understood) -> Option<Doubt> {
    let past = of.has(Meaning::Past) && of.moments.is_empty();
    match what {
        Understood::HandCheck { air, .. } => {
            let denied = of.amounts.iter().any(|amount| {
                of.denied(&Hit {
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
            (over(of), Doubt::Over),
            (of.denies_trouble(), Doubt::Negation),
            (past || was(of) || !of.moments.is_empty(), Doubt::Past),
            (of.has_any(&[Meaning::Maybe, Meaning::Or]), Doubt::Unsure),
        ]),
        Understood::Caused(said) => first_of(&[
            (
                on_condition(of) || said.mended && of.has(Meaning::NotYet),
                Doubt::NotYet,
            ),
            (is_question(of), Doubt::Question),
            (of.denies_trouble(), Doubt::Negation),
            (of.has_any(&[Meaning::Maybe, Meaning::Or]), Doubt::Unsure),
        ]),
        Understood::LookFirst { .. } => {
            let looking = of.has(Meaning::LookFirst);
            first_of(&[
                (over(of), Doubt::Over),
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
        Understood::Due { .. }
        | Understood::Where(_)
        | Understood::Outage { .. }
        | Understood::Match { .. }
        | Understood::OnDuty { .. }
        | Understood::Claim { .. }
        | Understood::Deed { .. }
        | Understood::Answered { .. }
        | Understood::Gaps { .. }
        | Understood::Help => None,
    }
}

/// On a condition, or as it ought to be. "When they moved the bed" says when it was.
fn on_condition(of: &Sentence<'_>) -> bool {
    let condition = of.hits.iter().any(|hit| {
        hit.meaning == Meaning::If && !matches!(of.word(hit.start), Some("when" | "cuando"))
    });
    condition || of.has(Meaning::Ought)
}

fn first_of(doubts: &[(bool, Doubt)]) -> Option<Doubt> {
    doubts.iter().find(|(is, _)| *is).map(|(_, doubt)| *doubt)
}

/// Why what would be asked is not even that.
pub(super) fn doubt_of_ask(of: &Sentence<'_>, ask: &Asks) -> Option<Doubt> {
    let past = of.has(Meaning::Past) && of.moments.is_empty();
    match ask {
        Asks::HowLow { .. } | Asks::HowHigh { .. } | Asks::Kind { .. } => first_of(&[
            (is_question(of), Doubt::Question),
            (over(of), Doubt::Over),
            (of.denies_trouble(), Doubt::Negation),
            (past || was(of), Doubt::Past),
            (of.has(Meaning::If), Doubt::NotYet),
        ]),
        Asks::Cause { .. } => first_of(&[
            (on_condition(of), Doubt::NotYet),
            (is_question(of), Doubt::Question),
            (of.denies_trouble(), Doubt::Negation),
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
        | Asks::Some { .. }
        | Asks::OneAtATime
        | Asks::TooLong => None,
    }
}

/// Whether it is said to be over. "It stopped" is said of a noise that is named right beside it; by itself, it is the surface
/// that stopped.
pub(super) fn over(of: &Sentence<'_>) -> bool {
    const NOISY: &[Meaning] = &[
        Meaning::Beeping,
        Meaning::Beeped,
        Meaning::Alarm,
        Meaning::LowPressure,
        Meaning::HighPressure,
        Meaning::Fault,
        Meaning::Noise,
        Meaning::Low,
    ];
    let stopped_it = |stopped: &Hit| {
        stopped.meaning == Meaning::Stopped
            && of.hits.iter().any(|hit| {
                NOISY.contains(&hit.meaning)
                    && (hit.start == stopped.end || hit.end == stopped.start)
            })
    };
    of.has(Meaning::Over) || of.hits.iter().any(stopped_it)
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
