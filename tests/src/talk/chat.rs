//! A small strict chat in memory. Decides what the platform would: who sees what, which button is where,
//! that an interaction is answered once and in time, that a nonce makes one message, that nobody is
//! called who is not named. What the platform would refuse fails the test at once.

use std::collections::{BTreeMap, BTreeSet};
use std::time::Duration;

use super::show::unnumbered;

use bot::clock::Moment;
use bot::request::{Body, HISTORY_MESSAGES, Outcome, Past, Request, Route, Token};
use chrono::{DateTime, Utc};
use serde_json::Value;

/// Our own user and application.
pub const US: u64 = 900;
/// Somebody who writes in the chat and has nothing to do with the bot.
const SOMEBODY: u64 = 901;
/// How long an interaction may be answered for the first time, and how long its token lives (the
/// platform's documentation of interactions).
const FIRST_ANSWER: Duration = Duration::from_secs(3);
const TOKEN_LIVES: Duration = Duration::from_secs(15 * 60);
/// "The past few minutes", in which a nonce is known.
const NONCE_KNOWN: Duration = Duration::from_secs(120);
/// The platform counts from the first moment of 2015.
const EPOCH_MS: i64 = 1_420_070_400_000;

/// What a message looks like.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Look {
    /// Its text.
    pub text: String,
    /// What is below it.
    pub rows: Vec<Row>,
    /// The files that hang on it, each with its name.
    pub files: Vec<(String, String)>,
    /// The picture that hangs on it: its name, and what is read out in its place.
    pub picture: Option<(String, String)>,
}

/// A row below a message.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Row {
    /// Buttons: identifier and label.
    Buttons(Vec<(String, String)>),
    /// A menu.
    Menu {
        /// Its identifier.
        id: String,
        /// What stands in it.
        hint: String,
        /// Value, label, and second line.
        entries: Vec<(String, String, String)>,
    },
}

/// A message.
#[derive(Clone, Debug)]
pub struct Posted {
    /// Its number.
    pub id: u64,
    /// Where.
    pub channel: u64,
    /// Who alone sees it.
    pub only: Option<u64>,
    /// How it reads now.
    pub look: Look,
    /// Whom it called when it came.
    pub called: Called,
    /// When it came, by facility time.
    pub at: DateTime<Utc>,
    /// The interaction it answered.
    pub answers: Option<u64>,
    /// The nonce it was made under.
    pub nonce: Option<String>,
    /// It reads otherwise than when it came.
    pub changed: bool,
}

/// Who is notified.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Called {
    /// Roles.
    pub roles: Vec<u64>,
    /// People.
    pub people: Vec<u64>,
}

/// A form that somebody has before them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Form {
    /// Its identifier.
    pub id: String,
    /// Its title.
    pub title: String,
    /// Field, label, example, and whether it must be filled in.
    pub fields: Vec<(String, String, String, bool)>,
}

/// Something that people noticed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Noticed {
    /// When, by facility time.
    pub at: DateTime<Utc>,
    /// What.
    pub what: What,
}

/// What people noticed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    /// An answer that one person sees.
    Private(u64, Look),
    /// An answer that everybody in the channel sees.
    Shared(u64, u64, Look),
    /// A message for one person changed.
    PrivateChanged(u64, Look),
    /// A message in a channel changed.
    Changed(u64, Look),
    /// A new message in a channel.
    Post {
        /// Where.
        channel: u64,
        /// Whom it called.
        called: Called,
        /// Whose message it answers.
        to: Option<u64>,
        /// Without a sound.
        silent: bool,
        /// How it reads.
        look: Look,
    },
    /// A form came up.
    Form(u64, Form),
    /// Suggestions: label and value.
    Offered(u64, Vec<(String, String)>),
}

#[derive(Clone, Debug)]
struct Interaction {
    who: u64,
    channel: u64,
    /// The message it came from.
    on: Option<u64>,
    token: String,
    came: Duration,
    answered: bool,
    /// The message that its first answer made.
    first: Option<u64>,
}

