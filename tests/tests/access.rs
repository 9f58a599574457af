//! Who gets nothing done over the wire: every command, button, menu and form by everybody who may not, forged identifiers, roles that
//! are taken away between a form and its sending, and text that tries to reach further than its writer. The real bot, the demo
//! guild's protocol, and what is in the file afterwards. Who may is agreed in `commands/tests/rights/matrix.txt`.

#![allow(clippy::unwrap_used, reason = "helpers of tests are tests")]

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use std::time::Duration;

use bot::Running;
use commands::ids::Guild as Facility;
use commands::table::{COMMANDS, Command};
use commands::tap::{Tap, verb_of};
use demo_guild::{Guild, Id, Layout, Message, Outcome};
use loftwatch_tests::wire::given::{Picks, is_typed};
use loftwatch_tests::wire::served::served;
use rusqlite::{Connection, OpenFlags};
use serde_json::{Value, json};

#[allow(dead_code)]
#[path = "../../commands/tests/common/every_tap.rs"]
mod every_tap;
#[path = "access/sheets.rs"]
mod sheets;

const MATRIX: &str = include_str!("../../commands/tests/rights/matrix.txt");
/// In the order of the matrix's columns.
const PEOPLE: [&str; 7] = ["Zed", "Ana", "Bo", "Cy", "Uli", "Max", "Dora"];

struct House {
    guild: Guild,
    bot: Option<Running>,
    folder: tempfile::TempDir,
    north: Id,
}

impl House {
    /// A home with one placed surface, one person for each column, and somebody who set it up and does nothing else.
    async fn open() -> House {
        let layout = Layout::new("Elm House", "America/Chicago")
            .role("Aides")
            .role("Nurses")
            .role("Supervisors")
            .role("Upkeep")
            // No rung, no answer and no list is for these.
            .role("Kitchen")
            .person("Zed", "visitor", &[])
            .person("Ana", "aide", &["Aides"])
            .person("Bo", "nurse", &["Nurses"])
            .person("Cy", "supervisor", &["Supervisors"])
            .person("Uli", "upkeep", &["Upkeep"])
            .person("Max", "admin", &[])
            .manager()
            .person("Dora", "agency", &[])
            .channel("north")
            .channel("care")
            .channel("office");
        let (guild, bot, folder) = served(layout).await.unwrap();
        let bot = Some(bot);
        let house = House {
            north: guild.channel("north"),
            guild,
            bot,
            folder,
        };
        house.furnish().await;
        house
    }

    async fn furnish(&self) {
        let id = |id: Id| json!(id.to_string());
        let roles = [
            ("aide", "Aides"),
            ("nurse", "Nurses"),
            ("supervisor", "Supervisors"),
            ("upkeep", "Upkeep"),
        ];
        let mut options = vec![
            ("timezone", json!("America/Chicago")),
            ("care-channel", id(self.guild.channel("care"))),
            ("supervisor-channel", id(self.guild.channel("office"))),
        ];
        options.extend(roles.map(|(option, role)| (option, id(self.guild.role(role)))));
        let set = self.does("Max", "facility setup", &options).await;
        assert!(set.text().contains("Set: time zone"), "{}", set.text());
        let unit = [
            ("name", json!("North")),
            ("beds", json!("101-102")),
            ("channel", id(self.north)),
        ];
        self.does("Max", "facility unit", &unit).await;
        for (tag, bed) in [("LW-07", "101"), ("LW-08", "102")] {
            let add = [
                ("tag", json!(tag)),
                ("profile", json!("general")),
                ("tested", json!("2026-01-15")),
            ];
            self.does("Cy", "fleet add", &add).await;
            let place = [("surface", json!(tag)), ("bed", json!(bed))];
            let placed = self.does("Cy", "place", &place).await;
            assert!(placed.text().contains(tag), "{}", placed.text());
        }
        // Let in for a shift, which is ended at once.
        let dora = [
            ("person", id(self.guild.person("Dora"))),
            ("role", json!("aide")),
            ("until", json!("8 h")),
        ];
        let let_in = self.does("Cy", "agency", &dora).await;
        let let_in = let_in.message().unwrap().clone();
        let out = part(&let_in, "label", "End it now");
        let cy = self.guild.person("Cy");
        let ended = self.guild.tap(cy, let_in.id, &out).await;
        assert!(
            ended.text().contains("is out from now on"),
            "{}",
            ended.text()
        );
        let raised = self
            .does("Cy", "alarm", &[("surface", json!("LW-08"))])
            .await;
        assert!(
            raised.text().contains("the alarm is open"),
            "{}",
            raised.text()
        );
        self.settled().await;
    }

