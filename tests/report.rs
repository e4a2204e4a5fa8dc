//! The written report: every study in every form, whole or not at all, and nothing of the user's becomes markup.

use fullshift_tests::{Ran, bytes_below, copy, fixture, fullshift, studies_in};
use std::path::{Path, PathBuf};

fn report(study: &Path, more: &[&str]) -> Ran {
    let mut words = vec!["report".as_ref(), study.as_os_str()];
    words.extend(more.iter().map(AsRef::<std::ffi::OsStr>::as_ref));
    fullshift(&words)
}

/// The files of a report, by name.
fn written(study: &Path, forms: &[&str], more: &[&str]) -> Vec<(PathBuf, Vec<u8>)> {
    let folder = tempfile::tempdir().unwrap();
    let outs: Vec<String> =
        forms.iter().map(|form| folder.path().join(format!("r.{form}")).display().to_string()).collect();
    let mut words: Vec<&str> = outs.iter().flat_map(|out| ["--out", out.as_str()]).collect();
    words.extend(more);
    let ran = report(study, &words);
    assert_eq!(ran.code, 0, "{}: {}{}", study.display(), ran.out, ran.talk);
    let below = bytes_below(folder.path()).into_iter();
    below.map(|(path, bytes)| (path.strip_prefix(folder.path()).unwrap().to_owned(), bytes)).collect()
}

fn text(study: &Path, form: &str, more: &[&str]) -> String {
    let files = written(study, &[form], more);
    let name = PathBuf::from(format!("r.{form}"));
    let (_, bytes) = files.into_iter().find(|(path, _)| *path == name).unwrap();
    String::from_utf8(bytes).unwrap()
}

#[test]
fn every_study_gives_the_same_report_twice_in_every_form() {
    for study in [studies_in("studies"), studies_in("worked")].concat() {
        let first = written(&study, &["html", "md"], &[]);
        assert!(first.len() >= 2);
        assert!(first == written(&study, &["html", "md"], &[]), "{} differs", study.display());
    }
}

/// A word processor's file of every study among the fixtures that can be assessed.
#[test]
fn a_word_file_is_the_same_twice_and_whole() {
    let assessed = |study: &PathBuf| fullshift(&["assess".as_ref(), study.as_os_str()]).code == 0;
    let studies: Vec<PathBuf> = ["studies", "worked", "broken"].into_iter().flat_map(studies_in).collect();
    let studies: Vec<PathBuf> = studies.into_iter().filter(assessed).collect();
    assert!(studies.len() > 70, "{}", studies.len());
    for study in &studies {
        let once = || written(study, &["docx"], &["--language", "de"]);
        let (first, second) = std::thread::scope(|scope| {
            let other = scope.spawn(once);
            (once(), other.join().unwrap())
        });
        assert!(first == second, "{} differs", study.display());
        let mut file = zip::ZipArchive::new(std::io::Cursor::new(&first[0].1)).unwrap();
        for at in 0..file.len() {
            let mut part = file.by_index(at).unwrap();
            let mut bytes = Vec::new();
            std::io::Read::read_to_end(&mut part, &mut bytes).unwrap();
            assert!(!bytes.is_empty(), "{}: part {at} is empty", study.display());
        }
    }
}

/// No name vanishes from a picture whose letters cannot write it: a number stands there, and the words below it.
#[test]
fn a_word_file_tells_the_names_that_its_pictures_cannot_write() {
    let folder = tempfile::tempdir().unwrap();
    let study = folder.path().join("study");
    copy(&fixture("studies/one-reading"), &study);
    for file in ["study.yaml", "readings.csv", "diary.csv", "leak_checks.csv"] {
        let text = std::fs::read_to_string(study.join(file)).unwrap();
        std::fs::write(study.join(file), text.replace("W1", "\u{738b}\u{5c0f}\u{660e}")).unwrap();
    }
    let files = written(&study, &["docx"], &[]);
    let mut file = zip::ZipArchive::new(std::io::Cursor::new(&files[0].1)).unwrap();
    let mut body = String::new();
    std::io::Read::read_to_string(&mut file.by_name("word/document.xml").unwrap(), &mut body).unwrap();
    let words: String = body.split('<').filter_map(|part| Some(part.split_once('>')?.1)).collect();
    assert!(words.contains("In the picture: [1] \u{738b}\u{5c0f}\u{660e}"), "{words}");
}

