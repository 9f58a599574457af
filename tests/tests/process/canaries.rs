//! A word of its own into every way there is to type something, at the loudest log: every option of text of the one table, every field of
//! every form, every column of every kind of file, plain messages, suggestions, forged identifiers and menus, the names of the chat, what the
//! chat says when it refuses. Then it is looked for: none of the words may stand in the log or in what watchers are told; none that was
//! refused or erased in the home's file, its write-ahead log or a backup; and none in any other file than the home's own.
//! Neither may any of it act in what the bot writes. Decides where the words go; the table decides which ways there are.

use std::collections::BTreeSet;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::Command;
use std::sync::Arc;
use std::time::Duration;

use bot::clock::mono;
use commands::choice::Import;
use commands::ids::{Guild as Facility, RecordNo};
use commands::rules::import;
use commands::table::{COMMANDS, Command as Row, Takes};
use commands::tap::{Entry, Tap};
use demo_guild::problem::{Faulty, Problem};
use demo_guild::{Fault, Guild, Id, Kind, Layout, Message, Options, Outcome};
use loftwatch_tests::wire::given::{Picks, is_typed};
use rusqlite::types::ValueRef;
use rusqlite::{Connection, OpenFlags};
use serde_json::{Value, json};
use store::Store;
use tempfile::TempDir;

use self::words::{Way, Words};
use crate::child::{Process, Programs};

#[allow(dead_code)]
#[path = "../../../commands/tests/common/every_tap.rs"]
mod every_tap;
mod words;

const PATIENCE: Duration = Duration::from_secs(30);
/// The most that the platform takes: of an option's text, of a form's field.
const OPTION_CHARS_MAX: usize = 6_000;
const FIELD_CHARS_MAX: usize = 4_000;

struct Home {
    guild: Guild,
    folder: TempDir,
    process: Option<Process>,
    health: String,
    /// Has every role and manages the guild: nothing stops on the way for want of a right.
    cy: Id,
    north: Id,
    role: Id,
    dora: Id,
    said: Vec<Arc<Message>>,
    /// What was asked and not answered in words.
    silent: Vec<String>,
}

impl Home {
    async fn open(programs: &Programs, words: &mut Words) -> Home {
        let guild_name = format!("Elm {}", words.word("the guild's name"));
        let roles = ["aide", "nurse", "supervisor", "upkeep"]
            .map(|role| (role, format!("{role}s {}", words.word("a role's name"))));
        let channel = format!("north-{}", words.word("a channel's name"));
        let (cy, dora) = (
            format!("Cy {}", words.word("the asker's name")),
            format!("Dora {}", words.word("a member's name")),
        );
        let layout = Layout::new(&guild_name, "America/Chicago")
            .person(
                &cy,
                "supervisor",
                &roles.each_ref().map(|(_, name)| name.as_str()),
            )
            .manager()
            .person(&dora, "agency", &[])
            .channel(&channel);
        let layout = roles
            .iter()
            .fold(layout, |layout, (_, name)| layout.role(name));
        let guild = Guild::serve(layout, Options::headless()).await.unwrap();
        let owner_only = std::fs::Permissions::from_mode(0o700);
        let folder = tempfile::Builder::new()
            .permissions(owner_only)
            .tempdir()
            .unwrap();
        let free = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
        let health = free.local_addr().unwrap().to_string();
        drop(free);
        let served = [guild.guild_id().0];
        let mut command = programs.run(&guild.url(), &guild.token(), folder.path(), &served);
        command.env("RUST_LOG", "trace");
        command.env("LOFTWATCH_HEALTH", &health);
        let process = Process::start(command, folder.path()).unwrap();
        let begun = mono();
        while !guild.bot_is_up() || guild.commands().is_empty() {
            if mono() - begun > PATIENCE {
                let said = std::fs::read_to_string(folder.path().join("said.txt")).unwrap();
                panic!("it does not serve:\n{said}");
            }
            tokio::time::sleep(Duration::from_millis(20)).await;
        }
        let mut home = Home {
            cy: guild.person(&cy),
            north: guild.channel(&channel),
            role: guild.role(&roles[0].1),
            dora: guild.person(&dora),
            guild,
            folder,
            process: Some(process),
            health,
            said: Vec::new(),
            silent: Vec::new(),
        };
        let north = home.north.to_string();
        let mut set_up = vec![
            ("timezone", json!("America/Chicago")),
            ("care-channel", json!(north)),
            ("supervisor-channel", json!(north)),
        ];
        let known = roles.map(|(role, name)| (role, json!(home.guild.role(&name).to_string())));
        set_up.extend(known);
        let set = home.does("facility setup", &set_up).await;
        assert!(set.text().contains("Set: time zone"), "{}", set.text());
        let unit = [
            ("name", json!("North")),
            ("beds", json!("101-104")),
            ("channel", json!(north)),
        ];
        home.does("facility unit", &unit).await;
        for (tag, bed) in [("LW-07", "101"), ("LW-08", "102"), ("LW-09", "103")] {
            let add = [
                ("tag", json!(tag)),
                ("profile", json!("general")),
                ("tested", json!("2026-01-15")),
            ];
            home.does("fleet add", &add).await;
            let place = [("surface", json!(tag)), ("bed", json!(bed))];
            home.does("place", &place).await;
            home.newest("placed");
        }
        home
    }

