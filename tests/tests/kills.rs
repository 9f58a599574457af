//! The real program, killed again and again while alarms climb the ladder and people enter readings: no rung is
//! missed or comes twice, and no entry that was answered is gone. Runs on the real clock with rungs one minute
//! apart; the alarms are opened in the past, so that a rung of one of them is due every second.

#![allow(clippy::unwrap_used, reason = "helpers of tests are tests")]

// The benchmark's, which use more of them.
#[allow(dead_code)]
#[path = "../src/bench/child.rs"]
mod child;
#[allow(dead_code)]
#[path = "../src/bench/home.rs"]
mod home;

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use bot::clock::{mono, wall};
use chrono::{DateTime, TimeDelta, Utc};
use commands::ids::{AlarmNo, Channel, ChatRole, Guild as Facility, Person, RecordNo};
use commands::record::{Body, Record};
use commands::role::Role;
use commands::said::Value;
use commands::words::Lang;
use commands::{Ask, Decision, Said, Source};
use demo_guild::{Guild, Id, Layout, Options};
use serde_json::json;
use store::Prepared;

use child::Programs;
use home::{Keeper, Places, tag};

/// Surfaces with an alarm; as many again are without.
const ALARMS: usize = 24;
/// A rung falls due this often while programs die.
const EVERY: TimeDelta = TimeDelta::seconds(1);
/// How long a program lives, in ms.
const LIFE_MS: std::ops::Range<u64> = 150..2_200;
/// A rung is posted this long after its time at the latest, once the program stays up.
const SETTLED: Duration = Duration::from_secs(8);
const RUNG: TimeDelta = TimeDelta::minutes(1);
const PEOPLE: usize = 3;

/// An alarm of the test, by its own reckoning.
struct Climbing {
    no: AlarmNo,
    tag: String,
    opened: DateTime<Utc>,
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn no_rung_is_missed_or_doubled_and_no_answered_entry_is_lost() {
    let programs = Programs::build().unwrap();
    let mut layout = Layout::new("Elm House", "America/Chicago")
        .role("aides")
        .channel("care")
        .channel("office");
    for n in 0..PEOPLE {
        layout = layout.person(&format!("Aide {n}"), "aide", &["aides"]);
    }
    let guild = Guild::serve(layout, Options::headless()).await.unwrap();
    let facility = Facility(guild.guild_id().0);
    let folder = tempfile::tempdir().unwrap();
    let alarms = prepare(folder.path(), &guild);

    let start = || {
        let served = [facility.0];
        programs
            .loftwatch(&guild.url(), &guild.token(), folder.path(), &served)
            .unwrap()
    };
    let enough = Arc::new(AtomicBool::new(false));
    let people: Vec<_> = (0..PEOPLE)
        .map(|n| tokio::spawn(enter(guild.clone(), n, enough.clone())))
        .collect();
    let until = mono()
        + (EVERY * i32::try_from(ALARMS).unwrap() + EVERY * 2)
            .to_std()
            .unwrap();
    let (mut kills, mut dice) = (0, 0x2545_f491_4f6c_dd1d_u64);
    while mono() < until {
        let process = start();
        // xorshift64, with a fixed seed: what is hit still depends on the machine.
        dice ^= dice << 13;
        dice ^= dice >> 7;
        dice ^= dice << 17;
        let life = LIFE_MS.start + dice % (LIFE_MS.end - LIFE_MS.start);
        tokio::time::sleep(Duration::from_millis(life)).await;
        drop(process);
        kills += 1;
    }
    assert!(kills >= 8, "only {kills} kills");
    let process = start();
    tokio::time::sleep(SETTLED).await;
    enough.store(true, Ordering::Relaxed);
    let mut answered = Vec::new();
    for person in people {
        answered.extend(person.await.unwrap());
    }
    let killed = process.stop().unwrap();
    assert!(!killed, "it did not stop when asked");
    let stopped = wall();

    let store = store::Store::open(folder.path(), facility).unwrap();
    store.verify().unwrap();
    let asked = rungs(&store);
    let posts = guild.messages(guild.channel("care"));
    let posts = || {
        posts
            .iter()
            .filter(|m| m.author.bot && m.ephemeral_for.is_none())
    };
    for alarm in &alarms {
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
        // The newest says how long it is open; those before it, that nobody took it then.
        let begin = format!("**{}**: ", alarm.tag);
        let calls = posts().filter(|m| m.content.starts_with(&begin)).count();
        assert_eq!(calls as i64, climbed, "{}: calls in the channel", alarm.tag);
        let begin = format!("**{}** · ", alarm.tag);
        let cards = posts().filter(|m| m.content.starts_with(&begin)).count();
        assert_eq!(cards, 1, "{}: cards in the channel", alarm.tag);
    }
    assert!(!answered.is_empty(), "nobody got an answer");
    for interaction in &answered {
        let seen = store.seen(&Source::interaction(interaction.0)).unwrap();
        assert_eq!(
            seen.map(|seen| seen.count),
            Some(1),
            "an answered entry is gone"
        );
    }
    eprintln!("{kills} kills, {} answered entries", answered.len());
}

/// A home where half of the surfaces have had an alarm for almost one minute, or almost two.
fn prepare(folder: &std::path::Path, guild: &Guild) -> Vec<Climbing> {
    let places = Places {
        care: Channel(guild.channel("care").0),
        supervisors: Channel(guild.channel("office").0),
        aide: ChatRole(guild.role("aides").0),
    };
    let now = DateTime::from_timestamp_millis(wall().timestamp_millis()).unwrap();
    let before = now - TimeDelta::hours(1);
    let facility = Facility(guild.guild_id().0);
    let mut keeper = home::build(folder, facility, 2 * ALARMS, places, before).unwrap();
    let ladder = Body::LadderSet {
        first: 1,
        second: 2,
        third: 3,
        repeat: 1,
    };
    keeper.put(before, Role::Supervisor, ladder).unwrap();
    let ago = |n: usize| {
        let rungs = i32::try_from(1 + n % 2).unwrap();
        RUNG * rungs - EVERY * i32::try_from(n + 1).unwrap()
    };
    let mut order: Vec<usize> = (0..ALARMS).collect();
    order.sort_by_key(|n| std::cmp::Reverse(ago(*n)));
    let mut alarms = Vec::new();
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
        alarms.push(Climbing {
            no,
            tag: tag(n),
            opened,
        });
    }
    climb(&mut keeper, now);
    alarms
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

/// Somebody who enters readings of a surface without an alarm; what was answered.
async fn enter(guild: Guild, n: usize, enough: Arc<AtomicBool>) -> Vec<Id> {
    let (person, care) = (guild.person(&format!("Aide {n}")), guild.channel("care"));
    let surface = tag(ALARMS + n);
    let options = [("surface", json!(surface)), ("air", json!("1.25"))];
    let mut answered = Vec::new();
    while !enough.load(Ordering::Relaxed) {
        let outcome = guild.command(person, care, "handcheck", &options).await;
        if outcome.text().contains("Adequate") {
            answered.extend(outcome.interaction);
        }
        tokio::time::sleep(Duration::from_millis(15)).await;
    }
    answered
}

/// Which rungs were asked, by alarm, in the order of the log.
fn rungs(store: &store::Store) -> BTreeMap<AlarmNo, Vec<u32>> {
    let mut rungs: BTreeMap<AlarmNo, Vec<u32>> = BTreeMap::new();
    for record in store.records_after(RecordNo(0), usize::MAX).unwrap() {
        if let Body::AlarmAsked { alarm, rung } = record.body {
            rungs.entry(alarm).or_default().push(rung);
        }
    }
    rungs
}