#[test]
fn no_report_holds_a_number_that_is_none() {
    for study in studies_in("studies") {
        for language in ["en", "de"] {
            let markdown = text(&study, "md", &["--language", language]);
            assert!(!markdown.contains("NaN") && !markdown.contains("| inf"), "{}", study.display());
        }
    }
}

/// Every link within the file leads to a place in it, and every place is named once.
#[test]
fn every_link_of_the_html_leads_somewhere() {
    for study in studies_in("studies") {
        let html = text(&study, "html", &[]);
        let of = |start: &str| -> Vec<String> {
            html.split(start).skip(1).map(|rest| rest[..rest.find('"').unwrap()].to_owned()).collect()
        };
        let mut places = of(" id=\"");
        let count = places.len();
        places.sort();
        places.dedup();
        assert_eq!(count, places.len(), "{}: a place is named twice", study.display());
        for link in of(" href=\"#") {
            assert!(places.binary_search(&link).is_ok(), "{}: #{link} leads nowhere", study.display());
        }
    }
}

/// The demo with other words in some of its places.
fn demo_with(folder: &Path, file: &str, rewrite: impl Fn(&str) -> String) -> PathBuf {
    let study = folder.join("study");
    if !study.exists() {
        copy(&fixture("studies/composting-hall"), &study);
    }
    let path = study.join(file);
    let after = rewrite(&std::fs::read_to_string(&path).unwrap());
    std::fs::write(path, after).unwrap();
    study
}

#[test]
fn nothing_that_the_user_wrote_becomes_markup() {
    let folder = tempfile::tempdir().unwrap();
    let title =
        format!("<script>alert(1)</script> & \u{202e}turned \u{5d0}\u{5d1} \u{1f9ea} {}", "long ".repeat(40));
    let study = demo_with(folder.path(), "study.yaml", |yaml| {
        let words =
            "\nreport:\n  background: |\n    <img src=x onerror=alert(2)> and [a](javascript:alert(3))\n";
        let quoted = format!("{title:?}").replace("\\u{202e}", "\\u202e");
        let line = yaml.lines().find(|line| line.starts_with("  title: ")).unwrap();
        yaml.replace(line, &format!("  title: {quoted}")) + words
    });
    let html = text(&study, "html", &[]);
    assert!(
        html.contains("&lt;script&gt;alert(1)&lt;/script&gt; &amp; \u{fffd}turned"),
        "the title is not escaped"
    );
    assert!(html.contains("&lt;img src=x onerror=alert(2)&gt;"));
    assert!(!html.contains("<img src=x") && !html.contains("javascript:") && !html.contains('\u{202e}'));
    assert_eq!(html.matches("<script>").count(), 1, "only the report's own script");
    let markdown = text(&study, "md", &[]);
    assert!(markdown.starts_with("# &lt;script&gt;"), "{}", &markdown[..80]);
    assert!(!markdown.contains("<img src=x"));
}

#[test]
fn the_users_words_stand_in_their_sections() {
    let folder = tempfile::tempdir().unwrap();
    let words = "\nreport:\n  language: de\n  background: Der Anlass.\n  controls: \"- Absaugung\"\n  recommendations: |\n    1. *Tore* zu\n";
    let study = demo_with(folder.path(), "study.yaml", |yaml| yaml.to_owned() + words);
    let html = text(&study, "html", &[]);
    for (place, words) in [
        ("background", "<p>Der Anlass.</p>"),
        ("controls", "<li>Absaugung"),
        ("recommendations", "<ol>\n<li><em>Tore</em> zu"),
    ] {
        let section = html.split(&format!("<h3 id=\"{place}\">")).nth(1).unwrap();
        assert!(
            section.split("<h").nth(1).is_some() && section[..400.min(section.len())].contains(words),
            "{place}"
        );
    }
    assert!(html.starts_with("<!DOCTYPE html>\n<html lang=\"de\">"));
    assert!(text(&study, "html", &["--language", "en"]).contains("<html lang=\"en\">"));
}