    fn picks(&self, file: Value) -> Picks {
        Picks {
            channel: self.north,
            role: self.role,
            person: self.dora,
            tag: "LW-07",
            file,
        }
    }

    async fn does(&mut self, path: &str, options: &[(&str, Value)]) -> Outcome {
        let (guild, cy, north) = (self.guild.clone(), self.cy, self.north);
        let outcome = guild.command_unchecked(cy, north, path, options).await;
        self.heard(path, outcome)
    }

    /// Keeps what was answered, and notes where nothing was.
    fn heard(&mut self, what: &str, outcome: Outcome) -> Outcome {
        if let Some(message) = outcome.message() {
            self.said.push(message.clone());
        }
        let answered = outcome
            .answered
            .as_ref()
            .is_some_and(|answer| match answer.kind {
                Kind::Message | Kind::Update => !outcome.text().is_empty(),
                Kind::Deferred | Kind::Form | Kind::Choices => true,
            });
        if !answered || outcome.failed.is_some() {
            self.silent.push(format!("{what}: {:?}", outcome.failed));
        }
        outcome
    }

    /// The number of the newest entry of a kind.
    fn newest(&self, kind: &str) -> RecordNo {
        let file = self.folder.path().join(format!("{}.loft", self.facility()));
        let store = Store::look(&file, self.facility()).unwrap();
        let records = store.records_after(RecordNo(0), usize::MAX).unwrap();
        let newest = records
            .iter()
            .rev()
            .find(|record| record.body.kind() == kind);
        newest.map(|record| record.no).unwrap()
    }

    fn facility(&self) -> Facility {
        Facility(self.guild.guild_id().0)
    }

    /// What stands in the tables of the home's file.
    fn live(&self) -> Vec<u8> {
        let file = self.folder.path().join(format!("{}.loft", self.facility()));
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY;
        let file = Connection::open_with_flags(file, flags).unwrap();
        let mut tables = file
            .prepare("SELECT name FROM sqlite_schema WHERE type = 'table'")
            .unwrap();
        let tables = tables.query_map([], |row| row.get::<_, String>(0)).unwrap();
        let mut bytes = Vec::new();
        for table in tables {
            let mut rows = file
                .prepare(&format!("SELECT * FROM \"{}\"", table.unwrap()))
                .unwrap();
            let columns = rows.column_count();
            let mut rows = rows.query([]).unwrap();
            while let Some(row) = rows.next().unwrap() {
                for column in 0..columns {
                    if let ValueRef::Text(value) | ValueRef::Blob(value) =
                        row.get_ref(column).unwrap()
                    {
                        bytes.extend_from_slice(value);
                        bytes.push(b'\n');
                    }
                }
            }
        }
        bytes
    }

