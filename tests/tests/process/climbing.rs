//! A home whose alarms climb the ladder by themselves: prepared through the core and the store as the bot would have written it,
//! with alarms that were opened in the past and rungs a minute apart, so that one is due every other second. Decides
//! what is due when, and whether the chat and the log show it; leaves what happens to the program meanwhile to the tests.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::process::Command;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use bot::clock::wall;
use chrono::{DateTime, TimeDelta, Utc};
use commands::ids::{AlarmNo, Channel, ChatRole, Guild as Facility, Person, RecordNo};
use commands::record::{Body, Record};
use commands::role::Role;
use commands::said::Value;
use commands::words::Lang;
use commands::{Ask, Decision, Said, Source};
use demo_guild::{Guild, Id, Layout, Options};
use serde_json::json;
use store::{Prepared, Store};
use tempfile::TempDir;

use crate::child::{Process, Programs};
use crate::home::{self, Keeper, Places, tag};

/// A rung falls due this often.
pub const EVERY: TimeDelta = TimeDelta::seconds(2);
/// A rung is posted this long after its time at the latest, while the program runs.
pub const SETTLED: Duration = Duration::from_secs(8);
const RUNG: TimeDelta = TimeDelta::minutes(1);

/// An alarm of the test, by its own reckoning.
pub struct Climbing {
    no: AlarmNo,
    tag: String,
    opened: DateTime<Utc>,
}

/// The home, its chat and its file.
pub struct House {
    /// The chat.
    pub guild: Guild,
    /// Where its file is.
    pub folder: TempDir,
    alarms: Vec<Climbing>,
    people: usize,
}

impl House {
    /// A home with so many surfaces that have an alarm, as many that have none, and people who enter readings.
    pub async fn open(alarms: usize, people: usize) -> House {
        let mut layout = Layout::new("Elm House", "America/Chicago")
            .role("aides")
            .channel("care")
            .channel("office");
        for n in 0..people {
            layout = layout.person(&format!("Aide {n}"), "aide", &["aides"]);
        }
        let guild = Guild::serve(layout, Options::headless()).await.unwrap();
        let folder = tempfile::tempdir().unwrap();
        let alarms = prepare(folder.path(), &guild, alarms);
        House {
            guild,
            folder,
            alarms,
            people,
        }
    }

    fn facility(&self) -> Facility {
        Facility(self.guild.guild_id().0)
    }

    /// What starts the program.
    pub fn command(&self, programs: &Programs) -> Command {
        let served = [self.facility().0];
        let (url, token) = (self.guild.url(), self.guild.token());
        programs.run(&url, &token, self.folder.path(), &served)
    }

    /// Starts the program.
    pub fn start(&self, programs: &Programs) -> Process {
        Process::start(self.command(programs), self.folder.path()).unwrap()
    }

    /// People who enter readings of surfaces without an alarm until it is enough; what was answered.
    pub fn work(&self, enough: &Arc<AtomicBool>) -> Vec<tokio::task::JoinHandle<Vec<Id>>> {
        let one = |n| {
            let surface = tag(self.alarms.len() + n);
            tokio::spawn(enter(self.guild.clone(), n, surface, enough.clone()))
        };
        (0..self.people).map(one).collect()
    }

    /// One reading; whether it was answered.
    pub async fn serves(&self) -> bool {
        reading(&self.guild, 0, &tag(self.alarms.len()))
            .await
            .is_some()
    }

    /// When the calls for an alarm came, by the chat's own numbers, with the nonce of each, and how many cards
    /// it has.
    fn calls(&self, alarm: &Climbing) -> (Vec<(DateTime<Utc>, String)>, usize) {
        let posts = self.guild.messages(self.guild.channel("care"));
        let mut posts: Vec<_> = posts
            .iter()
            .filter(|m| m.author.bot && m.ephemeral_for.is_none())
            .collect();
        posts.sort_by_key(|m| m.id);
        let call = format!("**{}**: ", alarm.tag);
        let card = format!("**{}** · ", alarm.tag);
        let calls = posts.iter().filter(|m| m.content.starts_with(&call));
        let calls = calls
            .map(|m| {
                let at = DateTime::from_timestamp_millis(m.id.made_ms() as i64);
                (at.unwrap(), format!("{:?}", m.nonce))
            })
            .collect();
        let cards = posts.iter().filter(|m| m.content.starts_with(&card));
        (calls, cards.count())
    }

