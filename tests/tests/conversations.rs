//! Every conversation of `scenarios/`, in every way it is run. `UPDATE_EXPECT=1` writes what follows from
//! each step anew; read the difference before it is kept.

use std::path::{Path, PathBuf};

use commands::Said;
use commands::said::Value;
use loftwatch_tests::talk::crash;
use loftwatch_tests::talk::disk::Disk;
use loftwatch_tests::talk::stage::Thing;
use loftwatch_tests::talk::talker::{Talk, all, home_as_written};
use loftwatch_tests::talk::world::Trouble;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios")
}

/// What whoever runs the tests asks for.
#[allow(
    clippy::disallowed_methods,
    reason = "a test's own switches are no settings of the program"
)]
fn asked(name: &str) -> Option<String> {
    std::env::var(name).ok()
}

/// Does something with every conversation and says all that went wrong, or the first with `FIRST`.
fn each(mut what: impl FnMut(&Path) -> anyhow::Result<()>) {
    let wanted = asked("TALK").unwrap_or_default();
    let mut wrong = Vec::new();
    for file in all(&folder()).expect("the conversations") {
        let name = file
            .file_stem()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        if !name.contains(&wanted) {
            continue;
        }
        if let Err(why) = what(&file) {
            wrong.push(format!("== {name}\n{why:#}\n"));
            if asked("FIRST").is_some() {
                break;
            }
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn homes_are_set_up_as_written() {
    let update = asked("UPDATE_EXPECT").is_some();
    for file in all(&folder().join("homes")).unwrap() {
        home_as_written(&file, update).unwrap_or_else(|why| panic!("{}\n{why:#}", file.display()));
    }
}

#[test]
fn conversations_read_as_written() {
    let update = asked("UPDATE_EXPECT").is_some();
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
    let wanted = asked("TALK");
    let mut places = 0;
    let names: Vec<String> = match &wanted {
        None => crash::NAMED.iter().map(|name| (*name).to_owned()).collect(),
        Some(wanted) => all(&folder())
            .unwrap()
            .iter()
            .filter_map(|file| Some(file.file_stem()?.to_string_lossy().into_owned()))
            .filter(|name| name.contains(wanted.as_str()))
            .collect(),
    };
    for name in &names {
        let file = folder().join(format!("{name}.txt"));
        let tried = Talk::open(&file).and_then(|mut talk| crash::everywhere(&mut talk));
        places += tried.unwrap_or_else(|why| panic!("{name}: {why:#}"));
    }
    println!("{places} places tried in {} conversations", names.len());
}

/// A reading in the home of every conversation.
fn low_reading(world: &loftwatch_tests::talk::world::World) -> Thing {
    let ana = world.cast.person("Ana").expect("she is in every home");
    let text = |text: &str| Value::Text(text.to_owned());
    let options = [("surface", text("LW-07")), ("air", text("3/4"))];
    let options = options
        .map(|(name, value)| (name.to_owned(), value))
        .into_iter()
        .collect();
    Thing {
        who: ana.id,
        channel: ana.channel,
        on: None,
        said: Said::Command {
            path: "handcheck".into(),
            options,
        },
    }
}

#[test]
fn the_same_event_that_comes_three_times_is_one_record_and_one_answer() {
    let mut talk = Talk::open(&folder().join("adequate.txt")).unwrap();
    let mut world = talk.begin().unwrap();
    let before = world.head();
    let thing = low_reading(&world);
    world.hear_again_and_again(&thing).unwrap();
    // The reading, and that the nurse was told.
    assert_eq!(world.head(), before + 2);
    assert_eq!(
        world.chat.messages.len(),
        2,
        "one answer and one call: {:#?}",
        world.chat.messages
    );
    world.verify().unwrap();
}

#[test]
fn what_comes_too_late_to_be_answered_is_not_acted_on() {
    let mut talk = Talk::open(&folder().join("adequate.txt")).unwrap();
    let mut world = talk.begin().unwrap();
    let before = world.head();
    let thing = low_reading(&world);
    world.hear_late(&thing).unwrap();
    assert_eq!((world.head(), world.chat.messages.len()), (before, 0));
}

#[test]
fn a_disk_that_takes_nothing_keeps_nothing() {
    let mut talk = Talk::open(&folder().join("adequate.txt")).unwrap();
    let mut world = talk.begin().unwrap();
    let before = world.head();
    world.disk_becomes(Disk::Shut).unwrap();
    let thing = low_reading(&world);
    world.hear(std::slice::from_ref(&thing)).unwrap();
    assert_eq!(
        world.head(),
        before,
        "the state holds what the disk does not"
    );
    assert_eq!(
        world.chat.messages.len(),
        1,
        "the person is told, and nobody else: {:#?}",
        world.chat.messages
    );
    world.disk_becomes(Disk::Roomy).unwrap();
    world.hear(std::slice::from_ref(&thing)).unwrap();
    assert_eq!(world.head(), before + 2);
    world.verify().unwrap();
}
