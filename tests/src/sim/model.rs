//! What must hold of a story, told from what people could see and from the file at its end. Decides the promises: no
//! entry that was confirmed is lost, none is doubled, none is made without its role, no call and no list is missed,
//! doubled, early or late. Knows none of the program's rules: what each kind of entry needs stands here once more.

mod posts;
mod rechecks;
mod refused;

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::LazyLock;
use std::time::Duration;

use anyhow::Result;
use bot::event::Way;
use bot::request::{Body, Request, Route};
use chrono::{DateTime, NaiveDate, NaiveDateTime, TimeDelta, Timelike, Utc};
use commands::Ask;
use commands::rules::zone::Zone;
use commands::words::{self, Lang};
use regex::Regex;
use rusqlite::{Connection, OpenFlags};

use self::posts::{MAYBE_REPEAT, Post, UNDELIVERED};
use self::refused::Refused;
use crate::talk::cast::Cast;
use crate::talk::chat::{Called, Chat, Look, Posted};

/// Who may bring what into the log, by the letters of their roles: aide, nurse, supervisor, upkeep, and m for whoever
/// manages the chat. Every other kind of entry needs one of the first four.
const NEEDS: &[(&str, &str)] = &[
    ("hand-checked", "ans"),
    ("alarm-taken", "ansu"),
    ("resident-safe", "ans"),
    ("placed", "ns"),
    ("released", "ns"),
    ("setting-set", "ns"),
    ("moved", "ns"),
    // Whoever looks may say that somebody is away still.
    ("leave-began", "ans"),
    ("zones-measured", "nsu"),
    ("held", "s"),
    ("hold-released", "s"),
    ("recall-opened", "s"),
    ("returned", "su"),
    ("repaired", "su"),
    ("stock-counted", "su"),
    ("facility-set", "m"),
    ("unit-set", "m"),
    ("schedule-set", "m"),
    ("policy-set", "sm"),
    ("policy-asked", "m"),
    ("wish-asked", "m"),
];

/// A rung comes after five minutes, whatever the clock shows.
const RUNG: Duration = Duration::from_secs(300);
/// Where nobody lies on the surface on record, those who look are called again so seldom.
const SPARE_RUNG: Duration = Duration::from_secs(1_800);
/// So a call says that.
const SPARE_WORDS: &str = "On record nobody lies on it";
/// The first call is the alarm's card, and has these words in its head.
const FIRST_WORDS: &str = " · priority ";
/// So says one that calls everybody.
const TOP_WORDS: &str = "Go now";
/// So an answer begins, behind its person, that came too late to be told to them alone.
const LATE_ANSWER: &str = ", this answer comes late";
/// So long after it was opened a CPR valve keeps everybody quiet at most.
const CPR_MOST: Duration = Duration::from_secs(2 * 3_600);
/// A program that starts knows what the clock showed so long before it stopped at best.
const UNKNOWN: Duration = Duration::from_secs(300);
/// So it begins when nothing can be saved.
const UNSAVED: &str = "I can save nothing";
/// So soon after a call is due that cannot be saved that is said.
const UNSAID: Duration = Duration::from_secs(60);
/// Calls of one alarm that come within this are read as one.
const AT_ONCE: Duration = Duration::from_secs(60);
/// How late anything may be where nothing went wrong.
const SLACK: Duration = Duration::from_secs(3);
/// What happens within this of a pause may fall into it.
const NEAR: Duration = Duration::from_secs(600);
/// Within this of a step of the clock nothing is said of lists: they go by what it shows.
const STEP_NEAR: Duration = Duration::from_secs(6 * 3_600);
/// A list that came by a clock that was ahead by more than this comes again once the clock is put right.
const COMES_AGAIN: TimeDelta = TimeDelta::minutes(30);
/// How much later for each fault on the way.
const PER_FAULT: Duration = Duration::from_secs(130);
/// So late at most each kind of list came for the first time.
const LISTS_WITHIN: Duration = Duration::from_secs(48 * 3_600);
/// When lists come: the due list at each shift's start, the handover a quarter of an hour before its end.
const LISTS: [(&str, [(u32, u32); 3]); 2] = [
    ("New shift", [(7, 0), (15, 0), (23, 0)]),
    ("Handover", [(6, 45), (14, 45), (22, 45)]),
];

/// What somebody did.
struct Asked {
    who: u64,
    letters: String,
    line: String,
    at: Duration,
}

/// A message that called somebody to an alarm.
#[derive(Debug)]
struct Call {
    alarm: u64,
    channel: u64,
    minutes: u64,
    at: Duration,
    repeat: bool,
    /// Its first lines.
    says: String,
}

