//! Where a task mean comes from, in words.

use crate::model::Unsampled;
use crate::model::shift::Basis;

/// The basis itself.
pub fn in_words(basis: Basis) -> String {
    match basis {
        Basis::Measured => "mean of its readings in this shift",
        Basis::Unsampled(Unsampled::Zero) => "no tube drawn; zero on the user's word",
        Basis::Unsampled(Unsampled::Bounds) => {
            "no tube drawn; between zero and the highest task mean of the shift"
        }
        Basis::Unsampled(Unsampled::Borrow) => {
            "no tube drawn; mean of this task's readings in the group's other shifts"
        }
        Basis::NothingToBorrow => {
            "no tube drawn and none to borrow from; between zero and the highest task mean of the shift"
        }
    }
    .to_owned()
}

/// Its formula.
pub fn formula(basis: Basis) -> &'static str {
    match basis {
        Basis::Measured | Basis::Unsampled(Unsampled::Borrow) => {
            "arithmetic mean of the readings, weighted by the time drawn"
        }
        Basis::Unsampled(Unsampled::Zero) => "0",
        Basis::Unsampled(Unsampled::Bounds) | Basis::NothingToBorrow => {
            "0 to the highest task mean of the shift"
        }
    }
}

/// Its source.
pub fn source(basis: Basis) -> &'static str {
    match basis {
        Basis::Measured => "OSHA-1910.1000(d)",
        _ => "study.yaml, tasks, unsampled",
    }
}

/// The rule for unsampled time by which it stands; `None` where a tube was drawn.
pub fn rule(basis: Basis) -> Option<&'static str> {
    match basis {
        Basis::Measured => None,
        Basis::Unsampled(rule) => Some(rule.word()),
        Basis::NothingToBorrow => Some(Unsampled::Bounds.word()),
    }
}