/// Whether a name stands in a text as a word of its own.
fn names(text: &str, name: &str) -> bool {
    text.match_indices(name).any(|(at, _)| {
        let word = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
        !word(text[..at].chars().next_back()) && !word(text[at + name.len()..].chars().next())
    })
}

#[test]
fn an_anonymous_report_names_no_worker_anywhere() {
    let folder = tempfile::tempdir().unwrap();
    let mut studies = studies_in("studies");
    let rename = |text: &str| text.replace("W1", "Ada Alder").replace("W2", "Ben \u{d6}tt");
    for file in ["study.yaml", "readings.csv", "diary.csv"] {
        demo_with(folder.path(), file, rename);
    }
    demo_with(folder.path(), "study.yaml", |yaml| {
        yaml.to_owned() + "\nreport: {background: \"Ada Alder asked.\"}\n"
    });
    studies.push(folder.path().join("study"));
    for study in studies {
        let assessed = fullshift_engine::assessment(&study, None).unwrap();
        let workers = assessed.study.groups.iter().flat_map(|group| group.workers.clone());
        let workers: Vec<String> = workers.collect();
        for (path, bytes) in written(&study, &["html", "md"], &["--anonymous"]) {
            let text = String::from_utf8(bytes).unwrap();
            for worker in &workers {
                assert!(!names(&text, worker), "{}: {} names {worker}", study.display(), path.display());
            }
        }
    }
}

#[test]
fn a_report_of_one_group_tells_of_no_other() {
    let folder = tempfile::tempdir().unwrap();
    let study = demo_with(folder.path(), "study.yaml", |yaml| {
        let agents = yaml.lines().find(|line| line.starts_with("    agents: [")).unwrap();
        let others = format!("{agents}\n  visitors:\n    workers: [W7]\n{agents}");
        yaml.replace("W6, W7]", "W6]").replacen(agents, &others, 1)
    });
    let html = text(&study, "html", &["--group", "visitors"]);
    assert!(names(&html, "W7") && !names(&html, "W1") && !names(&html, "hall-operators"));
    let readings = std::fs::read_to_string(study.join("readings.csv")).unwrap();
    let own = readings.lines().filter(|line| line.split(',').nth(1) == Some("W7")).count();
    assert!(
        html.contains(&format!("Tubes drawn and read for this group: {own}.")),
        "the counts are not its own"
    );
    let ran = report(&study, &["--group", "visitor", "--out", "r.html"]);
    assert_eq!(ran.code, 2);
    assert!(ran.talk.contains("Its groups are: hall-operators, visitors."), "{}", ran.talk);
}

#[test]
fn an_unknown_form_a_target_named_twice_and_a_place_where_none_may_write_leave_nothing() {
    let study = fixture("studies/one-reading");
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name).display().to_string();
    std::fs::create_dir(folder.path().join("folder.html")).unwrap();
    std::fs::write(folder.path().join("file"), "mine").unwrap();
    let before = bytes_below(folder.path());
    for (bad, code, words) in [
        (path("r.pdf"), 2, "names no form of report"),
        (path("r"), 2, "names no form of report"),
        (path("ok.html"), 2, "is named twice"),
        (path("folder.html"), 3, "a folder stands where the file belongs"),
        (path("file/r.html"), 3, "a file stands where a folder is needed"),
    ] {
        let ran = report(&study, &["--out", &path("ok.html"), "--out", &path("new/ok.md"), "--out", &bad]);
        assert_eq!(ran.code, code, "{bad}: {}", ran.talk);
        assert!(ran.talk.contains(words), "{bad}: {}", ran.talk);
        assert!(ran.out.is_empty() && bytes_below(folder.path()) == before, "{bad} left something");
        assert!(!folder.path().join("new").exists(), "{bad} left a folder");
    }
}

#[test]
fn a_study_with_errors_gets_no_report() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("r.html").display().to_string();
    let ran = report(&fixture("broken/logo-missing"), &["--out", &out]);
    assert_eq!(ran.code, 1);
    assert!(ran.talk.contains("logo.png is not there"), "{}", ran.talk);
    assert_eq!(folder.path().read_dir().unwrap().count(), 0);
}

