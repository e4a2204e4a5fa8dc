//! Every study through every writer: it works, nothing in it is infinite or undefined, and it gives the same bytes twice.

use fullshift_tests::{Ran, assessment, bytes_below, fixture, fullshift, studies_in};
use serde_json::Value;
use std::path::{Path, PathBuf};

fn every_study() -> Vec<PathBuf> {
    [studies_in("studies"), studies_in("worked")].concat()
}

fn assess(study: &Path, more: &[&str]) -> Ran {
    let mut words = vec!["assess".as_ref(), study.as_os_str()];
    words.extend(more.iter().map(AsRef::<std::ffi::OsStr>::as_ref));
    fullshift(&words)
}

#[test]
fn every_study_passes_its_check_without_an_error() {
    for study in every_study() {
        let ran = fullshift(&["check".as_ref(), study.as_os_str()]);
        assert_eq!(ran.code, 0, "{}:\n{}{}", study.display(), ran.out, ran.talk);
    }
}

#[test]
fn every_study_prints_the_same_page_twice() {
    for study in every_study() {
        let first = assess(&study, &[]);
        assert_eq!(first.code, 0, "{}:\n{}{}", study.display(), first.out, first.talk);
        assert!(!first.out.is_empty());
        assert!(!first.out.contains("NaN") && !first.out.contains("inf "), "{}", first.out);
        assert_eq!(first, assess(&study, &[]));
    }
}

#[test]
fn every_study_writes_the_same_files_twice() {
    for study in every_study() {
        let folder = tempfile::tempdir().unwrap();
        let [one, two] = ["one", "two"].map(|name| folder.path().join(name));
        for out in [&one, &two] {
            assert_eq!(assess(&study, &["--out", out.to_str().unwrap()]).code, 0, "{}", study.display());
        }
        let names = |out: &Path| -> Vec<(PathBuf, Vec<u8>)> {
            let below = bytes_below(out).into_iter();
            below.map(|(path, bytes)| (path.strip_prefix(out).unwrap().to_owned(), bytes)).collect()
        };
        let first = names(&one);
        let mut wanted =
            vec!["assessment.json", "field_quality.csv", "groups.csv", "readings.csv", "shifts.csv"];
        if !assessment(&study)["mixtures"].as_array().unwrap().is_empty() {
            wanted.insert(3, "mixtures.csv");
        }
        let found: Vec<&Path> = first.iter().map(|(name, _)| name.as_path()).collect();
        assert_eq!(found, wanted.into_iter().map(Path::new).collect::<Vec<_>>());
        assert_eq!(first, names(&two));
    }
}

#[test]
fn the_file_holds_what_json_on_the_terminal_holds() {
    for study in every_study() {
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(assess(&study, &["--out", folder.path().to_str().unwrap()]).code, 0);
        let file = std::fs::read_to_string(folder.path().join("assessment.json")).unwrap();
        assert_eq!(file.trim_end(), assess(&study, &["--format", "json"]).out.trim_end());
    }
}

/// A figure is a value or says why not; where it has ends they hold the value between them.
#[test]
fn every_figure_is_given_or_has_its_reason_and_lies_between_its_ends() {
    for study in every_study() {
        visit(&assessment(&study), &mut |object| {
            if let Some(reason) = object.get("not_given") {
                assert!(!reason.as_str().unwrap().is_empty());
            }
            let end = |name: &str| object.get(name).and_then(Value::as_f64);
            if let (Some(value), true) = (end("value"), object.contains_key("method")) {
                assert!(end("low").is_none_or(|low| low <= value * (1.0 + 1e-12)), "{object:?}");
                assert!(end("high").is_none_or(|high| high >= value * (1.0 - 1e-12)), "{object:?}");
                let both = end("low").is_some() && end("high").is_some();
                assert!(both || object.get("no_interval").is_some_and(Value::is_string), "{object:?}");
            }
        });
    }
}

fn visit(value: &Value, see: &mut impl FnMut(&serde_json::Map<String, Value>)) {
    match value {
        Value::Object(object) => {
            see(object);
            object.values().for_each(|inner| visit(inner, see));
        }
        Value::Array(items) => items.iter().for_each(|inner| visit(inner, see)),
        _ => {}
    }
}

