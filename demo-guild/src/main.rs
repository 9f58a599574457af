//! `cargo run`: the demo guild with the real bot in it. Reads what it is told; everything else is in `show`.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Parser;
use demo_guild::show::{self, Wishes};

/// An invented care home's team chat on this computer, with loftwatch at work in it.
#[derive(Parser)]
#[command(name = "loftwatch-demo")]
struct Told {
    /// The folder that the home is kept in, for its owner only.
    #[arg(long, default_value = "demo-data")]
    data: PathBuf,
    /// Start over: forget what was done in the demo.
    #[arg(long)]
    fresh: bool,
    /// The port on this computer; a free one is taken when it is in use.
    #[arg(long, default_value_t = show::PORT)]
    port: u16,
    /// Serve no page, for tests and for programs that talk to the guild.
    #[arg(long)]
    headless: bool,
}

fn main() -> ExitCode {
    let Told {
        data,
        fresh,
        port,
        headless,
    } = Told::parse();
    bot::log::start(bot::config::log_wish().as_deref());
    show::run(&Wishes {
        data,
        fresh,
        port,
        headless,
    })
    .unwrap_or_else(|fault| {
        eprintln!("The demo stopped: {fault:#}");
        ExitCode::FAILURE
    })
}
