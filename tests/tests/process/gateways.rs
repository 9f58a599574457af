//! The program before gateways that misbehave, as `docs/operator.md` promises: calls come on time throughout, and people are
//! answered again within a minute, or the program ends with a code that is worth starting again for and serves within two.
//! Each kind of fault has a home of its own; all of them wait at the same time, because the clock is the real one.

use std::net::{SocketAddr, TcpListener};
use std::time::Duration;

use bot::clock::{mono, wall};
use bot::config::Exit;
use chrono::TimeDelta;
use demo_guild::{Fault, Guild};

use crate::child::{Process, Programs};
use crate::climbing::House;

const ALARMS: usize = 12;
/// What the unit for systemd waits before it starts the program again.
const RESTART: Duration = Duration::from_secs(5);
/// Within this people are answered again by the same program …
const SERVES_WITHIN: Duration = Duration::from_secs(60);
/// … or by the next one.
const SERVES_AGAIN_WITHIN: Duration = Duration::from_secs(120);
/// How late a call may be, with one restart in between, on a machine where all of these run at once.
const LATE: TimeDelta = TimeDelta::seconds(20);

/// What a gateway does.
#[derive(Clone, Copy, Debug)]
enum Wrong {
    /// It closes, with a code or without.
    Closes(Option<u16>),
    /// It closes three times, a few seconds apart.
    Stutters,
    /// The connection stays open, and nothing comes or goes on it.
    HalfOpen,
    /// It is gone without a word, as when a network fails.
    Drops,
    /// It ends each session for good.
    Forgets,
    /// It ends the connection's hold on its session, which may be resumed.
    Doubts,
    /// It asks to be connected to anew.
    Sends,
    /// Nobody says where it is, from the start on, for so long.
    Hidden(Duration),
    /// Where it is said to be nobody listens, from the start on, for so long.
    Elsewhere(Duration),
    /// Where it is said to be somebody takes connections and never says a word, not even that this is a websocket, from the start on,
    /// for so long.
    Deaf(Duration),
    /// It takes connections, from the start on, and says nothing on them.
    Mute,
    /// It closes, and then takes connections and says nothing on them.
    ClosesAndIsMute,
}

/// What becomes of the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Becomes {
    /// It serves on by itself.
    Serves,
    /// As the chat library finds out of its spinning by itself, or is found silent before that.
    Either,
    /// It ends like that, and is started again.
    Ends(Exit),
    /// It ends like that for good: somebody must look first.
    GivesUp,
}

/// Codes 1000 and 1001 are the websocket's; the rest is the list of the platform's reference ("Gateway close event codes"),
/// and 4006, which older lists have.
const CASES: &[(Wrong, Becomes)] = &[
    (Wrong::Closes(None), Becomes::Either),
    (Wrong::Closes(Some(1000)), Becomes::Serves),
    (Wrong::Closes(Some(1001)), Becomes::Serves),
    (Wrong::Closes(Some(4000)), Becomes::Serves),
    (Wrong::Closes(Some(4001)), Becomes::Serves),
    (Wrong::Closes(Some(4002)), Becomes::Serves),
    (Wrong::Closes(Some(4003)), Becomes::Either),
    (Wrong::Closes(Some(4004)), Becomes::GivesUp),
    (Wrong::Closes(Some(4005)), Becomes::Serves),
    (Wrong::Closes(Some(4006)), Becomes::Serves),
    (Wrong::Closes(Some(4007)), Becomes::Serves),
    (Wrong::Closes(Some(4008)), Becomes::Serves),
    (Wrong::Closes(Some(4009)), Becomes::Serves),
    (Wrong::Closes(Some(4010)), Becomes::Either),
    (Wrong::Closes(Some(4011)), Becomes::Either),
    (Wrong::Closes(Some(4012)), Becomes::Serves),
    (Wrong::Closes(Some(4013)), Becomes::GivesUp),
    (Wrong::Closes(Some(4014)), Becomes::GivesUp),
    (Wrong::Stutters, Becomes::Either),
    (Wrong::Drops, Becomes::Serves),
    (Wrong::Forgets, Becomes::Serves),
    (Wrong::Doubts, Becomes::Serves),
    (Wrong::Sends, Becomes::Serves),
    (Wrong::HalfOpen, Becomes::Ends(Exit::Silent)),
    (Wrong::Hidden(Duration::from_secs(15)), Becomes::Serves),
    (
        Wrong::Hidden(Duration::from_secs(50)),
        Becomes::Ends(Exit::Unreachable),
    ),
    // The chat library asks once where it is, and goes on trying there.
    (
        Wrong::Elsewhere(Duration::from_secs(15)),
        Becomes::Ends(Exit::Silent),
    ),
    (
        Wrong::Deaf(Duration::from_secs(15)),
        Becomes::Ends(Exit::Silent),
    ),
    (Wrong::Mute, Becomes::Ends(Exit::Silent)),
    (Wrong::ClosesAndIsMute, Becomes::Ends(Exit::Silent)),
];

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_gateway_that_misbehaves_delays_no_call_and_keeps_nobody_waiting_for_long() {
    let programs = Programs::build().unwrap();
    let mut all = Vec::new();
    for (wrong, becomes) in CASES {
        all.push(tokio::spawn(case(programs.clone(), *wrong, *becomes)));
        // Not all of them start at the same moment.
        tokio::time::sleep(Duration::from_millis(300)).await;
    }
    let mut failed = Vec::new();
    for one in all {
        match one.await {
            Ok(Ok(said)) => eprintln!("{said}"),
            Ok(Err(why)) => failed.push(why),
            Err(panic) => failed.push(panic.to_string()),
        }
    }
    assert!(failed.is_empty(), "{failed:#?}");
}

