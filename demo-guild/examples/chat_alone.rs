//! The demo's team chat without the bot in it, for a loftwatch that runs on this computer as a service does, with a token and an address.
//! Decides how a script acts as the people there: a request for each deed, on a port of its own. Leaves what is right to the script.
//!
//! `cargo run -p loftwatch-demo-guild --example chat_alone -- --token FILE`, then for example
//! `curl --get 127.0.0.1:8062/ask --data-urlencode who=Ana --data-urlencode where=elm --data-urlencode command=handcheck
//! --data-urlencode surface=LW-02 --data-urlencode air=1.25`. A value `#elm` is that channel, `@Aides` that role.

use std::fs::OpenOptions;
use std::io::Write;
use std::os::unix::fs::OpenOptionsExt;
use std::path::PathBuf;

use anyhow::Context;
use axum::Router;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::routing::get;
use clap::Parser;
use demo_guild::{Fault, Guild, Limits, Options, home};
use serde_json::{Value, json};

/// Where the chat is and where a script acts in it.
#[derive(Parser)]
struct Wishes {
    /// A new file, readable by its owner alone, for the token that the chat takes.
    #[arg(long)]
    token: PathBuf,
    /// The port of the chat on this computer.
    #[arg(long, default_value_t = 8061)]
    port: u16,
    /// The port on this computer where people's deeds are asked for.
    #[arg(long, default_value_t = 8062)]
    deeds: u16,
}

/// What is said of a deed.
type Said = Result<String, (StatusCode, String)>;
type Words = Query<Vec<(String, String)>>;

#[tokio::main]
async fn main() -> anyhow::Result<()> {
    let wishes = Wishes::parse();
    let options = Options {
        port: wishes.port,
        limits: Limits::published(),
        ..Options::headless()
    };
    let guild = Guild::serve(home::layout(), options).await?;
    let mut token = OpenOptions::new()
        .write(true)
        .create_new(true)
        .mode(0o600)
        .open(&wishes.token)
        .with_context(|| format!("{} must be new", wishes.token.display()))?;
    writeln!(token, "{}", guild.token())?;
    println!("{} {}", guild.guild_id(), guild.url());
    let routes = Router::new()
        .route("/up", get(up))
        .route("/ask", get(ask))
        .route("/posts", get(posts))
        .route("/fault", get(fault))
        .route("/silent", get(silent))
        .route("/close", get(close))
        .route("/sessions", get(sessions))
        .with_state(guild);
    let at = tokio::net::TcpListener::bind(("127.0.0.1", wishes.deeds)).await?;
    Ok(axum::serve(at, routes).await?)
}

/// Whether the bot is connected.
async fn up(State(guild): State<Guild>) -> String {
    let up = guild.bot_is_up();
    format!("{}\n", if up { "yes" } else { "no" })
}

/// `who` types `command` in the channel `where`; every other word is an option of it. Says the first answer.
async fn ask(State(guild): State<Guild>, Query(words): Words) -> Said {
    let (mut who, mut place, mut command, mut options) = (None, None, None, Vec::new());
    for (name, value) in &words {
        match name.as_str() {
            "who" => who = Some(value),
            "where" => place = Some(value),
            "command" => command = Some(value),
            option => options.push((option, meant(&guild, value))),
        }
    }
    let (who, place) = (named(who, "who")?, named(place, "where")?);
    let command = named(command, "command")?;
    let (who, place) = (guild.person(who), guild.channel(place));
    let outcome = guild.command(who, place, command, &options).await;
    match &outcome.failed {
        Some(why) => Err((StatusCode::BAD_GATEWAY, format!("{why}\n"))),
        None => Ok(format!("{}\n", outcome.text())),
    }
}

/// What the bot wrote in the channel `where`.
async fn posts(State(guild): State<Guild>, Query(words): Words) -> Said {
    let place = guild.channel(word(&words, "where")?);
    let posts = guild.messages(place);
    let posts = posts.iter().filter(|post| post.author.bot);
    Ok(posts.map(|post| format!("{}\n", post.content)).collect())
}

/// The next `times` requests on `route` are answered with `status`; with none of them, no more are.
async fn fault(State(guild): State<Guild>, Query(words): Words) -> Said {
    if words.is_empty() {
        guild.faults().clear();
        return Ok(String::new());
    }
    let status = Fault::Status(number(&words, "status")?);
    let times = number(&words, "times")?;
    guild.faults().next(times, word(&words, "route")?, status);
    Ok(String::new())
}

/// The gateway neither sends nor listens, or does again (`on=0`).
async fn silent(State(guild): State<Guild>, Query(words): Words) -> Said {
    guild.go_silent(number::<u8>(&words, "on")? != 0);
    Ok(String::new())
}

/// Closes the gateway's connections with that `code`.
async fn close(State(guild): State<Guild>, Query(words): Words) -> Said {
    Ok(format!(
        "{}\n",
        guild.close_gateway(Some(number(&words, "code")?))
    ))
}

/// So many new connections are `left` of the day.
async fn sessions(State(guild): State<Guild>, Query(words): Words) -> Said {
    guild.leave_sessions(number(&words, "left")?);
    Ok(String::new())
}

/// A value of an option as a phone sends it.
fn meant(guild: &Guild, value: &str) -> Value {
    match value.split_at_checked(1) {
        Some(("#", name)) => json!(guild.channel(name).to_string()),
        Some(("@", name)) => json!(guild.role(name).to_string()),
        Some(_) | None => json!(value),
    }
}

fn word<'a>(words: &'a [(String, String)], name: &str) -> Result<&'a String, (StatusCode, String)> {
    let found = words.iter().find(|(one, _)| one == name);
    named(found.map(|(_, value)| value), name)
}

fn named<'a>(word: Option<&'a String>, name: &str) -> Result<&'a String, (StatusCode, String)> {
    word.ok_or_else(|| (StatusCode::BAD_REQUEST, format!("{name} is missing\n")))
}

fn number<T: std::str::FromStr>(
    words: &[(String, String)],
    name: &str,
) -> Result<T, (StatusCode, String)> {
    let number = word(words, name)?.parse();
    number.map_err(|_| (StatusCode::BAD_REQUEST, format!("{name} is no number\n")))
}
