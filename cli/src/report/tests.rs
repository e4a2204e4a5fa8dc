use super::*;
use crate::language;
use crate::page::Block;
use crate::summary::samples::assessment;
use fullshift_engine::model::ReportLanguage;

fn words(document: &Document) -> String {
    let mut words = String::new();
    for section in &document.page.sections {
        words += &section.heading.words();
        for block in &section.blocks {
            match block {
                Block::Paragraph(text) => words += &text.words(),
                Block::Table(table) => table.rows.iter().flatten().for_each(|cell| words += &cell.words()),
                _ => {}
            }
            words.push('\n');
        }
    }
    words
}

fn told(shifts: usize, language: ReportLanguage) -> Document {
    document(&assessment(shifts), &Copy::default(), language::of(language))
}

#[test]
fn the_parts_are_numbered_and_the_appendix_is_lettered() {
    let document = told(2, ReportLanguage::English);
    let headings: Vec<String> =
        document.page.sections.iter().filter(|s| s.depth == 0).map(|s| s.heading.words()).collect();
    assert_eq!(headings[0], "1 Verdicts");
    assert_eq!(headings[9], "10 Cautions");
    assert!(headings[10].starts_with("Appendix A: "), "{headings:?}");
}

#[test]
fn no_sentence_keeps_an_open_gap() {
    for language in [ReportLanguage::English, ReportLanguage::German] {
        for shifts in [0, 1, 12] {
            let words = words(&told(shifts, language));
            assert!(!words.contains(['{', '}']), "{words}");
        }
    }
}

#[test]
fn german_numbers_have_a_comma_and_the_verdict_is_the_same() {
    let words = words(&told(2, ReportLanguage::German));
    assert!(words.contains("11,2 [8,13; 14,4]"), "{words}");
    assert!(words.contains("○\u{a0}offen"), "{words}");
}
