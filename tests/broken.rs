//! Bad input: every broken study gets exactly the text that stands beside it, and leaves nothing behind.
//!
//! After a change of wording, `FULLSHIFT_RENEW=1 cargo test broken` writes the new texts beside the studies; read every
//! difference as the person would who made the slip before you keep it.

use fullshift_engine::diagnose::catalogue;
use fullshift_tests::{Ran, fixture, fullshift, studies_in};
use std::path::Path;

/// `expected.txt`: the exit code on the first line, then what `check` prints.
fn expected(study: &Path) -> String {
    std::fs::read_to_string(study.join("expected.txt")).expect("every broken study says what is expected")
}

/// The study of a folder: the folder itself, or the workbook in it that is the whole study.
fn study_of(folder: &Path) -> std::path::PathBuf {
    let workbook = folder.join("study.xlsx");
    if workbook.exists() { workbook } else { folder.to_owned() }
}

fn told(ran: &Ran) -> String {
    format!("exit {}\n{}", ran.code, ran.out)
}

#[test]
fn every_broken_study_gets_the_text_beside_it() {
    let mut wrong = Vec::new();
    for study in studies_in("broken") {
        let ran = fullshift(&["check".as_ref(), study_of(&study).as_os_str()]);
        let (found, wanted) = (told(&ran), expected(&study));
        if found != wanted {
            wrong.push(format!("{}\n--- wanted\n{wanted}--- found\n{found}{}", study.display(), ran.talk));
            if std::env::var_os("FULLSHIFT_RENEW").is_some() {
                std::fs::write(study.join("expected.txt"), &found).unwrap();
            }
        }
    }
    assert!(wrong.is_empty(), "{} studies differ:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn a_study_with_errors_leaves_no_file_and_the_others_leave_all_five() {
    for study in studies_in("broken") {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("out");
        let ran =
            fullshift(&["assess".as_ref(), study_of(&study).as_os_str(), "--out".as_ref(), out.as_os_str()]);
        let stopped = fullshift(&["check".as_ref(), study_of(&study).as_os_str()]).code == 1;
        assert_eq!(ran.code, u8::from(stopped), "{}: {}{}", study.display(), ran.out, ran.talk);
        let files = out.read_dir().map_or(0, Iterator::count);
        assert_eq!(files, if stopped { 0 } else { 5 }, "{}", study.display());
        assert_eq!(folder.path().read_dir().unwrap().count(), usize::from(!stopped), "{}", study.display());
    }
}

/// Codes that `check` never tells: F107 is provoked in `archive.rs`.
const OF_OTHER_COMMANDS: [&str; 1] = ["F107"];

#[test]
fn every_code_of_the_catalogue_is_provoked_by_a_broken_study() {
    let all: String = studies_in("broken").iter().map(|study| expected(study)).collect();
    let provoked = |id: &&str| all.contains(id) || OF_OTHER_COMMANDS.contains(id);
    let missing: Vec<_> = catalogue().map(|code| code.id).filter(|id| !provoked(id)).collect();
    assert!(missing.is_empty(), "no broken study shows {missing:?}");
}

#[test]
fn every_error_says_what_would_be_right() {
    for study in studies_in("broken") {
        let checked = fullshift_engine::check(&study_of(&study), None);
        for finding in checked.findings {
            assert!(
                !finding.help.trim().is_empty(),
                "{}: {} has no remedy",
                study.display(),
                finding.message
            );
            assert!(!finding.places.is_empty(), "{}: {} has no place", study.display(), finding.message);
        }
    }
}

/// Findings whose message begins with the very text that it is about.
const QUOTING: [&str; 5] = ["F201", "F307", "F309", "F406", "F207"];

/// The place is looked up in the file itself: line, and characters from the column on.
#[test]
fn every_quoted_text_stands_where_its_finding_points() {
    let mut looked_up = 0;
    for study in studies_in("broken") {
        let findings = fullshift_engine::check(&study, None).findings;
        for finding in findings.iter().filter(|f| QUOTING.contains(&f.code) && f.message.starts_with('`')) {
            let quoted = finding.message[1..].split('`').next().unwrap();
            let place = &finding.places[0];
            let Ok(text) = std::fs::read_to_string(study.join(&place.file)) else { continue };
            let line = text.trim_start_matches('\u{feff}').lines().nth(place.line as usize - 1).unwrap();
            let found: String =
                line.chars().skip(place.column as usize - 1).take(place.length as usize).collect();
            assert_eq!(found.trim_matches(['"', '\'']), quoted, "{}: {}", study.display(), finding.message);
            looked_up += 1;
        }
    }
    assert!(looked_up >= 25, "only {looked_up} places were looked up");
}

#[test]
fn the_fixture_folder_itself_is_no_study() {
    let ran = fullshift(&["check".as_ref(), fixture("broken").as_os_str()]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("study.yaml"), "{}", ran.out);
}
