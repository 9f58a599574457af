//! One facility's desk: where what was said, the state and the file meet. Decides the order (one cause
//! after another, one commit for all that waits, answers only after it) and nothing of the trade. A step
//! machine: inputs and the time in, requests out; threads and connections are [`crate::run`]'s.

mod memory;
mod outbox;
mod recent;
mod reply;
mod restored;
mod unasked;
mod unsaved;

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use commands::ids::{ChatRole, Guild};
use commands::record::Body;
use commands::said::{FetchFault, FileRef};
use commands::words::Lang;
use commands::{Said, Source, State};
use store::{Prepared, StoreError};

use crate::clock::Moment;
use crate::counters::Seen;
use crate::delivery::{Delivery, Settled};
use crate::event::{Heard, Way};
use crate::owed::{self, Answers};
use crate::register::{self, Catalogue, Registrar};
use crate::request::{Outcome, Request};
use memory::{Cause, Failed, Memory, Reply, Why};
use recent::Recent;
pub use reply::fail;
use reply::{fetched, given_up, not_recorded, plain};
use restored::Restored;
pub(crate) use unsaved::{Fails, Unsaved};

/// The most things the clock asks for in one step; what is left comes in the next.
const TICKS_MAX: usize = 32;
/// A rule that asks for the same thing again is asked again after this long.
const TICK_REST: Duration = Duration::from_secs(60);
/// How often the file notes that the program was there.
const ALIVE_EVERY: TimeDelta = TimeDelta::minutes(5);
/// Records after which a snapshot is taken when nobody waits, and when somebody does.
const SNAPSHOT_IDLE: u64 = 2_000;
const SNAPSHOT_BUSY: u64 = 20_000;
/// Records after which stopping takes one.
const SNAPSHOT_STOP: u64 = 100;
/// For this long after opening an event may have been handled by the run before.
const EARLY: Duration = Duration::from_secs(60);
/// What the platform says elsewhere to whom a channel does not let read.
const MAY_NOT_READ: Outcome = Outcome::Refused {
    status: 403,
    code: 50_001,
};
/// A file that failed is opened again after this long.
const REOPEN_AFTER: Duration = Duration::from_secs(5);
/// What was erased and could not leave the file is tried again after this long at most.
const SCRUB_REST: Duration = Duration::from_secs(600);
/// A clock that shows less than it did, by more than this, was set back.
const SET_BACK: TimeDelta = TimeDelta::seconds(2);
/// After so many tries that the file refused, the rests between them grow no longer.
const REFUSED_MOST: u32 = 6;
/// After so many it is known that it is no other program's moment with the file.
const REFUSED_KNOWN: u32 = 2;
/// Rows looked at for delivery at once.
const ROWS_MAX: usize = 512;

/// What a desk is handed.
#[derive(Debug)]
pub enum Input {
    /// Somebody said something.
    Heard(Heard),
    /// A file that was asked for.
    Fetched {
        /// The command that named it.
        heard: Box<Heard>,
        /// Its bytes, or why there are none.
        file: Result<Vec<u8>, FetchFault>,
    },
    /// A request came to this.
    Came {
        /// Which.
        tag: Tag,
        /// What became of it.
        outcome: Outcome,
    },
    /// The gateway says that we are in the guild.
    Joined {
        /// Our application.
        app: u64,
        /// Our user.
        us: u64,
        /// The chat's roles.
        roles: BTreeSet<ChatRole>,
    },
    /// No backup of this facility could be made.
    NoBackup {
        /// When the newest there is was made.
        last: Option<DateTime<Utc>>,
    },
    /// The chat has a role more.
    RoleMade(ChatRole),
    /// The chat has a role less.
    RoleGone(ChatRole),
}

/// Which request an outcome belongs to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Tag {
    /// Nobody waits for its outcome.
    Nothing,
    /// The answer owed for this cause.
    Answer(Source),
    /// This row of the outbox.
    Row(i64),
    /// The look for this row's message.
    Look(i64),
    /// The guild's commands.
    Register,
}

/// What a desk asks for.
#[derive(Debug)]
pub enum Output {
    /// A request to the platform; its outcome comes back as [`Input::Came`], unless nobody waits for it.
    Send {
        /// Which.
        tag: Tag,
        /// What.
        request: Request,
    },
    /// A file, after the deferral that is sent with it; comes back as [`Input::Fetched`].
    Fetch {
        /// The command that names it.
        heard: Box<Heard>,
        /// The file.
        file: FileRef,
        /// The deferral.
        first: Request,
    },
    /// The guild has our commands.
    Registered,
}

