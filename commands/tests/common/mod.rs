//! A small home for tests of the core: asks go in, decisions come out, and their records become facts.

#![allow(dead_code, missing_docs, reason = "each test file uses a part of it")]

pub mod every_tap;

use std::collections::BTreeMap;

use chrono::{DateTime, TimeDelta, Utc};
use commands::ids::{Channel, ChatRole, Person, RecordNo, Tag};
use commands::message::{Answer, Message, Row};
use commands::record::{BODY_VERSION, Body, Record};
use commands::role::Role;
use commands::said::{Options, Value};
use commands::state::Life;
use commands::tap::Began;
use commands::words::Lang;
use commands::{Ask, Decision, Said, Source, State};

/// The chat's roles, by ours.
pub const ROLES: [(Role, u64); 4] = [
    (Role::Aide, 101),
    (Role::Nurse, 102),
    (Role::Supervisor, 103),
    (Role::Upkeep, 104),
];
/// Where everybody reads.
pub const CARE: Channel = Channel(201);
/// Where supervisors read.
pub const SUPERVISORS: Channel = Channel(202);

/// A facility's state, its clock, and every record so far.
pub struct Home {
    pub state: State,
    pub now: DateTime<Utc>,
    pub log: Vec<Record>,
    asked: u64,
}

impl Home {
    /// Before anything was set up.
    pub fn empty() -> Self {
        let now = DateTime::parse_from_rfc3339("2026-03-02T13:10:00Z")
            .expect("a moment")
            .to_utc();
        Self {
            state: State::default(),
            now,
            log: Vec::new(),
            asked: 0,
        }
    }

    /// Two units, three surfaces in place, one ready and one soiled.
    pub fn set_up() -> Self {
        let mut home = Self::empty();
        let role = |number| Value::Role(ChatRole(number));
        home.does(
            Role::Admin,
            "facility setup",
            &[
                ("timezone", text("America/Chicago")),
                ("care-channel", Value::Channel(CARE)),
                ("supervisor-channel", Value::Channel(SUPERVISORS)),
                ("aide", role(101)),
                ("nurse", role(102)),
                ("supervisor", role(103)),
                ("upkeep", role(104)),
            ],
        );
        home.does(
            Role::Admin,
            "facility unit",
            &[("name", text("Elm")), ("beds", text("101-106"))],
        );
        home.does(
            Role::Admin,
            "facility unit",
            &[("name", text("Birch")), ("beds", text("201-204"))],
        );
        for (tag, start) in [
            ("LW-01", "ready"),
            ("LW-02", "ready"),
            ("LW-03", "ready"),
            ("LW-04", "ready"),
            ("LW-05", "soiled"),
        ] {
            home.does(
                Role::Supervisor,
                "fleet add",
                &[
                    ("tag", text(tag)),
                    ("profile", text("general")),
                    ("state", text(start)),
                    ("tested", text("2026-01-15")),
                ],
            );
        }
        for (tag, bed) in [("LW-01", "101"), ("LW-02", "102"), ("LW-03", "201")] {
            home.does(
                Role::Nurse,
                "place",
                &[("surface", text(tag)), ("bed", text(bed))],
            );
        }
        home
    }

    /// Somebody in one role asks this; nothing becomes a fact.
    pub fn ask(&mut self, role: Role, said: &Said) -> Decision {
        self.ask_as(&[role], Lang::English, said)
    }

    /// Somebody with these roles and this language asks; nothing becomes a fact.
    pub fn ask_as(&mut self, held: &[Role], lang: Lang, said: &Said) -> Decision {
        self.asked += 1;
        let role = held.first().copied().unwrap_or(Role::Clock);
        let ask = Ask {
            source: Source::interaction(self.asked),
            who: Person(1_000 + role as u64),
            chat_roles: ROLES
                .iter()
                .filter(|(of, _)| held.contains(of))
                .map(|(_, number)| ChatRole(*number))
                .collect(),
            manages: held.contains(&Role::Admin),
            deleted: Vec::new(),
            channel: CARE,
            lang,
            at: self.now,
        };
        self.answer(&ask, said)
    }

    /// Somebody who holds these roles of the chat asks this; nothing becomes a fact.
    pub fn ask_by(&mut self, who: Person, roles: &[u64], said: &Said) -> Decision {
        self.asked += 1;
        let ask = Ask {
            source: Source::interaction(self.asked),
            who,
            chat_roles: roles.iter().map(|number| ChatRole(*number)).collect(),
            manages: false,
            deleted: Vec::new(),
            channel: CARE,
            lang: Lang::English,
            at: self.now,
        };
        self.answer(&ask, said)
    }

    /// The answer, with the log at hand: what is wanted of it is found among all records, as none were in a file.
    pub fn answer(&self, ask: &Ask, said: &Said) -> Decision {
        commands::answer_from(&self.state, ask, said, |wanted| {
            let mut records = Vec::new();
            wanted.with_pending(&mut records, &self.log);
            Ok::<_, std::convert::Infallible>(records)
        })
        .unwrap_or_else(|never| match never {})
    }

