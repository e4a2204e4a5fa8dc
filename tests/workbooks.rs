//! Workbooks: a study as one says what its folder says, and what is written is read back unchanged.

use calamine::{Data, Reader, Xlsx, open_workbook};
use fullshift_tests::{Ran, assessment, copy, fixture, fullshift, studies_in};
use serde_json::{Map, Value};
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::Command;

const TABLES: [&str; 4] = ["readings", "diary", "leak_checks", "workers"];

fn every_study() -> Vec<PathBuf> {
    [studies_in("studies"), studies_in("worked")].concat()
}

fn sheet(study: &Path, out: &Path, more: &[&str]) -> Ran {
    let mut words = vec!["sheet".as_ref(), study.as_os_str(), "--out".as_ref(), out.as_os_str()];
    words.extend(more.iter().map(AsRef::<std::ffi::OsStr>::as_ref));
    fullshift(&words)
}

#[track_caller]
fn written(study: &Path, out: &Path, more: &[&str]) {
    let ran = sheet(study, out, more);
    assert_eq!(ran.code, 0, "{}: {}{}", study.display(), ran.out, ran.talk);
}

/// The files that a study names for its tables.
fn tables(study: &Path) -> Map<String, Value> {
    let text = std::fs::read_to_string(study.join("study.yaml")).unwrap();
    fullshift_engine::values(&text).unwrap()["tables"].as_object().unwrap().clone()
}

/// An assessment with the places of a folder for those of the workbook made of it: the file and the line of a table
/// stay, the column (characters in one, cells in the other) and the places in the settings do not.
fn without_names(assessment: &Value, study: &Path, workbook: &str) -> String {
    let mut said = assessment.clone();
    said.as_object_mut().unwrap().remove("inputs");
    let tables = tables(study);
    for finding in said["findings"].as_array_mut().unwrap() {
        for place in finding["places"].as_array_mut().unwrap() {
            let place = place.as_object_mut().unwrap();
            if let Some(sheet) = place.remove("sheet") {
                place.remove("cell");
                let own = tables.get(sheet.as_str().unwrap()).cloned();
                place.insert("file".to_owned(), own.unwrap_or_else(|| "study.yaml".into()));
            }
            place.remove("column");
            if place["file"] == "study.yaml" || place["file"] == workbook {
                place.clear();
            }
        }
    }
    let mut text = serde_json::to_string_pretty(&said).unwrap();
    for table in TABLES {
        let file = tables.get(table).and_then(Value::as_str).unwrap_or(table);
        text = text.replace(&format!("{workbook}#{table}!"), &format!("{file}:"));
        text = text.replace(&format!("{workbook}#{table}"), file);
    }
    text
}

#[track_caller]
fn assert_same(found: &str, wanted: &str, what: &Path) {
    let differing = found.lines().zip(wanted.lines()).find(|(a, b)| a != b);
    assert!(differing.is_none() && found.len() == wanted.len(), "{}: {differing:?}", what.display());
}

#[test]
fn a_folder_and_the_workbook_made_of_it_give_the_same_assessment() {
    let folder = tempfile::tempdir().unwrap();
    for study in every_study() {
        let name = format!("{}.xlsx", study.file_name().unwrap().display());
        let whole = folder.path().join(&name);
        written(&study, &whole, &["--whole"]);
        let found = without_names(&assessment(&whole), &study, &name);
        assert_same(&found, &without_names(&assessment(&study), &study, &name), &study);
    }
}

#[test]
fn a_workbook_made_of_a_workbook_says_the_same_again() {
    let folder = tempfile::tempdir().unwrap();
    let (first, second) = (folder.path().join("a.xlsx"), folder.path().join("b.xlsx"));
    let study = fixture("studies/composting-hall");
    written(&study, &first, &["--whole"]);
    written(&first, &second, &["--whole"]);
    let found = without_names(&assessment(&second), &study, "b.xlsx");
    assert_same(&found, &without_names(&assessment(&first), &study, "a.xlsx"), &study);
}

