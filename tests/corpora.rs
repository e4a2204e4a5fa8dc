//! Every input that a fuzzer kept is answered as the target wants it; `fuzz/run` looks for new ones.

#[path = "../fuzz/targets/statistics.rs"]
mod statistics;
#[path = "../fuzz/targets/studies.rs"]
mod studies;

use fullshift_tests::root;

fn replayed(name: &str, target: fn(&[u8])) {
    let folder = root().join("fuzz/corpus").join(name);
    let mut inputs: Vec<_> = folder.read_dir().unwrap().map(|entry| entry.unwrap().path()).collect();
    inputs.sort();
    assert!(inputs.len() > 5, "the corpus of {name} is lost");
    for input in inputs {
        let bytes = std::fs::read(&input).unwrap();
        if std::panic::catch_unwind(|| target(&bytes)).is_err() {
            panic!("{} is not answered as it must be", input.display());
        }
    }
}

#[test]
fn study_files_are_assessed_or_answered() {
    replayed("study", studies::study);
}

#[test]
fn tables_are_assessed_or_answered() {
    replayed("tables", studies::tables);
}

#[test]
fn archives_are_assessed_or_answered() {
    replayed("archive", studies::archive);
}

#[test]
fn cells_of_a_reading_are_assessed_or_answered() {
    replayed("notation", studies::notation);
}

#[test]
fn quantities_are_converted_or_answered() {
    replayed("quantities", studies::quantities);
}

#[test]
fn workbooks_are_assessed_or_answered() {
    replayed("workbook", studies::workbook);
}

#[test]
fn parts_of_workbooks_are_assessed_or_answered() {
    replayed("workbook-parts", studies::workbook_parts);
}

#[test]
fn numbers_are_answered_by_numbers_or_reasons() {
    replayed("statistics", statistics::statistics);
}
