//! `pattress`: the window, or one of the commands that need none.

use std::io::{stderr, stdout};
use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(pattress::commands::run(std::env::args_os(), &mut stdout().lock(), &mut stderr()))
}
