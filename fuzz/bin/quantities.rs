//! Fuzzes `targets::quantities`.

#![no_main]

#[allow(dead_code, reason = "a program runs one of the targets")]
#[path = "../targets/studies.rs"]
mod targets;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| targets::quantities(bytes));
