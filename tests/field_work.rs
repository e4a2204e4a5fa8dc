//! Field quality: what the rules say, what a study decides about it, and what that does to the figures.

use fullshift_tests::{assessment, copy, fixture, fullshift};
use serde_json::Value;
use std::path::Path;

/// A copy of a study whose `study.yaml` ends with these lines more.
fn with_more(study: &str, more: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    copy(&fixture(study), folder.path());
    let file = folder.path().join("study.yaml");
    let text = std::fs::read_to_string(&file).unwrap();
    std::fs::write(&file, format!("{text}\n{more}\n")).unwrap();
    folder
}

/// The decision about every rule that qualifies a reading of a study.
fn decide(study: &Value, action: &str) -> String {
    let rules = study["field_quality"]["rules"].as_array().unwrap();
    assert!(!rules.is_empty());
    let rule = |rule: &Value| format!("{}: {{do: {action}, reason: a test}}", rule["name"].as_str().unwrap());
    format!("field_rules: {{{}}}", rules.iter().map(rule).collect::<Vec<_>>().join(", "))
}

/// Group, agent, kind and rule of every verdict, with the verdict.
fn verdicts(assessment: &Value) -> Vec<(Vec<Value>, Value)> {
    let groups = assessment["groups"].as_array().unwrap().iter();
    let of_group = |g: &Value| {
        let rules = g["verdicts"].as_array().unwrap().clone();
        let g = g.clone();
        rules.into_iter().map(move |rule| {
            let key = ["group", "agent", "kind"].map(|key| g[key].clone());
            ([key.to_vec(), vec![rule["rule"].clone()]].concat(), rule["verdict"].clone())
        })
    };
    groups.flat_map(of_group).collect()
}

/// A second way to the verdicts without the qualified readings: the study rejects them all.
#[test]
fn leaving_out_the_qualified_readings_is_the_same_as_rejecting_them() {
    for study in ["studies/composting-hall", "broken/times-bunched", "broken/read-too-late"] {
        let all = assessment(&fixture(study));
        let rejected = assessment(with_more(study, &decide(&all, "reject")).path());
        let [with, without] = [&all, &rejected].map(verdicts);
        let changed: Vec<Vec<Value>> = with
            .iter()
            .zip(&without)
            .filter(|(a, b)| a.1 != b.1)
            .map(|(a, b)| [a.0.clone(), vec![a.1.clone(), b.1.clone()]].concat())
            .collect();
        let told = all["field_quality"]["without_qualified"]["groups"].as_array().unwrap().iter();
        let keys = ["group", "agent", "kind", "rule", "verdict", "without"];
        let told: Vec<Vec<Value>> = told.map(|change| keys.map(|key| change[key].clone()).to_vec()).collect();
        assert_eq!(told, changed, "{study}");
        let used = |a: &Value| a["readings"].as_array().unwrap().iter().filter(|r| r["used"] == true).count();
        assert_eq!(all["field_quality"]["without_qualified"]["readings_left"], used(&rejected), "{study}");
    }
}

#[test]
fn ignoring_a_finding_changes_no_figure_and_leaves_no_mark() {
    let study = "studies/composting-hall";
    let all = assessment(&fixture(study));
    let ignored = assessment(with_more(study, &decide(&all, "ignore")).path());
    assert_eq!(all["groups"], ignored["groups"]);
    assert_eq!(ignored["field_quality"]["qualified"], 0);
    assert_eq!(ignored["field_quality"]["without_qualified"], Value::Null);
    let marks = |a: &Value| {
        let readings = a["readings"].as_array().unwrap().iter();
        readings.filter(|r| !r["qualified_by"].as_array().unwrap().is_empty()).count()
    };
    assert_eq!(
        (marks(&all) as u64, marks(&ignored)),
        (all["field_quality"]["qualified"].as_u64().unwrap(), 0)
    );
}

#[test]
fn a_rejected_reading_tells_the_rule_and_the_reason_and_is_in_no_figure() {
    let study = assessment(&fixture("broken/rule-rejects-readings"));
    for reading in study["readings"].as_array().unwrap() {
        assert_eq!(reading["used"], false);
        assert_eq!(reading["why_not"], "rejected for F013 leak-check-failed: the pump leaked all day");
    }
    assert_eq!(study["field_quality"]["rejected"], 6);
    assert_eq!(study["groups"][0]["n"], 0);
    let page = fullshift(&["assess".as_ref(), fixture("broken/rule-rejects-readings").as_os_str()]).out;
    assert!(page.contains("leak-check-failed rejected by the study: the pump leaked all day"), "{page}");
}

