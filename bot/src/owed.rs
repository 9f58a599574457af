//! The answers owed to people whose entry is on disk. Decides how each gets to its person: as the first
//! answer, as a change of it, or as a message in the channel when both are no longer possible. A step
//! machine without I/O. A failed answer undoes nothing. One that may stand in the channel already is looked for there
//! before it is written again.

use std::collections::BTreeMap;
use std::time::Duration;

use commands::decision::Lane;
use commands::message::Message;
use commands::words;
use commands::{Source, State};
use store::Owed;

use crate::clock::{Ages, Moment};
use crate::delivery::NONCE_LASTS;
use crate::desk::Tag;
use crate::request::{Body, HISTORY_PAGES, Outcome, Past, Request, Route, Token, next_page};
use crate::wire::write;

/// Tries of the first answer, which must come within three seconds.
const CALLBACK_TRIES: u32 = 3;
const CALLBACK_PAUSE: Duration = Duration::from_millis(250);
/// Tries of the other ways.
const TRIES_MAX: u32 = 40;
const BACKOFF_MAX: Duration = Duration::from_secs(60);
/// Answers that came through are written down in groups at least this often.
pub const SETTLE_WITHIN: Duration = Duration::from_secs(1);

/// The interaction was answered before.
const CODE_ANSWERED: u32 = 40_060;

/// Answers on their way.
#[derive(Debug, Default)]
pub struct Answers {
    held: BTreeMap<Source, Held>,
}

struct Held {
    owed: Owed,
    on_message: bool,
    stage: Stage,
    /// When to send; nothing while a request is on its way.
    at: Option<Duration>,
    tries: u32,
    late: bool,
    /// When a message in the channel was first sent without an answer, if any since it was last looked for.
    unsure: Option<Duration>,
    /// An earlier run may have put it into the channel.
    earlier: bool,
    /// What it says in the channel.
    told: String,
    /// Where the next page of the channel begins, and how many were read.
    page: (Option<u64>, u32),
}

impl std::fmt::Debug for Held {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Held")
            .field("stage", &self.stage)
            .finish_non_exhaustive()
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Stage {
    First,
    Change,
    Channel,
    /// Whether it stands in the channel.
    Look,
}

/// How the store keeps an interaction that was told to wait: its number is of no use any more.
const DEFERRED: u64 = 0;

/// The number to keep for an interaction, deferred or not.
pub fn number(interaction: u64, deferred: bool) -> u64 {
    if deferred { DEFERRED } else { interaction }
}

impl Answers {
    /// Takes over an answer whose entry is on disk.
    pub fn owe(&mut self, source: Source, owed: Owed, on_message: bool, now: Moment) {
        let held = Held::new(owed, on_message, now);
        self.held.insert(source, held);
    }

    /// Takes over one that an earlier run still owed.
    pub fn found(&mut self, source: Source, owed: Owed, now: Moment) {
        let mut held = Held::new(owed, true, now);
        held.earlier = true;
        if held.stage == Stage::Channel {
            held.stage = Stage::Look;
        }
        self.held.insert(source, held);
    }

    /// Another file stands in the place of the one that what they confirm was written to.
    pub fn forget(&mut self) {
        self.held.clear();
    }

    /// Whether this answer is owed here.
    pub fn owes(&self, source: &Source) -> bool {
        self.held.contains_key(source)
    }

    /// The requests whose moment has come.
    /// `state` says what may be shown to a whole channel.
    pub fn send(
        &mut self,
        now: Moment,
        state: Option<&State>,
        out: &mut Vec<(Tag, Request)>,
    ) -> Vec<Source> {
        let mut moot = Vec::new();
        for (source, held) in &mut self.held {
            if held.at.is_none_or(|at| at > now.mono) {
                continue;
            }
            // Without the state nobody can say what a whole channel may read.
            if matches!(held.stage, Stage::Channel | Stage::Look) && state.is_none() {
                held.at = Some(now.mono + Duration::from_secs(1));
                continue;
            }
            held.at = None;
            // All pages of a channel are one look.
            held.tries += u32::from(held.page.0.is_none());
            let forgotten = |first: Duration| now.mono.saturating_sub(first) >= NONCE_LASTS;
            if held.stage == Stage::Channel && held.unsure.is_some_and(forgotten) {
                held.stage = Stage::Look;
            }
            match held.request(source, state) {
                Some(request) => out.push((Tag::Answer(source.clone()), request)),
                None => moot.push(source.clone()),
            }
        }
        moot.iter().for_each(|source| {
            self.held.remove(source);
        });
        moot
    }

