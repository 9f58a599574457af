//! Reads a message in everyday words: what somebody typed at a bed becomes a typed entry, a question back, or nothing.
//!
//! Decides what a text says, by rules and closed lists only, in English and Spanish. What matters is never guessed: which
//! surface, which reading, which kind. Two ways to read it, a "not", a "maybe", a question, a time that is past are asked about;
//! what names a person is refused; the rest gets the nearest example. Leaves to `decide` whether the writer may, what is
//! on record, and the one tap that confirms: nothing here records anything.
//!
//! The words are *common practice*, from memory (`plain/words.txt`). Readings, moments, names and privacy have rules of their
//! own beside this file, and are read by those.

use super::air::{AirFault, Tenths};
use super::guard::{self, Field, Found};
use super::hand_check::{Kind, Why};
use super::look_first::Sign;
use super::priority::AlarmKind;
use crate::choice::{
    Action, Cause, Cleaning, Cover, Finding, LeaveWhy, Method, Mode, Position, Site,
};
use crate::words::Lang;

mod amounts;
mod cares;
mod causes;
mod checks;
mod claims;
mod compose;
mod doubts;
mod examples;
mod moments;
mod names;
mod sentence;
mod several;
mod subject;
mod tokens;
mod words;
mod works;

pub use names::{Home, HomeBed};

/// Longer messages than this, in characters, are not read.
pub const CHARS_MAX: usize = 300;

/// What a message was heard to say.
#[derive(Debug, Clone, PartialEq)]
pub enum Heard {
    /// This, whole.
    Understood {
        /// What.
        what: Understood,
        /// Whether the message had words besides, which are not recorded.
        rest: bool,
    },
    /// Something is missing, or can be meant in two ways.
    Asks(Asks),
    /// Nothing; this is the nearest that would be.
    Nearest(Example),
    /// Something that could identify a person: the message is to be deleted.
    Private(Found),
}

/// Something that was understood. Surfaces are named by their tags.
#[derive(Debug, Clone, PartialEq)]
pub enum Understood {
    /// A hand check.
    HandCheck {
        /// Where, how and when.
        about: About,
        /// The reading.
        air: AirSaid,
    },
    /// An alarm.
    Alarm {
        /// The surface.
        tag: String,
        /// What the panel says.
        kind: AlarmKind,
    },
    /// Something was wrong with it, and what it was is said.
    Caused(Mishap),
    /// A look at a filter.
    Filter {
        /// The surface.
        tag: String,
        /// How it looked.
        finding: Finding,
        /// What was done.
        action: Action,
    },
    /// A cleaning.
    Clean {
        /// The surface.
        tag: String,
        /// Why.
        reason: Cleaning,
        /// With what.
        method: Method,
        /// How the cover looked.
        cover: Cover,
    },
    /// What is due?
    Due {
        /// Where; the writer's own unit if none.
        unit: Option<String>,
    },
    /// Where is it, how does it stand?
    Where(Place),
    /// A unit has no power.
    Outage {
        /// Where; the writer's own unit if none.
        unit: Option<String>,
    },
    /// A surface for an admission.
    Match {
        /// Of which kind; asked if none.
        kind: Option<Kind>,
        /// For which bed.
        bed: Option<String>,
    },
    /// Who is on duty there?
    OnDuty {
        /// The unit.
        unit: String,
    },
    /// Its writer has a unit.
    Claim {
        /// The unit.
        unit: String,
        /// Until when, as typed; the shift's end if none.
        until: Option<String>,
    },
    /// Somebody answers the alarm of a surface, which is a tap on its card.
    Answered {
        /// The surface.
        tag: String,
    },
    /// Other work at one surface.
    Deed {
        /// The surface.
        tag: String,
        /// What.
        deed: Deed,
    },
    /// The gaps of a bed want measuring.
    Gaps {
        /// Where.
        place: Place,
    },
    /// Something is wrong: what is looked at first?
    LookFirst {
        /// The surface, where one was named.
        tag: Option<String>,
        /// The sign.
        sign: Sign,
    },
    /// What can be said here?
    Help,
}

/// What was wrong with a surface, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mishap {
    /// The surface.
    pub tag: String,
    /// What the panel said, or that it had no power.
    pub kind: AlarmKind,
    /// What it was.
    pub cause: Cause,
    /// Whether it is said to be put right. Where it is not said, it is asked.
    pub mended: bool,
    /// Since when it was so, as typed.
    pub since: Option<String>,
    /// The reading that was said with it, or behind it where it is mended: only that is one of after.
    pub air: Option<AirSaid>,
}

