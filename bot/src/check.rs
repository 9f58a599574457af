//! `loftwatch check`: says in sentences for whoever runs the computer whether settings, chat service, clock, zone rules,
//! folders, files and backups are in order. Decides what is worth a sentence and the exit code; changes nothing, also while the
//! bot runs. What only shows in a connection (whether an intent is granted) is left to `run`, which needs no privileged one.

use std::collections::BTreeMap;
use std::io::{Read, Write};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::time::Duration;

use chrono::{DateTime, Datelike, TimeDelta, Utc};
use commands::State;
use commands::ids::{Channel, Guild, RecordNo};
use store::{Store, StoreError};

use crate::clock;
use crate::config::{Backups, Exit, Settings, Told, made_at_start};
use crate::http::{Around, Fault, Http};
use crate::keep::{self, Known};
use crate::run::{files, homes_in};

/// The chat service is waited for this long.
const PATIENCE: Duration = Duration::from_secs(15);
/// Whatever has the address of health is waited for this long at a time, and so much of its answer is read.
const HEALTH_PATIENCE: Duration = Duration::from_secs(2);
const HEALTH_BYTES_MAX: u64 = 1 << 20;
/// A clock may be off by this much before it is said: the service's time comes to the second, and late.
const CLOCK_OFF_MAX: TimeDelta = TimeDelta::seconds(5);
/// Less room than this is said: months of a large home.
const FREE_BYTES_MIN: u64 = 200 << 20;
/// New connections left of the platform's day that are worth a word.
const SESSIONS_MIN: u64 = 100;

/// What our posts need, by the platform's published bits of permissions and its own names for them.
const NEEDED: [(u64, &str); 5] = [
    (1 << 10, "View Channels"),
    (1 << 11, "Send Messages"),
    (1 << 15, "Attach Files"),
    (1 << 16, "Read Message History"),
    (1 << 17, "Mention @everyone, @here and All Roles"),
];
/// Whoever has this has them all.
const ADMINISTRATOR: u64 = 1 << 3;

/// What is found, and the worst of it as an exit code.
struct Findings {
    said: Vec<String>,
    exit: Exit,
}

impl Findings {
    fn good(&mut self, sentence: String) {
        self.said.push(sentence);
    }

    fn bad(&mut self, exit: Exit, sentence: String) {
        self.exit = self.exit.worse(exit);
        self.said.push(format!("WRONG: {sentence}"));
    }
}

/// Looks at everything; every finding is a sentence. Where the settings make no sense, they are all that is found: whatever else
/// were looked at might be another chat's or another folder's than is meant.
pub fn check(told: &Told) -> (Vec<String>, Exit) {
    let mut found = Findings {
        said: Vec::new(),
        exit: Exit::Stopped,
    };
    match told.settings() {
        Ok(settings) => everything(&settings, &mut found),
        Err(_one) => {
            for mistake in told.mistakes() {
                found.bad(Exit::Settings, format!("Settings: {mistake}."));
            }
            found.good("Nothing else was looked at. Mend this and ask again.".to_owned());
        }
    }
    (found.said, found.exit)
}

fn everything(settings: &Settings, found: &mut Findings) {
    found.good(format!(
        "Settings: the chat service is at {}.",
        settings.service.host()
    ));
    found.good(match &settings.guilds {
        Some(guilds) => match guilds.len() {
            1 => "Settings: 1 guild is served.".to_owned(),
            some => format!("Settings: {some} guilds are served."),
        },
        None => "Settings: every guild of this chat service is served.".to_owned(),
    });
    chat(settings, found);
    zones(
        commands::rules::zone::database_version(),
        clock::wall(),
        found,
    );
    let promised = made_at_start();
    folder(&settings.data, &promised, found);
    homes(settings, found);
    backups(settings, &promised, found);
    if let Some(at) = settings.health {
        health(at, found);
    }
}

