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
