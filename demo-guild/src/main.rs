//! `cargo run`: the demo guild with the real bot in it. Reads what it is told; everything else is in `show`.

use std::process::ExitCode;

use clap::Parser;
use demo_guild::show::{self, Wishes};

fn main() -> ExitCode {
    bot::log::start(bot::config::log_wish().as_deref());
    show::run(&Wishes::parse()).unwrap_or_else(|fault| {
        eprintln!("The demo stopped: {fault:#}");
        ExitCode::FAILURE
    })
}