    /// What the files of its folder hold that are the home's own, free pages and the write-ahead log among it, or the others.
    fn files(&self, own: bool) -> Vec<u8> {
        let mut bytes = Vec::new();
        read(self.folder.path(), &mut |path, content| {
            if self.is_own(path) == own {
                bytes.extend_from_slice(&content);
            }
        });
        bytes
    }

    /// Whether the file is the home's, by its name: whoever erases a home goes by that.
    fn is_own(&self, path: &Path) -> bool {
        let name = path.file_name().unwrap().to_string_lossy();
        name.starts_with(&self.guild.guild_id().to_string())
    }
}

/// Every file below the folder.
fn read(folder: &Path, file: &mut impl FnMut(&Path, Vec<u8>)) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            read(&path, file);
        } else {
            file(&path, std::fs::read(&path).unwrap());
        }
    }
}

/// A refusal of the chat's that says back what it was sent.
fn echo(words: &mut Words, route: &str) -> Fault {
    let word = words.word(format!("the chat's refusal of {route}"));
    let mut faulty = Faulty::default();
    faulty.key("content", |faulty| {
        faulty.here("INVALID", format!("{word} is no text"))
    });
    let refused = faulty.done().unwrap_err();
    Fault::Refused(Problem {
        message: Box::leak(format!("Invalid Form Body {word}").into_boxed_str()),
        ..refused
    })
}

/// Every option of text, one way after the other, and what completes it.
async fn type_everything(home: &mut Home, words: &mut Words) {
    for command in COMMANDS {
        for option in command.options.iter().filter(|option| is_typed(option)) {
            for way in Way::ALL {
                let what = format!("/{} {} {way:?}", command.path, option.name);
                let word = words.new_word(what.clone(), way != Way::Refused);
                let text = way.text(&word, OPTION_CHARS_MAX);
                let given = home.given(command, Some((option.name, &text)));
                home.does(command.path, &given).await;
                if way != Way::Acting || !matches!(option.takes, Takes::Suggested) {
                    continue;
                }
                let (guild, cy, north) = (home.guild.clone(), home.cy, home.north);
                let outcome = guild
                    .completing(cy, north, command.path, &given, option.name)
                    .await;
                let choices = outcome.answered.iter().flat_map(|answer| &answer.choices);
                for choice in choices {
                    assert!(
                        !choice.name.chars().any(shows_nothing),
                        "{what}: {choice:?}"
                    );
                }
                home.heard(&what, outcome);
            }
        }
    }
}

impl Home {
    fn given(&self, command: &Row, more: Option<(&str, &str)>) -> Vec<(&'static str, Value)> {
        let file = json!({"name": "rows.csv", "text": "tag,profile\nLW-20,general\n"});
        self.picks(file).given(command, more)
    }

    /// Files of every kind, with a word in every column, above them and in their names.
    async fn import(&mut self, words: &mut Words) {
        for what in Import::ALL {
            let (must, may) = import::columns(*what);
            let columns = [must, may].concat();
            for way in [Way::Refused, Way::Acting, Way::Plain] {
                let cell = |column: &&str| {
                    let word = words.word(format!("{} {column} {way:?}", what.as_str()));
                    format!("\"{}\"", way.text(&word, 0))
                };
                let row: Vec<String> = columns.iter().map(cell).collect();
                let header = columns.join(",");
                let head = words.word(format!("{} header {way:?}", what.as_str()));
                let name = words.word(format!("{} file name {way:?}", what.as_str()));
                let text = format!("{header},{head}\n{},x\n", row.join(","));
                let file = json!({"name": format!("{name}.csv"), "text": text});
                let options = [("what", json!(what.as_str())), ("file", file)];
                let outcome = self.does("fleet import", &options).await;
                let settled = self.guild.settled(&outcome, PATIENCE).await;
                self.said
                    .push(settled.expect("the file was never answered"));
            }
        }
        let name = words.word("a file that is no table");
        let file = json!({"name": format!("{name}.csv"), "bytes": [255, 254, 0, 1]});
        let options = [("what", json!("beds")), ("file", file)];
        let outcome = self.does("fleet import", &options).await;
        self.guild.settled(&outcome, PATIENCE).await;
    }