impl Call {
    /// A message that is one.
    fn of(look: &Look, called: &Called, channel: u64, at: Duration) -> Option<Self> {
        let (text, ids) = (&look.text, look.ids());
        // An answer that comes late may show an alarm to whoever asked; it calls nobody.
        if (called.roles.is_empty() && called.people.is_empty()) || text.contains(LATE_ANSWER) {
            return None;
        }
        let mut alarms = ids
            .iter()
            .filter_map(|id| id.strip_prefix("take|")?.parse().ok());
        Some(Self {
            alarm: alarms.next()?,
            channel,
            minutes: open_for(text).unwrap_or(0),
            at,
            repeat: text.contains(MAYBE_REPEAT),
            says: text.lines().take(3).collect::<Vec<_>>().join(" / "),
        })
    }

    /// How long after it the next one may come at the latest.
    fn next(&self) -> Duration {
        if self.says.contains(SPARE_WORDS) {
            SPARE_RUNG
        } else {
            RUNG
        }
    }
}

/// The minutes that an alarm has been open when a call says so. After a day they are not said any more.
fn open_for(text: &str) -> Option<u64> {
    let found = OPEN_FOR.captures(text)?;
    let number = |at| found.get(at).and_then(|found| found.as_str().parse().ok());
    let (hours, minutes): (Option<u64>, Option<u64>) = (number(1), number(2));
    let known = hours.is_some() || minutes.is_some();
    known.then(|| hours.unwrap_or(0) * 60 + minutes.unwrap_or(0))
}

/// What an answer says of something that was recorded, where it names no number.
const DONE: [&str; 4] = [
    ": the alarm is open, and",
    ": cleaned with",
    ": alarm closed, ",
    "** is no longer under bed ",
];

/// What was counted.
#[derive(Clone, Copy, Debug, Default)]
pub struct Tally {
    /// Things that people did.
    pub acts: usize,
    /// Entries in the log.
    pub records: usize,
    /// Entries that people were told of.
    pub confirmed: usize,
    /// Calls to alarms.
    pub calls: usize,
    /// Lists that were posted.
    pub lists: usize,
    /// Looks that were owed after a reading.
    pub looks: usize,
    /// Times that the program was down.
    pub dark: usize,
    /// Faults of the network and the disk.
    pub faults: usize,
    /// Steps of the clock.
    pub steps: usize,
}

impl std::ops::AddAssign for Tally {
    fn add_assign(&mut self, other: Self) {
        self.acts += other.acts;
        self.records += other.records;
        self.confirmed += other.confirmed;
        self.calls += other.calls;
        self.lists += other.lists;
        self.looks += other.looks;
        self.dark += other.dark;
        self.faults += other.faults;
        self.steps += other.steps;
    }
}

/// All that was seen.
pub struct Model {
    begins: DateTime<Utc>,
    zone: Zone,
    asked: BTreeMap<u64, Asked>,
    confirmed: Vec<(u64, u64)>,
    /// What was confirmed without its number.
    done: Vec<u64>,
    nothing: Vec<u64>,
    /// Calls that said that they may be a repeat: their channel could not be read back.
    repeats: BTreeSet<u64>,
    /// Answers that came late, as messages of their own.
    late_answers: BTreeSet<u64>,
    /// When somebody who was on the way said that they cannot go.
    gave_up: Vec<Duration>,
    calls: Vec<Call>,
    /// All that the bot said in channels.
    posts: Vec<Post>,
    /// Calls that their channel did not let in.
    refused: Vec<Refused>,
    /// When a channel let nobody of ours in.
    shut: Vec<(u64, Duration, Duration)>,
    /// Lists: channel, title, the moment that each was meant for, and when it came.
    lists: Vec<(u64, String, NaiveDateTime, Duration)>,
    dark: Vec<(Duration, Option<Duration>)>,
    faults: Vec<Duration>,
    full: Vec<(Duration, Duration)>,
    full_since: Option<Duration>,
    /// When people read that nothing can be saved.
    said_so: Vec<Duration>,
    steps: Vec<(Duration, TimeDelta)>,
}

/// Causes, each with its first entry and how many there are.
type Causes = BTreeMap<i64, (u64, u64)>;

/// An entry of the log, as its file has it.
struct Row {
    no: u64,
    kind: String,
    who: Option<u64>,
    body: serde_json::Value,
    cause: i64,
    entered: DateTime<Utc>,
}