/// The chat.
#[derive(Clone, Debug, Default)]
pub struct Chat {
    /// All messages, the oldest first.
    pub messages: Vec<Posted>,
    /// What people noticed and no step has told yet.
    pub noticed: Vec<Noticed>,
    /// The form that each person has before them, and the message whose button brought it up.
    pub forms: BTreeMap<u64, (Form, Option<u64>)>,
    /// Requests accepted so far.
    pub accepted: usize,
    interactions: BTreeMap<u64, Interaction>,
    nonces: BTreeMap<(u64, String), (u64, Duration)>,
    /// What people said to each other: the channel and the number of each.
    chatter: Vec<(u64, u64)>,
    /// Who wrote which message.
    written: BTreeMap<u64, u64>,
    /// Roles that were deleted: calling one reaches nobody.
    gone: BTreeSet<u64>,
    number: u64,
    sent_notices: u64,
}

impl Chat {
    /// A role is deleted.
    pub fn role_gone(&mut self, role: u64) {
        self.gone.insert(role);
    }

    /// Somebody taps, types or sends: the interaction's number and token.
    pub fn interaction(
        &mut self,
        who: u64,
        channel: u64,
        on: Option<u64>,
        now: Moment,
    ) -> (u64, Token) {
        let id = self.next_id(now);
        let token = format!("token-{id}");
        let new = Interaction {
            who,
            channel,
            on,
            token: token.clone(),
            came: now.mono,
            answered: false,
            first: None,
        };
        self.interactions.insert(id, new);
        (id, Token(token))
    }

    /// Somebody writes a message.
    pub fn says(&mut self, who: u64, now: Moment) -> u64 {
        let id = self.next_id(now);
        self.written.insert(id, who);
        id
    }

    /// Whether a whole channel sees a message.
    pub fn is_public(&self, message: u64) -> bool {
        self.messages
            .iter()
            .any(|one| one.id == message && one.only.is_none())
    }

    /// Whether an interaction was answered, by more than that it waits.
    pub fn answered(&self, id: u64) -> bool {
        let Some(one) = self.interactions.get(&id).filter(|one| one.answered) else {
            return false;
        };
        !self
            .messages
            .iter()
            .any(|message| one.first == Some(message.id) && message.look == Look::default())
    }

    /// The newest message that this person can see and that `fits`, perhaps only among a channel's.
    pub fn newest(
        &self,
        who: u64,
        channel: Option<u64>,
        fits: impl Fn(&Look) -> bool,
    ) -> Option<&Posted> {
        let sees = |posted: &&Posted| match channel {
            Some(channel) => posted.to_one().is_none() && posted.channel == channel,
            None => posted.only.is_none_or(|only| only == who),
        };
        self.messages
            .iter()
            .rev()
            .filter(sees)
            .find(|posted| fits(&posted.look))
    }

    /// Carries a request out. Returns what became of it, and whether it changed anything.
    pub fn carry(&mut self, request: &Request, now: Moment) -> (Outcome, bool) {
        let before = self.sent_notices;
        let outcome = self.carried(request, now);
        if matches!(outcome, Outcome::Made(_)) {
            self.accepted += 1;
        }
        (outcome, self.sent_notices > before)
    }

    fn carried(&mut self, request: &Request, now: Moment) -> Outcome {
        match &request.route {
            Route::Callback { interaction, token } => {
                self.callback(*interaction, token, &request.body, now)
            }
            Route::Original { token } => self.original(token, &request.body, now),
            Route::Post { channel } => self.post(*channel, &request.body, now),
            Route::Edit { channel, message } => self.edit(*channel, *message, &request.body, now),
            Route::History { channel, before } => Outcome::Listed(self.history(*channel, *before)),
            Route::SetCommands { .. } => Outcome::Made(None),
            Route::Commands { .. } => Outcome::Named(Vec::new()),
            Route::Leave { .. } | Route::Gateway | Route::Me => {
                panic!("a desk asks for {}", request.route.name())
            }
        }
    }

