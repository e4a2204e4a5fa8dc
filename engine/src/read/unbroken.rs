//! Readers of packed tables that panic at their own assertions when a file is damaged.

use std::panic;
use std::sync::{Mutex, PoisonError};

/// What a reader gives; `None` where it broke off. What it would have said of it is kept from the user.
pub fn unbroken<T>(read: impl FnOnce() -> T) -> Option<T> {
    // The hook is one for all threads: two that put it aside at once would lose it.
    static ASIDE: Mutex<()> = Mutex::new(());
    let _one_at_a_time = ASIDE.lock().unwrap_or_else(PoisonError::into_inner);
    let usual = panic::take_hook();
    panic::set_hook(Box::new(|_| {}));
    let read = panic::catch_unwind(panic::AssertUnwindSafe(read));
    panic::set_hook(usual);
    read.ok()
}
