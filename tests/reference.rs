//! The pages of the handbook that must keep up with the program: settings and columns, check values, sources.

use fullshift_tests::{assessment, bytes_below, fullshift, root, studies_in};
use serde_json::Value;
use std::collections::BTreeSet;

fn page(name: &str) -> String {
    std::fs::read_to_string(root().join("notebooks-free-docs").join(name)).unwrap()
}

/// The names of all settings in a schema, those of the tables' columns among them.
fn settings(schema: &Value, names: &mut BTreeSet<String>) {
    match schema {
        Value::Object(parts) => {
            for (key, part) in parts {
                if let ("properties", Value::Object(properties)) = (key.as_str(), part) {
                    names.extend(properties.keys().cloned());
                }
                settings(part, names);
            }
        }
        Value::Array(parts) => parts.iter().for_each(|part| settings(part, names)),
        _ => {}
    }
}

#[test]
fn every_setting_and_every_column_is_told_on_the_page_of_the_files() {
    let mut names = BTreeSet::new();
    settings(&serde_json::from_str(&fullshift(&["schema"]).out).unwrap(), &mut names);
    assert!(names.contains("stroke_volume") && names.contains("read_after"), "{names:?}");
    let told = code_on(&page("file-formats.md"));
    let untold: Vec<_> = names.difference(&told).collect();
    assert!(untold.is_empty(), "file-formats.md does not tell of {untold:?}");
}

/// What stands as code on a page: words without their punctuation.
fn code_on(page: &str) -> BTreeSet<String> {
    let code = page.split('`').skip(1).step_by(2);
    code.flat_map(|code| code.split(|c: char| !(c.is_alphanumeric() || c == '_' || c == '-')))
        .map(str::to_owned)
        .collect()
}

/// The keys of a value and of all within it.
fn keys_of(value: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(parts) => {
            found.extend(parts.keys().cloned());
            parts.values().for_each(|part| keys_of(part, found));
        }
        Value::Array(parts) => parts.iter().for_each(|part| keys_of(part, found)),
        _ => {}
    }
}

#[test]
fn every_key_and_every_column_that_comes_out_is_told_on_the_page_of_the_results() {
    let told = code_on(&page("results.md"));
    let mut found = BTreeSet::new();
    for study in [studies_in("studies"), studies_in("worked")].concat() {
        keys_of(&assessment(&study), &mut found);
        for table in fullshift_engine::tables(&fullshift_engine::assessment(&study, None).unwrap()).unwrap() {
            let text = String::from_utf8(table.bytes).unwrap();
            found.extend(text.lines().next().unwrap_or("").split(',').map(str::to_owned));
        }
    }
    let plan = ["plan", "fixtures/studies/composting-hall", "--seed", "1", "--format", "json"];
    let plan = plan
        .map(|word| if word.contains('/') { root().join(word).display().to_string() } else { word.into() });
    keys_of(&serde_json::from_str(&fullshift(&plan).out).unwrap(), &mut found);
    let parts = ["second_opinion_", "posterior_", "workers_", "drivers_", "to_settle_", "rule_"];
    let is_told = |name: &String| {
        let ends = ["_low", "_high", "_not_given", ""];
        let names: Vec<&str> = ends.iter().filter_map(|end| name.strip_suffix(end)).collect();
        names.iter().any(|name| told.contains(*name)) || parts.iter().any(|part| name.starts_with(part))
    };
    let untold: Vec<_> = found.iter().filter(|name| !is_told(name)).collect();
    assert!(found.len() > 150 && untold.is_empty(), "results.md does not tell of {untold:?}");
}

