//! The `fullshift` command.

use fullshift::border::{Border, arguments};

fn main() -> std::process::ExitCode {
    fullshift::run(arguments(), &mut Border::of_process()).into()
}
