//! What becomes of the rows of the outbox. Decides when a row goes, what its outcome means, when to
//! try again and that what goes late says so; a step machine without I/O, clock or thread. Leaves the rows to `store` and the sending
//! to [`crate::courier`].
//!
//! A message is made at most once as far as the platform lets us know: one whose fate is unsure is sent
//! again under the same nonce while the platform remembers it, and looked for in its channel afterwards. One that another run
//! of the program left is looked for first: how long ago that was only a clock says that may have been set.

mod alike;
mod held;

pub(crate) use held::NONCE_LASTS;

use std::collections::{BTreeMap, BTreeSet};
use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use commands::decision::{Lane, PostKind};
use commands::ids::Channel;
use commands::words::Lang;
use store::OutRow;

use crate::clock::{Ages, Moment};
use crate::desk::Tag;
use crate::request::{HISTORY_PAGES, Outcome, Request, next_page};
use alike::{find, says_the_same};
use held::{Held, Stage, Tried, Turn};

/// The most rows of one facility that are on their way at once, or whose fate is being found out …
const HELD_MAX: usize = 64;
/// … and of one channel, so that one that does not work holds up no other. Calls wait for calls of their own channel only.
const HELD_OF_CHANNEL_MAX: usize = 8;
/// How much earlier than by our clock the platform may have dated a message. A computer's clock is wrong by minutes more
/// often than it should be; younger messages of ours are known by their numbers (kept for a month).
const CLOCKS_DIFFER: TimeDelta = TimeDelta::days(20);
/// How far what we know of the chat's clock may be off, in milliseconds.
const CHAT_CLOCK_OFF_MS: i64 = 5_000;
/// So long after a message was handed over to be sent it is not made any more: it may have waited half a minute for its turn, and
/// been on its way until nobody waited for the answer.
const MADE_WITHIN: Duration = Duration::from_secs(60);
/// The channel is read back to so long before the first try, by a clock that may be wrong.
const READ_BACK: TimeDelta = TimeDelta::days(1);
/// When the channel cannot be read back, an escalation is repeated after this long; others wait.
const REPEAT_AFTER: Duration = Duration::from_secs(300);
/// So long this run knows when it first sent what rests; whatever rests longer is looked for.
const TRIED_KEPT: Duration = Duration::from_secs(3_600);
/// A channel that could not be read so often in a row cannot be read.
const UNREAD_MOST: u32 = 2;
const BACKOFF_FIRST: Duration = Duration::from_secs(1);
const BACKOFF_MAX: Duration = Duration::from_secs(300);
/// Escalations are not kept waiting as long.
const BACKOFF_ESCALATION_MAX: Duration = Duration::from_secs(30);
/// A message is given up after so many tries, and not before it is this old: a chat that was gone for half a day gets it late.
/// Both, because a clock that is set on makes everything old at once.
const ATTEMPTS_MAX: u32 = 50;
const ATTEMPTS_ESCALATION_MAX: u32 = 500;
const TRIED_FOR: TimeDelta = TimeDelta::hours(24);

/// The platform no longer lets this old message be edited so often.
const CODE_EDITED_TOO_OFTEN: u32 = 30_046;
/// The message is gone.
const CODE_UNKNOWN_MESSAGE: u32 = 10_008;

/// Rows on their way.
#[derive(Debug, Default)]
pub struct Delivery {
    held: BTreeMap<i64, Held>,
    /// Rows that went back to the store and are not taken again before this moment.
    resting: BTreeMap<i64, Duration>,
    /// Those of them that may have been made, and when this run first sent them, as far as that is not long ago.
    tried: BTreeMap<i64, (OutRow, Tried)>,
    /// The newest number that the chat gave anything, as far as this run heard, and when it heard that.
    newest: (u64, Duration),
    /// The newest row that an earlier run may have sent.
    before: i64,
    us: Option<u64>,
    /// What channels read.
    lang: Lang,
}

