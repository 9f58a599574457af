//! Weeks of a home by dice: every command with every option, every button, menu and form that an answer or a call offers, by
//! everybody who may and some who may not, in both languages, and the clock between them; then every question, once more. What is answered, called
//! and recorded stands in `dice/*.txt`. The dice are loaded by a seed, so the words change where the program's behaviour does,
//! and nowhere else: what no other test thinks of is read here in review. `UPDATE_EXPECT=1` writes the files.
//!
//! What is right is decided in the other tests. These files say only what is so.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod common;

use std::collections::{BTreeMap, VecDeque};
use std::fmt::Write as _;
use std::path::Path;

use chrono::TimeDelta;
use commands::ids::Person;
use commands::message::{Answer, Form, Message, Row};
use commands::role::Role;
use commands::said::{FileRef, Options, Picked, Value};
use commands::table::{COMMANDS, Command, Opt, Takes};
use commands::words::Lang;
use commands::{Decision, Said};
use common::{CARE, Home, SUPERVISORS};
use fastrand::Rng;
use sha2::{Digest, Sha256};

/// Things done in one home.
const DEEDS: usize = 400;
/// Homes: the first is kept in full.
const SEEDS: u64 = 6;
/// How often each command is asked at the end.
const QUESTIONS: usize = 3;
/// Buttons and menus that somebody may still have before them.
const BEFORE_THEM: usize = 24;

const ROLES: [Role; 5] = [
    Role::Aide,
    Role::Nurse,
    Role::Supervisor,
    Role::Upkeep,
    Role::Admin,
];

/// Texts for an option or a field of this name, most of them such as can be read.
fn texts(name: &str) -> &'static [&'static str] {
    match name {
        "air" => &[
            "1 1/4",
            "1.3",
            "3/4",
            "2 cm",
            "under 1",
            "over 1 1/2",
            "touching",
            "1 1/2",
            "asleep",
            "30 mm",
            "1/2",
            "much",
        ],
        "when" | "since" => &[
            "10 min ago",
            "25 min ago",
            "3 h ago",
            "yesterday 22:15",
            "07:00",
        ],
        "until" => &["45 min", "3 h", "15:30", "2 days", "23:00"],
        "note" => &[
            "hose was loose",
            "zip torn at the foot end",
            "Mrs. Wozzle in 103",
        ],
        "reason" => &["typed wrong", "wrong one", "it was another"],
        "set" | "setting" => &["4", "1", "3", "9"],
        "width" => &["36 in", "35.5", "90 cm"],
        "length" => &["80 in", "203 cm"],
        "capacity" => &["400", "180 kg", "350 lb"],
        "beds" => &["101-104", "201", "103, 104", "none"],
        "stock" => &["8.25", "5.25 %", "6", "5%"],
        "target" => &["5000 ppm", "0.1 %", "1:10", "500 ppm"],
        "volume" => &["1 L", "1 gallon", "500 mL", "2 quarts"],
        "price" => &["4200", "6,500", "950"],
        "rental" | "rate" => &["38.50", "25", "61"],
        "years" => &["5", "7"],
        "interest" => &["8 %", "4"],
        "upkeep" => &["300", "120"],
        "salvage" => &["200", "0"],
        "days" => &["200", "300"],
        "admissions" => &["3 a week", "12 a month", "1 a day"],
        "stay" => &["40 days", "3 weeks"],
        "shortfall" => &["5 %", "1 %"],
        "renew" => &["6 months", "2027-01-31"],
        "on" | "known" | "tested" | "outlet-tested" => &["2026-02-20", "2026-01-05", "2025-11-30"],
        "next" => &["2027-02-20", "2026-09-01", "2040-01-01"],
        "from" => &["2026-02-20", "2026-03-02"],
        "to" => &["2026-03-03", "2026-03-12"],
        "period" => &["last 7 days", "this month", "last month", "last 30 days"],
        "zone1" | "zone2" | "zone3" => &["110 mm", "100 mm", "4 3/4 in", "5 in", "130 mm"],
        "zone4" | "zone5" | "zone6" | "zone7" => &["50 mm", "70 mm", "2 in"],
        "angle4" => &["65", "50"],
        "approved" => &["general", "general, Reed 8", "none"],
        "dirty" => &["soiled room", "utility B"],
        "clean" => &["store B", "loft 2"],
        "serial" => &["S-4711", "S-4712"],
        "lot" => &["L22", "L9"],
        "reference" => &["P-1", "R-20"],
        "words" => &["charge nurse, extension 100", "none"],
        "value" => &["20", "45", "7", "on", "10 min"],
        "home" => &["Heron House", "none"],
        "currency" => &["USD", "EUR"],
        _ => &["LW-03", "103", "Elm", "general", "4"],
    }
}

