//! What a button, a menu or a form carries, so that a tap says everything and nothing has to be
//! remembered between two of them. Decides how a tap is written into the platform's identifier of at
//! most 100 bytes and read back; leaves what it does to [`crate::decide`], which trusts none of it.

/// Names the verb of each kind of tap, once: the list of all verbs and the total match are made of the same
/// rows, so that a new kind does not compile before it is in the list.
macro_rules! verbs {
    ($of:ident: $($kind:ident => $verb:expr,)*) => {
        impl $of {
            /// The verbs, one for each kind of tap, in the order of the kinds.
            pub const VERBS: &'static [&'static str] = &[$($verb),*];

            /// The word that tells this kind of tap from the others.
            pub fn verb(&self) -> &'static str {
                match self {
                    $($of::$kind { .. } => $verb,)*
                }
            }
        }
    };
}

mod astray;
mod bedside;
mod duty;
mod entry;
mod house;
mod loft;
mod plain;
mod power;
mod report;
mod setting;
mod staff;
mod sum;
mod turn;
mod work;

pub use astray::Astray;
pub use bedside::{Bedside, Begun, ListCard, Longer};
pub use duty::Duty;
pub(crate) use duty::RELIEVE_MENU;
pub use entry::{Entry, Line};
pub(crate) use house::gap_acts_menu;
pub use house::{House, RentalCard};
pub use loft::Loft;
pub use plain::{Echo, LookCard, OneOf, Plain, Reading, SETTING_BYTES_MAX, SeenBy, Spoken};
pub use power::Power;
pub use report::Report;
pub use setting::{Page, Setting};
pub use staff::Staff;
pub(crate) use staff::{END_SIGN_OFF_MENU, LINE_BYTES_MAX};
pub use sum::{Costing, Mixing, Sizing, Sum};
pub(crate) use turn::PART_FAULTS;
pub use turn::{Began, Turn};
pub use work::{List, Work, in_list};

use crate::choice::{Cause, Finding};
use crate::ids::{AlarmNo, RecordNo, Tag, Unit};
use crate::rules::air::Tenths;
use crate::rules::hand_check::{Air, Why};
use crate::rules::priority::AlarmKind;

