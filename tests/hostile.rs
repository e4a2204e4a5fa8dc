//! Files that mean harm or came out of an accident: each is answered with a finding, in bounded time and memory.

use fullshift_tests::{copy, fixture, program};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Stdio;
use std::time::{Duration, Instant};
use zip::write::SimpleFileOptions;

/// Most processor time that an answer may take, of the program as it is built for the tests; a tenth of it when optimised.
const MOST_SECONDS: f64 = 30.0;
/// Longest that it may hang without using any.
const LONGEST: Duration = Duration::from_secs(300);
/// Most memory that it may take, in kilobytes.
const MOST_MEMORY_KB: u64 = 1 << 20;

/// A study of one reading, to be spoilt.
fn study() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let study = folder.path().join("study");
    copy(&fixture("studies/one-reading"), &study);
    (folder, study)
}

/// What `check` says of a study within its bounds.
fn told(study: &Path) -> String {
    let mut child =
        program().arg("check").arg(study).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    let begun = Instant::now();
    while child.try_wait().unwrap().is_none() {
        let (seconds, memory) = (processor_seconds(child.id()), memory_kb(child.id()));
        if seconds > MOST_SECONDS || memory > MOST_MEMORY_KB || begun.elapsed() > LONGEST {
            child.kill().unwrap();
            child.wait().unwrap();
            panic!(
                "stopped after {seconds} s of processor time, {:?} in all, with {memory} kB",
                begun.elapsed()
            );
        }
        std::thread::sleep(Duration::from_millis(2));
    }
    let output = child.wait_with_output().unwrap();
    let told = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
    assert!(output.status.code().is_some_and(|code| code < 3), "{told}");
    assert!(told.len() < 20_000, "{} bytes are too much to read: {}", told.len(), &told[..1000]);
    told
}

/// The most that a process has had in memory so far, where the system tells.
fn memory_kb(process: u32) -> u64 {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM:"));
    line.and_then(|line| line.split_whitespace().nth(1)?.parse().ok()).unwrap_or(0)
}

/// The processor time of a process so far, where the system tells: the 14th and 15th word, in hundredths of a second.
fn processor_seconds(process: u32) -> f64 {
    let stat = std::fs::read_to_string(format!("/proc/{process}/stat")).unwrap_or_default();
    let words = stat.rsplit(')').next().unwrap_or("").split_whitespace();
    words.skip(11).take(2).filter_map(|word| word.parse::<f64>().ok()).sum::<f64>() / 100.0
}

/// The study file in place of that of a good study, answered with an error whose text holds `words`.
fn study_file(text: &str, words: &str) {
    let (_folder, study) = study();
    std::fs::write(study.join("study.yaml"), text).unwrap();
    let told = told(&study);
    assert!(told.contains(words) && told.contains("help: "), "{told}");
}

fn good_study_file() -> String {
    std::fs::read_to_string(fixture("studies/one-reading/study.yaml")).unwrap()
}

#[test]
fn a_million_brackets_within_one_another_are_too_deep() {
    for open in ["[", "{a: ", "- ", "? ", "[{a: "] {
        study_file(&open.repeat(1_000_000), "entries are nested deeper here than a study can mean");
    }
    let indented: String = (0..2_000).map(|depth| format!("{}a:\n", " ".repeat(depth))).collect();
    study_file(&indented, "entries are nested deeper here than a study can mean");
}

/// Nine to the power of thirty entries in a kilobyte, and sixty times fifty thousand in a megabyte.
#[test]
fn aliases_that_repeat_without_end_are_too_many() {
    let powers = |i: u32| format!("a{i}: &a{i} [{}]\n", vec![format!("*a{}", i - 1); 9].join(","));
    let bomb: String = (1..=30).map(powers).collect();
    study_file(&format!("a0: &a0 [x]\n{bomb}"), "repeats more through aliases, than a study can mean");
    let (list, repeated) = (vec!["{a: b}"; 50_000].join(","), ["*l"; 60].join(","));
    let wide = format!("{}list: &l [{list}]\nrest: [{repeated}]\n", good_study_file());
    study_file(&wide, "repeats more through aliases, than a study can mean");
}

