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
    let reason = reason.lines().next().unwrap_or_default().trim_end_matches('.').to_owned();
    Err(format!(
        "the window can't be opened ({reason}): install what it needs, on Debian: apt-get install {PACKAGES}"
    ))
}
