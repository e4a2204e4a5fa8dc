//! Limits of a TWA, long shifts, respirators, nights on which the clock changes: arithmetic beside each check.

use approx::assert_relative_eq;
use fullshift_tests::{assessment, copy, fixture};
use serde_json::Value;

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn shift(study: &str, number: usize) -> Value {
    assessment(&fixture(study))["shifts"][number].clone()
}

/// The assessment of a study whose `study.yaml` was changed.
fn changed(study: &str, changes: &[(&str, &str)]) -> Value {
    let folder = tempfile::tempdir().unwrap();
    copy(&fixture(study), folder.path());
    let file = folder.path().join("study.yaml");
    let mut text = std::fs::read_to_string(&file).unwrap();
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    std::fs::write(&file, text).unwrap();
    assessment(folder.path())
}

/// USEPA 2009, Unified Guidance, example 21-3, as recomputed to 18.86139 from its eight values: one task alone has
/// Land's exact upper limit.
#[test]
fn one_task_of_eight_readings_has_lands_printed_upper_limit() {
    let twa = &shift("worked/unified-guidance-21-3", 0)["twa"];
    assert!((number(&twa["high"]) - 18.86139).abs() < 5e-6, "{}", twa["high"]);
    assert_eq!(twa["confidence"], 0.95);
}

/// Brief and Scala 1975: 8/12 x (24 - 12)/16 = 0.5 for a shift of twelve hours, so 20 ppm becomes 10 ppm as a mean over
/// the twelve hours, or 10 x 12/8 = 15 ppm on the scale of the TWA. The TWA is (20 x 240 + 6 x 480) / 480 = 16 ppm.
#[test]
fn a_shift_of_twelve_hours_halves_its_limit_for_the_mean_over_its_hours() {
    let limit = &shift("studies/long-shift", 0)["limits"][0];
    assert_relative_eq!(number(&limit["limit"]["value"]), 15.0);
    assert_relative_eq!(number(&limit["ratio"]["value"]), 16.0 / 15.0, max_relative = 1e-12);
}

/// The same shift stands in its group's profile with 20/15 of its 16 ppm, so that one limit serves shifts of all lengths; that is told.
#[test]
fn a_shift_with_a_lowered_limit_counts_by_as_much_more_and_the_profile_says_so() {
    let group = assessment(&fixture("studies/long-shift"))["groups"][0].clone();
    assert_relative_eq!(number(&group["raised"][0]["factor"]), 20.0 / 15.0, max_relative = 1e-12);
    assert_relative_eq!(
        number(&group["plot"]["figures"][0]["high"]),
        16.0 * 20.0 / 15.0,
        max_relative = 1e-12
    );
}

/// The same shift with its limit of 20 ppm lowered otherwise, on the scale of the TWA, times 12/8: a week of 56 h, 40/56 x (168 - 56)/128 =
/// 0.625, to 18.75 ppm; like that for lead, 8/12, to 20 ppm. Without a word it stays at 20 ppm.
#[test]
fn a_limit_is_lowered_by_the_day_by_the_week_or_like_that_for_lead() {
    let limit = |adjust: &str, week: &str| {
        let week = format!("{week}\npumps:");
        let found = changed("studies/long-shift", &[("adjust: daily, ", adjust), ("pumps:", &week)]);
        number(&found["shifts"][0]["limits"][0]["limit"]["value"])
    };
    for (adjust, week, expected) in [
        ("adjust: weekly, ", "shift: {week: 56 h}", 18.75),
        ("adjust: lead-style, ", "", 20.0),
        ("", "", 20.0),
    ] {
        assert_relative_eq!(limit(adjust, week), expected, max_relative = 1e-12);
    }
}

/// Outside (20 x 240 + 6 x 480) / 480 = 16 ppm; inside, a factor of 10 while turning, (2 x 240 + 6 x 480) / 480 = 7 ppm.
#[test]
fn a_respirator_gives_a_second_figure_and_leaves_the_first() {
    let shift = shift("studies/long-shift", 0);
    assert_relative_eq!(number(&shift["twa"]["value"]), 16.0, max_relative = 1e-12);
    assert_relative_eq!(number(&shift["twa_inside_respirators"]["value"]), 7.0, max_relative = 1e-12);
}

/// R1 at 30 ppm stands from 06:00 to 06:50:30 (its middle 06:30:30, that of R2 07:10:30), R3 at 30 ppm from 07:25:30:
/// two occasions above 20 ppm, 35 minutes apart, where 60 are required.
#[test]
fn two_occasions_closer_than_allowed_are_above_the_short_term_limit() {
    let limit = &shift("studies/long-shift", 0)["limits"][1];
    assert_eq!(limit["verdict"], "above");
    let because = limit["because"].as_str().unwrap();
    assert!(because.contains("2 occasions") && because.contains("35 minutes"), "{because}");
}

