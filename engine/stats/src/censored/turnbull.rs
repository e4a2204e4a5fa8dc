//! The distribution of values known between bounds of any kind, without a model.

use super::observation::{Observation, outside};
use crate::{Error, Result};

const STEPS: usize = 200_000;
/// How far the likelihood may still rise, as a share of the number of values, when the iteration stops.
const LEFT: f64 = 1e-9;

/// Where the distribution of interval data can have mass, and how much it has.
#[derive(Debug, Clone, PartialEq)]
pub struct Turnbull {
    /// The cells, rising. Where in its cell the mass lies the data do not tell.
    pub cells: Vec<Cell>,
}

/// One cell: a point where `low == high`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    /// The lower end.
    pub low: f64,
    /// The upper end, possibly infinite.
    pub high: f64,
    /// The probability of the cell.
    pub mass: f64,
}

/// The distribution that gives values known only between bounds the highest probability.
///
/// Mass can lie only where a lower bound is followed by an upper one with no other bound between them; from equal masses,
/// `p_j <- p_j/n sum_i [j in i] / P(i)` (self-consistency) until the derivative of the log-likelihood by no mass exceeds n by
/// more than 1e-9 n. Intervals are open, so that two with a common end do not overlap; exact values are points.
///
/// Accuracy: masses to 1e-7, 5e-5 where the maximum is flat, against the product-limit distribution where that exists and
/// `fixtures/published/censored-turnbull.json`. Source: Turnbull, J. R. Statist. Soc. B 38 (1976) 290-295.
/// Fails with `OutsideDomain` without an observation that says anything, with `NoConvergence` after 200,000 steps.
///
/// ```
/// use fullshift_stats::censored::{Observation, turnbull};
/// // Two disjoint intervals, one of them seen twice: a third and two thirds.
/// let all = [(1.0, 2.0), (3.0, 5.0), (3.0, 5.0)].map(|(l, h)| Observation::between(l, h).unwrap());
/// let cells = turnbull(&all)?.cells;
/// assert!((cells[1].mass - 2.0 / 3.0).abs() < 1e-9);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn turnbull(observations: &[Observation]) -> Result<Turnbull> {
    let known: Vec<Observation> = observations.iter().copied().filter(|o| !o.is_empty_handed()).collect();
    if known.is_empty() {
        return Err(outside("number of observations that say anything", 0.0, "1 or more"));
    }
    let mut cells = innermost(&known);
    let spans = spans(&known, &cells);
    let n = known.len() as f64;
    for _ in 0..STEPS {
        let slopes = slopes(&spans, &cells);
        if slopes.iter().all(|s| *s <= n * (1.0 + LEFT)) {
            return Ok(Turnbull { cells });
        }
        cells.iter_mut().zip(&slopes).for_each(|(cell, slope)| cell.mass *= slope / n);
    }
    Err(Error::NoConvergence { what: "distribution of interval data" })
}

/// Cells of equal mass between each lower bound and the upper bound that follows it. At equal numbers an interval ends before a
/// point begins, and a point ends before an interval begins.
fn innermost(known: &[Observation]) -> Vec<Cell> {
    let mut ends: Vec<(f64, u8)> = Vec::with_capacity(2 * known.len());
    for o in known {
        ends.push((o.low(), if o.is_exact() { 1 } else { 3 }));
        ends.push((o.high(), if o.is_exact() { 2 } else { 0 }));
    }
    ends.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let is_low = |end: &(f64, u8)| end.1 % 2 == 1;
    let pairs = ends.windows(2).filter(|pair| is_low(&pair[0]) && !is_low(&pair[1]));
    let mut cells: Vec<Cell> =
        pairs.map(|pair| Cell { low: pair[0].0, high: pair[1].0, mass: 0.0 }).collect();
    let share = 1.0 / cells.len() as f64;
    cells.iter_mut().for_each(|cell| cell.mass = share);
    cells
}

/// First and last cell of each observation (end excluded), equal ones counted once.
fn spans(known: &[Observation], cells: &[Cell]) -> Vec<(usize, usize, f64)> {
    let mut spans: Vec<(usize, usize)> = known
        .iter()
        .map(|o| {
            let inside = |cell: &Cell| {
                let point = cell.low == cell.high;
                let fits = cell.low >= o.low() && cell.high <= o.high();
                fits && (o.is_exact() || !point || (cell.low > o.low() && cell.high < o.high()))
            };
            let first =
                cells.partition_point(|cell| cell.high < o.low() || (cell.high <= o.low() && !inside(cell)));
            let count = cells[first..].iter().take_while(|cell| inside(cell)).count();
            (first, first + count)
        })
        .collect();
    spans.sort_unstable();
    let mut counted: Vec<(usize, usize, f64)> = Vec::new();
    for (first, end) in spans {
        match counted.last_mut() {
            Some(last) if (last.0, last.1) == (first, end) => last.2 += 1.0,
            _ => counted.push((first, end, 1.0)),
        }
    }
    counted
}

/// The derivative of the log-likelihood by each mass, by running sums.
fn slopes(spans: &[(usize, usize, f64)], cells: &[Cell]) -> Vec<f64> {
    let mut rises = vec![0.0; cells.len() + 1];
    for &(first, end, count) in spans {
        let probability: f64 = cells[first..end].iter().map(|cell| cell.mass).sum();
        let weight = count / probability;
        rises[first] += weight;
        rises[end] -= weight;
    }
    let mut running = 0.0;
    rises
        .iter()
        .take(cells.len())
        .map(|rise| {
            running += rise;
            running
        })
        .collect()
}

impl Turnbull {
    /// The mean with the mass of every cell at its lower end, and at its upper end (possibly infinite).
    pub fn mean_bounds(&self) -> (f64, f64) {
        let with_mass = || self.cells.iter().filter(|c| c.mass > 0.0);
        (with_mass().map(|c| c.mass * c.low).sum(), with_mass().map(|c| c.mass * c.high).sum())
    }

    /// The cell in which the percentile of probability `p` lies; none unless `p` is above 0 and at most 1.
    pub fn percentile(&self, p: f64) -> Option<Cell> {
        if !(p > 0.0 && p <= 1.0) {
            return None;
        }
        let mut below = 0.0;
        let found = self.cells.iter().find(|cell| {
            below += cell.mass;
            below >= p * (1.0 - 1e-9)
        });
        found.or(self.cells.last()).copied()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn third_and_two_thirds() -> Turnbull {
        let all = [(1.0, 2.0), (3.0, 5.0), (3.0, 5.0)].map(|(l, h)| Observation::between(l, h).unwrap());
        turnbull(&all).unwrap()
    }

    /// A third from 1 to 2, two thirds from 3 to 5: the mean from 1/3 + 6/3 to 2/3 + 10/3.
    #[test]
    fn the_mean_lies_between_that_of_the_lower_and_that_of_the_upper_ends() {
        let (low, high) = third_and_two_thirds().mean_bounds();
        assert!((low - 7.0 / 3.0).abs() < 1e-9 && (high - 4.0).abs() < 1e-9, "{low} {high}");
    }

    #[test]
    fn a_percentile_lies_in_the_cell_that_reaches_it() {
        let found = third_and_two_thirds();
        let low_of = |p: f64| found.percentile(p).map(|cell| cell.low);
        assert_eq!([0.01, 0.333, 0.334, 1.0].map(low_of), [1.0, 1.0, 3.0, 3.0].map(Some));
        assert_eq!([f64::NAN, -0.1, 0.0, 1.01].map(low_of), [None; 4]);
    }
}
