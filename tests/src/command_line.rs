//! The command line, run as the shell runs it: by its arguments, its two streams and its exit code.

use std::ffi::OsString;

/// What a command gave back.
pub struct Given {
    /// Exit code.
    pub code: u8,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
}

/// Runs `pattress` with these arguments.
///
/// # Panics
/// Where it writes what is no text.
pub fn pattress(arguments: &[&str]) -> Given {
    let line = std::iter::once("pattress").chain(arguments.iter().copied()).map(OsString::from);
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = pattress::commands::run(line, &mut out, &mut err);
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("the commands write text");
    Given { code, out: text(out), err: text(err) }
}