/// The same two occasions 35 minutes apart: as far as required, and one more than allowed.
#[test]
fn occasions_as_many_and_as_far_apart_as_allowed_are_no_fault() {
    let said = |at_most: &str, apart: &str| {
        let changes = [("at_most: 4", at_most), ("at_least_apart: 60 min", apart)];
        let limit = changed("studies/long-shift", &changes)["shifts"][0]["limits"][1].clone();
        limit["because"].as_str().unwrap().to_owned()
    };
    assert!(said("at_most: 1", "at_least_apart: 35 min").contains("2 occasions"));
    assert!(said("at_most: 2", "at_least_apart: 36 min").contains("35 minutes apart; at least 36"));
    assert!(!said("at_most: 2", "at_least_apart: 35 min").contains("occasions"));
}

/// The eight-hour sample of the federal manual as if its tube took eight minutes: nothing is covered, and one short tube is no test.
#[test]
fn one_short_tube_makes_no_test_of_a_shift() {
    let found = changed("worked/otm-full-period", &[("stroke_time: 8 h", "stroke_time: 8 min")]);
    let limit = found["shifts"][0]["limits"][0].to_string();
    assert!(limit.contains("one short tube; the test for grab samples takes two or more"), "{limit}");
}

/// From thirty short tubes on their mean is taken to be normal.
#[test]
fn thirty_short_tubes_are_many() {
    let method = |tubes: usize| {
        let folder = tempfile::tempdir().unwrap();
        copy(&fixture("worked/niosh-77-173-eight-tubes"), folder.path());
        let file = folder.path().join("readings.csv");
        let text = std::fs::read_to_string(&file).unwrap();
        let (mut lines, header) = (text.lines().skip(1), text.lines().next().unwrap());
        let cells: Vec<&str> = lines.next().unwrap().split(',').collect();
        let place = |name: &str| header.split(',').position(|column| column == name).unwrap();
        let row = |i: usize| {
            let mut cells: Vec<String> = cells.iter().map(|cell| (*cell).to_owned()).collect();
            let (date, _) = cells[place("start")].split_once(' ').unwrap();
            let start = format!("{date} {:02}:{:02}", 9 + i / 20, 3 * (i % 20));
            (cells[place("id")], cells[place("start")]) = (format!("R{i}"), start);
            cells[place("reading")] = (1200 + 10 * (i % 7)).to_string();
            cells.join(",") + "\n"
        };
        let rows: String = (0..tubes).map(row).collect();
        std::fs::write(&file, format!("{header}\n{rows}")).unwrap();
        assessment(folder.path())["shifts"][0]["limits"][0]["compliance"]["ratio"]["method"].to_string()
    };
    assert!(method(29).contains("Land's exact limits"), "{}", method(29));
    assert!(method(30).contains("thirty grab samples or more"), "{}", method(30));
}

/// One task in every shift: half of it is half of every TWA, and of their 95th percentile with its limits; its share is all.
#[test]
fn halving_the_only_task_halves_the_95th_percentile() {
    let group = assessment(&fixture("worked/niosh-77-173-eight-shifts"))["groups"][0].clone();
    let (p95, halved) = (&group["profile"]["p95"], &group["drivers"]["p95_halved"]);
    for end in ["value", "low", "high"] {
        assert_relative_eq!(number(&halved[end]), 0.5 * number(&p95[end]), max_relative = 1e-12);
    }
    assert_relative_eq!(number(&group["drivers"]["tasks"][0]["share"]["value"]), 1.0);
}

/// The share of a task in the dose of the demo's group, from what the page of each shift prints of its tasks.
#[test]
fn the_share_of_turning_is_its_dose_over_all_doses() {
    let demo = assessment(&fixture("studies/composting-hall"));
    let (mut turning, mut whole) = (0.0, 0.0);
    for shift in demo["shifts"].as_array().unwrap().iter().filter(|s| s["agent"] == "ammonia") {
        for task in shift["tasks"].as_array().unwrap() {
            let dose = number(&task["mean"]["value"]) * number(&task["minutes"]);
            whole += dose;
            turning += if task["task"] == "turning" { dose } else { 0.0 };
        }
    }
    let share = &demo["groups"][0]["drivers"]["tasks"][0];
    assert_eq!(share["task"], "turning");
    assert_relative_eq!(number(&share["share"]["value"]), turning / whole, max_relative = 1e-12);
    assert!(
        number(&share["share"]["low"]) < turning / whole && turning / whole < number(&share["share"]["high"])
    );
}

/// 22:00 to 06:00 with the clock put forward lasts 7 h, with it put back 9 h; at 16 ppm, 16 x 7/8 = 14, 16 x 9/8 = 18.
#[test]
fn a_night_on_which_the_clock_changes_has_its_true_length() {
    let (spring, autumn) = (shift("studies/clock-changes", 0), shift("studies/clock-changes", 1));
    assert_relative_eq!(number(&spring["minutes"]), 420.0);
    assert_relative_eq!(number(&autumn["minutes"]), 540.0);
    assert_relative_eq!(number(&spring["twa"]["value"]), 14.0, max_relative = 1e-12);
    assert_relative_eq!(number(&autumn["twa"]["value"]), 18.0, max_relative = 1e-12);
}