/// One facility's desk.
pub struct Desk {
    guild: Guild,
    folder: PathBuf,
    /// Nothing while the file cannot be used.
    memory: Option<Memory>,
    reopen_at: Duration,
    recent: Recent,
    answers: Answers,
    delivery: Delivery,
    registrar: Registrar,
    /// Commands whose file is on its way: they were told to wait.
    fetching: BTreeMap<Source, Box<Heard>>,
    /// Answers given that the file still has as owed.
    given: Vec<Source>,
    settle_at: Option<Duration>,
    outbox_dirty: bool,
    /// What became of messages in this step.
    fresh: Vec<Settled>,
    /// What became of messages, where the file did not take it yet.
    unwritten: BTreeMap<i64, Settled>,
    unwritten_at: Duration,
    /// Rows that went on their way while the file did not take that they do.
    unmarked: Vec<i64>,
    /// The file may have messages as on their way that nobody here holds.
    adopts: bool,
    alive_at: Option<DateTime<Utc>>,
    away_since: Option<DateTime<Utc>>,
    /// The file was put back from a backup that ends then, and nobody was told.
    put_back: Option<DateTime<Utc>>,
    /// Which messages in the chat are from before the file was put back, if it ever was.
    restored: Option<Restored>,
    /// How far the clock had been stepped when the file was last told.
    stepped: TimeDelta,
    tick_rests_until: Duration,
    /// The file took nothing in this step. What can wait is not tried in it any more: while another program has the file each try
    /// takes seconds, and people wait for their answers.
    shut: bool,
    /// How often in a row the file took nothing.
    refused: u32,
    /// How often in a row what is due could not be done, for another reason.
    undone: u32,
    /// That the file takes nothing, or nobody is called, and who is told.
    unsaved: Unsaved,
    /// Calls that the chat took nowhere since it last took one.
    unheard: usize,
    opened: Duration,
    /// When what was erased is to leave the file, if there is any.
    scrub_at: Option<Duration>,
    /// How long that rested after it last failed.
    scrub_rest: Duration,
    /// The chat's roles, once it has told them.
    roles: Option<BTreeSet<ChatRole>>,
    /// Of one that is gone not everybody may have been told.
    says_deleted: bool,
}

impl Desk {
    /// Opens the facility's file, takes over what an earlier run left, and is ready to step.
    ///
    /// # Errors
    /// When the file cannot be used.
    pub fn open(
        folder: &Path,
        guild: Guild,
        catalogue: Arc<Catalogue>,
        now: Moment,
    ) -> Result<Self, StoreError> {
        Self::open_telling(folder, guild, catalogue, now, &|| {})
    }

    /// The same; `goes_on` is called again and again while a log of years is read.
    ///
    /// # Errors
    /// As [`Desk::open`].
    pub fn open_telling(
        folder: &Path,
        guild: Guild,
        catalogue: Arc<Catalogue>,
        now: Moment,
        goes_on: &dyn Fn(),
    ) -> Result<Self, StoreError> {
        let mut desk = Self {
            guild,
            folder: folder.to_owned(),
            memory: None,
            reopen_at: Duration::ZERO,
            recent: Recent::default(),
            answers: Answers::default(),
            delivery: Delivery::default(),
            registrar: Registrar::new(guild, catalogue),
            fetching: BTreeMap::new(),
            given: Vec::new(),
            settle_at: None,
            outbox_dirty: true,
            fresh: Vec::new(),
            unwritten: BTreeMap::new(),
            unwritten_at: Duration::ZERO,
            unmarked: Vec::new(),
            adopts: false,
            alive_at: None,
            away_since: None,
            put_back: None,
            restored: None,
            stepped: now.stepped,
            tick_rests_until: Duration::ZERO,
            shut: false,
            refused: 0,
            undone: 0,
            unsaved: Unsaved::default(),
            unheard: 0,
            opened: now.mono,
            // An earlier run may have been cut short, perhaps by just that: first comes what people wait for.
            scrub_at: Some(now.mono + EARLY),
            scrub_rest: Duration::ZERO,
            roles: None,
            says_deleted: false,
        };
        let mut memory = Memory::open(folder, guild, goes_on)?;
        desk.away_since = memory.store.last_alive()?;
        desk.put_back = memory.put_back(now)?;
        desk.restored = Restored::of(None, &memory.store, now.mono)?;
        // A clock that shows less than it did before was set back while nobody looked, by that much at least.
        let back = memory.newest_moment()?.map(|known| known - now.facility);
        desk.stepped += back.filter(|back| *back > SET_BACK).unwrap_or_default();
        for (source, owed) in memory.owed(guild)? {
            desk.answers.found(source, owed, now);
        }
        desk.delivery.begins(memory.store.newest_row()?);
        // What an earlier run left on its way is taken over with the first step.
        desk.adopts = true;
        desk.memory = Some(memory);
        Ok(desk)
    }

