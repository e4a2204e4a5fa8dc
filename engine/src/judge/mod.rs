//! Step 6, judge: figures against limits. It decides and says why; it computes nothing.

mod rules;
mod shift;

pub use rules::{Facts, names as rule_names, rule, verdicts};
pub use shift::{Judged, Occasions, TUBES_FOR_A_WINDOW, ceiling, mixture, short_term, twa, with_occasions};
