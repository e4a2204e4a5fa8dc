//! The `fullshift` command.
fn main() {}