    fn callback(&mut self, id: u64, token: &Token, body: &Body, now: Moment) -> Outcome {
        let Some(one) = self
            .interactions
            .get(&id)
            .filter(|one| one.token == token.0)
        else {
            return Outcome::Refused {
                status: 404,
                code: 10_062,
            };
        };
        if one.answered {
            return Outcome::Refused {
                status: 400,
                code: 40_060,
            };
        }
        if now.mono - one.came > FIRST_ANSWER {
            return Outcome::Refused {
                status: 404,
                code: 10_062,
            };
        }
        let (who, channel, on) = (one.who, one.channel, one.on);
        let (json, files) = read(body);
        let data = &json["data"];
        let private = data["flags"].as_u64().unwrap_or(0) & 64 != 0;
        let mut first = None;
        match json["type"].as_u64() {
            Some(4) => {
                let look = look(data, files);
                let only = private.then_some(who);
                first = Some(self.put(
                    channel,
                    only,
                    look.clone(),
                    Called::default(),
                    Some(id),
                    None,
                    now,
                ));
                let what = if private {
                    What::Private(who, look)
                } else {
                    What::Shared(channel, who, look)
                };
                self.notice(what, now);
            }
            Some(5) => {
                first = Some(self.put(
                    channel,
                    private.then_some(who),
                    Look::default(),
                    Called::default(),
                    Some(id),
                    None,
                    now,
                ))
            }
            Some(6) => self.sent_notices += 1,
            Some(7) => {
                let on =
                    on.expect("an answer takes the place of a message, but the tap came from none");
                self.put_in_place(on, look(data, files), now);
            }
            Some(8) => {
                let list = data["choices"].as_array().expect("suggestions");
                assert!(list.len() <= 25, "the chat shows at most 25 suggestions");
                let list = list
                    .iter()
                    .map(|one| (text(&one["name"], 100), text(&one["value"], 100)))
                    .collect();
                self.notice(What::Offered(who, list), now);
            }
            Some(9) => {
                let form = form(data);
                self.forms.insert(who, (form.clone(), on));
                self.notice(What::Form(who, form), now);
            }
            other => panic!("the chat knows no answer of kind {other:?}"),
        }
        let one = self.interactions.get_mut(&id).expect("it is there");
        one.answered = true;
        one.first = first;
        Outcome::Made(first)
    }

    fn original(&mut self, token: &Token, body: &Body, now: Moment) -> Outcome {
        let found = self.interactions.values().find(|one| one.token == token.0);
        let Some((first, came)) = found.and_then(|one| Some((one.first?, one.came))) else {
            return Outcome::Refused {
                status: 404,
                code: 10_008,
            };
        };
        if now.mono - came > TOKEN_LIVES {
            return Outcome::Refused {
                status: 401,
                code: 50_027,
            };
        }
        let (json, files) = read(body);
        let look = look(&json, files);
        let waits = self
            .messages
            .iter_mut()
            .find(|one| one.id == first && one.look == Look::default());
        match waits.and_then(|one| one.only.map(|who| (one, who))) {
            // It only said that it waits: this is what the person sees first.
            Some((one, who)) => {
                one.look = look.clone();
                self.notice(What::Private(who, look), now);
            }
            None => self.change(first, look, now),
        }
        Outcome::Made(Some(first))
    }

    fn post(&mut self, channel: u64, body: &Body, now: Moment) -> Outcome {
        let (json, files) = read(body);
        let nonce = json["nonce"]
            .as_str()
            .expect("every message has a nonce")
            .to_owned();
        assert!(nonce.len() <= 25, "a nonce of {} characters", nonce.len());
        assert_eq!(
            json["enforce_nonce"],
            Value::Bool(true),
            "the nonce must be enforced"
        );
        if let Some((id, at)) = self.nonces.get(&(channel, nonce.clone()))
            && now.mono - *at <= NONCE_KNOWN
        {
            return Outcome::Made(Some(*id));
        }
        let look = look(&json, files);
        let mut called = called(&json, &look.text);
        called.roles.retain(|role| !self.gone.contains(role));
        let silent = json["flags"].as_u64().unwrap_or(0) & 4_096 != 0;
        let id = self.put(
            channel,
            None,
            look.clone(),
            called.clone(),
            None,
            Some(nonce.clone()),
            now,
        );
        self.nonces.insert((channel, nonce), (id, now.mono));
        let to = json["message_reference"]["message_id"]
            .as_str()
            .and_then(|id| id.parse().ok());
        let to = to.and_then(|id: u64| self.written.get(&id).copied());
        self.notice(
            What::Post {
                channel,
                called,
                to,
                silent,
                look,
            },
            now,
        );
        Outcome::Made(Some(id))
    }

