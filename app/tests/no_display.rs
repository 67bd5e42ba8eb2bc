//! Without a display: the commands work, and the window says in one line why it can't and what to do.
//!
//! The program itself is run, with an environment of its own, as a shell on a bare server would run it.
#![cfg(all(unix, not(target_os = "macos")))]

use std::path::Path;
use std::process::{Command, Output};

/// A display that nobody serves: no server is so busy that it comes to this number.
const DEAD_DISPLAY: &str = ":7777";

fn pattress(arguments: &[&str], display: Option<&str>) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_pattress"));
    command.current_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join(".."));
    for name in ["DISPLAY", "WAYLAND_DISPLAY", "WAYLAND_SOCKET", "XAUTHORITY"] {
        command.env_remove(name);
    }
    if let Some(display) = display {
        command.env("DISPLAY", display);
    }
    command.args(arguments).output().expect("the program runs")
}

fn words(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("words")
}

/// The one line that a refusal consists of.
fn only_line(given: &Output) -> String {
    let said = words(&given.stderr);
    assert_eq!(said.lines().count(), 1, "{said}");
    assert!(said.starts_with("pattress: "), "{said}");
    assert!(given.stdout.is_empty(), "{}", words(&given.stdout));
    said
}

#[test]
fn commands_need_no_display() {
    let out = tempfile::tempdir().expect("a folder");
    let to = out.path().join("issued");
    let to = to.to_str().expect("a path in words");
    let plan = "sample-plans/garden-flat";
    for (line, expected) in [
        (vec!["figures", plan], "Garden Flat"),
        (vec!["findings", plan], "0 serious"),
        (vec!["issue", plan, "--out", to, "--only", "rooms"], "rooms.csv"),
        (vec!["--help"], "Exit codes:"),
    ] {
        let given = pattress(&line, None);
        assert_eq!(given.status.code(), Some(0), "{line:?}: {}", words(&given.stderr));
        assert!(words(&given.stdout).contains(expected), "{line:?}: {}", words(&given.stdout));
        assert!(given.stderr.is_empty(), "{line:?}: {}", words(&given.stderr));
    }
}

#[test]
fn the_window_says_that_there_is_no_display_and_what_can_be_done_without() {
    for line in [vec![], vec!["sample-plans/garden-flat"]] {
        let given = pattress(&line, None);
        assert_eq!(given.status.code(), Some(2), "{line:?}");
        let said = only_line(&given);
        for expected in ["no display", "issue", "figures", "findings"] {
            assert!(said.contains(expected), "{expected}: {said}");
        }
    }
}

#[test]
fn the_window_names_what_to_install_where_the_display_can_not_be_opened() {
    let given = pattress(&[], Some(DEAD_DISPLAY));
    assert_eq!(given.status.code(), Some(2), "{}", words(&given.stderr));
    let said = only_line(&given);
    for package in ["libx11-6", "libxcursor1", "libx11-xcb1", "libxi6", "libxkbcommon-x11-0", "libgl1"] {
        assert!(said.contains(package), "{package}: {said}");
    }
}