fn chat(settings: &Settings, found: &mut Findings) {
    let Ok(runtime) = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
    else {
        return found.bad(
            Exit::Trouble,
            "Chat: no runtime could be started.".to_owned(),
        );
    };
    let asked = runtime.block_on(async {
        let http = Http::new(&settings.service, &settings.token).ok()?;
        tokio::time::timeout(PATIENCE, http.look_around(|guild| settings.serves(guild)))
            .await
            .ok()
    });
    match asked {
        Some(Ok(around)) => {
            found.good("Chat: reached, and the token is right.".to_owned());
            there(settings, &around, found);
        }
        Some(Err(Fault::Status { status: 401, .. })) => found.bad(
            Exit::Refused,
            "Chat: reached, but the token was refused. Copy it again from the application's page, or make a new one there."
                .to_owned(),
        ),
        Some(Err(fault)) => found.bad(
            Exit::Unreachable,
            format!("Chat: {fault}. Look at the address, the network and any firewall."),
        ),
        None => found.bad(
            Exit::Unreachable,
            "Chat: no answer in 15 seconds. Look at the network and any firewall.".to_owned(),
        ),
    }
}

/// What the service says of itself and of us.
fn there(settings: &Settings, around: &Around, found: &mut Findings) {
    match around.ahead {
        None => {
            found.good("Clock: the chat service does not say what time it is there.".to_owned())
        }
        Some(ahead) => clock_beside(ahead, found),
    }
    match around.sessions {
        Some(left) if left < SESSIONS_MIN => found.bad(
            Exit::Trouble,
            format!(
                "Chat: only {left} new connections are left of today's. Something starts loftwatch again and again; at none the \
                 token is reset."
            ),
        ),
        Some(left) => found.good(format!("Chat: {left} new connections are left of today's.")),
        None => found.good("Chat: it is not told how many new connections are left.".to_owned()),
    }
    let guilds = match &around.guilds {
        Ok(guilds) => guilds,
        Err(fault) => return not_told("in which guilds the bot is", fault, found),
    };
    let served = guilds.iter().filter(|(guild, _)| settings.serves(**guild));
    for (guild, may) in served.clone() {
        let lacks = lacking(*may);
        if lacks.is_empty() {
            found.good(format!(
                "Permissions: in guild {guild} the bot's roles may do what it needs."
            ));
        } else {
            found.bad(
                Exit::Refused,
                format!(
                    "Permissions: in guild {guild} the bot's roles lack {}. Give them to its role in the guild's settings.",
                    lacks.join(", ")
                ),
            );
        }
        // Where its roles may not, no channel's settings are to blame.
        if lacks.is_empty()
            && let Some(may) = around.channels.get(guild)
        {
            match may {
                Ok(may) => channels(&settings.data, *guild, may, found),
                Err(fault) => {
                    let what = format!("what the bot may do in the channels of guild {guild}");
                    not_told(&what, fault, found);
                }
            }
        }
    }
    for guild in settings.guilds.iter().flatten() {
        if !guilds.contains_key(guild) {
            found.bad(
                Exit::Settings,
                format!("Permissions: the bot is not in guild {guild}. Invite it, or mend LOFTWATCH_GUILDS."),
            );
        }
    }
    if served.count() == 0 && settings.guilds.is_none() {
        found.good("Permissions: the bot is in no guild yet. Invite it.".to_owned());
    }
}

/// A question about guilds and channels that was not answered. What may be answered in a few minutes is asked again; what the service
/// does not say at all is no fault of whoever reads this, who is told that nobody looked.
fn not_told(what: &str, fault: &Fault, found: &mut Findings) {
    if fault.may_pass() {
        return found.bad(
            Exit::Unreachable,
            format!("Permissions: the chat service did not say {what} ({fault}), so that was not looked at. Ask again in a few minutes."),
        );
    }
    found.good(format!(
        "Permissions: the chat service does not say {what} ({fault}), so that was not looked at."
    ));
}

/// What is needed and not among these.
fn lacking(may: u64) -> Vec<&'static str> {
    let lacks = NEEDED
        .iter()
        .filter(|(bit, _)| may & (bit | ADMINISTRATOR) == 0);
    lacks.map(|(_, name)| *name).collect()
}

