//! The written report: sections in the order in which a reader asks, each a file; language and medium are not theirs.

mod anonymous;
mod appendix;
mod beside;
mod cautions;
mod drivers;
mod field;
mod judgement;
mod narrow;
mod next;
mod own_words;
mod profile;
mod quality;
mod repeats;
mod results;
mod sampling;
mod scope;
mod sources;
mod telling;
mod translated;
mod verdicts;
mod without;
mod words;

pub(crate) use anonymous::without_names;
pub(crate) use narrow::only_group;
use telling::Telling;
pub(crate) use without::by_limit;

use crate::language::{Language, filled};
use crate::page::{Document, Head, Page, Section, Text, Tone, finished};
use fullshift_engine::model::Assessment;

/// What a copy of the report leaves out or changes, told at its top.
#[derive(Debug, Clone, Default)]
pub(crate) struct Copy {
    /// The only group it tells of.
    pub(crate) group: Option<String>,
    /// Whether workers are named by letters.
    pub(crate) anonymous: bool,
    /// Findings about other groups that it leaves out.
    pub(crate) findings_left_out: usize,
}

/// A part of the report.
type Part = fn(&Telling<'_>) -> Vec<Section>;

/// The parts with a number, in order.
const PARTS: [Part; 10] = [
    verdicts::sections,
    scope::sections,
    sampling::sections,
    quality::sections,
    results::sections,
    profile::sections,
    judgement::sections,
    drivers::sections,
    next::sections,
    cautions::sections,
];

/// The report of an assessment.
pub(crate) fn document(assessment: &Assessment, copy: &Copy, language: &'static Language) -> Document {
    let translated = translated::in_language(assessment, language);
    let telling = Telling { assessment: &translated.assessment, copy, language };
    let mut sections: Vec<Section> = Vec::new();
    for (number, part) in PARTS.iter().enumerate() {
        let mut own = part(&telling);
        if let Some(first) = own.first_mut() {
            let heading = std::mem::take(&mut first.heading);
            first.heading = Text::from(format!("{} ", number + 1)).append(heading);
        }
        sections.extend(own);
    }
    sections.extend(appendix::sections(&telling));
    Document {
        head: head(&telling, translated.lacking.len()),
        page: finished(Page { sections }, language.labels),
    }
}

fn head(telling: &Telling<'_>, lacking: usize) -> Head {
    let (study, say) = (&telling.assessment.study, telling.say());
    let mut lines: Vec<Text> = vec![study.site.as_str().into(), telling.period_line()];
    let named = [("name", Text::of(Tone::Strong, study.prepared_by.as_str()))];
    lines.push(filled(say.prepared_by, &named));
    if let Some(group) = &telling.copy.group {
        lines.push(filled(say.for_group, &[("group", group.as_str().into())]));
    }
    if telling.copy.anonymous {
        lines.push(say.names_replaced.into());
    }
    if lacking > 0 {
        lines.push(filled(say.untranslated, &[("n", lacking.to_string().into())]));
    }
    Head {
        title: study.title.clone(),
        lines: lines.into_iter().filter(|line| !line.is_empty()).collect(),
        logo: study.report.logo.clone(),
        language: telling.language.code,
        contents: say.contents,
        logo_words: say.logo,
        page_of: say.page_of,
        in_picture: say.in_picture,
        back: say.back,
    }
}

#[cfg(test)]
mod tests;
