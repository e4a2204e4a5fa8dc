//! The highest window of a shift and its verdicts: arithmetic beside each check.

use approx::assert_relative_eq;
use fullshift_tests::assessment;
use serde_json::Value;

const STUDY: &str = "\
study: {title: Windows, site: Hall 2, prepared_by: A. Assessor}
agents: {ammonia: {molar_mass: 17.03}}
limits: [{agent: ammonia, kind: short-term, value: 40 ppm, averaging: 15 min, source: entered by the assessor}]
tubes: {T: {agent: ammonia, marks: [0.1, 1000], unit: ppm, strokes: 1, stroke_time: 1 min, relative_sd: 10 %}}
pumps: {P: {}}
tasks: {turning: {}}
groups: {crew: {workers: [W1, W2, W3], agents: [ammonia]}}
rules: {short-term: [screening]}
tables: {readings: readings.csv, diary: diary.csv}
";

/// The assessment of a study with these rows of its diary, under a header, and these tubes: who, when, what was read.
fn assessed(diary: &str, tubes: &[(&str, &str, f64)]) -> Value {
    let stains: Vec<_> = tubes.iter().map(|(who, when, stain)| (*who, *when, stain.to_string())).collect();
    let stains: Vec<_> = stains.iter().map(|(who, when, stain)| (*who, *when, stain.as_str())).collect();
    noted(diary, &stains)
}

/// The same with the stains in the notation of the readings.
fn noted(diary: &str, tubes: &[(&str, &str, &str)]) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| std::fs::write(folder.path().join(name), text).unwrap();
    let row = |(i, (who, when, stain)): (usize, &(&str, &str, &str))| {
        format!("R{i},{who},turning,T,P,2027-03-09 {when},1,{stain}\n")
    };
    let rows: String = tubes.iter().enumerate().map(row).collect();
    write("study.yaml", STUDY);
    write("diary.csv", diary);
    write("readings.csv", &format!("id,worker,task,tube,pump,start,strokes,reading\n{rows}"));
    assessment(folder.path())
}

const BY_MINUTES: &str = "worker,shift,task,minutes\nW1,2027-03-09,turning,480\n";
const BY_CLOCK: &str = "worker,start,end,task\nW1,2027-03-09 06:00,2027-03-09 14:00,turning\n";

/// The tubes stand from 13:00 to the middles between them (13:02:30, 13:06:30, 13:10:30) and to 13:13:
/// (80 x 2.5 + 85 x 4 + 90 x 4 + 95 x 2.5) / 15. When the shift began is not told; 13:00 lies after 480 minutes from midnight.
#[test]
fn a_diary_by_minutes_leaves_no_tube_out_of_the_window() {
    let tubes = [("W1", "13:00", 80.0), ("W1", "13:04", 85.0), ("W1", "13:08", 90.0), ("W1", "13:12", 95.0)];
    let shift = assessed(BY_MINUTES, &tubes)["shifts"][0].clone();
    let value = shift["short_term"]["value"].as_f64().unwrap();
    assert_relative_eq!(
        value,
        (80.0 * 2.5 + 85.0 * 4.0 + 90.0 * 4.0 + 95.0 * 2.5) / 15.0,
        max_relative = 1e-12
    );
    assert_eq!(shift["short_term_window"]["start"], "2027-03-09 13:00");
    assert_eq!(shift["limits"][0]["verdict"], "above");
    assert_eq!((&shift["start"], &shift["end"]), (&Value::from("2027-03-09"), &Value::Null));
}

/// Five tubes over a quarter of an hour, all above twice the limit; a sixth, alone and higher, cannot take that back.
#[test]
fn a_lone_higher_tube_does_not_take_back_what_a_full_window_showed() {
    let mut tubes = vec![
        ("W1", "08:00", 80.0),
        ("W1", "08:03", 85.0),
        ("W1", "08:06", 90.0),
        ("W1", "08:09", 85.0),
        ("W1", "08:12", 80.0),
    ];
    let verdict = |tubes: &[(&str, &str, f64)]| {
        let limit = assessed(BY_CLOCK, tubes)["shifts"][0]["limits"][0].clone();
        (limit["verdict"].as_str().unwrap().to_owned(), limit["because"].as_str().unwrap().to_owned())
    };
    assert_eq!(verdict(&tubes).0, "above");
    tubes.push(("W1", "12:30", 95.0));
    let (found, because) = verdict(&tubes);
    assert!(found == "above" && because.contains("with 3 tubes or more"), "{found}: {because}");
    assert_eq!(verdict(&tubes[5..]).0, "undecided");
}

/// Three shifts far below the limit: by one tube each nothing is shown of the minutes between, by three tubes a window it is.
#[test]
fn windows_of_few_tubes_show_no_group_below() {
    let days = ["W1", "W2", "W3"].map(|who| format!("{who},2027-03-09 06:00,2027-03-09 14:00,turning\n"));
    let diary = format!("worker,start,end,task\n{}", days.concat());
    let verdict = |tubes: &[(&str, &str, f64)]| assessed(&diary, tubes)["groups"][0]["verdicts"][0].clone();
    let one = [("W1", "08:00", 1.0), ("W2", "08:05", 1.2), ("W3", "08:10", 0.9)];
    let found = verdict(&one);
    assert_eq!(found["verdict"], "undecided");
    let because = found["because"].as_str().unwrap();
    assert!(because.contains("in 3 of 3 shifts no window holds three tubes"), "{because}");
    assert!(found["to_settle"].as_str().unwrap().contains("measured in full"), "{found}");
    let screened = |tubes: &[(&str, &str, f64)]| assessed(&diary, tubes)["groups"][0]["screened"].clone();
    assert_eq!(screened(&one), 3);
    let mut many = Vec::new();
    for (who, from) in [("W1", 8), ("W2", 9), ("W3", 10)] {
        for minute in [0, 5, 10] {
            many.push((who, format!("{from:02}:{minute:02}"), 1.0 + 0.01 * f64::from(from + minute)));
        }
    }
    let many: Vec<(&str, &str, f64)> = many.iter().map(|(who, when, x)| (*who, when.as_str(), *x)).collect();
    assert_eq!(verdict(&many)["verdict"], "below");
    assert_eq!(screened(&many), 0);
}

/// Tubes past the last mark of 1000 over a quarter of an hour: it is at least that high, wherever else their last minute reaches into.
#[test]
fn tubes_past_the_last_mark_make_the_highest_window() {
    let tubes = [
        ("W1", "08:00", "5"),
        ("W1", "09:00", ">1000"),
        ("W1", "09:05", ">1000"),
        ("W1", "09:10", ">1000"),
        ("W1", "09:15", ">1000"),
        ("W1", "10:00", "5"),
    ];
    let shift = noted(BY_CLOCK, &tubes)["shifts"][0].clone();
    assert_relative_eq!(shift["short_term"]["low"].as_f64().unwrap(), 1000.0, max_relative = 1e-12);
    assert_eq!(shift["limits"][0]["verdict"], "above");
}

/// Equal tubes one after the other: of the many windows of one height that with the most tubes is the measured one.
#[test]
fn of_equally_high_windows_the_one_with_the_most_tubes_counts() {
    let tubes = [("W1", "08:00", 90.0), ("W1", "08:05", 90.0), ("W1", "08:10", 90.0), ("W1", "08:15", 90.0)];
    let shift = assessed(BY_CLOCK, &tubes)["shifts"][0].clone();
    assert_eq!(shift["limits"][0]["verdict"], "above");
    assert!(
        shift["short_term_window"]["readings"].as_array().unwrap().len() >= 3,
        "{}",
        shift["short_term_window"]
    );
}
