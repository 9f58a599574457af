//! What a running bot counts, for whoever watches over the computer, as the OpenMetrics standard writes it. Decides the names, which
//! are a promise, and that nothing of anyone's text, tag or token is among the labels: only guild numbers, our own names of
//! requests, and outcomes. Counting never waits and never fails.

use std::sync::atomic::{AtomicI64, AtomicU64};

use chrono::{DateTime, Utc};
use commands::ids::Guild;
use prometheus_client::encoding::EncodeLabelSet;
use prometheus_client::encoding::text;
use prometheus_client::metrics::counter::Counter;
use prometheus_client::metrics::family::Family;
use prometheus_client::metrics::gauge::Gauge;
use prometheus_client::registry::{Registry, Unit};

use crate::request::Outcome;

/// A home, by the number of its guild.
#[derive(Clone, Debug, PartialEq, Eq, Hash, EncodeLabelSet)]
struct Home {
    guild: u64,
}

/// A request to the chat service and what became of it.
#[derive(Clone, Debug, PartialEq, Eq, Hash, EncodeLabelSet)]
struct Asked {
    route: &'static str,
    outcome: &'static str,
}

type Number = Gauge<i64, AtomicI64>;
type Count = Counter<u64, AtomicU64>;

/// Everything that is counted.
pub struct Counters {
    registry: Registry,
    heard: Family<Home, Count>,
    turned_away: Count,
    late: Count,
    unread: Count,
    records: Family<Home, Number>,
    alarms: Family<Home, Number>,
    on_its_way: Family<Home, Number>,
    unheard: Family<Home, Number>,
    usable: Family<Home, Number>,
    backup: Family<Home, Number>,
    no_backup: Family<Home, Count>,
    requests: Family<Asked, Count>,
    connections: Count,
}

/// What is seen of a home after each step of its desk.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Seen {
    /// Requests of people that the desk took in this step.
    pub heard: u64,
    /// Records in its file; nothing while the file cannot be used.
    pub records: Option<u64>,
    /// Alarms that are open.
    pub alarms: usize,
    /// Messages and answers whose fate is not known yet.
    pub on_its_way: usize,
    /// Whether the file took what was last written to it.
    pub saves: bool,
    /// Whether what is due could be found out when it was last looked for.
    pub calls: bool,
    /// Calls that reached nobody, since one last did.
    pub unheard: usize,
}

impl Default for Counters {
    fn default() -> Self {
        let mut registry = Registry::with_prefix("loftwatch");
        let mut this = Self {
            registry: Registry::default(),
            heard: Family::default(),
            turned_away: Count::default(),
            late: Count::default(),
            unread: Count::default(),
            records: Family::default(),
            alarms: Family::default(),
            on_its_way: Family::default(),
            unheard: Family::default(),
            usable: Family::default(),
            backup: Family::default(),
            no_backup: Family::default(),
            requests: Family::default(),
            connections: Count::default(),
        };
        registry.register(
            "heard",
            "Commands, taps, forms, messages and words begun that a home's desk took",
            this.heard.clone(),
        );
        registry.register(
            "turned_away",
            "The same that came in and were handed to no desk: another guild's, or too many at once",
            this.turned_away.clone(),
        );
        registry.register(
            "late",
            "Commands, taps, forms and words begun that were too old to be answered when they came, and were handed to no desk",
            this.late.clone(),
        );
        registry.register(
            "unread",
            "Events of the chat that could not be read",
            this.unread.clone(),
        );
        registry.register("records", "Records in a home's file", this.records.clone());
        registry.register(
            "open_alarms",
            "Alarms that are open in a home",
            this.alarms.clone(),
        );
        registry.register(
            "on_its_way",
            "Messages and answers whose fate is not known yet",
            this.on_its_way.clone(),
        );
        registry.register(
            "calls_unheard",
            "Calls that the chat took in no channel, since a message of that home was last taken",
            this.unheard.clone(),
        );
        registry.register(
            "file_usable",
            "1 while a home's file can be used and takes what is written, 0 while not",
            this.usable.clone(),
        );
        registry.register_with_unit(
            "newest_backup_timestamp",
            "When the newest backup of a home that is not dated ahead was made, since 1970; 0 where there is none",
            Unit::Seconds,
            this.backup.clone(),
        );
        registry.register(
            "backups_failed",
            "Backups of a home that were due and could not be made",
            this.no_backup.clone(),
        );
        registry.register(
            "requests",
            "Requests to the chat service, by what became of them",
            this.requests.clone(),
        );
        registry.register(
            "gateway_connections",
            "New connections to the gateway",
            this.connections.clone(),
        );
        let about: Family<[(&str, &str); 1], Number> = Family::default();
        about
            .get_or_create(&[("version", env!("CARGO_PKG_VERSION"))])
            .set(1);
        registry.register("program", "Which loftwatch this is", about);
        this.registry = registry;
        this
    }
}

impl Counters {
    /// A step of a home's desk is done.
    pub fn stepped(&self, guild: Guild, seen: Seen) {
        let home = Home { guild: guild.0 };
        let number = |many: usize| i64::try_from(many).unwrap_or(i64::MAX);
        if seen.heard > 0 {
            self.heard.get_or_create(&home).inc_by(seen.heard);
        }
        self.usable
            .get_or_create(&home)
            .set(i64::from(seen.records.is_some() && seen.saves));
        if let Some(records) = seen.records {
            self.records
                .get_or_create(&home)
                .set(i64::try_from(records).unwrap_or(i64::MAX));
            self.alarms.get_or_create(&home).set(number(seen.alarms));
        }
        self.on_its_way
            .get_or_create(&home)
            .set(number(seen.on_its_way));
        self.unheard.get_or_create(&home).set(number(seen.unheard));
    }

    /// A home's file cannot be used.
    pub fn unusable(&self, guild: Guild) {
        self.usable.get_or_create(&Home { guild: guild.0 }).set(0);
    }

    /// The newest backup of a home was made then.
    pub fn backed_up(&self, guild: Guild, newest: Option<DateTime<Utc>>) {
        self.backup
            .get_or_create(&Home { guild: guild.0 })
            .set(newest.map_or(0, |at| at.timestamp()));
    }

    /// One that was due could not be made.
    pub fn not_backed_up(&self, guild: Guild) {
        self.no_backup.get_or_create(&Home { guild: guild.0 }).inc();
    }

    /// A request of a person was not handed to a desk.
    pub fn turned_away(&self) {
        self.turned_away.inc();
    }

    /// One was too old when it came.
    pub fn late(&self) {
        self.late.inc();
    }

    /// An event could not be read. Returns how many so far.
    pub fn unread(&self) -> u64 {
        self.unread.inc() + 1
    }

    /// The gateway let us in anew.
    pub fn connected(&self) {
        self.connections.inc();
    }

    /// A request to the chat service came to its end.
    pub fn asked(&self, route: &'static str, outcome: &Outcome) {
        let outcome = match outcome {
            Outcome::Made(_) | Outcome::Listed(_) | Outcome::Named(_) => "done",
            Outcome::Limited(_) => "limited",
            Outcome::Refused { .. } => "refused",
            Outcome::NotMade => "not-made",
            Outcome::Unsure => "unsure",
        };
        self.requests.get_or_create(&Asked { route, outcome }).inc();
    }

    /// All of it, in the standard's text.
    pub fn text(&self) -> String {
        let mut text = String::new();
        // Writing to a string cannot fail.
        let _ = text::encode(&mut text, &self.registry);
        text
    }
}
