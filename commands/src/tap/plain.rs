//! Taps under what a message in everyday words was heard to say, and on a card of what to look at first.
//!
//! Decides how an entry that waits for its writer's yes is written into an identifier. Who confirms, and whether it is still
//! so, is left to `decide`.

use super::{NotOurs, air_word, join, read_air};
use crate::choice::{
    Action, Cause, Cleaning, Cover, Finding, LeaveWhy, Method, Mode, Position, Site,
};
use crate::ids::{Person, RecordNo, Tag, Unit};
use crate::request::Right;
use crate::rules::hand_check::Air;
use crate::rules::look_first::Sign;
use crate::rules::named::named_enum;
use crate::rules::priority::AlarmKind;

/// The word that their identifiers begin with.
pub(super) const GROUP: &str = "plain";

/// The longest setting that a message may name, in bytes: a tap has to carry it with the rest.
pub const SETTING_BYTES_MAX: usize = 10;

/// A tap.
#[derive(Clone, Debug, PartialEq)]
pub enum Plain {
    /// Yes, this is what I said: record it.
    Confirm {
        /// Whose message it was, and when.
        echo: Echo,
        /// What is recorded.
        entry: Spoken,
    },
    /// Yes, all of this is what I said: record each.
    Together {
        /// Who wrote it.
        who: Person,
        /// When, in seconds since 1970.
        at: i64,
        /// The readings, of different surfaces.
        readings: Vec<OneOf>,
    },
    /// It was this surface: record it.
    Pick {
        /// Whose message it was, and when.
        echo: Echo,
        /// What is recorded.
        entry: Spoken,
    },
    /// What is looked at first for this sign?
    Look {
        /// The card.
        card: LookCard,
        /// The sign.
        sign: Sign,
    },
    /// It is this sign, on a card that shows another.
    Sign {
        /// The card.
        card: LookCard,
        /// The sign.
        sign: Sign,
    },
    /// Start the alarm of the surface that the card is about.
    Start {
        /// The card.
        card: LookCard,
        /// Its kind.
        kind: AlarmKind,
    },
    /// Yes, this unit has no power.
    Outage {
        /// Who wrote it.
        who: Person,
        /// When, in seconds since 1970.
        at: i64,
        /// The unit.
        unit: Unit,
    },
    /// Show me the surface's card.
    Card {
        /// The surface.
        tag: Tag,
    },
}

verbs! { Plain:
    Confirm => "ok",
    Together => "all",
    Pick => "pick",
    Look => "look",
    Sign => "sign",
    Start => "start",
    Outage => "outage",
    Card => "card",
}

/// A message that waits for its writer's yes.
#[derive(Clone, Debug, PartialEq)]
pub struct Echo {
    /// Who wrote it.
    pub who: Person,
    /// When, in seconds since 1970.
    pub at: i64,
    /// The newest record about the surface then: of a hand check the newest check or placement.
    pub seen: RecordNo,
    /// The surface.
    pub tag: Tag,
}

/// One reading of several that one message said: nothing but the air.
#[derive(Clone, Debug, PartialEq)]
pub struct OneOf {
    /// The newest check or placement of the surface then.
    pub seen: RecordNo,
    /// The surface.
    pub tag: Tag,
    /// The reading.
    pub air: Air,
}

