//! The program that is run: reads what it is told and does one thing.

use std::io::{Write, stderr, stdout};
use std::process::ExitCode;

use bot::clock::wall;
use bot::config::{Cli, Command, Senseless, Settings, log_wish, watched};
use bot::{Exit, StartError, Stop, WallClock, check, dump, erase, keep, log};
use commands::ids::{Guild, RecordNo};

fn main() -> ExitCode {
    let cli = match Cli::read() {
        Ok(cli) => cli,
        Err(senseless) => return say(&senseless, Exit::Settings),
    };
    log::start(log_wish().as_deref());
    dump::none_is_left();
    if let Command::Run = cli.command {
        let settings = match cli.told.settings() {
            Ok(settings) => settings,
            Err(senseless) => return say(&senseless, Exit::Settings),
        };
        return serve(settings).unwrap_or_else(|fault| {
            let start = fault.downcast_ref().map(StartError::exit);
            say(&fault, start.unwrap_or(Exit::Trouble))
        });
    }
    let mut said = Vec::new();
    match asked(cli, &mut said) {
        Ok(exit) => {
            // What was done is done, and its code is told, also where nobody reads on or the disk behind a `>` is full.
            let _ = said
                .iter()
                .try_for_each(|sentence| writeln!(stdout(), "{sentence}"));
            exit.into()
        }
        Err(senseless) => say(&senseless, Exit::Settings),
    }
}

/// Does one thing and ends. Only the settings that it needs are looked at: a home's file is verified and put back whatever is
/// wrong with the rest.
fn asked(cli: Cli, said: &mut Vec<String>) -> Result<Exit, Senseless> {
    let told = cli.told;
    Ok(match cli.command {
        Command::Verify { record, file } => {
            let record = record.map(RecordNo);
            match file {
                Some(file) => keep::verify_file(&file, record, said),
                None => {
                    let (data, guilds) = (told.data()?, told.remembered());
                    // Asked only for what it remembers; the files are read also where it makes no sense.
                    let backups = told.backup_folder().unwrap_or_default();
                    let known = keep::Known {
                        guilds: &guilds,
                        backups: backups.as_deref(),
                    };
                    keep::verify(&data, known, record, said)
                }
            }
        }
        Command::Backup { folder } => {
            let folder = told.backups_at(folder)?;
            let guilds = told.remembered();
            keep::back_up(&told.data()?, &folder, &guilds, wall(), said)
        }
        Command::Restore { file } => keep::restore(&file, &told.data()?, wall(), said),
        Command::Erase { guild, sure } => {
            let (data, backups) = (told.data()?, told.backup_folder()?);
            let sure = sure.map(Guild);
            erase::erase(Guild(guild), sure, &data, backups.as_deref(), said)
        }
        Command::Check | Command::Run => {
            let exit;
            (*said, exit) = check::check(&told);
            exit
        }
    })
}

fn serve(settings: Settings) -> anyhow::Result<ExitCode> {
    let stop = Stop::default();
    stop.at_signals()?;
    let mut running = bot::run(settings, WallClock::start()?, stop)?;
    running.watched(watched())?;
    Ok(running.wait().into())
}

fn say(fault: &dyn std::fmt::Display, exit: Exit) -> ExitCode {
    // As above.
    let _ = writeln!(stderr(), "loftwatch: {fault}");
    exit.into()
}
