//! Every conversation of `scenarios/`, in every way it is run. `UPDATE_EXPECT=1` writes what follows from
//! each step anew; read the difference before it is kept.

use std::path::{Path, PathBuf};

use loftwatch_tests::talk::crash;
use loftwatch_tests::talk::talker::{Talk, all};
use loftwatch_tests::talk::world::Trouble;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios")
}

/// Does something with every conversation and says all that went wrong.
fn each(mut what: impl FnMut(&Path) -> anyhow::Result<()>) {
    let wanted = std::env::var("TALK").unwrap_or_default();
    let mut wrong = Vec::new();
    for file in all(&folder()).unwrap() {
        let name = file.file_stem().unwrap().to_string_lossy().into_owned();
        if !name.contains(&wanted) {
            continue;
        }
        if let Err(why) = what(&file) {
            wrong.push(format!("== {name}\n{why:#}\n"));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn conversations_read_as_written() {
    let update = std::env::var_os("UPDATE_EXPECT").is_some();
    each(|file| Talk::open(file)?.plainly(update).map(drop));
}

#[test]
fn a_stop_and_start_after_every_step_changes_nothing() {
    each(|file| Talk::open(file)?.unshaken(Trouble::StopEveryStep));
}

#[test]
fn a_power_cut_after_every_send_changes_nothing() {
    each(|file| Talk::open(file)?.unshaken(Trouble::CutEverySend));
}

#[test]
fn a_power_cut_anywhere_loses_and_doubles_nothing() {
    let mut places = 0;
    for name in crash::NAMED {
        let file = folder().join(format!("{name}.txt"));
        let tried = Talk::open(&file).and_then(|mut talk| crash::everywhere(&mut talk));
        places += tried.unwrap_or_else(|why| panic!("{name}: {why:#}"));
    }
    println!(
        "{places} places tried in {} conversations",
        crash::NAMED.len()
    );
}