/// A name that a spreadsheet would take for a formula is a text in every table, and as it was typed in the report.
#[test]
fn a_name_like_a_formula_is_a_text_in_every_table() {
    let folder = tempfile::tempdir().unwrap();
    let name = "=HYPERLINK(0)";
    let quoted = format!("{name:?}");
    demo_with(folder.path(), "study.yaml", |yaml| yaml.replace("W1,", &format!("{quoted},")));
    demo_with(folder.path(), "diary.csv", |table| table.replace("W1,", &format!("{name},")));
    let study = demo_with(folder.path(), "readings.csv", |table| table.replace(",W1,", &format!(",{name},")));
    let out = folder.path().join("out");
    let ran = fullshift(&["assess".as_ref(), study.as_os_str(), "--out".as_ref(), out.as_os_str()]);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.talk);
    for (path, bytes) in bytes_below(&out).into_iter().filter(|(path, _)| path.extension().unwrap() == "csv")
    {
        for row in csv::Reader::from_reader(&bytes[..]).records() {
            let row = row.unwrap();
            assert!(!row.iter().any(|cell| cell.starts_with('=')), "{}: {row:?}", path.display());
        }
    }
    assert!(text(&study, "html", &[]).contains(name));
}

/// A PNG of two dots by one, made by Python's zlib.
const DOTS: [u8; 70] = [
    0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0x00, 0x00, 0x00, 0x0d, 0x49, 0x48, 0x44, 0x52, 0x00,
    0x00, 0x00, 0x02, 0x00, 0x00, 0x00, 0x01, 0x08, 0x02, 0x00, 0x00, 0x00, 0x7b, 0x40, 0xe8, 0xdd, 0x00,
    0x00, 0x00, 0x0d, 0x49, 0x44, 0x41, 0x54, 0x78, 0x9c, 0x63, 0x10, 0x48, 0x58, 0x00, 0x44, 0x00, 0x06,
    0x57, 0x02, 0x21, 0x60, 0xca, 0x4b, 0x7c, 0x00, 0x00, 0x00, 0x00, 0x49, 0x45, 0x4e, 0x44, 0xae, 0x42,
    0x60, 0x82,
];

/// The text of every part of a word processor's file.
fn word_text(bytes: &[u8]) -> String {
    let mut file = zip::ZipArchive::new(std::io::Cursor::new(bytes)).unwrap();
    let mut all = String::new();
    for at in 0..file.len() {
        let mut part = Vec::new();
        std::io::Read::read_to_end(&mut file.by_index(at).unwrap(), &mut part).unwrap();
        all += &String::from_utf8(part).unwrap_or_default();
    }
    all
}

#[test]
fn a_logo_stands_in_every_form_and_a_word_file_names_nobody_when_asked() {
    let folder = tempfile::tempdir().unwrap();
    let study = folder.path().join("study");
    copy(&fixture("studies/one-reading"), &study);
    let yaml = std::fs::read_to_string(study.join("study.yaml")).unwrap();
    std::fs::write(
        study.join("study.yaml"),
        yaml + "\nreport: {logo: dots.png, background: W1 was there.}\n",
    )
    .unwrap();
    std::fs::write(study.join("dots.png"), DOTS).unwrap();
    let files = written(&study, &["html", "docx", "md"], &["--anonymous"]);
    let of = |name: &str| &files.iter().find(|(path, _)| path.as_os_str() == name).unwrap().1;
    assert_eq!(of("r-logo.png")[..], DOTS);
    assert!(String::from_utf8_lossy(of("r.html")).contains("src=\"data:image/png;base64,iVBORw0KGgo"));
    let words = word_text(of("r.docx"));
    assert!(words.contains("media/picture1.png") && words.contains("A was there."));
    assert!(!names(&words, "W1"), "the word processor's file names W1");
    let record = &String::from_utf8_lossy(of("r.md")).into_owned();
    assert!(record.contains("| dots.png | `"), "the logo is one of the files of record");
}

