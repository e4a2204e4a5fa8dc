//! `start`: lays down a new study, or the worked example.

use super::{schema, sheet};
use crate::arguments::Start;
use crate::border::Border;
use crate::deliver::{Parcel, deliver};
use crate::failure::Failure;
use crate::standing::{Existing, taken};
use crate::workbook::Paper;
use fullshift_engine::FormKind;
use std::path::Path;

/// A file of a study that the program carries: its name and its text.
type Carried<'a> = (&'a str, &'a str);

/// The schema, which the first line of `study.yaml` names to the editor.
const SCHEMA: &str = "study.schema.json";

/// Endings of files that no study is.
const NO_FOLDERS: [&str; 13] =
    ["csv", "tsv", "txt", "parquet", "xls", "xlsm", "ods", "yaml", "yml", "json", "html", "docx", "md"];

const DEMO: &[Carried<'static>] = &[
    ("study.yaml", include_str!("../../../fixtures/studies/composting-hall/study.yaml")),
    ("readings.csv", include_str!("../../../fixtures/studies/composting-hall/readings.csv")),
    ("diary.csv", include_str!("../../../fixtures/studies/composting-hall/diary.csv")),
    ("leak_checks.csv", include_str!("../../../fixtures/studies/composting-hall/leak_checks.csv")),
];

const SKELETON: &[Carried<'static>] = &[
    ("study.yaml", include_str!("../skeleton/study.yaml")),
    ("readings.csv", include_str!("../skeleton/readings.csv")),
    ("diary.csv", include_str!("../skeleton/diary.csv")),
    ("leak_checks.csv", include_str!("../skeleton/leak_checks.csv")),
];

pub(super) fn run(typed: &Start, border: &mut Border<'_>) -> Result<(), Failure> {
    let ending = typed.folder.extension().and_then(|ending| ending.to_str()).unwrap_or("");
    if ending.eq_ignore_ascii_case("xlsx") {
        return workbook(typed, border);
    }
    if NO_FOLDERS.iter().any(|other| ending.eq_ignore_ascii_case(other)) {
        let words =
            format!("{} is the name of a file, and a study is none of this kind", typed.folder.display());
        return Err(Failure::command(words, "Give the name of a folder, or one that ends with .xlsx."));
    }
    let schema = schema::text()?;
    let mut files = if typed.demo { DEMO } else { SKELETON }.to_vec();
    files.push((SCHEMA, schema.as_str()));
    refuse_to_overwrite(&typed.folder, &files)?;
    let parcels: Vec<Parcel<'_>> = files.iter().map(|(name, text)| (*name, text.as_bytes())).collect();
    deliver(&typed.folder, &parcels, Existing::Keep)?;
    border.print(&laid_down(&typed.folder, &files, typed.demo))
}

/// The same study as one workbook.
fn workbook(typed: &Start, border: &mut Border<'_>) -> Result<(), Failure> {
    let unlaid = |error| Failure::machine("the study could not be laid down", &error);
    let folder = tempfile::tempdir().map_err(unlaid)?;
    for (name, text) in if typed.demo { DEMO } else { SKELETON } {
        std::fs::write(folder.path().join(name), text).map_err(unlaid)?;
    }
    sheet::write(folder.path(), FormKind::Whole, Paper::A4, &typed.folder, Vec::new(), border)?;
    let file = as_a_word(&typed.folder);
    border.print(&match typed.demo {
        true => format!("Laid down: {file}\nNext:\n  fullshift assess {file}\n"),
        false => format!(
            "Laid down: {file}\nNext:\n  1. Go through its sheets: the study, the limits, the tube sheets, who belongs together.\n  \
             2. Put one row a tube into `readings`, and the shift into `diary`, which holds an example.\n  \
             3. fullshift check {file}\n"
        ),
    })
}

