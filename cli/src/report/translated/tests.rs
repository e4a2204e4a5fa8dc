use super::*;
use crate::language;
use fullshift_engine::model::{Figure, ReportLanguage, Step};
use std::path::PathBuf;
use std::sync::LazyLock;

fn german() -> &'static Language {
    language::of(ReportLanguage::German)
}

/// Every study among the fixtures that can be assessed: the demo, the worked examples, those with findings.
static ASSESSED: LazyLock<Vec<(PathBuf, Assessment)>> = LazyLock::new(|| {
    let folders = ["studies", "worked", "broken"].into_iter().flat_map(|folder| {
        let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../fixtures").join(folder);
        std::fs::read_dir(path).unwrap().map(|entry| entry.unwrap().path())
    });
    let found =
        folders.filter_map(|study| Some((study.clone(), fullshift_engine::assessment(&study, None).ok()?)));
    found.collect()
});

#[test]
fn every_sentence_of_the_engine_has_its_german() {
    assert!(ASSESSED.len() > 70, "{}", ASSESSED.len());
    let mut lacking: Vec<String> = Vec::new();
    for (study, found) in ASSESSED.iter() {
        let told = in_language(found, german());
        let mut sentences = told.lacking;
        let mut told = told.assessment.into_owned();
        let typed = Typed::in_study(&mut told).0;
        words::each(&mut told, &mut |whose, text| {
            // A sentence of which a gap took more than the user's own words.
            let quoted = typed.iter().filter(|typed| typed.contains(' '));
            let ours = quoted.fold(text.clone(), |text, quoted| text.replace(quoted, ""));
            let english =
                [" the ", " is ", " are ", " of ", " no ", " has "].iter().any(|word| ours.contains(word));
            if whose == Whose::Ours && english {
                sentences.insert(ours);
            }
        });
        lacking.extend(sentences.into_iter().map(|sentence| format!("{}: {sentence}", study.display())));
    }
    assert!(lacking.is_empty(), "no German for:\n{}", lacking.join("\n"));
}

/// What the report adds to the engine's sentences is German as well.
#[test]
fn a_german_report_has_no_english_words_of_ours() {
    for (study, found) in ASSESSED.iter().filter(|(study, _)| study.to_string_lossy().contains("studies")) {
        let document = crate::report::document(found, &crate::report::Copy::default(), german());
        let (text, _) = crate::page::markdown::document(&document, "report");
        let text = text.split("id=\"sources\"").next().unwrap_or_default().replace('\\', "");
        let mut found = found.clone();
        let mut typed: Vec<String> = Typed::in_study(&mut found).0.into_iter().collect();
        typed.sort_by_key(|typed| std::cmp::Reverse(typed.len()));
        let ours = typed.iter().filter(|typed| typed.contains(' ')).fold(text, |text, t| text.replace(t, ""));
        for english in [" the ", " is ", " of ", " and ", " not ", " shift ", " reading "] {
            let line = ours.lines().find(|line| line.contains(english));
            assert_eq!(line, None, "{}", study.display());
        }
    }
}

#[test]
fn a_sentence_without_german_is_told_to_the_reader() {
    let mut found = crate::summary::samples::assessment(1);
    found.shifts[0].twa_notes = vec!["the moon is full".to_owned()];
    let lacking = in_language(&found, german()).lacking;
    assert!(lacking.contains("the moon is full"), "{lacking:?}");
}

#[test]
fn sources_and_names_of_rules_have_their_german() {
    let keys = include_str!("../../../../fixtures/SOURCES.md");
    let mut lacking = BTreeSet::new();
    for (_, found) in ASSESSED.iter() {
        for source in crate::report::sources::all_of(found) {
            let work = |part: &str| keys.contains(&format!("| {part} |"));
            let section = |part: &str| part.split_once("(d)").is_some_and(|(law, _)| keys.contains(law));
            if german().known(source).is_none() && !source.split("; ").all(|p| work(p) || section(p)) {
                lacking.insert(source.to_owned());
            }
        }
        let rules = found.readings.iter().flat_map(|reading| &reading.qualified_by).copied();
        let purposes = found.readings.iter().map(|reading| reading.purpose);
        let names = found.findings.iter().map(|finding| finding.name).chain(rules).chain(purposes);
        lacking.extend(names.filter(|name| german().known(name).is_none()).map(str::to_owned));
    }
    assert!(lacking.is_empty(), "no German for: {lacking:#?}");
}

#[test]
fn what_the_user_called_something_stays() {
    let mut found = crate::summary::samples::assessment(1);
    found.shifts[0].tasks[0].task = "mean".to_owned();
    let step = |name: &str| Step {
        name: name.to_owned(),
        formula: String::new(),
        inputs: Vec::new(),
        result: "1.5 ppm".to_owned(),
        source: "",
    };
    found.shifts[0].twa = Figure::without_interval(1.5, "ppm", "as entered", "")
        .with_trail(vec![step("mean"), step("mean of mean")]);
    let told = in_language(&found, german()).assessment.into_owned();
    let names: Vec<&str> = told.shifts[0].twa.trail().iter().map(|step| step.name.as_str()).collect();
    assert_eq!(names, ["mean", "Mittel von mean"]);
    assert_eq!(told.shifts[0].twa.trail()[0].result, "1,5 ppm");
}