static NUMBERS: LazyLock<Regex> = LazyLock::new(|| Regex::new(r"\(#(\d+)\)").expect("a pattern"));
static NUMBER: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"\A[^\n]*\(#(\d+)\)").expect("a pattern"));
static OPEN_FOR: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"alarm open for (?:(\d+) h)?(?: ?(\d+) min)?").expect("a pattern")
});
static MEANT: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"(?m)^Late: this was meant for <t:(\d+):f>").expect("a pattern"));
static COMES_LATE: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^This comes late: it was to be said on <t:(\d+):f>").expect("a pattern")
});
static LIST: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"\*\*(New shift|Handover), ([^.*]+?)\.?\*\*").expect("a pattern"));

impl Model {
    /// Nothing was seen yet.
    pub fn new(begins: DateTime<Utc>, zone: Zone) -> Self {
        Self {
            begins,
            zone,
            asked: BTreeMap::new(),
            confirmed: Vec::new(),
            done: Vec::new(),
            nothing: Vec::new(),
            repeats: BTreeSet::new(),
            late_answers: BTreeSet::new(),
            gave_up: Vec::new(),
            calls: Vec::new(),
            posts: Vec::new(),
            refused: Vec::new(),
            shut: Vec::new(),
            lists: Vec::new(),
            dark: Vec::new(),
            faults: Vec::new(),
            full: Vec::new(),
            full_since: None,
            said_so: Vec::new(),
            steps: Vec::new(),
        }
    }

    /// Somebody did something.
    pub fn asked(&mut self, id: u64, ask: &Ask, line: String, at: Duration) {
        let mut letters = String::new();
        for (name, role) in Cast::roles() {
            if ask.chat_roles.contains(&role) {
                letters.extend(name.chars().next());
            }
        }
        if ask.manages {
            letters.push('m');
        }
        let who = ask.who.0;
        if line.ends_with("taps [I cannot go]") {
            self.gave_up.push(at);
        }
        self.asked.insert(
            id,
            Asked {
                who,
                letters,
                line,
                at,
            },
        );
    }

    /// When somebody did what this is the answer's way of, if it was no message.
    pub fn when(&self, way: &Way) -> Option<Duration> {
        match way {
            Way::Interaction { id, .. } => self.asked.get(id).map(|asked| asked.at),
            Way::Message { .. } => None,
        }
    }

    /// The chat did what it was asked; `new` is the message that it made. Returns whether that called somebody to an alarm.
    pub fn reached(
        &mut self,
        request: &Request,
        new: Option<&Posted>,
        at: Duration,
        now: DateTime<Utc>,
    ) -> bool {
        if let Route::Callback { interaction, .. } = &request.route {
            self.answered(*interaction, &answer(request).unwrap_or_default());
        }
        let Some(new) = new.filter(|_| matches!(request.route, Route::Post { .. })) else {
            return false;
        };
        self.posts.push(Post::of(request, new, at));
        self.let_in_after_all(new);
        let text = &new.look.text;
        if text.contains(UNSAVED) {
            self.said_so.push(at);
        }
        if text.contains(MAYBE_REPEAT) {
            self.repeats.insert(new.id);
        }
        if text.contains(LATE_ANSWER) {
            self.late_answers.insert(new.id);
        }
        let call = Call::of(&new.look, &new.called, new.channel, at);
        let called = call.is_some();
        self.calls.extend(call);
        if let Some(list) = LIST.captures(text) {
            let local = self.zone.local(now);
            let said = |pattern: &Regex| {
                let found = pattern.captures(text)?;
                let at = DateTime::from_timestamp(found[1].parse().ok()?, 0)?;
                Some(self.zone.local(at))
            };
            let meant = said(&MEANT);
            // One that waited to be sent was of the time when it was written, by a clock that may have been set back since.
            let set_back: TimeDelta = self
                .steps
                .iter()
                .filter(|(one, step)| *one + NEAR >= at && *step < TimeDelta::zero())
                .map(|(_, step)| -*step)
                .sum();
            let local = said(&COMES_LATE).unwrap_or(local + set_back);
            let hours = LISTS.iter().find(|(title, _)| *title == &list[1]);
            let Some((_, hours)) = hours else {
                return called;
            };
            let meant = meant.unwrap_or_else(|| newest(local, hours));
            let title = format!("{}, {}", &list[1], &list[2]);
            self.lists.push((new.channel, title, meant, at));
        }
        called
    }

    fn answered(&mut self, id: u64, text: &str) {
        if Lang::ALL
            .iter()
            .any(|lang| text == words::say(*lang, "bot-nothing-recorded", &[]))
        {
            self.nothing.push(id);
        } else if let Some(found) = NUMBER.captures(text) {
            let number = found[1].parse();
            self.confirmed.extend(number.map(|number| (id, number)));
        } else if DONE.iter().any(|done| text.contains(done)) {
            self.done.push(id);
        }
    }

