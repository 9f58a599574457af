//! The program that is run: reads what it is told and does one thing.

use std::process::ExitCode;

use bot::config::{Cli, Command, Settings, log_wish};
use bot::{Exit, Stop, WallClock, check, log};
use clap::Parser;
use commands::ids::RecordNo;

fn main() -> ExitCode {
    let cli = Cli::parse();
    log::start(log_wish().as_deref());
    if let Command::Verify { record } = cli.command {
        let mut said = Vec::new();
        let exit = check::verify(cli.told.data(), record.map(RecordNo), &mut said);
        said.iter().for_each(|sentence| println!("{sentence}"));
        return exit.into();
    }
    let settings = match cli.told.settings() {
        Ok(settings) => settings,
        Err(senseless) => return say(&senseless, Exit::Settings),
    };
    if let Command::Check = cli.command {
        let (said, exit) = check::check(&settings);
        said.iter().for_each(|sentence| println!("{sentence}"));
        return exit.into();
    }
    serve(settings).unwrap_or_else(|fault| say(&fault, Exit::Trouble))
}

fn serve(settings: Settings) -> anyhow::Result<ExitCode> {
    let stop = Stop::default();
    stop.at_signals()?;
    Ok(bot::run(settings, WallClock::start()?, stop)?.wait().into())
}

fn say(fault: &dyn std::fmt::Display, exit: Exit) -> ExitCode {
    eprintln!("loftwatch: {fault}");
    exit.into()
}
