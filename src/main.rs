//! The command line of anteroom.

use std::process::ExitCode;

fn main() -> ExitCode {
    anteroom::cli::run()
}