/// A study whose tables all lie in the filled field workbook.
fn with_field_workbook(study: &Path, here: &Path) {
    copy(study, here);
    written(study, &here.join("field.xlsx"), &["--filled"]);
    let file = here.join("study.yaml");
    let mut text = std::fs::read_to_string(&file).unwrap();
    for (_, name) in tables(study).iter().filter(|(table, _)| TABLES.contains(&table.as_str())) {
        text = text.replace(name.as_str().unwrap(), "field.xlsx");
    }
    std::fs::write(&file, text).unwrap();
}

#[test]
fn a_filled_field_workbook_is_read_back_unchanged() {
    let folder = tempfile::tempdir().unwrap();
    for study in every_study() {
        let here = folder.path().join(study.file_name().unwrap());
        with_field_workbook(&study, &here);
        let found = without_names(&assessment(&here), &study, "field.xlsx");
        assert_same(&found, &without_names(&assessment(&study), &study, "field.xlsx"), &study);
    }
}

#[test]
fn the_same_study_gives_the_same_bytes() {
    let folder = tempfile::tempdir().unwrap();
    let study = fixture("studies/composting-hall");
    for more in [&["--whole"][..], &["--filled"], &[]] {
        let [a, b] = ["a", "b"]
            .map(|name| folder.path().join(format!("{name}{}.xlsx", more.len() + more.concat().len())));
        written(&study, &a, more);
        std::thread::sleep(std::time::Duration::from_millis(1100));
        written(&study, &b, more);
        assert!(std::fs::read(a).unwrap() == std::fs::read(b).unwrap(), "{more:?}");
    }
}

/// The text of a part of a workbook.
fn part(workbook: &Path, name: &str) -> String {
    let mut archive = zip::ZipArchive::new(std::fs::File::open(workbook).unwrap()).unwrap();
    let mut text = String::new();
    archive.by_name(name).unwrap().read_to_string(&mut text).unwrap();
    text
}

#[test]
fn the_field_workbook_offers_the_names_of_the_study_and_guards_its_headings() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("field.xlsx");
    written(&fixture("studies/composting-hall"), &out, &["--paper", "letter"]);
    let mut book: Xlsx<_> = open_workbook(&out).unwrap();
    assert_eq!(book.sheet_names(), ["readings", "diary", "leak_checks", "lists"]);
    let readings = book.worksheet_range("readings").unwrap();
    let headings: Vec<String> = readings.rows().next().unwrap().iter().map(ToString::to_string).collect();
    for heading in ["id", "worker", "temperature [C]", "humidity [%]", "pressure [kPa]", "read_after [min]"] {
        assert!(headings.iter().any(|h| h == heading), "no {heading} in {headings:?}");
    }
    let diary = book.worksheet_range("diary").unwrap();
    let headings: Vec<String> = diary.rows().next().unwrap().iter().map(ToString::to_string).collect();
    assert_eq!(headings, ["worker", "task", "start", "end", "shift", "minutes"]);
    let lists = book.worksheet_range("lists").unwrap();
    let listed: Vec<String> = lists.used_cells().map(|(_, _, cell)| cell.to_string()).collect();
    for name in ["W1", "W7", "turning", "office", "NH3-M", "NH3-L", "P1", "P3"] {
        assert!(listed.iter().any(|l| l == name), "no {name} in {listed:?}");
    }
    let first = part(&out, "xl/worksheets/sheet1.xml");
    assert_eq!(
        first.matches("<dataValidation type=\"list\"").count(),
        5,
        "worker, task, tube, pump, purpose"
    );
    assert!(first.contains("<sheetProtection sheet=\"1\""), "{first}");
    assert!(first.contains("paperSize=\"1\"") && first.contains("orientation=\"landscape\""));
    assert!(part(&out, "xl/workbook.xml").contains("state=\"hidden\""));
}

