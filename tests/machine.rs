//! What only a process of its own shows: permissions, folders, an enormous line, a closed pipe.

use fullshift_tests::{bytes_below, copy, fixture, fullshift, program};
use std::path::Path;
use std::process::{Command, Output, Stdio};

fn run(words: &[&std::ffi::OsStr]) -> Output {
    program().args(words).output().expect("the program runs")
}

fn words(output: &Output) -> String {
    [&output.stdout, &output.stderr].map(|b| String::from_utf8_lossy(b).into_owned()).concat()
}

fn demo_into(folder: &Path) -> std::path::PathBuf {
    let study = folder.join("study");
    copy(&fixture("studies/one-reading"), &study);
    study
}

#[test]
fn the_built_program_prints_the_same_bytes_as_a_run_in_process() {
    let study = fixture("studies/composting-hall");
    let output = run(&["assess".as_ref(), study.as_os_str()]);
    assert_eq!(output.status.code(), Some(0), "{}", words(&output));
    assert_eq!(
        String::from_utf8(output.stdout).unwrap(),
        fullshift(&["assess".as_ref(), study.as_os_str()]).out
    );
}

#[test]
fn a_command_that_is_none_exits_with_2() {
    assert_eq!(run(&["asses".as_ref(), "x".as_ref()]).status.code(), Some(2));
    assert_eq!(run(&[]).status.code(), Some(2));
}

#[test]
fn a_study_that_is_not_there_exits_with_1() {
    let output = run(&["assess".as_ref(), "no-such-folder".as_ref()]);
    assert_eq!(output.status.code(), Some(1), "{}", words(&output));
}

#[test]
fn a_line_of_ten_megabytes_is_answered_in_a_short_page() {
    let folder = tempfile::tempdir().unwrap();
    for (file, before, after) in [
        (
            "readings.csv",
            "id,worker,task,tube,pump,start,strokes,reading\nR1,W1,turning,NH3-M,P1,2027-03-09 09:15,1,",
            "\n",
        ),
        ("readings.csv", "", ""),
        ("diary.csv", "worker,start,end,task\nW1,", "\n"),
        ("study.yaml", "study: {title: ", "}\n"),
        ("study.yaml", "", ": 1\n"),
        ("study.yaml", "[", ""),
    ] {
        let study = folder.path().join("study");
        copy(&fixture("studies/one-reading"), &study);
        let line = [before, &"12".repeat(5_000_000), after].concat();
        std::fs::write(study.join(file), line).unwrap();
        let output = run(&["check".as_ref(), study.as_os_str()]);
        assert_eq!(output.status.code(), Some(1), "{file}");
        let told = words(&output);
        assert!(told.len() < 4000, "{file}: {} bytes are too much to read", told.len());
        assert!(told.contains(file), "{told}");
    }
}

#[test]
fn a_title_of_ten_megabytes_is_no_error() {
    let folder = tempfile::tempdir().unwrap();
    let study = demo_into(folder.path());
    let file = study.join("study.yaml");
    let text = std::fs::read_to_string(&file).unwrap().replace("One reading", &"title ".repeat(1_700_000));
    std::fs::write(&file, text).unwrap();
    assert_eq!(run(&["check".as_ref(), study.as_os_str()]).status.code(), Some(0));
}

#[test]
fn an_existing_file_survives_a_run_that_fails() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    let good = demo_into(folder.path());
    assert!(run(&["assess".as_ref(), good.as_os_str(), "--out".as_ref(), out.as_os_str()]).status.success());
    let before = bytes_below(&out);
    let bad = fixture("broken/unknown-task");
    let output = run(&["assess".as_ref(), bad.as_os_str(), "--out".as_ref(), out.as_os_str()]);
    assert_eq!(output.status.code(), Some(1), "{}", words(&output));
    assert_eq!(bytes_below(&out), before);
}

#[test]
fn a_file_where_the_output_folder_belongs_exits_with_3_and_stays() {
    let folder = tempfile::tempdir().unwrap();
    let study = demo_into(folder.path());
    let out = folder.path().join("out");
    std::fs::write(&out, "my notes").unwrap();
    let output = run(&["assess".as_ref(), study.as_os_str(), "--out".as_ref(), out.as_os_str()]);
    assert_eq!(output.status.code(), Some(3), "{}", words(&output));
    assert_eq!(std::fs::read(&out).unwrap(), b"my notes");
}

