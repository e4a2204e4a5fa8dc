//! A finding in full: where, what, the line with its marks, and what would be right.

use super::severity;
use crate::page::{Block, Excerpt, Line, Section, Text, Tone, short};
use fullshift_engine::diagnose::{Action, Decision, Place, Report};

/// Places of one finding that are quoted; the others are counted.
const QUOTED: usize = 4;

/// The finding as a section of a page.
pub(crate) fn full(finding: &Report) -> Section {
    let (word, tone) = severity(finding.severity);
    let head = Text::of(tone, word).and(Tone::Strong, format!(" {} {}", finding.code, finding.name));
    let mut section = Section::headed(match finding.places.first() {
        Some(first) => Text::of(Tone::Strong, format!("{}: ", first)).append(head),
        None => head,
    });
    section.blocks.push(Block::Outline(vec![Line::at(1, short(&finding.message))]));
    for (number, at) in finding.places.iter().take(QUOTED).enumerate() {
        if number > 0 {
            section.blocks.push(Block::Outline(vec![Line::at(1, format!("and {}", at))]));
        }
        section.blocks.extend(quoted(at));
    }
    section.blocks.push(Block::Outline(last_lines(finding)));
    section
}

fn last_lines(finding: &Report) -> Vec<Line> {
    let more = finding.places.len().saturating_sub(QUOTED);
    let mut lines = Vec::new();
    if more > 0 {
        lines.push(Line::at(1, format!("and {more} more {}", if more == 1 { "place" } else { "places" })));
    }
    if !finding.help.is_empty() {
        lines.push(Line::at(1, Text::of(Tone::Strong, "help: ").then(short(&finding.help))));
    }
    lines.extend(finding.decision.as_ref().map(|decision| Line::at(1, decided(decision))));
    lines
}

/// What the study decided, as `rejected by the study: the pump was mended on site`.
fn decided(decision: &Decision) -> Text {
    let words = match decision.action {
        Action::Reject => "rejected by the study",
        Action::Qualify => "qualified by the study",
        Action::Ignore => "ignored by the study",
    };
    let reason =
        if decision.reason.is_empty() { String::new() } else { format!(": {}", short(&decision.reason)) };
    Text::of(Tone::Strong, words).then(reason)
}

/// The line of a place; nothing where a file as a whole is meant.
fn quoted(place: &Place) -> Option<Block> {
    (place.line > 0).then(|| {
        Block::Excerpt(Excerpt {
            line: place.line,
            text: place.excerpt.clone(),
            cut: place.excerpt_cut,
            marked: (place.column > 0).then_some((place.excerpt_mark as usize, place.length as usize)),
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::samples::finding;
    use crate::page::{Page, terminal};
    use fullshift_engine::diagnose::Severity;

    fn shown(finding: &Report) -> String {
        let page = terminal::page(&Page { sections: vec![full(finding)] }, 80);
        anstream::adapter::strip_str(&page).to_string()
    }

    #[test]
    fn a_finding_names_its_place_and_marks_its_characters() {
        let text = shown(&finding(Severity::Error, 3, 4, "R1,abc,x"));
        let expected = "\
readings.csv:3:4: error F307 bad-cell
  `abc` is no number of strokes
      3 | R1,abc,x
        |    ^^^
  help: write a number above 0, as 1 or 0.5
";
        assert_eq!(text, expected);
    }

    #[test]
    fn an_excerpt_from_the_middle_of_a_line_keeps_its_marks() {
        let mut report = finding(Severity::Error, 3, 104, "R1,abc,x");
        report.places[0].excerpt_cut = true;
        report.places[0].excerpt_mark = 3;
        assert!(shown(&report).contains("      3 | …R1,abc,x\n        |     ^^^\n"), "{}", shown(&report));
    }

    #[test]
    fn a_finding_about_a_whole_file_quotes_nothing() {
        let text = shown(&finding(Severity::Error, 0, 0, ""));
        assert!(text.starts_with("readings.csv: error F307 bad-cell\n"), "{text}");
        assert!(!text.contains('|'), "{text}");
    }

    #[test]
    fn many_places_are_counted_after_the_first_ones() {
        let mut report = finding(Severity::Warning, 3, 4, "R1,abc,x");
        report.places = vec![report.places[0].clone(); 6];
        assert!(shown(&report).contains("\n  and 2 more places\n"), "{}", shown(&report));
    }
}