#[test]
fn texts_that_look_like_formulas_stay_texts() {
    let folder = tempfile::tempdir().unwrap();
    let study = folder.path().join("study");
    copy(&fixture("studies/one-reading"), &study);
    for file in ["study.yaml", "readings.csv", "diary.csv"] {
        let text = std::fs::read_to_string(study.join(file)).unwrap();
        let text = text.replace("W1", "=1+2").replace("title: ", "title: \"=HYPERLINK(1)\" # ");
        let text = text.replace("[=1+2]", "[\"=1+2\"]").replace("(=1+2", "(\"=1+2\"");
        std::fs::write(study.join(file), text).unwrap();
    }
    let out = folder.path().join("whole.xlsx");
    written(&study, &out, &["--whole"]);
    let mut book: Xlsx<_> = open_workbook(&out).unwrap();
    for sheet in book.sheet_names() {
        assert!(book.worksheet_formula(&sheet).unwrap().used_cells().all(|(.., f)| f.is_empty()), "{sheet}");
    }
    let settings = book.worksheet_range("study").unwrap();
    assert!(settings.used_cells().any(|(.., cell)| *cell == Data::String("=HYPERLINK(1)".to_owned())));
    let found = without_names(&assessment(&out), &study, "whole.xlsx");
    assert_same(&found, &without_names(&assessment(&study), &study, "whole.xlsx"), &study);
}

#[test]
fn a_workbook_that_is_there_is_never_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("field.xlsx");
    std::fs::write(&out, "a day's work").unwrap();
    let study = fixture("studies/one-reading");
    assert_eq!(sheet(&study, &out, &[]).code, 2);
    assert_eq!(fullshift(&["start".as_ref(), out.as_os_str()]).code, 2);
    assert_eq!(std::fs::read(&out).unwrap(), b"a day's work");
    let ran = sheet(&study, &folder.path().join("field.ods"), &[]);
    assert_eq!(ran.code, 2);
    assert!(ran.talk.contains(".xlsx"), "{}", ran.talk);
    let ran = sheet(&fixture("broken/unknown-key"), &folder.path().join("new.xlsx"), &[]);
    assert_eq!(ran.code, 1);
    assert!(ran.talk.contains("nothing was written"), "{}", ran.talk);
    assert_eq!(folder.path().read_dir().unwrap().count(), 1);
}

#[test]
fn a_new_study_can_be_one_workbook() {
    let folder = tempfile::tempdir().unwrap();
    let [new, demo] = ["new.xlsx", "demo.xlsx"].map(|name| folder.path().join(name));
    assert_eq!(fullshift(&["start".as_ref(), new.as_os_str()]).code, 0);
    let ran = fullshift(&["check".as_ref(), new.as_os_str()]);
    assert!(ran.code == 0 && ran.out.contains("new.xlsx#readings: note F312"), "{}", ran.out);
    assert_eq!(fullshift(&["start".as_ref(), demo.as_os_str(), "--demo".as_ref()]).code, 0);
    let study = fixture("studies/composting-hall");
    let found = without_names(&assessment(&demo), &study, "demo.xlsx");
    assert_same(&found, &without_names(&assessment(&study), &study, "demo.xlsx"), &study);
    let ran = fullshift(&["trace".as_ref(), demo.as_os_str(), "R017".as_ref()]);
    assert!(ran.code == 0 && ran.out.contains("demo.xlsx#readings!18"), "{}{}", ran.out, ran.talk);
}

/// LibreOffice saves a file as a workbook in its own way; nothing where it, or its part for tables, is not installed.
fn saved_by_libreoffice(file: &Path, folder: &Path) -> Option<PathBuf> {
    let profile = format!("-env:UserInstallation=file://{}", folder.join("profile").display());
    let saved = folder.join("saved");
    let mut office = Command::new("soffice");
    office.args([&profile, "--headless", "--convert-to", "xlsx", "--outdir"]).args([&saved, file]);
    office.output().ok()?;
    let there = saved.join(file.with_extension("xlsx").file_name().unwrap());
    there.exists().then_some(there)
}

#[test]
fn libreoffice_opens_the_workbook_and_saves_the_same_study() {
    let folder = tempfile::tempdir().unwrap();
    let plain = folder.path().join("plain.csv");
    std::fs::write(&plain, "id,worker\n").unwrap();
    if saved_by_libreoffice(&plain, folder.path()).is_none() {
        return;
    }
    let study = fixture("studies/composting-hall");
    let whole = folder.path().join("whole.xlsx");
    written(&study, &whole, &["--whole"]);
    let saved = saved_by_libreoffice(&whole, folder.path()).expect("LibreOffice opens the workbook");
    let found = without_names(&assessment(&saved), &study, "whole.xlsx");
    assert_same(&found, &without_names(&assessment(&study), &study, "whole.xlsx"), &study);
}
