//! A figure at its limit, just below and just above it.

use super::*;

fn point(x: f64) -> Interval {
    Interval::new(x, x).unwrap()
}

fn sampling(lower: f64, upper: f64, basis: SamplingBasis) -> Result<Sampling, Reason> {
    Ok(Sampling { confidence: 0.95, lower, upper, basis, notes: Vec::new() })
}

#[test]
fn a_twa_is_below_or_above_where_its_limits_are_and_undecided_at_the_limit() {
    let verdict = |lower, upper| {
        twa(&Ok(point(20.0)), &sampling(lower, upper, SamplingBasis::Spread), 20.0, "ppm").verdict
    };
    assert_eq!(verdict(10.0, 19.9), Verdict::Below);
    assert_eq!(verdict(20.1, 30.0), Verdict::Above);
    assert_eq!([verdict(10.0, 20.0), verdict(20.0, 30.0), verdict(10.0, 30.0)], [Verdict::Undecided; 3]);
}

#[test]
fn a_twa_whose_spread_is_not_known_is_undecided_wherever_it_lies() {
    for basis in [SamplingBasis::Measurement, SamplingBasis::Open] {
        for limit in [1.0, 100.0] {
            let judged = twa(&Ok(point(20.0)), &sampling(19.0, 21.0, basis), limit, "ppm");
            assert_eq!(judged.verdict, Verdict::Undecided);
        }
    }
    let none = twa(&Err("no tube".into()), &Err("no tube".into()), 20.0, "ppm");
    assert_eq!((none.verdict, none.because.as_str()), (Verdict::NotGiven, "no tube"));
}

#[test]
fn the_index_of_a_mixture_is_held_against_one() {
    let verdict =
        |lower, upper| mixture(&Ok(point(1.0)), &sampling(lower, upper, SamplingBasis::Spread)).verdict;
    assert_eq!([verdict(0.5, 0.9), verdict(1.1, 2.0)], [Verdict::Below, Verdict::Above]);
    assert_eq!([verdict(0.5, 1.0), verdict(1.0, 2.0)], [Verdict::Undecided; 2]);
}

/// A window of so many tubes with a mean; the limit that its tubes' error leaves below, and the highest reading held.
fn window(tubes: usize, mean: f64, lower: f64, bound_upper: f64) -> Result<Window, Reason> {
    Ok(Window {
        start: chrono::NaiveDateTime::default(),
        mean: point(mean),
        sampling: sampling(lower, 2.0 * mean, SamplingBasis::Measurement),
        bound: bound_upper,
        bound_upper,
        measured_minutes: 15.0,
        drawn_minutes: 3.0,
        readings: (0..tubes).map(|i| (i, 5.0)).collect(),
        measured: None,
    })
}

#[test]
fn a_short_term_window_is_above_by_its_lower_and_below_by_its_highest_reading() {
    let verdict =
        |lower, highest| short_term(&window(3, 50.0, lower, highest), Minutes(15.0), 50.0, "ppm").verdict;
    assert_eq!(verdict(50.1, 90.0), Verdict::Above);
    assert_eq!([verdict(30.0, 49.9), verdict(30.0, 50.0)], [Verdict::Below; 2]);
    assert_eq!([verdict(50.0, 90.0), verdict(30.0, 50.1)], [Verdict::Undecided; 2]);
}

#[test]
fn two_tubes_in_a_window_are_screening() {
    let said = |mean| short_term(&window(2, mean, 49.0, 90.0), Minutes(15.0), 50.0, "ppm");
    let words = "a reading in it lies above the limit";
    assert_eq!([50.0, 50.1].map(|mean| said(mean).verdict), [Verdict::Undecided; 2]);
    assert_eq!([50.0, 50.1].map(|mean| said(mean).because.contains(words)), [false, true]);
}

#[test]
fn a_ceiling_is_not_passed_by_a_reading_at_it() {
    let verdict = |low, high| ceiling(Some((low, high)), 50.0, "ppm").verdict;
    assert_eq!([verdict(50.1, 60.0), verdict(51.0, 51.0)], [Verdict::Above; 2]);
    assert_eq!([verdict(40.0, 50.0), verdict(50.0, 50.0), verdict(1.0, 2.0)], [Verdict::Below; 3]);
    assert_eq!([verdict(50.0, 50.1), verdict(10.0, 60.0)], [Verdict::Undecided; 2]);
    assert_eq!(ceiling(None, 50.0, "ppm").verdict, Verdict::NotGiven);
}
