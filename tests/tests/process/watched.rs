//! What a watcher on the same computer is told of the running program.

use std::time::Duration;

use bot::clock::{mono, wall};
use chrono::TimeDelta;
use demo_guild::Fault;
use rustix::process::{Pid, Signal, kill_process};
use serde_json::json;

use crate::child::{Process, Programs};
use crate::climbing::{House, SETTLED};

const PATIENCE: Duration = Duration::from_secs(60);

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_watcher_is_told_what_is_not_well_and_what_is_counted() {
    let programs = Programs::build().unwrap();
    let house = House::open(2, 1).await;
    let faults = house.guild.faults();
    faults.next(usize::MAX, "GET /gateway/bot", Fault::Status(503));
    // A port that was free a moment ago.
    let free = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let at = free.local_addr().unwrap();
    drop(free);
    let mut command = house.command(&programs);
    command.env("LOFTWATCH_HEALTH", at.to_string());
    let process = Process::start(command, house.folder.path()).unwrap();

    let health = format!("http://{at}/health");
    let (status, text) = asked(&health, 503).await;
    assert_eq!(
        (status, text.as_str()),
        (503, "the gateway has not let us in yet\n")
    );
    faults.clear();
    let (status, text) = asked(&health, 200).await;
    assert_eq!((status, text.as_str()), (200, "well\n"));
    let begun = mono();
    while !house.serves().await {
        assert!(mono() - begun < PATIENCE, "it does not serve");
    }

    let guild = house.guild.guild_id();
    let begun = mono();
    let text = loop {
        let (status, text) = asked(&format!("http://{at}/counters"), 200).await;
        assert_eq!(status, 200);
        // It is counted after the answer has been given.
        let done = text.contains(r#"loftwatch_requests_total{route="callback",outcome="done"} 1"#);
        if done || mono() - begun > PATIENCE {
            break text;
        }
    };
    for line in [
        format!(r#"loftwatch_heard_total{{guild="{guild}"}} 1"#),
        format!(r#"loftwatch_open_alarms{{guild="{guild}"}} 2"#),
        format!(r#"loftwatch_file_usable{{guild="{guild}"}} 1"#),
        r#"loftwatch_requests_total{route="callback",outcome="done"} 1"#.to_owned(),
        "loftwatch_gateway_connections_total 1".to_owned(),
        "# EOF".to_owned(),
    ] {
        assert!(
            text.lines().any(|there| there == line),
            "{line} is not in\n{text}"
        );
    }
    // The first surface's tag, in its alarm and its reading.
    assert!(!text.contains("LW-"), "{text}");
    let elsewhere = reqwest::get(format!("http://{at}/")).await.unwrap();
    assert_eq!(elsewhere.status().as_u16(), 404);
    assert!(!process.stop().unwrap(), "it did not stop when asked");
}

/// The last connections of the chat service's day are kept, and whoever is to be called is called meanwhile.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn where_few_connections_are_left_calls_go_out_without_one() {
    let programs = Programs::build().unwrap();
    let house = House::open(12, 1).await;
    house.guild.leave_sessions(3);
    let process = house.start(&programs);
    let late = TimeDelta::from_std(SETTLED).unwrap();
    let from = wall() + late;
    tokio::time::sleep(SETTLED * 3).await;
    assert!(!house.guild.bot_is_up(), "it connected");
    house.all_on_time(from, late);
    assert!(!process.stop().unwrap(), "it did not stop when asked");
}

/// Of a program that ended badly, at the loudest log: nothing that was typed, nothing secret, and no memory in a file.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_is_secret_or_typed_is_in_no_log_and_in_no_dump() {
    const CANARY: &str = "violet lantern";
    const WRONG: &str = "a request did not come through";
    let programs = Programs::build().unwrap();
    let house = House::open(1, 1).await;
    let mut command = house.command(&programs);
    command.env("RUST_LOG", "trace");
    let mut process = Process::start(command, house.folder.path()).unwrap();
    let begun = mono();
    while !house.serves().await {
        assert!(mono() - begun < PATIENCE, "it does not serve");
    }
    let (aide, care) = (house.guild.person("Aide 0"), house.guild.channel("care"));
    // What goes wrong is logged most of all.
    let faults = house.guild.faults();
    faults.next(2, "POST /channels/*/messages", Fault::Status(500));
    let typed = format!("{CANARY} hums");
    for (path, options) in [
        (
            "handcheck",
            vec![
                ("surface", json!("LW-02")),
                ("air", json!("1.25")),
                ("note", json!(typed)),
            ],
        ),
        (
            "handcheck",
            vec![("surface", json!(typed)), ("air", json!(typed))],
        ),
        (
            "alarm",
            vec![("surface", json!("LW-02")), ("note", json!(typed))],
        ),
    ] {
        let outcome = house.guild.command(aide, care, path, &options).await;
        assert!(!outcome.text().is_empty(), "{path}: no answer");
    }
    house
        .guild
        .say(aide, care, &format!("LW-02 {typed}"))
        .unwrap();

    let log = house.folder.path().join("said.txt");
    let begun = mono();
    while !std::fs::read_to_string(&log).unwrap().contains(WRONG) {
        assert!(mono() - begun < PATIENCE, "what went wrong is not logged");
        tokio::time::sleep(Duration::from_millis(50)).await;
    }

    let limits = std::fs::read_to_string(format!("/proc/{}/limits", process.id())).unwrap();
    let core = limits.lines().find(|line| line.starts_with("Max core"));
    let core: Vec<_> = core.unwrap().split_whitespace().collect();
    assert_eq!(core[4..6], ["0", "0"], "{core:?}");
    let pid = i32::try_from(process.id()).unwrap();
    kill_process(Pid::from_raw(pid).unwrap(), Signal::ABORT).unwrap();
    let begun = mono();
    let said = loop {
        if let Some((code, said)) = process.ended().unwrap() {
            assert_eq!(code, None, "it was not ended by the signal");
            break said;
        }
        assert!(mono() - begun < PATIENCE, "it goes on");
        tokio::time::sleep(Duration::from_millis(10)).await;
    };
    for secret in [CANARY, house.guild.token().as_str()] {
        assert!(!said.contains(secret), "{secret} is in the log:\n{said}");
    }
}

/// Asks until that is the answer, or for the last time.
async fn asked(url: &str, wanted: u16) -> (u16, String) {
    let begun = mono();
    loop {
        if let Ok(answer) = reqwest::get(url).await {
            let status = answer.status().as_u16();
            let text = answer.text().await.unwrap();
            if status == wanted || mono() - begun > PATIENCE {
                return (status, text);
            }
        }
        assert!(mono() - begun < PATIENCE * 2, "nobody answers");
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
}
