//! Taps of a list that is worked through: which item was chosen, what was done about it, and with each of them which list
//! it belongs to, so that the next item can be offered. Leaves what an item leads to to `decide::work`.

use super::{NotOurs, SEPARATOR, Tap, join};
use crate::choice::{Action, Cleaning, Cover, Finding, Method, Outcome, Work as Kind};
use crate::ids::{Bed, RecordNo, Tag, Unit};
use crate::message::TAP_ID_MAX;
use crate::request::Right;
use crate::tap::Began;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "work";

/// A word of a short list by its place, where its letters would not fit an identifier.
fn place_of<T: PartialEq>(all: &[T], one: T) -> String {
    let place = all.iter().position(|other| *other == one);
    place.unwrap_or_default().to_string()
}

fn at_place<T: Copy>(all: &[T], place: &str) -> Result<T, NotOurs> {
    let place: usize = place.parse().map_err(|_| NotOurs)?;
    all.get(place).copied().ok_or(NotOurs)
}

/// Room for a product's name beside a tag and the rest.
const PRODUCT_BYTES_MAX: usize = 48;

/// A list that somebody works through.
#[derive(Clone, Debug, PartialEq)]
pub struct List {
    /// Its unit; all of them if none.
    pub unit: Option<Unit>,
    /// How many items there were when it was opened.
    pub all: u16,
    /// It was opened from a shift card, which then shows what is left.
    pub card: bool,
}

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Work {
    /// An item of a shift card was chosen.
    Open {
        /// The unit of the card; all of them if none.
        unit: Option<Unit>,
        /// The surface.
        tag: Tag,
        /// The word of the kind of work.
        kind: String,
    },
    /// An item of one's own list was chosen.
    Pick {
        /// The list.
        list: List,
        /// The surface.
        tag: Tag,
        /// The word of the kind of work.
        kind: String,
    },
    /// This one later: on to the next.
    Next {
        /// The list.
        list: List,
        /// The surface that stays.
        tag: Tag,
        /// The word of the kind of work.
        kind: String,
    },
    /// The list again.
    All {
        /// The list.
        list: List,
    },
    /// Another tap, after which the list goes on.
    In {
        /// The list.
        list: List,
        /// The tap.
        tap: Box<Tap>,
    },
    /// A filter was looked at.
    Filter {
        /// The surface.
        tag: Tag,
        /// The newest record of this kind when the card was shown, 0 for none.
        seen: RecordNo,
        /// What was found.
        finding: Finding,
        /// What was done.
        action: Action,
    },
    /// Why a filter is looked at so often.
    Cycle {
        /// The surface.
        tag: Tag,
    },
    /// How often filters are looked at, by care unit.
    Cycles,
    /// A test or a maintenance was done today.
    Served {
        /// The surface.
        tag: Tag,
        /// The newest record of this kind when the card was shown, 0 for none.
        seen: RecordNo,
        /// Which.
        work: Kind,
        /// How it came out.
        outcome: Outcome,
    },
    /// It was done on another day: the form, please.
    Serve {
        /// The surface.
        tag: Tag,
        /// The newest record of this kind when the card was shown, 0 for none.
        seen: RecordNo,
        /// Which.
        work: Kind,
    },
    /// The form with a test or a maintenance.
    ServeTyped {
        /// The surface.
        tag: Tag,
        /// The newest record of this kind when the card was shown, 0 for none.
        seen: RecordNo,
        /// Which.
        work: Kind,
        /// How it came out, as typed.
        outcome: String,
        /// The day, as typed.
        on: Option<String>,
        /// The day of the next, as typed.
        next: Option<String>,
        /// Free text.
        note: Option<String>,
    },
    /// The wall outlet at a bed was tested today, and is as it should be.
    Outlet {
        /// The bed.
        bed: Bed,
    },
    /// It failed its test.
    OutletBad {
        /// The bed.
        bed: Bed,
    },
    /// The gaps of a bed are measured again: the form, please.
    Zones {
        /// The bed.
        bed: Bed,
    },
    /// The form with the gaps.
    ZonesTyped {
        /// The bed.
        bed: Bed,
        /// Zones 1 to 4, as typed.
        zones: [Option<String>; 4],
        /// The angle at zone 4, as typed.
        angle4: Option<String>,
    },
    /// It was cleaned between residents.
    Cleaned {
        /// The surface.
        tag: Tag,
        /// Its turnover.
        of: Began,
        /// The kind of product.
        method: Method,
        /// How the cover looked.
        cover: Cover,
        /// The product of the home's list.
        product: Option<String>,
    },
    /// What went on before was rinsed off, and it was cleaned with another product.
    Rinsed {
        /// The surface.
        tag: Tag,
        /// Its turnover; 0 where it is in none.
        of: Began,
        /// Why it was cleaned.
        reason: Cleaning,
        /// The kind of product.
        method: Method,
        /// How the cover looked.
        cover: Cover,
        /// The product.
        product: Option<String>,
    },
    /// Bring it back into service.
    Return {
        /// The surface.
        tag: Tag,
    },
    /// Call the vendor for it.
    Stop {
        /// The surface.
        tag: Tag,
    },
    /// Another surface takes its place.
    Swap {
        /// The bed.
        bed: Bed,
        /// The one that lies there.
        old: Tag,
        /// The one that comes.
        new: Tag,
    },
    /// The same, though it was said what does not fit.
    SwapSure {
        /// The bed.
        bed: Bed,
        /// The one that lies there.
        old: Tag,
        /// The one that comes.
        new: Tag,
    },
}

