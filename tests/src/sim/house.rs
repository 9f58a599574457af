//! The home of a story: the production desk over its file, a strict chat, and every clock in our hands. Decides what
//! happens in which order, and what each fault of the [`Weather`] does; whatever people could see goes to the [`Model`].

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use anyhow::{Context, Result, ensure};
use bot::clock::Moment;
use bot::desk::{Desk, Input, Output, Tag};
use bot::event::Heard;
use bot::register::Catalogue;
use bot::request::{Outcome, Request, Route};
use chrono::{DateTime, TimeDelta, Utc};
use commands::ids::Person;
use commands::said::FetchFault;
use fastrand::Rng;
use store::Store;
use tempfile::TempDir;

use super::Story;
use super::model::{Model, Tally};
use super::people::{self, Act};
use super::weather::{self, Weather};
use crate::talk::act;
use crate::talk::cast::Cast;
use crate::talk::chat::Chat;
use crate::talk::disk::{self, Commits, Disk};
use crate::talk::stage::{Kept, Scene, Thing};
use crate::talk::talker;
use crate::talk::world::{self, ACT_WITHIN, GUILD, World, home_zone, joined, private, scratch};

/// The mornings on which stories begin: three days before each change of the clocks in the home's zone (8 March and 1 November
/// 2026), so that the shortest story sees it, and far from both.
const BEGINS: [&str; 3] = ["2026-03-05 06:10", "2026-10-29 06:10", "2026-06-01 06:10"];
/// A story ends with so much time in which nothing more goes wrong, so that all that is owed can come.
const QUIET: Duration = Duration::from_secs(45 * 60);
/// More steps than this without time passing mean that it never comes to rest.
const STEPS_MOST: usize = 3_000;
/// What is not answered within this is given up by whoever sent it.
const TIMEOUT: Duration = Duration::from_secs(10);
/// How soon the unit starts a program again that could not.
const RESTART: Duration = Duration::from_secs(30);
/// What the chat answers to whom a channel does not let in.
const SHUT: Outcome = Outcome::Refused {
    status: 403,
    code: 50_001,
};
/// The channels of the home.
const CHANNELS: [&str; 3] = ["elm", "care", "office"];
/// Steady time when a program starts.
const BOOT: Duration = Duration::from_secs(100);

/// What happens next.
enum Next {
    /// The program is handed this.
    Input(Box<Input>),
    /// Somebody does something, and, where it is `again`, so does somebody later.
    Act { again: bool },
    /// Somebody who was called goes there, and so many more taps follow.
    Respond { who: Person, taps: u8 },
    /// The program stops: in good order, or because the power fails; and, where it is `again`, so it does some time later.
    Dark { again: bool },
    /// It starts.
    Light,
    /// The disk is full, or may only be read.
    Full,
    /// The disk has room again.
    Room,
    /// The computer's clock is stepped, and, where it is `again`, so it is some time later.
    Step { again: bool },
    /// Somebody's roles change.
    Roles,
    /// The chat can hardly be reached for a while, and, where it is `again`, so it is some time later.
    Outage { again: bool },
    /// A channel lets nobody of ours in for a while.
    Shut,
    /// People talk to each other in a channel.
    Talk,
    /// The connection that events come by breaks, and there is another a while later.
    Gap,
}

/// The home.
pub struct House {
    dice: Rng,
    weather: Weather,
    cast: Cast,
    chat: Chat,
    kept: BTreeMap<String, Kept>,
    model: Model,
    desk: Option<Desk>,
    root: TempDir,
    folder: PathBuf,
    folders: usize,
    catalogue: Arc<Catalogue>,
    begins: DateTime<Utc>,
    passed: Duration,
    ends: Duration,
    /// How far the computer's clock is ahead of the time.
    ahead: TimeDelta,
    /// How far it was stepped since the program started.
    stepped: TimeDelta,
    /// When the program started.
    started: Duration,
    queue: BTreeMap<(Duration, u64), Next>,
    turns: u64,
    disk: Disk,
    /// Until then the chat can hardly be reached.
    out_until: Duration,
    /// Which channels let nobody of ours in, and until when.
    shut: BTreeMap<u64, Duration>,
    /// Until then events have no connection to come by.
    gap_until: Duration,
    /// What happened meanwhile is told then, because the session goes on.
    resumes: bool,
    told: Vec<String>,
}