/// What the store is told about a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Settled {
    /// It was made.
    Sent {
        /// The row.
        id: i64,
        /// The message, where the platform said its number.
        message: Option<u64>,
        /// It calls somebody.
        call: bool,
    },
    /// Not made this time; it stays in the outbox.
    Again {
        /// The row.
        id: i64,
        /// An earlier try may have made it.
        unsure: bool,
    },
    /// It is not known to have been made, and a newer one took its place.
    Overtaken {
        /// The row.
        id: i64,
    },
    /// It never will be.
    Dead {
        /// The row.
        id: i64,
        /// Why, for whoever runs the computer.
        why: String,
        /// Somebody must be told: it was more than an edit that came too late.
        loud: bool,
        /// The row itself, where it was a call that people now do not get.
        call: Option<Box<OutRow>>,
    },
}

impl Settled {
    /// The row.
    pub fn id(&self) -> i64 {
        match self {
            Self::Sent { id, .. }
            | Self::Again { id, .. }
            | Self::Overtaken { id }
            | Self::Dead { id, .. } => *id,
        }
    }
}

impl Delivery {
    /// Our own user's number, by which our messages are known in a channel.
    pub fn set_us(&mut self, us: u64) {
        self.us = Some(us);
    }

    /// That number, where the chat has said it.
    pub fn us(&self) -> Option<u64> {
        self.us
    }

    /// The language that channels read.
    pub fn speak(&mut self, lang: Lang) {
        self.lang = lang;
    }

    /// The chat gave something this number.
    pub fn heard(&mut self, number: u64, now: Moment) {
        self.newest = self.newest.max((number, now.mono));
    }

    /// What the chat's clock shows, or a little less, as far as is known.
    fn chat_ms(&self, now: Moment) -> i64 {
        let (number, heard) = self.newest;
        if number == 0 {
            return 0;
        }
        let since = i64::try_from(now.mono.saturating_sub(heard).as_millis());
        Ages::made_ms(number).saturating_add(since.unwrap_or(0))
    }

    /// This run of the program begins. A call that waits from before it may have been made all the same: a disk may have had room for
    /// the call and not for the mark that it is on its way. `newest` is the newest row that there is.
    pub fn begins(&mut self, newest: i64) {
        self.before = newest;
    }

    /// Another file stands in the place of the one that the rows were from.
    pub fn forget(&mut self) {
        self.held.clear();
        self.resting.clear();
        self.tried.clear();
    }

    /// Takes over rows that the file has as on their way and nobody holds: an earlier run left them, or what became of them could
    /// not be noted.
    pub fn found_sending(&mut self, rows: Vec<OutRow>, now: Moment) {
        let chat_ms = self.chat_ms(now);
        for row in rows {
            if let Some(held) = self.held.get_mut(&row.id) {
                // By a commit of which only the file knew that it came to be.
                held.row.overtaken |= row.overtaken;
                continue;
            }
            let first_try = row.sending_at.unwrap_or(DateTime::UNIX_EPOCH);
            self.tried.remove(&row.id);
            let rests = self.resting.remove(&row.id);
            let held = Held {
                unread: 0,
                stage: Stage::Waits(rests.unwrap_or(now.mono)),
                row,
                first_try,
                tried: Tried {
                    since: now.mono,
                    chat_ms: 0,
                    repeat: false,
                },
                // One that rests lets others pass.
                tries: u32::from(rests.is_some()),
                sent_ms: chat_ms,
                sent: now.mono,
                unsure: true,
                looks: true,
                page: (None, 0),
            };
            self.held.insert(held.row.id, held);
        }
    }