#[test]
fn names_without_end_are_no_names() {
    let deep = |name: String, depth: usize| format!("? {name}\n: {{").repeat(depth);
    study_file(&deep("k".repeat(1_000_000), 1), "the name of an entry is longer here than any can be");
    // A thousand letters at each of sixty depths above ten thousand entries: 600 MB of paths.
    let entries: Vec<String> = (0..10_000).map(|i| format!("a{i}: 1")).collect();
    let names = format!("{{{}: ", "k".repeat(1_000)).repeat(60);
    study_file(&format!("{names}{{{}", entries.join(", ")), "more entries");
}

#[test]
fn a_hundred_thousand_settings_that_do_not_belong_are_told_in_a_page() {
    let unknown: String = (0..100_000).map(|i| format!("a{i}: 1\n")).collect();
    study_file(&(good_study_file() + &unknown), "99950 more entries do not belong here");
    let twice = format!("{}more: {{{}}}\n", good_study_file(), vec!["a: 1"; 50_000].join(", "));
    study_file(&twice, "`a` stands twice in the same place");
}

/// A table in place of the readings of a good study.
fn table(write: impl Fn(&mut dyn Write) -> std::io::Result<()>, words: &str) {
    let (_folder, study) = study();
    let mut file = std::io::BufWriter::new(std::fs::File::create(study.join("readings.csv")).unwrap());
    write(&mut file).unwrap();
    file.flush().unwrap();
    drop(file);
    let told = told(&study);
    assert!(told.contains(words) && told.contains("help: "), "{told}");
}

const HEADER: &str = "id,worker,task,tube,pump,start,strokes,reading\n";

#[test]
fn ten_million_columns_are_no_table() {
    table(|file| (0..10_000_000).try_for_each(|_| file.write_all(b"c,")), "readings.csv");
    table(|file| file.write_all(&vec![b','; 10_000_000]), "readings.csv");
    let commas = |file: &mut dyn Write| {
        file.write_all(HEADER.as_bytes())?;
        (0..5).try_for_each(|_| file.write_all(&vec![b','; 2_000_000]).and_then(|()| file.write_all(b"1\n")))
    };
    table(commas, "this row has 2000001 cells, the header has 8");
}

#[test]
fn a_cell_of_half_a_gigabyte_is_no_cell() {
    for quote in ["", "\""] {
        let cell = |file: &mut dyn Write| {
            file.write_all(HEADER.as_bytes())?;
            write!(file, "R1,W1,turning,NH3-M,P1,2027-03-09 09:15,1,{quote}")?;
            (0..500).try_for_each(|_| file.write_all(&vec![b'1'; 1_000_000]))?;
            writeln!(file, "{quote}")
        };
        table(cell, "readings.csv");
    }
}

/// The readings in another file of the folder, or outside it.
fn readings_at(name: &str, prepare: impl Fn(&Path), words: &str) {
    let (folder, study) = study();
    std::fs::copy(study.join("readings.csv"), folder.path().join("outside.csv")).unwrap();
    std::fs::remove_file(study.join("readings.csv")).unwrap();
    prepare(&study);
    let text = good_study_file().replace("readings: readings.csv", &format!("readings: \"{name}\""));
    std::fs::write(study.join("study.yaml"), text).unwrap();
    let told = told(&study);
    assert!(told.contains(words) && told.contains("help: "), "{name}: {told}");
}

#[test]
fn a_table_outside_the_folder_is_not_opened() {
    let outside = "lies outside the folder of the study";
    for name in ["../outside.csv", "/etc/hostname.csv", "./../outside.csv", "a/../../outside.csv"] {
        readings_at(name, |_| {}, outside);
    }
    for name in ["CON.csv", "aux.csv", "NUL.csv", "readings.csv:stream.csv", "C:\\\\readings.csv"] {
        readings_at(name, |_| {}, "is not there");
    }
}