    /// Does all that can be done at this moment.
    pub fn step(&mut self, inputs: impl IntoIterator<Item = Input>, now: Moment) -> Vec<Output> {
        let mut out = Vec::new();
        self.shut = false;
        self.reopen(now);
        let mut asked = VecDeque::new();
        let mut idle = true;
        for input in inputs {
            idle = false;
            match input {
                Input::Heard(mut heard) => {
                    self.hear_language(&mut heard);
                    heard.ask.deleted = self.deleted();
                    self.chat_spoke(&heard, now);
                    asked.push_back(heard);
                }
                Input::Fetched { heard, file } => {
                    self.fetching.remove(&heard.ask.source);
                    asked.extend(fetched(*heard, file));
                }
                Input::Came { tag, outcome } => self.came(tag, &outcome, now, &mut out),
                Input::NoBackup { last } => {
                    let state = self.memory.as_ref().map(|memory| &memory.state);
                    let decided =
                        state.and_then(|state| commands::without_backup(state, last, now.facility));
                    self.say_itself(decided, now, &mut out);
                }
                Input::Joined { app, us, roles } => {
                    self.joined(app, us, now);
                    self.roles = Some(roles);
                    self.says_deleted = true;
                }
                Input::RoleMade(role) => {
                    self.roles.iter_mut().for_each(|roles| {
                        roles.insert(role);
                    });
                }
                Input::RoleGone(role) => {
                    self.roles.iter_mut().for_each(|roles| {
                        roles.remove(&role);
                    });
                    self.says_deleted = true;
                }
            }
        }
        self.mark_what_goes(now);
        self.say_if_away(now, &mut out);
        self.say_if_stepped(now, &mut out);
        self.say_deleted(now, &mut out);
        while !asked.is_empty() {
            self.answer_group(&mut asked, now, &mut out);
        }
        self.tick(now, &mut out);
        self.deliver(now, &mut out);
        self.settle(now);
        self.note_alive(now);
        let known = self.memory.is_none() || self.refused.max(self.undone) >= REFUSED_KNOWN;
        out.extend(self.unsaved.says(known, now));
        // What is to go out does not wait for it.
        if out.is_empty() {
            self.scrub(now);
        }
        self.snapshot(if idle { SNAPSHOT_IDLE } else { SNAPSHOT_BUSY });
        for output in &out {
            if let Output::Fetch { heard, .. } = output {
                self.fetching
                    .insert(heard.ask.source.clone(), heard.clone());
            }
        }
        out
    }

    /// Whoever waits for a file of theirs to be read is told that nothing was recorded: the program stops, and nobody else will.
    pub fn give_up_fetching(&mut self) -> Vec<Output> {
        let waiting = std::mem::take(&mut self.fetching);
        let told = waiting.into_values().filter_map(|heard| given_up(*heard));
        told.collect()
    }

    /// Notes that the program stops, once nothing more will be handed in.
    pub fn stop(&mut self, now: Moment) {
        self.shut = false;
        self.write_given();
        self.write_settled(now);
        self.alive_at = None;
        self.note_alive(now);
        if let Some(memory) = &mut self.memory {
            memory.keep_languages();
        }
        self.snapshot(SNAPSHOT_STOP);
    }

    /// The next moment, by facility time, at which a step has something to do.
    pub fn next_due(&self, now: Moment) -> Option<DateTime<Utc>> {
        if self.tick_rests_until > now.mono {
            return None;
        }
        self.memory
            .as_ref()
            .and_then(|memory| commands::next_due(&memory.state))
    }