impl House {
    /// A home that is set up, on the morning on which the story begins.
    ///
    /// # Errors
    /// When its file cannot be made.
    pub fn open(story: Story, scenarios: &Path) -> Result<Self> {
        let mut dice = Rng::with_seed(story.seed);
        let begins = BEGINS[dice.usize(..BEGINS.len())];
        let begins = home_zone().instant(act::date_and_time(begins).context("a morning")?);
        let weather = Weather::of(&mut dice);
        let root = scratch()?;
        let folder = root.path().join("0");
        private(&folder)?;
        let mut world = World::new(begins)?;
        let prelude = talker::read(&scenarios.join("homes").join("elm.txt"))?;
        for step in prelude.steps() {
            act::perform(&mut world, step).context("the home")?;
        }
        let (cast, mut chat) = world.leave(&folder)?;
        chat.messages.clear();
        chat.noticed.clear();
        let mut house = Self {
            model: Model::new(begins, home_zone()),
            weather,
            cast,
            chat,
            kept: BTreeMap::new(),
            desk: None,
            root,
            folder,
            folders: 1,
            catalogue: Catalogue::of_table(),
            begins,
            passed: Duration::ZERO,
            ends: Duration::from_secs(u64::from(story.days) * 86_400),
            ahead: TimeDelta::zero(),
            stepped: TimeDelta::zero(),
            started: Duration::ZERO,
            queue: BTreeMap::new(),
            turns: 0,
            disk: Disk::Roomy,
            out_until: Duration::ZERO,
            shut: BTreeMap::new(),
            gap_until: Duration::ZERO,
            resumes: false,
            told: Vec::new(),
            dice,
        };
        let weather = format!("{:?}", house.weather);
        house.tell(&weather);
        house.light()?;
        Ok(house)
    }

    /// Lives to the end of the story.
    ///
    /// # Errors
    /// When it cannot go on.
    pub fn live(&mut self) -> Result<()> {
        let weather = self.weather.clone();
        self.soon(Next::Act { again: true }, 40 * 60);
        for (hours, next) in [
            (weather.cut_hours, Next::Dark { again: true }),
            (weather.full_hours, Next::Full),
            (weather.step_hours, Next::Step { again: true }),
            (weather.role_hours, Next::Roles),
            (weather.outage_hours, Next::Outage { again: true }),
            (weather.shut_hours, Next::Shut),
            (weather.gap_hours, Next::Gap),
        ] {
            if hours > 0 {
                self.soon(next, hours * 3_600);
            }
        }
        self.until(self.ends)
    }