    /// Picks what may go now; the picked must be marked as on their way before [`Delivery::send`].
    pub fn pick(&mut self, ready: Vec<OutRow>, now: Moment) -> Vec<i64> {
        self.resting.retain(|_, until| *until > now.mono);
        self.tried
            .retain(|_, (_, tried)| tried.since + TRIED_KEPT > now.mono);
        let mut busy: BTreeSet<Turn> = self.held.values().filter_map(Held::turn).collect();
        // No call waits for a channel to be read for something else.
        let mut busy_for_calls: BTreeSet<Turn> = { self.held.values() }
            .filter(|held| held.row.lane == Lane::Escalation || !held.is_looked_for(now))
            .filter_map(Held::turn)
            .collect();
        let mut picked = Vec::new();
        for row in ready {
            if self.is_full_for(&row) {
                continue;
            }
            let of_earlier_run = row
                .entered
                .filter(|_| is_call(&row) && row.id <= self.before);
            let waits = self.resting.contains_key(&row.id) || self.held.contains_key(&row.id);
            let unknown = matches!(row.kind, PostKind::Edit { .. }) && row.edit_message.is_none();
            let turns = if is_call(&row) {
                &mut busy_for_calls
            } else {
                &mut busy
            };
            if waits || unknown || !turns.insert(Turn::of(&row)) {
                continue;
            }
            busy.insert(Turn::of(&row));
            picked.push(row.id);
            // It may have been made by an earlier try.
            let earlier = row.sending_at.or(of_earlier_run);
            let tried = self.tried.remove(&row.id).map(|(_, tried)| tried);
            let chat_ms = self.chat_ms(now);
            let held = Held {
                unread: 0,
                first_try: earlier.unwrap_or(now.wall),
                tried: tried.unwrap_or(Tried {
                    since: now.mono,
                    chat_ms: if earlier.is_none() { chat_ms } else { 0 },
                    repeat: false,
                }),
                stage: Stage::Waits(now.mono),
                tries: 0,
                sent_ms: chat_ms,
                sent: now.mono,
                unsure: earlier.is_some() || tried.is_some(),
                looks: earlier.is_some() && tried.is_none(),
                page: (None, 0),
                row,
            };
            self.held.insert(held.row.id, held);
        }
        picked
    }

    fn is_full_for(&self, row: &OutRow) -> bool {
        let calls = row.lane == Lane::Escalation;
        let new = matches!(row.kind, PostKind::New);
        let before_it = |held: &&Held| {
            // What changes a message that is there holds up no call.
            let counts = !calls || held.row.lane == Lane::Escalation;
            let counts = counts && (!new || matches!(held.row.kind, PostKind::New));
            counts && held.row.channel == row.channel
        };
        // What was overtaken is only looked for: it holds up nothing that is to be said.
        let to_be_said = || self.held.values().filter(|held| !held.row.overtaken);
        let of_channel = to_be_said().filter(before_it).count();
        of_channel >= HELD_OF_CHANNEL_MAX || !calls && to_be_said().count() >= HELD_MAX
    }

    /// Whether so many newer messages of its channel were overtaken as well that this one is looked for no longer: where a channel
    /// cannot be read for hours, each call of a ladder leaves one.
    fn is_one_too_many(&self, id: i64, row: &OutRow) -> bool {
        let newer = self.held.range(id..).skip(1).map(|(_, held)| &held.row);
        let too = newer.filter(|newer| newer.overtaken && newer.channel == row.channel);
        row.overtaken && too.count() >= HELD_OF_CHANNEL_MAX
    }

    /// Newer ones took the place of these: whether they were made is still found out, so that their message can be changed, but
    /// they are not sent once more. Whoever is back reads one call, and that the newest.
    /// Returns whether this holds all of them.
    pub fn overtaken(&mut self, ids: &[i64]) -> bool {
        let mut all = true;
        for id in ids {
            match self.held.get_mut(id) {
                Some(held) => held.row.overtaken = true,
                None => all = false,
            }
        }
        all
    }

    /// The requests whose moment has come.
    pub fn send(&mut self, now: Moment) -> Vec<(Tag, Request)> {
        let mut out = Vec::new();
        let chat_ms = self.chat_ms(now);
        // Where there is no file to pick them from.
        self.resting.retain(|_, until| *until > now.mono);
        for (id, held) in &mut self.held {
            if matches!(held.stage, Stage::Waits(at) if at <= now.mono) {
                // All pages of a channel are one look.
                held.tries += u32::from(held.page.0.is_none());
                let (tag, request) = held.request(*id, self.lang, now);
                held.stage = if matches!(tag, Tag::Look(_)) {
                    Stage::Looking
                } else {
                    held.sent_ms = chat_ms;
                    held.sent = now.mono;
                    // What is made from now on stands before whatever was read.
                    held.page = (None, 0);
                    Stage::Flying
                };
                out.push((tag, request));
            }
        }
        out
    }

    /// When [`Delivery::send`] or [`Delivery::pick`] will have something again, as far as this knows.
    pub fn next(&self) -> Option<Duration> {
        let held = self.held.values().filter_map(|held| match held.stage {
            Stage::Flying | Stage::Looking => None,
            Stage::Waits(at) => Some(at),
        });
        held.chain(self.resting.values().copied()).min()
    }