    /// The next moment, by facility time, at which the file notes that the program is there. Nothing
    /// waits for it, so no clock need be stepped to it.
    pub fn next_alive(&self) -> Option<DateTime<Utc>> {
        self.alive_at.map(|at| at + ALIVE_EVERY)
    }

    /// The next steady moment at which a step has something to do.
    pub fn next_try(&self) -> Option<Duration> {
        let reopen = self.memory.is_none().then_some(self.reopen_at);
        let rest = (self.tick_rests_until > Duration::ZERO).then_some(self.tick_rests_until);
        let unread = self.outbox_dirty && self.memory.is_some();
        let unwritten = unread || !self.unwritten.is_empty();
        let unwritten = unwritten.then_some(self.unwritten_at);
        [
            unwritten,
            self.answers.next(),
            self.delivery.next(),
            self.registrar.next(),
            self.settle_at,
            self.scrub_at,
            reopen,
            rest,
        ]
        .into_iter()
        .flatten()
        .min()
    }

    /// Whose desk it is.
    pub fn guild(&self) -> Guild {
        self.guild
    }

    /// Whether answers, messages or files are on their way whose fate is not known.
    pub fn waits(&self) -> bool {
        self.answers.waiting() + self.delivery.flying() + self.fetching.len() > 0
    }

    /// What is counted of it, with so many requests of people that came in.
    pub fn seen(&self, heard: u64) -> Seen {
        let state = self.state();
        Seen {
            heard,
            records: state.map(|state| state.next_no().0.saturating_sub(1)),
            alarms: state.map_or(0, |state| state.alarms.len()),
            on_its_way: self.answers.waiting() + self.delivery.flying(),
            saves: self.memory.is_some() && self.unsaved.lasts() != Some(Fails::Saving),
            calls: self.unsaved.lasts() != Some(Fails::Calling),
            unheard: self.unheard,
        }
    }

    /// The state, for whoever looks at it from outside; nothing while the file cannot be used.
    pub fn state(&self) -> Option<&State> {
        self.memory.as_ref().map(|memory| &memory.state)
    }

    fn joined(&mut self, app: u64, us: u64, now: Moment) {
        self.delivery.set_us(us);
        let kept = self
            .memory
            .as_ref()
            .and_then(|m| m.store.setting(register::SETTING).ok())
            .flatten();
        self.registrar.joined(app, kept.as_deref(), now.mono);
    }

    /// A message does not say what language its writer's client speaks: its own words do, else it is the one that was last
    /// heard of them, else the home's. An interaction says it, which is kept for the next message.
    fn hear_language(&mut self, heard: &mut Heard) {
        let home = self.lang();
        let Some(memory) = &mut self.memory else {
            if matches!(heard.way, Way::Message { .. }) {
                heard.ask.lang = home;
            }
            return;
        };
        let who = heard.ask.who;
        let said = match (&heard.way, &heard.said) {
            (Way::Message { .. }, Said::Mention { text, .. }) => {
                commands::rules::plain::language(text)
            }
            (Way::Message { .. }, _) => None,
            (Way::Interaction { .. }, _) => Some(heard.ask.lang),
        };
        match said {
            Some(lang) => memory.speaks(who, lang),
            None => heard.ask.lang = memory.last_language(who).unwrap_or(home),
        }
        if let Some(lang) = said {
            heard.ask.lang = lang;
        }
    }

    /// What was heard says what time it is in the chat.
    fn chat_spoke(&mut self, heard: &Heard, now: Moment) {
        let (Way::Interaction { id, .. } | Way::Message { id }) = heard.way;
        // One that comes late says what time it was.
        if now.mono <= heard.act_by {
            self.chat_numbered(id, now);
        }
    }

    /// The chat gave this number just now.
    fn chat_numbered(&mut self, number: u64, now: Moment) {
        self.delivery.heard(number, now);
        if let (Some(restored), Some(memory)) = (&mut self.restored, &mut self.memory) {
            restored.heard(number, &mut memory.store, now.mono);
        }
    }

    /// The language that channels read.
    fn lang(&self) -> Lang {
        self.memory
            .as_ref()
            .map_or_else(Lang::default, |memory| memory.state.lang())
    }