#[test]
fn what_lies_outside_the_diary_stops_the_study_unless_it_is_rejected() {
    let rejected = assessment(&fixture("broken/rule-rejects-what-lies-outside-the-diary"));
    let reading = &rejected["readings"][6];
    assert_eq!((&reading["used"], &reading["shift"]), (&Value::Bool(false), &Value::Null));
    assert_eq!(rejected["findings"][0]["severity"], "warning");
    assert_eq!(rejected["findings"][0]["decision"]["do"], "reject");
}

/// Counted by hand in the fixture: six readings and one spoiled tube of one type, one pump and day.
#[test]
fn tubes_leak_checks_and_disposal_are_counted() {
    let quality = assessment(&fixture("broken/spoiled-tube"))["field_quality"].clone();
    assert_eq!((&quality["tubes"][0]["drawn"], &quality["tubes"][0]["spoiled"]), (&7.into(), &1.into()));
    assert_eq!(quality["spoiled"][0]["id"], "R7");
    assert_eq!(quality["to_dispose"][0]["tubes"], 7);
    assert_eq!((&quality["leak_checks_done"], &quality["leak_checks_needed"]), (&1.into(), &1.into()));
    assert!(quality["disposal_caution"].as_str().unwrap().contains("local rules"));
}

/// Counted by hand: the evening's check serves both sides of midnight; a pump with two tube types needs two checks.
#[test]
fn a_night_needs_one_leak_check_and_a_second_tube_type_another() {
    let counts = |study: &str| {
        let quality = assessment(&fixture(study))["field_quality"].clone();
        (quality["leak_checks_done"].as_u64().unwrap(), quality["leak_checks_needed"].as_u64().unwrap())
    };
    assert_eq!(counts("broken/leak-check-of-the-evening-before"), (1, 1));
    assert_eq!(counts("broken/leak-check-not-repeated"), (1, 2));
    assert_eq!(counts("broken/no-leak-checks-at-all"), (0, 1));
}

/// Names of the readings that a finding qualifies.
fn qualified(study: &str, by: &str) -> Vec<String> {
    let all = assessment(&fixture(study))["readings"].as_array().unwrap().clone();
    let named = |r: &&Value| r["qualified_by"].as_array().unwrap().iter().any(|name| name == by);
    all.iter().filter(named).map(|r| r["id"].as_str().unwrap().to_owned()).collect()
}

/// Read off the fixture: the pump passed at 05:50 and 07:00, failed at 10:30, and passed at 10:40 and 14:10.
#[test]
fn a_failed_leak_check_throws_doubt_on_what_was_drawn_since_the_pump_last_passed_one() {
    let doubtful = qualified("broken/leak-check-failed-after", "leak-check-failed-after");
    assert_eq!(doubtful, ["R2", "R3", "R4"]);
}

/// Read off the fixture, whose sheet names amines, methanol and mercaptans: R1 has amine, R2 the same in capitals, R4 ethanol,
/// which the sheet of another tube names, R6 what parts from amines by two letters; mercaptan is there all day beside R7 to R9.
#[test]
fn a_substance_under_another_name_than_on_the_sheet_is_told_unless_only_its_capitals_differ() {
    let study = "broken/interferent-misspelt";
    assert_eq!(qualified(study, "interferent-misspelt"), ["R1", "R7", "R8", "R9"]);
    assert_eq!(qualified(study, "interferent-present"), ["R2"]);
}

/// Read off the fixture: the blank of lot 2611-M shows 8, that of lot 2612-M nothing; R3 tells no lot, R7 to R9 are of the next day.
#[test]
fn a_blank_with_a_stain_throws_doubt_on_its_lot_and_day_and_no_further() {
    assert_eq!(qualified("broken/blank-with-stain", "blank-with-stain"), ["B1", "R1", "R3"]);
}

/// Worked out by hand: two tubes of 10 % explain a factor of exp(1.96 x 1.4142 x 0.09975) = 1.32. D1 to R1 is 15 / 12 = 1.25, D2 to R2
/// 24 / 15 = 1.60, D4 to the upper end of R4 25 / 20 = 1.25, D5 to the first mark 8 / 5 = 1.60; D3 is 20 minutes
/// from R3. Of those that nobody wore, D6 stands beside R7 at the gate, D7 tells no place, D8 another.
#[test]
fn duplicates_are_held_against_the_reading_beside_them() {
    let ran = fullshift(&["check".as_ref(), fixture("broken/duplicates-compared").as_os_str()]).out;
    let told = ran.replace("\n    ", " ");
    let found = |words: &str| assert!(told.contains(words), "no `{words}` in {told}");
    found(
        "duplicate `D2` and `R2` beside it differ by a factor of 1.60; the scatter of NH3-M explains one of 1.32",
    );
    found("duplicate `D5` and `R5` beside it differ by a factor of 1.60");
    found("duplicate `D3` was drawn beside no reading of W1 with NH3-M");
    found("duplicate `D7` was drawn beside no reading worn by nobody with NH3-M");
    found("duplicate `D8` was drawn beside no reading at office with NH3-M");
    assert_eq!((told.matches("F028").count(), told.matches("F029").count()), (2, 3), "{told}");
}

