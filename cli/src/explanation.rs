//! The explanation of a finding, from the text of the catalogue: a page for the terminal, and the same for the handbook.

use crate::finding::severity;
use crate::page::{Block, Line, Page, Section, Text, Tone};
use fullshift_engine::diagnose::{Code, FAMILIES};

/// A part of an explanation under its heading.
enum Part {
    /// Running text.
    Words(&'static str, String),
    /// Lines as they stand in a file.
    Lines(&'static str, String),
}

fn parts(code: &Code) -> Vec<Part> {
    let words = |heading, text: &str| Part::Words(heading, text.to_owned());
    let mut parts = vec![
        words("Why it matters", code.why),
        Part::Lines("Example", code.example.to_owned()),
        words("What to do", code.remedy),
    ];
    if let Some(last) = code.usually.choices().first() {
        parts.push(words("In study.yaml", decision(code)));
        let reason = "\"in your words\"";
        let setting = format!("field_rules: {{{}: {{do: {}, reason: {reason}}}}}", code.name, last.word());
        parts.push(Part::Lines("", setting));
    }
    parts.push(words("Source", code.source));
    parts
}

/// What becomes of the readings, and what a study can decide about it.
fn decision(code: &Code) -> &'static str {
    use fullshift_engine::diagnose::Usually;
    match code.usually {
        Usually::Qualified => {
            "The readings stay in every figure and carry the name of the finding, unless the study decides \
            otherwise: `reject` takes them out, `ignore` keeps them without a word. The reason is printed wherever \
            it matters."
        }
        Usually::Stopped => {
            "Nothing is assessed until it is put right, unless the study decides that such readings are left out, \
            with a reason that is printed wherever it matters."
        }
        Usually::Noted => {
            "It changes no figure. A study that has looked into it can have it ignored, with a reason."
        }
        Usually::Undecidable => "",
    }
}

/// The explanation as a page.
pub(crate) fn page(code: &Code) -> Page {
    let (word, tone) = severity(code.severity);
    let heading = Text::of(Tone::Strong, format!("{} {}", code.id, code.name)).then("  ").and(tone, word);
    let mut first = Section::headed(heading);
    first.say(code.what);
    let mut sections = vec![first];
    for part in parts(code) {
        match part {
            Part::Words(heading, text) => {
                let mut section = Section::headed(heading);
                section.blocks.push(Block::Paragraph(text.into()));
                sections.push(section);
            }
            Part::Lines("", text) => sections.iter_mut().last().into_iter().for_each(|section| {
                section.blocks.push(Block::Outline(vec![Line::at(1, text.clone())]));
            }),
            Part::Lines(heading, text) => {
                let mut section = Section::headed(heading);
                section.blocks.push(Block::Outline(text.lines().map(|line| Line::at(1, line)).collect()));
                sections.push(section);
            }
        }
    }
    Page { sections }
}

/// All findings, a line each, by family.
pub(crate) fn list() -> Page {
    let section = |family: &&fullshift_engine::diagnose::Family| {
        let mut section = Section::headed(family.title);
        let line = |code: &&'static Code| {
            let (word, tone) = severity(code.severity);
            let text = Text::from(format!("{} ", code.id))
                .and(tone, word)
                .and(Tone::Strong, format!(" {}", code.name));
            Line::at(0, text.then(format!(": {}", code.what)))
        };
        section.blocks.push(Block::Outline(family.codes.iter().map(line).collect()));
        section
    };
    Page { sections: FAMILIES.iter().map(section).collect() }
}

/// The explanation as a page of the handbook.
pub(crate) fn handbook(code: &Code) -> String {
    let (word, _) = severity(code.severity);
    let mut text = format!("# {} {}\n\n*{word}.* {}\n", code.id, code.name, code.what);
    for part in parts(code) {
        text += &match part {
            Part::Words(heading, words) => format!("\n## {heading}\n\n{words}\n"),
            Part::Lines("", lines) => format!("\n```text\n{lines}\n```\n"),
            Part::Lines(heading, lines) => format!("\n## {heading}\n\n```text\n{lines}\n```\n"),
        };
    }
    text + "\n[All findings](../findings.md)\n"
}

/// All findings as a page of the handbook.
pub(crate) fn handbook_list() -> String {
    let mut text = "# Findings\n\nEvery finding that `fullshift check` can make. `fullshift explain F012` prints the page of one; so does its \
        name. An *error* stops the assessment, a *warning* qualifies readings or figures, a *note* changes nothing.\n"
        .to_owned();
    for family in FAMILIES {
        text += &format!("\n## {}\n\n| code | name | | what |\n| --- | --- | --- | --- |\n", family.title);
        for code in family.codes {
            let (word, _) = severity(code.severity);
            text +=
                &format!("| [{0}](findings/{0}.md) | {1} | {word} | {2} |\n", code.id, code.name, code.what);
        }
    }
    text
}