/// What a message said, as it is recorded.
#[derive(Clone, Debug, PartialEq)]
pub enum Spoken {
    /// A hand check.
    Check(Reading),
    /// An alarm.
    Alarm {
        /// Its kind.
        kind: AlarmKind,
        /// What it is, where that was said with it.
        cause: Option<Cause>,
    },
    /// Something was wrong with it, and was put right by whoever found it.
    Found {
        /// For how many minutes it may have been so; none where nobody knows.
        minutes: Option<u16>,
        /// What it was.
        cause: Cause,
        /// What the panel said, or that it had no power.
        kind: AlarmKind,
        /// The check after it.
        air: Option<Air>,
    },
    /// A look at a filter.
    Filter {
        /// What was found.
        finding: Finding,
        /// What was done.
        action: Action,
    },
    /// A cleaning.
    Clean {
        /// Why.
        reason: Cleaning,
        /// With what.
        method: Method,
        /// How the cover looked.
        cover: Cover,
    },
    /// Its CPR valve was opened.
    Cpr,
    /// Nobody is in its bed.
    Away {
        /// Why.
        why: LeaveWhy,
        /// For how many days, before it is asked again.
        days: u8,
    },
    /// It is in static mode.
    Static {
        /// For how many minutes.
        minutes: u16,
    },
    /// Its setting is this now.
    Set {
        /// As typed, up to [`SETTING_BYTES_MAX`].
        setting: String,
    },
}

/// A hand check as a message said it.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The reading.
    pub air: Air,
    /// Where the hand was.
    pub site: Option<Site>,
    /// How the person lay.
    pub position: Option<Position>,
    /// The mode it ran in.
    pub mode: Option<Mode>,
    /// Layers of linen and pads.
    pub layers: Option<u8>,
    /// When the hand was there, in minutes since 1970; when it was written if none.
    pub when: Option<i64>,
    /// The setting in use, up to [`SETTING_BYTES_MAX`].
    pub setting: Option<String>,
}

impl Reading {
    /// A reading of which nothing else was said.
    pub const fn alone(air: Air) -> Self {
        Self {
            air,
            site: None,
            position: None,
            mode: None,
            layers: None,
            when: None,
            setting: None,
        }
    }
}

/// A card of what to look at first.
#[derive(Clone, Debug, PartialEq)]
pub struct LookCard {
    /// The surface, where one was named.
    pub tag: Option<Tag>,
    /// Who sees the card.
    pub seen_by: SeenBy,
    /// When it was shown, in seconds since 1970.
    pub at: i64,
}

named_enum! {
    /// Who sees a card: for a channel it is written without beds, until the home has approved them.
    pub enum SeenBy {
        /// The one who asked.
        Asker = "asker",
        /// Everybody in the channel.
        Channel = "channel",
    }
}

/// So many letters of a kind tell it from every other, where the whole word would not fit.
const KIND_LETTERS: usize = 3;

