//! The real bot through the real chat library over the demo guild's protocol: one path at least for every way
//! in which somebody can turn to it. What is answered in which case is told by the conversations; here it is told
//! that nothing is lost between a phone and the log.

#![allow(clippy::unwrap_used, reason = "helpers of tests are tests")]

use std::sync::Arc;
use std::time::Duration;

use bot::Running;
use commands::Source;
use commands::ids::Guild as Facility;
use demo_guild::{Fault, Guild, Id, Kind, Layout, Message, Outcome};
use loftwatch_tests::wire::served::served;
use serde_json::{Value, json};

const PATIENCE: Duration = Duration::from_secs(20);

/// A guild, the bot connected to it, and the bot's folder.
struct House {
    guild: Guild,
    bot: Option<Running>,
    folder: tempfile::TempDir,
    ana: Id,
    bo: Id,
    cy: Id,
    north: Id,
}

impl House {
    async fn open() -> House {
        let layout = Layout::new("Elm House", "America/Chicago")
            .role("Aides")
            .role("Nurses")
            .role("Supervisors")
            .person("Ana", "aide", &["Aides"])
            .person("Bo", "nurse", &["Nurses"])
            .person("Cy", "supervisor", &["Supervisors"])
            .manager()
            .channel("north")
            .channel("care")
            .channel("office");
        let (guild, bot, folder) = served(layout).await.unwrap();
        let bot = Some(bot);
        House {
            ana: guild.person("Ana"),
            bo: guild.person("Bo"),
            cy: guild.person("Cy"),
            north: guild.channel("north"),
            guild,
            bot,
            folder,
        }
    }

    /// Set up, with unit North of two beds and two surfaces, the first one placed.
    async fn furnished() -> House {
        let house = House::open().await;
        house.set_up().await;
        house.unit().await;
        house.import().await;
        house
    }

    async fn set_up(&self) -> Outcome {
        let id = |id: Id| json!(id.to_string());
        let options = [
            ("timezone", json!("America/Chicago")),
            ("care-channel", id(self.guild.channel("care"))),
            ("supervisor-channel", id(self.guild.channel("office"))),
            ("aide", id(self.guild.role("Aides"))),
            ("nurse", id(self.guild.role("Nurses"))),
            ("supervisor", id(self.guild.role("Supervisors"))),
        ];
        self.says(
            self.cy,
            "facility setup",
            &options,
            "Set: time zone America/Chicago",
        )
        .await
    }

    async fn unit(&self) -> Outcome {
        let options = [
            ("name", json!("North")),
            ("beds", json!("101-102")),
            ("channel", json!(self.north.to_string())),
        ];
        self.says(self.cy, "facility unit", &options, "Unit **North**: 2 beds")
            .await
    }

    async fn import(&self) -> Outcome {
        let text = "tag,profile,owned,state,bed,tested\nLW-07,general,owned,ready,101,2026-01-15\nLW-08,general,owned,ready,,2026-01-15\n";
        let options = [
            ("what", json!("surfaces")),
            ("file", json!({"name": "surfaces.csv", "text": text})),
        ];
        let asked = self
            .guild
            .command(self.cy, self.north, "fleet import", &options)
            .await;
        assert_eq!(asked.failed, None);
        let settled = self.guild.settled(&asked, PATIENCE).await.unwrap();
        assert!(settled.content.contains("2 rows"), "{}", settled.content);
        asked
    }

    /// A command in the unit's channel, whose answer, for the asker alone, holds these words.
    async fn says(&self, who: Id, path: &str, options: &[(&str, Value)], words: &str) -> Outcome {
        let outcome = self.guild.command(who, self.north, path, options).await;
        answered(&outcome, words);
        assert_eq!(outcome.message().unwrap().ephemeral_for, Some(who));
        outcome
    }

    async fn alarm(&self) -> Outcome {
        self.says(
            self.ana,
            "alarm",
            &[("surface", json!("LW-07"))],
            "the alarm is open",
        )
        .await
    }

    /// Waits for a message in the unit's channel that holds these words.
    async fn posted(&self, words: &str) -> Arc<Message> {
        self.seen(|message| message.content.contains(words))
            .await
            .unwrap_or_else(|| panic!("nobody posted {words}: {:?}", self.texts()))
    }