    /// The card of the one alarm.
    fn card(&self) -> Arc<Message> {
        let posts = self.guild.messages(self.north);
        let card = |m: &&Arc<Message>| {
            m.author.bot && m.ephemeral_for.is_none() && m.content.contains("LW-08")
        };
        posts.iter().find(card).unwrap().clone()
    }

    async fn does(&self, who: &str, path: &str, options: &[(&str, Value)]) -> Outcome {
        let who = self.guild.person(who);
        self.guild
            .command_unchecked(who, self.north, path, options)
            .await
    }

    /// What is given to a command: what it must have, such as its first example has it, and perhaps one option more.
    fn filled(&self, command: &Command, more: Option<(&str, &str)>) -> Vec<(&'static str, Value)> {
        let picks = Picks {
            channel: self.north,
            role: self.guild.role("Aides"),
            person: self.guild.person("Ana"),
            tag: "LW-07",
            file: json!({"name": "rows.csv", "text": "tag,profile\nLW-09,general\n"}),
        };
        picks.given(command, more)
    }

    /// Waits until what was decided so far has been posted.
    async fn settled(&self) {
        let mut before = usize::MAX;
        while before != self.public() {
            before = self.public();
            tokio::time::sleep(Duration::from_millis(400)).await;
        }
    }

    /// Messages that everybody sees.
    fn public(&self) -> usize {
        let channels = ["north", "care", "office"].map(|name| self.guild.channel(name));
        let all = channels
            .iter()
            .flat_map(|channel| self.guild.messages(*channel));
        all.filter(|m| m.author.bot && m.ephemeral_for.is_none())
            .count()
    }

    /// Records in the file.
    fn records(&self) -> i64 {
        let file = self
            .folder
            .path()
            .join(format!("{}.loft", self.guild.guild_id()));
        let file = Connection::open_with_flags(file, OpenFlags::SQLITE_OPEN_READ_ONLY).unwrap();
        file.query_row("SELECT count(*) FROM records", [], |row| row.get(0))
            .unwrap()
    }

    async fn close(mut self) {
        let bot = self.bot.take().unwrap();
        let exit = tokio::task::spawn_blocking(move || bot.stop())
            .await
            .unwrap();
        assert_eq!(exit, bot::Exit::Stopped);
        let facility = Facility(self.guild.guild_id().0);
        let store = store::Store::open(self.folder.path(), facility).unwrap();
        store.verify().unwrap();
    }
}

/// For each row of the matrix, by its words, the people whom every row of those words refuses.
fn refused() -> BTreeMap<String, BTreeSet<&'static str>> {
    let mut of: BTreeMap<String, BTreeSet<&'static str>> = BTreeMap::new();
    for line in MATRIX.lines().filter(|line| !line.starts_with('#')) {
        let words: Vec<&str> = line.split_whitespace().collect();
        let Some(at) = words.len().checked_sub(PEOPLE.len()) else {
            continue;
        };
        let cells = &words[at..];
        if !cells.iter().all(|cell| matches!(*cell, "yes" | "-")) {
            continue;
        }
        let here = cells.iter().zip(PEOPLE).filter(|(cell, _)| **cell == "-");
        let here: BTreeSet<&str> = here.map(|(_, who)| who).collect();
        of.entry(words[..at].join(" "))
            .and_modify(|all| all.retain(|who| here.contains(who)))
            .or_insert(here);
    }
    of
}