/// Other work at one surface, as it was said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Deed {
    /// Its CPR valve was opened.
    Cpr,
    /// Nobody is in its bed for a time.
    Away(LeaveWhy),
    /// Somebody is in its bed again.
    Back,
    /// It is in static mode for a while.
    Static,
    /// Its setting is this now, as typed.
    Set(String),
}

/// What a question of where is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// A surface, by its tag.
    Surface(String),
    /// A bed with nothing under it.
    Bed(String),
}

/// What belongs to a hand check besides the reading.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct About {
    /// The surface.
    pub tag: String,
    /// Where the hand was.
    pub site: Option<Site>,
    /// How the person lay.
    pub position: Option<Position>,
    /// The mode it ran in.
    pub mode: Option<Mode>,
    /// Layers of linen and pads.
    pub layers: Option<u8>,
    /// The setting in use, as typed.
    pub setting: Option<String>,
    /// When, in words that `when` reads; now if none.
    pub when: Option<String>,
}

/// A reading as it was said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AirSaid {
    /// So much.
    Measured(Tenths),
    /// Less than so much, and not nothing.
    Under(Tenths),
    /// More than so much.
    Over(Tenths),
    /// Nothing left.
    Touching,
    /// Looked at and felt from above, and right.
    Within,
    /// It could not be checked.
    CouldNot(Why),
}

/// What has to be asked.
#[derive(Debug, Clone, PartialEq)]
pub enum Asks {
    /// Which of these surfaces? All were named.
    Which {
        /// Their tags.
        tags: Vec<String>,
        /// What it would be for each, in the same order; empty where more is missing.
        each: Vec<Understood>,
    },
    /// Which surface? None was named.
    Surface {
        /// What it was about.
        of: Example,
        /// The likely ones; none where more than the surface is missing.
        likely: Vec<String>,
        /// What it would be for each of those.
        each: Vec<Understood>,
    },
    /// Nothing in the home has this name.
    NoSurface {
        /// As it was typed.
        typed: String,
        /// The tags that are near to it, best first.
        near: Vec<String>,
        /// What it would be for each of those; empty where more is missing.
        each: Vec<Understood>,
    },
    /// No surface is under this bed.
    EmptyBed {
        /// The bed.
        bed: String,
    },
    /// There is no such unit.
    Unit {
        /// As it was typed.
        typed: String,
    },
    /// A short number: a bed or a reading?
    BedOrReading {
        /// As it was typed.
        number: String,
    },
    /// Which reading?
    Reading {
        /// What is known of the check.
        about: About,
        /// The readings that it may be; none where none was named.
        among: Vec<AirSaid>,
    },
    /// A number that is no reading.
    Air {
        /// What is known of the check.
        about: About,
        /// Why it is none.
        fault: AirFault,
    },
    /// When was it? An hour without its half of the day, or two times.
    When {
        /// The surface.
        tag: String,
    },
    /// Soft, flat, low: how low is it?
    HowLow {
        /// The surface.
        tag: String,
    },
    /// Hard, high: how high is it?
    HowHigh {
        /// The surface.
        tag: String,
    },
    /// Which kind of alarm?
    Kind {
        /// The surface.
        tag: String,
        /// The kinds that were named.
        among: Vec<AlarmKind>,
    },
    /// What was it? Something that may be several causes, or several were named.
    Cause {
        /// What is known of it; its cause is the first that it may be.
        of: Mishap,
        /// What it may be.
        among: Vec<Cause>,
    },
    /// What was found, or done, with a filter?
    Filter {
        /// The surface.
        tag: String,
        /// What may have been found; one where it is known.
        findings: Vec<Finding>,
        /// What may have been done; one where it is known.
        actions: Vec<Action>,
    },
    /// What is missing of a cleaning?
    Clean {
        /// The surface.
        tag: String,
        /// Why, if it was said.
        reason: Option<Cleaning>,
        /// With what, if it was said.
        method: Option<Method>,
        /// How the cover looked, if it was said.
        cover: Option<Cover>,
    },
    /// It was said in a way that is no entry.
    Doubt {
        /// In which way.
        doubt: Doubt,
        /// The surface, where there is one.
        tag: Option<String>,
        /// What it would be, said plainly.
        of: Option<Understood>,
    },
    /// Several things, each complete: of one surface, or of several with one for each.
    Each(Vec<Understood>),
    /// Some of several things are whole, and the others are not: those are asked for, never left out unsaid.
    Some {
        /// What is whole, of several surfaces with one for each.
        taken: Vec<Understood>,
        /// What is not, in the order in which it was said.
        left: Vec<Left>,
    },
    /// Several surfaces with several readings: one at a time.
    OneAtATime,
    /// Longer than is read.
    TooLong,
}