    fn came(&mut self, tag: Tag, outcome: &Outcome, now: Moment, out: &mut Vec<Output>) {
        match tag {
            Tag::Nothing => {}
            Tag::Answer(source) => {
                if self.answers.came(&source, outcome, self.delivery.us(), now) {
                    self.given.push(source);
                }
            }
            Tag::Row(id) => {
                if let Outcome::Made(Some(number)) = outcome
                    && self.delivery.makes(id)
                {
                    self.chat_numbered(*number, now);
                }
                let settled = self.delivery.sent(id, outcome, now);
                self.settled(settled);
            }
            Tag::Look(id) => {
                let known = self.known(outcome);
                let outcome = match &known {
                    // What was read back is of no use without what else stands there.
                    None => &Outcome::Unsure,
                    Some(_) if self.reads_nothing(id, outcome) => &MAY_NOT_READ,
                    Some(_) => outcome,
                };
                let known = known.unwrap_or_default();
                let settled = self.delivery.looked(id, outcome, &known, now);
                self.settled(settled);
            }
            Tag::Register => {
                let Some(mark) = self.registrar.came(outcome, now.mono) else {
                    return;
                };
                if let Some(memory) = &mut self.memory
                    && let Err(fault) = memory.store.set_setting(register::SETTING, &mark)
                {
                    tracing::warn!(%fault, "the registration could not be noted");
                }
                out.push(Output::Registered);
            }
        }
    }

    /// The file is of no use as it is open. Where it cannot be opened again people are told.
    fn let_go(&mut self, now: Moment) {
        if let Some(memory) = self.memory.take() {
            self.unsaved.begins(Fails::Saving, &memory.state);
        }
        self.reopen_at = now.mono;
        self.reopen(now);
    }

    /// What is due cannot be done, whatever the file takes. Tried again sooner than what is broken for good deserves: it may be
    /// another program's moment with the file.
    fn cannot_do(&mut self, what: Fails, now: Moment) {
        self.undone = (self.undone + 1).min(REFUSED_MOST);
        self.tick_rests_until = now.mono + (REOPEN_AFTER * self.undone).min(TICK_REST);
        if let Some(memory) = &self.memory {
            self.unsaved.begins(what, &memory.state);
        }
    }

    /// What the clock asks for could not be written: the next try is later each time, since each reads the log anew.
    fn rest(&mut self, now: Moment) {
        self.refused = (self.refused + 1).min(REFUSED_MOST);
        self.tick_rests_until = now.mono + REOPEN_AFTER * self.refused;
    }

    /// What was erased leaves the file, too. While somebody else reads that it is tried again, later each time.
    fn scrub(&mut self, now: Moment) {
        if self.scrub_at.is_none_or(|at| at > now.mono) {
            return;
        }
        let Some(memory) = &mut self.memory else {
            self.scrub_at = Some(now.mono + REOPEN_AFTER);
            return;
        };
        let scrubbed = match memory.store.wants_scrub() {
            Ok(false) => Ok(()),
            Ok(true) => memory.store.scrub(),
            Err(fault) => Err(fault),
        };
        self.scrub_at = match scrubbed {
            Ok(()) => {
                self.scrub_rest = Duration::ZERO;
                None
            }
            Err(fault) => {
                tracing::warn!(guild = self.guild.0, %fault, "what was erased is still in the file's free pages");
                self.scrub_rest = (self.scrub_rest * 2).clamp(REOPEN_AFTER, SCRUB_REST);
                Some(now.mono + self.scrub_rest)
            }
        };
    }

    /// Answers as many as go into one commit.
    fn answer_group(&mut self, asked: &mut VecDeque<Heard>, now: Moment, out: &mut Vec<Output>) {
        let mut group = Vec::with_capacity(asked.len());
        let mut spoilt = false;
        while let Some(heard) = asked.pop_front() {
            if !self.is_new(&heard, now) {
                continue;
            }
            let Some(memory) = &mut self.memory else {
                out.extend(fail(&heard, "bot-nothing-recorded"));
                continue;
            };
            if self
                .restored
                .as_ref()
                .is_some_and(|restored| restored.is_before(&heard))
            {
                out.extend(fail(&heard, "bot-before-restore"));
                continue;
            }
            match memory.decide(heard, &group, now) {
                Ok(cause) => group.push(cause),
                Err(Failed { heard, why }) => {
                    let key = match why {
                        Why::Unread => "bot-nothing-recorded",
                        Why::Undecided | Why::Spoilt => "bot-broke",
                    };
                    out.extend(fail(&heard, key));
                    if why == Why::Spoilt {
                        spoilt = true;
                        break;
                    }
                }
            }
        }
        self.commit(group, now, out);
        if spoilt {
            self.rebuild(now);
        }
    }