    async fn seen(&self, wanted: impl Fn(&Message) -> bool) -> Option<Arc<Message>> {
        let mut frames = self.guild.subscribe();
        let found = || {
            let posted = self.guild.messages(self.north);
            posted.into_iter().find(|m| m.author.bot && wanted(m))
        };
        tokio::time::timeout(PATIENCE, async {
            loop {
                if let Some(message) = found() {
                    return message;
                }
                // Frames that were missed are no loss: the messages are looked at again.
                let _ = frames.recv().await;
            }
        })
        .await
        .ok()
    }

    fn texts(&self) -> Vec<String> {
        let posted = self.guild.messages(self.north);
        posted.iter().map(|m| m.content.clone()).collect()
    }

    /// Stops the bot; then each of these has left its mark in the log, unless it says that it leaves none.
    async fn close(mut self, entered: &[(&Outcome, bool)]) {
        let bot = self.bot.take().unwrap();
        let exit = tokio::task::spawn_blocking(move || bot.stop())
            .await
            .unwrap();
        assert_eq!(exit, bot::Exit::Stopped);
        let facility = Facility(self.guild.guild_id().0);
        let store = store::Store::open(self.folder.path(), facility).unwrap();
        store.verify().unwrap();
        for (outcome, recorded) in entered {
            let interaction = outcome.interaction.unwrap().0;
            let seen = store.seen(&Source::interaction(interaction)).unwrap();
            let records = seen.map_or(0, |seen| seen.count);
            assert_eq!(
                records > 0,
                *recorded,
                "{:?}: {records} records",
                outcome.text()
            );
        }
        assert_eq!(store.owing().unwrap().answers, []);
    }
}

fn answered(outcome: &Outcome, words: &str) {
    assert_eq!(outcome.failed, None);
    assert!(
        outcome.text().contains(words),
        "{words} is not in: {}",
        outcome.text()
    );
}

/// The parts of a message's rows that can be acted on.
fn parts(message: &Message) -> Vec<Value> {
    let rows = message.components.iter();
    rows.flat_map(|row| row["components"].as_array().cloned().unwrap_or_default())
        .collect()
}

/// What the button with this label is known by.
fn button(message: &Message, label: &str) -> String {
    let parts = parts(message);
    let found = parts.iter().find(|part| part["label"] == label);
    let found = found.unwrap_or_else(|| panic!("no button {label}: {parts:?}"));
    found["custom_id"].as_str().unwrap().to_owned()
}