    /// The program is down.
    pub fn dark(&mut self, at: Duration) {
        self.dark.push((at, None));
    }

    /// It is up.
    pub fn light(&mut self, at: Duration) {
        if let Some(last) = self.dark.last_mut() {
            last.1.get_or_insert(at);
        }
    }

    /// Something went wrong on the way to the chat, or the disk is full.
    pub fn fault(&mut self, at: Duration) {
        self.faults.push(at);
    }

    /// The disk is full from then to `at`.
    pub fn room(&mut self, at: Duration) {
        self.faults.push(at);
        if let Some(since) = self.full_since.take() {
            self.full.push((since, at));
        }
    }

    /// The disk is full.
    pub fn full(&mut self, at: Duration) {
        self.full_since = Some(at);
    }

    /// The computer's clock was stepped.
    pub fn stepped(&mut self, at: Duration, step: TimeDelta) {
        self.steps.push((at, step));
    }

    /// How much later than promised something between two moments may be.
    fn excuse(&self, from: Duration, to: Duration) -> Duration {
        let near = |at: &&Duration| **at + Duration::from_secs(300) >= from && **at <= to;
        let faults = self.faults.iter().filter(near).count()
            + self.dark.iter().filter(|(at, _)| near(&at)).count();
        self.away(from, to) + PER_FAULT * u32::try_from(faults).unwrap_or(u32::MAX)
    }

    /// How long of the time between two moments the program could do nothing.
    fn away(&self, from: Duration, to: Duration) -> Duration {
        let overlap = |(a, b): (Duration, Duration)| b.min(to).saturating_sub(a.max(from));
        let dark = self.dark.iter().map(|(a, b)| (*a, b.unwrap_or(to) + SLACK));
        // A disk that takes nothing excuses a call only if people read that nobody is called, or that word was lost.
        let full = self.full.iter().map(|&(a, b)| {
            let within = |at: &Duration| (a..b).contains(at);
            let known = self.said_so.iter().chain(&self.faults).any(within);
            let most = if known { b - a } else { UNSAID };
            overlap((a, b)).min(most)
        });
        let out: Duration = dark.map(overlap).chain(full).sum();
        out + self.unseen(from, to)
    }

    /// How much later something comes because a step back that nobody saw is known only as far as the file knows what the clock showed
    /// before: nobody knows then how long it was dark either.
    fn unseen(&self, from: Duration, to: Duration) -> Duration {
        let dark = self.dark.iter().map(|(a, b)| (*a, b.unwrap_or(to)));
        let unseen = dark.filter(|(a, b)| {
            let during = |at: Duration| at >= *a && at <= *b;
            let back =
                |(at, step): &(Duration, TimeDelta)| *step < TimeDelta::zero() && during(*at);
            *a <= to && *b >= from && self.steps.iter().any(back)
        });
        unseen.map(|(a, b)| UNKNOWN + (b - a)).sum()
    }

