//! One-sided limits of the mean over strata.

use super::combine::{self, Form, Spread};
use super::equality::{EqualityTest, equal_variances};
use super::measured::MeasuredOnly;
use super::note::{Note, notes};
use super::part::{self, CommonSpread, Part};
use super::stratum::{Stratum, refused};
use crate::Result;
use crate::complete::land::{ln_mean_lower, ln_mean_upper};
use crate::complete::{check_confidence, figure_from_ln};

/// The mean over strata of time, ready for limits at any confidence.
#[derive(Debug, Clone, PartialEq)]
pub struct StrataMean {
    /// What strata that were not sampled add to the lower and to the upper limit, with their places.
    unsampled: Vec<(usize, (f64, f64))>,
    sampled: Sampled,
    equality: Option<EqualityTest>,
    notes: Vec<Note>,
}

/// What the limits of the sampled strata rest on.
#[derive(Debug, Clone, PartialEq)]
enum Sampled {
    Nothing,
    Measured(MeasuredOnly),
    Spread { common: Form, own: Option<Form>, spread: CommonSpread, parts: Vec<Part> },
}

impl StrataMean {
    /// Weighs the strata up.
    ///
    /// `strata` one or more, in any order, with `weight` from 0 to 1e300. Fails with `OutsideDomain` on values out of range; where the readings of a stratum are all known from
    /// one side only, or the readings between bounds leave the spread open: then bound that stratum's mean instead
    /// ([`Stratum::Bounded`]); and where a relative standard deviation is needed and absent.
    ///
    /// ```
    /// use fullshift_stats::{censored::Observation, strata::{StrataMean, Stratum}};
    /// // One stratum: Land's exact limit for eight values of benzene is 18.86139 (USEPA 2009, Unified Guidance, example 21-3).
    /// let values = [0.5, 0.5, 1.6, 1.8, 1.1, 16.1, 1.6, 0.25];
    /// let readings = values.into_iter().map(Observation::exact).collect::<Result<_, _>>()?;
    /// let mean = StrataMean::new(&[Stratum::Sampled { weight: 1.0, readings, relative_sd: None }])?;
    /// assert!((mean.upper(0.95)? - 18.86139).abs() < 5e-6);
    /// # Ok::<(), fullshift_stats::Error>(())
    /// ```
    pub fn new(strata: &[Stratum]) -> Result<StrataMean> {
        if strata.is_empty() {
            return Err(refused("number of strata", 0.0, "1 or more"));
        }
        strata.iter().try_for_each(Stratum::check)?;
        let ordered = in_order(strata);
        let mut mean = Self::of_sampled(&ordered)?;
        mean.unsampled = ordered.iter().map(|(place, stratum)| (*place, stratum.fixed())).collect();
        let fixed = mean.fixed(|_| true);
        if !fixed.1.is_finite() {
            return Err(refused("sum of the strata that were not sampled", fixed.1, "below 1e308"));
        }
        Ok(mean)
    }

    fn of_sampled(ordered: &[(usize, Stratum)]) -> Result<StrataMean> {
        let strata: Vec<Stratum> = ordered.iter().map(|(_, stratum)| stratum.clone()).collect();
        let mut samples = part::samples(&strata)?;
        if samples.is_empty() {
            return Ok(Self::resting_on(Sampled::Nothing, Vec::new()));
        }
        let single = samples.iter().all(|(.., sample)| sample.size() == 1);
        samples.iter_mut().for_each(|sample| sample.0 = ordered[sample.0].0);
        let parts = if single { None } else { part::parts(&samples)? };
        let Some((spread, parts)) = parts else {
            let note = if single { Note::MeasurementOnly } else { Note::AllReadingsEqual };
            return Ok(Self::resting_on(Sampled::Measured(MeasuredOnly::new(&strata)?), vec![note]));
        };
        let common = combine::common(spread, &parts)?;
        let own = combine::own(spread, &parts)?;
        let equality = equality(&parts);
        let notes = notes(&parts, own.as_ref().unwrap_or(&common), equality);
        Ok(StrataMean { equality, ..Self::resting_on(Sampled::Spread { common, own, spread, parts }, notes) })
    }

    fn resting_on(sampled: Sampled, notes: Vec<Note>) -> StrataMean {
        StrataMean { unsampled: Vec::new(), sampled, equality: None, notes }
    }

    /// What those strata at the places wanted add that were not sampled: lowest and highest.
    fn fixed(&self, wanted: impl Fn(usize) -> bool) -> (f64, f64) {
        let own = self.unsampled.iter().filter(|(place, _)| wanted(*place));
        own.fold((0.0, 0.0), |sum, (_, ends)| (sum.0 + ends.0, sum.1 + ends.1))
    }