    /// Whether this was not handled before and is not too late.
    fn is_new(&mut self, heard: &Heard, now: Moment) -> bool {
        if matches!(heard.said, Said::Fetched { .. }) {
            return true;
        }
        if now.mono > heard.act_by {
            tracing::warn!(
                guild = self.guild.0,
                "a request arrived too late to be acted on"
            );
            return false;
        }
        if !self.recent.insert(&heard.ask.source) {
            return false;
        }
        let early = now.mono.saturating_sub(self.opened) < EARLY;
        if !early && matches!(heard.way, Way::Interaction { .. }) {
            // Older ones than this run are too late by now.
            return true;
        }
        let Some(memory) = &self.memory else {
            return true;
        };
        !matches!(memory.store.seen(&heard.ask.source), Ok(Some(_)))
    }

    /// Does what is due.
    fn tick(&mut self, now: Moment, out: &mut Vec<Output>) {
        if self.tick_rests_until > now.mono || self.shut {
            return;
        }
        self.tick_rests_until = Duration::ZERO;
        let Some(memory) = &mut self.memory else {
            return;
        };
        let mut group: Vec<Cause> = Vec::new();
        let mut fails = None;
        for _ in 0..TICKS_MAX {
            let state = &memory.state;
            let asked = catch_unwind(AssertUnwindSafe(|| commands::tick(state, now.facility)));
            let (source, decision) = match asked {
                Ok(Some(due)) => due,
                Ok(None) => break,
                Err(_panic) => {
                    tracing::error!(guild = self.guild.0, "looking for what is due failed");
                    fails = Some(Fails::Calling);
                    break;
                }
            };
            let seen = match memory.store.seen(&source) {
                Ok(seen) => seen.is_some() || group.iter().any(|cause| cause.source == source),
                Err(fault) => {
                    tracing::error!(guild = self.guild.0, %fault, "what is due cannot be looked up");
                    fails = Some(Fails::Saving);
                    break;
                }
            };
            let source = if seen {
                // A rule asks twice for one thing. Nothing behind it may wait for that: it is recorded under a name of
                // its own, and its messages, whose keys are taken, do not go out again.
                // Which that is stays unsaid: its name has a surface's tag in it, or a list's, which somebody typed.
                tracing::error!(guild = self.guild.0, "what was done is due again");
                Source(format!("{}~{}", source.0, memory.state.next_no()))
            } else {
                source
            };
            match memory.apply(source, None, decision, now) {
                Ok(cause) => group.push(cause),
                Err(_spoilt) => {
                    fails = Some(Fails::Calling);
                    break;
                }
            }
        }
        if let Some(what) = fails {
            self.cannot_do(what, now);
        } else if std::mem::take(&mut self.undone) > 0
            && let Some(memory) = &self.memory
        {
            self.unsaved.over(Fails::Calling, &memory.state);
        }
        if !self.commit(group, now, out) {
            self.rest(now);
        }
        // What could not follow on the state has spoilt it.
        if fails == Some(Fails::Calling) {
            self.rebuild(now);
        }
    }