    /// One came to this; `us` is our own user's number. Returns whether nothing more is owed.
    pub fn came(
        &mut self,
        source: &Source,
        outcome: &Outcome,
        us: Option<u64>,
        now: Moment,
    ) -> bool {
        let Some(held) = self.held.get_mut(source) else {
            return false;
        };
        let done = match (held.stage, outcome) {
            (Stage::Look, Outcome::Listed(past)) => held.looked(source, past, us, now),
            _ => held.came(outcome, now),
        };
        if done {
            self.held.remove(source);
        }
        done
    }

    /// When [`Answers::send`] will have something again.
    pub fn next(&self) -> Option<Duration> {
        self.held.values().filter_map(|held| held.at).min()
    }

    /// How many are on their way.
    pub fn waiting(&self) -> usize {
        self.held.len()
    }
}

impl Held {
    fn new(owed: Owed, on_message: bool, now: Moment) -> Self {
        let stage = if owed.token.is_empty() {
            Stage::Channel
        } else if owed.interaction == DEFERRED {
            Stage::Change
        } else {
            Stage::First
        };
        Self {
            owed,
            on_message,
            stage,
            at: Some(now.mono),
            tries: 0,
            late: false,
            unsure: None,
            earlier: false,
            told: String::new(),
            page: (None, 0),
        }
    }

    fn request(&mut self, source: &Source, state: Option<&State>) -> Option<Request> {
        let token = || Token(self.owed.token.clone());
        let (route, body) = match self.stage {
            Stage::First => {
                let route = Route::Callback {
                    interaction: self.owed.interaction,
                    token: token(),
                };
                (route, write::callback(&self.owed.answer, self.on_message))
            }
            Stage::Change => {
                let message = write::message_of(&self.owed.answer)?;
                (Route::Original { token: token() }, write::original(message))
            }
            Stage::Channel => {
                let message = write::message_of(&self.owed.answer)?;
                let to_message = self.owed.token.is_empty().then_some(self.owed.interaction);
                let told = self.in_channel(message, state);
                let body = write::post(&told, &nonce(source), to_message);
                self.told = told.text;
                (
                    Route::Post {
                        channel: self.owed.channel.0,
                    },
                    body,
                )
            }
            Stage::Look => {
                let message = write::message_of(&self.owed.answer)?;
                self.told = self.in_channel(message, state).text;
                let channel = self.owed.channel.0;
                let before = self.page.0;
                (Route::History { channel, before }, Body::Empty)
            }
        };
        Some(Request {
            route,
            body,
            lane: Lane::Reminder,
        })
    }

    /// The answer as a message to its person that the whole channel sees, saying that it is late if it is.
    fn in_channel(&self, message: &Message, state: Option<&State>) -> Message {
        let message = &state.map_or_else(
            || message.clone(),
            |state| commands::in_public(state, message),
        );
        let who = self.owed.who;
        let text = if self.late {
            let late = words::say(self.owed.lang, "bot-answer-late", &[]);
            format!("<@{who}>, {late}\n{}", message.text)
        } else {
            message.text.clone()
        };
        let ping_people = if self.late {
            vec![who]
        } else {
            message.ping_people.clone()
        };
        Message {
            text,
            ping_people,
            ..message.clone()
        }
    }

    /// What was read back from its channel. Returns whether it stands there.
    fn looked(&mut self, source: &Source, past: &[Past], us: Option<u64>, now: Moment) -> bool {
        let nonce = nonce(source);
        let asked = source.0.get(1..).and_then(|id| id.parse().ok());
        let asked_ms = Ages::made_ms(asked.unwrap_or_default());
        let there = past
            .iter()
            .filter(|one| us.is_none_or(|us| one.author == us))
            // What was said before it was asked answers something else.
            .filter(|one| Ages::made_ms(one.id) >= asked_ms)
            .any(|one| one.nonce.as_deref() == Some(&nonce) || one.text == self.told);
        let (_, pages) = std::mem::take(&mut self.page);
        let next = next_page(past, asked_ms);
        if let Some(before) = next.filter(|_| !there && pages + 1 < HISTORY_PAGES) {
            self.page = (Some(before), pages + 1);
            self.at = Some(now.mono);
            return false;
        }
        self.stage = Stage::Channel;
        self.unsure = None;
        self.earlier = false;
        self.at = Some(now.mono);
        there
    }

