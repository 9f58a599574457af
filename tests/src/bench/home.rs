//! Invented homes on disk: prepared through the core and the store as the bot would have written them.
//! Decides how many surfaces and how much history; leaves what is measured with them to the rounds.

use std::path::Path;

use anyhow::Context;
use chrono::{DateTime, TimeDelta, Utc};
use commands::choice::{Owned, Start};
use commands::ids::{Channel, ChatRole, Guild, Person, RecordNo, Tag};
use commands::record::{Body, Record};
use commands::role::Role;
use commands::rules::air::Tenths;
use commands::rules::hand_check::{Air, Band, Judgement};
use commands::{Source, State};
use store::{Prepared, Store};

/// The surfaces of the home that people enter readings for.
pub const SURFACES: usize = 40;
/// The built-in profile.
const PROFILE: &str = "general";
/// Beds of a unit.
const UNIT_BEDS: usize = 40;
/// Records in a transaction while history is made.
const GROUP: usize = 1_000;
/// Somebody who is long gone from the chat.
const FORMER: u64 = 700_000_000_000_000_000;

/// Where the bot posts and what it takes for a role.
#[derive(Clone, Copy, Debug)]
pub struct Places {
    /// Where everybody reads.
    pub care: Channel,
    /// Where supervisors read.
    pub supervisors: Channel,
    /// The chat's role for aides.
    pub aide: ChatRole,
}

/// The tag of surface `n`, counted from 0.
pub fn tag(n: usize) -> String {
    format!("LW-{:02}", n + 1)
}

/// A home of `surfaces` placed surfaces, set up at `at`, in a file of its own.
pub fn build(
    folder: &Path,
    guild: Guild,
    surfaces: usize,
    places: Places,
    at: DateTime<Utc>,
) -> anyhow::Result<Keeper> {
    let mut keeper = Keeper {
        store: Store::open(folder, guild)?,
        state: State::default(),
        waiting: Vec::new(),
    };
    for body in bodies(surfaces, places) {
        keeper.put(at, Role::Supervisor, body)?;
    }
    keeper.flush()?;
    Ok(keeper)
}

/// The state of a home of that size, in memory only.
pub fn state(surfaces: usize, places: Places, at: DateTime<Utc>) -> anyhow::Result<State> {
    let mut state = State::default();
    for body in bodies(surfaces, places) {
        let record = record(&state, at, Role::Supervisor, body);
        state.apply(&record)?;
    }
    Ok(state)
}

/// An adequate reading.
pub fn hand_check(n: usize, tag: &str) -> Body {
    let band = Band::default();
    let wide = band.high.0 - band.low.0;
    let air = Tenths(band.low.0 + i32::try_from(n % 100).unwrap_or(0) * wide / 100);
    Body::HandChecked {
        tag: Tag::from(tag),
        air: Air::Measured(air),
        judged: Judgement::Adequate,
        band,
        site: None,
        position: None,
        mode: None,
        layers: None,
        setting: None,
        recheck: None,
        round: true,
        from_paper: false,
        felt: false,
    }
}

fn bodies(surfaces: usize, places: Places) -> impl Iterator<Item = Body> {
    let facility = Body::FacilitySet {
        zone: "America/Chicago".into(),
        care_channel: places.care,
        supervisor_channel: places.supervisors,
        upkeep_channel: None,
        roles: [(Role::Aide, places.aide)].into(),
        lang: commands::words::Lang::default(),
        home: None,
        currency: None,
    };
    let units = (0..surfaces.div_ceil(UNIT_BEDS)).map(move |unit| {
        let beds = unit * UNIT_BEDS..((unit + 1) * UNIT_BEDS).min(surfaces);
        Body::UnitSet {
            unit: format!("Unit {}", unit + 1).into(),
            beds: beds.map(|n| bed(n).into()).collect(),
            channel: None,
        }
    });
    let placed = (0..surfaces).flat_map(|n| {
        let added = Body::SurfaceAdded {
            tag: tag(n).into(),
            profile: PROFILE.into(),
            serial: None,
            lot: None,
            owned: Owned::Owned,
            daily_cents: None,
            start: Start::Ready,
            filter_changed: None,
            in_service: None,
            tested: None,
        };
        let placed = Body::Placed {
            tag: tag(n).into(),
            bed: bed(n).into(),
            instead_of: None,
        };
        [added, placed]
    });
    std::iter::once(facility).chain(units).chain(placed)
}

