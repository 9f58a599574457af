//! Where the log goes and how much libraries may write into it. Decides the caps, which no setting
//! lifts: the chat library's own log holds payloads, addresses and secrets. Leaves what we log to
//! each file; never a text that a person wrote, not even where the program fails over it.

use std::any::Any;
use std::backtrace::{Backtrace, BacktraceStatus};
use std::io::IsTerminal;
use std::panic::PanicHookInfo;

use tracing_subscriber::EnvFilter;
use tracing_subscriber::filter::Directive;

/// Held whatever is wished for, because these crates log payloads, addresses and secrets.
const CAPS: [&str; 9] = [
    "serenity=warn",
    "serenity::gateway::ws=off",
    "serenity::gateway::shard=error",
    "serenity::gateway::bridge=error",
    "serenity::http=off",
    "hyper=warn",
    "reqwest=warn",
    "h2=warn",
    "rustls=warn",
];
/// These too; they are not in our own hands.
const MORE_CAPS: [&str; 4] = [
    "hyper_util=warn",
    "tungstenite=warn",
    "tokio_tungstenite=warn",
    "tracing::span=off",
];

/// Starts the log on standard error; a second start changes nothing. `wish` is in the form of
/// `RUST_LOG`, of which only our own crates' part counts.
pub fn start(wish: Option<&str>) {
    let log = tracing_subscriber::fmt()
        .with_env_filter(filter(wish))
        .with_writer(std::io::stderr)
        .with_ansi(std::io::stderr().is_terminal())
        // It would say on the same standard error that a line could not be written, and end the thread where it cannot.
        .log_internal_errors(false)
        .with_target(true);
    // A program that carries the bot inside itself may have a log already.
    let _ = log.try_init();
    std::panic::set_hook(Box::new(failed));
}

/// What a failure of our own leaves in the log. Its message is left out where it was made while the program ran: the standard
/// library's own, of a text that was cut in the middle of a letter, quotes that text.
fn failed(failure: &PanicHookInfo<'_>) {
    let trace = Backtrace::capture();
    let trace =
        (trace.status() == BacktraceStatus::Captured).then(|| tracing::field::display(trace));
    tracing::error!(
        at = failure.location().map(tracing::field::display),
        thread = std::thread::current().name(),
        why = of_the_code(failure.payload()),
        trace,
        "a mistake in loftwatch stopped what it was doing"
    );
}

/// A message that stands in the code as it is.
fn of_the_code(payload: &dyn Any) -> &'static str {
    let literal = payload.downcast_ref::<&'static str>();
    literal
        .copied()
        .unwrap_or("left out: it may hold what somebody typed")
}

fn filter(wish: Option<&str>) -> EnvFilter {
    let mut filter = EnvFilter::new("warn");
    for ours in ["bot", "loftwatch", "store", "commands"] {
        filter = add(filter, &format!("{ours}=info"));
    }
    for directive in wish.unwrap_or_default().split(',') {
        let target = directive
            .split(['=', '['])
            .next()
            .unwrap_or_default()
            .trim();
        let ours = ["bot", "loftwatch", "store", "commands", "demo_guild"];
        if ours
            .iter()
            .any(|crate_| target == *crate_ || target.starts_with(&format!("{crate_}::")))
        {
            filter = add(filter, directive.trim());
        } else if !target.is_empty() && !directive.contains('=') {
            // A bare level is for ours.
            for ours in ours {
                filter = add(filter, &format!("{ours}={target}"));
            }
        }
    }
    CAPS.iter()
        .chain(&MORE_CAPS)
        .fold(filter, |filter, cap| add(filter, cap))
}

fn add(filter: EnvFilter, directive: &str) -> EnvFilter {
    match directive.parse::<Directive>() {
        Ok(directive) => filter.add_directive(directive),
        Err(_) => filter,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TYPED: &str = "violet lantern";
    /// A word behind the name of the test, where this program is the one that fails.
    const FAILS: &str = "as-the-one-that-fails";

    fn fails_over_what_was_typed() {
        start(Some("trace"));
        let typed = format!("{TYPED}é");
        let cut = || typed[..typed.len() - 1].len();
        assert!(std::panic::catch_unwind(cut).is_err());
        assert!(std::panic::catch_unwind(|| panic!("never so")).is_err());
        assert!(std::panic::catch_unwind(|| panic!("{}", TYPED.to_owned())).is_err());
    }

    /// It runs once more in a process of its own and fails there, because a hook is the whole process's.
    #[test]
    fn a_failure_says_where_it_was_and_nothing_of_what_was_typed() {
        if std::env::args().any(|word| word == FAILS) {
            return fails_over_what_was_typed();
        }
        let own = std::env::current_exe().unwrap();
        let told = std::process::Command::new(own)
            .args(["--exact", "--nocapture"])
            .arg("log::tests::a_failure_says_where_it_was_and_nothing_of_what_was_typed")
            .arg(FAILS)
            .output()
            .unwrap();
        let said = [told.stdout, told.stderr].concat();
        let said = String::from_utf8_lossy(&said);
        assert!(told.status.success(), "{said}");
        let failures = said.matches("a mistake in loftwatch").count();
        assert_eq!(failures, 3, "{said}");
        assert!(said.contains("log.rs:"), "{said}");
        assert!(!said.contains(TYPED), "{said}");
    }

    #[test]
    fn no_wish_lifts_a_cap() {
        for wish in [
            "trace",
            "serenity=trace",
            "hyper=debug,bot=debug",
            "serenity::gateway::ws=trace,reqwest=trace",
            "[{a=1}]=trace",
        ] {
            let text = filter(Some(wish)).to_string();
            for cap in CAPS {
                assert!(
                    text.split(',').any(|part| part == cap),
                    "{cap} lost to {wish}: {text}"
                );
            }
            let loud = text
                .split(',')
                .filter(|part| part.ends_with("=trace") || part.ends_with("=debug"));
            for part in loud {
                assert!(
                    ["bot", "loftwatch", "store", "commands", "demo_guild"]
                        .iter()
                        .any(|ours| part.starts_with(ours)),
                    "{part}"
                );
            }
            assert!(
                !text
                    .split(',')
                    .any(|part| part == "trace" || part == "debug"),
                "{text}"
            );
        }
    }
}
