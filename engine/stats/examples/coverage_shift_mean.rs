//! Prints the table of the handbook page on the mean of a shift: how often each one-sided 95 % limit misses the true mean.
//!
//!     cargo run --release -p fullshift-stats --example coverage_shift_mean -- 10000
//!
//! The number of studies of each case may be given. The digits are the same on every run and any number of threads.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "a program that prints a table")]

#[path = "../tests/strata_simulation/mod.rs"]
mod strata_simulation;

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use strata_simulation::{Case, Misses, simulate};

const WEIGHTS_OF_TWO: [[f64; 2]; 3] = [[0.5, 0.5], [0.9, 0.1], [0.1, 0.9]];
const WEIGHTS_OF_FOUR: [[f64; 4]; 3] = [[0.25; 4], [0.7, 0.2, 0.05, 0.05], [0.05, 0.05, 0.2, 0.7]];
const EQUAL: [f64; 3] = [1.5, 2.5, 4.0];

fn main() {
    let studies = std::env::args().nth(1).map_or(10_000, |n| n.parse().unwrap());
    println!("| readings | weights | GSD | lower misses % | upper misses % |");
    println!("| --- | --- | --- | --- | --- |");
    let cases = cases();
    for (case, misses) in cases.iter().zip(all(&cases, studies)) {
        let share = |count: u32| 100.0 * f64::from(count) / f64::from(studies);
        println!(
            "| {} | {} | {} | {:.1} | {:.1} |",
            list(&case.readings.iter().map(|&n| n as f64).collect::<Vec<_>>()),
            list(&case.weights),
            list(&case.gsds),
            share(misses.lower),
            share(misses.upper)
        );
    }
}

fn list(values: &[f64]) -> String {
    values.iter().map(f64::to_string).collect::<Vec<_>>().join(", ")
}

/// Every case on its own draws, so that it does not matter which thread takes it.
fn all(cases: &[Case], studies: u32) -> Vec<Misses> {
    let next = AtomicUsize::new(0);
    let results = Mutex::new(vec![Misses::default(); cases.len()]);
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let i = next.fetch_add(1, Ordering::Relaxed);
                    let Some(case) = cases.get(i) else { break };
                    let misses = simulate(case, studies);
                    results.lock().unwrap()[i] = misses;
                }
            });
        }
    });
    results.into_inner().unwrap()
}

fn cases() -> Vec<Case> {
    let mut cases = Vec::new();
    let mut add = |readings: &[usize], weights: &[f64], gsds: &[f64]| {
        cases.push(Case { readings: readings.to_vec(), weights: weights.to_vec(), gsds: gsds.to_vec() });
    };
    for n in 2..=5 {
        EQUAL.iter().for_each(|&g| add(&[n], &[1.0], &[g]));
    }
    let pairs = [[1, 2], [1, 3], [1, 5], [2, 2], [2, 5], [3, 3], [3, 5], [4, 4], [5, 5]];
    let fours = [[1, 1, 1, 2], [1, 2, 3, 5], [2, 2, 2, 2], [3, 3, 3, 3], [5, 5, 5, 5]];
    for n in pairs {
        for w in WEIGHTS_OF_TWO {
            EQUAL.iter().for_each(|&g| add(&n, &w, &[g; 2]));
        }
    }
    for n in fours {
        for w in WEIGHTS_OF_FOUR {
            EQUAL.iter().for_each(|&g| add(&n, &w, &[g; 4]));
        }
    }
    for n in pairs {
        for w in WEIGHTS_OF_TWO {
            [[1.5, 4.0], [4.0, 1.5], [1.5, 2.5], [2.5, 1.5]].iter().for_each(|g| add(&n, &w, g));
        }
    }
    for n in fours {
        for w in WEIGHTS_OF_FOUR {
            [[1.5, 1.5, 4.0, 4.0], [4.0, 3.0, 2.0, 1.5]].iter().for_each(|g| add(&n, &w, g));
        }
    }
    cases
}
