//! Land's effective location in the two forms.

use super::part::{CommonSpread, Part};
use crate::Result;
use crate::complete::land::Location;

/// What is assumed about the spreads of the strata.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spread {
    /// All strata have one standard deviation of the logarithms.
    Common,
    /// Every stratum has its own.
    Own,
}

/// The effective location under one assumption, of the sampled strata together.
#[derive(Debug, Clone, PartialEq)]
pub struct Form {
    /// The assumption.
    pub spread: Spread,
    /// Location, standard deviation, degrees of freedom and number.
    pub location: Location,
    /// Every sampled stratum's share of the mean as this form weighs it, with its place in the list given.
    pub shares: Vec<(usize, f64)>,
}

/// A stratum as it enters a form.
struct Piece {
    place: usize,
    ln_weighted: f64,
    n: f64,
    variance: f64,
}

/// The form of the common spread.
pub(super) fn common(spread: CommonSpread, parts: &[Part]) -> Result<Form> {
    let pieces: Vec<Piece> = parts.iter().map(|part| at_common_spread(part, spread)).collect();
    form(Spread::Common, &pieces, |_, _| spread.df)
}

/// The form of own spreads; `None` where fewer than two strata have one and the forms are the same.
pub(super) fn own(spread: CommonSpread, parts: &[Part]) -> Result<Option<Form>> {
    let known: Vec<f64> = parts.iter().map(|p| p.own.map_or(0.0, |own| own.df)).collect();
    if known.iter().filter(|&&df| df > 0.0).count() < 2 {
        return Ok(None);
    }
    let pieces: Vec<Piece> = parts.iter().map(|part| at_own_spread(part, spread)).collect();
    let form =
        form(Spread::Own, &pieces, |shares, variance| satterthwaite(&pieces, &known, shares, variance));
    // Where the strata that dominate show no spread at all there is no own form.
    Ok(form.ok())
}

fn at_common_spread(part: &Part, spread: CommonSpread) -> Piece {
    let ln_weighted = part.ln_weight + part.common.ln;
    Piece { place: part.place, ln_weighted, n: part.common.n, variance: spread.variance }
}

fn at_own_spread(part: &Part, spread: CommonSpread) -> Piece {
    match part.own {
        Some(own) => Piece {
            place: part.place,
            ln_weighted: part.ln_weight + own.at.ln,
            n: own.at.n,
            variance: own.variance,
        },
        None => at_common_spread(part, spread),
    }
}

/// `df` is given the shares and the effective variance.
fn form(spread: Spread, pieces: &[Piece], df: impl Fn(&[f64], f64) -> f64) -> Result<Form> {
    let logs: Vec<f64> = pieces.iter().map(|p| p.ln_weighted + 0.5 * p.variance).collect();
    let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let total: f64 = logs.iter().map(|l| (l - top).exp()).sum();
    let shares: Vec<f64> = logs.iter().map(|l| (l - top).exp() / total).collect();
    let weigh = |f: &dyn Fn(f64, &Piece) -> f64| {
        shares.iter().zip(pieces).map(|(&p, piece)| f(p, piece)).sum::<f64>()
    };
    let variance = weigh(&|p, piece| p * piece.variance);
    let of_location = weigh(&|p, piece| p * p * piece.variance / piece.n);
    let bias = 0.5 * (weigh(&|p, piece| p * piece.variance / piece.n) - of_location);
    let ln = top + total.ln() - 0.5 * variance - bias;
    let location =
        Location::new(ln, variance.sqrt(), df(&shares, variance).max(1.0), variance / of_location)?;
    let shares = pieces.iter().map(|p| p.place).zip(shares).collect();
    Ok(Form { spread, location, shares })
}

/// Degrees of freedom of `sum p_j q_j`, in which strata without a spread of their own borrow the common one.
fn satterthwaite(pieces: &[Piece], known: &[f64], shares: &[f64], variance: f64) -> f64 {
    let all: f64 = known.iter().sum();
    let borrowing: f64 = shares.iter().zip(known).filter(|&(_, &df)| df == 0.0).map(|(p, _)| p).sum();
    let mut inverse = 0.0;
    for ((piece, &df), &p) in pieces.iter().zip(known).zip(shares).filter(|((_, df), _)| **df > 0.0) {
        let part = (p + borrowing * df / all) * piece.variance / variance;
        inverse += part * part / df;
    }
    1.0 / inverse
}