/// The channels that a home named, beside what we may do in each channel of its guild.
fn channels(data: &Path, guild: Guild, may: &BTreeMap<Channel, u64>, found: &mut Findings) {
    // A file that cannot be read is said elsewhere; a home that is not there yet has named none.
    let state = Store::look_in(data, guild).and_then(|file| file.replay());
    let named = state.map(|state| named(&state)).unwrap_or_default();
    let mut well = 0;
    for (channel, called) in &named {
        match may.get(channel) {
            None => found.bad(
                Exit::Refused,
                format!(
                    "Permissions: {called} of guild {guild} is gone, or the bot cannot see it. Let its role see it, or name another \
                     one with /facility."
                ),
            ),
            Some(may) => match lacking(*may) {
                lacks if lacks.is_empty() => well += 1,
                lacks => found.bad(
                    Exit::Refused,
                    format!(
                        "Permissions: in {called} of guild {guild} the channel's own settings forbid the bot {}. Allow its role \
                         that there.",
                        lacks.join(", ")
                    ),
                ),
            },
        }
    }
    if well > 0 && well == named.len() {
        found.good(format!(
            "Permissions: so it may in each of the {well} channels that the home of guild {guild} named."
        ));
    }
}

/// The channels that a home named, each with what it is there for.
fn named(state: &State) -> BTreeMap<Channel, String> {
    let mut named = BTreeMap::new();
    for (unit, about) in &state.units {
        let channel = about.channel;
        named.extend(channel.map(|channel| (channel, format!("the channel of unit {unit}"))));
    }
    if let Some(facility) = &state.facility {
        let upkeep = facility.upkeep_channel;
        named.extend(upkeep.map(|channel| (channel, "upkeep's channel".to_owned())));
        named.insert(
            facility.supervisor_channel,
            "the supervisors' channel".to_owned(),
        );
        named.insert(
            facility.care_channel,
            "the channel that everybody reads".to_owned(),
        );
    }
    named
}

/// `ahead` is how far the computer's clock is ahead of the service's, which is cut to whole seconds.
fn clock_beside(ahead: TimeDelta, found: &mut Findings) {
    if ahead.abs() <= CLOCK_OFF_MAX {
        return found.good("Clock: it agrees with the chat service's.".to_owned());
    }
    let way = if ahead > TimeDelta::zero() {
        "ahead of"
    } else {
        "behind"
    };
    found.bad(
        Exit::Trouble,
        format!(
            "Clock: this computer is {} s {way} the chat service. Entries get wrong times and reminders come at wrong times: \
             switch on the computer's time synchronisation.",
            ahead.num_seconds().abs()
        ),
    );
}

/// Zone rules change a few times a year, and a version says only the year: those of last year do until the middle of this one.
fn zones(version: &str, now: DateTime<Utc>, found: &mut Findings) {
    let year: Option<i32> = version.get(..4).and_then(|year| year.parse().ok());
    let do_still = if now.month() > 6 {
        now.year()
    } else {
        now.year() - 1
    };
    let old = year.is_none_or(|year| year < do_still);
    if old {
        found.bad(
            Exit::Trouble,
            format!(
                "Zone rules: version {version} is an old one. Where clocks or zones were changed by law since, reminders \
                 come an hour off: install a newer loftwatch."
            ),
        );
    } else {
        found.good(format!("Zone rules: version {version}."));
    }
}

fn folder(data: &Path, promised: &[PathBuf], found: &mut Findings) {
    let made_in = match store::made_in(data) {
        Ok(made_in) => made_in,
        Err(fault) => return found.bad(Exit::Files, format!("Data folder: {fault}.")),
    };
    let looked = match &made_in {
        None => store::inspect(data),
        Some(above) => makeable(data, above, promised).and_then(|()| store::local_disk(above)),
    };
    let shown = data.display();
    match looked {
        Ok(()) => {}
        Err(fault) if made_in.is_none() => {
            return found.bad(Exit::Files, format!("Data folder: {fault}."));
        }
        Err(fault) => {
            return found.bad(
                Exit::Files,
                format!("Data folder: {shown} is not there and cannot be made: {fault}."),
            );
        }
    }
    match store::free_bytes(made_in.as_deref().unwrap_or(data)) {
        Some(free) if free < FREE_BYTES_MIN => found.bad(
            Exit::Files,
            format!(
                "Data folder: only {} MB are free on its disk. Make room.",
                free >> 20
            ),
        ),
        Some(_) | None if made_in.is_some() => found.good(format!(
            "Data folder: {shown} is not there yet and will be made, for its owner alone."
        )),
        Some(free) => found.good(format!(
            "Data folder: {shown} is its owner's alone, on a disk of this computer, with {} MB free.",
            free >> 20
        )),
        None => found.good(format!("Data folder: {shown} is its owner's alone.")),
    }
}

