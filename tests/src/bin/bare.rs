//! The yardstick of the benchmark: what the chat library costs by itself. A serenity bot as its own examples
//! are written: a runtime with several threads, one event handler, one slash command, one row inserted before
//! the answer. The file is as safe as loftwatch's (WAL, `synchronous=FULL`), the statement is cached, and the
//! library's own limiter is off, so that nothing slows it that need not be there. It authorises nothing, judges
//! nothing and groups nothing.
//!
//! Pinned: a change here changes what every figure of the benchmark means.
//!
//! `bare <chat address> <token> <file>`

use std::sync::{Mutex, PoisonError};

use anyhow::Context as _;
use rusqlite::Connection;
use serenity::all::*;

struct Bare {
    rows: Mutex<Connection>,
}

#[tokio::main]
async fn main() -> anyhow::Result<()> {
    let told: Vec<String> = std::env::args().skip(1).collect();
    let [address, token, file] = told.as_slice() else {
        anyhow::bail!("bare <chat address> <token> <file>");
    };
    let http = HttpBuilder::new(token)
        .proxy(address)
        .ratelimiter_disabled(true)
        .build();
    let bare = Bare {
        rows: Mutex::new(open(file)?),
    };
    let mut client = ClientBuilder::new_with_http(http, GatewayIntents::GUILDS)
        .event_handler(bare)
        .await?;
    client.start().await.context("the chat connection ended")
}

fn open(file: &str) -> rusqlite::Result<Connection> {
    let rows = Connection::open(file)?;
    rows.execute_batch(
        "PRAGMA journal_mode = WAL;
         PRAGMA synchronous = FULL;
         CREATE TABLE IF NOT EXISTS entries (
             id INTEGER PRIMARY KEY, who INTEGER NOT NULL, surface TEXT NOT NULL, air TEXT NOT NULL
         ) STRICT;",
    )?;
    Ok(rows)
}

#[async_trait]
impl EventHandler for Bare {
    async fn ready(&self, ctx: Context, ready: Ready) {
        for guild in ready.guilds {
            if let Err(why) = guild.id.set_commands(&ctx.http, vec![hand_check()]).await {
                eprintln!("bare: the command could not be registered: {why}");
            }
        }
    }

    async fn interaction_create(&self, ctx: Context, interaction: Interaction) {
        let Interaction::Command(command) = interaction else {
            return;
        };
        let said = match self.enter(&command) {
            Ok(said) => said,
            Err(why) => {
                eprintln!("bare: an entry was lost: {why}");
                return;
            }
        };
        let message = CreateInteractionResponseMessage::new()
            .content(said)
            .ephemeral(true);
        let answer = CreateInteractionResponse::Message(message);
        if let Err(why) = command.create_response(&ctx.http, answer).await {
            eprintln!("bare: an answer was lost: {why}");
        }
    }
}

impl Bare {
    fn enter(&self, command: &CommandInteraction) -> anyhow::Result<String> {
        let text = |name: &str| {
            let found = command.data.options.iter().find(|o| o.name == name);
            found
                .and_then(|o| o.value.as_str())
                .context("an option is missing")
        };
        let (surface, air) = (text("surface")?, text("air")?);
        let rows = self.rows.lock().unwrap_or_else(PoisonError::into_inner);
        rows.prepare_cached("INSERT INTO entries (id, who, surface, air) VALUES (?1, ?2, ?3, ?4)")?
            .execute((
                command.id.get().cast_signed(),
                command.user.id.get().cast_signed(),
                surface,
                air,
            ))?;
        Ok(format!("{surface}: {air} in."))
    }
}

/// The same options that loftwatch registers for the command of this name.
fn hand_check() -> CreateCommand {
    let text = |name, about| CreateCommandOption::new(CommandOptionType::String, name, about);
    let choice = |name, about, words: &[&str]| {
        let option = text(name, about);
        words
            .iter()
            .fold(option, |o, word| o.add_string_choice(*word, *word))
    };
    CreateCommand::new("handcheck")
        .description("Record a hand check")
        .add_option(
            text("surface", "Tag or bed")
                .required(true)
                .set_autocomplete(true),
        )
        .add_option(text("air", "Inches of air under the person").required(true))
        .add_option(choice(
            "site",
            "Where the hand was",
            &["buttocks", "hips", "shoulders"],
        ))
        .add_option(choice(
            "position",
            "How the person lay",
            &["back-flat", "back-raised", "side"],
        ))
        .add_option(choice(
            "mode",
            "The mode it ran in",
            &["alternating", "static"],
        ))
        .add_option(
            CreateCommandOption::new(CommandOptionType::Integer, "layers", "Layers of linen")
                .min_int_value(0)
                .max_int_value(20),
        )
        .add_option(text("setting", "The setting in use"))
        .add_option(text("when", "When, if earlier"))
        .add_option(text("note", "Anything else"))
}
