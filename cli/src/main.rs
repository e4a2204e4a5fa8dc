//! The `fullshift` command.

#[cfg(target_env = "musl")]
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

use fullshift::border::{Border, arguments};

fn main() -> std::process::ExitCode {
    fullshift::run(arguments(), &mut Border::of_process()).into()
}