/// A tube stands for its task, though it was drawn for minutes only: nobody may read the share of such tasks as time measured.
#[test]
fn time_in_tasks_with_a_tube_is_not_called_measured_and_the_minutes_drawn_stand_beside_it() {
    let study = fixture("studies/composting-hall");
    for (language, head, drawn, false_word) in [
        ("en", "time in tasks with a tube", "tubes (minutes drawn)", "measured time"),
        ("de", "Zeit in Tätigkeiten mit Röhrchen", "Röhrchen (Ziehzeit in Minuten)", "gemessene Zeit"),
    ] {
        let report = text(&study, "md", &["--language", language]).replace('\u{a0}', " ");
        assert!(report.contains(&format!("| {head} | {drawn} |")), "{report}");
        assert!(!report.contains(false_word), "{report}");
        // W4's second shift: of its seven tubes for ammonia one stood in the hall; the six took 2+2+1+1+1+1 strokes of a minute.
        let row = report.lines().find(|line| line.starts_with("| W4 ") && line.contains("69 %"));
        assert!(row.is_some_and(|row| row.ends_with("| 69 % | 6/7 (8) |")), "{row:?}");
    }
    let screen = fullshift(&["assess".as_ref(), study.as_os_str()]).out.replace('\n', " ");
    assert!(screen.contains("cover: % of the time in tasks with a tube"), "{screen}");
}

/// Whoever reads the verdicts alone reads which of them hang on qualified readings.
#[test]
fn a_verdict_that_hangs_on_qualified_readings_says_so_beside_itself() {
    let study = fixture("studies/composting-hall");
    let report = text(&study, "md", &["--language", "en"]).replace('\u{a0}', " ");
    let first = &report[report.find("## 1 Verdicts").unwrap()..report.find("## 2 ").unwrap()];
    let found = fullshift_tests::assessment(&study);
    let changes = found["field_quality"]["without_qualified"]["groups"].as_array().unwrap();
    assert!(!changes.is_empty());
    for change in changes {
        let [now, then] = ["verdict", "without"].map(|key| change[key].as_str().unwrap());
        let told =
            format!("Without the qualified readings it would read: **{then}** instead of **{now}** by the ");
        let limit = change["limit"]["value"].as_f64().unwrap();
        let line =
            first.lines().find(|line| line.contains(&told)).unwrap_or_else(|| panic!("{told}\n{first}"));
        assert!(line.contains(&format!(" limit of {limit} ppm")), "{line}");
    }
}

#[test]
fn every_reading_stands_with_lot_pump_unit_and_what_qualifies_it_and_spoiled_tubes_too() {
    let report = text(&fixture("broken/read-too-late"), "md", &[]).replace('\u{a0}', " ");
    let row =
        |id: &str| report.lines().find(|l| l.starts_with("| <a id") && l.contains(&format!("**{id}**")));
    let late = row("R3").unwrap();
    assert!(late.contains("| NH3-M, P1 | 20 ppm |") && late.ends_with("| yes, **F009** |"), "{late}");
    assert!(row("R1").unwrap().ends_with("| yes |"));
    let report = text(&fixture("broken/spoiled-tube"), "md", &[]).replace('\u{a0}', " ");
    let (_, spoiled) = report.split_once("Tubes that were spoiled").unwrap();
    assert!(spoiled.lines().any(|line| line.starts_with("| R7 | NH3-M | ")), "{spoiled}");
    let lotted =
        text(&fixture("studies/composting-hall"), "md", &["--language", "en"]).replace('\u{a0}', " ");
    assert!(lotted.contains("| NH3-M, 2611-M, P2 | 6 ppm |"), "R073 of the demo");
}