    fn edit(&mut self, channel: u64, message: u64, body: &Body, now: Moment) -> Outcome {
        let there = self
            .messages
            .iter()
            .any(|one| one.id == message && one.channel == channel && one.only.is_none());
        assert!(there, "an edit of a message that is not in its channel");
        let (json, files) = read(body);
        called(&json, json["content"].as_str().unwrap_or_default());
        self.change(message, look(&json, files), now);
        Outcome::Made(Some(message))
    }

    /// The newest messages of a channel. The platform does not promise to give a nonce back.
    fn history(&self, channel: u64, before: Option<u64>) -> Vec<Past> {
        let before = before.unwrap_or(u64::MAX);
        let ours = self
            .messages
            .iter()
            .filter(|one| one.channel == channel && one.only.is_none())
            .map(|one| Past {
                id: one.id,
                author: US,
                text: one.look.text.clone(),
                nonce: None,
            });
        let theirs = self.chatter.iter().filter(|(there, _)| *there == channel);
        let theirs = theirs.map(|(_, id)| Past {
            id: *id,
            author: SOMEBODY,
            text: "Who has the key to the store?".to_owned(),
            nonce: None,
        });
        let mut here: Vec<Past> = ours.chain(theirs).filter(|one| one.id < before).collect();
        here.sort_unstable_by_key(|one| std::cmp::Reverse(one.id));
        here.truncate(HISTORY_MESSAGES);
        here
    }

    /// People talk to each other in a channel: so many messages, of which the bot is told nothing.
    pub fn chatter(&mut self, channel: u64, messages: usize, now: Moment) {
        for _ in 0..messages {
            let id = self.next_id(now);
            self.chatter.push((channel, id));
        }
    }

    #[allow(clippy::too_many_arguments, reason = "a message in all its parts")]
    fn put(
        &mut self,
        channel: u64,
        only: Option<u64>,
        look: Look,
        called: Called,
        answers: Option<u64>,
        nonce: Option<String>,
        now: Moment,
    ) -> u64 {
        let id = self.next_id(now);
        self.messages.push(Posted {
            id,
            channel,
            only,
            look,
            called,
            at: now.facility,
            answers,
            nonce,
            changed: false,
        });
        id
    }

    /// A message is told to read so; it is noticed only if it did not yet.
    fn change(&mut self, id: u64, look: Look, now: Moment) {
        if self
            .messages
            .iter()
            .any(|one| one.id == id && one.look == look)
        {
            return;
        }
        self.put_in_place(id, look, now);
    }

    /// A message reads so now; nobody is called by that.
    fn put_in_place(&mut self, id: u64, look: Look, now: Moment) {
        let one = self
            .messages
            .iter_mut()
            .find(|one| one.id == id)
            .expect("a message to change");
        one.look = look.clone();
        one.changed = true;
        let what = match one.only {
            Some(who) => What::PrivateChanged(who, look),
            None => What::Changed(one.channel, look),
        };
        self.notice(what, now);
    }

    fn notice(&mut self, what: What, now: Moment) {
        self.sent_notices += 1;
        self.noticed.push(Noticed {
            at: now.facility,
            what,
        });
    }

    fn next_id(&mut self, now: Moment) -> u64 {
        self.number += 1;
        let ms = u64::try_from(now.wall.timestamp_millis() - EPOCH_MS).expect("after 2015");
        (ms << 22) | (self.number & 0x3f_ffff)
    }
}

