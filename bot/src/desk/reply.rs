//! Answers of which nothing is kept, and the program's own words where there is no answer. Decides how
//! each gets back to its person; leaves the words to `commands`.

use std::time::Duration;

use commands::Said;
use commands::decision::Lane;
use commands::message::{Answer, Message};
use commands::said::{FetchFault, FileRef, Value};
use commands::words;
use store::Owed;

use super::{Output, Tag};
use crate::event::{Heard, Way};
use crate::request::{Body, Request, Route, Token};
use crate::wire::write;

/// What a person gets whose request the core gave no answer.
pub(super) fn unanswered(heard: &Heard, recorded: bool) -> Answer {
    if matches!(heard.said, Said::Completing { .. }) {
        return Answer::Choices(Vec::new());
    }
    let key = if recorded {
        "bot-recorded"
    } else {
        "bot-broke"
    };
    if !recorded {
        tracing::error!("a request had no answer");
    }
    Answer::Private(Message {
        text: words::say(heard.ask.lang, key, &[]),
        ..Message::default()
    })
}

/// The command again, with its file.
pub(super) fn fetched(mut heard: Heard, file: Result<Vec<u8>, FetchFault>) -> Option<Heard> {
    let Said::Command { path, options } = heard.said else {
        return None;
    };
    heard.said = Said::Fetched {
        path,
        options,
        file,
    };
    heard.act_by = Duration::MAX;
    waited(&mut heard);
    Some(heard)
}

/// What is said instead of the answer to a command whose file is not waited for.
pub(super) fn given_up(mut heard: Heard) -> Option<Output> {
    waited(&mut heard);
    fail(&heard, "bot-nothing-recorded")
}

/// It was told to wait: what it is answered takes the place of that.
fn waited(heard: &mut Heard) {
    if let Way::Interaction { deferred, .. } = &mut heard.way {
        *deferred = true;
    }
}

/// An answer of which nothing is kept.
pub(super) fn plain(heard: Box<Heard>, answer: &Answer) -> Option<Output> {
    if let Answer::Fetch(url) = answer {
        return fetch(heard, url);
    }
    let body = match &heard.way {
        Way::Interaction {
            on_message,
            deferred: false,
            ..
        } => write::callback(answer, on_message.is_some()),
        Way::Interaction { deferred: true, .. } => write::original(write::message_of(answer)?),
        Way::Message { .. } => {
            let nonce = format!("a{}", heard.ask.source.0);
            let Way::Message { id } = heard.way else {
                return None;
            };
            write::post(write::message_of(answer)?, &nonce, Some(id))
        }
    };
    let lane = lane(&heard, write::message_of(answer));
    Some(send(&heard, body, lane))
}

fn fetch(heard: Box<Heard>, url: &str) -> Option<Output> {
    let Some(file) = file_at(&heard, url) else {
        return fail(&heard, "bot-broke");
    };
    let body = write::callback(&Answer::Fetch(String::new()), false);
    let Output::Send { request: first, .. } = send(&heard, body, Lane::Reminder) else {
        return None;
    };
    Some(Output::Fetch { heard, file, first })
}

/// The file that the command named, if it was not fetched before.
fn file_at(heard: &Heard, url: &str) -> Option<FileRef> {
    let (
        Said::Command { options, .. },
        Way::Interaction {
            deferred: false, ..
        },
    ) = (&heard.said, &heard.way)
    else {
        return None;
    };
    options.values().find_map(|value| match value {
        Value::File(file) => (file.url == url).then(|| file.clone()),
        Value::Text(_)
        | Value::Whole(_)
        | Value::Flag(_)
        | Value::Role(_)
        | Value::Everybody
        | Value::Channel(_)
        | Value::Person(_) => None,
    })
}

/// When an answer's turn is. One to a message goes through the channel, whose share of requests the calls need too: what is
/// only words waits behind everything else, what can be tapped may be the alarm.
fn lane(heard: &Heard, message: Option<&Message>) -> Lane {
    let to_tap = message.is_some_and(|message| !message.rows.is_empty());
    match heard.way {
        Way::Message { .. } if !to_tap => Lane::Routine,
        Way::Message { .. } | Way::Interaction { .. } => Lane::Reminder,
    }
}