/// 35 mg/m3 of ammonia (17.03 g/mol) at 25 C and 101.325 kPa, where a mole fills 24.465 L: 35 x 24.465 / 17.03 = 50.28 ppm.
#[test]
fn a_limit_stands_as_entered_with_its_terms_and_says_where_its_source_is_missing() {
    let folder = tempfile::tempdir().unwrap();
    let study = demo_with(folder.path(), "study.yaml", |text| {
        assert!(text.contains("value: 50 ppm"));
        let text = text.replace("value: 50 ppm", "value: 35 mg/m3");
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        let h2s = lines.iter_mut().find(|l| l.contains("agent: hydrogen-sulphide, kind: twa")).unwrap();
        *h2s = h2s.split(", source:").next().unwrap().to_owned() + "}";
        lines.join("\n")
    });
    let report = text(&study, "md", &["--language", "en"]).replace('\u{a0}', " ");
    let row = |start: &str| report.lines().find(|line| line.starts_with(start)).unwrap().to_owned();
    let short = row("| ammonia | 7664-41-7 | short-term |");
    let terms = "| over 15 minutes; reached at most 4 times a shift; at least 60 minutes apart |";
    assert!(short.contains("| 35 mg/m3 = 50.28 ppm |") && short.contains(terms), "{short}");
    let twa = row("| ammonia | 7664-41-7 | TWA |");
    assert!(twa.contains("| 20 ppm | over 8 hours; lowered for shifts longer than 8 hours"), "{twa}");
    assert!(row("| hydrogen-sulphide | 7783-06-4 | TWA |").ends_with("| not given |"));
    assert!(!report.contains("who says where it was taken from"));
}

/// A ceiling holds at every moment; tubes show a few of them.
#[test]
fn nobody_reads_that_the_exposure_lies_below_a_ceiling() {
    let study = fixture("studies/by-hand");
    for (language, exposure, unknown) in [
        ("en", "the exposure lies", "between the readings nothing is known"),
        ("de", "liegt die Exposition", "zwischen den Messungen ist nichts bekannt"),
    ] {
        let report = text(&study, "md", &["--language", language]).replace('\u{a0}', " ");
        let ceiling = if language == "en" { "ceiling limit of" } else { "dem Höchstwert von" };
        let line = report.lines().find(|line| line.contains(ceiling)).unwrap();
        assert!(!line.contains(exposure) && line.to_lowercase().contains(&unknown.to_lowercase()), "{line}");
        let legend = report
            .lines()
            .find(|line| line.contains(if language == "en" { "A triangle" } else { "Ein Dreieck" }));
        assert!(legend.is_some_and(|line| line.contains(unknown)), "{legend:?}");
    }
}

/// The clock goes from 02:00 to 03:00 in the night of 28 March 2027, and from 03:00 +02:00 back to 02:00 +01:00 in that of 31 October.
#[test]
fn the_axis_of_a_shift_shows_the_local_clock_also_where_it_changes() {
    let files = written(&fixture("studies/clock-changes"), &["md"], &["--language", "en"]);
    let svgs = files.iter().filter(|(path, _)| path.extension().is_some_and(|end| end == "svg"));
    let svgs = svgs.map(|(_, bytes)| String::from_utf8(bytes.clone()).unwrap());
    let timeline = svgs.into_iter().find(|svg| svg.contains(">+02:00<")).unwrap();
    let texts: Vec<(f64, &str)> = timeline
        .split("<text x=\"")
        .skip(1)
        .filter_map(|text| {
            let words = text.split_once('>')?.1.split('<').next()?;
            Some((text.split('"').next()?.parse().ok()?, words))
        })
        .collect();
    let hours: Vec<&str> =
        texts.iter().map(|(_, words)| *words).filter(|w| w.ends_with(":00") && w.len() < 7).collect();
    let spring = ["22:00", "23:00", "00:00", "01:00", "03:00", "04:00", "05:00", "06:00"];
    assert_eq!(hours[..8], spring);
    let hour = |words: &str| words.len() == 5;
    let autumn: Vec<&str> = hours[8..].iter().copied().filter(|words| hour(words)).collect();
    assert_eq!(
        autumn,
        ["22:00", "23:00", "00:00", "01:00", "02:00", "02:00", "03:00", "04:00", "05:00", "06:00"]
    );
    let offsets: Vec<f64> = texts.iter().filter(|(_, w)| w.starts_with('+')).map(|(x, _)| *x).collect();
    let twice: Vec<f64> = texts.iter().filter(|(_, w)| *w == "02:00").map(|(x, _)| *x).collect();
    assert_eq!((offsets.len(), &offsets), (2, &twice));
    // R3 and R4, at half past two each, stand half an hour behind their hours: nine hours are 532 wide.
    let marks: Vec<f64> =
        timeline.split("<circle cx=\"").skip(1).filter_map(|c| c.split('"').next()?.parse().ok()).collect();
    for hour in twice {
        assert!(marks.iter().any(|x| (x - hour - 532.0 / 18.0).abs() < 2.5), "{hour}: {marks:?}");
    }
    let listed =
        String::from_utf8(files.iter().find(|(path, _)| path.ends_with("r.md")).unwrap().1.clone()).unwrap();
    assert!(listed.contains("| 2027-10-31 02:30 +02:00 |") && listed.contains("| 2027-10-31 02:30 +01:00 |"));
}

