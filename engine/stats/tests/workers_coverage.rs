//! How often the limits between and within workers hold, by simulation with a fixed seed.
//!
//! The tables of the handbook are printed by `cargo test -p fullshift-stats --test workers_coverage -- --ignored --nocapture`.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test may stop, and shows what it found"
)]

use fullshift_stats::special::normal;
use fullshift_stats::workers::{
    Likelihood, OwnFigure, Repeats, VarianceComponents, WorkerEffect, between_sd_confidence_below,
    between_sd_profile_lower, between_sd_profile_upper, distance_to_limit,
    distance_to_limit_confidence_below, f_ratio, location_lower, location_upper, share_between_lower,
    share_between_upper, total_sd_lower, total_sd_upper, variance_components, within_sd_lower,
    within_sd_upper, worker_effects,
};

/// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014), one uniform number for each normal one.
struct Draws(u64);

impl Draws {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (((z ^ (z >> 31)) >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        normal::quantile(self.uniform()).unwrap()
    }
}

/// Numbers of values per worker, GSD of all values, and the share of its variance that lies between workers.
#[derive(Debug, Clone, Copy)]
struct Design {
    name: &'static str,
    repeats: &'static [usize],
    gsd: f64,
    share: f64,
}

impl Design {
    fn truth(&self) -> VarianceComponents {
        let total = self.gsd.ln().powi(2);
        let (between, within) = (total * self.share, total * (1.0 - self.share));
        VarianceComponents { location: 0.0, location_error: 0.0, between, within, ln_likelihood: 0.0 }
    }

    fn draw(&self, draws: &mut Draws) -> Repeats {
        let truth = self.truth();
        let worker = |&repeats: &usize| {
            let own = truth.between.sqrt() * draws.normal();
            (0..repeats).map(|_| own + truth.within.sqrt() * draws.normal()).collect::<Vec<f64>>()
        };
        Repeats::of(&self.repeats.iter().map(worker).collect::<Vec<_>>()).unwrap()
    }

