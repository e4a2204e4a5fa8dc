//! Fuzzes `targets::statistics`.

#![no_main]

#[path = "../targets/statistics.rs"]
mod targets;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| targets::statistics(bytes));
