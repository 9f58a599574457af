//! The people of the invented home, its chat roles and its channels. Decides who works in which unit and shift, and
//! the ids that all of them keep from run to run; leaves what they do to `history`.

use chrono::{DateTime, Utc};
use commands::ids::{Channel, ChatRole, Person};
use commands::words::Lang;
use commands::{Ask, Source};

use super::ZONE;
use super::register::UNITS;
use crate::ids::FIRST_MS;
use crate::layout::{ChannelSpec, Layout, PersonSpec, RoleSpec};

/// The home's name.
pub(super) const NAME: &str = "Quillmere House";
/// 2025-01-06T00:00:00Z in ms since 1970: when everything of the home was made.
const MADE_MS: u64 = 1_736_121_600_000;
/// Ids of the platform carry their ms from this bit on.
const BASE: u64 = (MADE_MS - FIRST_MS) << 22;

/// The guild's id, and so the name of its file.
pub const GUILD: u64 = BASE + 0x1_0000;
const ROLES: u64 = BASE + 0x1_1000;
const CHANNELS: u64 = BASE + 0x1_2000;
const PEOPLE: u64 = BASE + 0x1_3000;

/// The channel that everybody reads.
pub(super) const CARE_CHANNEL: Channel = Channel(CHANNELS);
/// The supervisors' channel.
pub(super) const SUPERVISOR_CHANNEL: Channel = Channel(CHANNELS + 1);
pub(super) const UPKEEP_CHANNEL: Channel = Channel(CHANNELS + 2);

/// What somebody does in the home.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Job {
    /// At the bedside.
    Aide,
    /// Licensed nurse.
    Nurse,
    /// In charge.
    Supervisor,
    /// Filters, cleaning, repairs.
    Upkeep,
    /// Sets loftwatch up.
    Admin,
    /// From an agency: holds no role of the chat, and is let in for a shift.
    Agency,
}

/// A shift of eight hours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shift {
    /// 07:00 to 15:00.
    Day,
    /// 15:00 to 23:00.
    Evening,
    /// 23:00 to 07:00; it carries the date on which it begins.
    Night,
}

/// Somebody who works in the home.
#[derive(Clone, Copy, Debug)]
pub struct Staff {
    /// The invented first name.
    pub name: &'static str,
    /// What they do.
    pub job: Job,
    /// Their unit, by its place in the list of units; `None` is all of them.
    pub unit: Option<usize>,
    /// Their shift.
    pub shift: Shift,
    /// Their place in the list, which their id is made of.
    place: u64,
}

type Row = (&'static str, Job, Option<usize>, Shift);

const STAFF: [Row; 19] = [
    ("Ana", Job::Aide, Some(0), Shift::Day),
    ("Ines", Job::Nurse, None, Shift::Day),
    ("Ruth", Job::Supervisor, None, Shift::Day),
    ("Marisol", Job::Aide, Some(1), Shift::Day),
    ("Kofi", Job::Aide, Some(2), Shift::Day),
    ("Tomas", Job::Aide, Some(0), Shift::Evening),
    ("Jude", Job::Aide, Some(1), Shift::Evening),
    ("Lena", Job::Aide, Some(2), Shift::Evening),
    ("Wren", Job::Aide, Some(0), Shift::Night),
    ("Odell", Job::Aide, Some(1), Shift::Night),
    ("Priya", Job::Aide, Some(2), Shift::Night),
    ("Hollis", Job::Nurse, None, Shift::Evening),
    ("Bram", Job::Nurse, None, Shift::Night),
    ("Sable", Job::Supervisor, None, Shift::Evening),
    ("Gus", Job::Upkeep, None, Shift::Day),
    ("Tove", Job::Upkeep, None, Shift::Evening),
    ("Noor", Job::Admin, None, Shift::Day),
    ("Edda", Job::Supervisor, None, Shift::Night),
    ("Imre", Job::Agency, None, Shift::Evening),
];

/// Those whose client speaks Spanish; the others' speaks English.
const SPANISH: [&str; 1] = ["Marisol"];

/// Everybody who works in the home.
pub fn staff() -> impl Iterator<Item = Staff> {
    (0..)
        .zip(STAFF)
        .map(|(place, (name, job, unit, shift))| Staff {
            name,
            job,
            unit,
            shift,
            place,
        })
}

impl Job {
    /// The jobs, in the order of their chat roles.
    const ALL: [Job; 5] = [
        Job::Aide,
        Job::Nurse,
        Job::Supervisor,
        Job::Upkeep,
        Job::Admin,
    ];

    /// The word for it on the page.
    pub fn as_str(self) -> &'static str {
        match self {
            Job::Aide => "aide",
            Job::Nurse => "nurse",
            Job::Supervisor => "supervisor",
            Job::Upkeep => "upkeep",
            Job::Admin => "admin",
            Job::Agency => "agency",
        }
    }

    /// The chat role that goes with it.
    pub fn role(self) -> ChatRole {
        ChatRole(ROLES + self as u64)
    }

    fn role_name(self) -> &'static str {
        match self {
            Job::Aide => "Aides",
            Job::Nurse => "Nurses",
            Job::Supervisor => "Supervisors",
            Job::Upkeep => "Upkeep",
            Job::Admin => "Office",
            Job::Agency => "Agency",
        }
    }
}