/// What people write to the bot, from the table of everyday sentences.
fn sentences() -> Vec<&'static str> {
    include_str!("plain/sentences.txt")
        .lines()
        .filter(|line| !line.starts_with('#'))
        .filter_map(|line| line.split_once(" | "))
        .map(|(said, _)| said)
        .collect()
}

/// A home with two makers' profiles, a score of surfaces more, four of them under beds, and lists at their times.
fn home() -> Home {
    let mut home = Home::set_up();
    for body in [
        r#"{"k":"profile-set","name":"Reed 8","class":"replacement","kind":"low-air-loss","check":"hand","first_fill":"highest","fill_minutes":25,"filter":"replaceable","filter_check_days":3,"filter_max_days":20,"width":9017,"length":20320,"capacity_lb":450,"holds_minutes":45,"service_days":180,"settings":[[120,"1"],[160,"2"],[250,"4"]]}"#,
        r#"{"k":"profile-set","name":"Moss","class":"overlay","kind":"alternating","check":"look-and-feel","first_fill":"highest","fill_minutes":30,"filter":"none","filter_check_days":7,"filter_max_days":90,"cover_opens":false}"#,
    ] {
        home.fact(body);
    }
    for n in 11..32 {
        let profile = ["general", "Reed 8", "Moss"][n % 3];
        let start = ["ready", "ready", "soiled", "ready"][n % 4];
        let mut options = vec![
            ("tag", common::text(&format!("LW-{n}"))),
            ("profile", common::text(profile)),
            ("state", common::text(start)),
        ];
        if n % 5 != 0 {
            options.push(("tested", common::text("2025-09-20")));
        }
        if n % 4 == 0 {
            options.push(("lot", common::text("L9")));
        }
        home.does(Role::Supervisor, "fleet add", &options);
    }
    for (tag, bed) in [
        ("LW-12", "103"),
        ("LW-13", "104"),
        ("LW-16", "202"),
        ("LW-19", "203"),
    ] {
        home.does(
            Role::Nurse,
            "place",
            &[("surface", common::text(tag)), ("bed", common::text(bed))],
        );
    }
    for (what, when) in [
        ("due-list", "every 8h from 07:00"),
        ("summary", "daily 06:45"),
        ("handover", "every 8h from 06:30"),
    ] {
        home.does(
            Role::Admin,
            "facility schedule",
            &[("what", common::text(what)), ("when", common::text(when))],
        );
    }
    home
}

/// A home, its dice, what people have before them, and what was told so far.
struct Weeks {
    home: Home,
    dice: Rng,
    before: VecDeque<Before>,
    told: String,
}

/// A button, or a menu with its entries, and who saw it first.
#[derive(Clone)]
struct Before {
    who: Option<Role>,
    id: String,
    entries: Vec<String>,
}

impl Weeks {
    fn new(seed: u64) -> Self {
        Self {
            home: home(),
            dice: Rng::with_seed(seed),
            before: VecDeque::new(),
            told: String::new(),
        }
    }

    fn one_of<T: Clone>(&mut self, of: &[T]) -> Option<T> {
        (!of.is_empty()).then(|| of[self.dice.usize(..of.len())].clone())
    }

