//! The program that is run: reads what it is told and does one thing.

use std::process::ExitCode;

use bot::clock::wall;
use bot::config::{Cli, Command, Settings, log_wish, watched};
use bot::{Exit, StartError, Stop, WallClock, check, dump, erase, keep, log};
use commands::ids::{Guild, RecordNo};

fn main() -> ExitCode {
    let cli = match Cli::read() {
        Ok(cli) => cli,
        Err(senseless) => return say(&senseless, Exit::Settings),
    };
    log::start(log_wish().as_deref());
    dump::none_is_left();
    let (data, mut said) = (cli.told.data().to_owned(), Vec::new());
    let exit = match cli.command {
        Command::Verify { record, file } => {
            let record = record.map(RecordNo);
            match file {
                Some(file) => keep::verify_file(&file, record, &mut said),
                None => keep::verify(&data, record, &mut said),
            }
        }
        Command::Backup { folder } => match cli.told.backups_at(folder) {
            Ok(folder) => keep::back_up(&data, &folder, wall(), &mut said),
            Err(senseless) => return say(&senseless, Exit::Settings),
        },
        Command::Restore { file } => keep::restore(&file, &data, wall(), &mut said),
        Command::Erase { guild, sure } => {
            let backups = match cli.told.backup_folder() {
                Ok(backups) => backups,
                Err(senseless) => return say(&senseless, Exit::Settings),
            };
            let sure = sure.map(Guild);
            erase::erase(Guild(guild), sure, &data, backups.as_deref(), &mut said)
        }
        Command::Check | Command::Run => {
            let settings = match cli.told.settings() {
                Ok(settings) => settings,
                Err(senseless) => return say(&senseless, Exit::Settings),
            };
            if let Command::Run = cli.command {
                return serve(settings).unwrap_or_else(|fault| {
                    let start = fault.downcast_ref().map(StartError::exit);
                    say(&fault, start.unwrap_or(Exit::Trouble))
                });
            }
            let exit;
            (said, exit) = check::check(&settings);
            exit
        }
    };
    said.iter().for_each(|sentence| println!("{sentence}"));
    exit.into()
}

fn serve(settings: Settings) -> anyhow::Result<ExitCode> {
    let stop = Stop::default();
    stop.at_signals()?;
    let mut running = bot::run(settings, WallClock::start()?, stop)?;
    running.watched(watched())?;
    Ok(running.wait().into())
}

fn say(fault: &dyn std::fmt::Display, exit: Exit) -> ExitCode {
    eprintln!("loftwatch: {fault}");
    exit.into()
}