/// The longest tag, in characters, all of them ASCII: a tap has to carry it.
pub const TAG_CHARS_MAX: usize = 16;
/// The longest name of a unit, in bytes: a tap has to carry it with the rest.
pub const UNIT_BYTES_MAX: usize = 24;

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Tap {
    /// Begin the round of a unit.
    StartRound {
        /// The unit.
        unit: Unit,
    },
    /// A reading from a card with air buttons.
    Air {
        /// The card.
        card: Card,
        /// The reading.
        air: Air,
    },
    /// A reading right after one's own low one was asked back: it was measured again.
    AirAgain {
        /// The card.
        card: Card,
        /// The reading.
        air: Air,
    },
    /// A reading that wants to be typed: the form, please.
    TypeAir {
        /// The card.
        card: Card,
    },
    /// The form with the typed reading.
    AirTyped {
        /// The card.
        card: Card,
        /// The reading as typed.
        air: String,
        /// Free text.
        note: Option<String>,
    },
    /// On to the next bed; this one stays due.
    Skip {
        /// The card.
        card: Card,
    },
    /// I am on my way.
    Take {
        /// The alarm.
        alarm: AlarmNo,
    },
    /// The resident is safe.
    Safe {
        /// The alarm.
        alarm: AlarmNo,
    },
    /// I said that I am on my way, and cannot go.
    CannotGo {
        /// The alarm.
        alarm: AlarmNo,
    },
    /// I said that the resident is safe, and that was a mistake.
    NotSafe {
        /// The alarm.
        alarm: AlarmNo,
    },
    /// Which bed is it under? Posts do not say before the home has approved that.
    WhichBed {
        /// The surface.
        tag: Tag,
    },
    /// It is fixed: ask for the cause.
    Fixed {
        /// The alarm.
        alarm: AlarmNo,
    },
    /// This was the cause: ask for the check.
    Caused {
        /// The alarm.
        alarm: AlarmNo,
        /// The cause.
        cause: Cause,
    },
    /// The check after a fix.
    FixedAir {
        /// The alarm.
        alarm: AlarmNo,
        /// The cause.
        cause: Cause,
        /// The reading.
        air: Air,
    },
    /// The check after a fix wants to be typed.
    TypeFixedAir {
        /// The alarm.
        alarm: AlarmNo,
        /// The cause.
        cause: Cause,
    },
    /// The form with the typed check after a fix.
    FixedAirTyped {
        /// The alarm.
        alarm: AlarmNo,
        /// The cause.
        cause: Cause,
        /// The reading as typed.
        air: String,
        /// Free text.
        note: Option<String>,
    },
    /// What the alarm is.
    NameAlarm {
        /// The alarm.
        alarm: AlarmNo,
        /// Its kind.
        kind: AlarmKind,
    },
    /// Out of service.
    Pull {
        /// The alarm.
        alarm: AlarmNo,
    },
    /// Take back what I just did.
    TakeBack {
        /// Its first record.
        first: RecordNo,
        /// The surface.
        tag: Tag,
        /// What is shown then.
        then: Then,
    },
    /// Turnover: the filter.
    TurnFilter {
        /// The surface.
        tag: Tag,
        /// Its turnover.
        of: Began,
        /// What was found; a clogged one was replaced.
        finding: Finding,
    },
    /// Turnover: it runs, fills and gives no alarm.
    TurnFunction {
        /// The surface.
        tag: Tag,
        /// Its turnover.
        of: Began,
    },
    /// A line of the due list was picked.
    Pick {
        /// The surface.
        tag: Tag,
    },
    /// At the bed.
    Bedside(Bedside),
    /// In a turnover, or out of service.
    Turn(Turn),
    /// About the house.
    House(House),
    /// In a power failure.
    Power(Power),
    /// About the home's settings, or for more help.
    Setting(Setting),
    /// Under a message in everyday words, or on a card of what to look at first.
    Plain(Plain),
    /// About staff.
    Staff(Staff),
    /// About an alarm that may be of another surface.
    Astray(Astray),
    /// About who has a unit, and what is handed over.
    Duty(Duty),
    /// In a list that is worked through.
    Work(Work),
    /// About what is in the log.
    Entry(Entry),
    /// Something about a surface whose readings trend lower.
    Loft(Loft),
    /// About a figure that was reckoned.
    Sum(Sum),
    /// Under a report.
    Report(Report),
}

verbs! { Tap:
    StartRound => "go",
    Air => "air",
    AirAgain => "airagain",
    TypeAir => "type",
    AirTyped => "typed",
    Skip => "skip",
    Take => "take",
    Safe => "safe",
    CannotGo => "cannotgo",
    NotSafe => "notsafe",
    WhichBed => "whichbed",
    Fixed => "fixed",
    Caused => "cause",
    FixedAir => "fixair",
    TypeFixedAir => "fixtype",
    FixedAirTyped => "fixtyped",
    NameAlarm => "kind",
    Pull => "pull",
    TakeBack => "back",
    TurnFilter => "turnf",
    TurnFunction => "turnok",
    Pick => "pick",
    Astray => astray::GROUP,
    Bedside => bedside::GROUP,
    Turn => turn::GROUP,
    House => house::GROUP,
    Power => power::GROUP,
    Setting => setting::GROUP,
    Plain => plain::GROUP,
    Staff => staff::GROUP,
    Duty => duty::GROUP,
    Work => work::GROUP,
    Entry => entry::GROUP,
    Loft => loft::GROUP,
    Sum => sum::GROUP,
    Report => report::GROUP,
}

/// The kinds of tap that are groups of others, with the verbs of those.
const GROUPS: [(&str, &[&str]); 14] = [
    (astray::GROUP, Astray::VERBS),
    (bedside::GROUP, Bedside::VERBS),
    (turn::GROUP, Turn::VERBS),
    (house::GROUP, House::VERBS),
    (power::GROUP, Power::VERBS),
    (setting::GROUP, Setting::VERBS),
    (plain::GROUP, Plain::VERBS),
    (staff::GROUP, Staff::VERBS),
    (duty::GROUP, Duty::VERBS),
    (work::GROUP, Work::VERBS),
    (entry::GROUP, Entry::VERBS),
    (loft::GROUP, Loft::VERBS),
    (sum::GROUP, Sum::VERBS),
    (report::GROUP, Report::VERBS),
];

