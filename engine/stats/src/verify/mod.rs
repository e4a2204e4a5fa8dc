//! Runs the published check values on the machine at hand and says to how many digits they agree.
//!
//! # To add a table
//!
//! 1. Put `<id>.json` into `fixtures/published` (the format is below; `fixtures/generators/published_table.py` writes it).
//! 2. Add the one line `table!("<id>")` to `TABLES` in `registry.rs`.
//! 3. If the table's `function` is new, add the one line `("<function>", your_function)` to `FUNCTIONS` there; `your_function` lies
//!    beside the others in `verify/` and turns [`Inputs`] into a JSON value.
//!
//! # The format of a table
//!
//! ```json
//! { "id": "...", "title": "...", "function": "...", "source": "...", "provenance": "read in a copy of the source | from memory | computed at high precision by ...",
//!   "tolerance": {"relative": 1e-11}, "tolerance_reason": "...", "how_made": "...", "how_checked": "...",
//!   "rows": [ {"inputs": {"t": 1.5}, "expected": {"lower": 0.25}, "tolerance": {"absolute": 0.0005}} ] }
//! ```
//!
//! `tolerance` holds `relative`, `absolute` or both; a value passes when either holds. A row's own tolerance takes the table's place.
//! `expected` is a number, or objects and arrays of numbers to any depth, of which the function's answer must hold at least these;
//! `null` asks that no figure is given there. Strings among the expected values are remarks and are not compared.

mod censored;
mod compare;
mod complete;
mod inputs;
mod power;
mod registry;
mod special;
mod table;
mod workers;

pub use inputs::Inputs;
pub use registry::Answer;
pub use table::{TableResult, WorstRow};

/// Runs every table built into the program, in the order of the registry.
pub fn run_all() -> Vec<TableResult> {
    registry::TABLES.iter().map(|text| table::run(text)).collect()
}

/// Runs one table given as JSON text.
///
/// A text that is no table, or names an unknown function, comes back as a result that did not pass and says why.
pub fn run_table(text: &str) -> TableResult {
    table::run(text)
}
