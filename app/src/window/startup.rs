//! Before the window: is there a display, and are the libraries there that it is opened with?

/// What a bare machine lacks to open a window on X11, as Debian names it.
const PACKAGES: &str = "libx11-6 libxcursor1 libx11-xcb1 libxi6 libxkbcommon-x11-0 libgl1";

/// Says at once when no display is there, rather than failing deep within a library.
///
/// # Errors
/// One sentence that says what to do.
pub fn check_display() -> Result<(), String> {
    let named = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    if cfg!(all(unix, not(target_os = "macos"))) && !named("DISPLAY") && !named("WAYLAND_DISPLAY") {
        return Err(
            "there is no display to open a window on: run it in a desktop session, or use the commands \
                    that need none (issue, figures, findings)"
                .to_owned(),
        );
    }
    Ok(())
}

/// Opens the window and turns whatever goes wrong below, a panic included, into one sentence.
///
/// # Errors
/// One sentence that names the packages which may be missing.
pub fn guarded(open: impl FnOnce() -> eframe::Result<()>) -> Result<(), String> {
    let quiet = std::panic::take_hook();
    std::panic::set_hook(Box::new(|_| {}));
    let outcome = std::panic::catch_unwind(std::panic::AssertUnwindSafe(open));
    std::panic::set_hook(quiet);
    let reason = match outcome {
        Ok(Ok(())) => return Ok(()),
        Ok(Err(error)) => error.to_string(),
        Err(panic) => panic
            .downcast_ref::<String>()
            .cloned()
            .or_else(|| panic.downcast_ref::<&str>().map(|text| (*text).to_owned()))
            .unwrap_or_else(|| "a library gave up".to_owned()),
    };
    let reason = in_short(&reason);
    Err(format!(
        "the window can't be opened ({reason}): install what it needs, on Debian: apt-get install {PACKAGES}"
    ))
}

/// The last part of a library's message: what failed, without where in its source.
fn in_short(reason: &str) -> String {
    let line = reason.lines().next().unwrap_or_default();
    line.rsplit(": ").next().unwrap_or(line).trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_librarys_message_is_cut_to_what_failed() {
        let long =
            "EventLoopError: os error at some/file.rs:788: Failed to open connection to X server.\nmore";
        assert_eq!(in_short(long), "Failed to open connection to X server");
        assert_eq!(in_short("plain"), "plain");
    }

    #[test]
    fn whatever_gives_up_below_becomes_a_sentence_that_names_the_packages() {
        let sentence = guarded(|| panic!("Library libxkbcommon-x11.so could not be loaded.")).unwrap_err();
        assert!(
            sentence.contains("libxkbcommon-x11.so") && sentence.contains("apt-get install"),
            "{sentence}"
        );
    }
}