/// Whether a folder that is not there will be: `run` makes it, or systemd does before, where the account itself could not.
fn makeable(folder: &Path, above: &Path, promised: &[PathBuf]) -> Result<(), StoreError> {
    if promised.iter().any(|made| made == folder) {
        return Ok(());
    }
    store::takes_folders(above)
}

/// Each home's file, read from end to end, and each that should be there and is not.
fn homes(settings: &Settings, found: &mut Findings) {
    let data = &settings.data;
    let known = Known {
        guilds: &settings.guilds.clone().unwrap_or_default(),
        backups: settings.backups.as_ref().map(|wish| wish.folder.as_path()),
    };
    let lost = keep::lost(data, known);
    for (_, fault) in &lost {
        found.bad(keep::of_fault(fault), format!("Files: {fault}."));
    }
    let guilds = match homes_in(data) {
        Err(why) if why.kind() != std::io::ErrorKind::NotFound => {
            let fault = keep::unreadable(data, why);
            return found.bad(
                Exit::Files,
                format!("Files: it is not known whether there are any, because {fault}."),
            );
        }
        listed => listed.unwrap_or_default(),
    };
    let guilds = keep::left(guilds, &lost);
    if guilds.is_empty() && lost.is_empty() {
        found.good(format!("Files: none in {} yet.", data.display()));
    }
    for guild in guilds {
        match keep::verify_home(data, guild, None) {
            (sentence, Exit::Stopped) => found.good(sentence),
            (sentence, exit) => found.bad(exit, sentence),
        }
    }
}

fn backups(settings: &Settings, promised: &[PathBuf], found: &mut Findings) {
    let Some(Backups { folder, every, .. }) = &settings.backups else {
        return found.good(
            "Backups: the running bot makes none. Set LOFTWATCH_BACKUPS to a folder, best on another disk.".to_owned(),
        );
    };
    if same_disk(folder, &settings.data) {
        found.good(format!(
            "Backups: {} is on the same disk as the data. When that disk fails, both are gone: copy the backups elsewhere.",
            folder.display()
        ));
    }
    let homes = files(&settings.data);
    if backups_folder(folder, promised, found) {
        let needed = homes.iter().map(|guild| bytes_of(&settings.data, *guild));
        room(folder, store::free_bytes(folder), needed.sum(), found);
    }
    let now = clock::wall();
    for guild in homes {
        let dated_ahead = ahead(folder, guild, now);
        match dated_ahead {
            0 => {}
            1 => found.good(format!(
                "Backups: 1 of {guild}.loft is dated ahead of this computer's clock, which was wrong when it was made or is wrong now. \
                 It counts only once its time has come."
            )),
            some => found.good(format!(
                "Backups: {some} of {guild}.loft are dated ahead of this computer's clock, which was wrong when they were made or is \
                 wrong now. They count only once their time has come."
            )),
        }
        match store::newest_backup(folder, guild, now).ok().flatten() {
            // As long again as from one to the next: it may be off for a night.
            Some(at) if now - at > *every * 2 => found.bad(
                Exit::Files,
                format!(
                    "Backups: the newest of {guild}.loft is of {}. Look into the log of the running bot for why there is no newer one.",
                    at.format("%Y-%m-%d %H:%M UTC")
                ),
            ),
            Some(at) => found.good(format!(
                "Backups: the newest of {guild}.loft is of {}.",
                at.format("%Y-%m-%d %H:%M UTC")
            )),
            None => match oldest(&settings.data, guild) {
                Some(at) if now - at > *every * 2 => found.bad(
                    Exit::Files,
                    format!(
                        "Backups: there is none of {guild}.loft, whose entries began at {}. Look whether this is the right folder and \
                         its disk is mounted, and into the log of the running bot for why it makes none.",
                        at.format("%Y-%m-%d %H:%M UTC")
                    ),
                ),
                Some(_) | None => found.good(format!("Backups: none of {guild}.loft yet.")),
            },
        }
    }
}