verbs! { Work:
    Open => "open",
    Pick => "pick",
    Next => "next",
    All => "all",
    In => "in",
    Filter => "filter",
    Cycle => "cycle",
    Cycles => "cycles",
    Served => "served",
    Serve => "serve",
    ServeTyped => "servetyped",
    Outlet => "outlet",
    OutletBad => "outletbad",
    Zones => "zones",
    ZonesTyped => "zonestyped",
    Cleaned => "cleaned",
    Rinsed => "rinsed",
    Return => "return",
    Stop => "stop",
    Swap => "swap",
    SwapSure => "swapsure",
}

impl Work {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Work::Open { .. } | Work::Pick { .. } | Work::Next { .. } | Work::All { .. } => {
                Right::Read
            }
            Work::Cycle { .. } => Right::Read,
            Work::Cycles => Right::Maintain,
            Work::In { tap, .. } => crate::decide::right_of_tap(tap),
            Work::Filter { .. } | Work::Cleaned { .. } | Work::Rinsed { .. } => Right::Upkeep,
            Work::Served { .. }
            | Work::Serve { .. }
            | Work::ServeTyped { .. }
            | Work::Return { .. } => Right::Maintain,
            Work::Outlet { .. } | Work::OutletBad { .. } => Right::Frames,
            Work::Zones { .. } | Work::ZonesTyped { .. } => Right::Gaps,
            Work::Stop { .. } => Right::Supervise,
            Work::Swap { .. } | Work::SwapSure { .. } => Right::Place,
        }
    }

    /// The identifier of a menu whose values are how a surface was cleaned.
    pub fn cleaned_menu(tag: &Tag, of: Began) -> String {
        join(&[GROUP, "cleaned", tag.as_str(), &of.0.to_string()])
    }

    /// Whether a product's name has room in a tap's identifier; one of the home's list, typed in plain letters, has.
    pub fn fits_rinsed(product: &str) -> bool {
        product.len() <= PRODUCT_BYTES_MAX && !product.contains(SEPARATOR)
    }

    /// A value of such a menu.
    pub fn cleaned_value(method: Method, cover: Cover, product: Option<&str>) -> String {
        let product = product.unwrap_or_default();
        format!("{} {} {product}", method.as_str(), cover.as_str())
    }

    pub(super) fn id(&self) -> String {
        let unit_word = |unit: &Option<Unit>| unit.as_ref().map_or(String::new(), Unit::to_string);
        match self {
            Work::Open { unit, .. } => join(&[GROUP, "open", &unit_word(unit)]),
            Work::Pick { list, .. } => list.join("pick", &[]),
            Work::Next { list, tag, kind } => list.join("next", &[tag.as_str(), kind]),
            Work::All { list } => list.join("all", &[]),
            Work::In { list, tap } => list.join("in", &[&tap.id()]),
            Work::Filter {
                tag,
                seen,
                finding,
                action,
            } => join(&[
                GROUP,
                "filter",
                tag.as_str(),
                &seen.to_string(),
                finding.as_str(),
                action.as_str(),
            ]),
            Work::Cycle { tag } => join(&[GROUP, "cycle", tag.as_str()]),
            Work::Cycles => join(&[GROUP, "cycles"]),
            Work::Served {
                tag,
                seen,
                work,
                outcome,
            } => join(&[
                GROUP,
                "served",
                tag.as_str(),
                &seen.to_string(),
                work.as_str(),
                outcome.as_str(),
            ]),
            Work::Serve { tag, seen, work } => join(&[
                GROUP,
                "serve",
                tag.as_str(),
                &seen.to_string(),
                work.as_str(),
            ]),
            Work::ServeTyped {
                tag, seen, work, ..
            } => join(&[
                GROUP,
                "servetyped",
                tag.as_str(),
                &seen.to_string(),
                work.as_str(),
            ]),
            Work::Outlet { bed } => join(&[GROUP, "outlet", bed.as_str()]),
            Work::OutletBad { bed } => join(&[GROUP, "outletbad", bed.as_str()]),
            Work::Zones { bed } => join(&[GROUP, "zones", bed.as_str()]),
            Work::ZonesTyped { bed, .. } => join(&[GROUP, "zonestyped", bed.as_str()]),
            Work::Cleaned { tag, of, .. } => Self::cleaned_menu(tag, *of),
            Work::Rinsed {
                tag,
                of,
                reason,
                method,
                cover,
                product,
            } => join(&[
                GROUP,
                "rinsed",
                tag.as_str(),
                &of.0.to_string(),
                &place_of(Cleaning::ALL, *reason),
                &place_of(Method::ALL, *method),
                &place_of(Cover::ALL, *cover),
                product.as_deref().unwrap_or_default(),
            ]),
            Work::Return { tag } => join(&[GROUP, "return", tag.as_str()]),
            Work::Stop { tag } => join(&[GROUP, "stop", tag.as_str()]),
            Work::Swap { bed, old, .. } => join(&[GROUP, "swap", bed.as_str(), old.as_str()]),
            Work::SwapSure { bed, old, new } => {
                join(&[GROUP, "swapsure", bed.as_str(), old.as_str(), new.as_str()])
            }
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read<'a>(
        parts: &[&str],
        chosen: Option<&str>,
        field: impl Fn(&str) -> Option<&'a str>,
    ) -> Result<Self, NotOurs> {
        let typed = |name: &str| {
            field(name)
                .map(str::trim)
                .filter(|text| !text.is_empty())
                .map(str::to_owned)
        };
        // A tag and the word of a kind of work, as a menu has them.
        let item = || {
            let (tag, kind) = chosen.and_then(|of| of.rsplit_once(' ')).ok_or(NotOurs)?;
            Ok((Tag::from(tag), kind.to_owned()))
        };
        let record = |text: &str| text.parse().map(RecordNo).map_err(|_| NotOurs);
        let work = |text: &str| Kind::from_text(text).ok_or(NotOurs);
        Ok(match parts {
            ["open", unit] => {
                let (tag, kind) = item()?;
                Work::Open {
                    unit: (!unit.is_empty()).then(|| (*unit).into()),
                    tag,
                    kind,
                }
            }
            ["pick", unit, all] => {
                let (tag, kind) = item()?;
                Work::Pick {
                    list: List::read(unit, all)?,
                    tag,
                    kind,
                }
            }
            ["next", unit, all, tag, kind] => Work::Next {
                list: List::read(unit, all)?,
                tag: (*tag).into(),
                kind: (*kind).to_owned(),
            },
            ["all", unit, all] => Work::All {
                list: List::read(unit, all)?,
            },
            // A list goes on after a tap, and not after a list.
            ["in", unit, all, rest @ ..]
                if rest.first() != Some(&GROUP) || rest.get(1) != Some(&"in") =>
            {
                let inner = rest.join(&SEPARATOR.to_string());
                let tap = Tap::read_with(&inner, chosen, &field)?;
                Work::In {
                    list: List::read(unit, all)?,
                    tap: Box::new(tap),
                }
            }
            ["filter", tag, seen, finding, action] => Work::Filter {
                tag: (*tag).into(),
                seen: record(seen)?,
                finding: Finding::from_text(finding).ok_or(NotOurs)?,
                action: Action::from_text(action).ok_or(NotOurs)?,
            },
            ["cycle", tag] => Work::Cycle { tag: (*tag).into() },
            ["cycles"] => Work::Cycles,
            ["served", tag, seen, of, outcome] => Work::Served {
                tag: (*tag).into(),
                seen: record(seen)?,
                work: work(of)?,
                outcome: Outcome::from_text(outcome).ok_or(NotOurs)?,
            },
            ["serve", tag, seen, of] => Work::Serve {
                tag: (*tag).into(),
                seen: record(seen)?,
                work: work(of)?,
            },
            ["servetyped", tag, seen, of] => Work::ServeTyped {
                tag: (*tag).into(),
                seen: record(seen)?,
                work: work(of)?,
                outcome: typed("result").unwrap_or_default(),
                on: typed("on"),
                next: typed("next"),
                note: typed("note"),
            },
            ["outlet", bed] => Work::Outlet { bed: (*bed).into() },
            ["outletbad", bed] => Work::OutletBad { bed: (*bed).into() },
            ["zones", bed] => Work::Zones { bed: (*bed).into() },
            ["zonestyped", bed] => Work::ZonesTyped {
                bed: (*bed).into(),
                zones: ["zone1", "zone2", "zone3", "zone4"].map(typed),
                angle4: typed("angle4"),
            },
            ["cleaned", tag, of] => {
                let mut words = chosen.ok_or(NotOurs)?.splitn(3, ' ');
                let mut word = || words.next().ok_or(NotOurs);
                let (method, cover, product) = (word()?, word()?, word()?);
                Work::Cleaned {
                    tag: (*tag).into(),
                    of: of.parse().map(Began).map_err(|_| NotOurs)?,
                    method: Method::from_text(method).ok_or(NotOurs)?,
                    cover: Cover::from_text(cover).ok_or(NotOurs)?,
                    product: (!product.is_empty()).then(|| product.to_owned()),
                }
            }
            ["rinsed", tag, of, reason, method, cover, product] => Work::Rinsed {
                tag: (*tag).into(),
                of: of.parse().map(Began).map_err(|_| NotOurs)?,
                reason: at_place(Cleaning::ALL, reason)?,
                method: at_place(Method::ALL, method)?,
                cover: at_place(Cover::ALL, cover)?,
                product: (!product.is_empty()).then(|| (*product).to_owned()),
            },
            ["return", tag] => Work::Return { tag: (*tag).into() },
            ["stop", tag] => Work::Stop { tag: (*tag).into() },
            ["swap", bed, old] => Work::Swap {
                bed: (*bed).into(),
                old: (*old).into(),
                new: chosen.ok_or(NotOurs)?.into(),
            },
            ["swapsure", bed, old, new] => Work::SwapSure {
                bed: (*bed).into(),
                old: (*old).into(),
                new: (*new).into(),
            },
            _ => return Err(NotOurs),
        })
    }
}