    /// Writes what a group did in one commit; only then do its answers and messages go out. Returns
    /// whether it was written.
    fn commit(&mut self, mut group: Vec<Cause>, now: Moment, out: &mut Vec<Output>) -> bool {
        let Some(memory) = &mut self.memory else {
            return false;
        };
        let mut prepared = Vec::with_capacity(group.len());
        for cause in group.iter_mut().filter(|cause| cause.writes()) {
            let owed = cause.owed.take();
            let cause = &*cause;
            let (records, posts) = (&cause.records[..], &cause.posts[..]);
            prepared.push(Prepared {
                source: &cause.source,
                who: cause.who,
                records,
                posts,
                owed,
            });
        }
        if prepared.is_empty() {
            self.reply(group, now, out);
            return true;
        }
        let records: usize = prepared.iter().map(|one| one.records.len()).sum();
        let erases = prepared
            .iter()
            .flat_map(|one| one.records)
            .any(|record| matches!(record.body, Body::NoteErased { .. }));
        match memory
            .store
            .commit_settling(&prepared, &self.given, now.facility)
        {
            Ok(committed) => {
                self.given.clear();
                self.refused = 0;
                if self.undone == 0 {
                    self.unsaved.over(Fails::Saving, &memory.state);
                }
                memory.since_snapshot += records as u64;
                memory.keep_languages();
                self.outbox_dirty |= !committed.outbox.is_empty();
                // One that rested may have been made all the same: it is looked for.
                self.adopts |= !self.delivery.overtaken(&committed.overtaken);
                if erases {
                    self.scrub_at = Some(now.mono);
                }
                let mut owed: VecDeque<_> = prepared.into_iter().map(|one| one.owed).collect();
                for cause in group.iter_mut().filter(|cause| cause.writes()) {
                    cause.owed = owed.pop_front().flatten();
                }
                self.reply(group, now, out);
                true
            }
            Err(fault) => {
                tracing::error!(guild = self.guild.0, %fault, "a commit failed");
                self.shut = true;
                self.unsaved.begins(Fails::Saving, &memory.state);
                let mut owed: VecDeque<_> = prepared.into_iter().map(|one| one.owed).collect();
                for cause in group.iter_mut().filter(|cause| cause.writes()) {
                    cause.owed = owed.pop_front().flatten();
                }
                if fault.needs_reopening() {
                    self.memory = None;
                }
                self.rebuild(now);
                let doubt = matches!(fault, StoreError::Unknown { .. });
                self.reply_after_failure(group, doubt, now, out)
            }
        }
    }

    /// The answers to a group that is on disk, or had nothing to write.
    fn reply(&mut self, group: Vec<Cause>, now: Moment, out: &mut Vec<Output>) {
        for cause in group {
            match (cause.reply, cause.owed) {
                (Some(Reply::Owed { on_message }), Some(owed)) => {
                    self.answers.owe(cause.source, owed, on_message, now);
                }
                (Some(Reply::Plain { heard, answer }), _) => out.extend(plain(heard, &answer)),
                _ => {}
            }
        }
    }

    /// After a commit that failed: what turns out to be on disk after all is answered as usual; for the
    /// rest the person is told that nothing was recorded. `doubt` is that the commit may have come to be.
    fn reply_after_failure(
        &mut self,
        group: Vec<Cause>,
        doubt: bool,
        now: Moment,
        out: &mut Vec<Output>,
    ) -> bool {
        let mut all = true;
        let mut written = Vec::new();
        for cause in group {
            let seen = self
                .memory
                .as_ref()
                .map(|memory| memory.store.seen(&cause.source));
            if cause.writes() && matches!(seen, Some(Ok(Some(_)))) {
                written.push(cause);
                continue;
            }
            all = false;
            let looked = matches!(seen, Some(Ok(_)));
            let key = if doubt && !looked {
                "bot-maybe-recorded"
            } else {
                "bot-nothing-recorded"
            };
            match (&cause.reply, &cause.owed) {
                (Some(Reply::Owed { .. }), Some(owed)) => out.extend(not_recorded(owed, key)),
                (Some(Reply::Plain { heard, .. }), _) => out.extend(fail(heard, key)),
                _ => {}
            }
        }
        self.outbox_dirty = true;
        self.reply(written, now, out);
        all
    }

    fn deliver(&mut self, now: Moment, out: &mut Vec<Output>) {
        let mut sends = Vec::new();
        let state = self.memory.as_ref().map(|memory| &memory.state);
        let moot = self.answers.send(now, state, &mut sends);
        self.given.extend(moot);
        if let Some(request) = self.registrar.send(now.mono) {
            sends.push((Tag::Register, request));
        }
        let due = self.delivery.next().is_some_and(|at| at <= now.mono);
        self.write_settled(now);
        if self.outbox_dirty || due {
            let spoilt = self.pick(now);
            if !spoilt.is_empty() {
                spoilt.into_iter().for_each(|row| self.give_up(row));
                // Whoever is told instead, and what no longer waits behind one of these.
                self.write_settled(now);
                self.pick(now);
            }
        }
        let lang = self.lang();
        self.delivery.speak(lang);
        sends.extend(self.delivery.send(now));
        out.extend(
            sends
                .into_iter()
                .map(|(tag, request)| Output::Send { tag, request }),
        );
    }

