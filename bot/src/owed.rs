//! The answers owed to people whose entry is on disk. Decides how each gets to its person: as the first
//! answer, as a change of it, or as a message in the channel when both are no longer possible. A step
//! machine without I/O. A failed answer undoes nothing.

use std::collections::BTreeMap;
use std::time::Duration;

use commands::decision::Lane;
use commands::message::Message;
use commands::words;
use commands::{Source, State};
use store::Owed;

use crate::clock::Moment;
use crate::desk::Tag;
use crate::request::{Outcome, Request, Route, Token};
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
        let stage = if owed.token.is_empty() {
            Stage::Channel
        } else if owed.interaction == DEFERRED {
            Stage::Change
        } else {
            Stage::First
        };
        let held = Held {
            owed,
            on_message,
            stage,
            at: Some(now.mono),
            tries: 0,
            late: false,
        };
        self.held.insert(source, held);
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
            if held.stage == Stage::Channel && state.is_none() {
                held.at = Some(now.mono + Duration::from_secs(1));
                continue;
            }
            held.at = None;
            held.tries += 1;
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

    /// One came to this. Returns whether nothing more is owed.
    pub fn came(&mut self, source: &Source, outcome: &Outcome, now: Moment) -> bool {
        let Some(held) = self.held.get_mut(source) else {
            return false;
        };
        let done = held.came(outcome, now);
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
    fn request(&self, source: &Source, state: Option<&State>) -> Option<Request> {
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
                let body = write::post(&told, &format!("a{}", source.0), to_message);
                (
                    Route::Post {
                        channel: self.owed.channel.0,
                    },
                    body,
                )
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

    fn came(&mut self, outcome: &Outcome, now: Moment) -> bool {
        match outcome {
            Outcome::Made(_) | Outcome::Listed(_) | Outcome::Named(_) => true,
            Outcome::Refused {
                code: CODE_ANSWERED,
                ..
            } => true,
            Outcome::Refused { status, code } => {
                if self.stage == Stage::Channel {
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
                if self.stage == Stage::First && self.tries >= CALLBACK_TRIES {
                    self.turn_to_channel(now);
                    return false;
                }
                if self.tries >= TRIES_MAX {
                    if self.stage == Stage::Channel {
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
            (_, Stage::Change | Stage::Channel) => {
                Duration::from_secs(1 << self.tries.min(6)).min(BACKOFF_MAX)
            }
        }
    }

    fn turn_to_channel(&mut self, now: Moment) {
        self.stage = Stage::Channel;
        self.late = true;
        self.tries = 0;
        self.at = Some(now.mono);
    }
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
            assert!(answers.came(&source, &outcome, at(0)));
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
        assert!(answers.came(&source, &Outcome::Made(Some(1)), at(0)));
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
                answers.came(&source, &Outcome::Unsure, at(ms));
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
}