    /// Looks at all of it. Returns what was counted and what broke.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn judge(
        &self,
        database: &Path,
        chat: &Chat,
        ends: Duration,
        now: Duration,
    ) -> Result<(Tally, Vec<String>)> {
        let (causes, rows) = read(database)?;
        let mut why = Vec::new();
        self.entries(&causes, &rows, &mut why);
        self.ladders(&rows, now, &mut why);
        self.slots(ends, &mut why);
        self.clock(&rows, &mut why);
        posts::first_cards(&self.posts, &mut why);
        let meanwhile = posts::Meanwhile {
            steps: &self.steps,
            starts: self.dark.iter().filter_map(|(_, to)| *to).collect(),
            gave_up: &self.gave_up,
            faults: &self.faults,
            said_twice: self.said_twice(),
        };
        posts::doubled(&self.posts, &meanwhile, &mut why);
        self.told_elsewhere(&rows, now, &mut why);
        let looks = self.rechecks(&rows, now, &mut why);
        let mut nonces = BTreeMap::new();
        for one in &chat.messages {
            let Some(nonce) = &one.nonce else { continue };
            let before = nonces.insert((one.channel, nonce), one);
            // An answer that came late and was tapped since is known by nothing: its buttons have become the next question.
            let tapped = |before: &&Posted| before.changed && self.late_answers.contains(&one.id);
            let before = before.filter(|before| !tapped(before));
            if let Some(before) = before.filter(|_| !self.repeats.contains(&one.id)) {
                let text = one.look.text.lines().next().unwrap_or_default();
                why.push(format!("came twice, {} and {}: {text}", before.at, one.at));
            }
        }
        let tally = Tally {
            acts: self.asked.len(),
            records: rows.len(),
            confirmed: self.confirmed.len() + self.done.len(),
            calls: self.calls.len(),
            lists: self.lists.len(),
            looks,
            dark: self.dark.len(),
            faults: self.faults.len(),
            steps: self.steps.len(),
        };
        Ok((tally, why))
    }

    /// When somebody said the same as just before.
    fn said_twice(&self) -> Vec<Duration> {
        let mut last = BTreeMap::new();
        let mut twice = Vec::new();
        for asked in self.asked.values() {
            let before = last.insert((asked.who, &asked.line), asked.at);
            if before.is_some_and(|before| asked.at < before + posts::ANEW_WITHIN) {
                twice.push(asked.at);
            }
        }
        twice
    }

    /// Nothing confirmed is lost, nothing refused is there, nobody did what they may not, nothing was done twice.
    fn entries(
        &self,
        causes: &BTreeMap<i64, (u64, u64)>,
        rows: &BTreeMap<u64, Row>,
        why: &mut Vec<String>,
    ) {
        for (id, number) in &self.confirmed {
            let line = self.line(*id);
            match causes.get(&(*id as i64)) {
                None => why.push(format!("lost, though #{number} was confirmed: {line}")),
                Some((first, count)) if !(*first..first + count).contains(number) => {
                    why.push(format!(
                        "confirmed as #{number}, but it is #{first}: {line}"
                    ));
                }
                Some(_) => {}
            }
        }
        for id in &self.done {
            if causes
                .get(&(*id as i64))
                .is_none_or(|(_, count)| *count == 0)
            {
                why.push(format!("lost, though it was confirmed: {}", self.line(*id)));
            }
        }
        for id in &self.nothing {
            if causes
                .get(&(*id as i64))
                .is_some_and(|(_, count)| *count > 0)
            {
                why.push(format!(
                    "recorded, though nothing was said to be: {}",
                    self.line(*id)
                ));
            }
        }
        // What is answered in a channel, because it came late or was asked there, is as good as any other answer.
        for post in self.posts.iter().filter(|post| post.answers()) {
            let numbers = NUMBERS.captures_iter(&post.text);
            for number in numbers.filter_map(|found| found[1].parse::<u64>().ok()) {
                if !rows.contains_key(&number) {
                    let said = post.text.replace('\n', " / ");
                    why.push(format!("lost, though #{number} was answered: {said}"));
                }
            }
        }
        let mut seen = BTreeSet::new();
        for row in rows.values() {
            let id = row.cause.unsigned_abs();
            let Some(asked) = self.asked.get(&id).filter(|_| row.cause != 0) else {
                if row.who.is_some() && self.began(row) {
                    why.push(format!(
                        "#{}, {}, by somebody who did nothing",
                        row.no, row.kind
                    ));
                }
                continue;
            };
            if row.who != Some(asked.who) {
                why.push(format!(
                    "#{} stands under another name: {}",
                    row.no, asked.line
                ));
            }
            let needs = NEEDS.iter().find(|(kind, _)| *kind == row.kind);
            let needs = needs.map_or("ansum", |(_, letters)| letters);
            if !asked.letters.chars().any(|letter| needs.contains(letter)) {
                why.push(format!(
                    "#{}, {}, by one with the roles {:?}: {}",
                    row.no, row.kind, asked.letters, asked.line
                ));
            }
            if row.kind == "hand-checked" && !seen.insert(id) {
                why.push(format!("one act, two hand checks: {}", asked.line));
            }
        }
    }

    fn began(&self, row: &Row) -> bool {
        row.entered > self.begins + TimeDelta::hours(5)
    }

    fn line(&self, id: u64) -> &str {
        self.asked.get(&id).map_or("unknown", |asked| &asked.line)
    }

    /// Whoever is called is called in time, once, and until somebody goes.
    fn ladders(&self, rows: &BTreeMap<u64, Row>, now: Duration, why: &mut Vec<String>) {
        let of = |row: &Row| row.body["alarm"].as_u64();
        for opened in rows
            .values()
            .filter(|row| row.kind == "alarm-opened" && self.began(row))
        {
            let no = opened.no;
            let own = rows.values().filter(|row| of(row) == Some(no));
            let first = own.clone().find(|row| {
                matches!(
                    row.kind.as_str(),
                    "alarm-taken" | "alarm-closed" | "resident-safe"
                )
            });
            let taken = |row: &Row| {
                self.asked
                    .get(&row.cause.unsigned_abs())
                    .map(|asked| asked.at)
            };
            let until = first.and_then(taken).unwrap_or(now);
            // One that its channel did not let in was made in its time; whether anybody heard of it is asked elsewhere.
            let made = self.refused.iter().filter_map(|one| one.call.as_ref());
            let made = self.calls.iter().chain(made);
            let mut calls: Vec<&Call> = made.filter(|call| call.alarm == no).collect();
            calls.sort_by_key(|call| call.at);
            let Some(came) = calls.first() else {
                if first.is_none() && self.asked.contains_key(&opened.cause.unsigned_abs()) {
                    why.push(format!("alarm {no} called nobody"));
                }
                continue;
            };
            let raised = taken(opened).unwrap_or(came.at);
            let tag = &opened.body["tag"];
            let of_tag = |kind: &'static str| {
                let of = rows
                    .values()
                    .filter(move |row| row.kind == kind && row.body["tag"] == *tag);
                of.filter_map(taken)
            };
            let quiet: Vec<_> = of_tag("cpr-opened")
                .map(|from| {
                    let over = of_tag("cpr-over").find(|at| *at >= from);
                    let most = from + CPR_MOST;
                    (from, over.map_or(most, |over| over.min(most)))
                })
                .collect();
            let excuse = |from: Duration, to: Duration| {
                let within =
                    |(a, b): &(Duration, Duration)| (*b).min(to).saturating_sub((*a).max(from));
                self.excuse(from, to) + quiet.iter().map(within).sum::<Duration>()
            };
            // What keeps it quiet is over: the ladder begins again then.
            let since = |from: Duration, to: Duration| {
                let over = quiet.iter().map(|(_, over)| *over);
                over.filter(|over| *over <= to).fold(from, Duration::max)
            };
            let late = came.at.saturating_sub(raised);
            if late > Duration::from_secs(12) + self.excuse(raised, came.at) {
                why.push(format!(
                    "alarm {no}: the first call came after {} s",
                    late.as_secs()
                ));
            }
            // A first call that comes behind a later one asks nobody to wait less for the next.
            let mut climbing = calls.clone();
            climbing.retain(|call| !call.says.contains(FIRST_WORDS) || std::ptr::eq(*call, *came));
            for pair in climbing.windows(2) {
                let (before, call) = (pair[0], pair[1]);
                if call.at > until {
                    break;
                }
                let gap = call.at - before.at;
                // Calls that waited come as one: the newest.
                let came_open = before.at.saturating_sub(raised);
                let stale = before.minutes > 0
                    && before.minutes < call.minutes
                    && call.says.contains(TOP_WORDS)
                    // It says whole minutes: at the end of this one it was due for sure.
                    && came_open > Duration::from_secs((call.minutes + 1) * 60) + SLACK;
                if stale && gap < AT_ONCE && !before.repeat {
                    why.push(format!(
                        "alarm {no}: the call at {} min came with that at {} min",
                        before.minutes, call.minutes
                    ));
                }
                let from = since(before.at, call.at);
                let wait = before.next() + SLACK + excuse(from, call.at);
                if call.at - from > wait {
                    why.push(format!(
                        "alarm {no}: {} s between two calls, at {} min",
                        gap.as_secs(),
                        call.minutes
                    ));
                }
            }
            // Whoever is back reads the newest, and none of before after that. A clock that is set back counts anew.
            let set_back = |to: Duration| {
                let back = |(at, step): &(Duration, TimeDelta)| {
                    *step < TimeDelta::zero() && *at + NEAR >= raised && *at <= to
                };
                self.steps.iter().any(back)
            };
            let mut newest: BTreeMap<u64, &Call> = BTreeMap::new();
            let in_order = calls.iter().filter(|call| {
                call.at <= until
                    && call.minutes > 0
                    && !call.repeat
                    && !call.says.contains(UNDELIVERED)
            });
            for call in in_order {
                let before = newest.insert(call.channel, call);
                let before = before.filter(|before| before.minutes > call.minutes);
                if let Some(before) = before.filter(|_| !set_back(call.at)) {
                    why.push(format!(
                        "alarm {no}: the call at {} min came after that at {} min",
                        call.minutes, before.minutes
                    ));
                }
            }
            let mut labels = BTreeSet::new();
            for call in calls.iter().filter(|call| call.at <= until && !call.repeat) {
                // Two calls that are refused at one moment are told elsewhere in the same words.
                let told = call.says.contains(UNDELIVERED);
                if call.minutes > 0 && !told && !labels.insert((call.minutes, &call.says)) {
                    why.push(format!("alarm {no}: called twice: {}", call.says));
                }
                let forward: TimeDelta = self
                    .steps
                    .iter()
                    .filter(|(at, step)| {
                        *at >= raised && *at <= call.at && *step > TimeDelta::zero()
                    })
                    .map(|(_, step)| *step)
                    .sum();
                let open =
                    call.at.saturating_sub(raised) + forward.to_std().unwrap_or_default() + SLACK;
                // Where nothing came between, a ladder that nobody has stopped is asked at its own minutes.
                let own =
                    call.says.contains("nobody has taken it") && !call.says.contains(SPARE_WORDS);
                // Who was put on it meanwhile is called for at once.
                let placed = of_tag("placed").any(|at| at >= raised && at <= call.at);
                let calm = excuse(raised, call.at).is_zero() && forward.is_zero() && !placed;
                if own && calm && !(call.minutes * 60).is_multiple_of(RUNG.as_secs()) {
                    why.push(format!("alarm {no}: called at {} min", call.minutes));
                }
                if open < Duration::from_secs(call.minutes * 60) {
                    why.push(format!(
                        "alarm {no}: called early, at {} min after {} s",
                        call.minutes,
                        open.as_secs()
                    ));
                }
            }
            let newest = climbing.iter().rfind(|call| call.at <= until);
            let last = newest.map_or(raised, |call| call.at);
            let most = newest.map_or(RUNG, |call| call.next());
            let from = since(last, until);
            let left = until.saturating_sub(from);
            if left > most + SLACK + excuse(from, until) {
                why.push(format!(
                    "alarm {no}: nobody was called in the last {} s",
                    left.as_secs()
                ));
            }
        }
    }

    /// Each list comes once, and comes.
    fn slots(&self, ends: Duration, why: &mut Vec<String>) {
        let mut there: BTreeMap<(u64, &str, NaiveDateTime), Vec<Duration>> = BTreeMap::new();
        for (channel, title, meant, at) in &self.lists {
            let times = there.entry((*channel, title, *meant)).or_default();
            times.push(*at);
        }
        for ((channel, title, meant), times) in &there {
            for pair in times.windows(2) {
                if let [first, second] = pair
                    && !self.comes_again(*first, *second)
                {
                    why.push(format!(
                        "{title} of {meant} came at {first:?} and again at {second:?} in {channel}"
                    ));
                }
            }
        }
        // Nobody is without any for two days, however long the power is away.
        for (name, _) in LISTS {
            let came = self
                .lists
                .iter()
                .any(|(_, title, ..)| title.starts_with(name));
            if !came && ends > LISTS_WITHIN {
                why.push(format!("{name} never came"));
            }
        }
        let places: BTreeSet<(u64, &str)> = self
            .lists
            .iter()
            .map(|(channel, title, ..)| (*channel, title.as_str()))
            .collect();
        for (channel, title) in places {
            let Some((_, hours)) = LISTS.iter().find(|(name, _)| title.starts_with(name)) else {
                continue;
            };
            let slots = self.days(ends).flat_map(|day| {
                let slots = hours
                    .iter()
                    .filter_map(move |(hour, minute)| day.and_hms_opt(*hour, *minute, 0));
                slots.filter_map(|slot| {
                    let at = (self.zone.instant(slot) - self.begins).to_std().ok()?;
                    Some((slot, at))
                })
            });
            let slots: Vec<_> = slots.collect();
            for (slot, next) in slots.iter().zip(slots.iter().skip(1)) {
                let (slot, at) = *slot;
                // Whoever comes back posts the newest that was missed, and only that. A request that went wrong makes a list
                // late and never takes it away.
                let back = self.back(at);
                let newest = next.1 > back + NEAR;
                let near = |one: Duration| one + STEP_NEAR >= at && one <= back + STEP_NEAR;
                let stepped = self.steps.iter().any(|(one, _)| near(*one)) || !self.right(at);
                let over = back + NEAR * 6 < ends;
                // A list that its channel did not let in is gone.
                if self.is_shut(channel, at.saturating_sub(NEAR), back + NEAR * 6) {
                    continue;
                }
                if newest && over && !stepped && !there.contains_key(&(channel, title, slot)) {
                    why.push(format!("{title} of {slot} never came in {channel}"));
                }
            }
        }
    }

    /// The clock is noted as set back as often as it was at most, and in all by no more.
    fn clock(&self, rows: &BTreeMap<u64, Row>, why: &mut Vec<String>) {
        let noted = rows.values().filter(|row| row.kind == "clock-stepped");
        let noted = noted.filter_map(|row| row.body["seconds"].as_i64());
        let noted: Vec<i64> = noted.filter(|seconds| *seconds < 0).collect();
        let back = self.steps.iter().map(|(_, step)| step.num_seconds());
        let back: Vec<i64> = back.filter(|seconds| *seconds < 0).collect();
        // Each is noted in whole seconds.
        let by = noted.iter().sum::<i64>() + noted.len() as i64;
        if noted.len() > back.len() || by < back.iter().sum() {
            why.push(format!("set back by {back:?}, and noted as {noted:?}"));
        }
    }

    /// Whether the clock was set back between two comings of a list by so much that it is meant to come again, at its time by
    /// the clock of then. Either may have left late: while the chat was away.
    fn comes_again(&self, first: Duration, second: Duration) -> bool {
        let between = self.steps.iter().filter(|(at, step)| {
            *step < TimeDelta::zero() && *at + STEP_NEAR >= first && *at <= second
        });
        let back: TimeDelta = between.map(|(_, step)| -*step).sum();
        back > COMES_AGAIN
    }

    /// The days of the story.
    fn days(&self, ends: Duration) -> impl Iterator<Item = NaiveDate> + use<> {
        let first = self.zone.local(self.begins).date();
        let count = ends.as_secs() / 86_400 + 2;
        first
            .iter_days()
            .take(usize::try_from(count).unwrap_or(usize::MAX))
    }

    /// When the program could do something again that was due at `at`; that moment itself, where it could do it then.
    fn back(&self, at: Duration) -> Duration {
        let dark = self.dark.iter().map(|(a, b)| (*a, b.unwrap_or(*a)));
        let mut away: Vec<_> = dark.chain(self.full.iter().copied()).collect();
        away.sort();
        let mut back = at;
        for (from, to) in away {
            if to + NEAR >= at && from <= back + NEAR {
                back = back.max(to);
            }
        }
        back
    }

    /// Whether the computer's clock is right.
    fn right(&self, at: Duration) -> bool {
        let ahead: TimeDelta = self
            .steps
            .iter()
            .filter(|(one, _)| *one <= at)
            .map(|(_, step)| *step)
            .sum();
        ahead.is_zero()
    }
}