impl Spoken {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Spoken::Check(_) | Spoken::Cpr | Spoken::Static { .. } => Right::Check,
            Spoken::Away { .. } => Right::Place,
            Spoken::Set { .. } => Right::Setting,
            Spoken::Alarm { .. } | Spoken::Found { .. } => Right::RaiseAlarm,
            Spoken::Filter { .. } | Spoken::Clean { .. } => Right::Upkeep,
        }
    }

    /// As it stands in an identifier; with `menu`, a reading is left for a menu to add.
    fn parts(&self, menu: bool) -> Vec<String> {
        match self {
            Spoken::Check(of) => {
                let letter = |word: Option<&str>| word.map_or("-", |word| &word[..1]).to_owned();
                let position = of.position.map(|position| match position {
                    Position::BackFlat => "flat",
                    Position::BackRaised => "raised",
                    Position::Side => "side",
                });
                let how = [
                    letter(of.site.map(Site::as_str)),
                    letter(position),
                    letter(of.mode.map(Mode::as_str)),
                ];
                let air = if menu {
                    "menu".to_owned()
                } else {
                    air_word(of.air)
                };
                vec![
                    "c".to_owned(),
                    air,
                    how.concat(),
                    of.layers
                        .map_or_else(String::new, |layers| layers.to_string()),
                    of.when.map_or_else(String::new, hex),
                    of.setting.clone().unwrap_or_default(),
                ]
            }
            Spoken::Alarm { kind, cause } => {
                let mut parts = vec!["a".to_owned(), kind.as_str().to_owned()];
                parts.extend(cause.map(|cause| cause.as_str().to_owned()));
                parts
            }
            Spoken::Found {
                minutes,
                cause,
                kind,
                air,
            } => vec![
                "p".to_owned(),
                cause.as_str().to_owned(),
                minutes.map_or_else(String::new, |minutes| minutes.to_string()),
                kind.as_str()[..KIND_LETTERS].to_owned(),
                air.map_or_else(String::new, air_word),
            ],
            Spoken::Filter { finding, action } => vec![
                "f".to_owned(),
                finding.as_str().to_owned(),
                action.as_str().to_owned(),
            ],
            Spoken::Clean {
                reason,
                method,
                cover,
            } => {
                let words = [reason.as_str(), method.as_str(), cover.as_str()];
                let letters: Vec<&str> = words.iter().map(|word| &word[..1]).collect();
                vec!["l".to_owned(), letters.concat()]
            }
            Spoken::Cpr => vec!["v".to_owned()],
            Spoken::Away { why, days } => {
                vec!["w".to_owned(), why.as_str().to_owned(), days.to_string()]
            }
            Spoken::Static { minutes } => vec!["m".to_owned(), minutes.to_string()],
            Spoken::Set { setting } => vec!["s".to_owned(), setting.clone()],
        }
    }

    fn read(parts: &[&str], chosen: Option<&str>) -> Result<Self, NotOurs> {
        Ok(match parts {
            ["c", air, how, layers, when, setting] => {
                let air = if *air == "menu" {
                    chosen.ok_or(NotOurs)?
                } else {
                    air
                };
                let how: Vec<char> = how.chars().collect();
                let [site, position, mode] = how.as_slice() else {
                    return Err(NotOurs);
                };
                let number = |text: &str| i64::from_str_radix(text, 16).map_err(|_| NotOurs);
                Spoken::Check(Reading {
                    air: read_air(air)?,
                    site: match site {
                        '-' => None,
                        'b' => Some(Site::Buttocks),
                        'h' => Some(Site::Hips),
                        's' => Some(Site::Shoulders),
                        _another => return Err(NotOurs),
                    },
                    position: match position {
                        '-' => None,
                        'f' => Some(Position::BackFlat),
                        'r' => Some(Position::BackRaised),
                        's' => Some(Position::Side),
                        _another => return Err(NotOurs),
                    },
                    mode: match mode {
                        '-' => None,
                        'a' => Some(Mode::Alternating),
                        's' => Some(Mode::Static),
                        _another => return Err(NotOurs),
                    },
                    layers: match *layers {
                        "" => None,
                        count => Some(count.parse().map_err(|_| NotOurs)?),
                    },
                    when: match *when {
                        "" => None,
                        minutes => Some(number(minutes)?),
                    },
                    setting: (!setting.is_empty()).then(|| (*setting).to_owned()),
                })
            }
            ["a", kind, cause @ ..] => Spoken::Alarm {
                kind: AlarmKind::from_text(kind).ok_or(NotOurs)?,
                cause: match cause {
                    [] => None,
                    [cause] => Some(Cause::from_text(cause).ok_or(NotOurs)?),
                    _more => return Err(NotOurs),
                },
            },
            ["p", cause, minutes, kind, air] => Spoken::Found {
                cause: Cause::from_text(cause).ok_or(NotOurs)?,
                minutes: match *minutes {
                    "" => None,
                    minutes => Some(minutes.parse().map_err(|_| NotOurs)?),
                },
                kind: *AlarmKind::ALL
                    .iter()
                    .find(|one| one.as_str()[..KIND_LETTERS] == **kind)
                    .ok_or(NotOurs)?,
                air: match *air {
                    "" => None,
                    air => Some(read_air(air)?),
                },
            },
            ["f", finding, action] => Spoken::Filter {
                finding: Finding::from_text(finding).ok_or(NotOurs)?,
                action: Action::from_text(action).ok_or(NotOurs)?,
            },
            ["l", letters] => {
                let letters: Vec<char> = letters.chars().collect();
                let [reason, method, cover] = letters.as_slice() else {
                    return Err(NotOurs);
                };
                Spoken::Clean {
                    reason: of_letter(Cleaning::ALL, Cleaning::as_str, *reason)?,
                    method: of_letter(Method::ALL, Method::as_str, *method)?,
                    cover: of_letter(Cover::ALL, Cover::as_str, *cover)?,
                }
            }
            ["v"] => Spoken::Cpr,
            ["w", why, days] => Spoken::Away {
                why: LeaveWhy::from_text(why).ok_or(NotOurs)?,
                days: days.parse().map_err(|_| NotOurs)?,
            },
            ["m", minutes] => Spoken::Static {
                minutes: minutes.parse().map_err(|_| NotOurs)?,
            },
            ["s", setting] => Spoken::Set {
                setting: (*setting).to_owned(),
            },
            _ => return Err(NotOurs),
        })
    }
}