    /// Every rung that was due from then on came, within so long of its time.
    pub fn all_on_time(&self, from: DateTime<Utc>, late: TimeDelta) {
        let until = wall() - late;
        for alarm in &self.alarms {
            let (calls, _) = self.calls(alarm);
            let rungs = (1..).map(|n| alarm.opened + RUNG * n);
            for due in rungs
                .skip_while(|due| *due < from)
                .take_while(|due| *due <= until)
            {
                // The chat's numbers are whole milliseconds.
                let within = due - TimeDelta::milliseconds(2)..=due + late;
                assert!(
                    calls.iter().any(|(at, _)| within.contains(at)),
                    "{}: nobody was called for the rung of {due}; calls {calls:?}",
                    alarm.tag
                );
            }
        }
    }

    /// Every rung is in the log and in the channel, once, and every entry that was answered is there. The program has been
    /// stopped, after it ran undisturbed for [`SETTLED`] at least.
    pub fn whole(&self, answered: &[Id], stopped: DateTime<Utc>) {
        let store = Store::open(self.folder.path(), self.facility()).unwrap();
        store.verify().unwrap();
        let asked = rungs(&store);
        // What the file has as sent is in the channels, and no call is there that it does not have as sent.
        let noted = store.sent_since(0).unwrap();
        let posts = ["care", "office"].map(|name| self.guild.messages(self.guild.channel(name)));
        let there: BTreeSet<u64> = posts.iter().flatten().map(|post| post.id.0).collect();
        let lost: Vec<_> = noted.difference(&there).collect();
        assert!(lost.is_empty(), "noted as sent, and nowhere: {lost:?}");
        for post in posts.iter().flatten() {
            let call = self.alarms.iter().any(|alarm| {
                let begins = |mark: &str| {
                    post.content
                        .starts_with(&format!("**{}**{mark}", alarm.tag))
                };
                post.author.bot && post.ephemeral_for.is_none() && (begins(": ") || begins(" · "))
            });
            assert!(
                !call || noted.contains(&post.id.0),
                "a call that is not noted: {}",
                post.content
            );
        }
        let (mut all, mut overtaken) = (0, 0);
        for alarm in &self.alarms {
            let by = |at: DateTime<Utc>| (at - alarm.opened).num_seconds() / RUNG.num_seconds();
            let due = by(stopped - TimeDelta::from_std(SETTLED).unwrap());
            let rungs = asked.get(&alarm.no).cloned().unwrap_or_default();
            // Only aides have a role of the chat here: the rungs that would ask others have nobody to ask, and the top one is
            // asked in the place of the first.
            let top = 3..3 + u32::try_from(rungs.len()).unwrap();
            let wanted: Vec<u32> = top.collect();
            assert_eq!(rungs, wanted, "{}: rungs in the log", alarm.tag);
            let climbed = rungs.len() as i64;
            assert!(
                (due..=by(stopped)).contains(&climbed),
                "{}: {climbed} rungs asked, {due} were due",
                alarm.tag
            );
            // One that still waited to be sent when
            // the next was due came with that one.
            let (calls, cards) = self.calls(alarm);
            let (tag, came) = (&alarm.tag, calls.len() as i64);
            assert!(came <= climbed, "{tag}: {came} calls of {climbed} rungs");
            overtaken += climbed - came;
            all += climbed;
            let newest = alarm.opened + RUNG * i32::try_from(climbed).unwrap();
            let last = calls.last().map(|(at, _)| *at + TimeDelta::milliseconds(2));
            assert!(
                last >= Some(newest).filter(|_| climbed > 0),
                "{tag}: the newest call is missing"
            );
            let nonces: BTreeSet<_> = calls.iter().map(|(_, nonce)| nonce).collect();
            assert_eq!(nonces.len(), calls.len(), "{tag}: a call came twice");
            assert_eq!(cards, 1, "{}: cards in the channel", alarm.tag);
        }
        println!("{all} calls, {overtaken} of them in the next one");
        // How many wait for the start that follows a kill is a matter of what else the machine does; that most do not is not.
        assert!(
            overtaken * 2 <= all,
            "{overtaken} of {all} calls waited for the next one"
        );
        assert!(!answered.is_empty(), "nobody got an answer");
        for interaction in answered {
            let seen = store.seen(&Source::interaction(interaction.0)).unwrap();
            assert_eq!(
                seen.map(|seen| seen.count),
                Some(1),
                "an answered entry is gone"
            );
        }
    }
}