    /// Every form's every field, menus and identifiers that nobody made.
    async fn forge(&mut self, words: &mut Words, card: Id) {
        let (guild, cy, north) = (self.guild.clone(), self.cy, self.north);
        for (tap, chosen, fields) in every_tap::taps() {
            let id = tap.id();
            if chosen.is_some() {
                let word = words.word(format!("a choice of the menu {id}"));
                let values = [word.as_str()];
                let outcome = guild.act_on_old(cy, card, &id, Some(&values)).await;
                self.heard(&id, outcome);
            }
            for field in fields.keys() {
                for way in Way::ALL {
                    let what = format!("the form {id}, {field}, {way:?}");
                    let text = way.text(&words.word(&what), FIELD_CHARS_MAX);
                    let filled = fields.iter().map(|(name, example)| {
                        let text = if name == field { &text } else { example };
                        (*name, text.as_str())
                    });
                    let filled: Vec<_> = filled.collect();
                    let outcome = guild.forge_form(cy, north, &id, &filled).await;
                    self.heard(&what, outcome);
                }
            }
        }
        for (head, tail) in [("", ""), ("take|", ""), ("", "|1"), ("air|LW-07|", "|0")] {
            let word = words.word("an identifier");
            let id = format!("{head}{word}{tail}");
            let outcome = guild.act_on_old(cy, card, &id, None).await;
            self.heard(&id, outcome);
            let field = words.word("a field that no form has");
            let outcome = guild.forge_form(cy, north, &id, &[(&field, &field)]).await;
            self.heard(&id, outcome);
        }
    }

    /// Messages to the bot, and one that is not.
    async fn say(&mut self, words: &mut Words) {
        let heads = [
            "",
            "@loftwatch ",
            "@loftwatch LW-07 1 1/4 ",
            "@loftwatch alarm LW-08 ",
        ];
        for head in heads {
            for way in [Way::Refused, Way::Acting, Way::Plain] {
                let word = words.word(format!("a message {way:?}"));
                let text = format!("{head}{}", way.text(&word, 0));
                self.guild.say(self.cy, self.north, &text).unwrap();
            }
        }
    }

    /// The chat refuses what the bot writes, and says it back.
    async fn be_refused(&mut self, words: &mut Words) {
        for (route, times) in [
            ("POST /interactions/*/*/callback", 1),
            ("PATCH /webhooks/*/*/messages/@original", 1),
            ("POST /channels/*/messages", 2),
            ("PATCH /channels/*/messages/*", 1),
        ] {
            self.guild.faults().next(times, route, echo(words, route));
        }
        let note = words.kept("a note whose answer was refused");
        let (guild, cy, north) = (self.guild.clone(), self.cy, self.north);
        for path in ["alarm", "due", "alarm"] {
            let options = [("surface", json!("LW-09")), ("note", json!(note))];
            let options = if path == "alarm" { &options[..] } else { &[] };
            // Whoever asks is answered in the channel where the answer was refused.
            guild.command_unchecked(cy, north, path, options).await;
        }
    }

    /// Waits until the chat has all that was to be said.
    async fn settled(&self) {
        let count = || self.guild.messages(self.north).len();
        let mut before = usize::MAX;
        while before != count() {
            before = count();
            tokio::time::sleep(Duration::from_millis(400)).await;
        }
    }

