//! What the limits of a TWA and the figures of a group may rest on: arithmetic beside each check.

use approx::assert_relative_eq;
use fullshift_tests::{assessment, fullshift};
use serde_json::Value;
use std::path::Path;

/// A study of one substance, with the tasks a to c, and a tube of which a stroke takes a minute.
fn write(folder: &Path, limit: &str, tasks: &str, further: &str, diary: &[String], tubes: &[String]) {
    let study = format!(
        "study: {{title: Limits, site: Hall 2, prepared_by: A. Assessor}}\n\
        agents: {{ammonia: {{molar_mass: 17.03}}}}\n\
        limits: [{{agent: ammonia, kind: twa, value: {limit}, source: entered by the assessor}}]\n\
        tubes: {{T: {{agent: ammonia, marks: [5, 1000], unit: ppm, strokes: 1, stroke_time: 1 min, relative_sd: 10 %, \
        other_strokes: [{{strokes: 10, factor: 1}}]}}}}\n\
        pumps: {{P: {{}}}}\ntasks: {tasks}\ngroups: {{crew: {{workers: [W1, W2, W3], agents: [ammonia]}}}}\n{further}\
        tables: {{readings: readings.csv, diary: diary.csv}}\n"
    );
    std::fs::write(folder.join("study.yaml"), study).unwrap();
    let rows = |header: &str, rows: &[String]| format!("{header}\n{}\n", rows.join("\n"));
    std::fs::write(folder.join("diary.csv"), rows("worker,start,end,task", diary)).unwrap();
    let numbered: Vec<String> = tubes.iter().enumerate().map(|(i, row)| format!("R{i},T,P,{row}")).collect();
    let table = rows("id,tube,pump,worker,task,start,strokes,reading", &numbered);
    std::fs::write(folder.join("readings.csv"), table).unwrap();
}

fn assessed(limit: &str, tasks: &str, diary: &[String], tubes: &[String]) -> Value {
    let folder = tempfile::tempdir().unwrap();
    write(folder.path(), limit, tasks, "", diary, tubes);
    assessment(folder.path())
}

fn row(worker: &str, task: &str, from: &str, to: &str) -> String {
    format!("{worker},2027-03-09 {from},2027-03-09 {to},{task}")
}

/// Who, task, begin, strokes and stain of a tube, told in one word each.
fn tube(told: &str) -> String {
    let [worker, task, at, strokes, stain] = told.split(' ').collect::<Vec<_>>()[..] else {
        panic!("{told}")
    };
    format!("{worker},{task},2027-03-09 {at},{strokes},{stain}")
}