#[test]
fn the_table_of_the_field_work_holds_the_counts_of_the_assessment() {
    let folder = tempfile::tempdir().unwrap();
    let study = fixture("studies/composting-hall");
    let out = folder.path().to_str().unwrap();
    assert_eq!(fullshift(&["assess", study.to_str().unwrap(), "--out", out]).code, 0);
    let mut reader = csv::Reader::from_path(folder.path().join("field_quality.csv")).unwrap();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let sum = |what: &str| -> u64 {
        rows.iter().filter(|row| &row[0] == what).map(|row| row[3].parse::<u64>().unwrap()).sum()
    };
    let quality = assessment(&study)["field_quality"].clone();
    let of = |key: &str| quality[key].as_u64().unwrap();
    assert_eq!(sum("tubes drawn"), of("readings") + quality["spoiled"].as_array().unwrap().len() as u64);
    assert_eq!(sum("tubes to dispose of"), sum("tubes drawn"));
    assert_eq!((sum("tubes qualified"), sum("tubes rejected")), (of("qualified"), of("rejected")));
    assert_eq!(sum("leak checks"), of("leak_checks_done"));
}

/// The column is counted in the file itself: characters before the cell, not bytes.
#[test]
fn editors_get_a_line_a_place_with_columns_in_characters() {
    let study = fixture("broken/column-after-accents-in-a-field-rule");
    let text = std::fs::read_to_string(study.join("readings.csv")).unwrap();
    let line = text.lines().nth(2).unwrap();
    let column = line.chars().count() - "9 min".len() + 1;
    assert_ne!(column, line.len() - "9 min".len() + 1, "the fixture has characters of more than one byte");
    let ran = fullshift(&["check", study.to_str().unwrap(), "--format", "lines"]);
    let place = study.join("readings.csv").display().to_string();
    let wanted = format!("{place}:3:{column}: warning F009 read later than the 5 min");
    assert!(ran.out.starts_with(&wanted), "{}", ran.out);
    assert_eq!((ran.code, ran.out.lines().count()), (0, 1));
}

#[test]
fn lines_of_a_study_with_errors_end_with_exit_code_1() {
    let ran = fullshift(&[
        "check".as_ref(),
        fixture("broken/bad-choice").as_os_str(),
        "--format".as_ref(),
        "lines".as_ref(),
    ]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.lines().all(|line| line.contains(": error F207 ")), "{}", ran.out);
}

#[test]
fn a_shift_of_tasks_that_count_as_nothing_is_left_out_with_the_reason() {
    let folder = tempfile::tempdir().unwrap();
    copy(&fixture("studies/one-reading"), folder.path());
    add_zero_shift(folder.path());
    let study = assessment(folder.path());
    let left_out = study["groups"][0]["left_out"].as_array().unwrap();
    assert_eq!(left_out.len(), 1, "{left_out:?}");
    assert_eq!(left_out[0]["shift"], "W1/2027-03-12");
    assert!(left_out[0]["reason"].as_str().unwrap().contains("that is no measurement"));
    let page = fullshift(&["assess".as_ref(), folder.path().as_os_str()]).out;
    assert!(page.contains("1 left out"), "{page}");
    assert!(page.contains("that is no measurement"), "{page}");
}

fn add_zero_shift(study: &Path) {
    let append = |name: &str, line: &str| {
        let text = std::fs::read_to_string(study.join(name)).unwrap();
        std::fs::write(study.join(name), format!("{}\n{line}\n", text.trim_end())).unwrap();
    };
    append("diary.csv", "W1,2027-03-12 06:00,2027-03-12 14:00,paperwork");
    let file = study.join("study.yaml");
    let text = std::fs::read_to_string(&file).unwrap();
    let with_task = text.replace("\ntasks: {", "\ntasks: {paperwork: {unsampled: zero}, ");
    assert_ne!(text, with_task, "the study lists its tasks on one line");
    std::fs::write(&file, with_task).unwrap();
}