/// A home where some of the surfaces have had an alarm for almost one minute, almost two or almost three.
fn prepare(folder: &Path, guild: &Guild, alarms: usize) -> Vec<Climbing> {
    let places = Places {
        care: Channel(guild.channel("care").0),
        supervisors: Channel(guild.channel("office").0),
        aide: ChatRole(guild.role("aides").0),
    };
    let now = DateTime::from_timestamp_millis(wall().timestamp_millis()).unwrap();
    let before = now - TimeDelta::hours(1);
    let facility = Facility(guild.guild_id().0);
    let mut keeper = home::build(folder, facility, 2 * alarms, places, before).unwrap();
    let ladder = Body::LadderSet {
        first: 1,
        second: 2,
        third: 3,
        repeat: 1,
    };
    keeper.put(before, Role::Supervisor, ladder).unwrap();
    // The nth falls due n times `EVERY` from now; a minute more where that lies further off than a rung.
    let ago = |n: usize| {
        let rungs = i32::try_from(1 + n % 2 + n / 25).unwrap();
        // The chat's numbers are made of their milliseconds, and no two are the same.
        let own = TimeDelta::milliseconds(i64::try_from(n).unwrap());
        RUNG * rungs - EVERY * i32::try_from(n + 1).unwrap() + own
    };
    let mut order: Vec<usize> = (0..alarms).collect();
    order.sort_by_key(|n| std::cmp::Reverse(ago(*n)));
    let mut climbing = Vec::new();
    for n in order {
        let opened = now - ago(n);
        climb(&mut keeper, opened);
        let ask = Ask {
            source: Source::interaction(
                Id::at_ms(u64::try_from(opened.timestamp_millis()).unwrap()).0,
            ),
            who: Person(guild.person("Aide 0").0),
            chat_roles: vec![places.aide],
            manages: false,
            deleted: Vec::new(),
            channel: places.care,
            lang: Lang::default(),
            at: opened,
        };
        let said = Said::Command {
            path: "alarm".into(),
            options: [("surface".into(), Value::Text(tag(n)))].into(),
        };
        let decision = commands::answer(&keeper.state, &ask, &said);
        let first = commit(&mut keeper, &ask.source, Some(ask.who), decision, opened);
        let no = AlarmNo(first.0);
        assert!(
            keeper.state.alarms.contains_key(&no),
            "no alarm on {}",
            tag(n)
        );
        climbing.push(Climbing {
            no,
            tag: tag(n),
            opened,
        });
    }
    climb(&mut keeper, now);
    climbing
}

/// What the clock brought up to then.
fn climb(keeper: &mut Keeper, to: DateTime<Utc>) {
    while let Some(at) = commands::next_due(&keeper.state).filter(|at| *at <= to) {
        let (source, decision) = commands::tick(&keeper.state, at).unwrap();
        commit(keeper, &source, None, decision, at);
    }
}

/// Commits a decision of the core with all its posts, as the bot would; its first record.
fn commit(
    keeper: &mut Keeper,
    source: &Source,
    who: Option<Person>,
    decision: Decision,
    at: DateTime<Utc>,
) -> RecordNo {
    keeper.flush().unwrap();
    let first = keeper.state.next_no();
    let numbered = decision.entries.into_iter().zip(first.0..);
    let records: Vec<Record> = numbered
        .map(|(entry, no)| Record {
            no: RecordNo(no),
            at: entry.at,
            entered: at,
            who,
            role: entry.role,
            first,
            body: entry.body,
            note: entry.note,
        })
        .collect();
    for record in &records {
        keeper.state.apply(record).unwrap();
    }
    let prepared = Prepared {
        source,
        who,
        records: &records,
        posts: &decision.posts,
        owed: None,
    };
    keeper.store.commit(&[prepared], at).unwrap();
    first
}

/// Somebody who enters readings until it is enough; what was answered.
async fn enter(guild: Guild, n: usize, surface: String, enough: Arc<AtomicBool>) -> Vec<Id> {
    let mut answered = Vec::new();
    while !enough.load(Ordering::Relaxed) {
        answered.extend(reading(&guild, n, &surface).await);
        tokio::time::sleep(Duration::from_millis(15)).await;
    }
    answered
}

/// A reading that somebody enters, if it was answered.
async fn reading(guild: &Guild, n: usize, surface: &str) -> Option<Id> {
    let (person, care) = (guild.person(&format!("Aide {n}")), guild.channel("care"));
    let options = [("surface", json!(surface)), ("air", json!("1.25"))];
    let outcome = guild.command(person, care, "handcheck", &options).await;
    let answered = outcome.text().contains("Adequate");
    outcome.interaction.filter(|_| answered)
}

/// Which rungs were asked, by alarm, in the order of the log.
fn rungs(store: &Store) -> BTreeMap<AlarmNo, Vec<u32>> {
    let mut rungs: BTreeMap<AlarmNo, Vec<u32>> = BTreeMap::new();
    for record in store.records_after(RecordNo(0), usize::MAX).unwrap() {
        if let Body::AlarmAsked { alarm, rung } = record.body {
            rungs.entry(alarm).or_default().push(rung);
        }
    }
    rungs
}
