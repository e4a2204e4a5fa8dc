//! `explain`, and the pages of the handbook that are made from the same text.
//!
//! After a change of the catalogue, `FULLSHIFT_RENEW=1 cargo test explain` writes the pages anew.

use fullshift_engine::diagnose::catalogue;
use fullshift_tests::{bytes_below, fullshift, root};
use std::collections::BTreeMap;

/// The pages that should be there, by their path in the handbook.
fn wanted() -> BTreeMap<String, String> {
    let markdown = |more: &[&str]| {
        let ran = fullshift(&[&["explain", "--format", "markdown"], more].concat());
        assert_eq!(ran.code, 0, "{}", ran.talk);
        ran.out
    };
    let page = |id: &str| (format!("findings/{id}.md"), markdown(&[id]));
    let pages = catalogue().map(|code| page(code.id));
    pages.chain([("findings.md".to_owned(), markdown(&[]))]).collect()
}

#[test]
fn the_handbook_has_a_page_for_every_finding_and_none_is_out_of_date() {
    let handbook = root().join("notebooks-free-docs");
    let wanted = wanted();
    if std::env::var_os("FULLSHIFT_RENEW").is_some() {
        std::fs::create_dir_all(handbook.join("findings")).unwrap();
        wanted.iter().for_each(|(name, text)| std::fs::write(handbook.join(name), text).unwrap());
    }
    for (name, text) in &wanted {
        let found = std::fs::read_to_string(handbook.join(name)).unwrap_or_default();
        assert!(found == *text, "{name} is out of date: FULLSHIFT_RENEW=1 cargo test explain");
    }
    for (path, _) in bytes_below(&handbook.join("findings")) {
        let name = format!("findings/{}", path.file_name().unwrap().to_str().unwrap());
        assert!(wanted.contains_key(&name), "{name} explains no finding");
    }
}

#[test]
fn a_code_in_small_letters_and_a_name_give_the_same_page() {
    let [code, name] = ["f012", "leak-check-missing"].map(|finding| fullshift(&["explain", finding]));
    assert_eq!(code.code, 0);
    assert!(code.out.starts_with("F012 leak-check-missing  warning\n"), "{}", code.out);
    assert_eq!(code, name);
}

#[test]
fn a_misspelt_name_is_answered_with_the_nearest() {
    let ran = fullshift(&["explain", "leak-chek-missing"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.talk.contains("there is no finding `leak-chek-missing`"), "{}", ran.talk);
    assert!(ran.talk.contains("Did you mean `leak-check-missing`?"), "{}", ran.talk);
}

#[test]
fn without_a_name_every_finding_is_listed() {
    let text = fullshift(&["explain"]).out;
    let json: serde_json::Value =
        serde_json::from_str(&fullshift(&["explain", "--format", "json"]).out).unwrap();
    for (number, code) in catalogue().enumerate() {
        assert!(
            text.contains(&format!("{} {} {}: ", code.id, code.severity.word(), code.name)),
            "{}",
            code.id
        );
        assert_eq!(json["findings"][number]["id"], code.id);
    }
}