impl Shift {
    /// The hour at which it begins, in local time.
    pub(super) fn hour(self) -> u32 {
        match self {
            Shift::Day => 7,
            Shift::Evening => 15,
            Shift::Night => 23,
        }
    }

    /// The shift that a local hour belongs to.
    pub(super) fn of(hour: u32) -> Shift {
        match hour {
            7..15 => Shift::Day,
            15..23 => Shift::Evening,
            _ => Shift::Night,
        }
    }
}

impl Staff {
    /// Their id in the chat.
    pub fn person(&self) -> Person {
        Person(PEOPLE + self.place)
    }

    /// What they ask with, from where they mostly write.
    pub fn ask(&self, source: Source, at: DateTime<Utc>) -> Ask {
        Ask {
            source,
            who: self.person(),
            chat_roles: self.roles().map(Job::role).collect(),
            manages: self.job == Job::Admin,
            deleted: Vec::new(),
            channel: self.channel(),
            lang: Lang::of_locale(self.locale()),
            at,
        }
    }

    /// What their client speaks, by the platform's list.
    fn locale(&self) -> &'static str {
        if SPANISH.contains(&self.name) {
            "es-419"
        } else {
            "en-US"
        }
    }

    /// The chat roles that they hold: somebody from an agency has none, and is let in for a shift.
    fn roles(&self) -> impl Iterator<Item = Job> {
        Job::ALL.into_iter().filter(|job| *job == self.job)
    }

    /// Where they mostly write.
    fn channel(&self) -> Channel {
        match (self.job, self.unit) {
            (Job::Upkeep, _) => UPKEEP_CHANNEL,
            (Job::Supervisor | Job::Admin, _) => SUPERVISOR_CHANNEL,
            (Job::Aide | Job::Nurse, Some(unit)) => unit_channel(unit),
            (Job::Aide | Job::Nurse, None) | (Job::Agency, _) => CARE_CHANNEL,
        }
    }
}

/// The channel of a unit, by its place in the list of units.
pub(super) fn unit_channel(unit: usize) -> Channel {
    Channel(CHANNELS + 3 + unit as u64)
}

/// The home as a guild to serve.
pub fn layout() -> Layout {
    let names = |jobs: &[Job]| {
        let of_job = staff().filter(|who| jobs.contains(&who.job));
        Some(of_job.map(|who| who.name.to_owned()).collect::<Vec<_>>())
    };
    let channel = |name: &str, id: Channel, readers| ChannelSpec {
        name: name.to_owned(),
        id: Some(id.0),
        readers,
        bot: true,
    };
    let mut channels = vec![channel("all-care", CARE_CHANNEL, None)];
    for (place, unit) in UNITS.iter().enumerate() {
        channels.push(channel(
            &unit.name.to_lowercase(),
            unit_channel(place),
            None,
        ));
    }
    let leaders = names(&[Job::Supervisor, Job::Admin]);
    channels.push(channel("supervisors", SUPERVISOR_CHANNEL, leaders));
    let keepers = names(&[Job::Upkeep, Job::Supervisor, Job::Admin]);
    channels.push(channel("upkeep", UPKEEP_CHANNEL, keepers));
    Layout {
        guild: NAME.to_owned(),
        guild_id: Some(GUILD),
        zone: ZONE.to_owned(),
        roles: Job::ALL.map(role_spec).to_vec(),
        people: staff().map(person_spec).collect(),
        channels,
        phones: STAFF[..3].iter().map(|row| row.0.to_owned()).collect(),
    }
}

fn role_spec(job: Job) -> RoleSpec {
    RoleSpec {
        name: job.role_name().to_owned(),
        id: Some(job.role().0),
    }
}

fn person_spec(who: Staff) -> PersonSpec {
    PersonSpec {
        name: who.name.to_owned(),
        id: Some(who.person().0),
        job: who.job.as_str().to_owned(),
        roles: who.roles().map(|job| job.role_name().to_owned()).collect(),
        locale: who.locale().to_owned(),
        manage_guild: who.job == Job::Admin,
    }
}