/// What an identifier asks for: its first word, and in a group its second too, with a space between.
pub fn verb_of(id: &str) -> String {
    let mut parts = id.split(SEPARATOR);
    let first = parts.next().unwrap_or_default();
    let grouped = GROUPS.iter().any(|(group, _)| *group == first);
    match parts.next().filter(|_| grouped) {
        Some(second) => format!("{first} {second}"),
        None => first.to_owned(),
    }
}

/// A card with air buttons: which surface it asked about, and how things stood when it did.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// In the round of this unit; `None` for a card about one surface.
    pub round: Option<Unit>,
    /// The surface.
    pub tag: Tag,
    /// Its newest check or placement when the card was shown: a second tap on the same card finds a newer one.
    pub seen: RecordNo,
    /// When the card was shown, in minutes since 1970.
    pub shown: i64,
}

/// What is shown once an entry was taken back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Then {
    /// The word that it was, beside the card: other things can be tapped there.
    Beside,
    /// The word that it was, in the place of the card, which says what counts no more.
    Instead,
    /// The round of this unit, from the bed whose reading it was.
    Round(Unit),
}

/// Why an identifier is none of ours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotOurs;

pub(crate) const SEPARATOR: char = '|';

impl Tap {
    /// Everything that an identifier can ask for, as [`verb_of`] reads it.
    pub fn all_verbs() -> Vec<String> {
        let mut all = Vec::new();
        for verb in Self::VERBS {
            match GROUPS.iter().find(|(group, _)| group == verb) {
                Some((group, verbs)) => all.extend(verbs.iter().map(|v| format!("{group} {v}"))),
                None => all.push((*verb).to_owned()),
            }
        }
        all
    }

    /// The identifier that brings this tap back. A menu's chosen value and a form's fields are left out.
    pub fn id(&self) -> String {
        match self {
            Tap::StartRound { unit } => join(&["go", unit.as_str()]),
            Tap::Air { card, air } => card.join("air", &[&air_word(*air)]),
            Tap::AirAgain { card, air } => card.join("airagain", &[&air_word(*air)]),
            Tap::TypeAir { card } => card.join("type", &[]),
            Tap::AirTyped { card, .. } => card.join("typed", &[]),
            Tap::Skip { card } => card.join("skip", &[]),
            Tap::Take { alarm } => join(&["take", &alarm.to_string()]),
            Tap::Safe { alarm } => join(&["safe", &alarm.to_string()]),
            Tap::CannotGo { alarm } => join(&["cannotgo", &alarm.to_string()]),
            Tap::NotSafe { alarm } => join(&["notsafe", &alarm.to_string()]),
            Tap::WhichBed { tag } => join(&["whichbed", tag.as_str()]),
            Tap::Fixed { alarm } => join(&["fixed", &alarm.to_string()]),
            Tap::Caused { alarm, .. } => join(&["cause", &alarm.to_string()]),
            Tap::FixedAir { alarm, cause, air } => join(&[
                "fixair",
                &alarm.to_string(),
                cause.as_str(),
                &air_word(*air),
            ]),
            Tap::TypeFixedAir { alarm, cause } => {
                join(&["fixtype", &alarm.to_string(), cause.as_str()])
            }
            Tap::FixedAirTyped { alarm, cause, .. } => {
                join(&["fixtyped", &alarm.to_string(), cause.as_str()])
            }
            Tap::NameAlarm { alarm, .. } => join(&["kind", &alarm.to_string()]),
            Tap::Pull { alarm } => join(&["pull", &alarm.to_string()]),
            Tap::TakeBack { first, tag, then } => {
                let first = first.to_string();
                let of = ["back", &first, tag.as_str()];
                match then {
                    Then::Beside => join(&of),
                    Then::Instead => join(&[of[0], of[1], of[2], ""]),
                    Then::Round(unit) => join(&[of[0], of[1], of[2], unit.as_str()]),
                }
            }
            Tap::TurnFilter { tag, of, finding } => {
                join(&["turnf", tag.as_str(), &of.0.to_string(), finding.as_str()])
            }
            Tap::TurnFunction { tag, of } => join(&["turnok", tag.as_str(), &of.0.to_string()]),
            Tap::Pick { .. } => "pick".to_owned(),
            Tap::Bedside(tap) => tap.id(),
            Tap::Turn(tap) => tap.id(),
            Tap::House(tap) => tap.id(),
            Tap::Power(tap) => tap.id(),
            Tap::Setting(tap) => tap.id(),
            Tap::Plain(tap) => tap.id(),
            Tap::Staff(tap) => tap.id(),
            Tap::Astray(tap) => tap.id(),
            Tap::Duty(tap) => tap.id(),
            Tap::Work(tap) => tap.id(),
            Tap::Entry(tap) => tap.id(),
            Tap::Loft(tap) => tap.id(),
            Tap::Sum(tap) => tap.id(),
            Tap::Report(tap) => tap.id(),
        }
    }

