//! Calls into a library that trusts a file and panics where it is damaged.

use std::cell::Cell;
use std::panic::{AssertUnwindSafe, catch_unwind, set_hook, take_hook};
use std::sync::Once;

thread_local! {
    static IS_CONTAINED: Cell<bool> = const { Cell::new(false) };
}

/// What a call comes to; nothing if it panics, which is not shown then. What the call may have changed
/// must not be used again after that.
pub(super) fn contained<T>(call: impl FnOnce() -> T) -> Option<T> {
    static HOOK: Once = Once::new();
    HOOK.call_once(|| {
        let show = take_hook();
        set_hook(Box::new(move |panic| {
            if !IS_CONTAINED.get() {
                show(panic);
            }
        }));
    });
    IS_CONTAINED.set(true);
    let result = catch_unwind(AssertUnwindSafe(call)).ok();
    IS_CONTAINED.set(false);
    result
}
