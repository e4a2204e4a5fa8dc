//! Every published table, run and held against its tolerance.

#![allow(clippy::print_stdout, reason = "the table of agreement is what this test is for")]

use fullshift_stats::verify::{TableResult, run_all};

#[test]
fn every_published_table_agrees_within_its_tolerance() {
    let results = run_all();
    results.iter().for_each(show);
    let failed: Vec<_> = results.iter().filter(|r| !r.passed).map(|r| r.id.as_str()).collect();
    assert!(failed.is_empty(), "outside their tolerance: {failed:?}");
}

fn show(r: &TableResult) {
    println!(
        "{:<40} {:>4} rows {:>5} values  peak {:8.1e}  mean {:8.1e}  {:>2} digits  {}",
        r.id,
        r.rows,
        r.values,
        r.peak_relative_error,
        r.mean_relative_error,
        r.agreed_digits,
        if r.passed { "agrees" } else { "OUTSIDE" }
    );
    if let Some(reason) = &r.reason {
        println!("    {reason}");
    }
    if let Some(w) = &r.worst {
        println!(
            "    worst {} of {}: expected {:?}, got {:?}, {:.2} of what is allowed {}",
            if w.value.is_empty() { "value" } else { &w.value },
            w.inputs,
            w.expected,
            w.got,
            w.strain,
            w.reason.as_deref().unwrap_or("")
        );
    }
}

#[test]
fn every_table_has_a_name_of_its_own_and_names_its_source() {
    let results = run_all();
    let mut names: Vec<_> = results.iter().map(|r| r.id.clone()).collect();
    names.sort();
    names.dedup();
    assert_eq!(names.len(), results.len());
    assert!(results.iter().all(|r| !r.source.is_empty() && !r.provenance.is_empty() && !r.title.is_empty()));
}

#[test]
fn every_file_of_published_values_is_built_in() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fixtures/published");
    let built_in: Vec<_> = run_all().into_iter().map(|r| r.id).collect();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|e| e == "json") {
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            assert!(built_in.contains(&name), "{name} stands in no registry");
        }
    }
}
