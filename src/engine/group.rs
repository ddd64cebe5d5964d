//! Processes and all they started: told whether they have ended, and killed together.

use std::process::{Child, Command};

/// Puts the program to start at the head of a group of its own. So what it starts can be killed with
/// it, and an interrupt from the keyboard does not reach it: a run that is interrupted ends in order.
#[cfg(unix)]
pub(crate) fn lead_a_group(command: &mut Command) {
    std::os::unix::process::CommandExt::process_group(command, 0);
}

/// Kills a process that has not been waited for, and all of its group.
#[cfg(unix)]
pub(crate) fn kill(child: &mut Child) {
    use rustix::process::{Pid, Signal, kill_process_group};
    // Fails only if nothing of the group is left.
    let _ = kill_process_group(Pid::from_child(child), Signal::KILL);
}

/// Whether a process has ended. It keeps its number until it is waited for, so that [`kill`] meets
/// nobody else.
#[cfg(unix)]
pub(crate) fn has_ended(child: &mut Child) -> bool {
    use rustix::process::{Pid, WaitId, WaitIdOptions, waitid};
    let look = WaitIdOptions::EXITED | WaitIdOptions::NOHANG | WaitIdOptions::NOWAIT;
    !matches!(waitid(WaitId::Pid(Pid::from_child(child)), look), Ok(None))
}

#[cfg(not(unix))]
pub(crate) fn lead_a_group(_: &mut Command) {}

#[cfg(not(unix))]
pub(crate) fn kill(child: &mut Child) {
    // Fails only if it has ended.
    let _ = child.kill();
}

#[cfg(not(unix))]
pub(crate) fn has_ended(child: &mut Child) -> bool {
    !matches!(child.try_wait(), Ok(None))
}
