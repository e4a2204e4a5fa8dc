//! Whether numbers look like what a method supposes of them: normal (on `x` or on `ln x`), and without trend.

mod mann_kendall;
mod probability_plot;
mod shapiro_wilk;

pub use mann_kendall::{Trend, mann_kendall};
pub use probability_plot::{probability_plot_correlation, probability_plot_positions};
pub use shapiro_wilk::{ShapiroWilk, shapiro_wilk};

use crate::{Error, Result};

/// The values in rising order; refuses values that are not finite, a number outside the allowed and values all equal.
fn spread_sample(values: &[f64], least: usize, most: usize, allowed: &'static str) -> Result<Vec<f64>> {
    if values.len() < least || values.len() > most {
        return Err(Error::OutsideDomain { what: "number of values", value: values.len() as f64, allowed });
    }
    if let Some(&value) = values.iter().find(|v| !v.is_finite()) {
        return Err(Error::OutsideDomain { what: "value", value, allowed: "finite" });
    }
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let (low, high) = (sorted[0], sorted[sorted.len() - 1]);
    if low == high {
        return Err(Error::OutsideDomain {
            what: "value, which all values equal",
            value: low,
            allowed: "different values",
        });
    }
    // Brought to a size at which neither squares nor differences overflow; none of the figures depends on it.
    let size = low.abs().max(high.abs());
    sorted.iter_mut().for_each(|v| *v /= size);
    if sorted[0] == sorted[sorted.len() - 1] {
        return Err(Error::OutsideDomain {
            what: "value, which all values equal",
            value: low,
            allowed: "different values",
        });
    }
    Ok(sorted)
}