    fn came(&mut self, outcome: &Outcome, now: Moment) -> bool {
        if *outcome == Outcome::Unsure && self.stage == Stage::Channel {
            self.unsure.get_or_insert(now.mono);
        }
        match outcome {
            Outcome::Made(_) | Outcome::Listed(_) | Outcome::Named(_) => true,
            Outcome::Refused {
                code: CODE_ANSWERED,
                ..
            } => true,
            // A channel that may not be read is still written to, where this run has not done so yet.
            Outcome::Refused { .. } if self.stage == Stage::Look && self.unsure.is_none() => {
                self.page = (None, 0);
                self.stage = Stage::Channel;
                self.earlier = false;
                self.at = Some(now.mono);
                false
            }
            Outcome::Refused { status, code } => {
                if matches!(self.stage, Stage::Channel | Stage::Look) {
                    tracing::error!(
                        status,
                        code,
                        "an answer could not be given in the channel either"
                    );
                    return true;
                }
                self.turn_to_channel(now);
                false
            }
            Outcome::NotMade | Outcome::Unsure | Outcome::Limited(_) => {
                self.tries += u32::from(self.page.0.is_some());
                if self.stage == Stage::First && self.tries >= CALLBACK_TRIES {
                    self.turn_to_channel(now);
                    return false;
                }
                if self.tries >= TRIES_MAX {
                    if matches!(self.stage, Stage::Channel | Stage::Look) {
                        tracing::error!("an answer was given up");
                        return true;
                    }
                    self.turn_to_channel(now);
                    return false;
                }
                self.at = Some(now.mono + self.pause(outcome));
                false
            }
        }
    }

    fn pause(&self, outcome: &Outcome) -> Duration {
        match (outcome, self.stage) {
            (Outcome::Limited(asked), _) => *asked,
            (_, Stage::First) => CALLBACK_PAUSE,
            (_, Stage::Change | Stage::Channel | Stage::Look) => {
                Duration::from_secs(1 << self.tries.min(6)).min(BACKOFF_MAX)
            }
        }
    }

