//! Whether the readings of a task lie over its time as random times would.
//!
//! Two simple tests, both our own rule. The first: n times chosen at random over a stretch all lie within the share w
//! of it with the chance n w^(n-1) - (n-1) w^n. The second: readings at one fixed interval of whole minutes.

use crate::check::notebook::{Notebook, Saying};
use crate::diagnose::code;
use crate::model::shift::{Block, Shift};
use crate::model::{Agent, Column, Purpose, Ref, Study, Task};

/// Readings below which nothing can be said of how times were chosen.
const FEWEST: usize = 3;

/// Chance that a study with honest random times is blamed for bunched ones.
const BLAME: f64 = 0.05;

/// Readings in a row at one interval that are no accident.
const IN_STEP: usize = 5;

/// Shortest fixed interval that counts: tubes drawn one after the other are something else.
const SHORTEST_STEP_MINUTES: i64 = 10;

/// Checks the times of every task in every shift whose diary tells them by the clock.
pub fn check(study: &Study, shifts: &[Shift], notebook: &mut Notebook) {
    let by_clock = || shifts.iter().filter(|shift| shift.clock);
    let mut stretches = Vec::new();
    by_clock().for_each(|shift| add_stretches(shift, study, &mut stretches));
    stretches.retain(|stretch| stretch.readings >= FEWEST);
    let allowed = BLAME / stretches.len().max(1) as f64;
    for stretch in stretches.iter().filter(|stretch| stretch.chance() < allowed) {
        bunched(stretch, study, notebook);
    }
    let mut numbers = Vec::new();
    for shift in by_clock() {
        numbers.clear();
        numbers.extend(random(shift, study));
        in_step(shift, &numbers, study, notebook);
    }
}

/// The readings of one agent in one task of a shift.
struct Stretch<'a> {
    shift: &'a Shift,
    of: (Ref<Agent>, Ref<Task>),
    readings: usize,
    /// First and last of them, in minutes of the task's own time.
    first: f64,
    last: f64,
    minutes: f64,
}

impl Stretch<'_> {
    /// Chance that as many random times lie in a part of the task as short as this.
    fn chance(&self) -> f64 {
        chance_within(self.range() / self.minutes, self.readings as i32)
    }

    /// Length of the part of the task in which all readings lie.
    fn range(&self) -> f64 {
        self.last - self.first
    }
}

/// Chance that all of `n` random times lie within this share of a stretch.
fn chance_within(share: f64, n: i32) -> f64 {
    let w = share.min(1.0);
    f64::from(n) * w.powi(n - 1) - f64::from(n - 1) * w.powi(n)
}

/// Adds the tasks of a shift in which random readings lie.
fn add_stretches<'a>(shift: &'a Shift, study: &Study, list: &mut Vec<Stretch<'a>>) {
    let before = list.len();
    for number in random(shift, study) {
        let Some(of) = subject(number, study) else { continue };
        let blocks = || shift.blocks.iter().filter(|block| block.task == of.1);
        let at = position(study.readings[number].start, blocks());
        match list[before..].iter_mut().find(|stretch| stretch.of == of) {
            Some(stretch) => {
                stretch.readings += 1;
                (stretch.first, stretch.last) = (stretch.first.min(at), stretch.last.max(at));
            }
            None => {
                let minutes = blocks().map(|block| block.minutes.0).sum();
                list.push(Stretch { shift, of, readings: 1, first: at, last: at, minutes });
            }
        }
    }
    list[before..].sort_by_key(|stretch| stretch.of);
}

/// What a reading was drawn for, and during what.
fn subject(number: usize, study: &Study) -> Option<(Ref<Agent>, Ref<Task>)> {
    let reading = &study.readings[number];
    Some((study.tubes[reading.tube].agent, reading.task?))
}

fn random(shift: &Shift, study: &Study) -> impl Iterator<Item = usize> {
    shift.readings.iter().copied().filter(|&number| study.readings[number].purpose == Purpose::Random)
}

/// A time in minutes of a task's own time: its blocks laid end to end.
fn position<'a>(time: chrono::NaiveDateTime, blocks: impl Iterator<Item = &'a Block>) -> f64 {
    let into = |block: &Block| ((time - block.start).num_seconds() as f64 / 60.0).clamp(0.0, block.minutes.0);
    blocks.map(into).sum()
}