/// A guild that the bot is in no more, or that is not to be had for a while, answers nothing. That is no silence of the gateway, which
/// would end the program for every other home.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_home_that_is_gone_ends_the_program_for_no_other() {
    let programs = Programs::build().unwrap();
    let gone: [fn(&Guild); 2] = [Guild::remove_from_foreign, Guild::lose_foreign];
    let alone = gone.map(|gone| tokio::spawn(left_alone(programs.clone(), gone)));
    for one in alone {
        one.await.unwrap();
    }
}

async fn left_alone(programs: Programs, gone: fn(&Guild)) {
    // One alarm, whose calls are a minute apart: longer than it takes to find a gateway silent.
    let house = House::open(1, 1).await;
    let other = house.guild.foreign_guild_id();
    let served = [house.guild.guild_id().0, other.0];
    let (url, token) = (house.guild.url(), house.guild.token());
    let command = programs.run(&url, &token, house.folder.path(), &served);
    let mut process = Process::start(command, house.folder.path()).unwrap();
    self::served(&house, SERVES_WITHIN).await.unwrap();
    house.guild.invite_to_foreign();
    let file = house.folder.path().join(format!("{other}.loft"));
    let begun = mono();
    while !file.exists() {
        assert!(mono() - begun < SERVES_WITHIN, "it is not served");
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    // It is asked first where it joined last, or in its turn.
    gone(&house.guild);
    tokio::time::sleep(Duration::from_secs(58)).await;
    let ended = process.ended().unwrap();
    assert!(ended.is_none(), "it ended: {ended:?}");
    assert!(house.serves().await, "nobody is answered");
    assert!(!process.stop().unwrap(), "it did not stop when asked");
}

async fn case(programs: Programs, wrong: Wrong, becomes: Becomes) -> Result<String, String> {
    let house = House::open(ALARMS, 1).await;
    let guild = house.guild.clone();
    // Its connections wait in the queue of the system for as long as this is here.
    let deaf = TcpListener::bind("127.0.0.1:0").map_err(|fault| fault.to_string())?;
    let deaf_at = deaf.local_addr().map_err(|fault| fault.to_string())?;
    let hidden = hide(&guild, wrong, deaf_at);
    let process = house.start(&programs);
    let from = wall() + LATE;
    if !hidden {
        served(&house, SERVES_WITHIN)
            .await
            .ok_or_else(|| format!("{wrong:?}: it did not serve at all"))?;
    }
    let happened = mono();
    let late = TimeDelta::from_std(RESTART).unwrap() + LATE;
    let misbehaving = tokio::spawn(misbehave(guild.clone(), wrong));
    let (process, ended) = match becomes {
        Becomes::Serves => {
            // It has noticed by then.
            tokio::time::sleep(Duration::from_secs(1)).await;
            (process, None)
        }
        Becomes::Either => {
            let silent = Some(Exit::Silent as i32);
            match serves_or_ends(&house, process).await {
                Ok(process) => (process, None),
                Err((exit, _)) if exit == silent => {
                    (again(&house, &programs).await, Some(mono() - happened))
                }
                Err((exit, said)) => {
                    return Err(format!("{wrong:?}: it ended with {exit:?}: {said}"));
                }
            }
        }
        Becomes::Ends(_) | Becomes::GivesUp => {
            let (exit, said) = ended(process, SERVES_AGAIN_WITHIN - RESTART)
                .await
                .ok_or_else(|| format!("{wrong:?}: it did not end"))?;
            let wanted = match becomes {
                Becomes::Ends(exit) => exit,
                Becomes::Serves | Becomes::Either | Becomes::GivesUp => Exit::Refused,
            };
            if exit != Some(wanted as i32) {
                return Err(format!("{wrong:?}: it ended with {exit:?}: {said}"));
            }
            let ended = mono() - happened;
            if becomes == Becomes::GivesUp {
                return Ok(format!(
                    "{wrong:?}: ends with {} after {} s",
                    wanted as u8,
                    ended.as_secs()
                ));
            }
            guild.go_silent(false);
            (again(&house, &programs).await, Some(ended))
        }
    };
    let within = if ended.is_some() {
        SERVES_AGAIN_WITHIN
    } else {
        SERVES_WITHIN
    };
    served(&house, within.saturating_sub(mono() - happened))
        .await
        .ok_or_else(|| format!("{wrong:?}: nobody was answered in {} s", within.as_secs()))?;
    let answered = mono() - happened;
    let hit = misbehaving.await.map_err(|fault| fault.to_string())?;
    if hit == 0 {
        return Err(format!("{wrong:?}: it had no connection"));
    }
    // Rungs of a whole minute are looked at.
    let rest = Duration::from_secs(95).saturating_sub(mono() - happened);
    tokio::time::sleep(rest).await;
    let checked = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
        house.all_on_time(from, late);
    }));
    checked.map_err(|_| format!("{wrong:?}: a call was late"))?;
    let killed = process.stop().map_err(|fault| fault.to_string())?;
    if killed {
        return Err(format!("{wrong:?}: it did not stop when asked"));
    }
    let ended = ended.map_or(String::new(), |ended| {
        format!(" ends after {} s and", ended.as_secs())
    });
    Ok(format!(
        "{wrong:?}:{ended} answers after {:.1} s",
        answered.as_secs_f64()
    ))
}

