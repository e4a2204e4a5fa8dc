//! `check`: reads and checks a study, and says what to correct.

use super::{has_group, json};
use crate::arguments::{Check, CheckFormat};
use crate::border::Border;
use crate::failure::Failure;
use crate::finding;
use crate::page::{Block, Page, Section, Text, Tone, terminal};
use fullshift_engine::Checked;
use fullshift_engine::diagnose::Report;

pub(super) fn run(typed: &Check, border: &mut Border<'_>) -> Result<(), Failure> {
    let checked = fullshift_engine::check(&typed.study, typed.group.as_deref());
    if !checked.groups.is_empty() {
        has_group(typed.group.as_deref(), &checked.groups)?;
    }
    match typed.format {
        CheckFormat::Json => border.print(&json(&finding::listed(&checked.findings))?)?,
        CheckFormat::Lines => border.print(&finding::lines(&typed.study, &checked.findings))?,
        CheckFormat::Text => border.print(&terminal::page(&page(&checked), border.width()))?,
    }
    if checked.stopped { Err(Failure::Study) } else { Ok(()) }
}

/// The findings of a study that cannot be assessed, told beside the result that is missing.
pub(super) fn tell_why(findings: &[Report], border: &mut Border<'_>) {
    tell_what_for(findings, "nothing was assessed", border);
}

/// The findings that kept a command from its work, and what was not done.
pub(super) fn tell_what_for(findings: &[Report], undone: &str, border: &mut Border<'_>) {
    let mut page = Page { sections: findings.iter().map(finding::full).collect() };
    page.sections.push(closing(format!("{}: {undone}.", finding::count(findings))));
    border.say(&terminal::page(&page, border.width()));
}

fn page(checked: &Checked) -> Page {
    let mut sections: Vec<Section> = checked.findings.iter().map(finding::full).collect();
    let count = finding::count(&checked.findings);
    sections.push(closing(match (checked.findings.is_empty(), checked.stopped) {
        (true, _) => "Nothing to correct.".to_owned(),
        (_, true) => format!("{count}. The study can be assessed once the errors are put right."),
        (_, false) => format!("{count}. The study can be assessed."),
    }));
    if let (Some(last), false) = (sections.last_mut(), checked.contents.is_empty()) {
        let read = format!("Read: {}.", checked.contents.join(", "));
        last.blocks.push(Block::Paragraph(Text::of(Tone::Quiet, read)));
    }
    Page { sections }
}

fn closing(words: String) -> Section {
    Section::headed(Text::of(Tone::Strong, words))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::samples::finding;
    use fullshift_engine::diagnose::Severity;

    fn shown(findings: Vec<Report>, stopped: bool) -> String {
        let contents = vec!["1 worker".to_owned(), "12 readings".to_owned()];
        let text = terminal::page(&page(&Checked { findings, stopped, contents, groups: Vec::new() }), 80);
        anstream::adapter::strip_str(&text).to_string()
    }

    #[test]
    fn a_clean_study_has_nothing_to_correct() {
        assert_eq!(shown(Vec::new(), false), "Nothing to correct.\nRead: 1 worker, 12 readings.\n");
    }

    #[test]
    fn findings_end_with_their_count() {
        let error = || finding(Severity::Error, 3, 4, "R1,abc,x");
        let text = shown(vec![error(), error()], true);
        assert!(
            text.contains("\n\n2 errors. The study can be assessed once the errors are put right.\n"),
            "{text}"
        );
        let text = shown(vec![finding(Severity::Warning, 3, 4, "R1,abc,x")], false);
        assert!(text.contains("\n\n1 warning. The study can be assessed.\n"), "{text}");
    }
}