/// How many of the home's backups are dated ahead of the clock.
fn ahead(folder: &Path, guild: Guild, now: DateTime<Utc>) -> usize {
    let made = store::backups(folder, guild).unwrap_or_default();
    let made = made.iter().filter_map(|path| store::made_at(path));
    made.filter(|(_, at)| *at > now).count()
}

/// Whether backups can be made there by whoever asks; whether the folder is there.
fn backups_folder(folder: &Path, promised: &[PathBuf], found: &mut Findings) -> bool {
    let above = match store::inspect_backups(folder) {
        Ok(Some(above)) => above,
        Ok(None) => return true,
        Err(fault) => {
            found.bad(Exit::Files, format!("Backups: {fault}."));
            return false;
        }
    };
    let shown = folder.display();
    match makeable(folder, &above, promised) {
        Err(fault) => found.bad(
            Exit::Files,
            format!("Backups: {shown} is not there and cannot be made: {fault}."),
        ),
        Ok(()) => found.good(format!(
            "Backups: {shown} is not there yet and will be made, for its owner alone."
        )),
    }
    false
}

/// Whether what the next backups need at most is free; nothing is said against a disk that does not say.
fn room(folder: &Path, free: Option<u64>, needed: u64, found: &mut Findings) {
    match free {
        Some(free) if free < needed => found.bad(
            Exit::Files,
            format!(
                "Backups: {} has room for {} KB more, and the next backup of each home needs up to {} KB. Make room, or have fewer \
                 kept (LOFTWATCH_BACKUP_KEEP).",
                folder.display(),
                free >> 10,
                (needed >> 10) + 1
            ),
        ),
        Some(_) | None => found.good(format!(
            "Backups: {} takes files, and there is room for the next.",
            folder.display()
        )),
    }
}

/// How large a backup of it gets at most: what is in the file and in its log.
fn bytes_of(data: &Path, guild: Guild) -> u64 {
    let of = |end| {
        let path = data.join(format!("{guild}.{end}"));
        std::fs::symlink_metadata(path).map_or(0, |about| about.len())
    };
    of("loft") + of("loft-wal")
}

/// When a home's first entry was made, as far as its file can be read.
fn oldest(data: &Path, guild: Guild) -> Option<DateTime<Utc>> {
    let store = Store::look_in(data, guild).ok()?;
    store.entered(RecordNo(1)).ok()?
}

/// Whether a watcher can be told of health there: nobody else has the port, or a loftwatch that runs answers at it.
fn health(at: SocketAddr, found: &mut Findings) {
    match TcpListener::bind(at) {
        Ok(_for_a_moment) => found.good(format!("Health: {at} is free.")),
        Err(_) if is_loftwatch(at) => {
            found.good(format!("Health: at {at} a loftwatch answers that runs."));
        }
        Err(fault) => found.bad(
            Exit::Settings,
            format!(
                "Health: nobody can be told about health at {at} ({fault}). Name an address of this computer that is free in \
                 LOFTWATCH_HEALTH."
            ),
        ),
    }
}

/// Whether it is a loftwatch that answers there, by its counters.
fn is_loftwatch(at: SocketAddr) -> bool {
    let asked = || -> std::io::Result<String> {
        let mut socket = TcpStream::connect_timeout(&at, HEALTH_PATIENCE)?;
        socket.set_read_timeout(Some(HEALTH_PATIENCE))?;
        socket.set_write_timeout(Some(HEALTH_PATIENCE))?;
        socket
            .write_all(b"GET /counters HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\n\r\n")?;
        let mut answer = String::new();
        socket.take(HEALTH_BYTES_MAX).read_to_string(&mut answer)?;
        Ok(answer)
    };
    asked().is_ok_and(|answer| answer.contains("loftwatch_program"))
}

fn same_disk(one: &Path, other: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let disk = |folder: &Path| std::fs::metadata(folder).map(|about| about.dev()).ok();
    disk(one).is_some() && disk(one) == disk(other)
}

#[cfg(test)]
mod tests {
    use commands::Source;
    use commands::record::{Body, Record};
    use commands::role::Role;
    use store::Prepared;

    use super::*;

    fn found(look: impl FnOnce(&mut Findings)) -> (String, Exit) {
        let mut found = Findings {
            said: Vec::new(),
            exit: Exit::Stopped,
        };
        look(&mut found);
        (found.said.join("\n"), found.exit)
    }