#[test]
fn every_table_has_as_many_cells_in_each_row_as_in_its_header() {
    for study in every_study() {
        let assessed =
            fullshift_engine::assessment(&study, None).unwrap_or_else(|_| panic!("{}", study.display()));
        for table in fullshift_engine::tables(&assessed).unwrap() {
            let mut reader = csv::Reader::from_reader(&table.bytes[..]);
            let width = reader.headers().unwrap().len();
            let rows: Vec<_> = reader.records().map(|row| row.expect("an even table")).collect();
            assert!(rows.iter().all(|row| row.len() == width));
            let wanted = match table.name.as_str() {
                "readings.csv" => assessed.readings.len(),
                "shifts.csv" => assessed.shifts.len(),
                "mixtures.csv" => assessed.mixtures.len(),
                _ => rows.len(),
            };
            assert_eq!(rows.len(), wanted, "{}/{}", study.display(), table.name);
        }
    }
}

#[test]
fn semicolons_decimal_commas_crlf_and_a_byte_order_mark_change_no_figure() {
    let [plain, other] =
        ["composting-hall", "semicolon-decimal-comma"].map(|name| assessment(&fixture("studies").join(name)));
    for part in ["study", "shifts", "mixtures", "groups"] {
        assert_eq!(plain[part], other[part], "{part}");
    }
    let figures = |assessment: &Value| -> Vec<Value> {
        let readings = assessment["readings"].as_array().unwrap().iter();
        readings.map(|r| serde_json::json!([r["id"], r["shift"], r["low"], r["high"], r["used"]])).collect()
    };
    assert_eq!(figures(&plain), figures(&other));
}

/// The demo has the shape that its page promises.
#[test]
fn the_demo_has_twelve_shifts_of_seven_workers_and_two_substances() {
    let demo = assessment(&fixture("studies/composting-hall"));
    let shifts = demo["shifts"].as_array().unwrap();
    let ammonia: Vec<_> = shifts.iter().filter(|s| s["agent"] == "ammonia").collect();
    let mut workers: Vec<_> = shifts.iter().map(|s| s["worker"].as_str().unwrap()).collect();
    workers.sort_unstable();
    workers.dedup();
    assert_eq!((shifts.len(), workers.len(), demo["readings"].as_array().unwrap().len()), (24, 7, 139));
    assert_eq!(demo["mixtures"].as_array().unwrap().len(), 12);
    let lengths: Vec<f64> = ammonia.iter().map(|s| s["minutes"].as_f64().unwrap()).collect();
    assert_eq!(
        lengths.iter().filter(|&&minutes| minutes == 720.0).count(),
        1,
        "one shift lasts twelve hours"
    );
    let borrowed = |s: &&&Value| s["unsampled"].as_object().unwrap().contains_key("borrow");
    assert_eq!(ammonia.iter().filter(borrowed).count(), 1, "one shift borrows");
    let nights = ammonia.iter().filter(|s| {
        let [start, end] = ["start", "end"].map(|key| s[key].as_str().unwrap()[..10].to_owned());
        start != end
    });
    assert_eq!(nights.count(), 2, "two shifts cross midnight");
}

#[test]
fn a_group_that_a_study_does_not_have_stops_every_command() {
    let study = fixture("studies/composting-hall");
    let study = study.to_str().unwrap();
    for words in
        [&["check"][..], &["assess"], &["trace"], &["plan", "--seed", "1"], &["report", "--out", "r.html"]]
    {
        let ran = fullshift(&[words, &[study, "--group", "nonsense"]].concat());
        assert_eq!(ran.code, 2, "{words:?}: {}{}", ran.out, ran.talk);
        assert!(ran.talk.contains("there is no group `nonsense` in this study"), "{}", ran.talk);
        assert!(ran.talk.contains("Its groups are: hall-operators."), "{}", ran.talk);
    }
    assert_eq!(fullshift(&["check", study, "--group", "hall-operators"]).code, 0);
}
