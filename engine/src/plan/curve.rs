//! How the chance to settle an open verdict grows with the number of shifts.

use super::chance::{self, Outlook};
use super::settle::{AFTER_SCREENING, FEWEST_AFTER_SCREENING, Open};
use crate::model::Criterion;
use crate::model::assessment::{SettlingChance, SettlingCurve};
use crate::model::profile::Verdict;

/// Numbers of further shifts at which the chance is computed.
const MORE: [usize; 12] = [1, 2, 3, 5, 8, 12, 20, 30, 50, 80, 120, 200];

/// The curve of an open verdict; `None` where the profile or the rule tells no chance beforehand.
pub fn curve(open: &Open) -> Option<SettlingCurve> {
    let outlook = Outlook::of_profile(open.figures, open.limit).ok()?;
    let (criterion, fewest) = match open.criterion {
        Criterion::AllBelow(_) => (AFTER_SCREENING, FEWEST_AFTER_SCREENING),
        criterion => (criterion, 0),
    };
    let towards = if outlook.is_below(criterion) { Verdict::Below } else { Verdict::Above };
    let have = open.values.len();
    let at = |more: usize| {
        let total = have + more;
        let chance = match towards {
            Verdict::Below => chance::below(criterion, &outlook, total),
            _ => chance::above(criterion, &outlook, total),
        };
        Some(SettlingChance { more_shifts: more, chance: chance?.ok()? })
    };
    let chances: Vec<SettlingChance> =
        MORE.into_iter().filter(|more| have + more >= fewest).filter_map(at).collect();
    (chances.len() > 1).then_some(SettlingCurve { towards, chances })
}