/// What the menu with this hint is known by.
fn menu(message: &Message, hint: &str) -> String {
    let parts = parts(message);
    let found = parts.iter().find(|part| part["placeholder"] == hint);
    let found = found.unwrap_or_else(|| panic!("no menu {hint}: {parts:?}"));
    found["custom_id"].as_str().unwrap().to_owned()
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn subcommands_with_roles_channels_and_a_file() {
    let house = House::open().await;
    let early = house
        .says(house.ana, "due", &[], "not set up here yet")
        .await;
    let set_up = house.set_up().await;
    let unit = house.unit().await;
    let import = house.import().await;
    let refused = house
        .says(house.ana, "fleet list", &[], "you need one of these roles")
        .await;
    let listed = house.says(house.cy, "fleet list", &[], "2 surfaces").await;
    assert!(listed.text().contains("LW-08"), "{}", listed.text());
    let bad = json!({"name": "surfaces.csv", "text": "tag\nLW-09\n"});
    let options = [("what", json!("surfaces")), ("file", bad)];
    let bad = house
        .guild
        .command(house.cy, house.north, "fleet import", &options)
        .await;
    let settled = house.guild.settled(&bad, PATIENCE).await.unwrap();
    assert!(
        settled.content.contains("Nothing was read"),
        "{}",
        settled.content
    );
    house
        .close(&[
            (&early, false),
            (&set_up, true),
            (&unit, true),
            (&import, true),
            (&refused, false),
            (&bad, false),
        ])
        .await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_command_a_button_and_a_completion() {
    let house = House::furnished().await;
    let checked = house
        .says(
            house.ana,
            "handcheck",
            &[
                ("surface", json!("LW-07")),
                ("air", json!("1 1/4")),
                ("site", json!("hips")),
                ("layers", json!(2)),
            ],
            "Adequate",
        )
        .await;
    let message = checked.message().unwrap();
    let back = button(message, "Take back");
    let back = house.guild.tap(house.ana, message.id, &back).await;
    answered(&back, "Taken back");

    let typed = [("surface", json!("lw"))];
    let choices = house
        .guild
        .complete(house.ana, house.north, "handcheck", &typed, "surface")
        .await;
    let values: Vec<&Value> = choices.iter().map(|choice| &choice.value).collect();
    assert!(values.contains(&&json!("LW-07")), "{choices:?}");
    // Nobody is offered what they may not do.
    let none = house
        .guild
        .completing(house.ana, house.north, "place", &typed, "surface")
        .await;
    assert_eq!(none.failed, None);
    assert_eq!(none.answered.unwrap().choices, []);

    let placed = house
        .says(
            house.bo,
            "place",
            &[("surface", json!("LW-08")), ("bed", json!("102"))],
            "set-up",
        )
        .await;
    house
        .close(&[(&checked, true), (&back, true), (&placed, true)])
        .await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_card_its_buttons_its_menus_and_a_form() {
    let house = House::furnished().await;
    let raised = house.alarm().await;
    let card = house.posted("Nobody has taken it").await;
    assert_eq!(card.mention_roles, [house.guild.role("Aides")]);
    assert_eq!((card.mentions.len(), card.mention_everyone), (0, false));

    let kinds = menu(raised.message().unwrap(), "What does the alarm say?");
    let named = house
        .guild
        .choose(house.ana, raised.message().unwrap().id, &kinds, &["power"])
        .await;
    answered(&named, "No power");

    let taken = house
        .guild
        .tap(house.bo, card.id, &button(&card, "On my way"))
        .await;
    answered(&taken, "is yours");
    let bo = format!("On the way: <@{}>", house.bo);
    let edited = house
        .seen(|m| m.id == card.id && m.content.contains(&bo))
        .await;
    let edited = edited.unwrap_or_else(|| panic!("the card was not edited: {:?}", house.texts()));
    assert!(edited.content.contains("No power"), "{}", edited.content);

    let safe = house
        .guild
        .tap(house.bo, card.id, &button(&edited, "Resident safe"))
        .await;
    answered(&safe, "resident safe");
    let fixed = house
        .guild
        .tap(house.bo, card.id, &button(&edited, "Fixed"))
        .await;
    answered(&fixed, "what was it?");
    let asked = fixed.message().unwrap();
    let causes = menu(asked, "What was the cause?");
    let cause = house
        .guild
        .choose(house.bo, asked.id, &causes, &["unplugged"])
        .await;
    answered(&cause, "Let it fill");
    let asked = cause.message().unwrap();
    let form = house
        .guild
        .tap(house.bo, asked.id, &button(asked, "Type it"))
        .await;
    assert_eq!(form.failed, None);
    assert_eq!(form.answered.as_ref().unwrap().kind, Kind::Form);
    let form = form.form().unwrap();
    let fields = [("air", "1.25"), ("note", "plug pushed in")];
    let closed = house
        .guild
        .submit(house.bo, house.north, &form.custom_id, &fields)
        .await;
    answered(&closed, "alarm closed");
    let over = house
        .seen(|m| m.id == card.id && m.content.contains("**Closed**"))
        .await;
    assert!(over.is_some(), "{:?}", house.texts());
    house
        .close(&[
            (&raised, true),
            (&named, true),
            (&taken, true),
            (&safe, true),
            (&fixed, false),
            (&cause, false),
            (&closed, true),
        ])
        .await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_list_to_act_on() {
    let house = House::furnished().await;
    let due = house.says(house.ana, "due", &[], "LW-07").await;
    let message = due.message().unwrap();
    let pick = menu(message, "Act on one of these");
    let picked = house
        .guild
        .choose(house.ana, message.id, &pick, &["LW-07 check"])
        .await;
    answered(&picked, "how much air under the person?");
    let card = picked.message().unwrap();
    let logged = house
        .guild
        .tap(house.ana, card.id, &button(card, "LW-07 (101): 1½ in"))
        .await;
    answered(&logged, "Adequate");
    house
        .close(&[(&due, false), (&picked, false), (&logged, true)])
        .await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn words_to_the_bot_are_answered_and_words_to_others_are_not() {
    let house = House::furnished().await;
    house
        .guild
        .say(house.ana, house.north, "214B three quarters")
        .unwrap();
    let before = house.texts().len();
    let asked = house
        .guild
        .say(house.ana, house.north, "@loftwatch LW-07 three quarters")
        .unwrap();
    let answer = house.seen(|m| m.answers == Some(asked.id)).await;
    let answer = answer.unwrap_or_else(|| panic!("no answer: {:?}", house.texts()));
    assert!(!answer.content.is_empty());
    assert_eq!(answer.mention_roles, []);
    assert_eq!(house.texts().len(), before + 2, "{:?}", house.texts());
    house.close(&[]).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_is_said_while_the_connection_is_gone_is_answered_when_the_session_is_resumed() {
    let house = House::furnished().await;
    for air in ["three quarters", "one inch", "one and a quarter"] {
        house.guild.hold_off(true);
        assert_eq!(house.guild.drop_gateway(), 1);
        house.guild.bot_gone().await;
        let words = format!("@loftwatch LW-07 {air}");
        let asked = house.guild.say(house.ana, house.north, &words).unwrap();
        house.guild.hold_off(false);
        let answer = house.seen(|m| m.answers == Some(asked.id)).await;
        answer.unwrap_or_else(|| panic!("no answer to {air:?}: {:?}", house.texts()));
        let answers = |m: &Arc<Message>| m.answers == Some(asked.id);
        let all = house.guild.messages(house.north);
        assert_eq!(all.iter().filter(|m| answers(m)).count(), 1);
    }
    house.close(&[]).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_the_library_cannot_read_is_answered_and_nothing_is_recorded() {
    let house = House::furnished().await;
    let options = [("surface", json!("LW-07")), ("air", json!("1.25"))];
    house.guild.tell_unreadable(1);
    let unread = house
        .says(house.ana, "handcheck", &options, "I could not read that")
        .await;
    let read = house.says(house.ana, "handcheck", &options, "LW-07").await;
    house.close(&[(&unread, false), (&read, true)]).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn direct_messages_and_other_guilds_are_told_so_and_leave_no_mark() {
    let house = House::furnished().await;
    let options = [("surface", json!("LW-07")), ("air", json!("1.25"))];
    let direct = house
        .guild
        .direct_command(house.ana, "handcheck", &options)
        .await;
    answered(&direct, "Nothing was recorded");
    let foreign = house
        .guild
        .foreign_command(house.ana, "handcheck", &options)
        .await;
    answered(&foreign, "does not serve this chat");
    // What is on a card of this home is none there.
    house.alarm().await;
    let card = house.posted("priority").await;
    let shown = foreign.message().unwrap().id;
    for label in ["On my way", "Fixed"] {
        let id = button(&card, label);
        let tap = house.guild.act_on_old(house.ana, shown, &id, None).await;
        answered(&tap, "does not serve this chat");
        let (to, fields) = (house.guild.foreign_channel(), [("air", "1.25")]);
        let form = house.guild.forge_form(house.ana, to, &id, &fields).await;
        answered(&form, "does not serve this chat");
    }
    let others = house
        .folder
        .path()
        .join(format!("{}.loft", house.guild.foreign_guild_id()));
    assert!(!others.exists());
    house.close(&[(&direct, false), (&foreign, false)]).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_guild_that_is_not_on_the_list_is_left_unless_a_homes_file_is_there() {
    let house = House::furnished().await;
    let foreign = house.guild.foreign_guild_id();
    let file = house.folder.path().join(format!("{foreign}.loft"));
    std::fs::write(&file, "somebody's home, served by mistake no more").unwrap();
    house.guild.invite_to_foreign();
    house.alarm().await;
    house.posted("priority").await;
    assert!(house.guild.is_in_foreign(), "its home would be cut off");
    std::fs::remove_file(&file).unwrap();
    // What the chat puts off is done then, though nobody tells of the guild once more.
    let faults = house.guild.faults();
    faults.next(1, "DELETE /users/@me/guilds/*", Fault::TooMany(0.2));
    house.guild.invite_to_foreign();
    let left = tokio::time::timeout(PATIENCE, async {
        while house.guild.is_in_foreign() {
            tokio::time::sleep(Duration::from_millis(20)).await;
        }
    });
    left.await
        .expect("it stays in a guild that it does not serve");
    assert_eq!(faults.left(), 0);
    assert!(!file.exists());
    // Its own guild it does not leave.
    let options = [("surface", json!("LW-07")), ("air", json!("1.25"))];
    house.says(house.ana, "handcheck", &options, "LW-07").await;
    house.close(&[]).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn one_phone_that_never_rests_keeps_nobody_else_waiting() {
    let house = House::furnished().await;
    let command = |who: Id| {
        let (guild, north) = (house.guild.clone(), house.north);
        let options = [("surface", json!("LW-07")), ("air", json!("1.25"))];
        tokio::spawn(async move { guild.command(who, north, "handcheck", &options).await })
    };
    // While somebody else holds the file, the desk waits with the first of them, and the others wait for the desk.
    let file = format!("{}.loft", house.guild.guild_id());
    let other = rusqlite::Connection::open(house.folder.path().join(file)).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let mut flood = vec![command(house.ana)];
    tokio::time::sleep(Duration::from_millis(200)).await;
    flood.extend((0..40).map(|_| command(house.ana)));
    tokio::time::sleep(Duration::from_millis(200)).await;
    let patient = command(house.bo);
    tokio::time::sleep(Duration::from_millis(200)).await;
    other.execute_batch("ROLLBACK").unwrap();
    let patient = patient.await.unwrap();
    answered(&patient, "LW-07");
    let (mut too_much, mut taken) = (0, 0);
    for one in flood {
        let one = one.await.unwrap();
        assert_eq!(one.failed, None);
        if one.text().contains("too much came at once") {
            too_much += 1;
        } else {
            taken += 1;
        }
    }
    // Eight may wait, beside what the desk has taken by then.
    assert!(
        too_much >= 30 && taken >= 8,
        "{too_much} refused, {taken} taken"
    );
    house.close(&[(&patient, true)]).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_is_told_twice_is_done_once() {
    let house = House::furnished().await;
    house.guild.tell_twice(1);
    let raised = house.alarm().await;
    house.posted("Nobody has taken it").await;
    // Long enough for a second card, which must not come.
    let stays = house.guild.clone();
    let again = house
        .says(
            house.ana,
            "alarm",
            &[("surface", json!("LW-07"))],
            "open alarm already",
        )
        .await;
    let cards = stays.messages(house.north);
    let cards = cards
        .iter()
        .filter(|m| m.content.contains("Nobody has taken it"));
    assert_eq!(cards.filter(|m| m.ephemeral_for.is_none()).count(), 1);
    house.close(&[(&raised, true), (&again, false)]).await;
}

/// Whoever was told to wait for a file that is not there yet hears of it, though the program stops.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_import_that_a_stop_cuts_off_is_said_to_have_recorded_nothing() {
    let mut house = House::open().await;
    house.set_up().await;
    house.unit().await;
    let faults = house.guild.faults();
    let late = Fault::Late(Duration::from_secs(60));
    faults.next(1, "GET /attachments/*/*/*", late);
    let file = json!({"name": "surfaces.csv", "text": "tag\nLW-07\n"});
    let options = [("what", json!("surfaces")), ("file", file)];
    let asked = house
        .guild
        .command(house.cy, house.north, "fleet import", &options)
        .await;
    assert_eq!(asked.failed, None);
    while faults.left() > 0 {
        tokio::time::sleep(Duration::from_millis(10)).await;
    }
    let bot = house.bot.take().unwrap();
    let begun = bot::clock::mono();
    let stopped = tokio::task::spawn_blocking(move || bot.stop());
    let settled = house.guild.settled(&asked, PATIENCE).await.unwrap();
    assert!(
        settled.content.contains("Nothing was recorded"),
        "{}",
        settled.content
    );
    assert_eq!(stopped.await.unwrap(), bot::Exit::Stopped);
    // The unit ends it for good after twenty seconds.
    let took = bot::clock::mono() - begun;
    assert!(took < Duration::from_secs(15), "{took:?}");
}