    /// What follows becomes a fact.
    pub fn take(&mut self, who: Option<Person>, decision: &Decision) {
        let first = self.state.next_no();
        for entry in &decision.entries {
            let record = Record {
                no: self.state.next_no(),
                at: entry.at,
                entered: self.now,
                who,
                role: entry.role,
                first,
                body: entry.body.clone(),
                note: entry.note.clone(),
            };
            self.state
                .apply(&record)
                .unwrap_or_else(|fault| panic!("{fault}"));
            self.log.push(record);
        }
    }

    /// The next record, as the file would hold it: a nurse's.
    pub fn record(&self, body: &str) -> Record {
        Record {
            no: self.state.next_no(),
            at: self.now,
            entered: self.now,
            who: Some(Person(1_000 + Role::Nurse as u64)),
            role: Role::Nurse,
            first: self.state.next_no(),
            body: Body::decode(BODY_VERSION, body.as_bytes()).expect("a body"),
            note: None,
        }
    }

    /// What a record says becomes a fact, whoever may say so.
    pub fn fact(&mut self, body: &str) {
        let record = self.record(body);
        self.state
            .apply(&record)
            .unwrap_or_else(|fault| panic!("{fault}"));
        self.log.push(record);
    }

    /// A surface of a vendor's, ready to be placed.
    pub fn has_rented(&mut self, tag: &str) {
        let options = [
            ("tag", text(tag)),
            ("profile", text("general")),
            ("owned", text("rented")),
            ("state", text("ready")),
            ("tested", text("2026-01-15")),
        ];
        self.does(Role::Supervisor, "fleet add", &options);
    }

    /// Somebody does this with a command, which must be taken.
    pub fn does(&mut self, role: Role, path: &str, options: &[(&str, Value)]) -> Decision {
        let decision = self.ask(role, &command(path, options));
        assert!(
            !decision.entries.is_empty(),
            "/{path} recorded nothing: {}",
            answer_text(&decision)
        );
        self.take(Some(Person(1_000 + role as u64)), &decision);
        decision
    }

    /// Somebody taps this.
    pub fn taps(&mut self, role: Role, id: &str, chosen: &[&str]) -> Decision {
        let said = Said::Tap {
            id: id.to_owned(),
            chosen: chosen.iter().map(|value| (*value).to_owned()).collect(),
        };
        let decision = self.ask(role, &said);
        self.take(Some(Person(1_000 + role as u64)), &decision);
        decision
    }

    /// The turnover that a card of this surface would name now; none of its, where it is in none.
    pub fn turnover_of(&self, tag: &Tag) -> Began {
        match self.state.surfaces.get(tag).map(|surface| &surface.life) {
            Some(Life::Soiled(turnover)) => Began(turnover.said.timestamp() / 60),
            Some(_) | None => Began(0),
        }
    }

    /// Time passes, and the clock does its part on the way.
    pub fn passes(&mut self, minutes: i64) -> Vec<Decision> {
        let until = self.now + TimeDelta::minutes(minutes);
        let mut done = Vec::new();
        while let Some(at) = commands::next_due(&self.state).filter(|at| *at <= until) {
            self.now = self.now.max(at);
            while let Some((_, decision)) = commands::tick(&self.state, self.now) {
                self.take(None, &decision);
                done.push(decision);
            }
        }
        self.now = until;
        done
    }
}

/// A text option.
pub fn text(text: &str) -> Value {
    Value::Text(text.to_owned())
}

/// A command with its options.
pub fn command(path: &str, options: &[(&str, Value)]) -> Said {
    let options: Options = options
        .iter()
        .map(|(name, value)| ((*name).to_owned(), value.clone()))
        .collect::<BTreeMap<_, _>>();
    Said::Command {
        path: path.to_owned(),
        options,
    }
}

/// The message of an answer.
pub fn answer_message(decision: &Decision) -> Option<&Message> {
    match decision.answer.as_ref()? {
        Answer::Private(message) | Answer::Shared(message) | Answer::Replace(message) => {
            Some(message)
        }
        Answer::Form(_) | Answer::Choices(_) | Answer::Fetch(_) => None,
    }
}

/// The text of an answer.
pub fn answer_text(decision: &Decision) -> &str {
    answer_message(decision).map_or("", |message| &message.text)
}

/// The identifiers of an answer's buttons, in order.
pub fn buttons(decision: &Decision) -> Vec<String> {
    answer_message(decision)
        .into_iter()
        .flat_map(|message| &message.rows)
        .filter_map(|row| match row {
            Row::Buttons(buttons) => Some(buttons),
            Row::Menu(_) => None,
        })
        .flatten()
        .map(|button| button.id.clone())
        .collect()
}

/// The record that a line of `tests/logs` holds.
pub fn record_of(line: &serde_json::Value) -> Record {
    let moment = |name: &str| {
        DateTime::parse_from_rfc3339(line[name].as_str().expect("a moment"))
            .expect("a moment")
            .to_utc()
    };
    let number = |name: &str| line[name].as_u64().expect("a number");
    let version = u32::try_from(number("version")).expect("a version");
    Record {
        no: RecordNo(number("no")),
        at: moment("at"),
        entered: moment("entered"),
        who: line["who"].as_u64().map(Person),
        role: serde_json::from_value(line["role"].clone()).expect("a role"),
        first: RecordNo(number("first")),
        body: Body::decode(version, line["body"].to_string().as_bytes()).expect("a body"),
        note: line["note"].as_str().map(str::to_owned),
    }
}