    /// The limit that one worker in ten exceeds with the figure.
    fn limit(&self, figure: OwnFigure) -> f64 {
        let truth = self.truth();
        -distance_to_limit(&truth, 0.0, figure).unwrap() * truth.between.sqrt()
            + 1.281_551_565_544_6 * truth.between.sqrt()
    }
}

/// How often, of the studies, the truth lay below the lower limit and above the upper one.
#[derive(Debug, Default, Clone, Copy, PartialEq)]
struct Misses {
    below: u32,
    above: u32,
}

impl Misses {
    fn count(&mut self, below: bool, above: bool) {
        self.below += u32::from(below);
        self.above += u32::from(above);
    }
}

fn exact(design: Design, studies: u32, confidence: f64) -> [Misses; 2] {
    let (mut draws, mut misses, truth) = (Draws(20_261_125), [Misses::default(); 2], design.truth());
    for _ in 0..studies {
        let repeats = design.draw(&mut draws);
        let sd = truth.within.sqrt();
        misses[0].count(
            sd < within_sd_lower(&repeats, confidence).unwrap(),
            sd > within_sd_upper(&repeats, confidence).unwrap(),
        );
        misses[1].count(
            design.share < share_between_lower(&repeats, confidence).unwrap(),
            design.share > share_between_upper(&repeats, confidence).unwrap(),
        );
    }
    misses
}

/// Spread between by pivot and by profile likelihood, total spread, location.
fn spreads(design: Design, studies: u32, confidence: f64) -> [Misses; 4] {
    let (mut draws, mut misses, truth) = (Draws(7_041_776), [Misses::default(); 4], design.truth());
    let (between, total) = (truth.between.sqrt(), (truth.between + truth.within).sqrt());
    for _ in 0..studies {
        let repeats = design.draw(&mut draws);
        let below = between_sd_confidence_below(&repeats, between).unwrap();
        misses[0].count(below < 1.0 - confidence, between > 0.0 && below > confidence);
        misses[1].count(
            between < between_sd_profile_lower(&repeats, Likelihood::Restricted, confidence).unwrap(),
            between > between_sd_profile_upper(&repeats, Likelihood::Restricted, confidence).unwrap(),
        );
        misses[2].count(
            total < total_sd_lower(&repeats, confidence).unwrap(),
            total > total_sd_upper(&repeats, confidence).unwrap(),
        );
        let fit = variance_components(&repeats, Likelihood::Restricted).unwrap();
        misses[3].count(
            0.0 < location_lower(&repeats, &fit, confidence).unwrap(),
            0.0 > location_upper(&repeats, &fit, confidence).unwrap(),
        );
    }
    misses
}

/// The share of workers whose own 95th percentile, and own mean, lies above a limit that one worker in ten exceeds. The share
/// falls as the distance to the limit grows: its upper limit fails where the distance's lower limit does.
fn shares(design: Design, studies: u32, confidence: f64) -> [Misses; 2] {
    let (mut draws, mut misses) = (Draws(19_450_508), [Misses::default(); 2]);
    for _ in 0..studies {
        let repeats = design.draw(&mut draws);
        for (misses, figure) in misses.iter_mut().zip([OwnFigure::Percentile(0.95), OwnFigure::Mean]) {
            let limit = design.limit(figure);
            let below =
                distance_to_limit_confidence_below(&repeats, limit, figure, 1.281_551_565_544_6).unwrap();
            misses.count(below > confidence, below < 1.0 - confidence);
        }
    }
    misses
}

/// Chance of a count at least as far on its side of the mean, doubled: the exact binomial test.
fn binomial_p(count: u32, studies: u32, chance: f64) -> f64 {
    let (x, n) = (f64::from(count), f64::from(studies));
    // P(X >= a) is the incomplete beta function at `chance` with a and n - a + 1.
    let at_least = |a: f64| {
        if a <= 0.0 {
            return 1.0;
        }
        let rest = n - a + 1.0;
        f_ratio::lower(chance / (1.0 - chance) * rest / a, 2.0 * a, 2.0 * rest).unwrap()
    };
    (2.0 * at_least(x).min(1.0 - at_least(x + 1.0))).min(1.0)
}

const THREE_BY_THREE: Design = Design { name: "3 x 3", repeats: &[3; 3], gsd: 2.5, share: 0.3 };
const UNEVEN: Design = Design { name: "1,1,2,3,5", repeats: &[1, 1, 2, 3, 5], gsd: 2.5, share: 0.3 };
const TEN: Design = Design { name: "10 x 3", repeats: &[3; 10], gsd: 2.5, share: 0.3 };

#[test]
fn exact_limits_miss_as_often_as_they_say() {
    let studies = 10_000;
    for (design, confidence) in [(THREE_BY_THREE, 0.95), (UNEVEN, 0.95), (TEN, 0.95), (UNEVEN, 0.7)] {
        for misses in exact(design, studies, confidence) {
            for count in [misses.below, misses.above] {
                let p = binomial_p(count, studies, 1.0 - confidence);
                assert!(p > 0.002, "{} at {confidence}: {misses:?}, p = {p}", design.name);
            }
        }
    }
}

#[test]
fn the_binomial_test_knows_the_fair_coin() {
    // 8 or more heads, or 2 or fewer, in 10 tosses: 2 (45 + 10 + 1) / 1024.
    assert!((binomial_p(8, 10, 0.5) - 112.0 / 1024.0).abs() < 1e-12);
    assert!((binomial_p(2, 10, 0.5) - 112.0 / 1024.0).abs() < 1e-12);
}

/// Counts of misses, truth below the lower limit and above the upper one, and the highest percentage the handbook admits.
#[track_caller]
fn frozen(misses: &[Misses], studies: u32, counts: &[(u32, u32)], highest_percent: f64) {
    let found: Vec<(u32, u32)> = misses.iter().map(|m| (m.below, m.above)).collect();
    assert_eq!(found, counts);
    for &(below, above) in counts {
        // Far more misses than the handbook admits would be wrong even if they were the same every time.
        let p = binomial_p(below.max(above), studies, highest_percent / 100.0);
        assert!(p > 0.002 || f64::from(below.max(above)) < highest_percent / 100.0 * f64::from(studies));
    }
}

#[test]
fn exact_limits_miss_in_these_studies() {
    frozen(&exact(THREE_BY_THREE, 2000, 0.95), 2000, &[(112, 107), (110, 96)], 5.0);
    frozen(&exact(UNEVEN, 2000, 0.95), 2000, &[(100, 126), (106, 117)], 5.0);
    frozen(&exact(TEN, 2000, 0.95), 2000, &[(97, 96), (101, 100)], 5.0);
}

#[test]
fn limits_of_the_spreads_and_the_location_miss_in_these_studies() {
    frozen(&spreads(THREE_BY_THREE, 500, 0.95), 500, &[(22, 37), (17, 10), (35, 10), (34, 24)], 8.0);
    frozen(&spreads(UNEVEN, 500, 0.95), 500, &[(23, 18), (18, 7), (31, 8), (27, 23)], 8.0);
    frozen(&spreads(TEN, 500, 0.95), 500, &[(32, 29), (30, 37), (40, 11), (26, 23)], 8.0);
}

#[test]
fn limits_of_the_share_above_miss_in_these_studies() {
    frozen(&shares(THREE_BY_THREE, 200, 0.95), 200, &[(6, 3), (7, 4)], 7.0);
    frozen(&shares(UNEVEN, 200, 0.95), 200, &[(7, 3), (8, 6)], 7.0);
    frozen(&shares(TEN, 200, 0.95), 200, &[(7, 9), (6, 9)], 7.0);
}

/// How often workers are named in `studies` of workers who are alike but for the first, `off` standard errors of its mean away:
/// the first one, and any of the others.
fn named(repeats: &[usize], off: f64, studies: u32) -> (u32, u32) {
    let (mut draws, mut first, mut others) = (Draws(19_790_065), 0, 0);
    for _ in 0..studies {
        let mut groups: Vec<Vec<f64>> =
            repeats.iter().map(|&n| (0..n).map(|_| draws.normal()).collect()).collect();
        let shift = off / (repeats[0] as f64).sqrt();
        groups[0].iter_mut().for_each(|value| *value += shift);
        let repeats = Repeats::of(&groups).unwrap();
        let fit = variance_components(&repeats, Likelihood::Restricted).unwrap();
        let effects = worker_effects(&repeats, &fit).unwrap();
        let is_named = |effect: &WorkerEffect| effect.p_value < 0.05;
        first += u32::from(is_named(&effects[0]));
        others += u32::from(effects[1..].iter().any(is_named));
    }
    (first, others)
}

const NAMED: [&[usize]; 5] = [&[2; 3], &[4; 3], &[2; 8], &[3; 8], &[20, 2, 2, 2, 2]];

#[test]
fn workers_like_each_other_are_named_no_more_often_than_agreed() {
    let studies = 2000;
    for repeats in NAMED {
        for off in [0.0, 10.0, 100.0] {
            let (first, others) = named(repeats, off, studies);
            let count = if off == 0.0 { first + others } else { others };
            let few = f64::from(count) <= 0.05 * f64::from(studies);
            assert!(few || binomial_p(count, studies, 0.05) > 0.002, "{repeats:?} {off}: {count}");
            assert!(off < 100.0 || first == studies, "{repeats:?}: {first}");
        }
    }
}

#[test]
#[ignore = "prints a table of the handbook: workers named"]
fn the_handbook_table_of_the_workers_named() {
    for repeats in NAMED {
        let cells = [0.0, 4.0, 10.0, 100.0].map(|off| {
            let (first, others) = named(repeats, off, 10_000);
            format!("{:.1} / {:.1}", f64::from(first) / 100.0, f64::from(others) / 100.0)
        });
        println!("| {repeats:?} | {} |", cells.join(" | "));
    }
}

const EIGHT: [usize; 8] = [2, 2, 3, 1, 4, 2, 1, 3];
const DESIGNS: [(&str, &[usize]); 6] = [
    ("3 x 3", &[3; 3]),
    ("2,3,4", &[2, 3, 4]),
    ("6 x 2", &[2; 6]),
    ("8 uneven", &EIGHT),
    ("10 x 3", &[3; 10]),
    ("30 x 2", &[2; 30]),
];

/// One line of a table of the handbook for each design and share: misses in percent.
fn print_table(shares: &[f64], studies: u32, misses: impl Fn(Design) -> Vec<Misses>) {
    println!("misses in percent, truth below the lower limit / above the upper limit; nominal 5 / 5");
    let percent = |count: u32| f64::from(count) * 100.0 / f64::from(studies);
    for (name, repeats) in DESIGNS {
        for &share in shares {
            let found = misses(Design { name, repeats, gsd: 2.5, share });
            let cells: Vec<String> =
                found.iter().map(|m| format!("{:.1} / {:.1}", percent(m.below), percent(m.above))).collect();
            println!("| {name} | {share} | {} |", cells.join(" | "));
        }
    }
}

#[test]
#[ignore = "prints a table of the handbook: within, share between"]
fn the_handbook_table_of_the_exact_limits() {
    print_table(&[0.0, 0.1, 0.2, 0.5, 0.8], 10_000, |design| exact(design, 10_000, 0.95).to_vec());
}

#[test]
#[ignore = "prints a table of the handbook: spread between, its profile likelihood, total, location"]
fn the_handbook_table_of_the_spreads() {
    print_table(&[0.0, 0.1, 0.2, 0.5, 0.8], 4000, |design| spreads(design, 4000, 0.95).to_vec());
}

#[test]
#[ignore = "prints a table of the handbook: share above by 95th percentile, by mean; takes ten minutes"]
fn the_handbook_table_of_the_share_above() {
    print_table(&[0.1, 0.2, 0.5, 0.8], 2000, |design| shares(design, 2000, 0.95).to_vec());
    for gsd in [1.5, 4.0] {
        println!(
            "3 x 3, GSD {gsd}, share 0.3: {:?} of 2000",
            shares(Design { gsd, ..THREE_BY_THREE }, 2000, 0.95)
        );
    }
}