    /// What somebody gives for an option: often what is suggested, and a word of the list where there is one.
    fn value(&mut self, command: &Command, option: &Opt, given: &Options) -> Option<Value> {
        Some(match option.takes {
            Takes::Choice(words) => Value::Text((*self.one_of(words)?).to_owned()),
            Takes::Whole(least, most) => {
                let near = most.min(least + 12);
                Value::Whole(self.dice.i64(least..=near))
            }
            Takes::Person => Value::Person(Picked::member(Person(self.dice.u64(1_001..1_009)))),
            Takes::Channel => Value::Channel(if self.dice.bool() { CARE } else { SUPERVISORS }),
            Takes::Role => return None,
            Takes::File => Value::File(FileRef {
                name: "surfaces.csv".to_owned(),
                url: "nowhere".to_owned(),
                size: 200,
            }),
            Takes::Suggested if self.dice.u8(..5) > 0 => {
                let mut options = given.clone();
                options.insert(option.name.to_owned(), Value::Text(String::new()));
                let said = Said::Completing {
                    path: command.path.to_owned(),
                    options,
                    focused: option.name.to_owned(),
                };
                let decision = self.home.ask(Role::Supervisor, &said);
                let Some(Answer::Choices(choices)) = decision.answer else {
                    return None;
                };
                Value::Text(self.one_of(&choices)?.value)
            }
            Takes::Suggested | Takes::Text => {
                if option.name == "tag" {
                    return Some(Value::Text(format!("LW-{}", self.dice.u8(40..80))));
                }
                if option.name == "entry" {
                    let last = self.home.state.next_no().0;
                    return Some(Value::Text(self.dice.u64(1..last).to_string()));
                }
                Value::Text((*self.one_of(texts(option.name))?).to_owned())
            }
        })
    }

    fn command(&mut self, command: &Command) -> Said {
        let mut options = Options::new();
        for option in command.options {
            if (option.required || self.dice.u8(..3) == 0)
                && let Some(value) = self.value(command, option, &options)
            {
                options.insert(option.name.to_owned(), value);
            }
        }
        Said::Command {
            path: command.path.to_owned(),
            options,
        }
    }

    fn filled(&mut self, form: &Form) -> Said {
        let mut fields = BTreeMap::new();
        for field in &form.fields {
            if field.required || self.dice.bool() {
                let text = self.one_of(texts(&field.id)).unwrap_or_default();
                fields.insert(field.id.clone(), text.to_owned());
            }
        }
        Said::Form {
            id: form.id.clone(),
            fields,
        }
    }

    /// What somebody does next: a command, or one of what is before them; mostly somebody who may.
    fn next(&mut self) -> (Role, Said) {
        let anybody = self.one_of(&ROLES).unwrap_or(Role::Supervisor);
        let mostly = self.dice.u8(..5) > 0;
        if !self.before.is_empty() && self.dice.u8(..5) < 3 {
            // Rather what came last.
            let many = self.before.len();
            let at = self.dice.usize(..many).max(self.dice.usize(..many));
            let Before { who, id, entries } = self.before[at].clone();
            let chosen = self.one_of(&entries).into_iter().collect();
            let who = who.filter(|_| mostly).unwrap_or(anybody);
            return (who, Said::Tap { id, chosen });
        }
        if self.dice.u8(..4) == 0 {
            let said = Said::Mention {
                text: self.one_of(&sentences()).unwrap_or_default().to_owned(),
                files: false,
            };
            return (anybody, said);
        }
        let command = &COMMANDS[self.dice.usize(..COMMANDS.len())];
        let may: Vec<Role> = ROLES
            .into_iter()
            .filter(|role| command.right.roles().contains(role))
            .collect();
        let who = self.one_of(&may).filter(|_| mostly).unwrap_or(anybody);
        (who, self.command(command))
    }

    /// Somebody does it; what is recorded is a fact from now on.
    fn does(&mut self, role: Role, lang: Lang, said: &Said) {
        self.says(role, lang, said);
        let decision = self.home.ask_as(&[role], lang, said);
        self.hears(Some(role), &decision);
        self.home.take(Some(Person(1_000 + role as u64)), &decision);
        if let Some(Answer::Form(form)) = &decision.answer {
            let sent = self.filled(form);
            self.does(role, lang, &sent);
        }
    }

