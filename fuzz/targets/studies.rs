//! Arbitrary bytes for everything that reads a study. Whatever they are, the study is assessed or something is found in it
//! that the user can act on; the replay of the corpora in the ordinary tests does the same.

use fullshift_engine::{Assessed, Keep, TableFormat};
use serde_json::Value;
use std::io::{Cursor, Write};
use std::path::Path;
use zip::write::SimpleFileOptions;

/// The study that the bytes are put into: small, so that a run takes a millisecond.
const STUDY: &[(&str, &str)] = &[
    ("study.yaml", include_str!("../../fixtures/studies/by-hand/study.yaml")),
    ("readings.csv", include_str!("../../fixtures/studies/by-hand/readings.csv")),
    ("diary.csv", include_str!("../../fixtures/studies/by-hand/diary.csv")),
    ("leak_checks.csv", include_str!("../../fixtures/studies/by-hand/leak_checks.csv")),
];

/// The archive that the bytes are put into.
const ARCHIVE: &[(&str, &str)] = &[
    ("study.yaml", include_str!("../../fixtures/archives/packed/study.yaml")),
    ("workers.csv", include_str!("../../fixtures/archives/packed/workers.csv")),
    ("leak_checks.csv", include_str!("../../fixtures/archives/packed/leak_checks.csv")),
];

/// Most files of an archive.
const MOST_FILES: usize = 12;

/// The bytes as `study.yaml`.
pub fn study(bytes: &[u8]) {
    judged(&[("study.yaml", bytes)], "");
}

/// The bytes as tables, each behind a line `=== readings.csv`.
pub fn tables(bytes: &[u8]) {
    judged(&parts(bytes), "");
}

/// The bytes as the cells of one reading, a line a cell: the stain, the strokes, the start, the temperature, the pressure.
pub fn notation(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes).replace('"', "\"\"");
    let mut lines = text.split('\n');
    let mut cell = |usual: &str| lines.next().map_or_else(|| usual.to_owned(), |line| format!("\"{line}\""));
    let (reading, strokes, start) = (cell("12"), cell("1"), cell("2027-03-09 07:00"));
    let (temperature, pressure) = (cell("25 C"), cell("101.3 kPa"));
    let table = format!(
        "id,worker,task,tube,pump,start,strokes,reading,temperature,pressure\n\
         R1,W1,turning,NH3-M,P1,{start},{strokes},{reading},{temperature},{pressure}\n\
         R2,W1,screening,NH3-M,P1,2027-03-09 11:30,1,8/14,25 C,101.3 kPa\n"
    );
    judged(&[("readings.csv", table.as_bytes())], "");
}

/// The bytes as what a conversion is asked for, a line an argument.
pub fn quantities(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let mut lines = text.split('\n');
    let mut line = |usual| lines.next().unwrap_or(usual);
    let (amount, to, temperature) = (line("25 ppm"), line("mg/m3"), line("25 C"));
    let (pressure, molar_volume, molar_mass) = (line("101.325 kPa"), line(""), line("17.03"));
    let molar_volume = (!molar_volume.is_empty()).then_some(molar_volume);
    match fullshift_engine::convert(amount, to, molar_mass.parse().ok(), temperature, pressure, molar_volume)
    {
        Ok(conversion) => {
            in_order(&serde_json::to_value(&conversion.figure).expect("a figure is JSON"), "conversion");
            assert!(!conversion.conditions.is_empty());
        }
        Err(words) => assert!(!words.trim().is_empty()),
    }
}

/// The bytes as a workbook that holds the readings.
pub fn workbook(bytes: &[u8]) {
    let study = STUDY[0].1.replace("readings: readings.csv", "readings: field.xlsx#readings");
    judged(&[("study.yaml", study.as_bytes()), ("field.xlsx", bytes)], "");
}

/// The bytes as the parts of a workbook that is a whole study, each behind a line as `=== xl/workbook.xml`.
pub fn workbook_parts(bytes: &[u8]) {
    let mut archive = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let stored = SimpleFileOptions::default().compression_method(zip::CompressionMethod::Stored);
    for (name, part) in parts(bytes) {
        // The same name twice is refused by the writer, not by us.
        if archive.start_file(name, stored).is_ok() {
            archive.write_all(part).expect("memory takes it");
        }
    }
    let Ok(archive) = archive.finish() else { return };
    judged(&[("study.xlsx", archive.get_ref())], "study.xlsx");
}

/// The bytes as the files of an archive, text or Parquet, each behind a line as `=== readings/hall=1/part.csv`.
pub fn archive(bytes: &[u8]) {
    let parts: Vec<_> =
        parts(bytes).into_iter().filter(|(name, _)| in_archive(name)).take(MOST_FILES).collect();
    let folder = folder();
    let given = ARCHIVE.iter().map(|(name, text)| (*name, text.as_bytes())).chain(parts);
    for (name, bytes) in given {
        let file = folder.path().join(name);
        std::fs::create_dir_all(file.parent().expect("it lies in a folder")).expect("a folder can be made");
        // What is a folder already is not written over.
        let _ = std::fs::write(file, bytes);
    }
    let keep = Keep { format: TableFormat::Csv, open: &|_| Ok(Box::new(std::io::sink())) };
    let stopped = match fullshift_engine::assess(folder.path(), None, Some(&keep), &|_| ()) {
        Ok(Assessed::Archive(overview)) => {
            let overview = overview.expect("a table can be written to nowhere");
            in_order(&serde_json::to_value(&overview).expect("an overview is JSON"), "overview");
            overview.findings.iter().for_each(|often| told(std::slice::from_ref(&often.first)));
            false
        }
        Ok(Assessed::Study(_)) => panic!("folders of tables are an archive"),
        Err(stopped) => {
            assert!(!stopped.findings.is_empty(), "it stopped without a word");
            told(&stopped.findings);
            true
        }
    };
    one_group(folder.path(), stopped);
    paged(folder.path(), stopped);
}