    /// Whether something stands in what the bot wrote as it was typed.
    fn nothing_acts(&self) {
        let posts = self.guild.messages(self.north);
        let posts = posts.iter().filter(|post| post.author.bot);
        let mut seen = 0;
        let mut wrong = BTreeSet::new();
        for message in posts.chain(&self.said) {
            seen += 1;
            assert!(!message.mention_everyone, "{}", message.content);
            assert!(
                !message.mention_roles.contains(&Id(1)),
                "{}",
                message.content
            );
            let shown = outside_blocks(&message.content);
            let parts = message.components.to_vec();
            let mut labels = Vec::new();
            texts(&Value::from(parts), &mut labels);
            let hidden = labels.iter().chain([&message.content]);
            let hidden = hidden.flat_map(|text| text.chars()).any(shows_nothing);
            let acts = [
                "](http",
                "@everyone",
                "<@&1>",
                "**qx",
                "||qx",
                "```qx",
                "\n# qx",
            ];
            if hidden || acts.iter().any(|mark| stands(&shown, mark)) {
                wrong.insert(message.content.clone());
            }
        }
        assert!(wrong.is_empty(), "{wrong:#?}");
        assert!(seen > 500, "{seen}");
    }
}

/// Characters that show nothing, or turn the direction of what stands beside them: a list of its own, by Unicode's blocks and not by
/// what the code that takes them away knows.
fn shows_nothing(c: char) -> bool {
    const ONES: [char; 8] = [
        '\u{ad}', '\u{34f}', '\u{61c}', '\u{115f}', '\u{1160}', '\u{3164}', '\u{feff}', '\u{ffa0}',
    ];
    // Joiners and marks of direction; embeddings and overrides; joiners of words, isolates and what is obsolete; tags.
    let rows = [
        0x200b..=0x200f,
        0x202a..=0x202e,
        0x2060..=0x206f,
        0xe0000..=0xe0fff,
    ];
    let control = c.is_control() && !matches!(c, '\n' | '\t' | '\r');
    control || ONES.contains(&c) || rows.iter().any(|row| row.contains(&u32::from(c)))
}

/// What stands outside of the blocks in which text is given back as it was typed, to be copied. Nothing acts there, and nothing in them
/// may end one.
fn outside_blocks(shown: &str) -> String {
    let fence = "\n```\n";
    let parts: Vec<_> = shown.split(fence).collect();
    parts.into_iter().step_by(2).collect()
}

