//! Whether the pumps were tested for leaks before they drew, and held at the test after it.

use crate::check::notebook::{Notebook, Saying};
use crate::diagnose::{Code, Span, code};
use crate::model::{Column, LeakCheck, LeakCheckCount, Pump, Reading, Ref, Study, Tube};
use chrono::Duration;
use std::collections::{HashMap, HashSet};

/// Longest time by which a leak check of the day before still serves a night shift.
const NIGHT_HOURS: i64 = 12;

/// Checks the pump of every reading, and counts the checks needed: one for each pump, tube type and day or night.
pub fn check(study: &Study, notebook: &mut Notebook) -> LeakCheckCount {
    let (mut done, mut missing) = (HashSet::new(), HashSet::new());
    // What is missing may stand in the rows that could not be read.
    let excused = study.faulty.leak_checks;
    let mut by_pump: HashMap<Ref<Pump>, Vec<&LeakCheck>> = HashMap::new();
    for check in &study.leak_checks {
        by_pump.entry(check.pump).or_default().push(check);
    }
    by_pump.values_mut().for_each(|checks| checks.sort_by_key(|check| check.at));
    let mut last = None;
    for (number, reading) in study.readings.iter().enumerate() {
        let of_pump = by_pump.get(&reading.pump).map_or(&[][..], Vec::as_slice);
        let (before, after) = of_pump.split_at(of_pump.partition_point(|check| check.at <= reading.start));
        if let Some(check) = failed_after(before, after).filter(|_| !excused) {
            let case =
                Case { reading, study, pump: study.pumps.name(reading.pump), day: day(reading, study) };
            notebook.of_reading(number, &code::LEAK_CHECK_FAILED_AFTER, || case.failed_after(check));
        }
        match served(before, reading, study) {
            Ok(check) => drop(done.insert((reading.pump, reading.tube, check.at))),
            Err(fault) => {
                let day = day(reading, study);
                let wanting = (reading.pump, reading.tube, day);
                // Readings of a day follow each other.
                if last.replace(wanting) != Some(wanting) {
                    missing.insert(wanting);
                }
                if !excused {
                    let case = Case { reading, study, pump: study.pumps.name(reading.pump), day };
                    notebook.of_reading(number, fault.code(), || case.saying(fault));
                }
            }
        }
    }
    LeakCheckCount { needed: done.len() + missing.len(), done: done.len() }
}

fn day(reading: &Reading, study: &Study) -> chrono::NaiveDate {
    study.clock.local(reading.start).date()
}

/// What is wrong with the leak checks of a reading's pump.
enum Fault<'a> {
    Missing,
    Failed(&'a LeakCheck),
    Stale(&'a LeakCheck),
    NotRepeated(&'a LeakCheck),
}

impl Fault<'_> {
    fn code(&self) -> &'static Code {
        match self {
            Fault::Missing => &code::LEAK_CHECK_MISSING,
            Fault::Failed(_) => &code::LEAK_CHECK_FAILED,
            Fault::Stale(_) => &code::LEAK_CHECK_STALE,
            Fault::NotRepeated(_) => &code::LEAK_CHECK_NOT_REPEATED,
        }
    }
}

/// The next check after a reading where it failed: nobody knows since when the pump leaked. Where the check before had failed
/// as well, that says it all. The checks of its pump come by time.
fn failed_after<'a>(before: &[&LeakCheck], after: &[&'a LeakCheck]) -> Option<&'a LeakCheck> {
    let held = before.last().is_none_or(|check| check.passed);
    after.first().copied().filter(|check| held && !check.passed)
}

/// The check that serves a reading, or what is wrong with those before it; these come by time.
fn served<'a>(
    earlier: &[&'a LeakCheck],
    reading: &Reading,
    study: &Study,
) -> Result<&'a LeakCheck, Fault<'a>> {
    let Some(&last) = earlier.last() else { return Err(Fault::Missing) };
    let day = day(reading, study);
    let fresh = |check: &&LeakCheck| {
        study.clock.local(check.at).date() == day || reading.start - check.at <= Duration::hours(NIGHT_HOURS)
    };
    match (fresh(&last), last.passed) {
        (_, false) => return Err(Fault::Failed(last)),
        (false, true) => return Err(Fault::Stale(last)),
        (true, true) => {}
    }
    let mut of_today = earlier.iter().rev().copied().take_while(fresh);
    of_today.find(|check| check.passed && check.tube == reading.tube).ok_or(Fault::NotRepeated(last))
}

/// A reading whose leak check is wanting.
struct Case<'a> {
    reading: &'a Reading,
    study: &'a Study,
    pump: &'a str,
    day: chrono::NaiveDate,
}

impl Case<'_> {
    fn saying(&self, fault: Fault) -> Saying {
        match fault {
            Fault::Missing => self.missing(),
            Fault::Failed(check) => self.failed(check.span),
            Fault::Stale(check) => self.stale(check),
            Fault::NotRepeated(check) => self.not_repeated(check),
        }
    }

    fn missing(&self) -> Saying {
        let (message, help) = match self.study.leak_checks.is_empty() {
            true => (
                "the study has no leak checks, so nothing shows that its pumps were tight".to_owned(),
                "test each pump each day before use, and name the table under `tables`, as leak_checks: leak_checks.csv",
            ),
            false => (
                format!("pump {} has no leak check before its readings of {}", self.pump, self.day),
                "add the check to the leak-check table if it was done; otherwise test the pump each day before use",
            ),
        };
        Saying::new(self.reading.at(Column::Pump), message, help)
    }

    fn failed(&self, check: Span) -> Saying {
        let message = format!(
            "pump {} had failed its last leak check before its readings of {}; what it drew may read too low",
            self.pump, self.day
        );
        let help =
            "mend the pump and draw the tubes again; if it was mended before, add the check that it passed";
        Saying::new(self.reading.at(Column::Pump), message, help).beside(check)
    }

    fn failed_after(&self, check: &LeakCheck) -> Saying {
        let message = format!(
            "pump {} failed its leak check of {}; what it drew since it last passed one may read too low",
            self.pump,
            self.study.clock.shown(check.at)
        );
        let help = "draw the tubes again with a tight pump; if it passed a check in between, add it";
        Saying::new(self.reading.at(Column::Pump), message, help).beside(check.span)
    }

    fn stale(&self, check: &LeakCheck) -> Saying {
        let message = format!(
            "the last leak check of pump {} before its readings of {} is of {}",
            self.pump,
            self.day,
            self.study.clock.local(check.at).date()
        );
        let help = "add the check of that day if it was done; otherwise test the pump each day before use";
        Saying::new(self.reading.at(Column::Pump), message, help).beside(check.span)
    }

    fn not_repeated(&self, check: &LeakCheck) -> Saying {
        let message = format!(
            "pump {} was tested on {} with {}, but not with {}, which it then drew",
            self.pump,
            self.study.clock.local(check.at).date(),
            self.sheet(check.tube),
            self.sheet(self.reading.tube)
        );
        let help = "test the pump once a day with each type of tube that it is going to draw";
        Saying::new(self.reading.at(Column::Tube), message, help).beside(check.span)
    }

    /// A tube type, with its diameter where the sheet tells it.
    fn sheet(&self, tube: Ref<Tube>) -> String {
        let name = self.study.tubes.name(tube);
        match self.study.tubes[tube].diameter_mm {
            Some(mm) => format!("{name} ({mm} mm)"),
            None => name.to_owned(),
        }
    }
}
