//! Fuzzes `targets::archive`.

#![no_main]

#[allow(dead_code, reason = "a program runs one of the targets")]
#[path = "../targets/studies.rs"]
mod targets;

/// Damaged Parquet makes its reader panic, which the program catches. The fuzzer would end at such a panic; now it ends
/// at one in our own code, and at one of a library that nobody catches.
fn forgive_libraries() {
    static ONCE: std::sync::Once = std::sync::Once::new();
    ONCE.call_once(|| {
        let fatal = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |panic| {
            let of_library = |file: &str| file.contains("/registry/") || file.starts_with("/rustc/");
            if !panic.location().is_some_and(|at| of_library(at.file())) {
                fatal(panic);
            }
        }));
    });
}

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    forgive_libraries();
    targets::archive(bytes);
});