    fn says(&mut self, role: Role, lang: Lang, said: &Said) {
        let at = self.home.now.format("%m-%d %H:%M");
        let said = match said {
            Said::Command { path, options } => {
                let options: Vec<String> = options
                    .iter()
                    .map(|(name, value)| match value {
                        Value::Text(text) => format!("{name}:{text}"),
                        Value::Whole(number) => format!("{name}:{number}"),
                        Value::Flag(_)
                        | Value::Role(_)
                        | Value::Everybody
                        | Value::Channel(_)
                        | Value::Person(_)
                        | Value::File(_) => format!("{name}:{value:?}"),
                    })
                    .collect();
                format!("/{path} {}", options.join(" "))
            }
            Said::Tap { id, chosen } => format!("taps {id} {}", chosen.join(" ")),
            Said::Form { id, fields } => format!("sends {id} {fields:?}"),
            Said::Mention { text, .. } => format!("writes {text}"),
            Said::Completing { .. } | Said::Fetched { .. } => format!("{said:?}"),
        };
        let lang = if lang == Lang::English { "" } else { " es" };
        let said = said.trim_end();
        let _ = writeln!(self.told, "\n{at} {}{lang}: {said}", role.as_str());
    }

    fn hears(&mut self, who: Option<Role>, decision: &Decision) {
        match &decision.answer {
            None => {}
            Some(Answer::Private(message)) => self.reads(who, "-", message),
            Some(Answer::Shared(message)) => self.reads(who, "all", message),
            Some(Answer::Replace(message)) => self.reads(who, "instead", message),
            Some(Answer::Form(form)) => {
                let _ = writeln!(self.told, "  form {}: {}", form.id, form.title);
                for field in &form.fields {
                    let must = if field.required { "!" } else { "" };
                    let _ = writeln!(
                        self.told,
                        "    {}{must}: {} ({})",
                        field.id, field.label, field.hint
                    );
                }
            }
            Some(Answer::Choices(choices)) => {
                let words: Vec<_> = choices.iter().map(|choice| &*choice.label).collect();
                let _ = writeln!(self.told, "  suggested {}", words.join(" | "));
            }
            Some(Answer::Fetch(what)) => {
                let _ = writeln!(self.told, "  fetches {what}");
            }
        }
        for post in &decision.posts {
            let to = format!("{:?} {:?} {}", post.lane, post.kind, post.key);
            self.reads(None, &to, &post.message);
        }
        for entry in &decision.entries {
            let body = String::from_utf8(entry.body.encode()).unwrap();
            let late = (self.home.now - entry.at).num_minutes();
            let late = if late == 0 {
                String::new()
            } else {
                format!(" {late} min ago")
            };
            let note = entry.note.as_deref().unwrap_or("");
            let _ = writeln!(self.told, "  = {}{late} {body} {note}", entry.role.as_str());
        }
    }

    fn reads(&mut self, who: Option<Role>, to: &str, message: &Message) {
        let called = format!("{:?}{:?}", message.ping_roles, message.ping_people);
        let silent = if message.silent { " silent" } else { "" };
        let _ = writeln!(self.told, "  {to}{silent} {}", called.replace("[]", ""));
        for line in message.text.lines() {
            let _ = writeln!(self.told, "  > {line}");
        }
        for row in &message.rows {
            let (ones, labels): (Vec<_>, Vec<_>) = match row {
                Row::Buttons(buttons) => buttons
                    .iter()
                    .map(|button| ((&button.id, Vec::new()), &*button.label))
                    .unzip(),
                Row::Menu(menu) => {
                    let values = menu.entries.iter().map(|entry| entry.value.clone());
                    let labels = menu.entries.iter().map(|entry| &*entry.label);
                    (vec![(&menu.id, values.collect())], labels.collect())
                }
            };
            for (id, entries) in ones {
                // What stands in several messages is before them once.
                self.before.retain(|old| old.id != *id);
                self.before.push_back(Before {
                    who,
                    id: id.clone(),
                    entries,
                });
            }
            let _ = writeln!(self.told, "  [{}]", labels.join("] ["));
            let old = self.before.len().saturating_sub(BEFORE_THEM);
            self.before.drain(..old);
        }
        for file in &message.files {
            let _ = writeln!(self.told, "  file {} {}", file.name, sum(&file.text));
            for picture in &file.pictures {
                let _ = writeln!(self.told, "    {} {}", picture.text, sum(picture));
            }
        }
        if let Some(picture) = &message.picture {
            let _ = writeln!(self.told, "  picture {} {}", picture.text, sum(picture));
        }
    }

