//! The plan of a visit, with and without readings.

use calamine::{Reader, Xlsx, open_workbook};
use fullshift_tests::{bytes_below, copy, fixture, fullshift, studies_in};
use serde_json::Value;
use std::path::Path;

fn planned(study: &Path, more: &[&str]) -> Value {
    let mut words = vec!["plan", study.to_str().unwrap(), "--format", "json"];
    words.extend(more);
    let ran = fullshift(&words);
    assert_eq!(ran.code, 0, "{}:\n{}{}", study.display(), ran.out, ran.talk);
    serde_json::from_str(&ran.out).unwrap()
}

fn demo(more: &[&str]) -> Value {
    planned(&fixture("studies/composting-hall"), more)
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap_or_else(|| panic!("{value} is no list"))
}

#[test]
fn every_study_can_be_planned_and_the_same_seed_gives_the_same_bytes() {
    for study in [studies_in("studies"), studies_in("worked")].concat() {
        let once = fullshift(&["plan".as_ref(), study.as_os_str(), "--seed".as_ref(), "7".as_ref()]);
        assert_eq!(once.code, 0, "{}:\n{}{}", study.display(), once.out, once.talk);
        assert!(!once.out.contains("NaN") && !once.out.contains("inf "), "{}", once.out);
        assert!(once.out.contains("--seed 7 repeats the plan"), "{}", once.out);
        assert_eq!(once, fullshift(&["plan".as_ref(), study.as_os_str(), "--seed".as_ref(), "7".as_ref()]));
    }
}

#[test]
fn without_a_seed_one_is_made_and_printed_and_repeats_the_plan() {
    let made = demo(&[]);
    let seed = made["wishes"]["seed"].as_u64().unwrap().to_string();
    assert_eq!(made, demo(&["--seed", &seed]));
}

#[test]
fn another_seed_draws_other_workers_and_times() {
    let [one, two] = ["1", "2"].map(|seed| demo(&["--seed", seed])["groups"][0].clone());
    assert_ne!(one["drawn"], two["drawn"]);
    assert_ne!(one["visits"][0]["times"], two["visits"][0]["times"]);
    assert_eq!(one["sizes"], two["sizes"]);
}

/// 11 people, the highest 10 % are 2 of them: 8 drawn miss both with 3 x 2 / (11 x 10) = 6/110 = 5.45 %, 7 with 12/110 = 10.9 %.
#[test]
fn eight_of_eleven_workers_are_drawn_for_one_of_the_highest_tenth() {
    let plan = demo(&["--seed", "1"]);
    let group = &plan["groups"][0];
    assert_eq!((group["population"].as_u64(), group["named"].as_u64()), (Some(11), Some(7)));
    let used: Vec<&Value> = list(&group["sizes"]).iter().filter(|size| size["used"] == true).collect();
    assert_eq!(used.len(), 1);
    assert_eq!((used[0]["highest_workers"].as_u64(), used[0]["workers"].as_u64()), (Some(2), Some(8)));
    assert!((used[0]["missed"].as_f64().unwrap() - 6.0 / 110.0).abs() < 1e-12);
    // Table 3.1 of the manual (recalled) has 10 for 11 workers.
    assert_eq!(used[0]["as_printed"].as_u64(), Some(10));
    let mut numbers: Vec<u64> = list(&group["drawn"]).iter().map(|d| d["number"].as_u64().unwrap()).collect();
    numbers.sort_unstable();
    numbers.dedup();
    assert_eq!(numbers.len(), 8);
}

#[test]
fn times_lie_in_their_task_a_draw_apart_and_two_to_a_task() {
    let plan = demo(&["--seed", "3", "--times", "12"]);
    for visit in list(&plan["groups"][0]["visits"]) {
        let times = list(&visit["times"]);
        assert_eq!(times.len(), 12, "{visit}");
        let minutes: Vec<f64> = times.iter().map(|t| t["minutes"].as_f64().unwrap()).collect();
        assert!(minutes.windows(2).all(|w| w[1] > w[0]), "{minutes:?}");
        let mut tasks: Vec<&str> = times.iter().map(|t| t["task"].as_str().unwrap()).collect();
        tasks.sort_unstable();
        assert!(tasks.chunk_by(|a, b| a == b).all(|same| same.len() >= 2), "{tasks:?}");
        // The office counts as zero on the user's word: no tube is drawn there.
        assert!(!tasks.contains(&"office"));
    }
}