#[cfg(unix)]
#[test]
fn links_that_lead_out_or_in_circles_are_not_followed() {
    use std::os::unix::fs::symlink;
    let out = "is a link that leads out of the folder of the study";
    readings_at("readings.csv", |study| symlink("../outside.csv", study.join("readings.csv")).unwrap(), out);
    readings_at("readings.csv", |study| symlink("/dev/zero", study.join("readings.csv")).unwrap(), out);
    readings_at("up/outside.csv", |study| symlink("..", study.join("up")).unwrap(), out);
    let nowhere = "is a link that leads to no file";
    readings_at(
        "readings.csv",
        |study| symlink("readings.csv", study.join("readings.csv")).unwrap(),
        nowhere,
    );
    let two = |study: &Path| {
        symlink("b.csv", study.join("a.csv")).unwrap();
        symlink("a.csv", study.join("b.csv")).unwrap();
    };
    readings_at("a.csv", two, nowhere);
}

/// A link to a file of the same folder, and a folder that is itself reached by a link, are as good as any.
#[cfg(unix)]
#[test]
fn links_within_the_folder_are_followed() {
    use std::os::unix::fs::symlink;
    let (folder, study) = study();
    std::fs::rename(study.join("readings.csv"), study.join("monday.csv")).unwrap();
    symlink("monday.csv", study.join("readings.csv")).unwrap();
    symlink(&study, folder.path().join("link")).unwrap();
    for study in [study, folder.path().join("link")] {
        let told = told(&study);
        assert!(told.contains("1 reading"), "{told}");
    }
}

#[cfg(unix)]
#[test]
fn pipes_and_devices_are_not_opened() {
    let make =
        |path: PathBuf| assert!(std::process::Command::new("mkfifo").arg(path).status().unwrap().success());
    let words = "is no ordinary file but a pipe or a device";
    readings_at("readings.csv", |study| make(study.join("readings.csv")), words);
    let (_folder, study) = study();
    std::fs::remove_file(study.join("study.yaml")).unwrap();
    make(study.join("study.yaml"));
    assert!(told(&study).contains(words));
    assert!(told(Path::new("/dev/zero")).contains(words));
}

/// A workbook of the demo with one of its parts replaced.
fn workbook(part: &str, bytes: &[u8]) -> Vec<u8> {
    let good = fixture("broken/workbook-with-a-formula/field.xlsx");
    let mut archive = zip::ZipArchive::new(std::fs::File::open(good).unwrap()).unwrap();
    let mut new = zip::ZipWriter::new(std::io::Cursor::new(Vec::new()));
    for at in 0..archive.len() {
        let file = archive.by_index_raw(at).unwrap();
        if file.name().unwrap() != part {
            new.raw_copy_file(file).unwrap();
        }
    }
    new.start_file(part, SimpleFileOptions::default()).unwrap();
    new.write_all(bytes).unwrap();
    new.finish().unwrap().into_inner()
}

fn in_workbook(book: &[u8], words: &str) {
    let write = |study: &Path| std::fs::write(study.join("field.xlsx"), book).unwrap();
    readings_at("field.xlsx", write, words);
}

#[test]
fn workbooks_that_unpack_to_more_than_a_study_holds_are_refused() {
    let sheet = |cells: usize| {
        let row = format!("<row>{}</row>", "<c t=\"str\"><v>1</v></c>".repeat(100));
        let rows = row.repeat(cells / 100);
        format!("<worksheet><sheetData>{rows}</sheetData></worksheet>").into_bytes()
    };
    let part = "xl/worksheets/sheet1.xml";
    in_workbook(&workbook(part, &sheet(50_000_000 / 25 * 2)), "field.xlsx is larger than a study can be");
    in_workbook(
        &workbook("xl/sharedStrings.xml", &vec![b' '; 70 << 20]),
        "field.xlsx is larger than a study can be",
    );
    // Below the bound they are read, and the cells are answered.
    in_workbook(&workbook(part, &sheet(300_000)), "field.xlsx#readings has no columns");
    let strings = format!("<sst>{}</sst>", "<si><t>a</t></si>".repeat(500_000));
    in_workbook(&workbook("xl/sharedStrings.xml", strings.as_bytes()), "formula");
    let deep = format!("<worksheet><sheetData>{}", "<row><c>".repeat(1_000_000));
    in_workbook(&workbook(part, deep.as_bytes()), "field.xlsx");
}