impl Plain {
    /// What one must be allowed to do for it.
    pub fn right(&self) -> Right {
        match self {
            Plain::Confirm { entry, .. } | Plain::Pick { entry, .. } => entry.right(),
            Plain::Together { .. } => Right::Check,
            Plain::Start { .. } | Plain::Outage { .. } => Right::RaiseAlarm,
            Plain::Look { .. } | Plain::Sign { .. } | Plain::Card { .. } => Right::Read,
        }
    }

    /// The identifier of a menu whose values are readings, for a check that has everything else.
    pub fn air_menu(echo: &Echo, entry: &Spoken) -> String {
        confirm(echo, &entry.parts(true))
    }

    /// What an entry of the menu of surfaces brings back.
    pub fn picked(echo: &Echo, entry: &Spoken) -> String {
        let (seen, parts) = (format!("{:x}", echo.seen.0), entry.parts(false));
        let mut all = vec![seen.as_str(), echo.tag.as_str()];
        all.extend(parts.iter().map(String::as_str));
        join(&all)
    }

    pub(super) fn id(&self) -> String {
        match self {
            Plain::Confirm { echo, entry } => confirm(echo, &entry.parts(false)),
            Plain::Together { who, at, readings } => {
                let mut parts = vec![
                    GROUP.to_owned(),
                    "all".to_owned(),
                    format!("{:x}", who.0),
                    hex(*at),
                ];
                for one in readings {
                    parts.push(format!("{:x}", one.seen.0));
                    parts.push(one.tag.to_string());
                    parts.push(air_word(one.air));
                }
                let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
                join(&parts)
            }
            Plain::Pick { echo, .. } => {
                join(&[GROUP, "pick", &format!("{:x}", echo.who.0), &hex(echo.at)])
            }
            Plain::Look { card, sign } => card.id("look", Some(sign.as_str())),
            Plain::Sign { card, .. } => card.id("sign", None),
            Plain::Start { card, kind } => card.id("start", Some(kind.as_str())),
            Plain::Outage { who, at, unit } => join(&[
                GROUP,
                "outage",
                &format!("{:x}", who.0),
                &hex(*at),
                unit.as_str(),
            ]),
            Plain::Card { tag } => join(&[GROUP, "card", tag.as_str()]),
        }
    }

