//! A picture as a value: what is drawn, in whole numbers and in words that are said already. Decides what is shown, what
//! it is called and what is read out instead of it; leaves every dot to `bot`, which draws it when it goes out.
//!
//! Numbers are whole, in the unit that each maker of a picture below names, so that a message with a picture can be
//! compared, kept in the outbox and read back as it was. There is no time zone in it: moments are the home's local time.
//! A picture names tags and units, never a bed: it is passed on more easily than a message.

use chrono::NaiveDateTime;
use serde::{Deserialize, Serialize};

pub mod alarms;
pub mod axis;
pub mod coverage;
pub mod fleet;
pub mod lives;
pub mod looked;
pub mod readings;
pub mod usual;
pub mod waits;

pub use alarms::alarms;
pub use axis::DAY;
pub use coverage::coverage;
pub use fleet::fleet;
pub use lives::lives;
pub use readings::readings;
pub use usual::usual;
pub use waits::{lasted, waits};

/// The longest text in the place of a picture, in characters: the platform's own limit.
pub const TEXT_CHARS_MAX: usize = 1_024;
/// The most marks of one layer, and the most rows: the newest, where there are more.
pub const MARKS_MAX: usize = 500;
/// The most labelled uprights of a picture.
pub const UPRIGHTS_MAX: usize = 24;
/// The most rows of a picture that has rows.
pub const ROWS_MAX: usize = 24;

/// A picture.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Picture {
    /// The file's name, which ends in `.png`: letters, digits, `-` and `_`.
    pub name: String,
    /// What stands above it.
    pub title: String,
    /// A second line below the title: from when to when, of how many.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub about: String,
    /// What is read out in its place, up to [`TEXT_CHARS_MAX`]: all that it shows, in words.
    pub text: String,
    /// What is drawn.
    pub drawn: Drawn,
}

impl Picture {
    /// What holds its place in a page, as an image's address: whoever draws the picture puts it there.
    #[must_use]
    pub fn place(&self) -> String {
        format!("picture:{}", self.name)
    }
}

/// What is drawn.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Drawn {
    /// Marks over two axes.
    Chart(Chart),
    /// Named rows over one axis.
    Rows(Rows),
}

/// Marks over two axes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Chart {
    /// From left to right.
    pub across: Axis,
    /// From the bottom up.
    pub up: Axis,
    /// What is drawn, the hindmost first.
    pub layers: Vec<Layer>,
}

/// An axis. Marks beyond its ends are drawn at them.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Axis {
    /// Its beginning.
    pub from: i64,
    /// Its end.
    pub to: i64,
    /// What is written beside it. Where two do not fit side by side the later one is left out.
    pub ticks: Vec<Tick>,
    /// What it measures; nothing where its ticks say so.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub title: String,
}

/// A place on an axis.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Tick {
    /// Where.
    pub at: i64,
    /// What is written there.
    pub label: String,
}

/// One layer of a chart.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Layer {
    /// The readings that are as they should be: an area from left to right.
    Band {
        /// Not less than this.
        from: i64,
        /// Not more than this.
        to: i64,
        /// Its words, in the area.
        label: String,
    },
    /// A limit, a promise or a mean: a line from left to right.
    Level {
        /// Where.
        at: i64,
        /// What it is: its stroke.
        #[serde(default)]
        kind: Level,
        /// Its words, on the line.
        label: String,
    },
    /// Something that happened, or that is chosen: a line from the bottom up. Where there is no room for all labels, the
    /// first in the list have them.
    Upright {
        /// Where.
        at: i64,
        /// What kind.
        kind: Upright,
        /// Its words.
        label: String,
    },
    /// Readings, each at a place or over a range.
    Marks(Vec<Mark>),
    /// What could not be found out: marks at the foot.
    Missing {
        /// Where.
        at: Vec<i64>,
        /// What they are, once.
        label: String,
    },
    /// What was looked at and felt, and has no height: marks in a strip of their own at the foot.
    Felt {
        /// Where each is, and what it means.
        marks: Vec<(i64, MarkKind)>,
        /// What they are, once.
        label: String,
    },
    /// A line through points.
    Line {
        /// The points, in the order of the axis across.
        points: Vec<(i64, i64)>,
        /// Whether it was seen or worked out.
        kind: Line,
        /// Its words, near its end; nothing where others say it.
        label: String,
    },
    /// Where a line may run as well: the area between two lines over the same places.
    Between {
        /// Place, lower end, upper end, in the order of the axis across.
        points: Vec<(i64, i64, i64)>,
    },
}

