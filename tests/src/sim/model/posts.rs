//! What must hold of what channels read. Decides that nothing stands in a channel twice that does not say so: no card of an alarm,
//! under whatever nonce, and no other message. Goes by what people read when it came; knows nothing of rows and nonces.

use std::collections::BTreeMap;
use std::sync::LazyLock;
use std::time::Duration;

use bot::request::Request;
use chrono::TimeDelta;
use regex::Regex;

use super::{FIRST_WORDS, LATE_ANSWER, LIST, UNSAVED};
use crate::talk::chat::{Posted, read};

/// Two messages that read the same within this are one that was doubled.
const SAME_WITHIN: Duration = Duration::from_secs(1_800);
/// Where the same may be said anew: somebody takes an alarm and gives it up, a reading is made once more, a call that came late is
/// followed by the next.
pub const ANEW_WITHIN: Duration = Duration::from_secs(10);
/// What somebody does is heard so much later at most.
const LATE_EVENT: Duration = Duration::from_secs(660);
/// A call that went wrong is tried again this soon.
const TRIED_AGAIN: Duration = Duration::from_secs(60);
/// What may be said anew, in the same words.
const ANEW: [&str; 23] = [
    // Calls that are repeated until somebody goes. What they count in is days or hours by then, or nothing.
    "alarm open for ",
    "no power for ",
    "nobody has said that the resident is safe",
    // A clock that is set forward, or a long absence, brings it at once.
    "but not fixed after ",
    "Turnovers over 24 h",
    // The power goes and comes back more than once.
    "power is back. Look at plug",
    "have not been looked at. Who goes on?",
    "has not been looked at. Who goes on?",
    "nobody has taken over the handover",
    // The disk has room, takes nothing once more, and has room again.
    "I can save again",
    // Once higher up, and once more for the next reading of the same surface.
    "time to check again",
    "could not be checked before",
    "it should be full now",
    "it should be refilled now",
    // People make the same reading, and take it back, more than once.
    " is worse: ",
    "the setting is yours to decide",
    "who decides about the setting",
    "still low",
    "low again",
    "getting low",
    "out of service",
    "low, and not looked at again",
    "but could not check the air",
];
/// What may be said twice at once.
const APART: [&str; 3] = [
    // It is said outside of the outbox, which cannot be written then.
    UNSAVED,
    // One word for each call that was refused; not each names what it was about.
    UNDELIVERED,
    // Two people, or one who taps twice, are answered alike.
    LATE_ANSWER,
];
/// So the supervisors read of a call that was refused.
pub const UNDELIVERED: &str = "could not be posted in ";
/// So says a message that may have come before.
pub const MAYBE_REPEAT: &str = "You may have seen this call already";

/// Stands above what waited to be sent, and is no part of what it says.
static LATE: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"\AThis comes late: [^\n]*\n").expect("a pattern"));

/// A message of the bot to a channel, as it read when it came.
#[derive(Debug)]
pub struct Post {
    pub channel: u64,
    pub at: Duration,
    pub text: String,
    /// The alarm that its buttons take.
    pub alarm: Option<u64>,
    /// Somebody's phone rang.
    pub called: bool,
    /// The message of somebody that it answers.
    to: Option<String>,
}

impl Post {
    /// As the request made it.
    pub fn of(request: &Request, new: &Posted, at: Duration) -> Self {
        let (json, _) = read(&request.body);
        let ids = new.look.ids();
        let mut alarms = ids
            .iter()
            .filter_map(|id| id.strip_prefix("take|")?.parse().ok());
        Self {
            channel: new.channel,
            at,
            text: new.look.text.clone(),
            alarm: alarms.next(),
            called: !new.called.roles.is_empty() || !new.called.people.is_empty(),
            to: json["message_reference"]["message_id"]
                .as_str()
                .map(str::to_owned),
        }
    }

    /// It says itself that it may have come before.
    pub fn may_repeat(&self) -> bool {
        self.text.contains(MAYBE_REPEAT)
    }