/// The demo draws 8 shifts of 8 times, two substances: 64 tubes of each, a tenth more as spares.
#[test]
fn tubes_are_counted_with_their_spares_and_boxes() {
    let folder = tempfile::tempdir().unwrap();
    copy(&fixture("studies/composting-hall"), folder.path());
    let file = folder.path().join("study.yaml");
    let text = std::fs::read_to_string(&file).unwrap();
    std::fs::write(&file, text.replace("    diameter: 5 mm\n", "    diameter: 5 mm\n    per_box: 5\n"))
        .unwrap();
    let plan = planned(folder.path(), &["--seed", "1", "--spares", "25"]);
    let tubes = list(&plan["groups"][0]["tubes"]);
    let of = |agent: &str| -> u64 {
        tubes.iter().filter(|t| t["agent"] == agent).map(|t| t["draws"].as_u64().unwrap()).sum()
    };
    assert_eq!((of("ammonia"), of("hydrogen-sulphide")), (64, 64));
    for need in tubes {
        let [draws, spares, size, boxes] =
            ["draws", "spares", "box_size", "boxes"].map(|key| need[key].as_u64().unwrap());
        assert_eq!(spares, draws.div_ceil(4), "{need}");
        assert_eq!((size, boxes), (5, (draws + spares).div_ceil(5)), "{need}");
    }
}

/// scipy.stats.nct: GSD 2 and a 95th percentile at half the limit; the 70 % and the 95 % limit of 6, 12 and 30 shifts.
#[test]
fn the_chances_are_those_of_the_noncentral_t_distribution() {
    let folder = tempfile::tempdir().unwrap();
    copy(&fixture("studies/composting-hall"), folder.path());
    let plan = planned(folder.path(), &["--seed", "1", "--gsd", "2", "--p95", "50"]);
    let outlook = &plan["groups"][0]["outlooks"][0];
    assert!((outlook["gsd"].as_f64().unwrap() - 2.0).abs() < 1e-12);
    assert!((outlook["p95"].as_f64().unwrap() - 10.0).abs() < 1e-9);
    let chance = |rule: &str, n: u64| {
        let rule = list(&outlook["rules"]).iter().find(|r| r["rule"] == rule).unwrap();
        let at = list(&outlook["shifts"]).iter().position(|m| m.as_u64() == Some(n)).unwrap();
        rule["chances"][at].as_f64()
    };
    for (rule, n, expected) in EXPECTED {
        let found = chance(rule, n).unwrap();
        assert!((found - expected).abs() < 1e-9, "{rule} {n}: {found} {expected}");
    }
    assert_eq!(chance("tolerance", 5), None, "the rule needs six shifts");
    assert_eq!(chance("screening", 6), None, "the rule takes five shifts at most");
}

#[test]
fn a_study_without_readings_passes_its_check_and_is_planned() {
    let folder = tempfile::tempdir().unwrap();
    let study = folder.path().join("new");
    assert_eq!(fullshift(&["start", study.to_str().unwrap()]).code, 0);
    let checked = fullshift(&["check", study.to_str().unwrap()]);
    assert_eq!(checked.code, 0, "{}", checked.out);
    assert!(checked.out.contains("note F312 no-readings-yet"), "{}", checked.out);
    let plan = planned(&study, &["--seed", "1"]);
    let basis = plan["groups"][0]["outlooks"][0]["basis"].as_str().unwrap();
    assert!(basis.contains("a proposal of this program"), "{basis}");
    assert_eq!(list(&plan["groups"][0]["visits"]).len(), 1);
}

#[test]
fn without_a_diary_times_are_minutes_into_the_shift() {
    let folder = tempfile::tempdir().unwrap();
    let study = folder.path().join("new");
    assert_eq!(fullshift(&["start", study.to_str().unwrap()]).code, 0);
    std::fs::write(study.join("diary.csv"), "worker,start,end,task\n").unwrap();
    let plan = planned(&study, &["--seed", "1"]);
    let visit = &plan["groups"][0]["visits"][0];
    assert!(visit["shift_as"].is_null());
    for time in list(&visit["times"]) {
        let at = time["at"].as_str().unwrap();
        assert!(at.starts_with('+') && at.ends_with(" min"), "{at}");
        assert!(time["minutes"].as_f64().unwrap() <= 478.0);
    }
}

