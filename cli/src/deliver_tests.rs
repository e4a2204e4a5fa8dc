use super::*;
use crate::standing::{NO_INPUTS, taken};

const REPLACE: Existing<'static> = Existing::Replace(&NO_INPUTS);

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn all_files_arrive_and_no_temporary_stays() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("a/b");
    deliver(&folder, &[("one.csv", b"1\n"), ("two.csv", b"2\n")], REPLACE).unwrap();
    assert_eq!(names(&folder), ["one.csv", "two.csv"]);
    assert_eq!(fs::read(folder.join("two.csv")).unwrap(), b"2\n");
}

#[test]
fn an_existing_file_is_replaced_as_a_whole() {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("one.csv"), "a much longer old text\n").unwrap();
    deliver(home.path(), &[("one.csv", b"new\n")], REPLACE).unwrap();
    assert_eq!(fs::read(home.path().join("one.csv")).unwrap(), b"new\n");
}

#[test]
fn a_folder_in_the_place_of_the_second_file_leaves_the_first_as_it_was() {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("one.csv"), "old\n").unwrap();
    fs::create_dir(home.path().join("two.csv")).unwrap();
    let failure = deliver(home.path(), &[("one.csv", b"new\n"), ("two.csv", b"new\n")], REPLACE).unwrap_err();
    assert_eq!(failure.code(), 3);
    assert_eq!(fs::read(home.path().join("one.csv")).unwrap(), b"old\n");
    assert_eq!(names(home.path()), ["one.csv", "two.csv"]);
}

#[test]
fn a_file_in_the_place_of_the_folder_is_a_failure_of_the_machine_and_stays() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("out");
    fs::write(&file, "mine\n").unwrap();
    for folder in [file.clone(), file.join("deeper")] {
        let failure = deliver(&folder, &[("one.csv", b"new\n")], REPLACE).unwrap_err();
        assert_eq!(failure.code(), 3);
    }
    assert_eq!(fs::read(&file).unwrap(), b"mine\n");
}

#[test]
fn a_kept_file_stops_the_whole_delivery_and_takes_back_what_was_placed() {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("two.csv"), "mine\n").unwrap();
    let failure =
        deliver(home.path(), &[("one.csv", b"new\n"), ("two.csv", b"new\n")], Existing::Keep).unwrap_err();
    assert_eq!(failure.code(), 3);
    assert_eq!(names(home.path()), ["two.csv"]);
    assert_eq!(fs::read(home.path().join("two.csv")).unwrap(), b"mine\n");
}

#[test]
fn folders_made_for_a_failed_delivery_are_taken_back() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("a/b");
    let too_long = "x".repeat(10_000);
    deliver(&folder, &[("one.csv", b"1"), (&too_long, b"2")], REPLACE).unwrap_err();
    assert_eq!(names(home.path()), Vec::<String>::new());
}

#[test]
fn taken_names_are_found() {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("b"), "").unwrap();
    assert_eq!(taken(home.path(), ["a", "b"].into_iter()), ["b"]);
}

#[test]
fn a_delivery_that_fails_half_way_brings_the_former_files_back() {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("one.csv"), "old\n").unwrap();
    let too_long = "x".repeat(10_000);
    let parcels: [Parcel<'_>; 3] = [("one.csv", b"new\n"), ("two.csv", b"new\n"), (&too_long, b"new\n")];
    deliver(home.path(), &parcels, REPLACE).unwrap_err();
    assert_eq!(names(home.path()), ["one.csv"]);
    assert_eq!(fs::read(home.path().join("one.csv")).unwrap(), b"old\n");
}