    /// Writes down which answers came through, in groups.
    fn settle(&mut self, now: Moment) {
        let due = self.settle_at.is_some_and(|at| at <= now.mono);
        if (due || self.given.len() >= ROWS_MAX) && !self.shut {
            self.write_given();
            self.settle_at = None;
        }
        if self.settle_at.is_none() && (self.answers.waiting() > 0 || !self.given.is_empty()) {
            self.settle_at = Some(now.mono + owed::SETTLE_WITHIN);
        }
    }

    fn write_given(&mut self) {
        let Some(memory) = &mut self.memory else {
            return;
        };
        if self.given.is_empty() {
            return;
        }
        if let Err(fault) = memory.store.answered(&self.given) {
            // Kept, and tried again: what the file has as owed would be told again after a start.
            tracing::warn!(guild = self.guild.0, %fault, "given answers could not be noted");
            return;
        }
        self.given.clear();
    }

    fn note_alive(&mut self, now: Moment) {
        let fresh = |at: DateTime<Utc>| (now.facility - at).abs() < ALIVE_EVERY;
        if self.alive_at.is_some_and(fresh) || self.shut {
            return;
        }
        self.alive_at = Some(now.facility);
        let Some(memory) = &mut self.memory else {
            return;
        };
        match memory.store.alive(now.facility) {
            // What is due is tried again by itself, and a full disk may still have room for this.
            Ok(()) if self.refused + self.undone == 0 => {
                self.unsaved.over(Fails::Saving, &memory.state);
            }
            Ok(()) => {}
            Err(fault) => {
                tracing::warn!(guild = self.guild.0, %fault, "that the program is there could not be noted");
                self.unsaved.begins(Fails::Saving, &memory.state);
            }
        }
    }

    fn snapshot(&mut self, after: u64) {
        let Some(memory) = &mut self.memory else {
            return;
        };
        if memory.since_snapshot < after {
            return;
        }
        memory.since_snapshot = 0;
        if let Err(fault) = memory.store.snapshot(&memory.state) {
            tracing::warn!(guild = self.guild.0, %fault, "no snapshot could be taken");
        }
    }

    /// The state is what the file says, whatever was applied since.
    fn rebuild(&mut self, now: Moment) {
        if let Some(memory) = &mut self.memory {
            match memory.store.replay() {
                Ok(state) => {
                    memory.state = state;
                    return;
                }
                Err(fault) => {
                    tracing::error!(guild = self.guild.0, %fault, "the state could not be read back");
                }
            }
        }
        self.let_go(now);
    }

    /// A commit of which nobody knew whether it came to be is known now: its answers are owed.
    fn adopt_answers(&mut self, memory: &mut Memory, now: Moment) {
        match memory.owed(self.guild) {
            Ok(owed) => {
                for (source, owed) in owed {
                    if !self.answers.owes(&source) && !self.given.contains(&source) {
                        self.answers.found(source, owed, now);
                    }
                }
            }
            Err(fault) => {
                tracing::error!(guild = self.guild.0, %fault, "the log could not be read");
            }
        }
    }

    fn reopen(&mut self, now: Moment) {
        if self.memory.is_some() || now.mono < self.reopen_at {
            return;
        }
        // It may have been put back while nobody had it open.
        let before = self.restored.as_ref().map(Restored::mark);
        let reopened = Memory::reopen(&self.folder, self.guild).and_then(|memory| {
            let put_back = memory.put_back(now)?;
            // Last: where something cannot be read what is known of an earlier restore stays known.
            let restored = Restored::of(self.restored.take(), &memory.store, now.mono)?;
            Ok((memory, restored, put_back))
        });
        match reopened {
            Ok((mut memory, restored, put_back)) => {
                if restored.as_ref().map(Restored::mark) != before {
                    // It knows nothing of what was held for the one before, nor of the entries that answers were to confirm.
                    self.delivery.forget();
                    self.unwritten.clear();
                    self.unmarked.clear();
                    self.answers.forget();
                    self.given.clear();
                    self.put_back = put_back;
                }
                self.adopt_answers(&mut memory, now);
                self.memory = Some(memory);
                self.restored = restored;
                (self.adopts, self.outbox_dirty) = (true, true);
            }
            Err(fault) => {
                tracing::error!(guild = self.guild.0, %fault, "the facility's file cannot be used");
                self.reopen_at = now.mono + REOPEN_AFTER;
            }
        }
    }
}