/// A reading.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Mark {
    /// Where, across.
    pub at: i64,
    /// Not less than this; the reading itself where both are the same.
    pub from: i64,
    /// Not more than this.
    pub to: i64,
    /// What it means.
    pub kind: MarkKind,
    /// Its words, beside it; nothing for most.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub label: String,
}

/// What a mark means: its shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum MarkKind {
    /// As it should be.
    Good,
    /// Too little.
    Low,
    /// None at all.
    None,
    /// Too much.
    High,
    /// One of several, neither good nor bad.
    Plain,
    /// The one that is pointed out.
    Chosen,
}

/// What a level stands for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Level {
    /// What is promised or asked for: a limit that somebody set.
    #[default]
    Limit,
    /// The mean of what was seen.
    Mean,
    /// Where chance alone would keep what is seen.
    Chance,
}

/// What an upright line stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Upright {
    /// An alarm.
    Alarm,
    /// Another setting.
    Setting,
    /// It came, went, or moved.
    Moved,
    /// Upkeep: its filter.
    Upkeep,
    /// What is worked out or chosen.
    Chosen,
    /// As it is today.
    Now,
}

/// What a line stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Line {
    /// It was seen.
    Seen,
    /// It was worked out.
    Fitted,
}

/// Named rows over one axis.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Rows {
    /// From left to right.
    pub across: Axis,
    /// The rows, from the top.
    pub rows: Vec<Row>,
}

/// One row.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Row {
    /// What it is about.
    pub name: String,
    /// What it says, in order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub says: Vec<Said>,
    /// Stretches of it, from and to.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub stretches: Vec<Stretch>,
    /// Marks on it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub marks: Vec<RowMark>,
}

/// A part of what a row says.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Said {
    /// The mark that it explains, which stands before it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mark: Option<RowMarkKind>,
    /// The words.
    pub words: String,
}

/// A stretch of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stretch {
    /// From here.
    pub from: i64,
    /// To here.
    pub to: i64,
    /// What it means: its thickness.
    pub kind: StretchKind,
}

/// What a stretch of a row means.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum StretchKind {
    /// Nobody has it in hand.
    Waiting,
    /// Somebody has.
    InHand,
    /// The person is safe; what is left is work.
    Safe,
    /// As far as chance alone may have moved a share.
    Chance,
    /// From where half are done to where nearly all are.
    Rest,
}

/// A mark on a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RowMark {
    /// Where.
    pub at: i64,
    /// What happened there: its shape.
    pub kind: RowMarkKind,
}

/// What a mark on a row stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum RowMarkKind {
    /// An alarm began.
    Opened,
    /// Somebody was asked.
    Asked,
    /// A promise was not kept, and asking began again.
    Again,
    /// Somebody is on the way.
    Taken,
    /// The person is safe.
    Safe,
    /// It is over.
    Fixed,
    /// A share.
    Share,
    /// Half are done by then; of a few, the first.
    Half,
    /// Nine of ten are; of a few, the last.
    Most,
    /// It goes on beyond this.
    Still,
    /// A check found it as it should be.
    Good,
    /// A check found too little.
    Low,
    /// A check found none at all.
    None,
    /// A check found too much.
    High,
    /// A check could not be made.
    CouldNot,
    /// Something else happened; its row says what.
    Event,
}

/// A local moment as a place on an axis: seconds.
pub fn moment(local: NaiveDateTime) -> i64 {
    local.and_utc().timestamp()
}

/// A name for a picture's file: what is not a letter, a digit, `-` or `_` becomes `_`.
pub fn file_name(what: &str, of: &str) -> String {
    let plain = |c: char| {
        if c.is_ascii_alphanumeric() || c == '-' {
            c
        } else {
            '_'
        }
    };
    let name: String = format!("{what}-{of}").chars().map(plain).collect();
    format!("{name}.png")
}

/// A text that fits in the place of a picture; what is over is left out, and it says so with three dots.
pub fn cut(text: String) -> String {
    if text.chars().count() <= TEXT_CHARS_MAX {
        return text;
    }
    let kept: String = text.chars().take(TEXT_CHARS_MAX - 1).collect();
    format!("{kept}…")
}

#[cfg(test)]
mod tests;
