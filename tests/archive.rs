//! Archives: studies whose tables are walked portion by portion.

use fullshift_tests::{copy, fixture, fullshift, program};
use serde_json::Value;
use std::path::Path;

/// The same invented study, once as text that is read whole, once as folders of Parquet that are walked.
fn both() -> [Value; 2] {
    ["text", "packed"].map(|name| json(&["assess", &path(name), "--format", "json"]))
}

fn path(name: &str) -> String {
    fixture("archives").join(name).display().to_string()
}

fn json(words: &[&str]) -> Value {
    let ran = fullshift(words);
    assert_eq!(ran.code, 0, "{words:?}\n{}{}", ran.out, ran.talk);
    serde_json::from_str(&ran.out).unwrap()
}

fn groups(value: &Value) -> impl Iterator<Item = &Value> {
    value["groups"].as_array().unwrap().iter()
}

/// Every figure of a profile without its working.
fn figures(group: &Value) -> Value {
    let mut profile = group["profile"].clone();
    for figure in profile.as_object_mut().unwrap().values_mut() {
        figure.as_object_mut().unwrap().remove("trail");
    }
    profile
}

fn verdicts(group: &Value) -> Vec<[&str; 3]> {
    let said = |v: &'_ Value| ["rule", "verdict", "because"].map(|key| v[key].as_str().unwrap().to_owned());
    let all: Vec<[String; 3]> = group["verdicts"].as_array().unwrap().iter().map(said).collect();
    all.into_iter().map(|said| said.map(|text| &*text.leak())).collect()
}

#[test]
fn an_archive_says_of_its_groups_what_a_study_says() {
    let [study, archive] = both();
    assert_eq!(groups(&study).count(), 12);
    for (whole, outline) in groups(&study).zip(groups(&archive)) {
        for key in ["group", "agent", "kind", "n", "censored"] {
            assert_eq!(whole[key], outline[key], "{key}");
        }
        assert_eq!(figures(whole), outline["profile"]);
        assert_eq!(verdicts(whole), verdicts(outline));
        for key in ["shapiro_wilk_ln", "p95_by_rank"] {
            let value = |group: &Value| group["fit"][key]["value"].clone();
            assert_eq!(value(whole), value(outline), "{key}");
        }
    }
    assert_eq!(archive["readings"], 576);
    assert_eq!(archive["shifts"], 96);
}

#[test]
fn a_group_of_an_archive_is_assessed_as_a_study() {
    let [study, _] = both();
    let group = json(&["assess", &path("packed"), "--group", "hall-4", "--format", "json"]);
    let own: Vec<&Value> = groups(&study).filter(|g| g["group"] == "hall-4").collect();
    assert_eq!(
        groups(&group).map(figures).collect::<Vec<_>>(),
        own.iter().map(|g| figures(g)).collect::<Vec<_>>()
    );
    let shifts = |value: &Value| {
        let all = value["shifts"].as_array().unwrap().iter();
        all.filter(|s| s["group"] == "hall-4").map(|s| s["twa"]["value"].clone()).collect::<Vec<_>>()
    };
    assert_eq!(shifts(&group).len(), 16);
    assert_eq!(shifts(&group), shifts(&study));
}

#[test]
fn the_tables_of_an_archive_hold_every_group_and_shift() {
    let folder = tempfile::tempdir().unwrap();
    let out = |name: &str| folder.path().join(name).display().to_string();
    for (format, ending) in [("csv", "csv"), ("parquet", "parquet")] {
        let ran = fullshift(&["assess", &path("packed"), "--out", &out(format), "--tables", format]);
        assert_eq!(ran.code, 0, "{}", ran.talk);
        let mut names: Vec<String> = Path::new(&out(format))
            .read_dir()
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        let tables = ["groups", "shifts"].map(|table| format!("{table}.{ending}"));
        assert_eq!(names, [tables[0].as_str(), "overview.json", tables[1].as_str()]);
    }
    let ran = fullshift(&["assess", &path("text"), "--out", &out("whole")]);
    assert_eq!(ran.code, 0, "{}", ran.talk);
    let column = |folder: &str, name: &str| {
        let mut reader = csv::Reader::from_path(Path::new(&out(folder)).join("shifts.csv")).unwrap();
        let at = reader.headers().unwrap().iter().position(|h| h == name).unwrap();
        reader.records().map(|row| row.unwrap()[at].to_owned()).collect::<Vec<_>>()
    };
    for name in ["shift", "group", "twa", "twa_low", "twa_high", "short_term_high", "twa_verdict"] {
        assert_eq!(column("csv", name), column("whole", name), "{name}");
    }
    assert_eq!(column("csv", "shift").len(), 96);
}

