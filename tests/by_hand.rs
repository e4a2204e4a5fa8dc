//! A shift small enough for pencil and paper (`fixtures/studies/by-hand`), its arithmetic beside each check.
//!
//! Turning 06:00 to 10:00, 240 min, readings 12, 40, 70, 20 ppm at 07:00, 09:00, 09:05, 09:10.
//! Screening 10:00 to 13:00, 180 min, a slanted stain 8/14. Office 13:00 to 14:00, 60 min, counted as zero.

use approx::assert_relative_eq;
use fullshift_stats::censored::Observation;
use fullshift_stats::shares;
use fullshift_stats::strata::{StrataMean, Stratum};
use fullshift_tests::{assessment, copy, fixture};
use serde_json::Value;

fn the_shift() -> Value {
    assessment(&fixture("studies/by-hand"))["shifts"][0].clone()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

/// An end of the range that stains between marks and unsampled minutes leave open, whatever chance adds to it.
fn open_end(figure: &Value, end: &str) -> f64 {
    let own = &figure[format!("range_{end}")];
    number(if own.is_null() { &figure[end] } else { own })
}

fn against(shift: &Value, kind: &str) -> Value {
    let limits = shift["limits"].as_array().unwrap();
    limits.iter().find(|l| l["kind"] == kind).unwrap_or_else(|| panic!("no {kind} limit")).clone()
}

#[test]
fn the_mean_of_turning_is_the_sum_142_over_4_readings() {
    let turning = &the_shift()["tasks"][0];
    assert_eq!(turning["task"], "turning");
    assert_relative_eq!(number(&turning["minutes"]), 240.0);
    assert_relative_eq!(number(&turning["mean"]["value"]), (12.0 + 40.0 + 70.0 + 20.0) / 4.0);
}

#[test]
fn a_slanted_stain_8_to_14_counts_as_11() {
    let screening = &the_shift()["tasks"][1];
    assert_eq!(screening["task"], "screening");
    assert_relative_eq!(number(&screening["mean"]["value"]), 11.0);
}

#[test]
fn the_twa_is_240_times_35_5_and_180_times_11_over_480() {
    let twa = &the_shift()["twa"];
    assert_relative_eq!(number(&twa["value"]), 21.875, epsilon = 1e-12);
    assert_eq!(twa["unit"], "ppm");
}

#[test]
fn what_weakens_the_limits_of_the_twa_is_told() {
    let notes = the_shift()["twa_notes"].to_string();
    assert!(
        notes.contains("screening has one reading and is given the spread of the other tasks"),
        "{notes}"
    );
}

#[test]
fn the_twa_is_1_09375_times_the_limit() {
    assert_relative_eq!(
        number(&against(&the_shift(), "twa")["ratio"]["value"]),
        21.875 / 20.0,
        epsilon = 1e-12
    );
}

#[test]
fn of_480_minutes_420_belong_to_measured_tasks() {
    let shift = the_shift();
    assert_relative_eq!(number(&shift["covered"]), 420.0 / 480.0);
    assert_relative_eq!(number(&shift["unsampled"]["zero"]), 60.0 / 480.0);
}

#[test]
fn turning_brings_8520_of_the_10500_ppm_minutes() {
    let shift = the_shift();
    assert_relative_eq!(
        number(&shift["tasks"][0]["share_of_dose"]["value"]),
        8520.0 / 10500.0,
        epsilon = 1e-12
    );
    assert_relative_eq!(
        number(&shift["tasks"][1]["share_of_dose"]["value"]),
        1980.0 / 10500.0,
        epsilon = 1e-12
    );
}

/// Each reading stands to the midpoints of its neighbours: 40 ppm from 08:00 to 09:02:30, 70 to 09:07:30, 20 to 10:00.
/// From 08:52:30 to 09:07:30 that is (10 x 40 + 5 x 70) / 15 = 50 ppm; no other fifteen minutes reach as high.
#[test]
fn the_highest_fifteen_minutes_are_10_at_40_and_5_at_70_ppm() {
    let shift = the_shift();
    assert_relative_eq!(number(&shift["short_term"]["value"]), 50.0, epsilon = 1e-12);
    assert_relative_eq!(number(&shift["short_term"]["highest_held"]), 70.0, epsilon = 1e-12);
    assert_eq!(shift["short_term_window"]["start"], "2027-03-09 08:52");
}

/// The two tubes are off by 10 % each and bring 80/3 and 70/3 ppm of the 50: together by the root of 0.01 x (0.2844 + 0.2178) =
/// 0.0709, as a standard deviation of the logarithm 0.0708, so the limits lie a factor of exp(1.645 x 0.0708) = 1.123 away.
#[test]
fn the_highest_fifteen_minutes_are_off_by_the_error_of_their_two_tubes() {
    let short_term = &the_shift()["short_term"];
    assert_relative_eq!(number(&short_term["high"]), 50.0 * 1.1235, max_relative = 1e-4);
    assert_relative_eq!(number(&short_term["low"]), 50.0 / 1.1235, max_relative = 1e-4);
}

/// The tube of 70 ppm is off by 10 %, as a standard deviation of the logarithm the root of ln 1.01 = 0.09975: exp(1.645 x 0.09975) =
/// 1.1783.
#[test]
fn the_highest_reading_may_be_82_ppm_by_its_own_error() {
    let held = number(&the_shift()["short_term"]["highest_held_upper"]);
    assert_relative_eq!(held, 70.0 * 1.17830, max_relative = 1e-5);
}

fn sampled(weight: f64, values: &[f64]) -> Stratum {
    let readings = values.iter().map(|&value| Observation::exact(value).unwrap()).collect();
    Stratum::Sampled { weight, readings, relative_sd: Some(0.1) }
}

const TURNING: [f64; 4] = [12.0, 40.0, 70.0, 20.0];

/// The dose of turning and that of screening, 8520 and 1980 ppm minutes, each with its limits at the spread of turning.
#[test]
fn the_limits_of_a_share_are_those_of_its_dose_beside_the_rest() {
    let shift = StrataMean::new(&[sampled(240.0, &TURNING), sampled(180.0, &[11.0])]).unwrap();
    let dose = |place: usize, middle: f64| {
        let (low, high) = shift.limits_of_part(|other| other == place, 0.95).unwrap().unwrap();
        [middle, low, high]
    };
    let (turning, screening) = (dose(0, 8520.0), dose(1, 1980.0));
    let found = the_shift();
    for (task, (own, rest)) in [(0, (turning, screening)), (1, (screening, turning))] {
        let (low, high) = shares::between(own, rest).unwrap();
        let share = &found["tasks"][task]["share_of_dose"];
        assert_relative_eq!(number(&share["low"]), low, max_relative = 1e-9);
        assert_relative_eq!(number(&share["high"]), high, max_relative = 1e-9);
        assert_eq!(share["confidence"], 0.95);
    }
    let office = &found["tasks"][2]["share_of_dose"];
    assert_eq!(["value", "low", "high"].map(|end| number(&office[end])), [0.0; 3]);
    assert_eq!(office["confidence"], 0.95);
}

/// If nobody had said that the office counts as zero, it could be as bad as turning at its worst: up to the upper limit of its mean.
#[test]
fn a_task_without_a_tube_is_bounded_by_the_upper_limit_of_the_highest_mean() {
    let folder = tempfile::tempdir().unwrap();
    copy(&fixture("studies/by-hand"), folder.path());
    let file = folder.path().join("study.yaml");
    let text = std::fs::read_to_string(&file).unwrap();
    std::fs::write(&file, text.replace("office: {unsampled: zero}", "office: {}")).unwrap();
    let twa = &assessment(folder.path())["shifts"][0]["twa"];
    let worst = StrataMean::new(&[sampled(1.0, &TURNING)]).unwrap().upper(0.95).unwrap();
    let office = Stratum::Bounded { weight: 60.0 / 480.0, low: 0.0, high: worst };
    let shift = [sampled(240.0 / 480.0, &TURNING), sampled(180.0 / 480.0, &[11.0]), office];
    let upper = StrataMean::new(&shift).unwrap().upper(0.95).unwrap();
    assert_relative_eq!(open_end(twa, "high"), (240.0 * 35.5 + 180.0 * 11.0 + 60.0 * 35.5) / 480.0);
    assert_relative_eq!(number(&twa["high"]), upper, max_relative = 1e-9);
}

/// Eight readings of one task: its share is all there is.
#[test]
fn the_only_task_has_the_whole_dose() {
    let share =
        &assessment(&fixture("worked/unified-guidance-21-3"))["shifts"][0]["tasks"][0]["share_of_dose"];
    assert_eq!(["value", "low", "high"].map(|end| number(&share[end])), [1.0; 3]);
    assert_eq!(share["confidence"], 0.95);
}

/// Share of windows above 50 ppm: estimate, lower and upper 95 % limit, from scipy 1.17.
const ONE_WINDOW: [f64; 3] = [0.2355879791678615, 0.053052724124918, 0.606161986618398];

/// Turning lasts 16 windows of 15 min, four of which a reading stands for; of the other twelve, the share above 50 ppm is that of
/// the lognormal distribution of 12, 40, 70 and 20 ppm with its exact limits, computed with scipy's noncentral t.
#[test]
fn twelve_windows_of_turning_without_a_tube_were_likely_above_50_ppm() {
    let limit = against(&the_shift(), "short-term");
    let unmeasured = &limit["unmeasured"];
    assert_eq!((unmeasured["task"].as_str(), unmeasured["windows"].as_f64()), (Some("turning"), Some(12.0)));
    for (end, one) in [("value", ONE_WINDOW[0]), ("low", ONE_WINDOW[1]), ("high", ONE_WINDOW[2])] {
        assert_relative_eq!(number(&unmeasured["one"][end]), one, max_relative = 1e-9);
        assert_relative_eq!(number(&unmeasured["any"][end]), 1.0 - (1.0 - one).powi(12), max_relative = 1e-9);
    }
}

#[test]
fn a_reading_of_70_ppm_is_above_a_ceiling_of_60() {
    let ceiling = against(&the_shift(), "ceiling");
    assert_eq!(ceiling["verdict"], "above");
    assert_relative_eq!(number(&ceiling["ratio"]["value"]), 70.0 / 60.0, epsilon = 1e-12);
}

/// W1 turns at 20 ppm for 4 h and screens at 8 ppm for 4 h: 14 ppm. W3: 16 and 12: 14 ppm. W2 turns at 24 ppm and
/// borrows the mean of 8 and 12 for screening: (24 x 4 + 10 x 4) / 8 = 17 ppm.
#[test]
fn a_borrowed_task_takes_the_mean_of_the_other_shifts() {
    let assessment = assessment(&fixture("studies/borrowed-task"));
    let twas: Vec<_> =
        assessment["shifts"].as_array().unwrap().iter().map(|s| number(&s["twa"]["value"])).collect();
    assert_eq!(twas.len(), 3);
    for (found, wanted) in twas.iter().zip([14.0, 17.0, 14.0]) {
        assert_relative_eq!(*found, wanted, epsilon = 1e-12);
    }
}

/// The night of W1: 270 min at (24 + 16) / 2 = 20 ppm, 180 min at [0, 5], office zero: from 5400/480 = 11.25 to
/// (5400 + 900)/480 = 13.125 ppm. The day of W2: (240 x 18 + 195 x 6) / 480 = 11.4375 ppm.
#[test]
fn a_diary_by_minutes_finds_the_shift_of_a_reading_after_midnight() {
    let assessment = assessment(&fixture("studies/diary-by-minutes"));
    let night = &assessment["shifts"][0];
    assert_eq!(night["shift"], "W1/2027-03-09");
    assert_relative_eq!(open_end(&night["twa"], "low"), 11.25, epsilon = 1e-12);
    assert_relative_eq!(open_end(&night["twa"], "high"), 13.125, epsilon = 1e-12);
    assert_relative_eq!(number(&assessment["shifts"][1]["twa"]["value"]), 11.4375, epsilon = 1e-12);
    // 24 ppm stand from 23:30 on, to half way to the next tube of the task; of windows as high the first is told.
    assert_relative_eq!(number(&night["short_term"]["value"]), 24.0);
    assert_eq!(night["short_term_window"]["start"], "2027-03-09 23:30");
}

/// Two stains below the mark of 5 ppm in each of three shifts: every TWA lies between 0 and 5 ppm.
#[test]
fn stains_below_the_first_mark_leave_the_twa_between_nothing_and_that_mark() {
    let assessment = assessment(&fixture("studies/all-below-detection"));
    for shift in assessment["shifts"].as_array().unwrap() {
        assert_eq!(open_end(&shift["twa"], "low"), 0.0);
        assert_relative_eq!(open_end(&shift["twa"], "high"), 5.0);
    }
}

/// The same study with the night told by the clock, 270, 30 and 180 minutes from 22:00, and a day without readings by minutes.
#[test]
fn one_shift_by_the_clock_and_others_by_minutes_are_the_same_as_all_by_minutes() {
    let folder = tempfile::tempdir().unwrap();
    copy(&fixture("studies/diary-by-minutes"), folder.path());
    let rows = [
        "worker,task,start,end,shift,minutes",
        "W1,turning,2027-03-09 22:00,2027-03-10 02:30,,",
        "W1,office,2027-03-10 02:30,2027-03-10 03:00,,",
        "W1,loader-cab,2027-03-10 03:00,2027-03-10 06:00,,",
        "W1,turning,,,2027-03-12,240",
        "W2,turning,,,2027-03-11,240",
        "W2,office,,,2027-03-11,45",
        "W2,loader-cab,,,2027-03-11,195",
    ];
    std::fs::write(folder.path().join("diary.csv"), rows.join("\n")).unwrap();
    let [by_minutes, both] = [&fixture("studies/diary-by-minutes"), folder.path()].map(assessment);
    let shift = |of: &Value, name: &str| {
        let all = of["shifts"].as_array().unwrap();
        all.iter().find(|shift| shift["shift"] == name).unwrap_or_else(|| panic!("no {name}")).clone()
    };
    for name in ["W1/2027-03-09", "W2/2027-03-11"] {
        let value = |of: &Value| shift(of, name)["twa"]["value"].as_f64().unwrap();
        assert_relative_eq!(value(&by_minutes), value(&both), max_relative = 1e-12);
    }
    assert!(shift(&both, "W1/2027-03-12")["twa"]["value"].is_null());
}

#[test]
fn area_readings_alone_give_no_figure_of_a_person_but_a_reason() {
    let assessment = assessment(&fixture("studies/area-readings-only"));
    assert_eq!(assessment["readings"].as_array().unwrap().len(), 2);
    assert!(assessment["readings"][0]["why_not"].as_str().is_some_and(|why| why.contains("area")));
    // The first is told with a person, the second with none.
    for (reading, worker, task) in [(0, Some("W1"), Some("turning")), (1, None, None)] {
        let reading = &assessment["readings"][reading];
        assert_eq!((reading["worker"].as_str(), reading["task"].as_str()), (worker, task));
        assert_eq!(reading["shift"].is_null(), worker.is_none());
    }
    assert!(assessment["shifts"][0]["twa"]["value"].is_null());
    assert!(!assessment["shifts"][0]["twa"]["not_given"].as_str().unwrap().is_empty());
}