fn bed(n: usize) -> String {
    (101 + n).to_string()
}

fn record(state: &State, at: DateTime<Utc>, role: Role, body: Body) -> Record {
    let no = state.next_no();
    Record {
        no,
        at,
        entered: at,
        who: Some(Person(FORMER + no.0 % 40)),
        role,
        first: no,
        body,
        note: None,
    }
}

/// A facility's file and its state, written to without a bot.
pub struct Keeper {
    /// The file.
    pub store: Store,
    /// The state.
    pub state: State,
    waiting: Vec<(Source, [Record; 1])>,
}

impl Keeper {
    /// This is now a fact, on disk with the rest of its group.
    ///
    /// # Errors
    /// The core refuses the record, or the store the group.
    pub fn put(&mut self, at: DateTime<Utc>, role: Role, body: Body) -> anyhow::Result<()> {
        let record = record(&self.state, at, role, body);
        self.state.apply(&record)?;
        // Interactions of years ago, which no later one can be taken for.
        let source = Source::interaction(FORMER + record.no.0 * (1 << 22));
        self.waiting.push((source, [record]));
        if self.waiting.len() == GROUP {
            self.flush()?;
        }
        Ok(())
    }

    /// Hand checks of every surface, `rounds` times, evenly over the time from `from` to `to`; at most
    /// until `enough` says so. Returns how many.
    ///
    /// # Errors
    /// As [`Keeper::put`].
    pub fn history(
        &mut self,
        surfaces: usize,
        rounds: usize,
        (from, to): (DateTime<Utc>, DateTime<Utc>),
        enough: impl Fn() -> bool,
    ) -> anyhow::Result<usize> {
        let tags: Vec<String> = (0..surfaces).map(tag).collect();
        let every_ms = (to - from).num_milliseconds() / i64::try_from(rounds.max(1))?;
        for round in 0..rounds {
            if enough() {
                self.flush()?;
                return Ok(round * surfaces);
            }
            let at = from + TimeDelta::milliseconds(every_ms * i64::try_from(round)?);
            for (n, tag) in tags.iter().enumerate() {
                self.put(at, Role::Aide, hand_check(round + n, tag))?;
            }
        }
        self.flush()?;
        Ok(rounds * surfaces)
    }

    /// Writes what waits.
    ///
    /// # Errors
    /// The store refuses the group.
    pub fn flush(&mut self) -> anyhow::Result<()> {
        let Some((_, [last])) = self.waiting.last() else {
            return Ok(());
        };
        let entered = last.entered;
        let group: Vec<Prepared<'_>> = self
            .waiting
            .iter()
            .map(|(source, records)| Prepared {
                source,
                who: records[0].who,
                records,
                posts: &[],
                owed: None,
            })
            .collect();
        self.store.commit(&group, entered)?;
        self.waiting.clear();
        Ok(())
    }
}

/// How many hand checks stand in the file after record `no`.
pub fn checks_after(folder: &Path, guild: Guild, no: u64) -> anyhow::Result<i64> {
    let records = Store::open(folder, guild)?.records_after(RecordNo(no), usize::MAX)?;
    let checks = records
        .iter()
        .filter(|record| record.body.kind() == "hand-checked");
    Ok(i64::try_from(checks.count())?)
}

/// The newest record's number in a facility's file.
///
/// # Errors
/// The file cannot be opened.
pub fn head(folder: &Path, guild: Guild) -> anyhow::Result<RecordNo> {
    let store = Store::open(folder, guild).context("the file after the run")?;
    Ok(store.head())
}