    /// Reads an identifier back, with what a menu's choice or a form's fields add.
    ///
    /// # Errors
    /// [`NotOurs`] for whatever [`Tap::id`] did not write.
    pub fn read<'a>(
        id: &str,
        chosen: Option<&str>,
        field: impl Fn(&str) -> Option<&'a str>,
    ) -> Result<Self, NotOurs> {
        Self::read_with(id, chosen, &field)
    }

    fn read_with<'a>(
        id: &str,
        chosen: Option<&str>,
        field: &dyn Fn(&str) -> Option<&'a str>,
    ) -> Result<Self, NotOurs> {
        let parts: Vec<&str> = id.split(SEPARATOR).collect();
        let alarm = |text: &str| text.parse().map(AlarmNo).map_err(|_| NotOurs);
        let cause = |text: &str| Cause::from_text(text).ok_or(NotOurs);
        let choice = || chosen.ok_or(NotOurs);
        let note = || {
            field("note")
                .map(str::trim)
                .filter(|note| !note.is_empty())
                .map(str::to_owned)
        };
        let typed = || field("air").unwrap_or_default().to_owned();
        Ok(match parts.as_slice() {
            ["go", unit] => Tap::StartRound {
                unit: (*unit).into(),
            },
            ["air", rest @ .., air] => {
                let air = if *air == "menu" { choice()? } else { air };
                Tap::Air {
                    card: Card::read(rest)?,
                    air: read_air(air)?,
                }
            }
            ["airagain", rest @ .., air] => Tap::AirAgain {
                card: Card::read(rest)?,
                air: read_air(air)?,
            },
            ["type", rest @ ..] => Tap::TypeAir {
                card: Card::read(rest)?,
            },
            ["typed", rest @ ..] => Tap::AirTyped {
                card: Card::read(rest)?,
                air: typed(),
                note: note(),
            },
            ["skip", rest @ ..] => Tap::Skip {
                card: Card::read(rest)?,
            },
            ["take", no] => Tap::Take { alarm: alarm(no)? },
            ["safe", no] => Tap::Safe { alarm: alarm(no)? },
            ["cannotgo", no] => Tap::CannotGo { alarm: alarm(no)? },
            ["notsafe", no] => Tap::NotSafe { alarm: alarm(no)? },
            ["whichbed", tag] => Tap::WhichBed { tag: (*tag).into() },
            ["fixed", no] => Tap::Fixed { alarm: alarm(no)? },
            ["cause", no] => Tap::Caused {
                alarm: alarm(no)?,
                cause: cause(choice()?)?,
            },
            ["fixair", no, what, air] => {
                let air = if *air == "menu" { choice()? } else { air };
                Tap::FixedAir {
                    alarm: alarm(no)?,
                    cause: cause(what)?,
                    air: read_air(air)?,
                }
            }
            ["fixtype", no, what] => Tap::TypeFixedAir {
                alarm: alarm(no)?,
                cause: cause(what)?,
            },
            ["fixtyped", no, what] => Tap::FixedAirTyped {
                alarm: alarm(no)?,
                cause: cause(what)?,
                air: typed(),
                note: note(),
            },
            ["kind", no] => Tap::NameAlarm {
                alarm: alarm(no)?,
                kind: AlarmKind::from_text(choice()?).ok_or(NotOurs)?,
            },
            ["pull", no] => Tap::Pull { alarm: alarm(no)? },
            ["back", first, tag, rest @ ..] => Tap::TakeBack {
                first: first.parse().map(RecordNo).map_err(|_| NotOurs)?,
                tag: (*tag).into(),
                then: match rest {
                    [] => Then::Beside,
                    [""] => Then::Instead,
                    [unit] => Then::Round((*unit).into()),
                    _ => return Err(NotOurs),
                },
            },
            ["turnf", tag, began, finding] => Tap::TurnFilter {
                tag: (*tag).into(),
                of: began.parse().map(Began).map_err(|_| NotOurs)?,
                finding: Finding::from_text(finding).ok_or(NotOurs)?,
            },
            ["turnok", tag, began] => Tap::TurnFunction {
                tag: (*tag).into(),
                of: began.parse().map(Began).map_err(|_| NotOurs)?,
            },
            ["pick"] => Tap::Pick {
                tag: choice()?.into(),
            },
            [bedside::GROUP, rest @ ..] => Tap::Bedside(Bedside::read(rest, chosen, field)?),
            [turn::GROUP, rest @ ..] => Tap::Turn(Turn::read(rest, chosen, field)?),
            [house::GROUP, rest @ ..] => Tap::House(House::read(rest, chosen, field)?),
            [power::GROUP, rest @ ..] => Tap::Power(Power::read(rest, chosen, field)?),
            [setting::GROUP, rest @ ..] => Tap::Setting(Setting::read(rest, chosen, field)?),
            [plain::GROUP, rest @ ..] => Tap::Plain(Plain::read(rest, chosen)?),
            [staff::GROUP, rest @ ..] => Tap::Staff(Staff::read(rest, chosen)?),
            [astray::GROUP, rest @ ..] => Tap::Astray(Astray::read(rest, chosen, field)?),
            [duty::GROUP, rest @ ..] => Tap::Duty(Duty::read(rest, chosen)?),
            [work::GROUP, rest @ ..] => Tap::Work(Work::read(rest, chosen, field)?),
            [entry::GROUP, rest @ ..] => Tap::Entry(Entry::read(rest, chosen, field)?),
            [loft::GROUP, rest @ ..] => Tap::Loft(Loft::read(rest, chosen)?),
            [sum::GROUP, rest @ ..] => Tap::Sum(Sum::read(rest)?),
            [report::GROUP, rest @ ..] => Tap::Report(Report::read(rest)?),
            _ => return Err(NotOurs),
        })
    }
}

