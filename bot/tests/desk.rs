//! A desk on its own, without threads and without a chat: what is on disk before what is said, what
//! happens once though it is said twice, and what is left to do after a crash.

#![allow(clippy::unwrap_used, reason = "a test stops where it fails")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::Duration;

use bot::clock::Moment;
use bot::desk::{Desk, Input, Output, Tag};
use bot::event::{Heard, Way};
use bot::register::Catalogue;
use bot::request::{Body, Outcome, Past, Request, Route, Token};
use chrono::{DateTime, TimeDelta};
use commands::ids::{Channel, ChatRole, Guild, Person};
use commands::said::{FileRef, Options, Value};
use commands::words::Lang;
use commands::{Ask, Said, Source};
use serde_json::Value as Json;

const HOME: Guild = Guild(3);
const CARE: u64 = 4;
const SUPERVISORS: u64 = 5;
const AIDE: u64 = 71;
const NURSE: u64 = 72;
const SUPERVISOR: u64 = 73;
const UPKEEP: u64 = 74;
/// Our own user.
const US: u64 = 2;

/// A facility at a desk, with a chat that is only a list of what was asked of it.
struct Room {
    folder: tempfile::TempDir,
    desk: Option<Desk>,
    seconds: i64,
    /// How far the computer's clock is ahead, and how far it was stepped since the program started.
    ahead: i64,
    stepped: i64,
    next: u64,
}

impl Room {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let mut room = Self {
            folder,
            desk: None,
            seconds: 0,
            ahead: 0,
            stepped: 0,
            next: 100,
        };
        room.open();
        room
    }

    fn data(&self) -> std::path::PathBuf {
        self.folder.path().join("data")
    }

    fn open(&mut self) {
        let desk = Desk::open(&self.data(), HOME, Catalogue::of_table(), self.now()).unwrap();
        self.desk = Some(desk);
    }

    /// The program ends without a word and starts again.
    fn crash(&mut self) {
        self.desk = None;
        self.stepped = 0;
        self.open();
    }

    fn now(&self) -> Moment {
        let at = DateTime::from_timestamp(1_790_000_000 + self.seconds + self.ahead, 0).unwrap();
        Moment {
            facility: at,
            wall: at,
            mono: Duration::from_secs(1_000 + self.seconds as u64),
            stepped: TimeDelta::seconds(self.stepped),
        }
    }

    fn step(&mut self, inputs: Vec<Input>) -> Vec<Output> {
        let now = self.now();
        self.desk.as_mut().unwrap().step(inputs, now)
    }

    fn later(&mut self, seconds: i64) -> Vec<Output> {
        self.seconds += seconds;
        self.step(Vec::new())
    }

    fn heard(&mut self, role: u64, path: &str, options: &[(&str, Value)]) -> Heard {
        self.next += 1;
        let options: Options = options
            .iter()
            .map(|(name, value)| ((*name).into(), value.clone()))
            .collect();
        heard(
            self.next,
            role,
            Said::Command {
                path: path.into(),
                options,
            },
            self.now(),
        )
    }

    /// Says it, gives the answer's outcome, and returns the answer.
    fn say(&mut self, role: u64, path: &str, options: &[(&str, Value)]) -> Json {
        let heard = self.heard(role, path, options);
        let out = self.step(vec![Input::Heard(heard)]);
        let (tag, request) = callback(&out).expect("an answer");
        let came = Input::Came {
            tag: tag.clone(),
            outcome: Outcome::Made(None),
        };
        let answer = json(request);
        self.step(vec![came]);
        answer
    }

    fn set_up(&mut self) {
        let role = |id| Value::Role(ChatRole(id));
        let channel = |id| Value::Channel(Channel(id));
        self.say(
            0,
            "facility setup",
            &[
                ("timezone", text("America/New_York")),
                ("care-channel", channel(CARE)),
                ("supervisor-channel", channel(SUPERVISORS)),
                ("aide", role(AIDE)),
                ("nurse", role(NURSE)),
                ("supervisor", role(SUPERVISOR)),
                ("upkeep", role(UPKEEP)),
            ],
        );
        self.say(
            0,
            "facility unit",
            &[("name", text("Elm")), ("beds", text("101-104"))],
        );
        let tag = [
            ("tag", text("LW-07")),
            ("profile", text("general")),
            ("state", text("ready")),
            ("tested", text("2026-01-15")),
        ];
        self.say(SUPERVISOR, "fleet add", &tag);
        self.say(
            NURSE,
            "place",
            &[("surface", text("LW-07")), ("bed", text("101"))],
        );
        assert!(self.records() > 3, "the facility is set up");
    }

    fn records(&self) -> u64 {
        self.desk.as_ref().unwrap().state().unwrap().next_no().0 - 1
    }
}

fn text(text: &str) -> Value {
    Value::Text(text.into())
}

fn heard(id: u64, role: u64, said: Said, now: Moment) -> Heard {
    let ask = Ask {
        source: Source::interaction(id),
        who: Person(50 + role),
        chat_roles: vec![ChatRole(role)],
        manages: role == 0,
        deleted: Vec::new(),
        channel: Channel(CARE),
        lang: Lang::default(),
        at: now.facility,
    };
    let way = Way::Interaction {
        id,
        token: Token("t".into()),
        on_message: None,
        public: false,
        deferred: false,
    };
    Heard {
        ask,
        said,
        way,
        act_by: now.mono + Duration::from_secs(2),
    }
}

fn requests(out: &[Output]) -> impl Iterator<Item = (&Tag, &Request)> {
    out.iter().filter_map(|output| match output {
        Output::Send { tag, request } => Some((tag, request)),
        Output::Fetch { .. } | Output::Registered => None,
    })
}

fn callback(out: &[Output]) -> Option<(&Tag, &Request)> {
    requests(out).find(|(_, request)| request.route.name() == "callback")
}

fn posts(out: &[Output]) -> Vec<(&Tag, &Request)> {
    requests(out)
        .filter(|(_, request)| request.route.name() == "post")
        .collect()
}

fn json(request: &Request) -> Json {
    match &request.body {
        Body::Json(bytes) => serde_json::from_slice(bytes).unwrap(),
        Body::Empty => Json::Null,
        Body::Multipart { .. } => panic!("a file"),
    }
}