/// What a rule looks at beside the profile is worked out for an archive too, and the test of single shifts.
#[test]
fn rules_that_look_further_say_of_an_archive_what_they_say_of_a_study() {
    let folder = tempfile::tempdir().unwrap();
    let [study, archive] = ["text", "packed"].map(|name| {
        let own = folder.path().join(name);
        copy(&fixture("archives").join(name), &own);
        let file = own.join("study.yaml");
        let text = std::fs::read_to_string(&file).unwrap();
        let rules = text.replace("twa: [tolerance,", "twa: [shift-sae, posterior, individual, tolerance,");
        assert_ne!(rules, text);
        std::fs::write(&file, rules).unwrap();
        let out = folder.path().join(format!("{name}-out")).display().to_string();
        let ran = fullshift(&["assess", &own.display().to_string(), "--out", &out]);
        assert_eq!(ran.code, 0, "{}", ran.talk);
        let mut reader = csv::Reader::from_path(Path::new(&out).join("shifts.csv")).unwrap();
        let at = reader.headers().unwrap().iter().position(|h| h == "twa_shift_sae_verdict").unwrap();
        let single: Vec<String> = reader.records().map(|row| row.unwrap()[at].to_owned()).collect();
        (json(&["assess", &own.display().to_string(), "--format", "json"]), single)
    });
    assert_eq!((study.1.len(), &study.1), (96, &archive.1));
    assert!(study.1.iter().any(|verdict| !verdict.is_empty()));
    for (whole, outline) in groups(&study.0).zip(groups(&archive.0)) {
        assert_eq!(verdicts(whole), verdicts(outline));
    }
    let said: Vec<_> = groups(&archive.0).flat_map(verdicts).filter(|v| v[0] == "posterior").collect();
    assert!(!said.is_empty() && said.iter().all(|v| v[2].starts_with("the chance that")), "{said:?}");
}

#[test]
fn threads_change_no_byte() {
    let with = |threads: &str| {
        let ran = program()
            .args(["assess", &path("packed"), "--format", "json"])
            .env("RAYON_NUM_THREADS", threads)
            .output()
            .unwrap();
        assert!(ran.status.success());
        ran.stdout
    };
    assert!(with("1") == with("7"));
}

#[test]
fn a_page_of_single_shifts_asks_for_a_group() {
    let out = tempfile::tempdir().unwrap();
    let file = out.path().join("r.html").display().to_string();
    let ran = fullshift(&["report", &path("packed"), "--out", &file]);
    assert_eq!(ran.code, 1);
    assert!(ran.talk.contains("F107") && ran.talk.contains("--group hall-1"), "{}", ran.talk);
    let ran = fullshift(&["report", &path("packed"), "--out", &file, "--group", "hall-2"]);
    assert_eq!(ran.code, 0, "{}", ran.talk);
    let ran = fullshift(&["trace", &path("packed"), "--group", "hall-2", "hall-2/ammonia/twa/p95"]);
    assert_eq!(ran.code, 0, "{}", ran.talk);
    let ran = fullshift(&["assess", &path("packed"), "--group", "hall2"]);
    assert!(ran.code == 1 && ran.talk.contains("hall-2"), "{}", ran.talk);
}

