//! Tables as people have them: whatever the file, the same assessment.

use fullshift_tests::{assessment, copy, fixture, fullshift};
use serde_json::Value;
use std::path::Path;

/// The demo with its tables rewritten by `rewrite`, and lines added to or replaced in its study file.
fn variant(
    folder: &Path,
    study: impl Fn(String) -> String,
    rewrite: impl Fn(&str, String) -> Vec<u8>,
) -> Value {
    let here = folder.join("study");
    copy(&fixture("studies/composting-hall"), &here);
    let file = here.join("study.yaml");
    std::fs::write(&file, study(std::fs::read_to_string(&file).unwrap())).unwrap();
    for table in ["readings.csv", "diary.csv", "leak_checks.csv"] {
        let text = std::fs::read_to_string(here.join(table)).unwrap();
        std::fs::write(here.join(table), rewrite(table, text)).unwrap();
    }
    assessment(&here)
}

/// What an assessment says, without the bytes it was read from and the columns in which they stand.
fn said(assessment: &Value) -> String {
    let mut said = assessment.clone();
    said.as_object_mut().unwrap().remove("inputs");
    for finding in said["findings"].as_array_mut().unwrap() {
        for place in finding["places"].as_array_mut().unwrap() {
            place.as_object_mut().unwrap().remove("column");
        }
    }
    serde_json::to_string_pretty(&said).unwrap()
}

/// Fails at the first line that differs.
#[track_caller]
fn assert_same(found: &str, wanted: &str, what: &str) {
    let differing = found.lines().zip(wanted.lines()).find(|(a, b)| a != b);
    assert!(differing.is_none() && found.len() == wanted.len(), "{what}: {differing:?}");
}

/// Every date of a table rewritten.
fn dates(text: &str, form: impl Fn(&str) -> String) -> String {
    let mut rewritten = String::new();
    for line in text.lines() {
        let cells: Vec<String> = line
            .split(',')
            .map(
                |cell| {
                    if cell.len() == 16 && cell.starts_with("2027-") { form(cell) } else { cell.to_owned() }
                },
            )
            .collect();
        rewritten.push_str(&(cells.join(",") + "\n"));
    }
    rewritten
}

fn plain(text: String) -> String {
    text
}

#[test]
fn line_ends_marks_and_separators_change_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let own = said(&assessment(&fixture("studies/composting-hall")));
    let rewrites: [fn(&str, String) -> Vec<u8>; 4] = [
        |_, text| text.replace('\n', "\r\n").into_bytes(),
        |_, text| [b"\xEF\xBB\xBF".to_vec(), text.into_bytes()].concat(),
        |_, text| text.replace(',', "\t").into_bytes(),
        |_, text| {
            let note = "fish waste delivered; amines by a second tube";
            text.replace(note, &format!("\"{note}\"")).replace(',', ";").into_bytes()
        },
    ];
    for rewrite in rewrites {
        assert_same(&said(&variant(folder.path(), plain, rewrite)), &own, "the demo");
    }
}

#[test]
fn dates_in_the_form_that_the_study_names_are_the_same_dates() {
    let folder = tempfile::tempdir().unwrap();
    let own = said(&assessment(&fixture("studies/composting-hall")));
    let named = |form: &'static str| {
        move |text: String| text.replace("tables: {", &format!("tables: {{dates: {form}, "))
    };
    let day_first = |point: char| {
        move |_: &str, text: String| {
            dates(&text, |c| format!("{2}{point}{1}{point}{0}{3}", &c[..4], &c[5..7], &c[8..10], &c[10..]))
                .into_bytes()
        }
    };
    assert_same(&said(&variant(folder.path(), named("DD.MM.YYYY"), day_first('.'))), &own, "the demo");
    assert_same(&said(&variant(folder.path(), named("DD/MM/YYYY"), day_first('/'))), &own, "the demo");
    let month_first = |_: &str, text: String| {
        dates(&text, |c| format!("{1}/{2}/{0}{3}", &c[..4], &c[5..7], &c[8..10], &c[10..])).into_bytes()
    };
    assert_same(&said(&variant(folder.path(), named("MM/DD/YYYY"), month_first)), &own, "the demo");
    // 1 March 2027 is day 46,447 of the 1900 system and, 1,462 days fewer, 44,985 of the 1904 system (by the calendar).
    for (form, first) in [("serial-1900", 46_447.0), ("serial-1904", 44_985.0)] {
        let counted = move |_: &str, text: String| {
            let number = |text: &str| text.parse::<f64>().unwrap();
            dates(&text, |c| {
                assert_eq!(&c[5..7], "03");
                let day = first + number(&c[8..10]) - 1.0;
                format!("{}", day + number(&c[11..13]) / 24.0 + number(&c[14..16]) / 1440.0)
            })
            .into_bytes()
        };
        assert_same(&said(&variant(folder.path(), named(form), counted)), &own, form);
    }
}