fn check(air: &str) -> [(&'static str, Value); 2] {
    [("surface", text("LW-07")), ("air", text(air))]
}

#[test]
fn what_is_answered_is_on_disk() {
    let mut room = Room::new();
    room.set_up();
    let before = room.records();
    let answer = room.say(AIDE, "handcheck", &check("1 1/4"));
    assert_eq!(
        (&answer["type"], &answer["data"]["flags"]),
        (&Json::from(4), &Json::from(64 | 4))
    );
    let after = room.records();
    assert!(after > before);
    room.crash();
    assert_eq!(room.records(), after);
}

#[test]
fn the_same_event_twice_is_one_entry_also_after_a_crash() {
    let mut room = Room::new();
    room.set_up();
    let heard = room.heard(AIDE, "handcheck", &check("1 1/4"));
    let out = room.step(vec![
        Input::Heard(heard.clone()),
        Input::Heard(heard.clone()),
    ]);
    assert_eq!(
        requests(&out)
            .filter(|(_, r)| r.route.name() == "callback")
            .count(),
        1
    );
    let records = room.records();
    room.step(vec![Input::Heard(heard.clone())]);
    assert_eq!(room.records(), records);
    room.crash();
    room.step(vec![Input::Heard(heard)]);
    assert_eq!(room.records(), records);
}

#[test]
fn an_answer_owed_at_a_crash_is_tried_again_and_ends_in_the_channel() {
    let mut room = Room::new();
    room.set_up();
    let heard = room.heard(AIDE, "handcheck", &check("1 1/4"));
    let out = room.step(vec![Input::Heard(heard)]);
    let said = json(callback(&out).unwrap().1)["data"]["content"].clone();
    room.crash();
    let out = room.step(Vec::new());
    let (tag, _) = callback(&out).expect("tried again");
    let gone = Outcome::Refused {
        status: 404,
        code: 10_062,
    };
    let out = room.step(vec![Input::Came {
        tag: tag.clone(),
        outcome: gone,
    }]);
    // Before the crash it may have got there already.
    let looks: Vec<_> = requests(&out).collect();
    let [(tag, request)] = looks[..] else {
        panic!("{looks:?}")
    };
    assert_eq!(request.route.name(), "history");
    let out = room.step(vec![Input::Came {
        tag: tag.clone(),
        outcome: Outcome::Listed(Vec::new()),
    }]);
    let posts = posts(&out);
    let [(tag, request)] = posts[..] else {
        panic!("{posts:?}")
    };
    let body = json(request);
    // The whole channel reads it, and the home has not approved beds there.
    let said = said.as_str().unwrap();
    assert!(said.contains(" (bed 101)"), "{said}");
    let told = body["content"].as_str().unwrap();
    assert!(told.ends_with(&said.replace(" (bed 101)", "")), "{told}");
    assert_eq!(
        body["allowed_mentions"]["users"][0],
        Json::from(format!("{}", 50 + AIDE))
    );
    let made = Input::Came {
        tag: tag.clone(),
        outcome: Outcome::Made(Some(9)),
    };
    room.step(vec![made]);
    room.later(2);
    room.crash();
    assert!(
        requests(&room.step(Vec::new())).next().is_none(),
        "nothing is owed any more"
    );
}

/// One answer that cannot be read is no reason to serve nobody: the others are given, and calls go out.
#[test]
fn an_owed_answer_that_cannot_be_read_closes_no_home() {
    let mut room = Room::new();
    room.set_up();
    let checked = room.heard(AIDE, "handcheck", &check("1 1/4"));
    let raised = room.heard(AIDE, "alarm", &[("surface", text("LW-07"))]);
    room.step(vec![Input::Heard(checked), Input::Heard(raised)]);
    let file = rusqlite::Connection::open(room.data().join("3.loft")).unwrap();
    let sql = "UPDATE owed SET answer = substr(answer, 2) WHERE id = (SELECT min(id) FROM owed)";
    assert_eq!(file.execute(sql, []).unwrap(), 1);
    room.crash();
    let out = room.step(Vec::new());
    let given: Vec<_> = requests(&out)
        .filter(|(tag, _)| matches!(tag, Tag::Answer(_)))
        .collect();
    let [(tag, request)] = given[..] else {
        panic!("{given:?}")
    };
    let content = json(request)["data"]["content"].to_string();
    assert!(content.contains("the alarm is open"), "{content}");
    room.step(vec![Input::Came {
        tag: tag.clone(),
        outcome: Outcome::Made(None),
    }]);
    room.later(2);
    let left: u32 = file
        .query_row("SELECT count(*) FROM owed", [], |row| row.get(0))
        .unwrap();
    assert_eq!(left, 0, "it is given up");
}

/// An answer that was owed at a crash and came too late, once this was found where it may stand; what is posted then.
fn found_late(past: Vec<Past>) -> Option<String> {
    let mut room = Room::new();
    room.set_up();
    let heard = room.heard(AIDE, "handcheck", &check("1 1/4"));
    room.step(vec![Input::Heard(heard)]);
    room.crash();
    let roles = [AIDE, NURSE, SUPERVISOR, UPKEEP];
    let joined = Input::Joined {
        app: 1,
        us: US,
        roles: roles.into_iter().map(ChatRole).collect(),
    };
    let mut out = room.step(vec![joined]);
    let gone = Outcome::Refused {
        status: 404,
        code: 10_062,
    };
    for (route, outcome) in [("callback", gone), ("history", Outcome::Listed(past))] {
        let asked = requests(&out).find(|(_, request)| request.route.name() == route);
        let tag = asked.expect("a request").0.clone();
        out = room.step(vec![Input::Came { tag, outcome }]);
    }
    let posts = posts(&out);
    let text = posts
        .first()
        .map(|(_, request)| json(request)["content"].clone());
    text.map(|text| text.as_str().unwrap().to_owned())
}

#[test]
fn only_what_we_wrote_is_our_answer() {
    let told = found_late(Vec::new()).expect("it is told");
    let by = |author| Past {
        // Made long after.
        id: u64::MAX >> 1,
        author,
        text: told.clone(),
        nonce: None,
    };
    assert_eq!(found_late(vec![by(US)]), None);
    assert_eq!(found_late(vec![by(US + 1)]), Some(told.clone()));
}

#[test]
fn answered_before_the_crash_is_answered() {
    let mut room = Room::new();
    room.set_up();
    let heard = room.heard(AIDE, "handcheck", &check("1 1/4"));
    room.step(vec![Input::Heard(heard)]);
    room.crash();
    let out = room.step(Vec::new());
    let (tag, _) = callback(&out).unwrap();
    let before = Outcome::Refused {
        status: 400,
        code: 40_060,
    };
    let out = room.step(vec![Input::Came {
        tag: tag.clone(),
        outcome: before,
    }]);
    assert!(requests(&out).next().is_none());
}

#[test]
fn too_late_is_not_acted_on() {
    let mut room = Room::new();
    room.set_up();
    let heard = room.heard(AIDE, "handcheck", &check("1 1/4"));
    let records = room.records();
    room.seconds += 3;
    let out = room.step(vec![Input::Heard(heard)]);
    assert!(callback(&out).is_none());
    assert_eq!(room.records(), records);
}

#[test]
fn an_alarm_is_posted_once_and_its_ladder_climbs_by_itself() {
    let mut room = Room::new();
    room.set_up();
    let heard = room.heard(AIDE, "alarm", &[("surface", text("LW-07"))]);
    let out = room.step(vec![Input::Heard(heard)]);
    let mut keys: BTreeMap<String, usize> = BTreeMap::new();
    let mut pending: Vec<Output> = out;
    let mut message = 900;
    for _ in 0..30 {
        let mut came = Vec::new();
        for (tag, request) in requests(&pending) {
            let body = json(request);
            if let Some(nonce) = body["nonce"].as_str() {
                *keys.entry(nonce.to_owned()).or_default() += 1;
            }
            message += 1;
            came.push(Input::Came {
                tag: tag.clone(),
                outcome: Outcome::Made(Some(message)),
            });
        }
        pending = room.step(came);
        if pending.is_empty() {
            room.seconds += 60;
            pending = room.step(Vec::new());
        }
    }
    assert!(
        keys.len() >= 4,
        "opening and rungs at 5, 10 and 15 minutes: {keys:?}"
    );
    assert!(keys.values().all(|count| *count == 1), "{keys:?}");
}

#[test]
fn a_post_of_unknown_fate_goes_out_again_under_its_nonce() {
    let mut room = Room::new();
    room.set_up();
    let heard = room.heard(AIDE, "alarm", &[("surface", text("LW-07"))]);
    let out = room.step(vec![Input::Heard(heard)]);
    let nonce = json(posts(&out)[0].1)["nonce"].clone();
    assert!(nonce.as_str().unwrap().len() <= 25);
    let looks = |out: &[Output]| {
        let mut all = requests(out);
        all.find_map(|(tag, one)| matches!(one.route, Route::History { .. }).then(|| tag.clone()))
    };
    // How long it was away only the clock says, which may be that of before.
    for seconds in [20, 200] {
        room.crash();
        room.seconds += seconds;
        let out = room.step(Vec::new());
        assert!(posts(&out).is_empty());
        let outcome = Outcome::Listed(vec![theirs()]);
        let tag = looks(&out).unwrap();
        let out = room.step(vec![Input::Came { tag, outcome }]);
        assert_eq!(json(posts(&out)[0].1)["nonce"], nonce);
    }
}

#[test]
fn a_group_is_one_commit_and_each_gets_an_own_answer() {
    let mut room = Room::new();
    room.set_up();
    let before = room.records();
    let asks: Vec<Input> = (0..40)
        .map(|_| Input::Heard(room.heard(AIDE, "handcheck", &check("1 1/4"))))
        .collect();
    let out = room.step(asks);
    let mut to: Vec<u64> = requests(&out)
        .filter_map(|(_, request)| {
            let Route::Callback { interaction, .. } = &request.route else {
                return None;
            };
            Some(*interaction)
        })
        .collect();
    to.dedup();
    assert_eq!(to.len(), 40);
    assert!(room.records() >= before + 40);
}

#[test]
fn when_the_disk_takes_nothing_nothing_is_claimed() {
    let mut room = Room::new();
    room.set_up();
    let before = room.records();
    let heard = room.heard(AIDE, "handcheck", &check("1 1/4"));
    block(&room.data());
    let out = room.step(vec![Input::Heard(heard)]);
    let answer = json(callback(&out).unwrap().1);
    let expected = commands::words::say(Lang::default(), "bot-nothing-recorded", &[]);
    assert_eq!(answer["data"]["content"], Json::from(expected));
    assert_eq!(
        room.desk
            .as_ref()
            .unwrap()
            .state()
            .map(|state| state.next_no().0 - 1),
        Some(before)
    );
}

/// Holds the file's write lock, as a program would that has it open for writing.
/// What is said in which channel, besides what the outbox keeps.
fn unkept(out: &[Output]) -> Vec<(u64, String)> {
    posts(out)
        .into_iter()
        .filter(|(tag, _)| **tag == Tag::Nothing)
        .map(|(_, request)| {
            let Route::Post { channel } = request.route else {
                panic!("no message of a channel: {request:?}")
            };
            let said = json(request)["content"]
                .as_str()
                .unwrap_or_default()
                .to_owned();
            (channel, said)
        })
        .collect()
}

/// An alarm climbs while the disk takes nothing: nobody can be called, and all who would be are told that.
#[test]
fn while_nothing_can_be_saved_people_are_told_that_nobody_is_called() {
    let mut room = Room::new();
    alarm_raised(&mut room);
    let saves = |room: &Room| room.desk.as_ref().unwrap().seen(0).saves;
    full(&room.data(), true);
    assert!(saves(&room));
    let mut said = Vec::new();
    let mut minutes = Vec::new();
    for second in 0..(24 * 60 / 5) {
        let now = unkept(&room.later(5));
        if !now.is_empty() {
            minutes.push(second * 5 / 60);
        }
        said.extend(now);
    }
    assert!(!saves(&room));
    let channels: Vec<u64> = said.iter().map(|(channel, _)| *channel).collect();
    // The first call is due after five minutes, and it is said again every ten.
    assert_eq!(channels, [CARE, SUPERVISORS, CARE, SUPERVISORS], "{said:?}");
    assert_eq!(minutes, [5, 15]);
    for (channel, text) in &said {
        assert!(text.contains("I can save nothing"), "{text}");
        assert!(text.contains("Alarms open: LW-07"), "{text}");
        let role = if *channel == CARE { NURSE } else { SUPERVISOR };
        assert!(text.contains(&format!("<@&{role}>")), "{text}");
    }
    full(&room.data(), false);
    let before = room.records();
    let again: Vec<_> = (0..24).flat_map(|_| unkept(&room.later(5))).collect();
    assert!(saves(&room) && room.records() > before, "nobody was called");
    let channels: Vec<u64> = again.iter().map(|(channel, _)| *channel).collect();
    assert_eq!(channels, [CARE, SUPERVISORS], "{again:?}");
    assert!(
        again
            .iter()
            .all(|(_, text)| text.contains("I can save again"))
    );
}

/// A file that another program held for a moment alarms nobody.
#[test]
fn a_moment_without_the_file_is_told_to_nobody() {
    let mut room = Room::new();
    room.set_up();
    full(&room.data(), true);
    let asked = room.heard(NURSE, "handcheck", &check("1 1/4"));
    let mut said = unkept(&room.step(vec![Input::Heard(asked)]));
    assert!(!room.desk.as_ref().unwrap().seen(0).saves);
    full(&room.data(), false);
    for _ in 0..72 {
        said.extend(unkept(&room.later(5)));
    }
    assert_eq!(said, []);
    assert!(room.desk.as_ref().unwrap().seen(0).saves);
}

/// The file takes no record any more, or takes them again.
fn full(folder: &Path, is: bool) {
    let conn = rusqlite::Connection::open(folder.join(format!("{HOME}.loft"))).unwrap();
    conn.execute_batch(if is {
        "CREATE TRIGGER full BEFORE INSERT ON records BEGIN SELECT RAISE(FAIL, 'full'); END"
    } else {
        "DROP TRIGGER full"
    })
    .unwrap();
}

fn block(folder: &Path) {
    let path = folder.join(format!("{HOME}.loft"));
    let conn = rusqlite::Connection::open(path).unwrap();
    conn.execute_batch("BEGIN IMMEDIATE").unwrap();
    // Held until the test ends.
    std::mem::forget(conn);
}

/// It may take longer than the system lets the program live, or keep everybody waiting.
#[test]
fn what_was_erased_leaves_the_file_after_what_people_wait_for_and_not_at_a_start() {
    let mut room = Room::new();
    room.set_up();
    let file = room.data().join(format!("{HOME}.loft"));
    let conn = rusqlite::Connection::open(file).unwrap();
    let erase = "INSERT INTO settings (name, value) VALUES ('scrub', '1')";
    conn.execute(erase, []).unwrap();
    let waits = || {
        let count = "SELECT count(*) FROM settings WHERE name = 'scrub'";
        conn.query_row(count, [], |row| row.get::<_, i64>(0))
            .unwrap()
            == 1
    };
    room.crash();
    room.later(50);
    assert!(waits());
    room.seconds += 20;
    let heard = room.heard(AIDE, "check", &check("adequate"));
    assert!(!room.step(vec![Input::Heard(heard)]).is_empty());
    assert!(waits());
    let next = room.desk.as_ref().unwrap().next_try().unwrap();
    assert!(next <= room.now().mono);
    room.step(Vec::new());
    assert!(!waits());
}

#[test]
fn while_somebody_reads_the_file_what_was_erased_is_tried_again_later_each_time() {
    let mut room = Room::new();
    let file = room.data().join(format!("{HOME}.loft"));
    let conn = rusqlite::Connection::open(file).unwrap();
    let erase = "INSERT INTO settings (name, value) VALUES ('scrub', '1')";
    conn.execute(erase, []).unwrap();
    room.crash();
    room.step(Vec::new());
    conn.execute_batch("BEGIN; SELECT count(*) FROM records;")
        .unwrap();
    room.later(60);
    for rest in [5, 10, 20] {
        let next = room.desk.as_ref().unwrap().next_try().unwrap();
        assert_eq!(next, room.now().mono + Duration::from_secs(rest));
        room.later(rest as i64);
    }
}

/// Somebody asks for a file of surfaces to be read.
fn import(room: &mut Room) -> Vec<Output> {
    let file = FileRef {
        name: "s.csv".into(),
        url: "http://127.0.0.1:1/s.csv".into(),
        size: 10,
    };
    let options = [("what", text("surfaces")), ("file", Value::File(file))];
    let heard = room.heard(SUPERVISOR, "fleet import", &options);
    room.step(vec![Input::Heard(heard)])
}

/// Somebody who was told to wait is told what became of it, also by a program that stops.
#[test]
fn a_file_that_is_not_waited_for_is_said_to_be_unread() {
    let mut room = Room::new();
    room.set_up();
    let waits = |room: &Room| room.desk.as_ref().unwrap().waits();
    room.later(2);
    assert!(!waits(&room));
    let out = import(&mut room);
    assert!(waits(&room), "its file is on its way");
    let [Output::Fetch { heard, .. }] = &out[..] else {
        panic!("{out:?}")
    };
    let file = Ok(b"tag\n".to_vec());
    let heard = heard.clone();
    let answered = room.step(vec![Input::Fetched { heard, file }]);
    assert_eq!(answered.len(), 1);
    assert!(!waits(&room), "it is there");

    import(&mut room);
    let told = room.desk.as_mut().unwrap().give_up_fetching();
    let [(_, request)] = requests(&told).collect::<Vec<_>>()[..] else {
        panic!("{told:?}")
    };
    assert_eq!(request.route.name(), "original");
    let said = json(request)["content"].to_string();
    assert!(said.contains("Nothing was recorded"), "{said}");
    assert!(!waits(&room));
}

#[test]
fn a_file_is_fetched_after_the_deferral_and_its_answer_changes_the_first_one() {
    let mut room = Room::new();
    room.set_up();
    let out = import(&mut room);
    let [Output::Fetch { heard, first, .. }] = &out[..] else {
        panic!("{out:?}")
    };
    assert_eq!(json(first)["type"], Json::from(5));
    let csv = "tag,profile,serial,lot,owned,daily_rate,state,bed,filter_changed,in_service\n\
        LW-20,general,S1,L1,owned,,ready,,2026-09-01,2026-09-01\n";
    let before = room.records();
    let fetched = Input::Fetched {
        heard: heard.clone(),
        file: Ok(csv.into()),
    };
    let out = room.step(vec![fetched]);
    let changed = requests(&out).find(|(_, request)| request.route.name() == "original");
    assert!(changed.is_some(), "{out:?}");
    assert!(room.records() > before, "{}", json(changed.unwrap().1));
}

#[test]
fn being_away_is_told_once() {
    let mut room = Room::new();
    room.set_up();
    let now = room.now();
    room.desk.as_mut().unwrap().stop(now);
    room.seconds += 6 * 3_600;
    room.crash();
    let before = room.records();
    room.step(Vec::new());
    assert!(room.records() > before);
    let after = room.records();
    room.crash();
    room.step(Vec::new());
    assert_eq!(room.records(), after);
    assert!(
        room.desk
            .as_ref()
            .unwrap()
            .next_due(room.now())
            .is_none_or(|due| due > room.now().facility - TimeDelta::seconds(1))
    );
}

#[test]
fn a_file_that_is_taken_away_records_nothing_and_is_used_again_when_it_is_back() {
    let mut room = Room::new();
    room.set_up();
    let before = room.records();
    let (here, away) = (room.data().join("3.loft"), room.data().join("away.loft"));
    std::fs::rename(&here, &away).unwrap();
    for _ in 0..2 {
        let heard = room.heard(AIDE, "handcheck", &check("1 1/4"));
        let out = room.step(vec![Input::Heard(heard)]);
        let (_, answer) = callback(&out).expect("an answer");
        let said = json(answer)["data"]["content"].to_string();
        assert!(said.contains("Nothing was recorded"), "{said}");
        room.seconds += 6;
    }
    assert!(!here.exists(), "a home was begun anew");
    std::fs::rename(&away, &here).unwrap();
    room.later(6);
    assert_eq!(room.records(), before);
    room.say(AIDE, "handcheck", &check("1 1/4"));
    assert!(room.records() > before);
}

#[test]
fn a_home_that_was_put_back_is_told_so_once_and_old_calls_are_not_repeated() {
    let mut room = Room::new();
    room.set_up();
    let heard = room.heard(AIDE, "alarm", &[("surface", text("LW-07"))]);
    // The card is on its way when the backup is made.
    let out = room.step(vec![Input::Heard(heard)]);
    assert_eq!(posts(&out).len(), 1);
    let at = room.now().facility;
    let safe = room.folder.path().join("safe");
    let made = store::back_up(&room.data(), HOME, &safe, at).unwrap();
    room.desk = None;
    let restored = store::restore(&made.path, &room.data(), at).unwrap();
    assert!(restored.given_up > 0);
    room.seconds += 3 * 86_400;
    room.open();
    let mut told = Vec::new();
    for _ in 0..4 {
        let out = room.step(Vec::new());
        for (tag, request) in posts(&out) {
            told.push(json(request)["content"].as_str().unwrap().to_owned());
            let came = Input::Came {
                tag: tag.clone(),
                outcome: Outcome::Made(Some(9_000 + told.len() as u64)),
            };
            room.step(vec![came]);
        }
        room.seconds += 1;
    }
    let put_back = |text: &&String| text.contains("loftwatch was put back, from a backup");
    assert_eq!(told.iter().filter(put_back).count(), 1, "{told:#?}");
    // The alarm is open by the backup: it is called for anew, in words that say since when, and its old card does not come.
    assert!(
        !told.iter().any(|text| text.contains("This comes late")),
        "{told:#?}"
    );
    room.crash();
    let again = room.later(10);
    let again: Vec<String> = posts(&again)
        .iter()
        .map(|(_, one)| json(one).to_string())
        .collect();
    assert!(
        !again.iter().any(|text| text.contains("put back")),
        "{again:?}"
    );
}

/// What the chat numbers at this moment, by its own clock, which was never set.
fn number(room: &mut Room) -> u64 {
    const FIRST_MS: u64 = 1_420_070_400_000;
    let ms = (1_790_000_000 + room.seconds as u64) * 1_000 - FIRST_MS;
    room.next = room.next.max(ms << 22) + 1;
    room.next
}

/// Somebody calls for a surface; what the card is that the chat makes of it: its number, nonce, and the button of whoever goes.
fn alarm_card(room: &mut Room, tag: &str) -> (u64, String, String) {
    number(room);
    let heard = room.heard(AIDE, "alarm", &[("surface", text(tag))]);
    let mut out = room.step(vec![Input::Heard(heard)]);
    let mut card = None;
    while requests(&out).next().is_some() {
        let mut came = Vec::new();
        for (tag_of, request) in requests(&out) {
            let made = number(room);
            if request.route.name() == "post" {
                let body = json(request);
                let told = |value: &Json| value.as_str().unwrap_or_default().to_owned();
                let button = told(&body["components"][0]["components"][0]["custom_id"]);
                if button.starts_with("take|") && told(&body["content"]).contains(tag) {
                    card.get_or_insert((made, told(&body["nonce"]), button));
                }
            }
            came.push(Input::Came {
                tag: tag_of.clone(),
                outcome: Outcome::Made(Some(made)),
            });
        }
        out = room.step(came);
    }
    card.unwrap()
}

/// Says this on the message of this number; what is answered.
fn said_on(room: &mut Room, message: u64, public_to_all: bool, said: Said) -> String {
    let id = number(room);
    let mut heard = heard(id, AIDE, said, room.now());
    if let Way::Interaction {
        on_message, public, ..
    } = &mut heard.way
    {
        (*on_message, *public) = (Some(message), public_to_all);
    }
    let out = room.step(vec![Input::Heard(heard)]);
    let (tag, request) = callback(&out).expect("an answer");
    let came = Input::Came {
        tag: tag.clone(),
        outcome: Outcome::Made(None),
    };
    let answer = json(request)["data"]["content"].to_string();
    room.step(vec![came]);
    answer
}

fn tap(id: &str) -> Said {
    Said::Tap {
        id: id.to_owned(),
        chosen: Vec::new(),
    }
}

fn taken(room: &Room) -> Vec<(String, bool)> {
    let state = room.desk.as_ref().unwrap().state().unwrap();
    let alarms = state.alarms.values();
    alarms
        .map(|alarm| (alarm.tag.to_string(), alarm.taken.is_some()))
        .collect()
}

/// Another surface, LW-08, in bed 102.
fn second_bed(room: &mut Room) {
    let tag = [
        ("tag", text("LW-08")),
        ("profile", text("general")),
        ("state", text("ready")),
        ("tested", text("2026-01-15")),
    ];
    room.say(SUPERVISOR, "fleet add", &tag);
    let place = [("surface", text("LW-08")), ("bed", text("102"))];
    room.say(NURSE, "place", &place);
}

/// The number of an alarm that was raised after the backup is given once more to another, and its card still stands in the channel.
/// Whatever the computer's clock says at the restore.
#[test]
fn a_card_from_before_a_restore_takes_no_other_beds_alarm() {
    for ahead in [0, 30 * 86_400, -7_200] {
        let mut room = Room::new();
        room.set_up();
        second_bed(&mut room);
        let safe = room.folder.path().join("safe");
        let at = room.now().facility;
        let made = store::back_up(&room.data(), HOME, &safe, at).unwrap();
        room.seconds += 60;
        room.say(AIDE, "handcheck", &check("1 1/4"));
        let before = alarm_card(&mut room, "LW-07");
        room.seconds += 2;
        room.desk = None;
        room.ahead = ahead;
        store::restore(&made.path, &room.data(), room.now().facility).unwrap();
        room.seconds += 3;
        room.open();
        room.ahead = 0;
        room.seconds += 20;
        let after = alarm_card(&mut room, "LW-08");
        // A clock that was set takes a record more; the old card says then what it could as well have said.
        if ahead == 0 {
            assert_eq!(before.2, after.2, "the number is given twice");
        }
        assert_ne!(before.1, after.1, "the same nonce twice");
        let records = room.records();
        for public in [true, false] {
            let form = Said::Form {
                id: after.2.clone(),
                fields: BTreeMap::new(),
            };
            for said in [tap(&after.2), form] {
                let answer = said_on(&mut room, before.0, public, said);
                assert!(answer.contains("Nothing was recorded"), "{answer}");
                assert!(answer.contains("put back from a backup"), "{answer}");
            }
        }
        assert_eq!(room.records(), records);
        assert_eq!(taken(&room), [("LW-08".to_owned(), false)]);
        // Also for the run after that, which begins later than the new card was made.
        room.seconds += 600;
        room.crash();
        room.step(Vec::new());
        let records = room.records();
        let answer = said_on(&mut room, before.0, true, tap(&after.2));
        assert!(answer.contains("put back from a backup"), "{answer}");
        assert_eq!(room.records(), records);
        let answer = said_on(&mut room, after.0, true, tap(&after.2));
        assert!(answer.contains("LW-08"), "{answer}");
        assert_eq!(taken(&room), [("LW-08".to_owned(), true)]);
    }
}

/// The chat answers the change of a message with its old number, which says nothing of what time it is.
#[test]
fn what_is_changed_after_a_restore_does_not_say_since_when_messages_are_good() {
    let mut room = Room::new();
    room.set_up();
    second_bed(&mut room);
    let old = alarm_card(&mut room, "LW-08");
    let backup = backed_up(&mut room);
    room.seconds += 60;
    let lost = alarm_card(&mut room, "LW-07");
    room.seconds += 300;
    room.desk = None;
    store::restore(&backup, &room.data(), room.now().facility).unwrap();
    room.open();
    let out = room.step(Vec::new());
    let changed = requests(&out).filter(|(_, request)| request.route.name() == "edit");
    let came: Vec<_> = changed
        .map(|(tag, _)| Input::Came {
            tag: tag.clone(),
            outcome: Outcome::Made(Some(old.0)),
        })
        .collect();
    assert!(!came.is_empty(), "the card of the open alarm is changed");
    let out = room.step(came);
    settles(&mut room, out);
    room.seconds += 20;
    let answer = said_on(&mut room, lost.0, true, tap(&old.2));
    assert!(answer.contains("put back from a backup"), "{answer}");
    assert_eq!(taken(&room), [("LW-08".to_owned(), false)]);
}

#[test]
fn supervisors_are_told_of_a_missing_backup_once_a_day_and_nobody_is_called() {
    let mut room = Room::new();
    room.set_up();
    let last = Some(room.now().facility - TimeDelta::days(2));
    let out = room.step(vec![Input::NoBackup { last }]);
    let told = posts(&out);
    let [(_, request)] = told[..] else {
        panic!("{told:?}")
    };
    assert_eq!(
        request.route.path(0),
        format!("/api/v10/channels/{SUPERVISORS}/messages")
    );
    let body = json(request);
    assert!(
        body["content"]
            .as_str()
            .unwrap()
            .contains("the newest is from"),
        "{body}"
    );
    assert_eq!(body["flags"], 4096 | 4, "it makes no sound");
    let again = room.step(vec![Input::NoBackup { last: None }]);
    assert!(posts(&again).is_empty());
}

/// Somebody calls for a surface, and the first call is out.
fn alarm_raised(room: &mut Room) {
    room.set_up();
    let options = [("surface", text("LW-07")), ("kind", text("low-pressure"))];
    let heard = room.heard(AIDE, "alarm", &options);
    room.step(vec![Input::Heard(heard)]);
}

#[test]
fn a_clock_that_is_set_back_delays_no_call() {
    for restarted in [false, true] {
        let mut room = Room::new();
        room.ahead = 3_600;
        alarm_raised(&mut room);
        room.later(100);
        room.ahead = 0;
        room.stepped = -3_600;
        if restarted {
            room.crash();
        }
        let told = room.records();
        room.step(Vec::new());
        assert_eq!(room.records(), told + 1, "that it was set back");
        let due = room.desk.as_ref().unwrap().next_due(room.now());
        let left = due.unwrap() - room.now().facility;
        // Of five minutes a hundred seconds had passed; a program that starts knows no better than its newest record.
        let expected = if restarted { 300 } else { 200 };
        assert_eq!(left, TimeDelta::seconds(expected), "{restarted}");
        room.step(Vec::new());
        assert_eq!(room.records(), told + 1, "once");
    }
}

/// The power fails just after the clock was set back: that the program was there, by the clock of before, is no second step. Nor is
/// it where something was entered in between.
#[test]
fn a_clock_that_was_set_back_before_a_power_cut_was_set_back_once() {
    for entered in [false, true] {
        let mut room = Room::new();
        room.ahead = 280;
        alarm_raised(&mut room);
        room.later(20);
        room.ahead = 0;
        room.stepped = -280;
        room.step(Vec::new());
        if entered {
            room.say(
                0,
                "facility unit",
                &[("name", text("Ash")), ("beds", text("201"))],
            );
        }
        let told = room.records();
        room.crash();
        room.step(Vec::new());
        assert_eq!(room.records(), told, "it is told twice: {entered}");
        let due = room.desk.as_ref().unwrap().next_due(room.now());
        let left = due.unwrap() - room.now().facility;
        assert_eq!(left, TimeDelta::seconds(280), "{entered}");
    }
}

#[test]
fn a_clock_that_is_set_forward_is_told_and_moves_nothing() {
    let mut room = Room::new();
    alarm_raised(&mut room);
    let (due, told) = (
        room.desk.as_ref().unwrap().next_due(room.now()),
        room.records(),
    );
    room.ahead = 30;
    room.stepped = 30;
    room.step(Vec::new());
    assert_eq!(room.records(), told, "too little to tell");
    room.ahead = 120;
    room.stepped = 120;
    room.step(Vec::new());
    assert_eq!(room.records(), told + 1);
    assert_eq!(room.desk.as_ref().unwrap().next_due(room.now()), due);
}

/// From now on nothing can be written, or it can again.
fn shut(folder: &Path, is: bool) {
    let file = rusqlite::Connection::open(folder.join(format!("{HOME}.loft"))).unwrap();
    for (table, change) in [
        ("records", "INSERT"),
        ("outbox", "INSERT"),
        ("outbox", "UPDATE"),
    ] {
        let name = format!("shut_{table}_{change}");
        file.execute_batch(&if is {
            format!(
                "CREATE TRIGGER {name} BEFORE {change} ON {table} BEGIN SELECT RAISE(ABORT, 'full'); END"
            )
        } else {
            format!("DROP TRIGGER {name}")
        })
        .unwrap();
    }
}

/// Everything that goes out comes through, half a second later each, until `seconds`; how often each message was posted.
fn goes_on(room: &mut Room, mut out: Vec<Output>, seconds: i64) -> BTreeMap<String, usize> {
    let mut posted = BTreeMap::new();
    for turn in 0.. {
        if room.seconds >= seconds {
            return posted;
        }
        let mut came = Vec::new();
        for (n, (tag, request)) in requests(&out).enumerate() {
            if matches!(request.route, Route::Post { .. }) {
                let body = json(request);
                let words = body["content"].as_str().unwrap().lines().next().unwrap();
                *posted.entry(words.to_owned()).or_default() += 1;
            }
            let outcome = if matches!(request.route, Route::History { .. }) {
                Outcome::Listed(vec![theirs()])
            } else {
                Outcome::Made(Some(10_000 + turn * 100 + n as u64))
            };
            came.push(Input::Came {
                tag: tag.clone(),
                outcome,
            });
        }
        room.seconds += i64::from(turn % 2 == 0);
        out = room.step(came);
    }
    posted
}

/// An alarm whose first call is on its way, with the step's other outputs answered.
fn called(room: &mut Room) -> (Tag, String) {
    let heard = room.heard(AIDE, "alarm", &[("surface", text("LW-07"))]);
    let out = room.step(vec![Input::Heard(heard)]);
    let posted = posts(&out);
    let of_row = |one: &&(&Tag, &Request)| matches!(one.0, Tag::Row(_));
    let (tag, request) = posted.iter().find(of_row).unwrap();
    let words = json(request)["content"].as_str().unwrap().to_owned();
    let first = words.lines().next().unwrap().to_owned();
    let tag = (*tag).clone();
    let answer = callback(&out).unwrap().0.clone();
    room.step(vec![Input::Came {
        tag: answer,
        outcome: Outcome::Made(None),
    }]);
    (tag, first)
}

/// Neither what is asked to wait nor what did not arrive is lost because the file took nothing for a moment.
#[test]
fn a_call_whose_fate_cannot_be_noted_goes_when_its_time_has_come() {
    for outcome in [Outcome::Limited(Duration::from_secs(2)), Outcome::NotMade] {
        let mut room = Room::new();
        room.set_up();
        let (tag, words) = called(&mut room);
        shut(&room.data(), true);
        room.seconds += 1;
        let mut out = room.step(vec![Input::Came { tag, outcome }]);
        room.seconds += 5;
        out.extend(room.step(Vec::new()));
        shut(&room.data(), false);
        let posted = goes_on(&mut room, out, 120);
        assert_eq!(posted.get(&words), Some(&1), "{posted:?}");
    }
}

/// What came through and cannot be noted is not sent again, however long that lasts.
#[test]
fn what_came_through_while_nothing_can_be_written_is_not_sent_again() {
    let mut room = Room::new();
    room.set_up();
    second_bed(&mut room);
    let one = room.heard(AIDE, "alarm", &[("surface", text("LW-07"))]);
    let two = room.heard(AIDE, "alarm", &[("surface", text("LW-08"))]);
    let out = room.step(vec![Input::Heard(one), Input::Heard(two)]);
    shut(&room.data(), true);
    let posted = goes_on(&mut room, out, 280);
    let calls = |tag: &str| {
        let of_tag = |(words, _): &(&String, &usize)| words.starts_with(&format!("**{tag}**"));
        posted
            .iter()
            .filter(of_tag)
            .map(|(_, count)| count)
            .sum::<usize>()
    };
    assert_eq!((calls("LW-07"), calls("LW-08")), (1, 1), "{posted:?}");
    shut(&room.data(), false);
    let from = room.seconds;
    let out = room.step(Vec::new());
    goes_on(&mut room, out, from + 60);
    assert_eq!(
        unsettled(&room),
        0,
        "what came through is noted once it can be"
    );
}

/// Messages that the file does not have as sent or given up.
fn unsettled(room: &Room) -> i64 {
    let file = rusqlite::Connection::open(room.data().join(format!("{HOME}.loft"))).unwrap();
    let sql = "SELECT count(*) FROM outbox WHERE state IN ('waiting', 'sending')";
    file.query_row(sql, [], |row| row.get(0)).unwrap()
}

/// A call that its channel refuses while nothing can be written is told elsewhere as soon as something can.
#[test]
fn a_refused_call_is_told_elsewhere_once_that_can_be_written() {
    let mut room = Room::new();
    room.set_up();
    let (tag, _) = called(&mut room);
    shut(&room.data(), true);
    let outcome = Outcome::Refused {
        status: 403,
        code: 50_001,
    };
    let out = room.step(vec![Input::Came { tag, outcome }]);
    let posted = goes_on(&mut room, out, 20);
    let elsewhere = |posted: &BTreeMap<String, usize>| {
        posted
            .keys()
            .filter(|words| words.contains(&format!("<#{CARE}>")))
            .count()
    };
    assert_eq!(elsewhere(&posted), 0, "{posted:?}");
    shut(&room.data(), false);
    let out = room.step(Vec::new());
    let posted = goes_on(&mut room, out, 60);
    assert_eq!(elsewhere(&posted), 1, "{posted:?}");
}

/// The unit's channel was deleted and nobody takes the alarm: each call that it refuses is told to the supervisors, who read
/// which surface it is, and how long it has been open. The desk starts again half way.
#[test]
fn each_call_of_a_ladder_that_a_dead_channel_refuses_is_told_elsewhere() {
    let mut room = Room::new();
    room.set_up();
    let options = [("surface", text("LW-07")), ("kind", text("low-pressure"))];
    let heard = room.heard(AIDE, "alarm", &options);
    let mut out = room.step(vec![Input::Heard(heard)]);
    let (mut refused, mut told) = (0, Vec::new());
    let until = room.seconds + 3 * 3_600;
    while room.seconds < until {
        while requests(&out).next().is_some() {
            let mut came = Vec::new();
            for (tag, one) in requests(&out) {
                room.next += 1;
                let dead = matches!(one.route, Route::Post { channel } if channel == CARE);
                if matches!(one.route, Route::Post { .. }) && !dead {
                    let words = json(one)["content"].as_str().unwrap().to_owned();
                    if words.contains("could not be posted") {
                        told.push(words);
                    }
                }
                let outcome = if dead {
                    refused += 1;
                    let (status, code) = (404, 10_003);
                    Outcome::Refused { status, code }
                } else if matches!(one.route, Route::History { .. }) {
                    Outcome::Listed(Vec::new())
                } else {
                    Outcome::Made(Some(room.next << 22))
                };
                let tag = tag.clone();
                came.push(Input::Came { tag, outcome });
            }
            out = room.step(came);
        }
        if room.seconds == 5_400 {
            room.crash();
        }
        out = room.later(30);
    }
    let of_alarm = told.iter().filter(|words| words.starts_with("**LW-07**"));
    let of_alarm: Vec<_> = of_alarm.collect();
    assert!(
        refused > 30 && told.len() == refused,
        "{refused}: {told:#?}"
    );
    assert!(of_alarm.len() > 30, "{told:#?}");
    let different: std::collections::BTreeSet<_> = of_alarm.iter().collect();
    assert_eq!(different.len(), of_alarm.len(), "each says how long it is");
}

/// The clock is a month ahead for ten minutes and is put right: lists come as if it had never been.
#[test]
fn a_clock_that_was_a_month_ahead_silences_no_list() {
    let lists = |ahead: i64| {
        let mut room = Room::new();
        room.set_up();
        let mut hours = Vec::new();
        for (seconds, ahead, step) in [(600, ahead, 60), (4 * 86_400, 0, 900)] {
            (room.ahead, room.stepped) = (ahead, ahead);
            hours.clear();
            let until = room.seconds + seconds;
            while room.seconds < until {
                let mut out = room.later(step);
                while requests(&out).next().is_some() {
                    let mut came = Vec::new();
                    for (tag, one) in requests(&out) {
                        room.next += 1;
                        let outcome = if matches!(one.route, Route::History { .. }) {
                            Outcome::Listed(Vec::new())
                        } else {
                            Outcome::Made(Some(room.next << 22))
                        };
                        if let (Route::Post { .. }, Body::Json(_)) = (&one.route, &one.body)
                            && json(one)["content"].to_string().contains("New shift")
                        {
                            hours.push(room.seconds / 3_600);
                        }
                        let tag = tag.clone();
                        came.push(Input::Came { tag, outcome });
                    }
                    out = room.step(came);
                }
            }
        }
        hours
    };
    let right = lists(0);
    assert!(right.len() > 8, "{right:?}");
    assert_eq!(lists(30 * 86_400), right);
}

/// Everything that is asked comes through at once, until nothing more is asked.
fn settles(room: &mut Room, mut out: Vec<Output>) -> Vec<String> {
    let mut said = Vec::new();
    while requests(&out).next().is_some() {
        let mut came = Vec::new();
        for (tag, one) in requests(&out) {
            let outcome = if matches!(one.route, Route::History { .. }) {
                Outcome::Listed(Vec::new())
            } else {
                Outcome::Made(Some(number(room)))
            };
            if matches!(one.route, Route::Post { .. })
                && let Body::Json(_) = &one.body
            {
                said.push(json(one)["content"].as_str().unwrap_or_default().to_owned());
            }
            came.push(Input::Came {
                tag: tag.clone(),
                outcome,
            });
        }
        out = room.step(came);
    }
    said
}

/// A backup of the home as it is once all is said.
fn backed_up(room: &mut Room) -> PathBuf {
    let out = room.step(Vec::new());
    settles(room, out);
    let safe = room.folder.path().join("safe");
    let made = store::back_up(&room.data(), HOME, &safe, room.now().facility);
    made.unwrap().path
}

/// What is in the home's folder, to be put away.
fn file_is_lost(room: &Room) {
    for end in ["loft", "loft-wal", "loft-shm"] {
        let _ = std::fs::remove_file(room.data().join(format!("{HOME}.{end}")));
    }
}

/// The file is lost below the running bot, which lets go of it; it is restored, and the bot goes on with it by itself.
#[test]
fn a_home_that_is_restored_below_a_waiting_bot_is_told_so_at_once() {
    let mut room = Room::new();
    room.set_up();
    let backup = backed_up(&mut room);
    let then = room.now().facility.timestamp();
    room.seconds += 3_600;
    room.say(AIDE, "handcheck", &check("1 1/4"));
    file_is_lost(&room);
    let asked = room.heard(AIDE, "handcheck", &check("1 1/4"));
    let out = room.step(vec![Input::Heard(asked)]);
    settles(&mut room, out);
    store::restore(&backup, &room.data(), room.now().facility).unwrap();
    let mut told = Vec::new();
    for _ in 0..60 {
        let out = room.later(10);
        told.extend(settles(&mut room, out));
    }
    // It serves again.
    let before = room.records();
    room.say(AIDE, "handcheck", &check("1 1/4"));
    assert!(room.records() > before);
    let put_back = |text: &&String| text.contains("loftwatch was put back, from a backup");
    let now = told.iter().filter(put_back).count();
    // And the next start, a week later?
    room.seconds += 7 * 86_400;
    let moment = room.now();
    room.step(Vec::new());
    room.desk.as_mut().unwrap().stop(moment);
    room.crash();
    let mut later = Vec::new();
    for _ in 0..6 {
        let out = room.later(10);
        later.extend(settles(&mut room, out));
    }
    let later: Vec<_> = later.iter().filter(put_back).collect();
    assert_eq!(
        now, 1,
        "told at once: {now}; backup of <t:{then}>; a week later: {later:#?}"
    );
}

/// The backup was made by a clock that was a day ahead, five minutes before its newest entry by its own time.
#[test]
fn from_when_a_backup_is_is_told_whatever_the_clock_was_then() {
    for ahead in [0, 86_400] {
        let mut room = Room::new();
        room.set_up();
        let out = room.step(Vec::new());
        settles(&mut room, out);
        (room.ahead, room.stepped) = (ahead, ahead);
        for _ in 0..6 {
            let out = room.later(40);
            settles(&mut room, out);
        }
        room.say(AIDE, "handcheck", &check("1 1/4"));
        let ends = room.now().facility;
        let safe = room.folder.path().join("safe");
        let made = store::back_up(&room.data(), HOME, &safe, ends).unwrap();
        (room.ahead, room.stepped) = (0, 0);
        room.seconds += 600;
        room.desk = None;
        store::restore(&made.path, &room.data(), room.now().facility).unwrap();
        room.open();
        let mut told = Vec::new();
        for _ in 0..6 {
            let out = room.later(10);
            told.extend(settles(&mut room, out));
        }
        let moment = format!("<t:{}:f>", ends.timestamp());
        let put_back: Vec<_> = told
            .iter()
            .filter(|text| text.contains("loftwatch was put back, from a backup"))
            .collect();
        let [one] = &put_back[..] else {
            panic!("{ahead}: {told:#?}")
        };
        assert!(one.contains(&moment), "{moment}: {one}");
    }
}

/// A request of the file before the restore comes back when the row of that number is another bed's call.
#[test]
fn what_became_of_an_old_files_message_is_not_that_of_a_new_one() {
    let mut room = Room::new();
    room.set_up();
    second_bed(&mut room);
    let backup = backed_up(&mut room);
    room.seconds += 60;
    // On its way, and the chat asks all to wait.
    let (old, _) = called(&mut room);
    file_is_lost(&room);
    let asked = room.heard(AIDE, "handcheck", &check("1 1/4"));
    room.step(vec![Input::Heard(asked)]);
    store::restore(&backup, &room.data(), room.now().facility).unwrap();
    room.later(6);
    let heard = room.heard(AIDE, "alarm", &[("surface", text("LW-08"))]);
    let out = room.step(vec![Input::Heard(heard)]);
    let rows: Vec<_> = posts(&out)
        .into_iter()
        .filter(|(tag, one)| {
            matches!(tag, Tag::Row(_)) && json(one)["content"].to_string().contains("LW-08")
        })
        .map(|(tag, _)| tag.clone())
        .collect();
    let [new] = &rows[..] else { panic!("{out:?}") };
    // The old one is answered; the new one never left the computer.
    room.step(vec![Input::Came {
        tag: old.clone(),
        outcome: Outcome::Made(Some(77)),
    }]);
    let mut out = room.step(vec![Input::Came {
        tag: new.clone(),
        outcome: Outcome::NotMade,
    }]);
    let mut said = Vec::new();
    for _ in 0..120 {
        said.extend(settles(&mut room, out));
        out = room.later(1);
    }
    assert!(
        said.iter().any(|text| text.starts_with("**LW-08**")),
        "{old:?} {new:?} the card of LW-08 never goes out: {said:#?}"
    );
}

/// The whole folder was moved away below the running bot and the home restored into a new one; the first that the bot
/// learns of it is that what became of a message cannot be noted.
#[test]
fn a_fate_that_could_not_be_noted_in_the_old_file_is_not_noted_in_the_new_one() {
    let mut room = Room::new();
    room.set_up();
    second_bed(&mut room);
    let backup = backed_up(&mut room);
    room.seconds += 60;
    let (old, _) = called(&mut room);
    std::fs::rename(room.data(), room.folder.path().join("broken")).unwrap();
    store::restore(&backup, &room.data(), room.now().facility).unwrap();
    room.seconds += 5;
    room.step(vec![Input::Came {
        tag: old.clone(),
        outcome: Outcome::Made(Some(77)),
    }]);
    room.seconds += 1;
    let heard = room.heard(AIDE, "alarm", &[("surface", text("LW-08"))]);
    let mut out = room.step(vec![Input::Heard(heard)]);
    let answer = json(callback(&out).unwrap().1)["data"]["content"].to_string();
    let mut said = Vec::new();
    for _ in 0..120 {
        said.extend(settles(&mut room, out));
        out = room.later(1);
    }
    assert!(
        said.iter().any(|text| text.starts_with("**LW-08**")),
        "{answer}: the card of LW-08 never goes out: {said:#?}"
    );
}

/// A surface's alarm has its first rung called, and is over; the next alarm's is called in the same words. The second call as a tag,
/// its first line, and the first as the chat has it.
fn called_twice_alike(room: &mut Room) -> (Tag, String, [Past; 1]) {
    let (tag, words) = first_rung(room);
    let first = number(room);
    let out = room.step(vec![Input::Came {
        tag,
        outcome: Outcome::Made(Some(first)),
    }]);
    settles(room, out);
    let state = room.desk.as_ref().unwrap().state().unwrap();
    let alarm = *state.alarms.keys().next().unwrap();
    for id in [
        format!("take|{alarm}"),
        format!("fixair|{alarm}|unplugged|318"),
    ] {
        let card = number(room);
        said_on(room, card, false, tap(&id));
    }
    assert_eq!(taken(room), [], "the first is over");
    room.seconds += 3_600;
    let out = room.step(Vec::new());
    settles(room, out);
    let (tag, again) = first_rung(room);
    assert_eq!(again, words, "the same words");
    (tag, first_line(&words), [ours(first, &words)])
}

fn first_line(words: &str) -> String {
    words.lines().next().unwrap_or_default().to_owned()
}

/// Somebody else's message as a channel is read back.
fn theirs() -> Past {
    Past {
        author: US + 1,
        ..ours(1, "Good morning")
    }
}

/// A message of ours as a channel is read back.
fn ours(id: u64, words: &str) -> Past {
    Past {
        id,
        author: US,
        text: words.to_owned(),
        nonce: None,
    }
}

/// A surface's alarm climbs to its first rung: what the rung's call is, as a tag and its words.
fn first_rung(room: &mut Room) -> (Tag, String) {
    let options = [("surface", text("LW-07")), ("kind", text("low-pressure"))];
    let heard = room.heard(AIDE, "alarm", &options);
    let out = room.step(vec![Input::Heard(heard)]);
    settles(room, out);
    for _ in 0..600 {
        let out = room.later(1);
        let rung = posts(&out).into_iter().find_map(|(tag, one)| {
            let words = json(one)["content"].as_str()?.to_owned();
            (matches!(tag, Tag::Row(_)) && words.contains("alarm open for"))
                .then(|| (tag.clone(), words))
        });
        let others: Vec<Input> = requests(&out)
            .filter(|(tag, _)| rung.as_ref().is_none_or(|(of, _)| of != *tag))
            .map(|(tag, _)| Input::Came {
                tag: tag.clone(),
                outcome: Outcome::Made(Some(1)),
            })
            .collect();
        room.step(others);
        if let Some(rung) = rung {
            return rung;
        }
    }
    panic!("no rung")
}

/// The call of this row does not come through, whatever is tried, until it is looked for; then the chat shows `past`. How often it
/// is posted after that, within two minutes.
fn looked_for(room: &mut Room, tag: &Tag, words: &str, past: &[Past]) -> usize {
    let mut out = room.step(vec![Input::Came {
        tag: tag.clone(),
        outcome: Outcome::Unsure,
    }]);
    let (mut looked, mut after) = (false, 0);
    for _ in 0..240 {
        let mut came = Vec::new();
        for (tag, one) in requests(&out) {
            let outcome = match &one.route {
                Route::History { .. } => {
                    looked = true;
                    Outcome::Listed(past.to_vec())
                }
                Route::Post { .. } if json(one)["content"].to_string().contains(words) => {
                    if looked {
                        after += 1;
                        Outcome::Made(Some(number(room)))
                    } else {
                        Outcome::Unsure
                    }
                }
                Route::Post { .. }
                | Route::Edit { .. }
                | Route::Callback { .. }
                | Route::Original { .. }
                | Route::Commands { .. }
                | Route::SetCommands { .. }
                | Route::Leave { .. }
                | Route::Gateway
                | Route::Me => Outcome::Made(Some(number(room))),
            };
            came.push(Input::Came {
                tag: tag.clone(),
                outcome,
            });
        }
        out = if came.is_empty() {
            room.later(1)
        } else {
            room.step(came)
        };
    }
    assert!(looked, "it was never looked for");
    after
}

fn joined_with(room: &mut Room) -> Vec<String> {
    let roles = [HOME.0, AIDE, NURSE, SUPERVISOR, UPKEEP];
    let joined = Input::Joined {
        app: 1,
        us: US,
        roles: roles.into_iter().map(ChatRole).collect(),
    };
    let out = room.step(vec![joined]);
    settles(room, out)
}

/// After the backup an alarm of this surface called; the file was lost and put back; the next alarm of the same surface calls
/// in the same words. The one from before is not taken for it.
#[test]
fn a_call_of_before_a_restore_is_not_taken_for_one_after_it() {
    let mut room = Room::new();
    room.set_up();
    joined_with(&mut room);
    let backup = backed_up(&mut room);
    room.seconds += 60;
    let (tag, words) = first_rung(&mut room);
    let first = number(&mut room);
    let out = room.step(vec![Input::Came {
        tag,
        outcome: Outcome::Made(Some(first)),
    }]);
    settles(&mut room, out);
    room.seconds += 60;
    room.desk = None;
    store::restore(&backup, &room.data(), room.now().facility).unwrap();
    room.open();
    joined_with(&mut room);
    room.seconds += 3_600;
    let out = room.step(Vec::new());
    settles(&mut room, out);
    let (tag, again) = first_rung(&mut room);
    assert_eq!(again, words, "the same words");
    let (past, line) = ([ours(first, &words)], first_line(&words));
    let after = looked_for(&mut room, &tag, &line, &past);
    assert!(after > 0, "the call of the second alarm never goes out");
}

/// The same without a restore: the file is away for a moment just when the call is looked for.
#[test]
fn an_old_call_in_the_same_words_is_not_taken_for_it_while_the_file_is_away() {
    let mut room = Room::new();
    room.set_up();
    joined_with(&mut room);
    let (tag, line, past) = called_twice_alike(&mut room);
    // The file is away from now on, and back after three minutes.
    let (here, away) = (room.data().join("3.loft"), room.data().join("away.loft"));
    std::fs::rename(&here, &away).unwrap();
    let asked = room.heard(AIDE, "handcheck", &check("1 1/4"));
    let out = room.step(vec![Input::Heard(asked)]);
    settles(&mut room, out);
    let after = looked_for(&mut room, &tag, &line, &past);
    std::fs::rename(&away, &here).unwrap();
    let mut said = Vec::new();
    for _ in 0..120 {
        let out = room.later(1);
        said.extend(settles(&mut room, out));
    }
    let after = after + said.iter().filter(|text| text.contains(&line)).count();
    assert!(
        after > 0,
        "the call of the second alarm never goes out: {said:#?}"
    );
}

/// A role that was deleted while the disk took nothing is told of once it takes something again.
#[test]
fn a_role_that_is_deleted_while_the_disk_is_full_is_told_of_later() {
    let mut room = Room::new();
    room.set_up();
    joined_with(&mut room);
    shut(&room.data(), true);
    let out = room.step(vec![Input::RoleGone(ChatRole(AIDE))]);
    settles(&mut room, out);
    room.later(10);
    shut(&room.data(), false);
    let mut told = Vec::new();
    for _ in 0..3_600 / 30 {
        let out = room.later(30);
        told.extend(settles(&mut room, out));
    }
    assert!(
        told.iter()
            .any(|text| text.contains("deleted") || text.contains("role")),
        "{told:#?}"
    );
}

/// A home of an older version has the chat's role of everybody for its aides, whose calls ring nobody: it is told so, once.
#[test]
fn a_home_whose_role_is_everybody_is_told_so_once() {
    let mut room = Room::new();
    room.set_up();
    let everybody = Value::Role(ChatRole(HOME.0));
    let heard = room.heard(0, "facility setup", &[("aide", everybody)]);
    let out = room.step(vec![Input::Heard(heard)]);
    settles(&mut room, out);
    let mut said = Vec::new();
    for _ in 0..2 {
        said.extend(joined_with(&mut room));
        for _ in 0..20 {
            let out = room.later(30);
            said.extend(settles(&mut room, out));
        }
    }
    let told = said.iter().filter(|text| text.contains("`@everyone`"));
    assert_eq!(told.count(), 2, "care and supervisors: {said:#?}");
}

/// Another program has the file while messages come through, and lets go of it.
#[test]
fn what_came_through_while_another_program_had_the_file_is_noted_later() {
    let mut room = Room::new();
    room.set_up();
    second_bed(&mut room);
    let out = room.step(Vec::new());
    settles(&mut room, out);
    let mut all = Vec::new();
    for tag in ["LW-07", "LW-08"] {
        let heard = room.heard(AIDE, "alarm", &[("surface", text(tag))]);
        let out = room.step(vec![Input::Heard(heard)]);
        all.extend(requests(&out).map(|(tag, _)| tag.clone()));
    }
    let path = room.data().join(format!("{HOME}.loft"));
    let other = rusqlite::Connection::open(path).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let came = |tag: &Tag| Input::Came {
        tag: tag.clone(),
        outcome: Outcome::Made(Some(99)),
    };
    let before = room.records();
    let asked = room.heard(AIDE, "handcheck", &check("1 1/4"));
    let mut inputs: Vec<Input> = all.iter().map(came).collect();
    inputs.push(Input::Heard(asked));
    let out = room.step(inputs);
    let answer = json(callback(&out).unwrap().1)["data"]["content"].to_string();
    assert!(answer.contains("Nothing was recorded"), "{answer}");
    assert_eq!(room.records(), before);
    // The other call of the channel goes for the first time.
    let mut calls = Vec::new();
    let mut out = out;
    for round in 0..112 {
        calls.extend(
            posts(&out)
                .iter()
                .map(|(_, one)| json(one)["nonce"].clone()),
        );
        let came = requests(&out).map(|(tag, _)| came(tag)).collect();
        room.step(came);
        if round == 2 {
            other.execute_batch("ROLLBACK").unwrap();
        }
        // Each step beside the other program waits for it in real time: ten seconds in two of them.
        out = room.later(if round < 2 { 5 } else { 1 });
    }
    assert_eq!(calls.len(), 1, "{calls:?}");
    assert_eq!(unsettled(&room), 0);
}

#[test]
fn a_call_that_is_not_there_is_made_once_more_whatever_older_one_reads_the_same() {
    let mut room = Room::new();
    room.set_up();
    joined_with(&mut room);
    let (tag, words, past) = called_twice_alike(&mut room);
    assert_eq!(looked_for(&mut room, &tag, &words, &past), 1);
}

/// Who may not read what was said in a channel is told that nothing was.
#[test]
fn a_channel_that_reads_as_if_we_had_never_posted_there_was_not_read() {
    let mut room = Room::new();
    room.set_up();
    joined_with(&mut room);
    let (tag, words, _) = called_twice_alike(&mut room);
    assert_eq!(looked_for(&mut room, &tag, &words, &[]), 0);
}

/// The channel is read back just when another call is answered: the message that this one made is none of the other's.
#[test]
fn a_message_that_was_made_in_the_same_moment_is_not_taken_for_another() {
    let mut room = Room::new();
    room.set_up();
    joined_with(&mut room);
    second_bed(&mut room);
    let (tag, words) = first_rung(&mut room);
    let mut out = room.step(vec![Input::Came {
        tag,
        outcome: Outcome::Unsure,
    }]);
    let heard = room.heard(AIDE, "alarm", &[("surface", text("LW-08"))]);
    out.extend(room.step(vec![Input::Heard(heard)]));
    let line = first_line(&words);
    let (mut other, mut looked) = (None, None);
    for _ in 0..240 {
        let mut came = Vec::new();
        for (tag, one) in requests(&out) {
            let outcome = match &one.route {
                Route::History { .. } => {
                    let made = number(&mut room);
                    let other = other.take().expect("the other call is on its way");
                    came.push(Input::Came {
                        tag: other,
                        outcome: Outcome::Made(Some(made)),
                    });
                    Outcome::Listed(vec![ours(made, &words)])
                }
                Route::Post { .. } if json(one)["content"].to_string().contains("**LW-08**") => {
                    other = Some(tag.clone());
                    continue;
                }
                Route::Post { .. } if json(one)["content"].to_string().contains(&line) => {
                    Outcome::Unsure
                }
                Route::Post { .. }
                | Route::Edit { .. }
                | Route::Callback { .. }
                | Route::Original { .. }
                | Route::Commands { .. }
                | Route::SetCommands { .. }
                | Route::Leave { .. }
                | Route::Gateway
                | Route::Me => Outcome::Made(Some(number(&mut room))),
            };
            let tag = tag.clone();
            came.push(Input::Came { tag, outcome });
        }
        if came.iter().any(|one| {
            matches!(
                one,
                Input::Came {
                    tag: Tag::Look(_),
                    ..
                }
            )
        }) {
            looked = Some(room.step(came));
            break;
        }
        out = if came.is_empty() {
            room.later(1)
        } else {
            room.step(came)
        };
    }
    let mut out = looked.expect("it is looked for");
    let mut after = 0;
    for _ in 0..60 {
        let again = |(_, one): &(&Tag, &Request)| json(one)["content"].to_string().contains(&line);
        after += posts(&out).into_iter().filter(again).count();
        out = room.later(1);
    }
    assert_eq!(after, 1, "the call goes out once more");
}

/// The disk takes the alarm and no more; its call comes through, the power fails, and the disk has room again later.
#[test]
fn a_call_that_could_not_be_marked_is_not_made_again_after_a_power_cut() {
    let mut room = Room::new();
    room.set_up();
    joined_with(&mut room);
    takes_no_marks(&room, true);
    let (tag, words) = called(&mut room);
    let made = number(&mut room);
    room.step(vec![Input::Came {
        tag,
        outcome: Outcome::Made(Some(made)),
    }]);
    let nothing = room.later(60);
    settles(&mut room, nothing);
    room.desk = None;
    takes_no_marks(&room, false);
    room.seconds += 240;
    room.open();
    let roles = [AIDE, NURSE, SUPERVISOR, UPKEEP];
    let joined = Input::Joined {
        app: 1,
        us: US,
        roles: roles.into_iter().map(ChatRole).collect(),
    };
    let out = room.step(vec![joined]);
    let again: Vec<_> = posts(&out)
        .into_iter()
        .filter(|(_, one)| json(one)["content"].to_string().contains(&words[..]))
        .map(|(tag, one)| (tag.clone(), json(one)["content"].clone()))
        .collect();
    assert!(
        again.is_empty(),
        "it goes out a second time, unlooked for: {again:?}"
    );
}

/// The file takes no change of the outbox any more, or takes them again.
fn takes_no_marks(room: &Room, is: bool) {
    let file = rusqlite::Connection::open(room.data().join(format!("{HOME}.loft"))).unwrap();
    file.execute_batch(if is {
        "CREATE TRIGGER marks BEFORE UPDATE ON outbox BEGIN SELECT RAISE(ABORT, 'full'); END"
    } else {
        "DROP TRIGGER marks"
    })
    .unwrap();
}

/// The disk was full as the call went, and has room again when the next takes its place.
#[test]
fn a_call_that_could_not_be_marked_is_known_when_the_next_takes_its_place() {
    let mut room = Room::new();
    room.set_up();
    joined_with(&mut room);
    takes_no_marks(&room, true);
    let (tag, _) = first_rung(&mut room);
    takes_no_marks(&room, false);
    for _ in 0..4 {
        let out = room.later(300);
        settles(&mut room, out);
    }
    let made = number(&mut room);
    let out = room.step(vec![Input::Came {
        tag,
        outcome: Outcome::Made(Some(made)),
    }]);
    let changes = |(_, request): (&Tag, &Request)| matches!(request.route, Route::Edit { message, .. } if message == made);
    assert!(requests(&out).any(changes), "its buttons stay: {out:?}");
}

/// What became of the change before could not be noted for a while; nothing else happens.
#[test]
fn a_change_that_waited_for_a_fate_goes_once_that_is_noted() {
    let mut room = Room::new();
    room.set_up();
    joined_with(&mut room);
    let card = alarm_card(&mut room, "LW-07");
    let tapped = |room: &mut Room, verb: &str| {
        let id = number(room);
        let said = tap(&card.2.replace("take|", verb));
        let heard = heard(id, AIDE, said, room.now());
        let out = room.step(vec![Input::Heard(heard)]);
        let answer = callback(&out).unwrap().0.clone();
        let changes = |request: &Request| request.route.name() == "edit";
        let change = requests(&out).find(|(_, request)| changes(request));
        let change = change.map(|(tag, _)| tag.clone());
        let given = Input::Came {
            tag: answer,
            outcome: Outcome::Made(None),
        };
        (change, given)
    };
    let (change, given) = tapped(&mut room, "take|");
    takes_no_marks(&room, true);
    room.step(vec![
        given,
        Input::Came {
            tag: change.unwrap(),
            outcome: Outcome::Made(Some(card.0)),
        },
    ]);
    let (change, given) = tapped(&mut room, "safe|");
    assert_eq!(change, None, "it waits for the one before");
    room.step(vec![given]);
    takes_no_marks(&room, false);
    let out = room.later(6);
    let changes = requests(&out).any(|(_, request)| request.route.name() == "edit");
    assert!(changes, "{out:?}");
}

/// An entry was recorded and its answer did not get through; the file was lost and an older one put back. Nobody is told that
/// the entry is kept.
#[test]
fn no_entry_of_a_lost_file_is_confirmed_after_a_restore() {
    let mut room = Room::new();
    room.set_up();
    joined_with(&mut room);
    let backup = backed_up(&mut room);
    room.seconds += 60;
    let kept = room.records();
    let heard = room.heard(AIDE, "handcheck", &check("1 1/4"));
    let out = room.step(vec![Input::Heard(heard)]);
    let (tag, _) = callback(&out).unwrap();
    let (tag, of) = (tag.clone(), json(callback(&out).unwrap().1));
    let words = of["data"]["content"]
        .as_str()
        .unwrap()
        .replace(" (bed 101)", "");
    file_is_lost(&room);
    let asked = room.heard(NURSE, "handcheck", &check("1 1/4"));
    let out = room.step(vec![Input::Heard(asked)]);
    settles(&mut room, out);
    store::restore(&backup, &room.data(), room.now().facility).unwrap();
    room.later(6);
    // What is told of the restore is on record, and not the entry.
    assert_eq!(room.records(), kept + 1);
    let gone = Outcome::Refused {
        status: 404,
        code: 10_062,
    };
    let mut out = room.step(vec![Input::Came { tag, outcome: gone }]);
    let mut said = Vec::new();
    for _ in 0..60 {
        said.extend(settles(&mut room, out));
        out = room.later(1);
    }
    let told: Vec<_> = said
        .iter()
        .filter(|text| text.contains(&words[..]))
        .collect();
    assert!(told.is_empty(), "told as if it were on record: {told:?}");
}

/// The file is taken away while an alarm is open, and the first that notices is what became of a message. People are told
/// that nobody is called.
#[test]
fn a_file_that_a_message_misses_first_is_told_to_all() {
    let mut room = Room::new();
    room.set_up();
    joined_with(&mut room);
    let (tag, _) = called(&mut room);
    let (here, away) = (room.data().join("3.loft"), room.data().join("away.loft"));
    std::fs::rename(&here, &away).unwrap();
    room.seconds += 1;
    let made = Input::Came {
        tag,
        outcome: Outcome::Made(Some(77)),
    };
    let mut said = unkept(&room.step(vec![made]));
    for _ in 0..(60 * 60 / 5) {
        said.extend(unkept(&room.later(5)));
    }
    let asked = room.heard(AIDE, "handcheck", &check("1 1/4"));
    let out = room.step(vec![Input::Heard(asked)]);
    said.extend(unkept(&out));
    let answer = json(callback(&out).unwrap().1)["data"]["content"].to_string();
    for _ in 0..24 {
        said.extend(unkept(&room.later(5)));
    }
    assert!(answer.contains("Nothing was recorded"), "{answer}");
    all_are_told(&room, &said);
}

/// The channels read that nothing is saved, and health says so.
fn all_are_told(room: &Room, said: &[(u64, String)]) {
    let told = |(_, text): &(u64, String)| text.contains("I can save nothing");
    assert!(said.iter().any(told), "the channels read {said:?}");
    assert!(
        !room.desk.as_ref().unwrap().seen(0).saves,
        "health says well"
    );
}

/// A part of the file cannot be read any more, the one in which is looked up what was done: calls stop, and people are told.
#[test]
fn a_file_in_which_nothing_can_be_looked_up_is_told_to_all() {
    let mut room = Room::new();
    room.set_up();
    joined_with(&mut room);
    let (tag, _) = called(&mut room);
    room.step(vec![Input::Came {
        tag,
        outcome: Outcome::Made(Some(77)),
    }]);
    let file = rusqlite::Connection::open(room.data().join("3.loft")).unwrap();
    file.execute_batch("ALTER TABLE causes RENAME TO gone")
        .unwrap();
    let before = room.records();
    let mut said = Vec::new();
    for _ in 0..(60 * 60 / 5) {
        said.extend(unkept(&room.later(5)));
    }
    assert_eq!(room.records(), before, "no rung was recorded");
    all_are_told(&room, &said);
}

/// An alarm is open, the clock is a month ahead for a minute and is put right; the card still comes to say who goes.
#[test]
fn a_card_is_still_changed_after_the_clock_was_a_month_ahead() {
    for ahead in [0, 31 * 86_400] {
        let mut room = Room::new();
        room.set_up();
        let (card, _, button) = alarm_card(&mut room, "LW-07");
        for ahead in [ahead, 0] {
            (room.ahead, room.stepped) = (ahead, ahead);
            for _ in 0..6 {
                let out = room.later(10);
                settles(&mut room, out);
            }
        }
        let id = number(&mut room);
        let mut heard = heard(id, AIDE, tap(&button), room.now());
        if let Way::Interaction { on_message, .. } = &mut heard.way {
            *on_message = Some(card);
        }
        let mut out = room.step(vec![Input::Heard(heard)]);
        assert_eq!(taken(&room), [("LW-07".to_owned(), true)]);
        let mut edited = false;
        for _ in 0..60 {
            edited |= requests(&out).any(
                |(_, one)| matches!(one.route, Route::Edit { message, .. } if message == card),
            );
            settles(&mut room, out);
            out = room.later(1);
        }
        assert!(
            edited,
            "{ahead} s ahead: the card goes on saying that nobody goes"
        );
    }
}

/// Which rows were given up, and why.
fn given_up(room: &Room) -> Vec<(String, String)> {
    let file = rusqlite::Connection::open(room.data().join("3.loft")).unwrap();
    let sql = "SELECT key, why FROM outbox WHERE state = 'dead' ORDER BY id";
    let mut statement = file.prepare(sql).unwrap();
    let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)));
    rows.unwrap().collect::<Result<_, _>>().unwrap()
}