/// A part of a message about several surfaces that could not be taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Left {
    /// Nothing in the home has this name.
    NoSurface {
        /// As it was typed.
        typed: String,
        /// The tags that are near to it, best first.
        near: Vec<String>,
    },
    /// No surface is under this bed.
    EmptyBed {
        /// The bed.
        bed: String,
    },
    /// What is said of this surface is not clear.
    Unclear {
        /// The surface.
        tag: String,
    },
}

/// Why a sentence is no entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Doubt {
    /// It asks.
    Question,
    /// It says that it is not so.
    Negation,
    /// It is over.
    Over,
    /// It was so some time ago.
    Past,
    /// Its writer is not sure.
    Unsure,
    /// It is still to be done.
    NotYet,
}

/// The nearest thing that is understood.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Example {
    /// A hand check.
    HandCheck,
    /// An alarm.
    Alarm,
    /// An answer to an alarm, which is a tap on its card.
    AlarmCard,
    /// Taking back what was recorded by mistake.
    TakeBack,
    /// A look at a filter.
    Filter,
    /// A cleaning.
    Clean,
    /// What is due.
    Due,
    /// Where something is.
    Where,
    /// What to look at first.
    LookFirst,
    /// This command does it.
    Command(&'static str),
    /// Somebody may be hurt: a voice, not a chat.
    Voice,
    /// It is about something that is no powered surface.
    NoSurface,
    /// None is nearer than another.
    Any,
}

/// A message, with what was heard of it besides what it says.
#[derive(Debug, Clone, PartialEq)]
pub struct Listened {
    /// What it says.
    pub heard: Heard,
    /// The language of most of its words that mean something here; none where neither has more.
    pub lang: Option<Lang>,
    /// Whether it calls for a nurse as well, who does not hear a chat.
    pub calls: bool,
    /// What it names, so that an example is about that and nothing else.
    pub own: Own,
}

/// The names and numbers of a message.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Own {
    /// The tag of the surface that it names, or of the one under the bed that it names; as typed where the home has none of it.
    pub surface: Option<String>,
    /// The reading, as typed.
    pub air: Option<String>,
    /// The unit.
    pub unit: Option<String>,
}

/// Reads a message, in a home with these names.
#[must_use]
pub fn read(text: &str, home: &Home<'_>) -> Heard {
    listen(text, home).heard
}

/// The language of most of the words of a message that mean something here, wherever it was written; none where neither has
/// more, as in `104 1.25`.
#[must_use]
pub fn language(text: &str) -> Option<Lang> {
    let beginning: String = tokens::without_markup(text)
        .chars()
        .take(CHARS_MAX)
        .collect();
    sentence::Sentence::read(&beginning, &Home::default()).lang()
}

/// As [`read`], with the language that the message is in.
#[must_use]
pub fn listen(text: &str, home: &Home<'_>) -> Listened {
    let text = tokens::without_markup(text);
    // What is refused is refused in the language that it was written in, as far as it has words of one.
    let beginning: String = text.chars().take(CHARS_MAX).collect();
    let sentence = sentence::Sentence::read(&beginning, home);
    let heard = |heard| Listened {
        heard,
        lang: sentence.lang(),
        calls: false,
        own: examples::own(&sentence),
    };
    let known: Vec<&str> = home.units.iter().chain(&home.known).copied().collect();
    if let Err(found) = guard::check_knowing(&text, Field::Note, &known) {
        return heard(Heard::Private(found));
    }
    if text.chars().count() > CHARS_MAX {
        return heard(Heard::Asks(Asks::TooLong));
    }
    Listened {
        heard: compose::compose(&sentence, home),
        lang: sentence.lang(),
        calls: sentence.says(words::Meaning::Voice),
        own: examples::own(&sentence),
    }
}