    fn turn_to_channel(&mut self, now: Moment) {
        self.stage = if self.earlier {
            Stage::Look
        } else {
            Stage::Channel
        };
        self.late = true;
        self.tries = 0;
        self.at = Some(now.mono);
    }
}

/// What a message in the channel is known by.
fn nonce(source: &Source) -> String {
    format!("a{}", source.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::DateTime;
    use commands::ids::{Channel, Person};
    use commands::message::Answer;
    use commands::words::Lang;

    fn at(ms: u64) -> Moment {
        let time = DateTime::UNIX_EPOCH;
        Moment {
            facility: time,
            wall: time,
            mono: Duration::from_millis(ms),
            stepped: chrono::TimeDelta::zero(),
        }
    }

    fn owed(interaction: u64, token: &str) -> Owed {
        let answer = Answer::Private(Message {
            text: "Recorded.".into(),
            ..Message::default()
        });
        Owed {
            interaction,
            token: token.into(),
            channel: Channel(4),
            who: Person(5),
            lang: Lang::English,
            answer,
        }
    }

    fn sent(answers: &mut Answers, now: Moment) -> Vec<Route> {
        let mut out = Vec::new();
        answers.send(now, Some(&State::default()), &mut out);
        out.into_iter().map(|(_, request)| request.route).collect()
    }

    #[test]
    fn given_once_and_already_given_are_the_same() {
        let source = Source::interaction(9);
        for outcome in [
            Outcome::Made(None),
            Outcome::Refused {
                status: 400,
                code: CODE_ANSWERED,
            },
        ] {
            let mut answers = Answers::default();
            answers.owe(source.clone(), owed(9, "t"), false, at(0));
            assert!(matches!(
                sent(&mut answers, at(0))[..],
                [Route::Callback { interaction: 9, .. }]
            ));
            assert!(sent(&mut answers, at(500)).is_empty());
            assert!(answers.came(&source, &outcome, None, at(0)));
            assert_eq!(answers.waiting(), 0);
        }
    }

    #[test]
    fn too_late_goes_to_the_channel_and_names_the_person() {
        let source = Source::interaction(9);
        let mut answers = Answers::default();
        answers.owe(source.clone(), owed(9, "t"), false, at(0));
        sent(&mut answers, at(0));
        assert!(!answers.came(
            &source,
            &Outcome::Refused {
                status: 404,
                code: 10_062
            },
            None,
            at(0)
        ));
        let mut out = Vec::new();
        answers.send(at(0), Some(&State::default()), &mut out);
        let crate::request::Body::Json(body) = &out[0].1.body else {
            panic!("not JSON")
        };
        let json: serde_json::Value = serde_json::from_slice(body).unwrap();
        assert!(json["content"].as_str().unwrap().contains("<@5>"));
        assert!(json["content"].as_str().unwrap().contains("Recorded."));
        assert_eq!(json["allowed_mentions"]["users"][0], "5");
        assert!(json["nonce"].as_str().unwrap().len() <= 25);
        assert!(answers.came(&source, &Outcome::Made(Some(1)), None, at(0)));
    }

    #[test]
    fn an_unsure_first_answer_is_tried_again_at_once_and_not_for_long() {
        let source = Source::interaction(9);
        let mut answers = Answers::default();
        answers.owe(source.clone(), owed(9, "t"), false, at(0));
        let mut routes = Vec::new();
        for ms in (0..3_000).step_by(50) {
            for route in sent(&mut answers, at(ms)) {
                routes.push(route.name());
                answers.came(&source, &Outcome::Unsure, None, at(ms));
            }
        }
        assert_eq!(routes[..4], ["callback", "callback", "callback", "post"]);
    }

    #[test]
    fn a_deferred_one_changes_the_first_answer_and_a_message_is_answered_in_place() {
        let mut answers = Answers::default();
        answers.owe(
            Source::interaction(9),
            owed(number(9, true), "t"),
            false,
            at(0),
        );
        assert!(matches!(
            sent(&mut answers, at(0))[..],
            [Route::Original { .. }]
        ));
        let mut answers = Answers::default();
        answers.owe(Source::message(8), owed(8, ""), false, at(0));
        assert!(matches!(
            sent(&mut answers, at(0))[..],
            [Route::Post { channel: 4 }]
        ));
    }

    /// The channel as it is read back: one message, by us (7), as old as `made_ms`.
    fn listed(nonce: Option<&str>, text: &str, made_ms: u64) -> Outcome {
        Outcome::Listed(vec![Past {
            id: made_ms << 22,
            author: 7,
            text: text.into(),
            nonce: nonce.map(Into::into),
        }])
    }

    /// One that was sent without an answer is sent again while the platform knows its nonce, and looked for afterwards.
    #[test]
    fn one_in_the_channel_that_may_be_there_is_looked_for_before_it_is_written_again() {
        let asked = 1_000_u64;
        let source = Source::message(asked << 22);
        let mut answers = Answers::default();
        answers.owe(source.clone(), owed(asked << 22, ""), false, at(0));
        let mut routes = Vec::new();
        let mut looked_at = 0;
        for ms in (0..600_000).step_by(500) {
            for route in sent(&mut answers, at(ms)) {
                routes.push(route.name());
                let outcome = if matches!(route, Route::History { .. }) {
                    looked_at = ms;
                    // The first time only what was said before it was asked is there.
                    let first = routes.iter().filter(|name| **name == "history").count() == 1;
                    listed(None, "Recorded.", if first { asked - 1 } else { asked + 1 })
                } else {
                    Outcome::Unsure
                };
                answers.came(&source, &outcome, Some(7), at(ms));
            }
        }
        let first = routes.iter().position(|name| *name == "history").unwrap();
        assert!(first > 1, "{routes:?}");
        assert_eq!(routes[first + 1], "post");
        assert_eq!(routes.last(), Some(&"history"));
        assert!(looked_at >= 180_000, "{looked_at}");
        assert_eq!(answers.waiting(), 0);
    }

    /// A run that was cut off may have written it.
    #[test]
    fn one_of_an_earlier_run_is_looked_for_first() {
        let source = Source::message(8 << 22);
        for (there, then) in [
            (listed(Some(&nonce(&source)), "anything", 9), None),
            (listed(Some("another"), "anything", 9), Some("post")),
            (
                Outcome::Refused {
                    status: 403,
                    code: 50_001,
                },
                Some("post"),
            ),
        ] {
            let mut answers = Answers::default();
            answers.found(source.clone(), owed(8 << 22, ""), at(0));
            assert_eq!(sent(&mut answers, at(0))[0].name(), "history");
            let done = answers.came(&source, &there, Some(7), at(0));
            assert_eq!(done, then.is_none());
            let next = sent(&mut answers, at(0));
            assert_eq!(next.first().map(Route::name), then);
        }
        // One that can still be given as the first answer is: the platform takes that once.
        let mut answers = Answers::default();
        answers.found(Source::interaction(9), owed(9, "t"), at(0));
        assert_eq!(sent(&mut answers, at(0))[0].name(), "callback");
    }
}