    #[test]
    fn a_clock_that_is_off_is_said_with_the_way() {
        let off = |seconds| found(|found| clock_beside(TimeDelta::seconds(seconds), found));
        assert_eq!(off(5).1, Exit::Stopped);
        assert_eq!(off(-5).1, Exit::Stopped);
        let (said, exit) = off(90);
        assert!(
            said.contains("90 s ahead of") && exit == Exit::Trouble,
            "{said}"
        );
        assert!(off(-90).0.contains("90 s behind"));
    }

    #[test]
    fn room_for_one_more_backup_is_wanted() {
        let with = |free| found(|found| room(Path::new("b"), free, 9_000, found));
        assert_eq!(with(Some(9_000)).1, Exit::Stopped);
        assert_eq!(with(None).1, Exit::Stopped);
        let (said, exit) = with(Some(8_999));
        assert!(said.starts_with("WRONG: ") && exit == Exit::Files, "{said}");
        assert!(
            said.contains("room for 8 KB more") && said.contains("up to 9 KB"),
            "{said}"
        );
    }

    #[test]
    fn the_worst_finding_gives_the_code_whatever_is_found_first() {
        let both = |one, other| {
            found(|found| {
                found.bad(one, "one".into());
                found.bad(other, "other".into());
            })
        };
        for (one, other) in [
            (Exit::Unreachable, Exit::Files),
            (Exit::Files, Exit::Unreachable),
        ] {
            let (said, exit) = both(one, other);
            assert_eq!(exit, Exit::Files);
            assert_eq!(said, "WRONG: one\nWRONG: other");
        }
        assert_eq!(both(Exit::Trouble, Exit::Refused).1, Exit::Refused);
    }

    #[test]
    fn old_zone_rules_are_said() {
        let on = |version, year, month| {
            let now = DateTime::UNIX_EPOCH.with_year(year).unwrap();
            let now = now.with_month(month).unwrap();
            found(|found| zones(version, now, found)).1
        };
        assert_eq!(on("2026f", 2026, 12), Exit::Stopped);
        assert_eq!(on("2025b", 2026, 6), Exit::Stopped);
        assert_eq!(on("2025b", 2026, 7), Exit::Trouble);
        assert_eq!(on("2025b", 2027, 1), Exit::Trouble);
        assert_eq!(on("none", 2026, 1), Exit::Trouble);
    }

    /// The platform's published bits, written down here once more: one that is not asked about is noticed.
    #[test]
    fn each_permission_that_is_missing_is_named() {
        let bits = [
            (1 << 10, "View Channels"),
            (1 << 11, "Send Messages"),
            (1 << 15, "Attach Files"),
            (1 << 16, "Read Message History"),
            (1 << 17, "Mention @everyone, @here and All Roles"),
        ];
        let all: u64 = bits.iter().map(|(bit, _)| bit).sum();
        assert_eq!(lacking(all), [""; 0]);
        assert_eq!(lacking(ADMINISTRATOR), [""; 0]);
        assert_eq!(lacking(!(all | ADMINISTRATOR)), bits.map(|(_, name)| name));
        for (bit, name) in bits {
            assert_eq!(lacking(all & !bit), [name]);
        }
    }

    /// A folder of the system's own where nothing is ever free, as on a disk that is full.
    #[test]
    fn a_disk_without_room_for_the_data_is_said() {
        let full = Path::new("/proc/self/task/new");
        let (said, exit) = found(|found| folder(full, &[full.to_owned()], found));
        assert!(said.contains("Data folder: only 0 MB are free"), "{said}");
        assert!(said.starts_with("WRONG: ") && exit == Exit::Files, "{said}");
        assert_eq!(FREE_BYTES_MIN, 200 * 1024 * 1024);
        let roomy = tempfile::tempdir().unwrap();
        if store::free_bytes(roomy.path()).is_none_or(|free| free >= FREE_BYTES_MIN) {
            let new = roomy.path().join("new");
            assert_eq!(found(|found| folder(&new, &[], found)).1, Exit::Stopped);
        }
    }

