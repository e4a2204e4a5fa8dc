//! Step 6, judge: figures against limits. It decides and says why; it computes nothing.

mod asked;
mod compliance;
mod one_group;
mod reassess;
mod rules;
mod shift;

pub use asked::{asks_for_shift_test, further};
pub use compliance::{SHIFT_SAE, SHIFT_SAE_SOURCE, shift_sae};
pub use one_group::not_one_group;
pub use reassess::reassess;
pub use rules::{Facts, rule, verdicts};
pub use shift::{Judged, Occasions, ceiling, mixture, short_term, twa, with_occasions};

/// The names of all rules that a study can ask for: those of groups, and the test of single shifts.
pub fn rule_names() -> Vec<&'static str> {
    rules::names().into_iter().chain([SHIFT_SAE]).collect()
}
