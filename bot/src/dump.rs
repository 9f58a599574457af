//! Keeps memory out of files: the token and what people typed stand in it, and a dump of a program that ended badly is kept, copied and
//! sent around. Decides that this program leaves none; leaves what the log may hold to [`crate::log`].

use rustix::process::{DumpableBehavior, Resource, Rlimit, set_dumpable_behavior, setrlimit};

/// From now on nothing dumps this program's memory, and nobody but root reads it from outside. Where the system refuses, that is
/// logged and the program goes on: a home waits for it.
pub fn none_is_left() {
    let none = Rlimit {
        current: Some(0),
        maximum: Some(0),
    };
    // The first holds for a file in the folder, the second also where dumps go to another program, whatever their size.
    let done = setrlimit(Resource::Core, none)
        .and_then(|()| set_dumpable_behavior(DumpableBehavior::NotDumpable));
    if let Err(fault) = done {
        tracing::warn!(%fault, "memory may be dumped to a file when this program ends badly");
    }
}

#[cfg(test)]
mod tests {
    use rustix::process::{dumpable_behavior, getrlimit};

    use super::*;

    /// A word behind the name of the test, where this program is the one that leaves none.
    const LEAVES_NONE: &str = "as-the-one-that-leaves-none";

    /// It runs once more in a process of its own, because what it asks for is the whole process's. It is asked from inside: from
    /// outside it shows only to somebody who is not root.
    #[test]
    fn neither_a_file_nor_another_program_gets_a_dump() {
        if std::env::args().any(|word| word == LEAVES_NONE) {
            assert_eq!(dumpable_behavior().unwrap(), DumpableBehavior::Dumpable);
            none_is_left();
            assert_eq!(dumpable_behavior().unwrap(), DumpableBehavior::NotDumpable);
            let most = getrlimit(Resource::Core);
            assert_eq!((most.current, most.maximum), (Some(0), Some(0)));
            return;
        }
        let own = std::env::current_exe().unwrap();
        let told = std::process::Command::new(own)
            .args(["--exact", "--nocapture"])
            .arg("dump::tests::neither_a_file_nor_another_program_gets_a_dump")
            .arg(LEAVES_NONE)
            .output()
            .unwrap();
        let said = [told.stdout, told.stderr].concat();
        let said = String::from_utf8_lossy(&said);
        assert!(told.status.success(), "{said}");
        assert!(said.contains("1 passed"), "{said}");
    }
}
