//! The field work: leak checks, strokes, conditions, other substances.
//!
//! One finding speaks for all readings that it concerns, so that a slip repeated all day is read once.

use crate::diagnose::{Code, Findings, Span, code};
use crate::model::study::LeakCheck;
use crate::model::{Reading, Study, Tube};
use chrono::Duration;
use std::collections::HashMap;

/// Readings named in one finding before it says how many more.
const NAMED: usize = 6;

/// What one reading gives cause to say.
struct Remark {
    code: &'static Code,
    message: String,
    help: &'static str,
    span: Span,
    /// What else it points at.
    beside: Option<Span>,
}

/// Raises what qualifies readings.
pub fn check(study: &Study, findings: &Findings) {
    for (_, name, tube) in study.tubes.iter().filter(|(.., t)| t.relative_sd.is_none()) {
        let message = format!("the sheet of {name} gives no relative standard deviation; 14 % is taken");
        let help = "add `relative_sd` from the tube sheet, as relative_sd: 10 %";
        findings.report(&code::NO_RELATIVE_SD, tube.span, message, help);
    }
    let mut remarks: Vec<(Remark, Vec<&Reading>, Vec<Span>)> = Vec::new();
    let mut known: HashMap<String, usize> = HashMap::new();
    for reading in &study.readings {
        for remark in remarks_on(reading, study) {
            let at = *known.entry(remark.message.clone()).or_insert(remarks.len());
            match remarks.get_mut(at) {
                Some((_, readings, spans)) => {
                    readings.push(reading);
                    spans.push(remark.span);
                    spans.extend(remark.beside);
                }
                None => {
                    let spans = std::iter::once(remark.span).chain(remark.beside).collect();
                    remarks.push((remark, vec![reading], spans));
                }
            }
        }
    }
    for (remark, readings, spans) in remarks {
        findings.report_at(
            remark.code,
            spans,
            format!("{} ({})", remark.message, named(&readings)),
            remark.help,
        );
    }
}

fn named(readings: &[&Reading]) -> String {
    let names: Vec<&str> = readings.iter().take(NAMED).map(|r| r.id.as_str()).collect();
    let more = readings.len().saturating_sub(NAMED);
    let list = names.join(", ");
    match (readings.len(), more) {
        (1, _) => format!("reading {list}"),
        (_, 0) => format!("readings {list}"),
        _ => format!("readings {list} and {more} more"),
    }
}

fn remarks_on(reading: &Reading, study: &Study) -> Vec<Remark> {
    let tube = &study.tubes[reading.tube];
    let mut remarks: Vec<Remark> = strokes(reading, tube, study).into_iter().collect();
    remarks.extend(conditions(reading, tube, study));
    remarks.extend(unknown_conditions(reading, tube, study));
    remarks.extend(interferents(reading, study));
    if !study.leak_checks.is_empty() {
        remarks.extend(leak(reading, study));
    }
    remarks
}

fn strokes(reading: &Reading, tube: &Tube, study: &Study) -> Option<Remark> {
    let listed = tube.other_strokes.iter().any(|(n, _)| *n == reading.strokes);
    (reading.strokes != tube.strokes && !listed).then(|| Remark {
        code: &code::STROKES_NOT_ON_SHEET,
        message: format!(
            "{} {} on the sheet of {}; the reading is scaled by {} / {}",
            reading.strokes,
            if reading.strokes == 1.0 { "stroke is not" } else { "strokes are not" },
            study.tubes.name(reading.tube),
            tube.strokes,
            reading.strokes
        ),
        help: "draw the strokes that the sheet lists, or add its factor under `other_strokes`",
        span: reading.at("strokes"),
        beside: None,
    })
}

fn conditions(reading: &Reading, tube: &Tube, study: &Study) -> Vec<Remark> {
    let all = [
        ("temperature", " C", reading.temperature.map(|c| c.0), &tube.temperature),
        ("humidity", " %", reading.humidity, &tube.humidity),
    ];
    let outside = all.into_iter().filter_map(|(column, unit, value, points)| {
        let (value, first, last) = (value?, points.first()?.0, points.last()?.0);
        (value < first || value > last).then(|| Remark {
            code: &code::CONDITIONS_OUTSIDE_SHEET,
            message: format!(
                "a {column} outside the {first} to {last}{unit} of the sheet of {}; the nearest factor is used",
                study.tubes.name(reading.tube)
            ),
            help: "look for a sheet that covers these conditions, or say in the note why this is good enough",
            span: reading.at(column),
            beside: None,
        })
    });
    outside.collect()
}

/// Conditions for which the sheet corrects and which the reading does not tell.
fn unknown_conditions(reading: &Reading, tube: &Tube, study: &Study) -> Vec<Remark> {
    let all = [
        ("temperature", reading.temperature.is_none() && !tube.temperature.is_empty()),
        ("humidity", reading.humidity.is_none() && !tube.humidity.is_empty()),
        ("pressure", reading.pressure.is_none() && tube.pressure_proportional),
    ];
    let remark = |(column, _): &(&str, bool)| Remark {
        code: &code::CONDITIONS_MISSING,
        message: format!(
            "the sheet of {} corrects for {column}, which is not told; no correction is made",
            study.tubes.name(reading.tube)
        ),
        help: "write the condition beside each reading, or say in the note why it does not matter",
        span: reading.at(column),
        beside: None,
    };
    all.iter().filter(|(_, unknown)| *unknown).map(remark).collect()
}

fn interferents<'a>(reading: &'a Reading, study: &'a Study) -> impl Iterator<Item = Remark> {
    study.interferents(reading).map(|(interference, amount)| {
        let direction = if interference.reads_higher { "higher" } else { "lower" };
        let amount = amount.map_or("in an unknown amount".to_owned(), |ppm| format!("at {ppm} ppm"));
        Remark {
            code: &code::INTERFERENT_PRESENT,
            message: format!(
                "{} reads {direction} by {}, present {amount}; the true values lie in a range",
                study.tubes.name(reading.tube),
                interference.agent
            ),
            help: "measure the other substance, or use a tube that does not show it",
            span: reading.at("present"),
            beside: None,
        }
    })
}

/// Longest time by which a leak check of the day before still serves a night shift.
const NIGHT_HOURS: i64 = 12;

/// The last leak check of the reading's pump before it, of the same day or the same night.
fn leak(reading: &Reading, study: &Study) -> Option<Remark> {
    let (pump, day) = (study.pumps.name(reading.pump), study.clock.local(reading.start).date());
    let serves = |check: &&LeakCheck| {
        check.pump == reading.pump
            && check.at <= reading.start
            && (study.clock.local(check.at).date() == day
                || reading.start - check.at <= Duration::hours(NIGHT_HOURS))
    };
    let span = reading.at("pump");
    match study.leak_checks.iter().filter(serves).max_by_key(|check| check.at) {
        Some(check) if check.passed => None,
        Some(check) => Some(Remark {
            code: &code::LEAK_CHECK_FAILED,
            message: format!("pump {pump} had failed its leak check on {day}; what it drew may read too low"),
            help: "mend the pump and draw the tubes again",
            span,
            beside: Some(check.span),
        }),
        None => Some(Remark {
            code: &code::LEAK_CHECK_MISSING,
            message: format!("pump {pump} has no leak check on {day} before its readings"),
            help: "add the check to the leak-check table if it was done; otherwise test the pump each day before use",
            span,
            beside: None,
        }),
    }
}
