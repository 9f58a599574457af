//! Taps at the bed: the checklist of a placement, settings, moves, leaves, static mode, the CPR valve.

use super::{NotOurs, join};
use crate::choice::{LeaveWhy, Step};
use crate::ids::{RecordNo, Tag};
use crate::request::Right;
use crate::rules::named::named_enum;
use crate::rules::set_up::Stage;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "at";

/// A card of a checklist.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListCard {
    /// The surface.
    pub tag: Tag,
    /// The record that opened the checklist, or that put the surface there where only a setting is said: a card of an
    /// earlier one is out of date.
    pub list: RecordNo,
    /// Whether everybody sees it: then the answer does not take its place.
    pub post: bool,
}

/// Something that began at a bed and is to end: a tap on an earlier one's card is out of date.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Begun {
    /// The surface.
    pub tag: Tag,
    /// When it began, in seconds since 1970.
    pub since: i64,
}

named_enum! {
    /// How much longer somebody is away.
    pub enum Longer {
        /// One hour.
        Hour = "1h",
        /// Four hours.
        FourHours = "4h",
        /// Until tomorrow noon.
        Tomorrow = "tomorrow",
        /// Three days.
        ThreeDays = "3d",
    }
}

impl Longer {
    /// What is offered for a leave of this kind: nobody sits in a chair until tomorrow.
    pub fn offered(why: LeaveWhy) -> &'static [Longer] {
        match why {
            LeaveWhy::Chair => &[Longer::Hour, Longer::FourHours],
            LeaveWhy::Hospital | LeaveWhy::BedHold => {
                &[Longer::FourHours, Longer::Tomorrow, Longer::ThreeDays]
            }
        }
    }
}

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Bedside {
    /// The checklist, please.
    Steps {
        /// The surface.
        tag: Tag,
    },
    /// All that this stage asks for is done.
    Done {
        /// The card.
        card: ListCard,
        /// The stage.
        stage: Stage,
    },
    /// It is full, though by its profile it cannot be yet.
    FullAlready {
        /// The card.
        card: ListCard,
    },
    /// One thing is not right.
    Missed {
        /// The card.
        card: ListCard,
        /// Which.
        step: Step,
    },
    /// What was not right is right now.
    Mended {
        /// The card.
        card: ListCard,
        /// Which.
        step: Step,
    },
    /// A setting of the maker's table.
    Set {
        /// The card.
        card: ListCard,
        /// The setting.
        setting: String,
    },
    /// The same setting as before.
    Same {
        /// The card.
        card: ListCard,
    },
    /// The panel really shows this, though the maker's table does not have it.
    Shown {
        /// The card.
        card: ListCard,
        /// The setting.
        setting: String,
    },
    /// The setting wants to be typed: the form, please.
    TypeSetting {
        /// The card.
        card: ListCard,
    },
    /// The form with the setting.
    SettingTyped {
        /// The card.
        card: ListCard,
        /// As typed.
        setting: String,
    },
    /// How long it was unplugged wants to be corrected: the form, please.
    TypeMinutes {
        /// The card.
        card: ListCard,
    },
    /// The form with the minutes.
    MinutesTyped {
        /// The card.
        card: ListCard,
        /// As typed.
        minutes: String,
    },
    /// Static mode is over.
    Alternating {
        /// Which.
        begun: Begun,
    },
    /// The emergency is over.
    CprOver {
        /// Which.
        begun: Begun,
    },
    /// Back in bed.
    Back {
        /// Which leave.
        begun: Begun,
    },
    /// Away for longer.
    Away {
        /// Which leave.
        begun: Begun,
        /// How much.
        longer: Longer,
    },
    /// Gone for good.
    Gone {
        /// Which leave.
        begun: Begun,
    },
}

verbs! { Bedside:
    Steps => "steps",
    Done => "done",
    FullAlready => "full",
    Missed => "miss",
    Mended => "right",
    Set => "set",
    Same => "same",
    Shown => "shown",
    TypeSetting => "type",
    SettingTyped => "typed",
    TypeMinutes => "min",
    MinutesTyped => "mins",
    Alternating => "alt",
    CprOver => "over",
    Back => "back",
    Away => "away",
    Gone => "gone",
}