/// Whether it is wrong from the start on.
fn hide(guild: &Guild, wrong: Wrong, deaf: SocketAddr) -> bool {
    match wrong {
        Wrong::Hidden(_) => {
            let faults = guild.faults();
            faults.next(usize::MAX, "GET /gateway/bot", Fault::Status(503));
        }
        Wrong::Elsewhere(_) => guild.lead_astray(Some(SocketAddr::from(([127, 0, 0, 1], 1)))),
        Wrong::Deaf(_) => guild.lead_astray(Some(deaf)),
        Wrong::Mute => guild.go_silent(true),
        Wrong::Closes(_)
        | Wrong::Stutters
        | Wrong::HalfOpen
        | Wrong::Drops
        | Wrong::Forgets
        | Wrong::Doubts
        | Wrong::Sends
        | Wrong::ClosesAndIsMute => return false,
    }
    true
}

/// How many connections it met; one where it does not meet them by their number.
async fn misbehave(guild: Guild, wrong: Wrong) -> usize {
    match wrong {
        Wrong::Closes(code) => guild.close_gateway(code),
        Wrong::Stutters => {
            let mut met = 0;
            for _ in 0..3 {
                met += guild.close_gateway(None);
                tokio::time::sleep(Duration::from_secs(4)).await;
            }
            met
        }
        Wrong::HalfOpen => {
            guild.go_silent(true);
            1
        }
        Wrong::Drops => guild.drop_gateway(),
        Wrong::Forgets => guild.invalidate_sessions(false),
        Wrong::Doubts => guild.invalidate_sessions(true),
        Wrong::Sends => guild.ask_to_reconnect(),
        Wrong::Hidden(time) => {
            tokio::time::sleep(time).await;
            guild.faults().clear();
            1
        }
        Wrong::Elsewhere(time) | Wrong::Deaf(time) => {
            tokio::time::sleep(time).await;
            guild.lead_astray(None);
            1
        }
        Wrong::Mute => 1,
        Wrong::ClosesAndIsMute => {
            guild.go_silent(true);
            guild.close_gateway(None)
        }
    }
}

/// Waits until somebody is answered.
async fn served(house: &House, within: Duration) -> Option<()> {
    let begun = mono();
    while mono() - begun < within {
        if house.serves().await {
            return Some(());
        }
        tokio::time::sleep(Duration::from_millis(200)).await;
    }
    None
}

/// Starts the program again as the unit for systemd does.
async fn again(house: &House, programs: &Programs) -> Process {
    tokio::time::sleep(RESTART).await;
    house.start(programs)
}

/// Waits until somebody is answered by this program, or it has ended.
async fn serves_or_ends(
    house: &House,
    mut process: Process,
) -> Result<Process, (Option<i32>, String)> {
    // It has noticed by then.
    tokio::time::sleep(Duration::from_secs(1)).await;
    let begun = mono();
    while mono() - begun < SERVES_WITHIN {
        if house.serves().await {
            break;
        }
        match process.ended() {
            Ok(None) => {}
            Ok(Some(ended)) => return Err(ended),
            Err(fault) => return Err((None, fault.to_string())),
        }
        tokio::time::sleep(Duration::from_millis(200)).await;
    }
    Ok(process)
}

/// Waits until the program ends; its exit code and what it said.
async fn ended(mut process: Process, within: Duration) -> Option<(Option<i32>, String)> {
    let begun = mono();
    while mono() - begun < within {
        if let Some(ended) = process.ended().ok()? {
            return Some(ended);
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    None
}
