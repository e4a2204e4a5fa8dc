//! A small assessment made by hand: every number is invented and stands for nothing.

use fullshift_engine::diagnose::{Place, Report, Severity};
use fullshift_engine::model::assessment::*;
use fullshift_engine::model::profile::Verdict;
use fullshift_engine::model::{Assessment, Figure, Input, LimitKind, Step};

/// An assessment of `shifts` shifts of one group.
pub(crate) fn assessment(shifts: usize) -> Assessment {
    let shifts: Vec<ShiftResult> = (0..shifts).map(shift).collect();
    Assessment {
        format_version: 1,
        program: Program { name: "fullshift", version: "0.0.0" },
        inputs: Vec::new(),
        study: StudyHead {
            title: "Ammonia at a composting hall".to_owned(),
            site: "Hall 2".to_owned(),
            prepared_by: "A. Assessor".to_owned(),
            conversion: String::new(),
            reference_minutes: 480.0,
            agents: Vec::new(),
            limits: Vec::new(),
            groups: Vec::new(),
            tubes: Vec::new(),
            report: Default::default(),
        },
        findings: Vec::new(),
        field_quality: Default::default(),
        readings: shifts.iter().enumerate().map(|(i, s)| reading(&format!("R{}", i + 1), &s.shift)).collect(),
        groups: vec![
            group(LimitKind::Twa, 20.0, shifts.len()),
            group(LimitKind::ShortTerm, 50.0, shifts.len()),
        ],
        shifts,
        mixtures: Vec::new(),
    }
}

/// A point in ppm.
pub(crate) fn ppm(value: f64) -> Figure {
    Figure::between(value, value, value, "ppm", "")
}

/// A finding of a code at a line.
pub(crate) fn finding(code: &'static str, line: u32) -> Report {
    Report {
        code,
        name: "leak-check-missing",
        severity: Severity::Warning,
        message: "pump P3 has no leak check on 2027-03-09".to_owned(),
        help: String::new(),
        decision: None,
        places: vec![Place {
            file: "readings.csv".to_owned(),
            line,
            column: 20,
            length: 2,
            excerpt: String::new(),
            excerpt_mark: 19,
            ..Place::default()
        }],
    }
}

fn step(name: &str, from: &str) -> Step {
    Step {
        name: name.to_owned(),
        formula: "C = R x f".to_owned(),
        inputs: vec![Input::new("R", "12 ppm", from)],
        result: "12 ppm".to_owned(),
        source: "OSHA-1910.1000(d)",
    }
}

fn shift(number: usize) -> ShiftResult {
    let worker = format!("W{}", number % 6 + 1);
    let name = format!("{worker}/2027-03-{:02}", 8 + number / 6);
    let limit = |kind, limit, ratio, verdict| ShiftLimit {
        kind,
        limit: ppm(limit),
        ratio: Figure::between(ratio, ratio, ratio, "", ""),
        verdict,
        because: String::new(),
        unmeasured: None,
        compliance: None,
    };
    ShiftResult {
        twa: Figure::between(11.24, 8.13, 14.4, "ppm", "weighted")
            .with_trail(vec![step("TWA", &format!("{name}/ammonia/turning"))]),
        twa_notes: Vec::new(),
        twa_inside_respirators: None,
        short_term: ppm(22.0),
        short_term_window: Some(WindowResult {
            start: "2027-03-08 06:00".to_owned(),
            minutes: 15.0,
            drawn_minutes: 2.0,
            measured_minutes: 15.0,
            readings: Vec::new(),
            screening_only: true,
        }),
        highest_reading: ppm(30.0),
        tasks: vec![TaskResult {
            task: "turning".to_owned(),
            minutes: 240.0,
            readings: vec![format!("R{}", number + 1)],
            basis: "measured".to_owned(),
            unsampled: None,
            mean: ppm(12.0).with_trail(vec![step("task mean", &format!("R{}", number + 1))]),
            share_of_dose: Figure::between(1.0, 1.0, 1.0, "", ""),
        }],
        diary: Vec::new(),
        clock_changes: Vec::new(),
        limits: vec![
            limit(LimitKind::Twa, 20.0, 0.562, Verdict::Below),
            limit(LimitKind::ShortTerm, 50.0, 0.44, Verdict::Undecided),
        ],
        shift: name,
        worker,
        group: "hall-operators".to_owned(),
        start: "2027-03-08 06:00".to_owned(),
        end: Some("2027-03-08 14:00".to_owned()),
        minutes: 480.0,
        agent: "ammonia".to_owned(),
        covered: 0.83,
        unsampled: Default::default(),
    }
}

fn reading(id: &str, shift: &str) -> ReadingResult {
    ReadingResult {
        id: id.to_owned(),
        worker: Some("W1".to_owned()),
        shift: Some(shift.to_owned()),
        task: Some("turning".to_owned()),
        agent: "ammonia".to_owned(),
        place: "readings.csv:2".to_owned(),
        tube: "NH3-M".to_owned(),
        lot: None,
        pump: "P1".to_owned(),
        start: "2027-03-08 06:07".to_owned(),
        minutes_into_shift: Some(67.0),
        drawn_minutes: Some(1.0),
        stain: "12".to_owned(),
        purpose: "random",
        unit: "ppm",
        low: 12.0,
        high: Some(12.0),
        used: true,
        why_not: None,
        rejected_by: None,
        qualified_by: Vec::new(),
        trail: vec![step("strokes", "readings.csv:2:60")],
    }
}

fn group(kind: LimitKind, limit: f64, n: usize) -> GroupResult {
    GroupResult {
        group: "hall-operators".to_owned(),
        agent: "ammonia".to_owned(),
        kind,
        limit: ppm(limit),
        source: "entered".to_owned(),
        n,
        censored: 0,
        left_out: Vec::new(),
        raised: Vec::new(),
        screened: 0,
        profile: vec![
            ("gm", ppm(9.87)),
            ("gsd", Figure::without_interval(1.62, "", "", "")),
            ("mean", ppm(11.0)),
            ("p95", ppm(21.9)),
            ("exceedance", Figure::not_given("needs the statistics")),
        ],
        verdicts: vec![RuleResult {
            rule: "screening",
            verdict: Verdict::Undecided,
            because: "the highest of 12 shifts is 0.56 of the limit".to_owned(),
            to_settle: None,
            more_shifts: None,
            settling: None,
            source: "EN-689",
        }],
        fit: Vec::new(),
        second_opinion: Vec::new(),
        plot: Default::default(),
        posterior_flat: None,
        not_one_group: None,
        reassess: Figure::not_given("not proposed"),
        posterior: PosteriorResult { prior: String::new(), figures: Vec::new() },
        drivers: None,
        workers: WorkersResult { workers: 6, apart: Vec::new(), figures: Vec::new() },
    }
}