impl Posted {
    /// The person that it is for, if it is for one: they alone see it, or it calls them and nobody else.
    pub fn to_one(&self) -> Option<u64> {
        match (&self.called.roles[..], &self.called.people[..]) {
            ([], [one]) => Some(*one),
            _ => self.only,
        }
    }
}

impl Look {
    /// The identifier of the button of this label.
    pub fn button(&self, label: &str) -> Option<&str> {
        self.rows.iter().find_map(|row| match row {
            Row::Buttons(all) => all
                .iter()
                .find(|(_, there)| there == label)
                .map(|(id, _)| id.as_str()),
            Row::Menu { .. } => None,
        })
    }

    /// The identifier of the menu of this hint, and the value of its entry of this label; where several have it, of this
    /// label and second line with a comma between.
    pub fn entry(&self, hint: &str, wanted: &str) -> Option<(&str, &str)> {
        self.rows.iter().find_map(|row| match row {
            Row::Buttons(_) => None,
            Row::Menu {
                id,
                hint: there,
                entries,
            } if there == hint => {
                let is = |label: &str| label == wanted || unnumbered(label) == wanted;
                let found = entries
                    .iter()
                    .find(|(_, label, about)| is(label) || format!("{label}, {about}") == wanted)?;
                Some((id.as_str(), found.0.as_str()))
            }
            Row::Menu { .. } => None,
        })
    }

    /// The identifiers of all its buttons and menus.
    pub fn ids(&self) -> Vec<String> {
        self.rows
            .iter()
            .flat_map(|row| match row {
                Row::Buttons(all) => all.iter().map(|(id, _)| id.clone()).collect(),
                Row::Menu { id, .. } => vec![id.clone()],
            })
            .collect()
    }
}

/// A file as it was sent: its name and its bytes.
pub(crate) type Sent = (String, Vec<u8>);

/// A body as JSON, and the files that go with it.
pub(crate) fn read(body: &Body) -> (Value, Vec<Sent>) {
    match body {
        Body::Empty => panic!("a request without a body"),
        Body::Json(bytes) => (serde_json::from_slice(bytes).expect("JSON"), Vec::new()),
        Body::Multipart { boundary, bytes } => {
            let line = format!("--{boundary}");
            let parts = split(bytes, line.as_bytes());
            let mut parts = parts
                .into_iter()
                .filter_map(|part| cut(part.strip_prefix(b"\r\n")?, b"\r\n\r\n"));
            let (_, json) = parts.next().expect("the message comes first");
            let files = parts.map(|(head, file)| {
                let head = std::str::from_utf8(head).expect("a head is text");
                let name = head
                    .split("filename=\"")
                    .nth(1)
                    .and_then(|rest| rest.split('"').next())
                    .expect("a file has a name");
                (
                    name.to_owned(),
                    file.strip_suffix(b"\r\n").unwrap_or(file).to_vec(),
                )
            });
            let files: Vec<_> = files.collect();
            assert!((1..=10).contains(&files.len()), "then one to ten files");
            (serde_json::from_slice(json).expect("JSON"), files)
        }
    }
}

/// What stands before the first `mark`, and after it.
fn cut<'a>(all: &'a [u8], mark: &[u8]) -> Option<(&'a [u8], &'a [u8])> {
    let at = all.windows(mark.len()).position(|here| here == mark)?;
    Some((&all[..at], &all[at + mark.len()..]))
}

/// What stands between the marks.
fn split<'a>(mut all: &'a [u8], mark: &[u8]) -> Vec<&'a [u8]> {
    let mut parts = Vec::new();
    while let Some((before, after)) = cut(all, mark) {
        parts.push(before);
        all = after;
    }
    parts.push(all);
    parts
}

fn text(value: &Value, most: usize) -> String {
    let text = value
        .as_str()
        .unwrap_or_else(|| panic!("{value} is no text"));
    let count = text.chars().count();
    assert!(
        (1..=most).contains(&count),
        "{count} characters where the chat takes 1 to {most}: {text}"
    );
    text.to_owned()
}