/// Every text of a value.
fn texts(of: &Value, into: &mut Vec<String>) {
    match of {
        Value::String(text) => into.push(text.clone()),
        Value::Array(values) => values.iter().for_each(|value| texts(value, into)),
        Value::Object(values) => values.values().for_each(|value| texts(value, into)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

/// Whether this stands there and no backslash before it.
fn stands(shown: &str, bad: &str) -> bool {
    shown
        .match_indices(bad)
        .any(|(at, _)| !shown[..at].ends_with('\\'))
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_is_typed_stays_where_it_belongs() {
    let programs = Programs::build().unwrap();
    let mut words = Words::default();
    let mut home = Home::open(&programs, &mut words).await;
    let card = corrected(&mut home, &mut words).await;
    let with_note = home.newest("hand-checked");
    type_everything(&mut home, &mut words).await;
    home.import(&mut words).await;
    home.forge(&mut words, card).await;
    home.say(&mut words).await;
    home.be_refused(&mut words).await;
    let made = home
        .guild
        .make_role(&words.word("the name of a role that is made"));
    home.guild.delete_role(made);
    home.settled().await;
    assert!(home.silent.is_empty(), "{:#?}", home.silent);
    home.nothing_acts();

    // What a home keeps is there, and nothing else.
    let own = home.files(true);
    let (kept, strays) = (words.found(&own), words.strays(&own));
    for what in [
        "/handcheck note Plain",
        "/handcheck note Acting",
        ERASED,
        AMENDED,
        BACK,
    ] {
        assert!(kept.contains(what), "{what} is not kept: {kept:#?}");
    }
    assert_eq!(strays, BTreeSet::new(), "kept");
    let live = words.found(&home.live());
    let left: Vec<_> = kept.difference(&live).collect();
    assert!(
        left.is_empty(),
        "in pages that nothing refers to: {left:#?}"
    );

    let sure = Tap::Entry(Entry::EraseSure {
        entry: with_note,
        of: with_note,
    });
    let gone = home.guild.act_on_old(home.cy, card, &sure.id(), None).await;
    home.heard("erase", gone);
    let begun = mono();
    while words.found(&home.files(true)).contains(ERASED) {
        assert!(
            mono() - begun < PATIENCE,
            "what was erased is still in the file"
        );
        tokio::time::sleep(Duration::from_millis(50)).await;
    }

    for (path, status) in [("health", 200), ("counters", 200)] {
        let answer = reqwest::get(format!("http://{}/{path}", home.health))
            .await
            .unwrap();
        assert_eq!(answer.status().as_u16(), status, "{path}");
        let text = answer.text().await.unwrap();
        assert_eq!(words.found(text.as_bytes()), BTreeSet::new(), "{path}");
    }

    let backups = tempfile::tempdir().unwrap();
    let mut backup = Command::new(programs.path());
    backup.arg("backup").arg(backups.path().join("kept"));
    let made = backup
        .env("LOFTWATCH_DATA", home.folder.path())
        .output()
        .unwrap();
    assert!(made.status.success(), "{made:?}");
    assert_eq!(
        words.found(&[made.stdout, made.stderr].concat()),
        BTreeSet::new()
    );
    let mut copy = Vec::new();
    read(backups.path(), &mut |path, content| {
        assert!(home.is_own(path), "{}", path.display());
        copy.extend(content);
    });
    assert!(words.found(&copy).contains(AMENDED), "an empty backup");
    assert_eq!(words.strays(&copy), BTreeSet::new(), "in a backup");
    assert!(!words.found(&copy).contains(ERASED), "in a backup");

    // The log is among the other files of its folder: whoever erases the home's own erases all that was typed.
    let others = home.files(false);
    let log = String::from_utf8_lossy(&others).into_owned();
    for (words, there) in [
        ("a request did not come through", true),
        ("a mistake in loftwatch", false),
    ] {
        assert_eq!(log.contains(words), there, "{words}");
    }
    assert!(
        !log.contains(&home.guild.token()),
        "the token is in the log"
    );
    assert_eq!(words.found(&others), BTreeSet::new(), "in the log");
    let stopped = home.process.take().unwrap().stop();
    assert!(!stopped.unwrap(), "it did not stop when asked");
    assert_eq!(words.found(&home.files(false)), BTreeSet::new());
}

const ERASED: &str = "a note that is erased";
const AMENDED: &str = "the reason of an amendment";
const BACK: &str = "a note that is taken back";

/// An entry that is taken back, and one that is amended; its answer.
async fn corrected(home: &mut Home, words: &mut Words) -> Id {
    let check = |word: &str| {
        [
            ("surface", json!("LW-08")),
            ("air", json!("1.25")),
            ("note", json!(format!("hose {word} bent"))),
        ]
    };
    let taken = home.does("handcheck", &check(&words.kept(BACK))).await;
    let message = taken.message().unwrap();
    let rows = message.components.iter();
    let mut parts = rows.flat_map(|row| row["components"].as_array().cloned().unwrap_or_default());
    let back = parts.find(|part| part["label"] == "Take back").unwrap();
    let back = back["custom_id"].as_str().unwrap();
    let back = home.guild.tap(home.cy, message.id, back).await;
    home.heard("take back", back);
    home.newest("taken-back");

    let first = home.does("handcheck", &check(&words.kept(ERASED))).await;
    let amend = [
        ("entry", json!(home.newest("hand-checked").to_string())),
        ("reason", json!(format!("pads {}", words.kept(AMENDED)))),
        ("air", json!("1.5")),
    ];
    home.does("amend", &amend).await;
    home.newest("amended");
    first.message().unwrap().id
}