fn bunched(stretch: &Stretch, study: &Study, notebook: &mut Notebook) {
    let message = || {
        format!(
            "the {} readings of {} in shift {} lie within {} of its {} min; random times would be spread",
            stretch.readings,
            study.tasks.name(stretch.of.1),
            stretch.shift.name,
            stretch.range(),
            stretch.minutes
        )
    };
    random(stretch.shift, study)
        .filter(|&number| subject(number, study) == Some(stretch.of))
        .for_each(|number| say(number, &message, study, notebook));
}

/// The random readings of a shift that follow each other at one fixed interval.
fn in_step(shift: &Shift, numbers: &[usize], study: &Study, notebook: &mut Notebook) {
    let gap = |at: usize| study.readings[numbers[at + 1]].start - study.readings[numbers[at]].start;
    let (mut from, last) = (0, numbers.len().saturating_sub(1));
    while from < last {
        let step = gap(from);
        let to = (from + 1..last).find(|&at| gap(at) != step).unwrap_or(last);
        let (minutes, readings) = (step.num_minutes(), &numbers[from..=to]);
        from = to;
        if readings.len() < IN_STEP || minutes < SHORTEST_STEP_MINUTES {
            continue;
        }
        let message = || {
            format!(
                "{} readings of shift {} follow each other every {minutes} min; such times are not random",
                readings.len(),
                shift.name
            )
        };
        readings.iter().for_each(|&number| say(number, &message, study, notebook));
    }
}

fn say(number: usize, message: &dyn Fn() -> String, study: &Study, notebook: &mut Notebook) {
    let help = "choose times at random before the shift, one in each of as many equal stretches as there are to be readings";
    notebook.of_reading(number, &code::NON_RANDOM_TIMES, || {
        Saying::new(study.readings[number].at(Column::Start), message(), help)
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Counted by hand: two times lie within half a stretch unless both fall into the two opposite triangles of the
    /// square of possible pairs, of which each has an area of an eighth.
    #[test]
    fn two_times_lie_within_half_a_stretch_three_times_out_of_four() {
        assert!((chance_within(0.5, 2) - 0.75).abs() < 1e-15);
    }

    /// The second way: all triples of times on a fine grid, counted.
    #[test]
    fn the_chance_for_three_times_is_that_of_counting_all_triples() {
        let grid: Vec<f64> = (0..120).map(|i| (f64::from(i) + 0.5) / 120.0).collect();
        let mut within = 0;
        for &a in &grid {
            for &b in &grid {
                within += grid.iter().filter(|&&c| a.max(b).max(c) - a.min(b).min(c) <= 0.2).count();
            }
        }
        let counted = within as f64 / 120f64.powi(3);
        assert!((chance_within(0.2, 3) - counted).abs() < 0.01, "{counted}");
    }

    /// Times drawn at random, told in whole minutes: 3,000 studies of eight tasks of four hours with three to six
    /// readings each. The bound is the nominal 5 % and three standard errors.
    #[test]
    fn honest_random_times_are_blamed_in_no_more_than_one_study_of_twenty() {
        use rand::{RngExt, SeedableRng};
        const STUDIES: usize = 3000;
        let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(689);
        let mut blamed = |readings: i32| {
            let at: Vec<u32> = (0..readings).map(|_| rng.random_range(0..240)).collect();
            let range = at.iter().max().zip(at.iter().min()).map_or(0, |(high, low)| high - low);
            chance_within(f64::from(range) / 240.0, readings) < BLAME / 8.0
        };
        let studies = (0..STUDIES).filter(|_| [3, 4, 5, 6, 3, 4, 5, 6].map(&mut blamed).contains(&true));
        let share = studies.count() as f64 / STUDIES as f64;
        assert!(share > 0.03 && share < 0.05 + 3.0 * (0.05 * 0.95 / STUDIES as f64).sqrt(), "{share}");
    }

    /// One time in each of as many equal stretches as there are readings: the closest that they can lie.
    #[test]
    fn a_time_in_each_of_equal_stretches_is_never_blamed() {
        for n in 3..10 {
            let closest = f64::from(n - 2) / f64::from(n);
            assert!(chance_within(closest, n) > BLAME, "{n}");
        }
    }
}
