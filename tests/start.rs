//! `start`: the demo as it stands in the fixtures, and a skeleton that one reading makes whole.

use fullshift_tests::{bytes_below, fixture, fullshift};
use std::path::Path;

fn start(folder: &Path, more: &[&str]) -> fullshift_tests::Ran {
    let mut words = vec!["start".as_ref(), folder.as_os_str()];
    words.extend(more.iter().map(AsRef::<std::ffi::OsStr>::as_ref));
    fullshift(&words)
}

fn check(folder: &Path) -> fullshift_tests::Ran {
    fullshift(&["check".as_ref(), folder.as_os_str()])
}

#[test]
fn the_demo_that_start_lays_down_is_the_fixture_byte_for_byte() {
    let folder = tempfile::tempdir().unwrap();
    let laid = folder.path().join("demo");
    let ran = start(&laid, &["--demo"]);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.talk);
    let own = fixture("studies/composting-hall");
    for (path, bytes) in bytes_below(&own) {
        let there = laid.join(path.strip_prefix(&own).unwrap());
        assert!(std::fs::read(&there).is_ok_and(|b| b == bytes), "{} differs", there.display());
    }
    assert_eq!(check(&laid).code, 0);
}

#[test]
fn the_skeleton_passes_its_check_once_one_reading_is_filled_in() {
    let folder = tempfile::tempdir().unwrap();
    let laid = folder.path().join("mine");
    assert_eq!(start(&laid, &[]).code, 0);
    let readings = laid.join("readings.csv");
    let table = std::fs::read_to_string(&readings).unwrap();
    let ran = check(&laid);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.talk);
    assert!(ran.out.contains("readings.csv: note F312 no-readings-yet"), "{}", ran.out);
    // The title, the site, who signs, and the sources of two limits.
    let lines = fullshift(&["check".as_ref(), laid.as_os_str(), "--format".as_ref(), "lines".as_ref()]).out;
    assert_eq!(lines.matches(" note F209 ").count(), 5, "{lines}");
    let example = "An example: ";
    let study = std::fs::read_to_string(laid.join("study.yaml")).unwrap();
    let row =
        study.lines().find_map(|line| line.split_once(example)).expect("the skeleton shows a reading").1;
    std::fs::write(&readings, format!("{table}{row}\n")).unwrap();
    let ran = check(&laid);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.talk);
    assert!(ran.out.contains("\n2 notes. The study can be assessed.\n"), "{}", ran.out);
    assert_eq!(fullshift(&["assess".as_ref(), laid.as_os_str()]).code, 0);
}

#[test]
fn a_second_start_overwrites_nothing() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(start(folder.path(), &[]).code, 0);
    std::fs::write(folder.path().join("readings.csv"), "my own work\n").unwrap();
    let before = bytes_below(folder.path());
    for more in [&[][..], &["--demo"]] {
        let ran = start(folder.path(), more);
        assert_ne!(ran.code, 0, "{}{}", ran.out, ran.talk);
        assert_eq!(bytes_below(folder.path()), before);
    }
}