fn tubes(told: &[&str]) -> Vec<String> {
    told.iter().map(|told| tube(told)).collect()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

/// Nine tubes of one minute near 10 and one of 20 drawn for ten: the mean weighed by time is (90.1 + 200)/19 = 15.3, which limits
/// that count tubes alike leave out. They must not carry a verdict against it.
#[test]
fn limits_that_leave_the_mean_out_carry_no_verdict() {
    let mut told: Vec<String> =
        (0..9).map(|i| format!("W1 a {:02}:00 1 {}", 6 + i % 7, [10.0, 9.8, 10.3][i % 3])).collect();
    told.iter_mut()
        .enumerate()
        .skip(7)
        .for_each(|(i, told)| *told = told.replace(":00", &format!(":{}", 10 + i)));
    told.push("W1 a 13:20 10 20".to_owned());
    let told: Vec<&str> = told.iter().map(String::as_str).collect();
    let study = assessed("14 ppm", "{a: {}}", &[row("W1", "a", "06:00", "14:00")], &tubes(&told));
    let shift = &study["shifts"][0];
    let mean = (3.0 * (10.0 + 9.8 + 10.3) + 200.0) / 19.0;
    assert_relative_eq!(number(&shift["twa"]["value"]), mean, max_relative = 1e-12);
    assert_eq!(shift["limits"][0]["verdict"], "undecided", "{}", shift["limits"][0]);
    assert!(
        shift["limits"][0]["because"].as_str().unwrap().contains("leave out the mean"),
        "{}",
        shift["limits"][0]
    );
}

/// A task without a tube may be as high as any measured task may: raising a reading past another task's mean lowers no limit.
#[test]
fn the_limit_of_a_task_without_a_tube_does_not_fall_as_a_reading_rises() {
    let diary = [
        row("W1", "a", "06:00", "09:00"),
        row("W1", "b", "09:00", "12:00"),
        row("W1", "c", "12:00", "14:00"),
    ];
    let upper = |stain: &str| {
        let middle = format!("W1 b 10:00 1 {stain}");
        let told = ["W1 a 07:00 1 9", "W1 a 08:00 1 11", "W1 b 09:30 1 9.99", &middle, "W1 b 11:00 1 10"];
        let study = assessed("40 ppm", "{a: {}, b: {}, c: {unsampled: bounds}}", &diary, &tubes(&told));
        number(&study["shifts"][0]["twa"]["high"])
    };
    let (before, after) = (upper("10.009999"), upper("10.010001"));
    assert_relative_eq!(before, after, max_relative = 1e-3);
}

/// Readings 8, 12, 8, 12: each logarithm lies ln(12/8)/2 from the mean, s = ln(12/8)/2 sqrt(4/3). One tube below 5 then leaves a mean
/// of up to 5 exp(s^2/2 + 1.644854 s) (a chance of 5 % to lie below 5), for 450 of 480 minutes.
#[test]
fn one_tube_below_the_first_mark_does_not_cap_the_mean_of_its_task() {
    let diary = [row("W1", "a", "06:00", "06:30"), row("W1", "b", "06:30", "14:00")];
    let told = ["W1 a 06:02 1 8", "W1 a 06:09 1 12", "W1 a 06:15 1 8", "W1 a 06:25 1 12", "W1 b 10:00 1 <5"];
    let shift = assessed("6 ppm", "{a: {}, b: {}}", &diary, &tubes(&told))["shifts"][0].clone();
    let s = 0.5 * f64::ln(12.0 / 8.0) * f64::sqrt(4.0 / 3.0);
    let of_b = 450.0 / 480.0 * 5.0 * f64::exp(0.5 * s * s + 1.644_853_626_951 * s);
    assert!(number(&shift["twa"]["high"]) > of_b, "{} {of_b}", shift["twa"]);
    assert_eq!(shift["limits"][0]["verdict"], "undecided");
    assert!(
        shift["twa_notes"].to_string().contains("b lay below the first mark throughout"),
        "{}",
        shift["twa_notes"]
    );
}

/// One worker's task was measured, two others borrow it for nearly all of their time: that is one shift measured and not three.
#[test]
fn a_shift_told_by_tubes_of_others_counts_for_no_group() {
    let workers = ["W1", "W2", "W3"];
    let diary: Vec<String> = workers
        .iter()
        .flat_map(|who| [row(who, "a", "06:00", "06:30"), row(who, "b", "06:30", "14:00")])
        .collect();
    let mut told: Vec<String> = workers.iter().map(|who| format!("{who} a 06:10 1 10")).collect();
    told.extend(["W1 b 08:00 1 9".to_owned(), "W1 b 11:00 1 12".to_owned()]);
    let told: Vec<&str> = told.iter().map(String::as_str).collect();
    let group =
        assessed("40 ppm", "{a: {}, b: {unsampled: borrow}}", &diary, &tubes(&told))["groups"][0].clone();
    assert_eq!(group["n"], 1);
    let left_out = group["left_out"].as_array().unwrap();
    assert_eq!(left_out.len(), 2);
    assert!(left_out[0]["reason"].as_str().unwrap().contains("tubes of other shifts"), "{left_out:?}");
}

/// 12 hours in a week of 36: 40/36 x (168 - 36)/128 x 12/8 is 1.7; a limit that is to be lowered is not raised.
#[test]
fn a_short_week_raises_no_limit() {
    let folder = tempfile::tempdir().unwrap();
    let told = ["W1 a 07:00 1 9", "W1 a 11:00 1 12"];
    let limit = "20 ppm, adjust: weekly";
    let diary = [row("W1", "a", "06:00", "18:00")];
    write(folder.path(), limit, "{a: {}}", "shift: {week: 36 h}\n", &diary, &tubes(&told));
    let limit = assessment(folder.path())["shifts"][0]["limits"][0]["limit"].clone();
    assert_relative_eq!(number(&limit["value"]), 20.0, max_relative = 1e-12);
}

/// (24 - h)/16 is nothing at 24 hours.
#[test]
fn a_whole_day_leaves_no_limit_by_the_day() {
    let folder = tempfile::tempdir().unwrap();
    let diary = ["W1,2027-03-09 06:00,2027-03-10 06:00,a".to_owned()];
    write(folder.path(), "20 ppm, adjust: daily", "{a: {}}", "", &diary, &tubes(&["W1 a 07:00 1 9"]));
    let ran = fullshift(&["check", folder.path().to_str().unwrap()]);
    let words = ran.out + &ran.talk;
    assert!(words.contains("F408") && words.contains("lower it in"), "{words}");
}

/// None of three shifts above: 1 - 0.05^(1/3) may be. All of three: at least 0.05^(1/3) are (Clopper and Pearson, by hand).
#[test]
fn where_no_distribution_fits_shifts_are_counted() {
    let workers = ["W1", "W2", "W3"];
    let diary: Vec<String> = workers.iter().map(|who| row(who, "a", "06:00", "14:00")).collect();
    let share = |stain: &str| {
        let told: Vec<String> = workers
            .iter()
            .enumerate()
            .flat_map(|(i, who)| [6, 9].map(|hour| format!("{who} a {:02}:{:02} 1 {stain}", hour + i, 7 * i)))
            .collect();
        let told: Vec<&str> = told.iter().map(String::as_str).collect();
        let group = assessed("20 ppm", "{a: {}}", &diary, &tubes(&told))["groups"][0].clone();
        assert!(group["profile"]["gm"]["not_given"].is_string(), "{}", group["profile"]["gm"]);
        let exceedance = group["profile"]["exceedance"].clone();
        ["value", "low", "high"].map(|end| number(&exceedance[end]))
    };
    let third = f64::powf(0.05, 1.0 / 3.0);
    for (stain, expected) in [("<5", [0.0, 0.0, 1.0 - third]), (">1000", [1.0, third, 1.0])] {
        for (found, expected) in share(stain).into_iter().zip(expected) {
            assert_relative_eq!(found, expected, max_relative = 1e-12, epsilon = 1e-15);
        }
    }
}

/// The program's prior reaches to a thousand times the limit, 10 ppm here: two tubes of 500 ppm lie off it, and it would decide.
#[test]
fn one_shift_off_the_region_of_the_prior_has_no_chance_under_it() {
    let diary = [row("W1", "a", "06:00", "14:00")];
    let told = ["W1 a 07:00 1 500", "W1 a 11:00 1 500"];
    let posterior = assessed("0.01 ppm", "{a: {}}", &diary, &tubes(&told))["groups"][0]["posterior"].clone();
    for figure in ["gm", "p95_above_limit"] {
        let reason = posterior[figure]["not_given"].as_str().unwrap_or_default();
        assert!(reason.contains("outside the region of the prior"), "{posterior}");
    }
}
