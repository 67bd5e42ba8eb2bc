//! Watches how much memory reading takes, here and in the programs that this one starts, where the system tells
//! (Linux, `/proc`); elsewhere it counts none.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::JoinHandle;
use std::time::Duration;

/// The program itself, where it was built beside this test.
pub fn built_program() -> Option<PathBuf> {
    let own = std::env::current_exe().ok()?;
    let folder = own.parent()?.parent()?;
    let program = folder.join(format!("pattress{}", std::env::consts::EXE_SUFFIX));
    program.is_file().then_some(program)
}

/// A watch that runs until it is asked.
pub struct Watch {
    done: Arc<AtomicBool>,
    looking: JoinHandle<u64>,
}

impl Watch {
    /// Starts to watch. The peak of this process before is forgotten.
    pub fn start() -> Self {
        // Where it can't be forgotten, the figure is too high rather than too low.
        let _ = std::fs::write("/proc/self/clear_refs", "5");
        let done = Arc::new(AtomicBool::new(false));
        let stop = Arc::clone(&done);
        let looking = std::thread::spawn(move || {
            let mut peaks = BTreeMap::new();
            while !stop.load(Ordering::Relaxed) {
                for child in children() {
                    let peak = peaks.entry(child.clone()).or_insert(0);
                    *peak = peak_of(&child).max(*peak);
                }
                std::thread::sleep(Duration::from_millis(1));
            }
            peaks.into_values().sum()
        });
        Self { done, looking }
    }

    /// The most memory of this process and the most of each that it started meanwhile, together, MB.
    pub fn peak_in_megabytes(self) -> u64 {
        self.done.store(true, Ordering::Relaxed);
        let of_children = self.looking.join().expect("the watch");
        (peak_of("self") + of_children) / 1000
    }
}

/// The processes that a thread of this one has started.
fn children() -> Vec<String> {
    let Ok(tasks) = std::fs::read_dir("/proc/self/task") else { return Vec::new() };
    tasks
        .flatten()
        .filter_map(|task| std::fs::read_to_string(task.path().join("children")).ok())
        .flat_map(|list| list.split_whitespace().map(str::to_owned).collect::<Vec<_>>())
        .collect()
}

/// The most memory that a process has held, kB.
fn peak_of(process: &str) -> u64 {
    let about = std::fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    let peak = about.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    peak.and_then(|rest| rest.split_whitespace().next()?.parse().ok()).unwrap_or(0)
}