    /// From one day to the next, and so long again; the home's first entry is older than all of them.
    #[test]
    fn a_newest_backup_that_is_too_old_and_none_at_all_are_said() {
        let (data, made) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let home = Guild(7);
        let now = clock::wall();
        let begun = DateTime::from_timestamp(now.timestamp(), 0).unwrap() - TimeDelta::days(9);
        let record = Record {
            no: RecordNo(1),
            at: begun,
            entered: begun,
            who: None,
            role: Role::Admin,
            first: RecordNo(1),
            body: Body::PhoneSet { words: None },
            note: None,
        };
        let prepared = Prepared {
            source: &Source::interaction(1),
            who: None,
            records: &[record],
            posts: &[],
            owed: None,
        };
        let mut store = Store::open(data.path(), home).unwrap();
        store.commit(&[prepared], begun).unwrap();
        let mut settings = Settings::new(
            "x",
            "http://127.0.0.1:1",
            data.path().into(),
            Some([home].into()),
        )
        .unwrap();
        settings.backups = Some(Backups {
            folder: made.path().to_owned(),
            every: TimeDelta::days(1),
            keep: 9,
        });
        let look = || found(|found| backups(&settings, &[], found));
        let (said, exit) = look();
        assert!(
            said.contains("WRONG: Backups: there is none of 7.loft, whose entries began at"),
            "{said}"
        );
        assert_eq!(exit, Exit::Files);
        for (hours, wanted) in [(49, Exit::Files), (47, Exit::Stopped)] {
            let at = now - TimeDelta::hours(hours);
            store::back_up(data.path(), home, made.path(), at).unwrap();
            let (said, exit) = look();
            let of = at.format("%Y-%m-%d %H:%M UTC");
            assert!(
                said.contains(&format!("Backups: the newest of 7.loft is of {of}.")),
                "{said}"
            );
            assert_eq!(exit, wanted, "{said}");
            assert_eq!(said.contains("WRONG"), wanted == Exit::Files, "{said}");
        }
    }

    #[test]
    fn a_missing_permission_and_a_missing_guild_are_named() {
        let guilds = [Guild(1), Guild(2)].into();
        let settings = Settings::new("x", "http://127.0.0.1:1", "x".into(), Some(guilds)).unwrap();
        let all: u64 = NEEDED.iter().map(|(bit, _)| bit).sum();
        let around = |of_one: u64, both: bool| Around {
            ahead: None,
            sessions: Some(1_000),
            channels: BTreeMap::new(),
            guilds: Ok([
                (Guild(1), of_one),
                (Guild(if both { 2 } else { 3 }), ADMINISTRATOR),
            ]
            .into()),
        };
        let look = |around: &Around| found(|found| there(&settings, around, found));
        assert_eq!(look(&around(all, true)).1, Exit::Stopped);
        let (said, exit) = look(&around(all & !(1 << 16), true));
        assert!(
            said.contains("guild 1 the bot's roles lack Read Message History."),
            "{said}"
        );
        assert_eq!(exit, Exit::Refused);
        let (said, exit) = look(&around(all, false));
        assert!(
            said.contains("not in guild 2") && exit == Exit::Settings,
            "{said}"
        );
        let few = Around {
            sessions: Some(3),
            ..around(all, true)
        };
        assert!(look(&few).0.contains("only 3 new connections"));
        let fast = Around {
            ahead: Some(chrono::TimeDelta::minutes(7)),
            ..around(all, true)
        };
        assert_eq!(look(&fast).1, Exit::Trouble);
        // What was not answered was not looked at.
        for (status, wanted) in [
            (429, Exit::Unreachable),
            (503, Exit::Unreachable),
            (404, Exit::Stopped),
        ] {
            let fault = || Fault::Status { route: "x", status };
            let no_guilds = Around {
                guilds: Err(fault()),
                ..around(all, true)
            };
            let (said, exit) = look(&no_guilds);
            assert!(said.contains("in which guilds the bot is (x: "), "{said}");
            assert!(said.contains("was not looked at"), "{said}");
            assert_eq!(exit, wanted, "{said}");
            let no_channels = Around {
                channels: [(Guild(1), Err(fault()))].into(),
                ..around(all, true)
            };
            let (said, exit) = look(&no_channels);
            let what = "what the bot may do in the channels of guild 1 (x: ";
            assert!(said.contains(what), "{said}");
            assert_eq!(exit, wanted, "{said}");
        }
    }
}