fn refuse_to_overwrite(folder: &Path, files: &[Carried<'_>]) -> Result<(), Failure> {
    let taken = taken(folder, files.iter().map(|(name, _)| *name));
    if taken.is_empty() {
        return Ok(());
    }
    let words = format!("{} holds {} already", folder.display(), taken.join(", "));
    Err(Failure::command(words, "Nothing was written. Choose an empty or a new folder."))
}

/// A path as it is typed on a command line.
fn as_a_word(path: &Path) -> String {
    let path = path.display().to_string();
    if path.contains(' ') { format!("\"{path}\"") } else { path }
}

fn laid_down(folder: &Path, files: &[Carried<'_>], demo: bool) -> String {
    let names: Vec<&str> = files.iter().map(|(name, _)| *name).collect();
    let folder = as_a_word(folder);
    let next = if demo {
        format!(
            "Next:\n  fullshift assess {folder}\n  fullshift trace {folder}     lists every figure that can be traced\n"
        )
    } else {
        format!(
            "Next:\n  1. Go through study.yaml: the limits, the tube sheets, who belongs together.\n  \
             2. Put one line a tube into readings.csv, and the shift into diary.csv, which holds an example.\n  \
             3. fullshift check {folder}\n"
        )
    };
    format!("Laid down in {folder}: {}\n{next}", names.join(", "))
}

#[cfg(test)]
mod tests {
    use crate::border::Border;
    use std::fs;
    use std::path::Path;

    fn ran(words: &[&str]) -> (u8, String) {
        let (mut out, mut talk) = (Vec::new(), Vec::new());
        let line = std::iter::once("fullshift").chain(words.iter().copied());
        let code = crate::run(line, &mut Border::captured(&mut out, &mut talk));
        (code, String::from_utf8(out).unwrap() + &String::from_utf8(talk).unwrap())
    }

    fn started(home: &Path, options: &[&str]) -> String {
        let folder = home.join("my study").display().to_string();
        let (code, told) = ran(&[&["start", &folder], options].concat());
        assert_eq!(code, 0, "{told}");
        folder
    }

    #[test]
    fn the_skeleton_passes_the_check_once_one_reading_is_filled_in() {
        let home = tempfile::tempdir().unwrap();
        let folder = started(home.path(), &[]);
        assert_eq!(ran(&["check", &folder]).0, 0, "a visit can be planned before anything is read");
        let study = fs::read_to_string(Path::new(&folder).join("study.yaml")).unwrap();
        let example =
            study.lines().find_map(|line| line.trim_start_matches(['#', ' ']).strip_prefix("An example: "));
        let readings = Path::new(&folder).join("readings.csv");
        let header = fs::read_to_string(&readings).unwrap();
        fs::write(&readings, format!("{header}{}\n", example.unwrap())).unwrap();
        let (code, told) = ran(&["check", &folder]);
        assert_eq!(code, 0, "{told}");
        assert!(told.contains("\n2 notes. The study can be assessed.\n"), "{told}");
        assert_eq!(ran(&["assess", &folder]).0, 0);
    }

    #[test]
    fn the_demo_can_be_assessed_as_it_is_laid_down() {
        let home = tempfile::tempdir().unwrap();
        let folder = started(home.path(), &["--demo"]);
        let (code, told) = ran(&["assess", &folder]);
        assert_eq!(code, 0, "{told}");
    }

    #[test]
    fn the_name_of_a_table_makes_no_folder() {
        let home = tempfile::tempdir().unwrap();
        for name in ["new.csv", "new.xls", "study.YAML"] {
            let (code, told) = ran(&["start", &home.path().join(name).display().to_string()]);
            assert_eq!(code, 2, "{told}");
            assert!(told.contains("Give the name of a folder"), "{told}");
        }
        assert_eq!(fs::read_dir(home.path()).unwrap().count(), 0);
    }

    #[test]
    fn a_folder_that_holds_one_of_the_files_is_left_as_it_was() {
        let home = tempfile::tempdir().unwrap();
        fs::write(home.path().join("diary.csv"), "mine\n").unwrap();
        let (code, told) = ran(&["start", &home.path().display().to_string()]);
        assert_eq!(code, 2);
        assert!(told.contains("holds diary.csv already"), "{told}");
        assert_eq!(fs::read_dir(home.path()).unwrap().count(), 1);
        assert_eq!(fs::read(home.path().join("diary.csv")).unwrap(), b"mine\n");
    }
}
