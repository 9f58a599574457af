//! The part of a surface's state that is the line of its readings: those of one placement and setting, as many as are
//! needed to see whether it loses loft. Decides what begins a line anew; leaves what is on it, and when it falls, to
//! `rules::drift`.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use super::moments::Each;
use crate::choice::LoftAnswer;
use crate::ids::Person;
use crate::record::Body;
use crate::rules::drift::{self, How, READINGS_KEPT, Reading};

/// The readings of a surface that can be compared with each other.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Line {
    /// Since when; none for a surface that is under no bed, or out of service.
    pub since: Option<DateTime<Utc>>,
    /// The same as the clock had it then: what its buttons are known by.
    pub said: Option<DateTime<Utc>>,
    /// In order of time, at most [`READINGS_KEPT`].
    readings: Vec<Reading>,
    /// How often chance alone brings such a fall, of a million looks: kept with the readings, so that a list of many
    /// surfaces need not work it out.
    chance: u32,
    /// Put aside until then.
    pub aside: Option<DateTime<Utc>>,
    /// When it was.
    #[serde(default)]
    put_aside: Option<DateTime<Utc>>,
    /// Who looked at it when it began, and when: it was named, and nothing was found.
    #[serde(default)]
    pub nothing: Option<(Option<Person>, DateTime<Utc>)>,
}

impl Default for Line {
    fn default() -> Self {
        Self {
            since: None,
            said: None,
            readings: Vec::new(),
            chance: drift::chance(&[]),
            aside: None,
            put_aside: None,
            nothing: None,
        }
    }
}

impl Line {
    /// In order of time.
    pub fn readings(&self) -> &[Reading] {
        &self.readings
    }

    /// How often chance alone brings such a fall, of a million looks.
    pub fn chance(&self) -> u32 {
        self.chance
    }

    /// What this fact about its surface does to it, where it happened at `at`, somebody entered it and this setting is in use.
    ///
    /// Another bed, another setting and something mended make other readings, so the line begins anew; so does a look that
    /// found nothing, since only what comes after it is news. An alarm does not: what its cause is said to be may be wrong.
    pub fn follow(
        &mut self,
        body: &Body,
        (who, at): (Option<Person>, DateTime<Utc>),
        in_use: Option<&str>,
    ) {
        if let Body::HandChecked {
            air,
            band,
            site,
            position,
            mode,
            layers,
            setting,
            felt,
            ..
        } = body
        {
            let how = How {
                site: *site,
                position: *position,
                mode: *mode,
                layers: *layers,
                setting: setting.as_deref(),
                felt: *felt,
            };
            let here = self.since.is_some_and(|since| since <= at);
            if let Some(air) = drift::on_line(*air, *band, &how, in_use).filter(|_| here) {
                self.add(Reading::new(at, air));
            }
        } else if let Body::Placed { .. } | Body::Moved { .. } = body {
            self.begin(at);
        } else if let Body::SettingSet { setting, .. } = body {
            if self.since.is_some() && in_use != Some(setting) {
                self.begin(at);
            }
        } else if let Body::LoftAnswered { answer, until, .. } = body {
            match answer {
                LoftAnswer::Later => (self.aside, self.put_aside) = (*until, Some(at)),
                LoftAnswer::Mended | LoftAnswer::Nothing if self.since.is_some() => {
                    self.begin(at);
                    self.nothing = (*answer == LoftAnswer::Nothing).then_some((who, at));
                }
                LoftAnswer::Mended | LoftAnswer::Nothing => {}
            }
        } else if let Body::Released { .. } | Body::Pulled { .. } | Body::SurfaceRetired { .. } =
            body
        {
            *self = Self::default();
        }
    }

    /// Goes through what has happened to it.
    pub(super) fn happened(&mut self, each: &mut impl Each) {
        each.maybe_at(&mut self.since);
        for reading in &mut self.readings {
            let mut at = reading.at();
            each.at(&mut at);
            *reading = Reading::new(at, reading.air());
        }
        each.maybe_at(&mut self.put_aside);
        if let Some((_, at)) = &mut self.nothing {
            each.at(at);
        }
    }

    /// Puts it aside until another moment: `until` says which, by when it was put aside and until when.
    pub(super) fn aside_by(
        &mut self,
        until: impl Fn(DateTime<Utc>, DateTime<Utc>) -> DateTime<Utc>,
    ) {
        if let (Some(aside), Some(said)) = (&mut self.aside, self.put_aside) {
            *aside = until(said, *aside);
        }
    }

    /// These stand on it, since an entry was corrected.
    pub(super) fn stand(&mut self, readings: Vec<Reading>) {
        self.readings = readings;
        self.chance = drift::chance(&self.readings);
    }

    fn begin(&mut self, at: DateTime<Utc>) {
        *self = Self {
            since: Some(at),
            said: Some(at),
            ..Self::default()
        };
    }

    /// A late entry takes its place by when the hand was there.
    fn add(&mut self, reading: Reading) {
        let place = self
            .readings
            .partition_point(|earlier| earlier.seconds() <= reading.seconds());
        self.readings.insert(place, reading);
        if self.readings.len() > READINGS_KEPT {
            self.readings.remove(0);
        }
        self.chance = drift::chance(&self.readings);
    }
}