    /// Nothing more goes wrong, what is owed comes, and all of it is looked at.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn end(mut self) -> Result<(Tally, Vec<String>, Vec<String>)> {
        self.weather = Weather::default();
        self.out_until = self.passed;
        self.gap_until = self.passed;
        self.shut.clear();
        self.queue
            .retain(|_, next| matches!(next, Next::Input(_) | Next::Light | Next::Room));
        let quiet_from = self.passed;
        self.until(self.passed + Duration::from_secs(21 * 3_600))?;
        ensure!(
            self.desk.is_some() && self.disk == Disk::Roomy,
            "the program does not run in the end"
        );
        self.until(self.passed + QUIET)?;
        let now = self.moment();
        if let Some(mut desk) = self.desk.take() {
            desk.stop(now);
        }
        let store = Store::open(&self.folder, GUILD)?;
        let sound = store.verify();
        drop(store);
        let (tally, mut why) =
            self.model
                .judge(&self.database(), &self.chat, quiet_from, self.passed)?;
        if let Err(trouble) = sound {
            why.push(format!("the file does not hold together: {trouble:?}"));
        }
        Ok((tally, why, self.told))
    }

    fn until(&mut self, end: Duration) -> Result<()> {
        let mut still = 0;
        loop {
            let next = self.queue.keys().next().map(|(at, _)| *at);
            let wakes = self.wakes();
            let Some(at) = [next, wakes]
                .into_iter()
                .flatten()
                .min()
                .filter(|at| *at <= end)
            else {
                break;
            };
            still = if at > self.passed { 0 } else { still + 1 };
            ensure!(still < STEPS_MOST, "it never comes to rest");
            self.passed = self.passed.max(at);
            let mut inputs = Vec::new();
            while let Some(entry) = self.queue.first_entry() {
                if entry.key().0 > self.passed {
                    break;
                }
                match entry.remove() {
                    Next::Input(input) => inputs.push(*input),
                    other @ (Next::Act { .. }
                    | Next::Respond { .. }
                    | Next::Dark { .. }
                    | Next::Light
                    | Next::Full
                    | Next::Room
                    | Next::Step { .. }
                    | Next::Roles
                    | Next::Outage { .. }
                    | Next::Shut
                    | Next::Talk
                    | Next::Gap) => self.happens(other)?,
                }
            }
            self.turn(inputs)?;
        }
        self.passed = self.passed.max(end);
        Ok(())
    }

    fn happens(&mut self, next: Next) -> Result<()> {
        match next {
            Next::Input(_) => {}
            Next::Act { again } => {
                let together = if self.dice.u8(0..12) == 0 { 3 } else { 1 };
                for _ in 0..together {
                    self.somebody_acts();
                }
                if again {
                    // The quiet of the night is as good as any.
                    self.soon(Next::Act { again }, 60 * 60);
                }
            }
            Next::Respond { who, taps } => {
                if let Some(act) = people::responds(&mut self.dice, &self.cast, &self.chat, who) {
                    self.acts(act);
                }
                if taps > 0 {
                    let wait = Duration::from_secs(self.dice.u64(5..240));
                    let next = Next::Respond {
                        who,
                        taps: taps - 1,
                    };
                    self.queue_at(self.passed + wait, next);
                }
            }
            Next::Dark { again } => {
                let cleanly = self.dice.u8(0..4) == 0;
                self.dark(cleanly, None)?;
                if again {
                    let hours = self.weather.cut_hours;
                    self.soon(Next::Dark { again }, hours * 7_200);
                }
            }
            Next::Light => self.light()?,
            Next::Full => {
                if self.disk == Disk::Roomy {
                    self.disk = if self.dice.bool() {
                        Disk::Tight
                    } else {
                        Disk::Shut
                    };
                    self.tell(&format!("the disk is {:?}", self.disk));
                    disk::becomes(&self.database(), self.disk)?;
                    self.model.full(self.passed);
                }
                self.soon(Next::Room, 3_600);
                let hours = self.weather.full_hours;
                self.soon(Next::Full, hours * 7_200);
            }
            Next::Room => {
                if self.disk != Disk::Roomy {
                    self.tell("the disk has room again");
                    self.disk = Disk::Roomy;
                    disk::becomes(&self.database(), self.disk)?;
                    self.model.room(self.passed);
                }
            }
            Next::Step { again } => {
                let step = weather::step(&mut self.dice);
                // A computer whose clock is set is not set wrong by more and more.
                let step = if self.ahead.abs() > TimeDelta::hours(3) {
                    -self.ahead
                } else {
                    step
                };
                self.tell(&format!("the clock is stepped by {} s", step.num_seconds()));
                self.ahead += step;
                self.stepped += step;
                self.model.stepped(self.passed, step);
                if again {
                    let hours = self.weather.step_hours;
                    self.soon(Next::Step { again }, hours * 7_200);
                }
                // What the file knows of the clock is of before, until it is noted again.
                if self.weather.cut_hours > 0 && self.dice.u8(0..4) == 0 {
                    self.soon(Next::Act { again: false }, 30);
                    self.soon(Next::Dark { again: false }, 120);
                }
            }
            Next::Roles => {
                let people = self.cast.people();
                let name = people[self.dice.usize(..people.len())].name.clone();
                let roles = ["aide", "nurse", "supervisor", "upkeep", "no role"];
                let role = roles[self.dice.usize(..roles.len())];
                self.tell(&format!("{name} is now: {role}"));
                self.cast
                    .add(&format!("{name}, {role}"))
                    .map_err(anyhow::Error::msg)?;
                let hours = self.weather.role_hours;
                self.soon(Next::Roles, hours * 7_200);
            }
            Next::Outage { again } => {
                let lasts = weather::outage(&mut self.dice);
                self.tell(&format!(
                    "the chat is hardly there for {} s",
                    lasts.as_secs()
                ));
                self.out_until = self.out_until.max(self.passed + lasts);
                let within = u32::try_from(lasts.as_secs()).unwrap_or(u32::MAX);
                self.soon(Next::Talk, within);
                if again {
                    let hours = self.weather.outage_hours;
                    self.soon(Next::Outage { again }, hours * 7_200);
                }
                // What is on its way meanwhile is timed by the clock.
                if self.weather.step_hours > 0 && self.dice.u8(0..4) == 0 {
                    self.soon(Next::Step { again: false }, within);
                }
            }
            Next::Talk => {
                let name = CHANNELS[self.dice.usize(..CHANNELS.len())];
                let channel = self.cast.channel(name).0;
                let messages = self.dice.usize(1..120);
                self.tell(&format!("#{name} reads {messages} messages of people"));
                let now = self.moment_of_chat();
                self.chat.chatter(channel, messages, now);
            }
            Next::Shut => {
                let name = CHANNELS[self.dice.usize(..CHANNELS.len())];
                let channel = self.cast.channel(name).0;
                let until = self.passed + weather::shut(&mut self.dice);
                let lasts = (until - self.passed).as_secs();
                self.tell(&format!("#{name} lets nobody of ours in for {lasts} s"));
                self.shut.insert(channel, until);
                self.model.shut(channel, self.passed, until);
                let hours = self.weather.shut_hours;
                self.soon(Next::Shut, hours * 7_200);
            }
            Next::Gap => {
                let lasts = weather::gap(&mut self.dice);
                self.gap_until = self.passed + lasts;
                self.resumes = self.dice.bool();
                let then = if self.resumes { "late" } else { "never" };
                self.tell(&format!(
                    "what happens in the next {} s is told {then}",
                    lasts.as_secs()
                ));
                if !self.resumes {
                    // A session that is new tells first where it is.
                    self.give(joined(&self.cast), lasts);
                }
                // In a gap that nobody does anything in nothing can be lost.
                for _ in 0..self.dice.u8(1..4) {
                    self.soon(Next::Act { again: false }, lasts.as_secs() as u32);
                }
                let hours = self.weather.gap_hours;
                self.soon(Next::Gap, hours * 7_200);
            }
        }
        Ok(())
    }

    fn somebody_acts(&mut self) {
        if let Some(act) = people::act(&mut self.dice, &self.cast, &self.chat) {
            self.acts(act);
        }
    }

    fn acts(&mut self, act: Act) {
        let (thing, line) = match act {
            Act::Tap(thing, line) => (thing, line),
            Act::Line(line) => {
                let mut scene = Scene {
                    cast: &mut self.cast,
                    chat: &mut self.chat,
                    kept: &mut self.kept,
                };
                match act::typed(&mut scene, &line) {
                    Ok(thing) => (thing, line),
                    Err(why) => {
                        self.tell(&format!("cannot be typed: {line}: {why:#}"));
                        return;
                    }
                }
            }
        };
        self.does(&thing, line);
    }

    fn does(&mut self, thing: &Thing, line: String) {
        self.tell(&line);
        self.chat.forms.remove(&thing.who.0);
        let heard = self.heard(thing, line);
        if self.dice.f64() < self.weather.missed {
            return;
        }
        let late = self.dice.f64() < self.weather.late;
        let gap = self.gap_until.saturating_sub(self.passed);
        if !gap.is_zero() && !self.resumes {
            self.tell("    lost with its connection");
            return;
        }
        let wait = gap
            + if late {
                Duration::from_millis(self.dice.u64(2_600..600_000))
            } else {
                Duration::from_millis(self.dice.u64(10..300))
            };
        self.give(Input::Heard(heard.clone()), wait);
        if self.dice.f64() < self.weather.twice {
            let again = Duration::from_millis(match self.dice.u8(0..3) {
                0 => 0,
                1 => self.dice.u64(0..2_000),
                _ => self.dice.u64(2_000..7_200_000),
            });
            self.give(Input::Heard(heard), wait + again);
        }
    }

    fn heard(&mut self, thing: &Thing, line: String) -> Heard {
        let (now, there) = (self.moment(), self.moment_of_chat());
        let (id, heard) = world::heard(&self.cast, &mut self.chat, thing, there, now);
        self.model.asked(id, &heard.ask, line, self.passed);
        heard
    }

    /// Steps the desk, if the program runs.
    fn turn(&mut self, inputs: Vec<Input>) -> Result<()> {
        let now = self.moment();
        let cut = self.dice.f64() < self.weather.cut_commit;
        let before = cut.then(|| Commits::of(&self.database()));
        let Some(desk) = &mut self.desk else {
            return Ok(());
        };
        // An event's time is stamped when it comes in.
        let inputs: Vec<Input> = inputs
            .into_iter()
            .map(|input| match input {
                Input::Heard(mut heard) => {
                    heard.ask.at = now.facility;
                    // How old it is shows from its number, also to a program that started since.
                    if let Some(made) = self.model.when(&heard.way)
                        && made + ACT_WITHIN < self.passed
                    {
                        heard.act_by = Duration::ZERO;
                    }
                    Input::Heard(heard)
                }
                other @ (Input::Fetched { .. }
                | Input::Came { .. }
                | Input::Joined { .. }
                | Input::NoBackup { .. }
                | Input::RoleMade(_)
                | Input::RoleGone(_)) => other,
            })
            .collect();
        let out = desk.step(inputs, now);
        if let Some(before) = before {
            let after = Commits::of(&self.database());
            let new = after.since(before.mark());
            // On disk is what was committed up to any of them, or nothing of this step.
            let mut ends: Vec<usize> = before.end().into_iter().collect();
            ends.extend(new);
            if !new.is_empty() && after.follows(&before) {
                let end = ends[self.dice.usize(..ends.len())];
                return self.dark(false, Some(end));
            }
        }
        for output in out {
            match output {
                Output::Send { tag, request } => {
                    if self.send(tag, &request) {
                        return self.dark(false, None);
                    }
                }
                Output::Fetch { heard, .. } => {
                    let file = Err(FetchFault::Unavailable);
                    self.give(Input::Fetched { heard, file }, TIMEOUT);
                }
                Output::Registered => {}
            }
        }
        self.chat.noticed.clear();
        Ok(())
    }

    /// Sends a request through the weather. Returns whether the power fails right after the chat took it.
    fn send(&mut self, tag: Tag, request: &Request) -> bool {
        let mut luck = self.dice.f64();
        // One of them at most: what is left of it is below nothing for all that come after.
        let mut is = |share: f64| {
            let now = (0.0..share).contains(&luck);
            luck -= share;
            now
        };
        let weather = if self.passed < self.out_until {
            self.weather.in_outage()
        } else {
            self.weather.clone()
        };
        let (lost, unheard) = (is(weather.lost), is(weather.unheard));
        let (limited, failed) = (is(weather.limited), is(weather.failed));
        if lost || unheard || limited || failed {
            self.model.fault(self.passed);
            let what = [
                (lost, "lost"),
                (unheard, "done unheard"),
                (limited, "limited"),
                (failed, "failed"),
            ];
            let what = what.iter().find_map(|(is, what)| is.then_some(*what));
            let name = request.route.name();
            self.tell(&format!("{name} {}: {tag:?}", what.unwrap_or_default()));
        }
        let shortly = Duration::from_millis(self.dice.u64(20..400));
        let reaches = !(lost || limited || failed && self.dice.bool());
        let outcome = reaches.then(|| self.carry(request));
        let (outcome, wait) = match outcome {
            Some(outcome) if !unheard && !failed => (outcome, shortly),
            Some(_) if failed => (Outcome::Unsure, shortly),
            Some(_) => (Outcome::Unsure, TIMEOUT),
            None if limited => {
                let wait = Duration::from_millis(self.dice.u64(300..30_000));
                (Outcome::Limited(wait), shortly)
            }
            None if failed => (Outcome::Unsure, shortly),
            None if self.dice.bool() => (Outcome::NotMade, shortly),
            None => (Outcome::Unsure, TIMEOUT),
        };
        self.give(Input::Came { tag, outcome }, wait);
        reaches && self.dice.f64() < self.weather.cut_send
    }

    fn carry(&mut self, request: &Request) -> Outcome {
        if let Route::Post { channel }
        | Route::Edit { channel, .. }
        | Route::History { channel, .. } = request.route
            && self
                .shut
                .get(&channel)
                .is_some_and(|until| self.passed < *until)
        {
            let name = request.route.name();
            self.tell(&format!("    {name}: not let in"));
            self.model.refused(request, channel, self.passed);
            return SHUT;
        }
        let there = self.moment_of_chat();
        let messages = self.chat.messages.len();
        let (outcome, _) = self.chat.carry(request, there);
        if matches!(outcome, Outcome::Made(_)) {
            let new = self.chat.messages.get(messages);
            let said = new.map(|new| new.look.text.lines().next().unwrap_or_default());
            let said = said.map(|said| format!("    > {said}"));
            let called = self.model.reached(request, new, self.passed, self.now());
            said.iter().for_each(|said| self.tell(said));
            if let Some(answer) = super::model::answer(request) {
                self.tell(&format!("    = {answer}"));
            }
            // Out of the blue either would seldom be while an alarm is open.
            let of_many = |dice: &mut Rng, hours: u32| called && hours > 0 && dice.u8(0..24) == 0;
            if of_many(&mut self.dice, self.weather.step_hours) {
                self.soon(Next::Step { again: false }, 300);
            }
            if of_many(&mut self.dice, self.weather.outage_hours) {
                self.soon(Next::Outage { again: false }, 300);
            }
            // Not everybody hears it, and not everybody who does is near.
            let hear = if self.weather.deaf { 1 } else { 8 };
            if called && self.dice.u8(0..10) < hear {
                let who = people::whoever(&mut self.dice, &self.cast, "ans").id;
                let wait = Duration::from_secs(self.dice.u64(20..900));
                self.queue_at(self.passed + wait, Next::Respond { who, taps: 6 });
            }
        }
        outcome
    }

    fn dark(&mut self, cleanly: bool, end: Option<usize>) -> Result<()> {
        let now = self.moment();
        let Some(mut desk) = self.desk.take() else {
            return Ok(());
        };
        let down = weather::dark(&mut self.dice);
        let how = if cleanly {
            "loftwatch stops"
        } else {
            "the power fails"
        };
        self.tell(&format!("{how} for {} s", down.as_secs()));
        if cleanly {
            desk.stop(now);
        }
        drop(desk);
        let folder = self.root.path().join(self.folders.to_string());
        self.folders += 1;
        private(&folder)?;
        disk::survives(&self.database(), &folder, end)?;
        std::fs::remove_dir_all(&self.folder)?;
        self.folder = folder;
        self.queue.retain(|_, next| !matches!(next, Next::Input(_)));
        self.queue_at(self.passed + down, Next::Light);
        self.soon(
            Next::Talk,
            u32::try_from(down.as_secs()).unwrap_or(u32::MAX),
        );
        self.model.dark(self.passed);
        Ok(())
    }

    fn light(&mut self) -> Result<()> {
        if self.desk.is_some() {
            return Ok(());
        }
        self.tell("loftwatch starts");
        self.started = self.passed;
        self.stepped = TimeDelta::zero();
        self.gap_until = self.passed;
        self.model.light(self.passed);
        let now = self.moment();
        match Desk::open(&self.folder, GUILD, self.catalogue.clone(), now) {
            Ok(desk) => self.desk = Some(desk),
            // It ends with an exit code after which the unit starts it again.
            Err(_) if self.disk != Disk::Roomy => {
                self.tell("loftwatch cannot start on this disk");
                self.model.dark(self.passed);
                self.queue_at(self.passed + RESTART, Next::Light);
                return Ok(());
            }
            Err(fault) => return Err(fault.into()),
        }
        let joined = joined(&self.cast);
        self.give(joined, Duration::ZERO);
        Ok(())
    }

    /// When the desk has something to do, as time that has passed.
    fn wakes(&self) -> Option<Duration> {
        let desk = self.desk.as_ref()?;
        let now = self.moment();
        let passes = |at: DateTime<Utc>| {
            let left = (at - now.facility).to_std().unwrap_or_default();
            self.passed + left
        };
        let due = [desk.next_due(now), desk.next_alive()];
        let due = due.into_iter().flatten().map(passes).min();
        let tries = desk
            .next_try()
            .map(|at| (at + self.started).saturating_sub(BOOT).max(self.passed));
        [due, tries].into_iter().flatten().min()
    }

    /// The time by the computer's clock.
    fn now(&self) -> DateTime<Utc> {
        self.begins + TimeDelta::milliseconds(self.passed.as_millis() as i64) + self.ahead
    }

    fn moment(&self) -> Moment {
        Moment {
            facility: self.now(),
            wall: self.now(),
            mono: self.passed - self.started + BOOT,
            stepped: self.stepped,
        }
    }

    /// The chat has clocks of its own, and they are right.
    fn moment_of_chat(&self) -> Moment {
        Moment {
            facility: self.now(),
            wall: self.now() - self.ahead,
            mono: self.passed + BOOT,
            stepped: TimeDelta::zero(),
        }
    }

    fn give(&mut self, input: Input, wait: Duration) {
        self.queue_at(self.passed + wait, Next::Input(Box::new(input)));
    }

    fn soon(&mut self, next: Next, most_seconds: u32) {
        let wait =
            Duration::from_millis(self.dice.u64(1_000..u64::from(most_seconds.max(2)) * 1_000));
        self.queue_at(self.passed + wait, next);
    }

    fn queue_at(&mut self, at: Duration, next: Next) {
        self.turns += 1;
        self.queue.insert((at, self.turns), next);
    }

    fn tell(&mut self, what: &str) {
        let at = home_zone().local(self.now());
        self.told
            .push(format!("{} {what}", at.format("%m-%d %H:%M:%S")));
    }

    fn database(&self) -> PathBuf {
        self.folder.join(format!("{GUILD}.loft"))
    }
}