#[test]
fn headings_of_the_users_own_are_taken_for_the_columns_they_name() {
    let folder = tempfile::tempdir().unwrap();
    let own = said(&assessment(&fixture("studies/composting-hall")));
    let headings = "columns: {readings: {start: Beginn, worker: [Wer, Person], reading: Anzeige}, diary: {task: Arbeit}}";
    let named = |text: String| format!("{text}\n{headings}\n");
    let renamed = |table: &str, text: String| {
        let (header, rows) = text.split_once('\n').unwrap();
        let header = match table {
            "readings.csv" => {
                header.replace("start", "BEGINN").replace("worker", "Person").replace(",reading", ",Anzeige")
            }
            "diary.csv" => header.replace("task", "Arbeit"),
            _ => header.to_owned(),
        };
        format!("{header}\n{rows}").into_bytes()
    };
    assert_same(&said(&variant(folder.path(), named, renamed)), &own, "the demo");
}

#[test]
fn windows_1252_is_read_with_a_note_at_its_first_letter() {
    let folder = tempfile::tempdir().unwrap();
    let rewrite = |table: &str, text: String| match table {
        "readings.csv" => {
            let text =
                text.replacen(",random,", ",random,am Büro €,", 1).replacen(",am Büro €,,", ",am Büro €,", 1);
            text.chars()
                .flat_map(|c| {
                    if c == '€' {
                        vec![0x80]
                    } else if c == 'ü' {
                        vec![0xFC]
                    } else {
                        c.to_string().into_bytes()
                    }
                })
                .collect()
        }
        _ => text.into_bytes(),
    };
    let read = variant(folder.path(), plain, rewrite);
    let note = read["findings"].as_array().unwrap().iter().find(|f| f["code"] == "F110").expect("a note");
    assert_eq!(note["places"][0]["file"], "readings.csv");
    assert!(note["message"].as_str().unwrap().ends_with("byte 0xFC is `ü`"), "{note}");
}

/// One byte changed, or the end cut off: whatever comes of it, it is told, and nothing breaks.
#[test]
fn a_damaged_workbook_or_parquet_file_is_told_of_and_never_breaks_the_program() {
    for (study, file) in [
        ("broken/workbook-in-per-cent", "field.xlsx"),
        ("broken/parquet-with-a-wrong-cell", "readings.parquet"),
    ] {
        let folder = tempfile::tempdir().unwrap();
        let here = folder.path().join("study");
        copy(&fixture(study), &here);
        let whole = std::fs::read(here.join(file)).unwrap();
        for step in 0..120 {
            let at = step * whole.len() / 120;
            let mut changed = whole.clone();
            changed[at] ^= 0x55;
            for bytes in [&changed[..], &whole[..at]] {
                std::fs::write(here.join(file), bytes).unwrap();
                let ran = fullshift(&["check".as_ref(), here.as_os_str()]);
                assert!(ran.code <= 1, "{file} at {at}: {}{}", ran.out, ran.talk);
                assert!(
                    bytes.len() == whole.len() || ran.code == 1,
                    "{file} cut at {at} passes:\n{}",
                    ran.out
                );
            }
        }
    }
}

/// Half an hour is thirty minutes, whatever the heading calls it.
#[test]
fn minutes_may_be_told_in_hours_by_the_heading() {
    let home = tempfile::tempdir().unwrap();
    let told = |heading: &str, rows: [&str; 2]| {
        let study = home.path().join(heading.replace(['[', ']', ' '], "-"));
        fullshift_tests::copy(&fixture("broken/task-of-no-minutes"), &study);
        let [turning, screening] = rows;
        let diary = format!(
            "worker,shift,task,{heading}\nW1,2027-03-09 06:00,turning,{turning}\nW1,2027-03-09 06:00,screening,{screening}\n"
        );
        std::fs::write(study.join("diary.csv"), diary).unwrap();
        let shift = &fullshift_tests::assessment(&study)["shifts"][0];
        let minutes = |task: usize| shift["tasks"][task]["minutes"].as_f64().unwrap();
        ([minutes(0), minutes(1)], shift["twa"]["value"].as_f64().unwrap())
    };
    let (minutes, twa) = told("minutes", ["270", "210"]);
    assert_eq!(minutes, [270.0, 210.0]);
    for rows in [["4.5", "3.5"], ["4.5", "210 min"]] {
        assert_eq!(told("minutes [h]", rows), (minutes, twa), "{rows:?}");
    }
    assert_eq!(told("minutes", ["4.5 h", "3.5 h"]), (minutes, twa));
}