#[test]
fn a_folder_where_an_output_file_belongs_exits_with_3_and_leaves_no_other_file() {
    let folder = tempfile::tempdir().unwrap();
    let study = demo_into(folder.path());
    let out = folder.path().join("out");
    std::fs::create_dir_all(out.join("shifts.csv")).unwrap();
    let output = run(&["assess".as_ref(), study.as_os_str(), "--out".as_ref(), out.as_os_str()]);
    assert_eq!(output.status.code(), Some(3), "{}", words(&output));
    assert_eq!(bytes_below(&out), [], "{}", words(&output));
}

#[test]
fn a_reader_that_stops_reading_is_no_failure() {
    let study = fixture("studies/composting-hall");
    let mut child = program()
        .args(["assess".as_ref(), study.as_os_str(), "--format".as_ref(), "json".as_ref()])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert!(!words(&output).contains("panicked"), "{}", words(&output));
    assert_eq!(output.status.code(), Some(0), "{}", words(&output));
}

#[cfg(target_os = "linux")]
#[test]
fn a_terminal_that_takes_nothing_more_exits_with_3() {
    let study = fixture("studies/one-reading");
    let full = std::fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let output = program().args(["assess".as_ref(), study.as_os_str()]).stdout(full).output().unwrap();
    assert_eq!(output.status.code(), Some(3), "{}", words(&output));
}

/// Runs the program as an ordinary user: the superuser may read and write everything.
#[cfg(unix)]
fn as_ordinary_user(program: &mut Command) {
    use std::os::unix::process::CommandExt;
    if is_superuser() {
        program.uid(65534).gid(65534);
    }
}

#[cfg(unix)]
fn is_superuser() -> bool {
    use std::os::unix::fs::MetadataExt;
    std::fs::metadata("/proc/self").is_ok_and(|own| own.uid() == 0)
}

/// The program where everybody may run it, and a study beside it that everybody may read.
#[cfg(unix)]
fn for_everybody(folder: &Path) -> (std::path::PathBuf, std::path::PathBuf) {
    let here = folder.join("fullshift");
    // By another process: a program that this one has open for writing cannot be run.
    let copied = Command::new("cp").arg(program().get_program()).arg(&here).status().unwrap();
    assert!(copied.success());
    allow(folder, 0o755);
    allow(&here, 0o755);
    (here, demo_into(folder))
}

#[cfg(unix)]
fn allow(path: &Path, mode: u32) {
    use std::os::unix::fs::PermissionsExt;
    std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).unwrap();
}

#[cfg(unix)]
#[test]
fn a_table_that_may_not_be_read_is_a_finding() {
    let folder = tempfile::tempdir().unwrap();
    let (here, study) = for_everybody(folder.path());
    allow(&study.join("readings.csv"), 0o000);
    let mut command = Command::new(here);
    as_ordinary_user(&mut command);
    let output = command.arg("check").arg(&study).output().unwrap();
    assert_eq!(output.status.code(), Some(1), "{}", words(&output));
    assert!(words(&output).contains("readings.csv may not be read"), "{}", words(&output));
}

#[cfg(unix)]
#[test]
fn a_study_folder_that_may_not_be_entered_is_a_finding() {
    let folder = tempfile::tempdir().unwrap();
    let (here, study) = for_everybody(folder.path());
    allow(&study, 0o000);
    let mut command = Command::new(here);
    as_ordinary_user(&mut command);
    let output = command.arg("check").arg(&study).output().unwrap();
    allow(&study, 0o755);
    assert_eq!(output.status.code(), Some(1), "{}", words(&output));
    assert!(words(&output).contains("may not be read"), "{}", words(&output));
}

#[cfg(unix)]
#[test]
fn a_read_only_output_folder_exits_with_3_and_stays_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let (here, study) = for_everybody(folder.path());
    let out = folder.path().join("out");
    std::fs::create_dir(&out).unwrap();
    allow(&out, 0o555);
    for target in [out.clone(), out.join("deeper")] {
        let mut command = Command::new(&here);
        as_ordinary_user(&mut command);
        let output = command.arg("assess").arg(&study).arg("--out").arg(&target).output().unwrap();
        assert_eq!(output.status.code(), Some(3), "{}", words(&output));
        assert!(words(&output).contains("permission denied"), "{}", words(&output));
        assert_eq!(out.read_dir().unwrap().count(), 0);
    }
    allow(&out, 0o755);
}
