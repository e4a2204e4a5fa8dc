//! What is believed of the distribution before the data.

use crate::Result;
use crate::censored::outside;

/// A prior on a lognormal distribution: location and spread independent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prior {
    pub(super) location: LocationPrior,
    pub(super) spread: SpreadPrior,
}

/// A prior on the geometric mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LocationPrior {
    /// ln GM uniform between two geometric means; the lower may be zero, the upper infinite.
    Flat {
        /// The lowest geometric mean.
        lowest: f64,
        /// The highest geometric mean.
        highest: f64,
    },
    /// GM lognormal about a median.
    Lognormal {
        /// The median of the geometric mean.
        median: f64,
        /// The geometric standard deviation of that belief, above 1.
        gsd: f64,
    },
}

/// A prior on the geometric standard deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SpreadPrior {
    /// ln GSD uniform between two geometric standard deviations; the lower may be 1, the upper infinite.
    Flat {
        /// The lowest geometric standard deviation.
        lowest: f64,
        /// The highest geometric standard deviation.
        highest: f64,
    },
    /// ln ln GSD uniform between two geometric standard deviations: the prior no change of power law of the data alters, and
    /// the one that gives back the exact limits of complete samples.
    Invariant {
        /// The lowest geometric standard deviation.
        lowest: f64,
        /// The highest geometric standard deviation.
        highest: f64,
    },
    /// ln GSD lognormal about that of a median geometric standard deviation.
    Lognormal {
        /// The median of the geometric standard deviation, above 1.
        median: f64,
        /// The factor, above 1, that spans one standard deviation of ln GSD.
        factor: f64,
    },
}

impl Prior {
    /// A prior of two independent parts, each checked.
    ///
    /// Fails with `OutsideDomain` where a bound is no bound: geometric means lie between zero and infinity, geometric
    /// standard deviations between one and infinity, and a region is not empty.
    pub fn new(location: LocationPrior, spread: SpreadPrior) -> Result<Self> {
        match location {
            LocationPrior::Flat { lowest, highest } => {
                region("geometric mean of the prior", 0.0, lowest, highest)?
            }
            LocationPrior::Lognormal { median, gsd } => {
                above("median geometric mean of the prior", 0.0, median)?;
                above("geometric standard deviation of the prior's geometric mean", 1.0, gsd)?;
            }
        }
        match spread {
            SpreadPrior::Flat { lowest, highest } | SpreadPrior::Invariant { lowest, highest } => {
                region("geometric standard deviation of the prior", 1.0, lowest, highest)?;
            }
            SpreadPrior::Lognormal { median, factor } => {
                above("median geometric standard deviation of the prior", 1.0, median)?;
                above("factor of the prior's geometric standard deviation", 1.0, factor)?;
            }
        }
        Ok(Prior { location, spread })
    }

    /// Flat in (ln GM, ln GSD) over a region: geometric means and geometric standard deviations from lowest to highest.
    pub fn flat(gm: (f64, f64), gsd: (f64, f64)) -> Result<Self> {
        let location = LocationPrior::Flat { lowest: gm.0, highest: gm.1 };
        Self::new(location, SpreadPrior::Flat { lowest: gsd.0, highest: gsd.1 })
    }

    /// A region for an exposure that is to be held against a limit, where nothing better is known: geometric mean
    /// between a ten-thousandth of the limit and a hundred times it, geometric standard deviation between 1.05 and 10, flat in
    /// (ln GM, ln GSD). A proposal of ours, to be printed wherever it is used.
    pub fn around(limit: f64) -> Result<Self> {
        Self::flat((1e-4 * limit, 1e2 * limit), (1.05, 10.0))
    }

    /// Flat in (ln GM, ln ln GSD) without bounds.
    pub fn invariant() -> Self {
        Prior {
            location: LocationPrior::Flat { lowest: 0.0, highest: f64::INFINITY },
            spread: SpreadPrior::Invariant { lowest: 1.0, highest: f64::INFINITY },
        }
    }

    /// The part on the geometric mean.
    pub fn location(&self) -> LocationPrior {
        self.location
    }

    /// The part on the geometric standard deviation.
    pub fn spread(&self) -> SpreadPrior {
        self.spread
    }
}

fn region(what: &'static str, least: f64, lowest: f64, highest: f64) -> Result<()> {
    if !(lowest >= least && lowest < f64::INFINITY) {
        return Err(outside(
            what,
            lowest,
            "finite and not below its natural bound (0 for a mean, 1 for a spread)",
        ));
    }
    if highest > lowest { Ok(()) } else { Err(outside(what, highest, "above the lowest one")) }
}

fn above(what: &'static str, least: f64, value: f64) -> Result<()> {
    if value > least && value < f64::INFINITY {
        Ok(())
    } else {
        Err(outside(what, value, "finite and above its natural bound (0 for a mean, 1 for a spread)"))
    }
}
