//! Every conversation of `scenarios/` once more, through the real chat library and the real bot over the demo guild's
//! protocol; and nothing that there is to use is left unused by them.

use std::path::Path;

use loftwatch_tests::talk::talker::all;
use loftwatch_tests::wire::play;

/// What no conversation uses yet. Each is named as the test names it.
const NOT_YET: &[&str] = &[];

/// What no conversation can ever use, and why.
const NEVER: &[(&str, &str)] = &[];

#[allow(
    clippy::disallowed_methods,
    reason = "a test's own switches are no settings of the program"
)]
fn asked(name: &str) -> String {
    std::env::var(name).unwrap_or_default()
}

#[test]
fn every_conversation_reads_the_same_over_the_wire_and_uses_all_there_is() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let wanted = asked("TALK");
    let mut files = all(&folder).expect("the conversations");
    files.retain(|file| {
        let name = file.file_stem().expect("a name").to_string_lossy();
        name.contains(&wanted)
    });
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .expect("a runtime");
    let began = bot::clock::mono();
    let (used, mut wrong) = play::all(runtime.handle(), &files);
    println!(
        "{} conversations over the wire in {:.1} s",
        files.len(),
        (bot::clock::mono() - began).as_secs_f64()
    );
    for why in &used.unsendable {
        println!("sent past the checks of a phone, which says: {why}");
    }
    for verb in used.unknown() {
        wrong.push(format!(
            "{verb} was shown or used and is in no list of taps"
        ));
    }
    if wanted.is_empty() {
        if !wrong.is_empty() {
            wrong.push("What those would have used is not counted:".to_owned());
        }
        for (name, why) in NEVER {
            println!("never used: {name}: {why}");
        }
        let unused = used.unused();
        let excused = |name: &str| NOT_YET.contains(&name) || NEVER.iter().any(|(n, _)| *n == name);
        let missed = unused.iter().filter(|name| !excused(name));
        wrong.extend(missed.map(|name| format!("nobody used {name}")));
        let excuses = NOT_YET.iter().chain(NEVER.iter().map(|(name, _)| name));
        let needless = excuses.filter(|name| !unused.contains(**name));
        wrong.extend(needless.map(|name| format!("{name} is used: it needs no excuse any more")));
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}
