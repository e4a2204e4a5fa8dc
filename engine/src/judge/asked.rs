//! What the rules that a study asks for look at, so that no more is worked out than that.

use super::SHIFT_SAE;
use super::rules::{LooksAt, rule};
use crate::model::{LimitKind, Study};
use crate::summarise::Further;

/// What the rules asked for against a kind of limit look at beside the profile.
pub fn further(study: &Study, kind: LimitKind) -> Further {
    let asks = |wanted| study.rules_for(kind).filter_map(rule).any(|rule| rule.looks_at == wanted);
    Further { chances: asks(LooksAt::Chances), between: asks(LooksAt::Workers) }
}

/// Whether the published test of single shifts is asked for.
pub fn asks_for_shift_test(study: &Study) -> bool {
    study.rules_for(LimitKind::Twa).any(|name| name == SHIFT_SAE)
}