    /// Reads what follows the group's word.
    pub(super) fn read(parts: &[&str], chosen: Option<&str>) -> Result<Self, NotOurs> {
        let choice = || chosen.ok_or(NotOurs);
        let sign = |text: &str| Sign::from_text(text).ok_or(NotOurs);
        Ok(match parts {
            ["ok", who, at, seen, tag, rest @ ..] => Plain::Confirm {
                echo: Echo::read(who, at, seen, tag)?,
                entry: Spoken::read(rest, chosen)?,
            },
            ["all", who, at, rest @ ..] => {
                let (each, over) = rest.as_chunks::<3>();
                if !over.is_empty() {
                    return Err(NotOurs);
                }
                let readings = each.iter().map(|[seen, tag, air]| {
                    Ok(OneOf {
                        seen: record(seen)?,
                        tag: (*tag).into(),
                        air: read_air(air)?,
                    })
                });
                Plain::Together {
                    who: person(who)?,
                    at: seconds(at)?,
                    readings: readings.collect::<Result<_, NotOurs>>()?,
                }
            }
            ["pick", who, at] => {
                let picked: Vec<&str> = choice()?.split(super::SEPARATOR).collect();
                let [seen, tag, rest @ ..] = picked.as_slice() else {
                    return Err(NotOurs);
                };
                Plain::Pick {
                    echo: Echo::read(who, at, seen, tag)?,
                    entry: Spoken::read(rest, None)?,
                }
            }
            ["look", seen_by, at, tag, of] => Plain::Look {
                card: LookCard::read(seen_by, at, tag)?,
                sign: sign(of)?,
            },
            ["sign", seen_by, at, tag] => Plain::Sign {
                card: LookCard::read(seen_by, at, tag)?,
                sign: sign(choice()?)?,
            },
            ["start", seen_by, at, tag, kind] => Plain::Start {
                card: LookCard::read(seen_by, at, tag)?,
                kind: AlarmKind::from_text(kind).ok_or(NotOurs)?,
            },
            ["outage", who, at, unit] => Plain::Outage {
                who: person(who)?,
                at: seconds(at)?,
                unit: (*unit).into(),
            },
            ["card", tag] => Plain::Card { tag: (*tag).into() },
            _ => return Err(NotOurs),
        })
    }
}

impl Echo {
    fn read(who: &str, at: &str, seen: &str, tag: &str) -> Result<Self, NotOurs> {
        Ok(Self {
            who: person(who)?,
            at: seconds(at)?,
            seen: record(seen)?,
            tag: tag.into(),
        })
    }
}

impl LookCard {
    fn id(&self, verb: &str, last: Option<&str>) -> String {
        let at = hex(self.at);
        let tag = self.tag.as_ref().map_or("", Tag::as_str);
        let mut parts = vec![GROUP, verb, self.seen_by.as_str(), &at, tag];
        parts.extend(last);
        join(&parts)
    }

    fn read(seen_by: &str, at: &str, tag: &str) -> Result<Self, NotOurs> {
        Ok(Self {
            tag: (!tag.is_empty()).then(|| tag.into()),
            seen_by: SeenBy::from_text(seen_by).ok_or(NotOurs)?,
            at: seconds(at)?,
        })
    }
}

/// The one of a list that begins with this letter. No two of one list begin with the same, which a test of all taps holds.
fn of_letter<T: Copy>(
    all: &[T],
    word: impl Fn(T) -> &'static str,
    letter: char,
) -> Result<T, NotOurs> {
    let mut found = all
        .iter()
        .copied()
        .filter(|one| word(*one).starts_with(letter));
    found.next().ok_or(NotOurs)
}

fn confirm(echo: &Echo, entry: &[String]) -> String {
    let (who, at) = (format!("{:x}", echo.who.0), hex(echo.at));
    let seen = format!("{:x}", echo.seen.0);
    let mut parts = vec![GROUP, "ok", &who, &at, &seen, echo.tag.as_str()];
    parts.extend(entry.iter().map(String::as_str));
    join(&parts)
}

/// Moments are written in base 16, which saves a fifth. One before 1970 is written as 1970: no card is that old.
fn hex(number: i64) -> String {
    format!("{:x}", number.max(0))
}

fn person(text: &str) -> Result<Person, NotOurs> {
    let number = u64::from_str_radix(text, 16);
    number.map(Person).map_err(|_| NotOurs)
}

fn record(text: &str) -> Result<RecordNo, NotOurs> {
    let number = u64::from_str_radix(text, 16);
    number.map(RecordNo).map_err(|_| NotOurs)
}

fn seconds(text: &str) -> Result<i64, NotOurs> {
    i64::from_str_radix(text, 16).map_err(|_| NotOurs)
}