    /// The limits of what the strata at the places wanted add to the mean, at the spread common to all strata: lower and upper, each
    /// one-sided. `None` where the spread is not known. Fails as [`upper`](Self::upper) does.
    pub fn limits_of_part(
        &self,
        wanted: impl Fn(usize) -> bool,
        confidence: f64,
    ) -> Result<Option<(f64, f64)>> {
        check_confidence(confidence)?;
        let Sampled::Spread { spread, parts, .. } = &self.sampled else { return Ok(None) };
        let fixed = self.fixed(&wanted);
        let own: Vec<Part> = parts.iter().filter(|part| wanted(part.place)).cloned().collect();
        if own.is_empty() {
            return Ok(Some(fixed));
        }
        let location = combine::common(*spread, &own)?.location;
        let lower = ln_mean_lower(&location, confidence)?.exp();
        let upper =
            figure_from_ln("upper limit of a part of the mean", ln_mean_upper(&location, confidence)?)?;
        Ok(Some((fixed.0 + lower, fixed.1 + upper)))
    }

    /// The lower limit: the mean lies above it with this confidence. One-sided, `confidence` from 1e-9 to 1 - 1e-9.
    pub fn lower(&self, confidence: f64) -> Result<f64> {
        check_confidence(confidence)?;
        let sampled = match &self.sampled {
            Sampled::Nothing => 0.0,
            Sampled::Measured(measured) => measured.lower(confidence)?,
            Sampled::Spread { common, .. } => ln_mean_lower(&common.location, confidence)?.exp(),
        };
        Ok(self.fixed(|_| true).0 + sampled)
    }

    /// The upper limit: the mean lies below it with this confidence. Fails where it exceeds the range of a double.
    pub fn upper(&self, confidence: f64) -> Result<f64> {
        check_confidence(confidence)?;
        let sampled = match &self.sampled {
            Sampled::Nothing => 0.0,
            Sampled::Measured(measured) => measured.upper(confidence)?,
            Sampled::Spread { .. } => {
                let (_, ln) = self.governing(confidence)?;
                figure_from_ln("upper limit of the mean of strata", ln)?
            }
        };
        Ok(self.fixed(|_| true).1 + sampled)
    }

    /// Under which assumption the upper limit at this confidence is the larger and therefore taken; `None` where neither is made.
    pub fn upper_spread(&self, confidence: f64) -> Result<Option<Spread>> {
        check_confidence(confidence)?;
        match self.sampled {
            Sampled::Spread { .. } => self.governing(confidence).map(|(spread, _)| Some(spread)),
            _ => Ok(None),
        }
    }

    fn governing(&self, confidence: f64) -> Result<(Spread, f64)> {
        let mut highest = (Spread::Common, f64::NEG_INFINITY);
        for form in self.forms() {
            let ln = ln_mean_upper(&form.location, confidence)?;
            if ln > highest.1 {
                highest = (form.spread, ln);
            }
        }
        Ok(highest)
    }

    /// The forms the limits are taken from: that of the common spread and, where two strata have one, that of own spreads.
    /// Empty where the spread is not known.
    pub fn forms(&self) -> impl Iterator<Item = &Form> {
        let (common, own) = match &self.sampled {
            Sampled::Spread { common, own, .. } => (Some(common), own.as_ref()),
            _ => (None, None),
        };
        common.into_iter().chain(own)
    }

    /// The pooled standard deviation of the logarithms within strata, where it is known.
    pub fn pooled_sd_ln(&self) -> Option<f64> {
        self.forms().next().map(|form| form.location.sd_ln())
    }

    /// Bartlett's test that the strata have one spread, where at least two show one. A stratum whose readings are all equal is left out:
    /// rounded readings do not show how small its spread is.
    pub fn equality(&self) -> Option<EqualityTest> {
        self.equality
    }

    /// What weakens the interval.
    pub fn notes(&self) -> &[Note] {
        &self.notes
    }
}

fn equality(parts: &[Part]) -> Option<EqualityTest> {
    let shown: Vec<(f64, f64)> = parts
        .iter()
        .filter_map(|p| p.own)
        .filter(|own| own.variance > 0.0)
        .map(|own| (own.df, own.variance))
        .collect();
    equal_variances(&shown).ok()
}

/// The strata in an order that depends on nothing but themselves, with their places, so that the order given changes no digit.
fn in_order(strata: &[Stratum]) -> Vec<(usize, Stratum)> {
    let mut all: Vec<(usize, Stratum)> = strata.iter().cloned().enumerate().collect();
    let key = |stratum: &Stratum| -> Vec<f64> {
        let mut key = vec![stratum.weight(), stratum.fixed().0, stratum.fixed().1];
        if let Stratum::Sampled { readings, .. } = stratum {
            let mut bounds: Vec<[f64; 2]> = readings.iter().map(|o| [o.low(), o.high()]).collect();
            bounds.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
            key.extend(bounds.into_iter().flatten());
        }
        key
    };
    all.sort_by_cached_key(|(_, stratum)| key(stratum).into_iter().map(f64::to_bits).collect::<Vec<u64>>());
    all
}