/// The table of check values, a line a table.
fn check_values() -> String {
    let verified: Value = serde_json::from_str(&fullshift(&["verify", "--format", "json"]).out).unwrap();
    let mut lines = String::from(
        "| table | what | values | digits | source | how its values were made |\n| --- | --- | --- | --- | --- | --- |\n",
    );
    for table in verified["tables"].as_array().unwrap() {
        let word = |name: &str| table[name].as_str().unwrap().replace('|', "/");
        let (values, digits) = (&table["values"], &table["agreed_digits"]);
        let (id, title, source, how) = (word("id"), word("title"), word("source"), word("provenance"));
        lines += &format!("| `{id}` | {title} | {values} | {digits} | {source} | {how} |\n");
    }
    lines
}

#[test]
fn the_page_of_accuracy_has_every_table_of_check_values() {
    let text = page("accuracy.md");
    let (head, rest) = text.split_once("| table |").expect("accuracy.md has the table");
    let after = rest.split_once("\n\n").map_or("", |(_, after)| after);
    let wanted = format!("{head}{}\n{after}", check_values());
    if std::env::var_os("FULLSHIFT_RENEW").is_some() {
        std::fs::write(root().join("notebooks-free-docs/accuracy.md"), &wanted).unwrap();
    }
    assert!(text == wanted, "accuracy.md is out of date: FULLSHIFT_RENEW=1 cargo test accuracy");
}

/// The keys of the list of sources.
fn keys() -> Vec<String> {
    let list = std::fs::read_to_string(root().join("fixtures/SOURCES.md")).unwrap();
    let rows = list.lines().filter_map(|line| line.strip_prefix("| ")?.split(" |").next().map(str::to_owned));
    rows.filter(|key| key != "key" && !key.starts_with("---")).collect()
}

/// The source of every step of a trail and of every rule; other sources are the user's own words.
fn sources(value: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(parts) => {
            if let (true, Some(Value::String(text))) =
                (parts.contains_key("formula") || parts.contains_key("rule"), parts.get("source"))
            {
                found.insert(text.clone());
            }
            parts.values().for_each(|part| sources(part, found));
        }
        Value::Array(parts) => parts.iter().for_each(|part| sources(part, found)),
        _ => {}
    }
}

/// Whether a part of a source is a key of the list, a page of the handbook, or says that it is none.
fn is_known(part: &str, keys: &[String]) -> bool {
    let pages = |name: &str| root().join(format!("notebooks-free-docs/{name}.md")).exists();
    let plain =
        ["tube sheet", "reading", "study.yaml", "common practice, no source", "our own rule", "definition"];
    plain.iter().any(|plain| part.starts_with(plain))
        || part.strip_prefix("handbook, page ").is_some_and(pages)
        || keys.iter().any(|key| part.starts_with(key.as_str()))
}

#[test]
fn every_source_that_a_figure_names_is_in_the_list() {
    let keys = keys();
    let mut named = BTreeSet::new();
    for study in [studies_in("studies"), studies_in("worked")].concat() {
        sources(&assessment(&study), &mut named);
    }
    assert!(named.len() > 15, "{named:?}");
    // What follows a semicolon may be a remark.
    let unknown: Vec<_> =
        named.iter().filter(|source| !source.split(';').any(|part| is_known(part.trim(), &keys))).collect();
    assert!(unknown.is_empty(), "not in fixtures/SOURCES.md: {unknown:?}");
}

/// A word that looks like a key of the list: a name, a hyphen and a year.
fn looks_like_a_key(word: &str) -> bool {
    word.rsplit_once('-').is_some_and(|(name, year)| {
        let year = year.parse().unwrap_or(0);
        name.starts_with(char::is_uppercase) && (1800..2100).contains(&year)
    })
}

#[test]
fn every_source_that_a_page_names_is_in_the_list() {
    let keys = keys();
    for (path, bytes) in bytes_below(&root().join("notebooks-free-docs")) {
        let Ok(text) = String::from_utf8(bytes) else { continue };
        let words = text.split(|c: char| !(c.is_alphanumeric() || c == '-'));
        for word in words.filter(|word| looks_like_a_key(word)) {
            assert!(
                keys.iter().any(|key| key.starts_with(word)),
                "{}: {word} is not in fixtures/SOURCES.md",
                path.display()
            );
        }
    }
}
