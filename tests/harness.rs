//! What the end-to-end tests share: where the fixtures lie, and how a command is run.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "everything here runs in tests only"
)]

use fullshift::border::Border;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

/// What a command did.
#[derive(Debug, PartialEq)]
pub struct Ran {
    /// Its exit code.
    pub code: u8,
    /// What it printed as its result.
    pub out: String,
    /// What it said beside it.
    pub talk: String,
}

/// The folder that holds the workspace.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("the tests lie in the workspace")
}

/// A fixture, as `studies/one-reading`.
pub fn fixture(name: &str) -> PathBuf {
    root().join("fixtures").join(name)
}

/// Every study of a fixture folder, by name.
pub fn studies_in(folder: &str) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(fixture(folder)).expect("the fixture folder is there");
    let mut studies: Vec<_> = entries.map(|e| e.unwrap().path()).filter(|p| p.is_dir()).collect();
    studies.sort();
    studies
}

/// Runs a command in this process, as a pipe would see it.
pub fn fullshift<W: AsRef<std::ffi::OsStr>>(words: &[W]) -> Ran {
    let (mut out, mut talk) = (Vec::new(), Vec::new());
    let line = std::iter::once("fullshift".as_ref()).chain(words.iter().map(AsRef::as_ref));
    let code = fullshift::run(line, &mut Border::captured(&mut out, &mut talk));
    Ran { code, out: String::from_utf8(out).unwrap(), talk: String::from_utf8(talk).unwrap() }
}

/// The assessment of a study as its JSON.
pub fn assessment(study: &Path) -> serde_json::Value {
    let ran = fullshift(&["assess".as_ref(), study.as_os_str(), "--format".as_ref(), "json".as_ref()]);
    assert_eq!(ran.code, 0, "{} is not assessed:\n{}{}", study.display(), ran.out, ran.talk);
    serde_json::from_str(&ran.out).expect("the assessment is JSON")
}

/// The built program, for what only a process of its own can show.
pub fn program() -> Command {
    static PROGRAM: OnceLock<PathBuf> = OnceLock::new();
    Command::new(PROGRAM.get_or_init(|| {
        let mut build = Command::new(env!("CARGO"));
        // The whole workspace: another selection would build the table library once more.
        build.args(["build", "--quiet", "--workspace", "--bin", "fullshift"]).current_dir(root());
        let status = build.status().expect("cargo can be run");
        assert!(status.success(), "the program does not build");
        target().join("debug").join(format!("fullshift{}", std::env::consts::EXE_SUFFIX))
    }))
}

/// The folder into which cargo builds: two above this test's own program.
fn target() -> PathBuf {
    let own = std::env::current_exe().expect("a test has a program");
    own.ancestors().nth(3).expect("it lies in target/debug/deps").to_owned()
}

/// Copies a study into a folder, so that a test may change it.
pub fn copy(study: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(study).unwrap() {
        let entry = entry.unwrap();
        let there = to.join(entry.file_name());
        match entry.file_type().unwrap().is_dir() {
            true => copy(&entry.path(), &there),
            false => drop(std::fs::copy(entry.path(), there).unwrap()),
        }
    }
}

/// Every file below a folder with its bytes, by path.
pub fn bytes_below(folder: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        match path.is_dir() {
            true => found.extend(bytes_below(&path)),
            false => found.push((path.clone(), std::fs::read(&path).unwrap())),
        }
    }
    found.sort();
    found
}