impl Card {
    /// The identifier of the menu of this card whose values are readings, as [`air_word`] writes them.
    pub fn menu_id(&self) -> String {
        self.join("air", &["menu"])
    }

    fn join(&self, verb: &str, rest: &[&str]) -> String {
        let (seen, shown) = (self.seen.to_string(), self.shown.to_string());
        let mut parts = vec![verb, self.tag.as_str(), &seen, &shown];
        parts.push(self.round.as_ref().map_or("", Unit::as_str));
        parts.extend(rest);
        join(&parts)
    }

    fn read(parts: &[&str]) -> Result<Self, NotOurs> {
        let [tag, seen, shown, round] = parts else {
            return Err(NotOurs);
        };
        Ok(Self {
            round: (!round.is_empty()).then(|| (*round).into()),
            tag: (*tag).into(),
            seen: seen.parse().map(RecordNo).map_err(|_| NotOurs)?,
            shown: shown.parse().map_err(|_| NotOurs)?,
        })
    }
}

/// The identifier of the menu of readings after a fix.
pub fn fixed_menu_id(alarm: AlarmNo, cause: Cause) -> String {
    join(&["fixair", &alarm.to_string(), cause.as_str(), "menu"])
}

/// A reading in a button or a menu.
pub fn air_word(air: Air) -> String {
    match air {
        Air::Measured(tenths) => tenths.0.to_string(),
        Air::Under1 => "under".to_owned(),
        Air::Over => "over".to_owned(),
        Air::Within => "within".to_owned(),
        Air::Touching => "touching".to_owned(),
        Air::CouldNot(why) => why.as_str().to_owned(),
    }
}

fn read_air(word: &str) -> Result<Air, NotOurs> {
    Ok(match word {
        "under" => Air::Under1,
        "over" => Air::Over,
        "within" => Air::Within,
        "touching" => Air::Touching,
        _ => match Why::from_text(word) {
            Some(why) => Air::CouldNot(why),
            None => Air::Measured(Tenths(word.parse().map_err(|_| NotOurs)?)),
        },
    })
}

fn join(parts: &[&str]) -> String {
    let mut id = String::with_capacity(crate::message::TAP_ID_MAX);
    for (place, part) in parts.iter().enumerate() {
        if place > 0 {
            id.push(SEPARATOR);
        }
        id.push_str(part);
    }
    id
}
