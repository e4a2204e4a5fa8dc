//! Duplicates: whether they stand beside a reading, and whether the two agree.
//!
//! Two tubes drawn beside each other differ by their own scatter. With sd the standard deviation of the logarithm of one
//! reading, that of the difference of two is sqrt(2) sd, and 95 % of the differences lie within 1.96 of it (normal theory).

use crate::check::notebook::{Notebook, Saying};
use crate::diagnose::code;
use crate::model::study::Worker;
use crate::model::{Column, Purpose, Reading, Ref, Study, Tube};
use chrono::NaiveDateTime;
use std::collections::HashMap;

/// Longest time between the drawing of a reading and that of its duplicate (our own rule).
const BESIDE_MINUTES: f64 = 5.0;

/// Two-sided 95 % point of the standard normal distribution.
const Z: f64 = 1.959964;

/// Who wore it, where nobody did, and with what: a duplicate repeats a reading of its own kind.
type Kind<'a> = (Option<Ref<Worker>>, Option<&'a str>, Ref<Tube>);

fn kind(reading: &Reading) -> Kind<'_> {
    let place = reading.circumstances().place.as_deref().filter(|_| reading.worker.is_none());
    (reading.worker, place, reading.tube)
}

/// Looks for the reading beside each duplicate, and compares the two.
pub fn check(study: &Study, notebook: &mut Notebook) {
    let readings = || study.readings.iter().enumerate();
    let duplicates: Vec<usize> =
        readings().filter(|(_, r)| r.purpose == Purpose::Duplicate).map(|(number, _)| number).collect();
    let mut repeated: HashMap<Kind, Vec<(NaiveDateTime, usize)>> =
        duplicates.iter().map(|&number| (kind(&study.readings[number]), Vec::new())).collect();
    if repeated.is_empty() {
        return;
    }
    for (number, reading) in readings() {
        if !matches!(reading.purpose, Purpose::Duplicate | Purpose::Blank) {
            repeated.entry(kind(reading)).and_modify(|list| list.push((reading.start, number)));
        }
    }
    repeated.values_mut().for_each(|list| list.sort_unstable());
    for number in duplicates {
        let duplicate = &study.readings[number];
        match repeated.get(&kind(duplicate)).and_then(|list| nearest(list, duplicate, study)) {
            Some(beside) => compare(number, beside, study, notebook),
            None => alone(number, study, notebook),
        }
    }
}

/// The reading nearest in time, where it was drawn beside the duplicate; the list comes by time.
fn nearest<'a>(
    list: &[(NaiveDateTime, usize)],
    duplicate: &Reading,
    study: &'a Study,
) -> Option<&'a Reading> {
    let later = list.partition_point(|(start, _)| *start <= duplicate.start);
    let two = [later.checked_sub(1), Some(later)].into_iter().flatten().filter_map(|at| list.get(at));
    let apart = |other: &&Reading| (other.start - duplicate.start).abs();
    let beside = two.map(|(_, number)| &study.readings[*number]).min_by_key(apart)?;
    let first = if beside.start <= duplicate.start { beside } else { duplicate };
    let drawn = study.tubes[first.tube].stroke_time.map_or(0.0, |time| time.0 * first.strokes);
    (apart(&beside).num_seconds() as f64 / 60.0 <= drawn + BESIDE_MINUTES).then_some(beside)
}

fn alone(number: usize, study: &Study, notebook: &mut Notebook) {
    let duplicate = &study.readings[number];
    notebook.alone(number, &code::DUPLICATE_ALONE, || {
        let (name, tube) = (&duplicate.id, study.tubes.name(duplicate.tube));
        let message = match (duplicate.worker, kind(duplicate).1) {
            (Some(worker), _) => {
                let worker = study.workers.name(worker);
                format!("duplicate `{name}` was drawn beside no reading of {worker} with {tube}")
            }
            (None, Some(place)) => {
                format!("duplicate `{name}` was drawn beside no reading at {place} with {tube}")
            }
            (None, None) => {
                format!("duplicate `{name}` was drawn beside no reading worn by nobody with {tube}")
            }
        };
        let help = "correct its time, worker, place or tube, or give it the purpose for which it was drawn";
        Saying::new(duplicate.at(Column::Purpose), message, help)
    });
}

fn compare(number: usize, beside: &Reading, study: &Study, notebook: &mut Notebook) {
    let duplicate = &study.readings[number];
    if duplicate.strokes != beside.strokes {
        return;
    }
    let explained = explained(study.tubes[duplicate.tube].scatter());
    let factor = factor(duplicate.stain.range(), beside.stain.range());
    if factor <= explained {
        return;
    }
    notebook.alone(number, &code::DUPLICATES_APART, || {
        let message = format!(
            "duplicate `{}` and `{}` beside it differ by a factor of {factor:.2}; the scatter of {} explains one of {explained:.2}",
            duplicate.id,
            beside.id,
            study.tubes.name(duplicate.tube)
        );
        let help = "look at both tubes and the notes; unless the air changed in between, one of the two was drawn or read wrongly";
        Saying::new(duplicate.at(Column::Reading), message, help).beside(beside.at(Column::Reading))
    });
}

/// By what factor two stains differ at the least.
fn factor(a: (f64, f64), b: (f64, f64)) -> f64 {
    (a.0 / b.1).max(b.0 / a.1).max(1.0)
}

/// The factor by which 95 % of the duplicates of a tube with this relative standard deviation differ at most.
fn explained(relative_sd: f64) -> f64 {
    let sd = (1.0 + relative_sd * relative_sd).ln().sqrt();
    (Z * std::f64::consts::SQRT_2 * sd).exp()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: sd = sqrt(ln 1.01) = 0.09975, and exp(1.95996 x 1.41421 x 0.09975) = exp(0.27649) = 1.3185.
    #[test]
    fn tubes_of_ten_per_cent_differ_by_a_third_at_most() {
        assert!((explained(0.10) - 1.3185).abs() < 5e-5, "{}", explained(0.10));
    }

    #[test]
    fn ranges_that_meet_do_not_differ() {
        assert_eq!(factor((10.0, 20.0), (20.0, 20.0)), 1.0);
        assert_eq!(factor((0.0, 5.0), (10.0, 10.0)), 2.0);
        assert_eq!(factor((100.0, f64::INFINITY), (50.0, 50.0)), 2.0);
    }

    /// A second way: 20,000 pairs of tubes that read the same air with lognormal scatter.
    #[test]
    fn honest_duplicates_are_told_in_one_pair_of_twenty() {
        use rand::{RngExt, SeedableRng};
        const PAIRS: usize = 20_000;
        let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(83);
        let sd = (1.0f64 + 0.14 * 0.14).ln().sqrt();
        // Two normal values from two uniform ones, by Box and Muller.
        let mut pair = || {
            let (radius, angle) = (rng.random_range(f64::MIN_POSITIVE..1.0), rng.random_range(0.0..1.0));
            let (radius, angle) = ((-2.0 * f64::ln(radius)).sqrt(), std::f64::consts::TAU * angle);
            [radius * angle.cos(), radius * angle.sin()].map(|normal| (sd * normal).exp())
        };
        let told = (0..PAIRS).filter(|_| {
            let [a, b] = pair();
            factor((a, a), (b, b)) > explained(0.14)
        });
        let share = told.count() as f64 / PAIRS as f64;
        assert!((share - 0.05).abs() < 3.0 * (0.05 * 0.95 / PAIRS as f64).sqrt(), "{share}");
    }
}
