//! No result takes the place of what a user entered.

use fullshift_tests::{bytes_below, fixture, fullshift};
use std::fs;
use std::path::{Path, PathBuf};

/// The worked example as a folder of its own.
fn hall(home: &Path) -> PathBuf {
    let study = home.join("hall");
    fs::create_dir(&study).unwrap();
    for file in fixture("studies/composting-hall").read_dir().unwrap() {
        let file = file.unwrap();
        fs::copy(file.path(), study.join(file.file_name())).unwrap();
    }
    study
}

fn refused(study: &Path, words: &[&str], told: &str) {
    let before = bytes_below(study);
    let ran = fullshift(words);
    assert_eq!(ran.code, 2, "{words:?}: {}{}", ran.out, ran.talk);
    assert!(ran.talk.contains(told) && ran.talk.contains("Nothing was written"), "{}", ran.talk);
    assert_eq!(bytes_below(study), before, "{words:?}");
}

#[test]
fn results_do_not_replace_a_table_of_the_study_by_whatever_way_the_folder_is_named() {
    let home = tempfile::tempdir().unwrap();
    let study = hall(home.path());
    let plain = study.to_str().unwrap().to_owned();
    let mut ways = vec![plain.clone(), format!("{plain}/."), format!("{plain}/../hall")];
    #[cfg(unix)]
    {
        let link = home.path().join("link");
        std::os::unix::fs::symlink(&study, &link).unwrap();
        ways.push(link.to_str().unwrap().to_owned());
    }
    for out in &ways {
        let told = format!("{out}/readings.csv is one of the files that the study is read from");
        refused(&study, &["assess", &plain, "--out", out], &told);
    }
    assert_eq!(fullshift(&["assess", &plain]).code, 0, "the study can still be assessed");
}

#[test]
fn a_link_to_a_table_is_the_table() {
    let home = tempfile::tempdir().unwrap();
    let study = hall(home.path());
    fs::rename(study.join("readings.csv"), study.join("tubes.csv")).unwrap();
    let yaml = study.join("study.yaml");
    let text = fs::read_to_string(&yaml).unwrap();
    fs::write(&yaml, text.replace("readings: readings.csv", "readings: tubes.csv")).unwrap();
    let out = home.path().join("out");
    fs::create_dir(&out).unwrap();
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(study.join("tubes.csv"), out.join("readings.csv")).unwrap();
        let words = ["assess", study.to_str().unwrap(), "--out", out.to_str().unwrap()];
        refused(&study, &words, "out/readings.csv is one of the files");
    }
}

#[test]
fn a_plan_does_not_replace_the_table_of_workers() {
    let home = tempfile::tempdir().unwrap();
    let study = hall(home.path());
    fs::write(study.join("workers.csv"), "worker,group\n").unwrap();
    let yaml = study.join("study.yaml");
    let text = fs::read_to_string(&yaml).unwrap();
    fs::write(&yaml, text.replace("tables: {", "tables: {workers: workers.csv, ")).unwrap();
    let path = study.to_str().unwrap();
    refused(&study, &["plan", path, "--seed", "1", "--out", path], "workers.csv is one of the files");
}

#[test]
fn a_report_does_not_replace_the_study_file() {
    let home = tempfile::tempdir().unwrap();
    let study = hall(home.path());
    fs::rename(study.join("study.yaml"), study.join("hall.md")).unwrap();
    let file = study.join("hall.md");
    let path = file.to_str().unwrap();
    let good = home.path().join("good.html");
    let words = ["report", path, "--out", good.to_str().unwrap(), "--out", path];
    refused(&study, &words, "hall.md is one of the files");
    assert!(!good.exists(), "all reports or none");
}

#[test]
fn an_archive_does_not_lose_its_tables() {
    let home = tempfile::tempdir().unwrap();
    let study = home.path().join("archive");
    fullshift_tests::copy(&fixture("archives/packed"), &study);
    let yaml = study.join("study.yaml");
    let text = fs::read_to_string(&yaml).unwrap();
    fs::rename(study.join("workers.csv"), study.join("shifts.csv")).unwrap();
    fs::write(&yaml, text.replace("workers: workers.csv", "workers: shifts.csv")).unwrap();
    let path = study.to_str().unwrap();
    refused(&study, &["assess", path, "--out", path], "shifts.csv is one of the files");
    // Every file of this folder is a part of the table.
    let parts = study.join("readings");
    let words = ["assess", path, "--out", parts.to_str().unwrap(), "--tables", "parquet"];
    refused(&study, &words, "readings lies among the files");
}

#[test]
fn tables_of_somebody_else_stay_and_own_ones_are_renewed() {
    let home = tempfile::tempdir().unwrap();
    let study = hall(home.path());
    let out = home.path().join("out");
    fs::create_dir(&out).unwrap();
    fs::write(out.join("shifts.csv"), "mine\n").unwrap();
    let words = ["assess", study.to_str().unwrap(), "--out", out.to_str().unwrap()];
    let ran = fullshift(&words);
    assert_eq!(ran.code, 2, "{}", ran.talk);
    assert!(ran.talk.contains("out holds shifts.csv already"), "{}", ran.talk);
    assert_eq!(fs::read(out.join("shifts.csv")).unwrap(), b"mine\n");
    assert_eq!(out.read_dir().unwrap().count(), 1);
    fs::remove_file(out.join("shifts.csv")).unwrap();
    for _ in 0..2 {
        assert_eq!(fullshift(&words).code, 0, "a second run takes the place of the first");
    }
}