fn is_refusal(outcome: &Outcome) -> bool {
    let says = [
        "you need the role",
        "you need one of these roles",
        "You were let in until",
    ];
    outcome.failed.is_none() && says.iter().any(|words| outcome.text().contains(words))
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn nobody_without_the_role_gets_anything_done() {
    let house = House::open().await;
    let refused = refused();
    let before = (house.records(), house.public());
    let (mut tried, mut wrong) = (0, Vec::new());
    for command in COMMANDS {
        let who = refused
            .get(&format!("/{}", command.path))
            .cloned()
            .unwrap_or_default();
        let given = house.filled(command, None);
        for who in who {
            let outcome = house.does(who, command.path, &given).await;
            tried += 1;
            if !is_refusal(&outcome) {
                wrong.push(format!("{who}: /{}: {}", command.path, outcome.text()));
            }
        }
    }
    let card = house.card().id;
    for (tap, chosen, fields) in every_tap::taps() {
        let id = tap.id();
        let kind = match (&chosen, fields.is_empty()) {
            (Some(_), _) => "menu",
            (None, false) => "form",
            (None, true) => "button",
        };
        let row = format!("{kind} {}", verb_of(&id));
        for who in refused
            .get(&row)
            .unwrap_or_else(|| panic!("{row} is not in the matrix"))
        {
            let person = house.guild.person(who);
            let outcome = if kind == "form" {
                let fields: Vec<(&str, &str)> = fields
                    .iter()
                    .map(|(name, text)| (*name, text.as_str()))
                    .collect();
                house
                    .guild
                    .forge_form(person, house.north, &id, &fields)
                    .await
            } else {
                let values = chosen.as_deref().map(|one| [one]);
                house
                    .guild
                    .act_on_old(person, card, &id, values.as_ref().map(|one| one.as_slice()))
                    .await
            };
            tried += 1;
            if !is_refusal(&outcome) {
                wrong.push(format!(
                    "{who}: {row}: {:?} {}",
                    outcome.failed,
                    outcome.text()
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(tried > 2_000, "only {tried} were tried");
    house.settled().await;
    assert_eq!(
        (house.records(), house.public()),
        before,
        "a refusal left a mark"
    );
    eprintln!("{tried} tries of people who may not, and no mark of any");
    house.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_alarm_goes_out_after_the_shift_of_whoever_raises_it() {
    let house = House::open().await;
    let raised = house
        .does("Dora", "alarm", &[("surface", json!("LW-07"))])
        .await;
    let own = raised.text();
    assert!(own.contains("the alarm is open"), "{own}");
    assert!(own.contains("Your shift ended at"), "{own}");
    house.settled().await;
    let posts = house.guild.messages(house.north);
    let card = posts.iter().find(|post| {
        post.ephemeral_for.is_none() && post.content.contains("Their shift had ended at")
    });
    let card = card.unwrap_or_else(|| panic!("{posts:#?}"));
    assert!(card.content.contains("LW-07"), "{}", card.content);
    assert!(!card.mention_roles.is_empty(), "{card:#?}");
    let records = house.records();
    let take = part(card, "label", "On my way");
    let dora = house.guild.person("Dora");
    let taken = house.guild.tap(dora, card.id, &take).await;
    assert!(is_refusal(&taken), "{}", taken.text());
    assert!(taken.text().contains("/agency"), "{}", taken.text());
    assert_eq!(house.records(), records);
    house.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn forged_identifiers_are_answered_and_do_nothing() {
    let house = House::open().await;
    let before = (house.records(), house.public());
    let card = house.card().id;
    let long = "take|".repeat(20);
    let mut forged: Vec<String> = [
        "x",
        "|",
        "||||",
        "take",
        "take|",
        "take|-1",
        "take|0",
        "take|1",
        "take|99999999999999999999999",
        "take|1|2|3",
        "take|١",
        "TAKE|1",
        "take |1",
        " take|1",
        "take|1\u{202e}",
        "safe|4294967296",
        "air|LW-07|",
        "air|LW-07|0|0|0|0|0",
        "'; DROP TABLE records; --",
        "../../etc/passwd",
        "<@&1> @everyone",
        &long,
    ]
    .map(str::to_owned)
    .to_vec();
    // Every identifier of ours with its end cut off or something more at its end, of things that there are not.
    for (tap, ..) in every_tap::taps() {
        let id = tap.id();
        let longer = format!("{id}|1");
        let shorter = id.rsplit_once('|').map(|(before, _)| before.to_owned());
        forged.extend(
            [Some(longer), shorter]
                .into_iter()
                .flatten()
                .filter(|id| id.len() <= 100 && Tap::read(id, None, |_| None).is_err()),
        );
    }
    for id in &forged {
        let outcome = house
            .guild
            .act_on_old(house.guild.person("Cy"), card, id, None)
            .await;
        assert_eq!(outcome.failed, None, "{id:?} was not answered");
        assert!(!outcome.text().is_empty(), "{id:?}");
        let outcome = house
            .guild
            .forge_form(
                house.guild.person("Cy"),
                house.north,
                id,
                &[("air", "1.25")],
            )
            .await;
        assert_eq!(outcome.failed, None, "{id:?} was not answered");
    }
    house.settled().await;
    assert_eq!(
        (house.records(), house.public()),
        before,
        "something was done"
    );
    house.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_role_that_is_taken_away_counts_at_once() {
    let house = House::open().await;
    let ana = house.guild.person("Ana");
    let card = house.card();
    let tap = |message: &Arc<Message>, label: &str| {
        let id = part(message, "label", label);
        let (guild, message) = (house.guild.clone(), message.id);
        async move { guild.tap(ana, message, &id).await }
    };
    tap(&card, "On my way").await;
    let fixed = tap(&card, "Fixed").await;
    let asked = fixed.message().unwrap().clone();
    let causes = part(&asked, "placeholder", "What was the cause?");
    let cause = house
        .guild
        .choose(ana, asked.id, &causes, &["unplugged"])
        .await;
    let asked = cause.message().unwrap().clone();
    let opened = tap(&asked, "Type it").await;
    let form = opened.form().unwrap();
    let before = house.records();
    house.guild.set_roles(ana, &[]);
    let sent = house
        .guild
        .submit(ana, house.north, &form.custom_id, &[("air", "1.25")])
        .await;
    assert!(is_refusal(&sent), "{}", sent.text());
    assert_eq!(house.records(), before);
    house.guild.set_roles(ana, &[house.guild.role("Aides")]);
    let again = house
        .does(
            "Ana",
            "handcheck",
            &[("surface", json!("LW-07")), ("air", json!("1.25"))],
        )
        .await;
    assert!(again.text().contains("Adequate"), "{}", again.text());
    assert!(house.records() > before);
    house.close().await;
}

/// Text that reaches people as it was typed, or as an alarm of everybody's, or backwards, must not come out of any field.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn nothing_that_is_typed_calls_anybody_or_reads_as_something_else() {
    let house = House::open().await;
    // The home calls neither: who is called was called by what somebody typed.
    let role = house.guild.role("Kitchen");
    let person = house.guild.person("Zed");
    let texts = [
        "@everyone come".to_owned(),
        "@here".to_owned(),
        format!("<@&{role}> come"),
        format!("<@{person}> come"),
        "**Closed** ~~x~~ ||y|| `z`".to_owned(),
        "[all is well](https://evil.example/x)".to_owned(),
        "https://evil.example".to_owned(),
        "\u{202e}desolc\u{202c}".to_owned(),
        "# Big\n> quote\n- list".to_owned(),
        "<t:0> <#1> <:a:1> </x:1>".to_owned(),
        "\u{200b}\u{200d}\u{2066}".to_owned(),
    ];
    let mut said = BTreeMap::new();
    for (n, text) in texts.iter().enumerate() {
        for command in COMMANDS {
            for option in command.options.iter().filter(|option| is_typed(option)) {
                let given = house.filled(command, Some((option.name, text)));
                for who in ["Cy", "Max"] {
                    let outcome = house.does(who, command.path, &given).await;
                    assert_eq!(
                        outcome.failed, None,
                        "/{} {}: {text}",
                        command.path, option.name
                    );
                    said.insert(
                        (n, command.path, option.name, who),
                        outcome.text().to_owned(),
                    );
                }
            }
        }
        let asked = house.guild.say(
            house.guild.person("Ana"),
            house.north,
            &format!("@loftwatch {text}"),
        );
        assert!(asked.is_ok(), "{asked:?}");
    }
    house.settled().await;
    let channels = ["north", "care", "office"].map(|name| house.guild.channel(name));
    let posts: Vec<_> = channels
        .iter()
        .flat_map(|channel| house.guild.messages(*channel))
        .filter(|m| m.author.bot)
        .collect();
    let texts = posts
        .iter()
        .map(|m| m.content.clone())
        .chain(said.values().cloned());
    let mut seen = 0;
    let mut wrong = BTreeSet::new();
    for shown in texts {
        seen += 1;
        let hidden = ['\u{202e}', '\u{202c}', '\u{2066}', '\u{200b}'];
        let marks = [
            "](https",
            "<t:0>",
            "</x:1>",
            "\n# Big",
            "\n> quote",
            "~~x",
            "||y",
            "https://evil",
            &format!("<@&{role}>"),
            &format!("<@{person}>"),
        ];
        if shown.contains(hidden) || marks.iter().any(|mark| stands(&shown, mark)) {
            wrong.insert(shown);
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    for post in &posts {
        assert!(!post.mention_everyone, "{}", post.content);
        let calls = post.mention_roles.contains(&role) || post.mentions.contains(&person);
        assert!(!calls, "{}", post.content);
    }
    assert!(seen > 300, "{seen}");
    house.close().await;
}

/// What the part of a message with this label or hint is known by.
fn part(message: &Message, name: &str, words: &str) -> String {
    let rows = message.components.iter();
    let mut parts = rows.flat_map(|row| row["components"].as_array().cloned().unwrap_or_default());
    let found = parts.find(|part| part[name] == words);
    let found = found.unwrap_or_else(|| panic!("no {words}: {}", message.content));
    found["custom_id"].as_str().unwrap().to_owned()
}

/// Whether this stands there and no backslash before it.
fn stands(shown: &str, bad: &str) -> bool {
    shown
        .match_indices(bad)
        .any(|(at, _)| !shown[..at].ends_with('\\'))
}