#[test]
fn five_files_are_written_whole_and_the_same_twice() {
    let folder = tempfile::tempdir().unwrap();
    let [one, two] = ["one", "two"].map(|name| folder.path().join(name));
    for out in [&one, &two] {
        let study = fixture("studies/composting-hall");
        let words = ["plan", study.to_str().unwrap(), "--seed", "1", "--out", out.to_str().unwrap()];
        assert_eq!(fullshift(&words).code, 0);
    }
    let files = |out: &Path| -> Vec<(String, Vec<u8>)> {
        let name = |path: &Path| path.file_name().unwrap().to_string_lossy().into_owned();
        bytes_below(out).into_iter().map(|(path, bytes)| (name(&path), bytes)).collect()
    };
    let first = files(&one);
    let names: Vec<&str> = first.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["chances.csv", "plan.json", "times.csv", "tubes.csv", "workers.csv"]);
    assert_eq!(first, files(&two));
    for (name, bytes) in first.iter().filter(|(name, _)| name.ends_with(".csv")) {
        let mut reader = csv::Reader::from_reader(&bytes[..]);
        let rows = reader.records().filter(|row| row.is_ok()).count();
        assert!(rows > 0, "{name} has no rows");
    }
}

#[test]
fn more_workers_than_there_are_cannot_be_drawn() {
    let study = fixture("studies/composting-hall");
    let ran = fullshift(&["plan", study.to_str().unwrap(), "--workers", "12"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.talk.contains("12 workers cannot be drawn from the 11 of group `hall-operators`"),
        "{}",
        ran.talk
    );
    assert!(ran.out.is_empty());
}

#[test]
fn a_study_with_errors_is_not_planned() {
    let study = fixture("broken/unknown-tube");
    let ran = fullshift(&["plan", study.to_str().unwrap(), "--seed", "1"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.is_empty() && ran.talk.contains("unknown-name"), "{}", ran.talk);
}

/// Rule, number of shifts, chance of `below`.
const EXPECTED: [(&str, u64, f64); 8] = [
    ("tolerance", 6, 0.7678144340507705),
    ("tolerance", 12, 0.9224682938483104),
    ("tolerance", 30, 0.9968553263946253),
    ("exceedance", 6, 0.24264388026276085),
    ("exceedance", 12, 0.49223207438109934),
    ("exceedance", 30, 0.9007662913942105),
    ("screening", 3, 0.015471633365167508),
    ("screening", 5, 0.09661303990188148),
];

/// Its own pages are those of `sheet`, and the times of the page are those of the table.
#[test]
fn a_field_workbook_takes_the_pages_of_the_plan_and_is_read_as_a_table() {
    let folder = tempfile::tempdir().unwrap();
    copy(&fixture("studies/composting-hall"), folder.path());
    let (book, tables) = (folder.path().join("visit.xlsx"), folder.path().join("plan"));
    let words = [
        "plan",
        folder.path().to_str().unwrap(),
        "--seed",
        "7",
        "--out",
        tables.to_str().unwrap(),
        "--sheet",
        book.to_str().unwrap(),
    ];
    let ran = fullshift(&words);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.talk);
    let mut read: Xlsx<_> = open_workbook(&book).unwrap();
    let page = read.worksheet_range("plan times").unwrap();
    let mut table = csv::Reader::from_path(tables.join("times.csv")).unwrap();
    let at = |row: &csv::StringRecord| row[3].to_owned();
    let wanted: Vec<String> = table.records().map(|row| at(&row.unwrap())).collect();
    let found: Vec<String> = page.rows().skip(1).map(|row| row[3].to_string()).collect();
    assert!(!wanted.is_empty());
    assert_eq!(found, wanted);
    let yaml = std::fs::read_to_string(folder.path().join("study.yaml")).unwrap();
    let yaml = yaml.replace("leak_checks: leak_checks.csv", "leak_checks: visit.xlsx");
    std::fs::write(folder.path().join("study.yaml"), yaml).unwrap();
    let checked = fullshift(&["check".as_ref(), folder.path().as_os_str()]);
    assert!(!checked.out.contains("plan times"), "{}", checked.out);
    assert_eq!(fullshift(&words).code, 2, "what is filled in is not overwritten");
}