/// The demo's operators are above the short-term limit for ammonia: that comes first, and no date for the next look stands beside it.
#[test]
fn what_is_to_be_done_begins_with_what_is_above_its_limit() {
    let report =
        text(&fixture("studies/composting-hall"), "md", &["--language", "en"]).replace('\u{a0}', " ");
    let next = report.split("## 9 What to do next").nth(1).unwrap().split("\n## ").next().unwrap();
    let told = |words: &str| next.find(words).unwrap_or_else(|| panic!("{words}: {next}"));
    let above =
        told("- hall-operators, ammonia: **above** the short-term limit of 50 ppm, by the exceedance test");
    assert!(told("First, where a rule") < above && above < told("replace the substance"));
    assert!(told("personal protective equipment last") < told("Then measure again"));
    assert!(told("Then measure again") < told("Undecided by the shifts at hand"));
    assert!(!next.contains("hall-operators, ammonia: assess again in"), "{next}");
    assert!(next.contains("hall-operators, hydrogen-sulphide: assess again in"), "{next}");
}

/// What a verdict rests on stands in plain words: what is presumed, which tasks count as nothing, when each shift ended.
#[test]
fn the_report_says_what_it_presumes_and_how_long_each_shift_was() {
    let report =
        text(&fixture("studies/composting-hall"), "md", &["--language", "en"]).replace('\u{a0}', " ");
    for words in [
        "lognormal distribution; the group",
        "chosen at random among",
        "independent of each other",
        "taken at its word",
    ] {
        assert!(report.contains(words), "{words}");
    }
    // The diary has W1 at work from 06:00 to 14:00 on 8 March.
    assert!(report.contains("| W1 | 2027-03-08 06:00–14:00, 8 hours |"), "{report}");
    let zero = report.lines().find(|line| line.contains("counted as zero on the assessor's word")).unwrap();
    assert!(zero.contains("office counted as zero"), "{zero}");
    assert!(!report.contains("speak for the shifts and the work that were sampled"));
    let report = text(&fixture("studies/long-shift"), "md", &["--language", "en"]);
    let worn = report.lines().find(|line| line.contains("Inside the respirators worn")).unwrap();
    assert!(
        worn.contains("worn throughout the task") && worn.contains("has no limits, for that factor"),
        "{worn}"
    );
}

/// A file with a finding that quotes a key of the study: the report shows it typed, not between backticks.
#[test]
fn no_backtick_of_a_finding_reaches_the_reader() {
    let html = text(&fixture("broken/interferent-misspelt"), "html", &["--language", "de"]);
    let body = html.split("</style>").last().unwrap();
    assert!(!body.contains('`'), "{}", &body[body.find('`').unwrap().saturating_sub(80)..][..160]);
    assert!(!html.contains("Beipackzettel") && !html.contains("personengetragen"));
}

/// A tube is read to two or three digits; four of a factor lose nothing of that.
#[test]
fn a_factor_in_the_list_of_readings_has_four_digits() {
    for (language, decimal) in [("en", '.'), ("de", ',')] {
        let report = text(&fixture("studies/composting-hall"), "md", &["--language", language]);
        let rows: Vec<&str> =
            report.lines().filter(|l| l.starts_with("| <a id") && l.contains(" × ")).collect();
        assert!(rows.len() > 100, "{}", rows.len());
        for row in rows {
            for factor in row.split(" × ").skip(1).map(|rest| rest.split([';', ' ']).next().unwrap()) {
                let digits =
                    factor.trim_start_matches(['0', decimal]).chars().filter(char::is_ascii_digit).count();
                assert!(digits <= 4, "{factor}: {row}");
            }
        }
    }
}