    /// A send or an edit came to this.
    pub fn sent(&mut self, id: i64, outcome: &Outcome, now: Moment) -> Option<Settled> {
        let held = self.held.get_mut(&id)?;
        let attempts = held.row.attempts + held.tries;
        let wait = backoff(attempts, held.row.lane);
        let edits = matches!(held.row.kind, PostKind::Edit { .. });
        match outcome {
            // The chat says the number of a message that it made, if it is asked once more.
            Outcome::Made(message) if edits || message.is_some() => {
                let call = is_call(&held.row);
                self.held.remove(&id);
                Some(Settled::Sent {
                    id,
                    message: *message,
                    call,
                })
            }
            Outcome::Limited(asked) => self.rested(id, *asked, now),
            // The token is not liked: no fault of the row.
            Outcome::Refused { status: 401, .. } => self.rest(id, BACKOFF_MAX, now),
            // An earlier try may have made what is refused now.
            Outcome::Refused { .. } if held.row.overtaken && held.unsure => {
                self.rested(id, wait, now)
            }
            Outcome::Refused { status, code } => Some(self.refused(id, *status, *code)),
            Outcome::NotMade => self.rest(id, wait, now),
            Outcome::Made(_) | Outcome::Unsure | Outcome::Listed(_) | Outcome::Named(_) => {
                // A change is the same however often it is made.
                if edits {
                    return self.rest(id, wait, now);
                }
                held.unsure = true;
                held.stage = Stage::Waits(now.mono + wait);
                self.give_up_if_tired(id, now)
            }
        }
    }

    /// Looking for a message in its channel came to this. `known` are the messages there that other rows made.
    pub fn looked(
        &mut self,
        id: i64,
        outcome: &Outcome,
        known: &BTreeSet<u64>,
        now: Moment,
    ) -> Option<Settled> {
        let us = self.us;
        let until = self.before_the_next(id);
        let after_the_next = self.waits_for_the_next(id);
        let too_many = self
            .held
            .get(&id)
            .is_some_and(|held| self.is_one_too_many(id, &held.row));
        let held = self.held.get_mut(&id)?;
        let (before, pages) = std::mem::take(&mut held.page);
        match outcome {
            Outcome::Listed(past) => {
                let first_ms = held.first_try.timestamp_millis();
                let before_first = |by: TimeDelta| first_ms - by.num_milliseconds();
                // From when on it may stand there, how far back is read for it, and how far at least.
                let (since, read_to, at_least) = match held.tried.chat_ms - CHAT_CLOCK_OFF_MS {
                    chat_ms if held.tried.chat_ms > 0 => (chat_ms, chat_ms, chat_ms),
                    _ => (
                        before_first(CLOCKS_DIFFER),
                        before_first(READ_BACK),
                        first_ms,
                    ),
                };
                let made = since..until;
                if let Some(found) = find(&held.row, past, us, &made, known) {
                    if after_the_next {
                        held.stage = Stage::Waits(now.mono + BACKOFF_ESCALATION_MAX);
                        return None;
                    }
                    let call = is_call(&held.row);
                    self.held.remove(&id);
                    return Some(Settled::Sent {
                        id,
                        message: Some(found),
                        call,
                    });
                }
                held.unread = 0;
                let late = (held.sent + MADE_WITHIN).saturating_sub(now.mono);
                match next_page(past, read_to) {
                    Some(before) if pages + 1 < HISTORY_PAGES => {
                        held.page = (Some(before), pages + 1);
                        held.takes_its_turn(now);
                        None
                    }
                    // Nobody waits for it, and nothing changes it once it is given up: what is made late is found as well.
                    Some(_) | None if held.row.overtaken && !late.is_zero() => {
                        held.stage = Stage::Waits(now.mono + late);
                        None
                    }
                    Some(_) | None if held.row.overtaken => {
                        self.held.remove(&id);
                        Some(Settled::Overtaken { id })
                    }
                    Some(_) | None => {
                        // It is not there: as good as new. Where more was written since than is read, a call says that it may be.
                        let unread = next_page(past, at_least).is_some();
                        held.unsure = unread;
                        held.tried.repeat |= unread && held.row.lane == Lane::Escalation;
                        held.first_try = now.wall;
                        held.tried.since = now.mono;
                        held.looks = false;
                        held.takes_its_turn(now);
                        self.give_up_if_tired(id, now)
                    }
                }
            }
            Outcome::Limited(asked) => {
                held.page = (before, pages);
                held.tries += u32::from(before.is_some());
                held.stage = Stage::Waits(now.mono + *asked);
                self.give_up_if_tired(id, now)
            }
            Outcome::Refused { .. } => self.unread(id, true, too_many, now),
            Outcome::NotMade | Outcome::Unsure | Outcome::Made(_) | Outcome::Named(_) => {
                held.page = (before, pages);
                held.tries += u32::from(before.is_some());
                self.unread(id, false, too_many, now)
            }
        }
    }