    /// It answers somebody who asked in a channel, or whom no other answer reached in time.
    pub fn answers(&self) -> bool {
        self.to.is_some() || self.text.contains(LATE_ANSWER)
    }

    fn first_line(&self) -> &str {
        self.text.lines().next().unwrap_or_default()
    }
}

/// An alarm's first card stands once in a channel. An answer that comes late may show it to whoever asked.
pub fn first_cards(posts: &[Post], why: &mut Vec<String>) {
    let mut stands: BTreeMap<(u64, u64), &Post> = BTreeMap::new();
    let firsts = posts.iter().filter(|post| {
        post.text.contains(FIRST_WORDS) && !post.text.contains(LATE_ANSWER) && !post.may_repeat()
    });
    for post in firsts {
        let Some(alarm) = post.alarm else { continue };
        if let Some(before) = stands.insert((alarm, post.channel), post) {
            why.push(format!(
                "alarm {alarm}: its card came twice, {} s apart: {}",
                (post.at - before.at).as_secs(),
                post.first_line()
            ));
        }
    }
}

/// What happened meanwhile, after which the same may be said again.
pub struct Meanwhile<'a> {
    /// Steps of the clock, by which what is said next is due.
    pub steps: &'a [(Duration, TimeDelta)],
    /// The program started.
    pub starts: Vec<Duration>,
    /// Somebody who was on the way could not go, which may be heard late.
    pub gave_up: &'a [Duration],
    /// Something went wrong on the way to the chat.
    pub faults: &'a [Duration],
    /// Somebody said the same twice at once.
    pub said_twice: Vec<Duration>,
}

impl Meanwhile<'_> {
    /// How far the clock was set forward.
    fn forward(&self, from: Duration, to: Duration) -> Duration {
        let within = self.steps.iter().filter(|(at, _)| *at >= from && *at <= to);
        within.filter_map(|(_, step)| step.to_std().ok()).sum()
    }

    /// A call at `from` may meet the next at `to`: it came late, because the program was away, or the clock was set, or what it says
    /// came about anew.
    fn next(&self, from: Duration, to: Duration) -> bool {
        let just = |start: &Duration| *start <= from && from < *start + ANEW_WITHIN;
        let between = |at: &Duration| *at + LATE_EVENT >= from && *at <= to;
        let held_up = |at: &Duration| *at + TRIED_AGAIN >= from && *at <= from;
        self.starts.iter().any(just)
            || self.faults.iter().any(held_up)
            || self.said_twice.iter().any(between)
            || self.gave_up.iter().any(between)
            || !self.forward(from, to).is_zero()
    }
}

/// Nothing else reads in a channel twice; but for lists, of which each of a shift is looked for. A call that comes late may meet the
/// next, for somebody else.
pub fn doubled(posts: &[Post], meanwhile: &Meanwhile<'_>, why: &mut Vec<String>) {
    let mut stands = BTreeMap::new();
    for post in posts {
        let apart = APART.iter().any(|words| post.text.contains(words));
        if post.may_repeat() || apart || LIST.is_match(&post.text) {
            continue;
        }
        let anew = ANEW.iter().any(|words| post.text.contains(words));
        let within = if anew { ANEW_WITHIN } else { SAME_WITHIN };
        let says = LATE.replace(&post.text, "").into_owned();
        let late = LATE.is_match(&post.text);
        let before = stands.insert((post.channel, post.to.as_ref(), says), (post.at, late));
        let doubled = |(at, was_late): &(Duration, bool)| {
            let next = *was_late != late || meanwhile.next(*at, post.at);
            let by_the_clock = post.at - *at + meanwhile.forward(*at, post.at);
            within > by_the_clock && !(anew && next)
        };
        if let Some((before, _)) = before.filter(doubled) {
            why.push(format!(
                "the same twice in {}, {} s apart: {}",
                post.channel,
                (post.at - before).as_secs(),
                post.text.replace('\n', " / ")
            ));
        }
    }
}