    /// Time passes, and the clock does its part: kept as how often it did what, and a sum of what it said.
    fn passes(&mut self) {
        let minutes = match self.dice.u8(..16) {
            0 => self.dice.i64(120..900),
            1..4 => self.dice.i64(15..60),
            _ => self.dice.i64(0..6),
        };
        let until = self.home.now + TimeDelta::minutes(minutes);
        let mut kinds: BTreeMap<&str, u32> = BTreeMap::new();
        let mut told = std::mem::take(&mut self.told);
        while let Some(at) = commands::next_due(&self.home.state).filter(|at| *at <= until) {
            self.home.now = self.home.now.max(at);
            while let Some((_, decision)) = commands::tick(&self.home.state, self.home.now) {
                let _ = writeln!(self.told, "{}", self.home.now);
                self.hears(None, &decision);
                for entry in &decision.entries {
                    *kinds.entry(entry.body.kind()).or_default() += 1;
                }
                self.home.take(None, &decision);
            }
        }
        if !kinds.is_empty() {
            let _ = writeln!(told, "\nclock: {kinds:?} {}", sum(&self.told));
        }
        self.told = told;
        self.home.now = until;
    }

    /// Somebody who may asks it; nothing becomes a fact.
    fn asks(&mut self, command: &Command) {
        let Some(role) = self.one_of(command.right.roles()) else {
            return;
        };
        let said = self.command(command);
        self.says(role, Lang::English, &said);
        let decision = self.home.ask(role, &said);
        self.hears(None, &decision);
    }
}

/// Stands for what is too long to be read here.
fn sum(of: &impl std::fmt::Debug) -> String {
    let sum = Sha256::digest(format!("{of:?}"));
    sum.iter().take(6).fold(String::new(), |mut sum, byte| {
        let _ = write!(sum, "{byte:02x}");
        sum
    })
}

/// What is told of each thing done in the weeks of a seed.
fn weeks(seed: u64) -> Vec<String> {
    let mut weeks = Weeks::new(seed);
    let mut told = Vec::new();
    for _ in 0..DEEDS {
        weeks.passes();
        let (role, said) = weeks.next();
        let lang = Lang::ALL[usize::from(weeks.dice.u8(..4) == 0)];
        weeks.does(role, lang, &said);
        told.push(std::mem::take(&mut weeks.told));
    }
    for _ in 0..QUESTIONS {
        for command in COMMANDS {
            weeks.asks(command);
            told.push(std::mem::take(&mut weeks.told));
        }
    }
    told
}

/// Compares what is kept with what is told now, thing by thing, and shows the first that differs.
#[allow(
    clippy::disallowed_methods,
    reason = "a wish of whoever runs the tests, no setting of loftwatch"
)]
fn compare(name: &str, told: &[String], shown: &[String]) {
    let file = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/dice")
        .join(name);
    if std::env::var_os("UPDATE_EXPECT").is_some() {
        std::fs::create_dir_all(file.parent().unwrap()).unwrap();
        std::fs::write(&file, told.concat()).unwrap();
        return;
    }
    let kept = std::fs::read_to_string(&file).unwrap_or_default();
    let mut rest = kept.as_str();
    for (told, shown) in told.iter().zip(shown) {
        rest = rest.strip_prefix(told.as_str()).unwrap_or_else(|| {
            let was: Vec<_> = rest.lines().take(told.lines().count()).collect();
            panic!(
                "{name}: kept is\n{}\nand now it is\n{told}\nin full:\n{shown}\nUPDATE_EXPECT=1 writes the file; read what git diff says of it",
                was.join("\n")
            )
        });
    }
    assert_eq!(rest, "", "{name}: more is kept");
}

/// Kept in full, to be read.
#[test]
fn weeks_in_full() {
    let told = weeks(1);
    compare("1.txt", &told, &told);
}

/// Kept as a line for each thing done: what, and a sum of all that came of it.
#[test]
fn more_weeks() {
    for seed in 2..=SEEDS {
        let told = weeks(seed);
        let lines: Vec<String> = told
            .iter()
            .map(|told| {
                let mut said = told.lines().filter(|line| !line.is_empty());
                let said = said.find(|line| !line.starts_with("clock")).unwrap_or("-");
                format!("{} {said}\n", sum(told))
            })
            .collect();
        compare(&format!("{seed}.txt"), &lines, &told);
    }
}
