//! The one way in which threads are made and locks are taken here. A lock that a failed thread left is
//! taken all the same: what it guards is whole after every statement.

use std::sync::{Mutex, MutexGuard, PoisonError};
use std::thread::JoinHandle;

/// Address space, not memory: only what is touched counts. The chat library's decoder needs over half a
/// mebibyte in a debug build.
const STACK_BYTES: usize = 2 << 20;

/// A thread with a name.
///
/// # Errors
/// When the system has none to give.
pub(crate) fn thread<T: Send + 'static>(
    name: &str,
    work: impl FnOnce() -> T + Send + 'static,
) -> std::io::Result<JoinHandle<T>> {
    std::thread::Builder::new()
        .name(name.to_owned())
        .stack_size(STACK_BYTES)
        .spawn(work)
}

/// The lock.
pub(crate) fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
