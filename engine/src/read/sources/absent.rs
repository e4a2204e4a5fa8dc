//! Why there is no study at a path: where was looked, and what lies there that was probably meant.

use crate::diagnose::nearest;
use std::path::Path;

/// The name of a study file.
pub const STUDY_FILE: &str = "study.yaml";
/// Other files that `fullshift start` lays down, and would not write over.
const LAID_DOWN: [&str; 4] = ["readings.csv", "diary.csv", "leak_checks.csv", "study.schema.json"];
/// Most names that are looked through.
const MOST_NAMES: usize = 1_000;

/// What is missing and what to do; `None` where something lies at the path.
pub fn study(path: &Path) -> Option<(String, String)> {
    if path.is_dir() {
        return lacks(path, STUDY_FILE).then(|| without_study_file(path));
    }
    let name = path.file_name()?.to_string_lossy().into_owned();
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    match (lacks(folder, &name), folder.is_dir()) {
        (true, true) if name == STUDY_FILE => Some(without_study_file(folder)),
        (true, true) => Some(nothing_called(&name, path, folder)),
        (true, false) => Some((
            format!("there is no folder {}", folder.display()),
            "check the name; it counts from the folder that you are in".to_owned(),
        )),
        _ => None,
    }
}

fn lacks(folder: &Path, name: &str) -> bool {
    folder.join(name).symlink_metadata().is_err_and(|error| error.kind() == std::io::ErrorKind::NotFound)
}

fn nothing_called(name: &str, path: &Path, folder: &Path) -> (String, String) {
    let names = names_in(folder);
    let near = nearest(name, names.iter().map(String::as_str));
    let help = match near.starts_with("did") {
        true => near,
        false => "give the folder that holds study.yaml, or a workbook; a name counts from the folder that you are in".to_owned(),
    };
    (format!("there is no folder and no file {}", path.display()), help)
}

fn without_study_file(folder: &Path) -> (String, String) {
    let names = names_in(folder);
    let misnamed = names.iter().find(|name| {
        let name = name.to_lowercase();
        name != "study.schema.json"
            && (name.starts_with("study.y") || name == STUDY_FILE || name == "study.txt")
    });
    let help = match misnamed {
        Some(name) => format!("`{name}` lies there: call it {STUDY_FILE}"),
        None if LAID_DOWN.iter().any(|name| !lacks(folder, name)) => {
            format!("give the folder that holds {STUDY_FILE}, or put it beside the tables that lie here")
        }
        None => {
            format!("give the folder that holds {STUDY_FILE}, or lay a study down with `fullshift start`")
        }
    };
    (format!("there is no {STUDY_FILE} here"), help)
}

/// The names in a folder, sorted.
fn names_in(folder: &Path) -> Vec<String> {
    let entries = folder.read_dir().into_iter().flatten().flatten().take(MOST_NAMES);
    let mut names: Vec<String> =
        entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}
