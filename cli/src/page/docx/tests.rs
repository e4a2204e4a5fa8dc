use super::*;
use crate::language;
use crate::report;
use crate::summary::samples::assessment;
use fullshift_engine::model::ReportLanguage;
use std::io::Read;

fn part(bytes: &[u8], path: &str) -> String {
    let mut archive = zip::ZipArchive::new(std::io::Cursor::new(bytes)).unwrap();
    let mut text = String::new();
    archive.by_name(path).unwrap().read_to_string(&mut text).unwrap();
    text
}

fn written(language: ReportLanguage) -> Vec<u8> {
    let found = assessment(3);
    document(&report::document(&found, &report::Copy::default(), language::of(language))).unwrap()
}

#[test]
fn headings_header_rows_captions_and_references_are_what_a_word_processor_knows() {
    let bytes = written(ReportLanguage::English);
    let body = part(&bytes, "word/document.xml");
    assert!(body.contains("<w:pStyle w:val=\"Heading1\"/>"));
    let tables = body.matches("<w:tbl>").count();
    assert_eq!(body.matches("<w:tblHeader/>").count(), tables);
    assert_eq!(body.matches(" SEQ Table \\* ARABIC ").count(), tables);
    assert!(body.contains(" REF table_2 \\h "));
    assert!(body.contains(" TOC \\o \"1-2\""));
    assert!(part(&bytes, "word/footer1.xml").contains(" NUMPAGES "));
}

#[test]
fn every_picture_has_words_and_every_bookmark_a_name_of_its_own() {
    let body = part(&written(ReportLanguage::German), "word/document.xml");
    let pictures = body.matches("<wp:docPr ").count();
    assert!(pictures > 0 && !body.contains("descr=\"\""));
    let mut names: Vec<&str> =
        body.split("w:name=\"").skip(1).map(|rest| &rest[..rest.find('"').unwrap()]).collect();
    let count = names.len();
    names.sort_unstable();
    names.dedup();
    assert_eq!(count, names.len());
}

#[test]
fn the_same_document_gives_the_same_bytes() {
    assert!(written(ReportLanguage::English) == written(ReportLanguage::English));
}