/// A message in the platform's JSON, as it looks; what the platform would refuse fails the test at once.
pub(crate) fn look(json: &Value, files: Vec<Sent>) -> Look {
    let content = text(&json["content"], 2_000);
    let mut seen = BTreeSet::new();
    let mut rows = Vec::new();
    for row in json["components"].as_array().into_iter().flatten() {
        let parts = row["components"].as_array().expect("a row has parts");
        let mut id = |part: &Value| {
            let id = text(&part["custom_id"], 100);
            assert!(
                seen.insert(id.clone()),
                "two parts of one message share the identifier {id}"
            );
            id
        };
        if parts[0]["type"] == 3 {
            assert_eq!(parts.len(), 1, "a menu stands alone in its row");
            let entries = parts[0]["options"].as_array().expect("entries");
            assert!(
                (1..=25).contains(&entries.len()),
                "{} entries in a menu",
                entries.len()
            );
            let entry = |one: &Value| {
                let about = if one["description"].is_null() {
                    String::new()
                } else {
                    text(&one["description"], 100)
                };
                (text(&one["value"], 100), text(&one["label"], 100), about)
            };
            rows.push(Row::Menu {
                id: id(&parts[0]),
                hint: text(&parts[0]["placeholder"], 150),
                entries: entries.iter().map(entry).collect(),
            });
        } else {
            assert!(
                (1..=5).contains(&parts.len()),
                "{} buttons in a row",
                parts.len()
            );
            rows.push(Row::Buttons(
                parts
                    .iter()
                    .map(|part| (id(part), text(&part["label"], 80)))
                    .collect(),
            ));
        }
    }
    assert!(rows.len() <= 5, "{} rows below a message", rows.len());
    // A person tells buttons apart by their words.
    let mut words = BTreeSet::new();
    for row in &rows {
        if let Row::Buttons(all) = row {
            for (_, label) in all {
                assert!(
                    words.insert(label),
                    "two buttons of one message say {label}"
                );
            }
        }
    }
    let mut look = Look {
        text: content,
        rows,
        ..Look::default()
    };
    for (place, (name, bytes)) in files.into_iter().enumerate() {
        if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
            assert!(bytes.len() < 1_000_000, "{name} has {} bytes", bytes.len());
            let said = text(&json["attachments"][place]["description"], 1_024);
            look.picture = Some((name, said));
        } else {
            let file = String::from_utf8(bytes).expect("our other files are text");
            look.files.push((name, file));
        }
    }
    look
}

/// Who is notified: those who are both allowed and named in the text.
pub(crate) fn called(json: &Value, content: &str) -> Called {
    let allowed = &json["allowed_mentions"];
    assert_eq!(
        allowed["parse"],
        serde_json::json!([]),
        "nobody may be called by accident"
    );
    assert_ne!(
        allowed["replied_user"],
        Value::Bool(true),
        "an answer calls nobody by itself"
    );
    let ids = |of: &str, mark: &str| -> Vec<u64> {
        let list = allowed[of].as_array().cloned().unwrap_or_default();
        let ids: Vec<u64> = list
            .iter()
            .map(|id| {
                id.as_str()
                    .and_then(|id| id.parse().ok())
                    .expect("a number as text")
            })
            .collect();
        for id in &ids {
            assert!(
                content.contains(&format!("<@{mark}{id}>")),
                "{id} may be called but is not named in: {content}"
            );
        }
        ids
    };
    Called {
        roles: ids("roles", "&"),
        people: ids("users", ""),
    }
}

fn form(data: &Value) -> Form {
    let rows = data["components"].as_array().expect("a form has fields");
    assert!(
        (1..=5).contains(&rows.len()),
        "{} fields in a form",
        rows.len()
    );
    let field = |row: &Value| {
        let one = &row["components"][0];
        let hint = if one["placeholder"].is_null() {
            String::new()
        } else {
            text(&one["placeholder"], 100)
        };
        (
            text(&one["custom_id"], 100),
            text(&one["label"], 45),
            hint,
            one["required"] == Value::Bool(true),
        )
    };
    Form {
        id: text(&data["custom_id"], 100),
        title: text(&data["title"], 45),
        fields: rows.iter().map(field).collect(),
    }
}
