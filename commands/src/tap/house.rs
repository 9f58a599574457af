//! Taps about the house: gaps of beds, papers, rentals, stock.

use super::{NotOurs, join};
use crate::choice::GapAct;
use crate::ids::{Bed, Item, RecordNo, Tag};
use crate::request::Right;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "house";

/// The identifier of the menu of what was done at once about a gap.
pub(crate) fn gap_acts_menu(bed: &Bed, no: RecordNo) -> String {
    join(&[GROUP, "acted", bed.as_str(), &no.to_string(), "menu"])
}

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum House {
    /// Something was done at once about a gap over the limit.
    Acted {
        /// The bed.
        bed: Bed,
        /// The reading that the card was about.
        no: RecordNo,
        /// What; cards from before there was a list do not say, and are asked.
        did: Option<GapAct>,
    },
    /// It leaves the register for good.
    Retire {
        /// The surface.
        tag: Tag,
        /// When its newest entry was made as that was asked, in seconds since 1970.
        seen: i64,
    },
    /// Bring one that is retired back: the form for the reason, please.
    BringBack {
        /// The surface.
        tag: Tag,
    },
    /// The form with the reason.
    BroughtBack {
        /// The surface.
        tag: Tag,
        /// The reason; none if it was left empty.
        reason: Option<String>,
    },
    /// Place it without its papers.
    Waive {
        /// The surface.
        tag: Tag,
        /// The bed.
        bed: Bed,
        /// The surface whose place it takes.
        instead_of: Option<Tag>,
    },
    /// A rented one came as it should.
    ArrivedWell {
        /// The rental.
        rental: RentalCard,
    },
    /// A rented one did not come as it should.
    ArrivedBadly {
        /// The rental.
        rental: RentalCard,
    },
    /// The vendor confirmed the pickup: the form for their number, please.
    Confirm {
        /// The rental.
        rental: RentalCard,
    },
    /// The form with the vendor's number.
    Confirmed {
        /// The rental.
        rental: RentalCard,
        /// The number as typed; none if it was left empty.
        number: Option<String>,
    },
    /// The vendor has fetched it.
    Collected {
        /// The rental.
        rental: RentalCard,
    },
    /// A new item for the shelf, which is like none that is there.
    NewItem {
        /// The item.
        item: Item,
        /// How many there are.
        count: u32,
    },
}

/// Which rental a card is about: a surface may be rented again.
#[derive(Clone, Debug, PartialEq)]
pub struct RentalCard {
    /// The surface.
    pub tag: Tag,
    /// When the rental began, in minutes since 1970.
    pub since: i64,
}

verbs! { House:
    Acted => "acted",
    Retire => "retire",
    BringBack => "back",
    BroughtBack => "brought",
    Waive => "waive",
    ArrivedWell => "well",
    ArrivedBadly => "badly",
    Confirm => "confirm",
    Confirmed => "confirmed",
    Collected => "collected",
    NewItem => "item",
}

impl House {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            House::Acted { .. } => Right::Gaps,
            House::Retire { .. } => Right::ChangeFleet,
            House::Waive { .. } => Right::Place,
            House::ArrivedWell { .. } | House::ArrivedBadly { .. } | House::NewItem { .. } => {
                Right::Maintain
            }
            House::BringBack { .. }
            | House::BroughtBack { .. }
            | House::Confirm { .. }
            | House::Confirmed { .. }
            | House::Collected { .. } => Right::Supervise,
        }
    }

    pub(super) fn id(&self) -> String {
        match self {
            House::Acted { bed, no, did: None } => {
                join(&[GROUP, "acted", bed.as_str(), &no.to_string()])
            }
            House::Acted {
                bed,
                no,
                did: Some(did),
            } => join(&[GROUP, "acted", bed.as_str(), &no.to_string(), did.as_str()]),
            House::Retire { tag, seen } => {
                join(&[GROUP, "retire", tag.as_str(), &seen.to_string()])
            }
            House::BringBack { tag } => join(&[GROUP, "back", tag.as_str()]),
            House::BroughtBack { tag, .. } => join(&[GROUP, "brought", tag.as_str()]),
            House::Waive {
                tag,
                bed,
                instead_of,
            } => join(&[
                GROUP,
                "waive",
                tag.as_str(),
                bed.as_str(),
                instead_of.as_ref().map_or("", Tag::as_str),
            ]),
            House::ArrivedWell { rental } => rental.join("well"),
            House::ArrivedBadly { rental } => rental.join("badly"),
            House::Confirm { rental } => rental.join("confirm"),
            House::Confirmed { rental, .. } => rental.join("confirmed"),
            House::Collected { rental } => rental.join("collected"),
            House::NewItem { item, count } => {
                join(&[GROUP, "item", item.as_str(), &count.to_string()])
            }
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read<'a>(
        parts: &[&str],
        chosen: Option<&str>,
        field: impl Fn(&str) -> Option<&'a str>,
    ) -> Result<Self, NotOurs> {
        let rental = RentalCard::read;
        let number = |text: &str| text.parse().map(RecordNo).map_err(|_| NotOurs);
        Ok(match parts {
            ["acted", bed, no] => House::Acted {
                bed: (*bed).into(),
                no: number(no)?,
                did: None,
            },
            ["acted", bed, no, did] => {
                let did = match *did {
                    "menu" => chosen.ok_or(NotOurs)?,
                    did => did,
                };
                House::Acted {
                    bed: (*bed).into(),
                    no: number(no)?,
                    did: Some(GapAct::from_text(did).ok_or(NotOurs)?),
                }
            }
            ["retire", tag, seen] => House::Retire {
                tag: (*tag).into(),
                seen: seen.parse().map_err(|_| NotOurs)?,
            },
            ["back", tag] => House::BringBack { tag: (*tag).into() },
            ["brought", tag] => House::BroughtBack {
                tag: (*tag).into(),
                reason: field("reason")
                    .map(str::trim)
                    .filter(|reason| !reason.is_empty())
                    .map(str::to_owned),
            },
            ["waive", tag, bed, old] => House::Waive {
                tag: (*tag).into(),
                bed: (*bed).into(),
                instead_of: (!old.is_empty()).then(|| (*old).into()),
            },
            ["well", tag, since] => House::ArrivedWell {
                rental: rental(tag, since)?,
            },
            ["badly", tag, since] => House::ArrivedBadly {
                rental: rental(tag, since)?,
            },
            ["confirm", tag, since] => House::Confirm {
                rental: rental(tag, since)?,
            },
            ["confirmed", tag, since] => House::Confirmed {
                rental: rental(tag, since)?,
                number: field("number")
                    .map(str::trim)
                    .filter(|number| !number.is_empty())
                    .map(str::to_owned),
            },
            ["collected", tag, since] => House::Collected {
                rental: rental(tag, since)?,
            },
            ["item", item, count] => House::NewItem {
                item: (*item).into(),
                count: count.parse().map_err(|_| NotOurs)?,
            },
            _ => return Err(NotOurs),
        })
    }
}

impl RentalCard {
    fn join(&self, verb: &str) -> String {
        join(&[GROUP, verb, self.tag.as_str(), &self.since.to_string()])
    }

    fn read(tag: &str, since: &str) -> Result<Self, NotOurs> {
        Ok(Self {
            tag: tag.into(),
            since: since.parse().map_err(|_| NotOurs)?,
        })
    }
}
