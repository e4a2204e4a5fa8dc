//! The posterior sampled: one distribution of mu for each node of tau.

use super::conditional::Conditional;
use super::problem::Problem;
use super::series::{Resolution, Series};
use crate::{Error, Result};

/// The sampled posterior, of total one.
#[derive(Debug, Clone)]
pub(super) struct Grid {
    pub(super) rows: Vec<Row>,
    /// The distribution of tau, panel by panel in rising order.
    pub(super) spread: Vec<Series>,
    /// The node of tau of the highest density.
    pub(super) likeliest_tau: f64,
}

/// One node of tau.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) tau: f64,
    pub(super) weight: f64,
    pub(super) peak: f64,
    pub(super) conditional: Conditional,
}

impl Grid {
    pub(super) fn new(problem: &Problem, resolution: Resolution) -> Result<Self> {
        let complete = problem.sample.is_complete();
        let (across, along) = if complete { Resolution::Doubled } else { resolution }.rules();
        let edges = problem.panels()?;
        let mut rows = Vec::with_capacity(edges.len() * 32);
        let mut logs = Vec::with_capacity(edges.len() * 32);
        let mut start = problem.sample.rough().0;
        for panel in edges.windows(2) {
            for (tau, weight) in along.gauss.on(panel[0], panel[1]) {
                let (conditional, log_total, peak) = problem.conditional(across, tau, start)?;
                start = peak;
                logs.push(log_total + problem.log_spread(tau));
                rows.push(Row { tau, weight, peak, conditional });
            }
        }
        let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let mut densities: Vec<f64> = logs.iter().map(|l| (l - top).exp()).collect();
        let total: f64 = rows.iter().zip(&densities).map(|(row, density)| row.weight * density).sum();
        if !(total > 0.0 && total.is_finite()) {
            return Err(Error::NoConvergence { what: "posterior" });
        }
        densities.iter_mut().for_each(|d| *d /= total);
        rows.iter_mut().zip(&densities).for_each(|(row, density)| row.weight *= density);
        let nodes = along.gauss.nodes().len();
        let panels = edges.windows(2).zip(densities.chunks(nodes));
        let spread = panels.map(|(panel, values)| Series::new(along, panel[0], panel[1], values)).collect();
        let best = rows.iter().zip(&densities).max_by(|a, b| a.1.total_cmp(b.1));
        let likeliest_tau = best.map_or(0.0, |(row, _)| row.tau);
        // At a spread without any probability the location has no distribution to ask.
        rows.retain(|row| row.weight > 0.0);
        Ok(Grid { rows, spread, likeliest_tau })
    }

    /// The row in the middle of the weights.
    pub(super) fn middle(&self) -> Option<&Row> {
        let mut below = 0.0;
        self.rows.iter().find(|row| {
            below += row.weight;
            below >= 0.5
        })
    }

    /// Probability that tau lies below, and its density.
    pub(super) fn spread_at(&self, tau: f64) -> (f64, f64) {
        self.spread.iter().fold((0.0, 0.0), |(p, d), series| {
            let (below, density) = series.at(tau);
            (p + below, d + density)
        })
    }
}