/// A waiting row of the outbox cannot be read: a spoilt byte, another version's message. The others go, and it is given up.
#[test]
fn one_row_that_cannot_be_read_holds_up_no_call() {
    let mut room = Room::new();
    room.set_up();
    joined_with(&mut room);
    // A list that its channel asked to wait for.
    let last = Some(room.now().facility - TimeDelta::days(2));
    let out = room.step(vec![Input::NoBackup { last }]);
    let tag = posts(&out)[0].0.clone();
    room.step(vec![Input::Came {
        tag,
        outcome: Outcome::Limited(Duration::from_secs(30)),
    }]);
    let file = rusqlite::Connection::open(room.data().join("3.loft")).unwrap();
    let sql = "UPDATE outbox SET message = substr(message, 2) WHERE state = 'waiting'";
    assert_eq!(file.execute(sql, []).unwrap(), 1);
    let heard = room.heard(AIDE, "alarm", &[("surface", text("LW-07"))]);
    let out = room.step(vec![Input::Heard(heard)]);
    let said = settles(&mut room, out);
    assert!(said.iter().any(|text| text.contains("LW-07")), "{said:?}");
    let dead = given_up(&room);
    let [(key, why)] = &dead[..] else {
        panic!("{dead:?}")
    };
    assert!(key.contains("backup"), "{key}");
    assert!(why.contains("cannot be read"), "{why}");
}

/// The same of a call that was on its way when the program stopped.
#[test]
fn of_a_call_that_cannot_be_read_others_are_told() {
    let mut room = Room::new();
    room.set_up();
    let (tag, _) = called(&mut room);
    let Tag::Row(id) = tag else { panic!("{tag:?}") };
    room.desk = None;
    let file = rusqlite::Connection::open(room.data().join("3.loft")).unwrap();
    let sql =
        "UPDATE outbox SET message = '{\"of\":\"tomorrow\"}' WHERE id = ?1 AND state = 'sending'";
    assert_eq!(file.execute(sql, [id]).unwrap(), 1);
    room.open();
    let mut told = Vec::new();
    for _ in 0..12 {
        let out = room.later(5);
        told.extend(settles(&mut room, out));
    }
    let care = format!("<#{CARE}>");
    assert!(told.iter().any(|text| text.contains(&care)), "{told:?}");
    assert_eq!(room.desk.as_ref().unwrap().seen(0).unheard, 0);
    assert_eq!(given_up(&room).len(), 1);
}