    /// Until when its message can have been made, by the chat's clock: a newer row that says the same, and was first sent long after this
    /// one was last, made what came later.
    fn before_the_next(&self, id: i64) -> i64 {
        let Some(held) = self.held.get(&id) else {
            return i64::MAX;
        };
        let within = i64::try_from(MADE_WITHIN.as_millis()).unwrap_or(i64::MAX);
        let sent_until = held.sent_ms.saturating_add(within);
        self.alike_after(id)
            .map(|(_, tried)| tried.chat_ms)
            .filter(|first_ms| *first_ms > sent_until)
            .map(|first_ms| first_ms - CHAT_CLOCK_OFF_MS)
            .min()
            .unwrap_or(i64::MAX)
    }

    /// Whether a newer row that says the same chooses its message first: this one is not sent again, and the other would be, if what it
    /// made were taken for this one's.
    fn waits_for_the_next(&self, id: i64) -> bool {
        let overtaken = self.held.get(&id).is_some_and(|held| held.row.overtaken);
        overtaken && self.alike_after(id).any(|(row, _)| !row.overtaken)
    }

    /// The newer rows that say the same, of which nobody knows yet what became of them, and when they were first sent.
    fn alike_after(&self, id: i64) -> impl Iterator<Item = (&OutRow, &Tried)> {
        let held = self.held.range(id..);
        let held = held.map(|(_, held)| (&held.row, &held.tried));
        let rest = self.tried.range(id..);
        let rest = rest.map(|(_, (row, tried))| (row, tried));
        let ours = self.held.get(&id).map(|held| &held.row);
        let alike = move |row: &OutRow| ours.is_some_and(|ours| says_the_same(row, ours));
        held.chain(rest)
            .filter(move |(row, _)| row.id > id && alike(row))
    }

    /// The channel could not be read back as far as its message would stand, `refused` if it is not to be.
    fn unread(&mut self, id: i64, refused: bool, too_many: bool, now: Moment) -> Option<Settled> {
        let held = self.held.get_mut(&id)?;
        held.unread += 1;
        let overtaken = held.row.overtaken;
        if held.unread < UNREAD_MOST {
            // One failure says little: most channels are read at the second try.
            held.stage = Stage::Waits(now.mono + BACKOFF_FIRST);
        } else if too_many || overtaken && refused {
            // Nobody will ever know, and nothing more is to be sent: it takes up no place among those on their way.
            self.held.remove(&id);
            return Some(Settled::Overtaken { id });
        } else if held.looks && refused && !overtaken && held.age(now) < NONCE_LASTS {
            // Nobody will ever see it there. As far as the clock says the platform knows its nonce, which is better than nothing.
            held.looks = false;
            held.unread = 0;
            held.stage = Stage::Waits(now.mono);
        } else if held.row.lane == Lane::Escalation && held.age(now) >= REPEAT_AFTER && !overtaken {
            tracing::warn!(
                row = id,
                "an escalation is repeated: its channel cannot be read back"
            );
            held.unread = 0;
            // It may have been made all the same, and says so from now on.
            held.first_try = now.wall;
            held.tried.since = now.mono;
            held.tried.repeat = true;
            held.looks = false;
            held.stage = Stage::Waits(now.mono);
        } else {
            let wait = match held.row.lane {
                Lane::Escalation => BACKOFF_ESCALATION_MAX,
                Lane::Reminder | Lane::Routine => BACKOFF_MAX,
            };
            held.stage = Stage::Waits(now.mono + wait);
        }
        self.give_up_if_tired(id, now)
    }