/// What an answer says to its person, in its first line.
pub fn answer(request: &Request) -> Option<String> {
    let (Route::Callback { .. }, Body::Json(bytes)) = (&request.route, &request.body) else {
        return None;
    };
    let json: serde_json::Value = serde_json::from_slice(bytes).ok()?;
    let text = json["data"]["content"].as_str()?;
    Some(text.lines().next().unwrap_or_default().to_owned())
}

/// The newest of these times of day that is past.
fn newest(local: NaiveDateTime, hours: &[(u32, u32)]) -> NaiveDateTime {
    let today = hours
        .iter()
        .filter_map(|(hour, minute)| local.date().and_hms_opt(*hour, *minute, 0))
        .filter(|at| *at <= local)
        .max();
    let yesterday = || {
        let (hour, minute) = hours.last().copied().unwrap_or_default();
        local
            .date()
            .pred_opt()
            .and_then(|day| day.and_hms_opt(hour, minute, 0))
    };
    today
        .or_else(yesterday)
        .unwrap_or(local)
        .with_second(0)
        .unwrap_or(local)
}

/// The causes, each with its first entry and how many there are, and the entries.
fn read(database: &Path) -> Result<(Causes, BTreeMap<u64, Row>)> {
    let file = Connection::open_with_flags(database, OpenFlags::SQLITE_OPEN_READ_ONLY)?;
    let mut causes = BTreeMap::new();
    let mut of = BTreeMap::new();
    let mut asked =
        file.prepare("SELECT source, first, count FROM causes WHERE typeof(source) = 'integer'")?;
    let found = asked.query_map([], |row| {
        Ok((
            row.get::<_, i64>(0)?,
            row.get::<_, i64>(1)?,
            row.get::<_, i64>(2)?,
        ))
    })?;
    for one in found {
        let (source, first, count) = one?;
        causes.insert(source, (first as u64, count as u64));
        for no in first..first + count {
            of.insert(no as u64, source);
        }
    }
    let mut asked = file.prepare("SELECT no, kind, who, body, entered FROM records ORDER BY no")?;
    let found = asked.query_map([], |row| {
        Ok((
            row.get::<_, i64>(0)? as u64,
            row.get::<_, String>(1)?,
            row.get::<_, Option<i64>>(2)?,
            row.get::<_, String>(3)?,
            row.get::<_, i64>(4)?,
        ))
    })?;
    let mut rows = BTreeMap::new();
    for one in found {
        let (no, kind, who, body, entered) = one?;
        let row = Row {
            no,
            kind,
            who: who.map(|who| who as u64),
            body: serde_json::from_str(&body)?,
            cause: of.get(&no).copied().unwrap_or(0),
            entered: DateTime::from_timestamp_millis(entered).unwrap_or_default(),
        };
        rows.insert(no, row);
    }
    Ok((causes, rows))
}