/// A group of an archive that was assessed is assessed as a study; of one with errors it may be.
fn one_group(archive: &Path, stopped: bool) {
    match fullshift_engine::assessment(archive, Some("hall-1")) {
        Ok(assessment) => {
            in_order(&serde_json::to_value(&assessment).expect("an assessment is JSON"), "group")
        }
        Err(refused) => {
            assert!(stopped, "{:?}", refused.findings);
            told(&refused.findings);
        }
    }
}

/// Whether a name is that of a file of the archive: one that the study names, or one in the folders of its tables.
fn in_archive(name: &str) -> bool {
    let plain = |c: char| c.is_ascii_alphanumeric() || "._=-/".contains(c);
    let table = name.starts_with("readings/") || name.starts_with("diary/");
    let inside = name.len() < 60 && name.chars().all(plain) && !name.contains("..") && !name.ends_with('/');
    inside && (table || ARCHIVE.iter().any(|(known, _)| *known == name))
}

/// The pieces of an input, each with the name in the line `=== NAME` before it.
fn parts(bytes: &[u8]) -> Vec<(&str, &[u8])> {
    const RULE: &[u8] = b"=== ";
    let begins: Vec<usize> = (0..bytes.len())
        .filter(|&at| bytes[at..].starts_with(RULE) && (at == 0 || bytes[at - 1] == b'\n'))
        .collect();
    // The line end before a rule is the rule's own: a Parquet file has none.
    let ends = begins.iter().skip(1).map(|at| at - 1).chain([bytes.len()]);
    let piece = |(begin, end): (&usize, usize)| {
        let piece = &bytes[begin + RULE.len()..end];
        let at = piece.iter().position(|&b| b == b'\n')?;
        Some((std::str::from_utf8(&piece[..at]).ok()?, &piece[at + 1..]))
    };
    begins.iter().zip(ends).filter_map(piece).collect()
}

/// Assesses the study with these files in place of its own, as data and as the page of a terminal.
fn judged(files: &[(&str, &[u8])], opened: &str) {
    let folder = folder();
    let put = |name: &str, bytes: &[u8]| {
        std::fs::write(folder.path().join(name), bytes).expect("it can be written")
    };
    STUDY.iter().for_each(|(name, text)| put(name, text.as_bytes()));
    let own = |name: &str| name.ends_with(".xlsx") || STUDY.iter().any(|(known, _)| *known == name);
    files
        .iter()
        .filter(|(name, _)| own(name) && !name.contains('/'))
        .for_each(|(name, bytes)| put(name, bytes));
    let study = folder.path().join(opened);
    let stopped = match fullshift_engine::assessment(&study, None) {
        Ok(assessment) => {
            let value = serde_json::to_value(&assessment).expect("an assessment is JSON");
            in_order(&value, "assessment");
            fullshift_engine::tables(&assessment).expect("an assessment has tables");
            told(&assessment.findings);
            false
        }
        Err(stopped) => {
            assert!(!stopped.findings.is_empty(), "it stopped without a word");
            told(&stopped.findings);
            true
        }
    };
    paged(&study, stopped);
}

/// The page of a terminal says so too.
fn paged(study: &Path, stopped: bool) {
    let page = fullshift_tests::fullshift(&["assess".as_ref(), study.as_os_str()]);
    assert!(page.code <= u8::from(stopped), "{}{}", page.out, page.talk);
}

/// A folder in memory where the system has such.
fn folder() -> tempfile::TempDir {
    let memory = Path::new("/dev/shm");
    let within = if memory.is_dir() { memory.to_owned() } else { std::env::temp_dir() };
    tempfile::Builder::new().prefix("fullshift-").tempdir_in(within).expect("a folder can be made")
}

/// Every finding says what is wrong and what would be right.
fn told(findings: &[fullshift_engine::diagnose::Report]) {
    for finding in findings {
        assert!(!finding.message.trim().is_empty() && !finding.help.trim().is_empty(), "{finding:?}");
        assert!(!finding.places.is_empty(), "{finding:?}");
    }
}

/// Every figure is a number, and lies within its interval; what is no number comes out as null.
fn in_order(value: &Value, path: &str) {
    match value {
        Value::Object(object) => {
            if let Some(middle) = object.get("value").filter(|_| object.contains_key("unit")) {
                assert!(middle.is_number(), "{path} is {value}");
                let ends = ["low", "high"].map(|end| object.get(end));
                for end in ends.into_iter().flatten() {
                    assert!(end.is_number(), "{path} is {value}");
                }
                if let [Some(low), Some(high)] = ends.map(|end| end.and_then(Value::as_f64)) {
                    assert!(low <= high * (1.0 + 1e-9), "{path} is {value}");
                }
            }
            object.iter().for_each(|(key, inner)| in_order(inner, &format!("{path}.{key}")));
        }
        Value::Array(items) => items.iter().for_each(|item| in_order(item, path)),
        _ => {}
    }
}
