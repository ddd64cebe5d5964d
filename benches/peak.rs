//! The memory that a command holds.

use std::fs::File;
use std::io::{self, Read};
use std::path::PathBuf;
use std::process::Command;
use std::time::Duration;

/// The most memory a command held, in KiB, as the kernel tells it (Linux; elsewhere 0).
pub(crate) fn peak_memory(command: &mut Command) -> io::Result<u64> {
    let mut child = command.spawn()?;
    let status = PathBuf::from(format!("/proc/{}/status", child.id()));
    let mut peak = 0;
    while child.try_wait()?.is_none() {
        let mut text = String::new();
        let _ = File::open(&status).and_then(|mut file| file.read_to_string(&mut text));
        let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        let held = line.and_then(|line| line.trim().trim_end_matches(" kB").parse().ok());
        peak = peak.max(held.unwrap_or(0));
        std::thread::sleep(Duration::from_millis(2));
    }
    Ok(peak)
}
