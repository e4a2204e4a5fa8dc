//! A study that is not where it was looked for.

use fullshift_tests::fullshift;
use std::fs;

/// What is told of `asked` beside a folder `hall` with these files, on one line.
fn told(names: &[&str], asked: &str) -> String {
    let home = tempfile::tempdir().unwrap();
    fs::create_dir(home.path().join("hall")).unwrap();
    for name in names {
        fs::write(home.path().join("hall").join(name), "").unwrap();
    }
    let ran = fullshift(&["check".as_ref(), home.path().join(asked).as_os_str()]);
    assert_eq!(ran.code, 1, "{}", ran.out);
    let line = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    line.replace(&home.path().display().to_string(), "HOME")
}

#[test]
fn a_study_file_of_nearly_its_name_is_named() {
    for name in ["study.yml", "study.yaml.txt", "Study.yaml"] {
        let line = told(&[name, "readings.csv"], "hall");
        assert!(line.contains(&format!("help: `{name}` lies there: call it study.yaml")), "{line}");
    }
}

#[test]
fn start_is_proposed_only_where_it_would_lay_a_study_down() {
    for (names, asked, proposed) in [
        (&[][..], "hall", true),
        (&["notes.txt"][..], "hall/study.yaml", true),
        (&["readings.csv"][..], "hall", false),
    ] {
        let line = told(names, asked);
        assert!(line.contains("there is no study.yaml here"), "{line}");
        assert_eq!(line.contains("fullshift start"), proposed, "{line}");
    }
}

#[test]
fn a_folder_that_is_missing_is_told_with_the_place_that_was_looked_at() {
    let line = told(&[], "hal");
    assert!(line.contains("there is no folder and no file HOME/hal help: did you mean `hall`?"), "{line}");
    let line = told(&[], "nowhere");
    assert!(line.contains("no file HOME/nowhere help: give the folder that holds study.yaml"), "{line}");
    let line = told(&[], "no/hall");
    assert!(line.contains("there is no folder HOME/no help: check the name"), "{line}");
}