impl List {
    /// An identifier that brings its tap back with this list around it; the tap alone, where that is too long for the
    /// platform: then it does what it says, and the list has to be opened again.
    pub fn around(&self, id: &str) -> String {
        let whole = self.join("in", &[id]);
        if whole.len() <= TAP_ID_MAX {
            whole
        } else {
            id.to_owned()
        }
    }

    fn join(&self, verb: &str, rest: &[&str]) -> String {
        let all = format!("{}{}", self.all, if self.card { "c" } else { "" });
        let unit = self.unit.as_ref().map_or("", Unit::as_str);
        let mut parts = vec![GROUP, verb, unit, &all];
        parts.extend(rest);
        join(&parts)
    }

    fn read(unit: &str, all: &str) -> Result<Self, NotOurs> {
        let (number, card) = match all.strip_suffix('c') {
            Some(number) => (number, true),
            None => (all, false),
        };
        Ok(Self {
            unit: (!unit.is_empty()).then(|| unit.into()),
            all: number.parse().map_err(|_| NotOurs)?,
            card,
        })
    }
}

/// What an identifier asks for inside of a list, as it stands without the list.
pub fn in_list(id: &str) -> Option<&str> {
    let [group, verb, _unit, _all, tap] = *id.splitn(5, SEPARATOR).collect::<Vec<_>>().as_slice()
    else {
        return None;
    };
    (group == GROUP && verb == "in").then_some(tap)
}