impl Bedside {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            // Rails and gaps are a nurse's to judge.
            Bedside::Done {
                stage: Stage::Rails,
                ..
            }
            | Bedside::Gone { .. } => Right::Place,
            Bedside::Set { .. }
            | Bedside::Same { .. }
            | Bedside::Shown { .. }
            | Bedside::TypeSetting { .. }
            | Bedside::SettingTyped { .. } => Right::Setting,
            Bedside::Steps { .. }
            | Bedside::Done { .. }
            | Bedside::FullAlready { .. }
            | Bedside::Missed { .. }
            | Bedside::Mended { .. }
            | Bedside::TypeMinutes { .. }
            | Bedside::MinutesTyped { .. }
            | Bedside::Alternating { .. }
            | Bedside::CprOver { .. }
            | Bedside::Back { .. }
            | Bedside::Away { .. } => Right::Check,
        }
    }

    pub(super) fn id(&self) -> String {
        match self {
            Bedside::Steps { tag } => join(&[GROUP, "steps", tag.as_str()]),
            Bedside::Done { card, stage } => card.join("done", &[stage.as_str()]),
            Bedside::FullAlready { card } => card.join("full", &[]),
            Bedside::Missed { card, .. } => card.join("miss", &[]),
            Bedside::Mended { card, .. } => card.join("right", &[]),
            Bedside::Set { card, .. } => card.join("set", &[]),
            Bedside::Same { card } => card.join("same", &[]),
            Bedside::Shown { card, setting } => card.join("shown", &[setting]),
            Bedside::TypeSetting { card } => card.join("type", &[]),
            Bedside::SettingTyped { card, .. } => card.join("typed", &[]),
            Bedside::TypeMinutes { card } => card.join("min", &[]),
            Bedside::MinutesTyped { card, .. } => card.join("mins", &[]),
            Bedside::Alternating { begun } => begun.join("alt"),
            Bedside::CprOver { begun } => begun.join("over"),
            Bedside::Back { begun } => begun.join("back"),
            Bedside::Away { begun, .. } => begun.join("away"),
            Bedside::Gone { begun } => begun.join("gone"),
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read<'a>(
        parts: &[&str],
        chosen: Option<&str>,
        field: impl Fn(&str) -> Option<&'a str>,
    ) -> Result<Self, NotOurs> {
        let [verb, rest @ ..] = parts else {
            return Err(NotOurs);
        };
        let choice = || chosen.ok_or(NotOurs);
        let step = || Step::from_text(choice()?).ok_or(NotOurs);
        let typed = |name| field(name).unwrap_or_default().to_owned();
        Ok(match (*verb, rest) {
            ("steps", [tag]) => Bedside::Steps { tag: (*tag).into() },
            ("done", [card @ .., stage]) => Bedside::Done {
                card: ListCard::read(card)?,
                stage: Stage::from_text(stage).ok_or(NotOurs)?,
            },
            ("full", card) => Bedside::FullAlready {
                card: ListCard::read(card)?,
            },
            ("miss", card) => Bedside::Missed {
                card: ListCard::read(card)?,
                step: step()?,
            },
            ("right", card) => Bedside::Mended {
                card: ListCard::read(card)?,
                step: step()?,
            },
            ("set", card) => Bedside::Set {
                card: ListCard::read(card)?,
                setting: choice()?.to_owned(),
            },
            ("shown", [card @ .., setting]) => Bedside::Shown {
                card: ListCard::read(card)?,
                setting: (*setting).to_owned(),
            },
            ("same", card) => Bedside::Same {
                card: ListCard::read(card)?,
            },
            ("type", card) => Bedside::TypeSetting {
                card: ListCard::read(card)?,
            },
            ("typed", card) => Bedside::SettingTyped {
                card: ListCard::read(card)?,
                setting: typed("setting"),
            },
            ("min", card) => Bedside::TypeMinutes {
                card: ListCard::read(card)?,
            },
            ("mins", card) => Bedside::MinutesTyped {
                card: ListCard::read(card)?,
                minutes: typed("minutes"),
            },
            ("alt", begun) => Bedside::Alternating {
                begun: Begun::read(begun)?,
            },
            ("over", begun) => Bedside::CprOver {
                begun: Begun::read(begun)?,
            },
            ("back", begun) => Bedside::Back {
                begun: Begun::read(begun)?,
            },
            ("away", begun) => Bedside::Away {
                begun: Begun::read(begun)?,
                longer: Longer::from_text(choice()?).ok_or(NotOurs)?,
            },
            ("gone", begun) => Bedside::Gone {
                begun: Begun::read(begun)?,
            },
            _ => return Err(NotOurs),
        })
    }
}

impl ListCard {
    fn join(&self, verb: &str, rest: &[&str]) -> String {
        let list = self.list.to_string();
        let post = if self.post { "post" } else { "" };
        let mut parts = vec![GROUP, verb, self.tag.as_str(), &list, post];
        parts.extend(rest);
        join(&parts)
    }

    fn read(parts: &[&str]) -> Result<Self, NotOurs> {
        let [tag, list, post] = parts else {
            return Err(NotOurs);
        };
        Ok(Self {
            tag: (*tag).into(),
            list: list.parse().map(RecordNo).map_err(|_| NotOurs)?,
            post: match *post {
                "post" => true,
                "" => false,
                _ => return Err(NotOurs),
            },
        })
    }
}

impl Begun {
    fn join(&self, verb: &str) -> String {
        join(&[GROUP, verb, self.tag.as_str(), &self.since.to_string()])
    }

    fn read(parts: &[&str]) -> Result<Self, NotOurs> {
        let [tag, since] = parts else {
            return Err(NotOurs);
        };
        Ok(Self {
            tag: (*tag).into(),
            since: since.parse().map_err(|_| NotOurs)?,
        })
    }
}