/// A text of more than 1 MiB: 24,000 readings of one group, spread over the pieces in which it is read.
fn long(folder: &Path, change: impl Fn(&mut Vec<String>)) -> String {
    copy(&fixture("archives").join("text"), folder);
    let read = |name: &str| std::fs::read_to_string(folder.join(name)).unwrap();
    let mut readings: Vec<String> = vec!["id,worker,task,tube,pump,start,strokes,reading".to_owned()];
    let mut diary = vec!["worker,start,end,task".to_owned()];
    for day in 0..250 {
        let date = format!("20{:02}-{:02}-{:02}", 10 + day / 28 / 12, 1 + day / 28 % 12, 1 + day % 28);
        for worker in ["W11", "W12", "W21", "W22"] {
            diary.push(format!("{worker},{date} 06:00,{date} 14:00,turning"));
            for reading in 0..24 {
                let (hour, minute) = (6 + reading / 3, 20 * (reading % 3) + day % 17);
                let pump = if worker < "W2" { "P1" } else { "P2" };
                let id = format!("{worker}-{day}-{reading}");
                let value = 2 + (day * 7 + reading * 13) % 60;
                readings
                    .push(format!("{id},{worker},turning,NH3,{pump},{date} {hour:02}:{minute:02},1,{value}"));
            }
        }
    }
    change(&mut readings);
    std::fs::write(folder.join("readings.csv"), readings.join("\n")).unwrap();
    std::fs::write(folder.join("diary.csv"), diary.join("\n")).unwrap();
    assert!(read("readings.csv").len() > 1 << 20);
    folder.display().to_string()
}

#[test]
fn the_order_of_the_rows_of_an_archive_does_not_matter() {
    let (one, other) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let plain = long(one.path(), |_| ());
    let shuffled = long(other.path(), |rows| {
        let header = rows.remove(0);
        let count = rows.len();
        // A step without a common factor with the count visits every row once.
        *rows = (0..count).map(|i| rows[i * 7919 % count].clone()).collect();
        rows.insert(0, header);
    });
    let [plain, shuffled] = [plain, shuffled].map(|study| json(&["assess", &study, "--format", "json"]));
    assert_eq!(plain["readings"], 24_000);
    assert_eq!(plain["groups"], shuffled["groups"]);
}

#[test]
fn a_reading_of_nobody_belongs_to_no_group_of_an_archive() {
    let folder = tempfile::tempdir().unwrap();
    let study = long(folder.path(), |rows| {
        rows.iter_mut().for_each(|row| row.push(','));
        rows[0].push_str("purpose");
        rows[20_000] = "A1,,,NH3,P1,2011-05-05 08:00,1,20,area".to_owned();
    });
    let ran = fullshift(&["check", &study]);
    assert_eq!(ran.code, 1);
    for words in
        ["readings.csv:20001", "a reading without `worker` belongs to no group", "a study of their own"]
    {
        assert!(ran.out.contains(words), "{words} is missing:\n{}", ran.out);
    }
}

#[test]
fn what_is_wrong_in_an_archive_is_told_at_its_line_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let study = long(folder.path(), |rows| {
        rows[20_000] = rows[20_000].replace(",turning,", ",tuning,");
        rows[23_000] = rows[10].clone();
    });
    let out = folder.path().join("out");
    let ran = fullshift(&["assess", &study, "--out", &out.display().to_string()]);
    assert_eq!(ran.code, 1);
    for words in ["readings.csv:20001", "no task called `tuning`", "did you mean `turning`"] {
        assert!(ran.talk.contains(words), "{words} is missing:\n{}", ran.talk);
    }
    let twice = |talk: &str| talk.contains("stands twice") && talk.contains("readings.csv:23001");
    assert!(twice(&ran.talk), "{}", ran.talk);
    let of_group = fullshift(&["assess", &study, "--group", "hall-1", "--out", &out.display().to_string()]);
    assert!(of_group.code == 1 && twice(&of_group.talk), "{}", of_group.talk);
    assert!(!out.exists());
}
