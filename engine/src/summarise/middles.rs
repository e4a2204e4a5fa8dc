//! Points where a statistic needs points: the values themselves, or the middles of narrow ranges.

use crate::model::Interval;

/// Widest range, as a factor from its lower to its upper end, whose middle may stand for it.
const NARROW: f64 = 1.5;

/// One point a value, and whether all of them were points already. The error says why middles may not stand in.
pub fn middles(values: &[Interval]) -> Result<(Vec<f64>, bool), String> {
    let wide = values.iter().filter(|v| !is_narrow(**v)).count();
    if wide > 0 {
        return Err(format!(
            "{wide} of {} shift figures are ranges too wide for a middle to stand for them (factor above {NARROW})",
            values.len()
        ));
    }
    let points = values.iter().filter_map(|v| v.middle()).collect();
    Ok((points, values.iter().all(|v| v.is_point())))
}

/// Whether the middle of a range may stand for it.
pub fn is_narrow(value: Interval) -> bool {
    value.low() > 0.0 && value.high() <= NARROW * value.low()
}

/// A method's name, with the word that middles stand in where they do.
pub fn labelled(method: &str, all_points: bool) -> String {
    if all_points { method.to_owned() } else { format!("{method}, on the middles of the ranges") }
}