    /// Whether this has the row on its way.
    pub fn holds(&self, id: i64) -> bool {
        self.held.contains_key(&id)
    }

    /// Whether what the chat answers now is about a message that it just made: not a change of an older one, nor one that it may have
    /// made before and knows by its nonce.
    pub fn makes(&self, id: i64) -> bool {
        let held = self.held.get(&id);
        held.is_some_and(|held| matches!(held.row.kind, PostKind::New) && !held.unsure)
    }

    /// The channel whose newest messages are read for this row.
    pub fn reads_newest_of(&self, id: i64) -> Option<Channel> {
        let held = self.held.get(&id)?;
        held.page.0.is_none().then_some(held.row.channel)
    }

    /// How many rows are on their way.
    pub fn flying(&self) -> usize {
        self.held
            .values()
            .filter(|held| matches!(held.stage, Stage::Flying | Stage::Looking))
            .count()
    }

    fn rest(&mut self, id: i64, wait: Duration, now: Moment) -> Option<Settled> {
        if let Some(dead) = self.give_up_if_tired(id, now) {
            return Some(dead);
        }
        self.rested(id, wait, now)
    }

    /// It goes back to the store for a while; but what a newer one overtook is not sent again, and only looked for where it may
    /// have been made.
    fn rested(&mut self, id: i64, wait: Duration, now: Moment) -> Option<Settled> {
        let held = self.held.get_mut(&id)?;
        let unsure = held.unsure;
        if held.row.overtaken && unsure {
            held.stage = Stage::Waits(now.mono + wait);
            return None;
        }
        let held = self.held.remove(&id)?;
        if held.row.overtaken {
            return Some(Settled::Overtaken { id });
        }
        self.resting.insert(id, now.mono + wait);
        if unsure {
            self.tried.insert(id, (held.row, held.tried));
        } else {
            self.tried.remove(&id);
        }
        Some(Settled::Again { id, unsure })
    }

    fn refused(&mut self, id: i64, status: u16, code: u32) -> Settled {
        let held = self.held.remove(&id);
        if held.as_ref().is_some_and(|held| held.row.overtaken) {
            return Settled::Overtaken { id };
        }
        let edit = held
            .as_ref()
            .is_some_and(|held| matches!(held.row.kind, PostKind::Edit { .. }));
        let late = matches!(code, CODE_EDITED_TOO_OFTEN | CODE_UNKNOWN_MESSAGE);
        let why = format!("the chat service refused it: {status}, code {code}");
        Settled::Dead {
            id,
            why,
            loud: !(edit && late),
            call: held.filter(|_| !edit).map(|held| Box::new(held.row)),
        }
    }

    fn give_up_if_tired(&mut self, id: i64, now: Moment) -> Option<Settled> {
        let held = self.held.get(&id)?;
        let most = match held.row.lane {
            Lane::Escalation => ATTEMPTS_ESCALATION_MAX,
            Lane::Reminder | Lane::Routine => ATTEMPTS_MAX,
        };
        let attempts = held.row.attempts + held.tries;
        let young = |at: DateTime<Utc>| now.facility - at < TRIED_FOR;
        if attempts < most || held.row.entered.is_some_and(young) {
            return None;
        }
        let held = self.held.remove(&id)?;
        if held.row.overtaken {
            return Some(Settled::Overtaken { id });
        }
        let new = matches!(held.row.kind, PostKind::New);
        Some(Settled::Dead {
            id,
            why: format!("given up after {attempts} tries"),
            loud: true,
            call: new.then(|| Box::new(held.row)),
        })
    }
}

/// Whether a new message of this row calls people for what cannot wait.
pub(crate) fn is_call(row: &OutRow) -> bool {
    row.lane == Lane::Escalation && matches!(row.kind, PostKind::New)
}

fn backoff(attempts: u32, lane: Lane) -> Duration {
    let most = match lane {
        Lane::Escalation => BACKOFF_ESCALATION_MAX,
        Lane::Reminder | Lane::Routine => BACKOFF_MAX,
    };
    BACKOFF_FIRST
        .saturating_mul(1 << attempts.saturating_sub(1).min(16))
        .min(most)
}

#[cfg(test)]
mod tests;