fn send(heard: &Heard, body: Body, lane: Lane) -> Output {
    let route = match &heard.way {
        Way::Interaction {
            token,
            deferred: true,
            ..
        } => Route::Original {
            token: token.clone(),
        },
        Way::Interaction { id, token, .. } => Route::Callback {
            interaction: *id,
            token: token.clone(),
        },
        Way::Message { .. } => Route::Post {
            channel: heard.ask.channel.0,
        },
    };
    Output::Send {
        tag: Tag::Nothing,
        request: Request { route, body, lane },
    }
}

/// Words of the program's own instead of an answer.
pub fn fail(heard: &Heard, key: &str) -> Option<Output> {
    let text = words::say(heard.ask.lang, key, &[]);
    let message = Message {
        text,
        ..Message::default()
    };
    let body = match &heard.way {
        Way::Interaction { .. } if matches!(heard.said, Said::Completing { .. }) => {
            write::no_choices()
        }
        Way::Interaction { deferred: true, .. } => write::original(&message),
        Way::Interaction { .. } => write::callback_text(&message.text),
        Way::Message { id } => {
            write::post(&message, &format!("a{}", heard.ask.source.0), Some(*id))
        }
    };
    Some(send(heard, body, lane(heard, None)))
}

pub(super) fn not_recorded(owed: &Owed, key: &str) -> Option<Output> {
    let text = words::say(owed.lang, key, &[]);
    let token = || Token(owed.token.clone());
    let message = Message {
        text,
        ..Message::default()
    };
    let (route, body) = match (owed.token.is_empty(), owed.interaction) {
        (true, id) => {
            let route = Route::Post {
                channel: owed.channel.0,
            };
            // Not the nonce of the answer itself, which may yet be given.
            (route, write::post(&message, &format!("n{id}"), Some(id)))
        }
        (false, 0) => (
            Route::Original { token: token() },
            write::original(&message),
        ),
        (false, interaction) => (
            Route::Callback {
                interaction,
                token: token(),
            },
            write::callback_text(&message.text),
        ),
    };
    Some(Output::Send {
        tag: Tag::Nothing,
        request: Request {
            route,
            body,
            lane: Lane::Reminder,
        },
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::DateTime;
    use commands::ids::{Channel, Person};
    use commands::message::{Button, Look, Row};
    use commands::words::Lang;
    use commands::{Ask, Source};

    #[test]
    fn words_to_a_mention_wait_behind_calls_and_what_may_be_the_alarm_does_not() {
        let heard = || {
            Box::new(Heard {
                ask: Ask {
                    source: Source::message(1),
                    who: Person(1),
                    chat_roles: Vec::new(),
                    manages: false,
                    deleted: Vec::new(),
                    channel: Channel(1),
                    lang: Lang::English,
                    at: DateTime::UNIX_EPOCH,
                },
                said: Said::Mention {
                    text: "x".into(),
                    files: false,
                },
                way: Way::Message { id: 1 },
                act_by: Duration::MAX,
            })
        };
        let lane_of = |output: Option<Output>| match output {
            Some(Output::Send { request, .. }) => request.lane,
            Some(_) | None => panic!("not sent"),
        };
        let words = Message::text("x");
        let start = words.clone().buttons(vec![Button {
            id: "b".into(),
            label: "Yes, start the alarm".into(),
            look: Look::Main,
        }]);
        assert!(matches!(start.rows[0], Row::Buttons(_)));
        assert_eq!(
            lane_of(plain(heard(), &Answer::Private(words))),
            Lane::Routine
        );
        assert_eq!(
            lane_of(plain(heard(), &Answer::Private(start))),
            Lane::Reminder
        );
        assert_eq!(lane_of(fail(&heard(), "bot-too-busy")), Lane::Routine);
    }
}
