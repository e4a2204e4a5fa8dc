//! An axis of concentrations: logarithmic where the values span a decade or more.

use crate::page::number::{self, Notation};

/// An axis from value to place.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Axis {
    low: f64,
    high: f64,
    logarithmic: bool,
    from: f64,
    to: f64,
}

impl Axis {
    /// An axis that holds all these values between the places `from` and `to`. Values of zero and below are held by its low
    /// end where it is logarithmic.
    pub(super) fn holding(values: impl Iterator<Item = f64>, from: f64, to: f64) -> Self {
        let (mut least, mut most) = (f64::INFINITY, 0.0_f64);
        for value in values.filter(|value| value.is_finite() && *value > 0.0) {
            (least, most) = (least.min(value), most.max(value));
        }
        if most == 0.0 {
            return Axis { low: 0.0, high: 1.0, logarithmic: false, from, to };
        }
        let logarithmic = most / least >= 8.0;
        let (low, high) = match logarithmic {
            // A value at the very end of the axis would lie on its frame.
            true => (step_below(least / 1.15), step_above(most * 1.15)),
            false => (0.0, most * 1.12),
        };
        Axis { low, high, logarithmic, from, to }
    }

    /// The same, always logarithmic.
    pub(super) fn logarithmic(values: impl Iterator<Item = f64>, from: f64, to: f64) -> Self {
        let (mut least, mut most) = (f64::INFINITY, 0.0_f64);
        for value in values.filter(|value| value.is_finite() && *value > 0.0) {
            (least, most) = (least.min(value), most.max(value));
        }
        if most == 0.0 {
            (least, most) = (1.0, 1.0);
        }
        Axis { low: step_below(least / 1.15), high: step_above(most * 1.15), logarithmic: true, from, to }
    }

    /// The place of a value; what lies outside stands at the end.
    pub(super) fn at(&self, value: f64) -> f64 {
        let share = match self.logarithmic {
            true if value <= 0.0 => 0.0,
            true => (value / self.low).ln() / (self.high / self.low).ln(),
            false => (value - self.low) / (self.high - self.low),
        };
        self.from + share.clamp(0.0, 1.0) * (self.to - self.from)
    }

    /// The lowest and the highest value that it shows.
    pub(super) fn ends(&self) -> [f64; 2] {
        [self.low, self.high]
    }

    /// Whether a value lies below what the axis can show.
    pub(super) fn is_below(&self, value: f64) -> bool {
        self.logarithmic && value < self.low
    }

    /// Whether a value lies above what the axis can show.
    pub(super) fn is_above(&self, value: f64) -> bool {
        value > self.high
    }

    /// Values at which the axis has a tick, with their words; no two nearer than `apart`.
    pub(super) fn ticks(&self, apart: f64, notation: &Notation) -> Vec<(f64, String)> {
        let candidates =
            if self.logarithmic { self.logarithmic_ticks(apart) } else { self.even_ticks(apart) };
        let shown = |value: f64| (self.at(value), notation.digits(&number::entered(value)));
        candidates.into_iter().map(shown).collect()
    }

    fn logarithmic_ticks(&self, apart: f64) -> Vec<f64> {
        let length = (self.to - self.from).abs();
        let decades = (self.high / self.low).log10();
        let decade = length / decades;
        let steps: &[f64] = match decade {
            // From 1 to 2 is three tenths of a decade.
            d if 0.3 * d >= apart => &[1.0, 2.0, 5.0],
            d if 0.47 * d >= apart => &[1.0, 3.0],
            _ => &[1.0],
        };
        let every = (apart / decade).ceil().max(1.0) as i32;
        let (first, last) = (self.low.log10().floor() as i32, self.high.log10().ceil() as i32);
        let decades = (first..=last).filter(|decade| decade.rem_euclid(every) == 0);
        let values = decades.flat_map(|decade| steps.iter().map(move |step| rounded(*step, decade)));
        let slack = 1.0 + 1e-9;
        values.filter(|value| *value * slack >= self.low && *value <= self.high * slack).collect()
    }

    fn even_ticks(&self, apart: f64) -> Vec<f64> {
        let most = ((self.to - self.from).abs() / apart).floor().max(1.0);
        let step = step_above((self.high - self.low) / most);
        let count = (self.high / step + 1e-9).floor() as i32;
        (0..=count).map(|n| tidy(f64::from(n) * step)).collect()
    }
}

/// `step` times a power of ten, without the noise of multiplying.
fn rounded(step: f64, decade: i32) -> f64 {
    format!("{step}e{decade}").parse().unwrap_or(step)
}

fn tidy(value: f64) -> f64 {
    format!("{value:.6e}").parse().unwrap_or(value)
}

/// The next of 1, 2, 5 times a power of ten, at or above a value.
fn step_above(value: f64) -> f64 {
    let decade = value.log10().floor() as i32;
    let steps = [1.0, 2.0, 5.0, 10.0].map(|step| rounded(step, decade));
    steps.into_iter().find(|step| *step >= value * (1.0 - 1e-9)).unwrap_or(value)
}

/// The next of them at or below a value.
fn step_below(value: f64) -> f64 {
    let decade = value.log10().floor() as i32;
    let steps = [5.0, 2.0, 1.0].map(|step| rounded(step, decade));
    steps.into_iter().find(|step| *step <= value * (1.0 + 1e-9)).unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::number::ENGLISH;

    fn words(axis: &Axis, apart: f64) -> Vec<String> {
        axis.ticks(apart, &ENGLISH).into_iter().map(|(_, words)| words).collect()
    }

    #[test]
    fn values_over_decades_have_a_logarithmic_axis() {
        let axis = Axis::holding([0.3, 40.0].into_iter(), 0.0, 600.0);
        assert_eq!(words(&axis, 40.0), ["0.2", "0.5", "1", "2", "5", "10", "20", "50"]);
        assert!(
            (axis.at(10.0) - axis.at(1.0) - (axis.at(1.0) - axis.at(0.1_f64.max(0.2))) / 0.699).abs() < 1.0
        );
    }

    #[test]
    fn values_of_one_decade_have_an_even_axis_from_zero() {
        let axis = Axis::holding([4.0, 18.0].into_iter(), 0.0, 300.0);
        assert_eq!(words(&axis, 40.0), ["0", "5", "10", "15", "20"]);
        assert_eq!(axis.at(0.0), 0.0);
    }

    #[test]
    fn many_decades_keep_their_ticks_apart() {
        let axis = Axis::holding([1e-6, 1e9].into_iter(), 0.0, 300.0);
        let ticks = axis.ticks(40.0, &ENGLISH);
        assert!(ticks.windows(2).all(|pair| pair[1].0 - pair[0].0 >= 39.9), "{ticks:?}");
    }

    #[test]
    fn nothing_to_show_is_no_failure() {
        let axis = Axis::holding([0.0, f64::INFINITY].into_iter(), 0.0, 100.0);
        assert_eq!(axis.at(f64::INFINITY), 100.0);
        assert!(!words(&axis, 20.0).is_empty());
    }
}
