//! One diagnostic, and the collection of a run.

use super::{Action, Code, FileId, Severity, Span};
use serde::Serialize;
use std::cell::RefCell;
use std::collections::{HashMap, HashSet};

/// What a study decided about a finding.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Decision {
    /// What becomes of the readings that it names.
    #[serde(rename = "do")]
    pub action: Action,
    /// Why.
    pub reason: String,
}

/// One diagnostic as a step reports it: its places are still spans.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// What kind of finding it is.
    pub code: &'static Code,
    /// How bad it is here: a decision of the study can make it less so.
    pub severity: Severity,
    /// What the study decided about it.
    pub decision: Option<Decision>,
    /// What is wrong, in one sentence that stands alone.
    pub message: String,
    /// What would be right.
    pub help: String,
    /// Where: the first is the place to look at, the others belong to it.
    pub spans: Vec<Span>,
    /// Places that were counted and not kept.
    pub more: usize,
}

/// Everything found in a run, in the order in which it was found.
#[derive(Debug, Default)]
pub struct Findings {
    list: RefCell<Vec<Finding>>,
}

/// Proof that a step reported an error; only [`Findings::stop`] makes one, so nothing fails silently.
#[derive(Debug, PartialEq)]
pub struct Stop(());

impl Findings {
    /// Reports one finding.
    pub fn report(
        &self,
        code: &'static Code,
        span: Span,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.report_at(code, vec![span], message, help);
    }

    /// Reports one finding that has several places.
    pub fn report_at(
        &self,
        code: &'static Code,
        spans: Vec<Span>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.report_decided(code, spans, message, help, None);
    }

    /// Reports one finding about which the study may have decided something.
    pub fn report_decided(
        &self,
        code: &'static Code,
        spans: Vec<Span>,
        message: impl Into<String>,
        help: impl Into<String>,
        decision: Option<&Decision>,
    ) {
        let severity = match decision.map(|decision| decision.action) {
            Some(Action::Reject) => Severity::Warning,
            Some(Action::Ignore) => Severity::Note,
            Some(Action::Qualify) | None => code.severity,
        };
        let (message, help, decision) = (message.into(), help.into(), decision.cloned());
        self.list.borrow_mut().push(Finding { code, severity, decision, message, help, spans, more: 0 });
    }

    /// Counts further places at which the finding with the code `id` was met.
    pub fn met_more(&self, id: &str, places: usize) {
        if let Some(finding) = self.list.borrow_mut().iter_mut().find(|finding| finding.code.id == id) {
            finding.more += places;
        }
    }

    /// How many there are so far.
    pub fn count(&self) -> usize {
        self.list.borrow().len()
    }

    /// Takes over what was found elsewhere.
    pub fn absorb(&self, other: Findings) {
        self.list.borrow_mut().append(&mut other.list.into_inner());
    }

    /// Takes over one finding.
    pub fn take(&self, finding: Finding) {
        self.list.borrow_mut().push(finding);
    }

    /// The findings, in the order in which they were found.
    pub fn into_list(self) -> Vec<Finding> {
        self.list.into_inner()
    }

    /// A `Stop` if any error was reported so far.
    pub fn stop(&self) -> Result<(), Stop> {
        if self.has_errors() { Err(Stop(())) } else { Ok(()) }
    }

    /// The `Stop` of a step that could not go on; what kept it must have been reported.
    pub fn must_stop(&self) -> Stop {
        debug_assert!(self.has_errors(), "a step stopped without a word");
        Stop(())
    }

    /// Whether an error was reported so far.
    pub fn has_errors(&self) -> bool {
        self.list.borrow().iter().any(|f| f.severity == Severity::Error)
    }

    /// The findings, errors first, each severity in the order of its places.
    pub fn into_sorted(self) -> Vec<Finding> {
        let mut list = self.list.into_inner();
        list.sort_by(|a, b| (a.severity, &a.spans, a.code.id).cmp(&(b.severity, &b.spans, b.code.id)));
        merged(list)
    }
}

/// Findings that say the same become one with all their places, so that a slip repeated is read once.
fn merged(list: Vec<Finding>) -> Vec<Finding> {
    let mut kept: Vec<Finding> = Vec::with_capacity(list.len());
    let mut known: HashMap<(&str, String, FileId), usize> = HashMap::new();
    for finding in list {
        let Some(file) = finding.spans.first().map(|s| s.file()) else { continue };
        let next = kept.len();
        match *known.entry((finding.code.id, finding.message.clone(), file)).or_insert(next) {
            at if at == next => kept.push(finding),
            at => kept[at].spans.extend(finding.spans),
        }
    }
    kept.iter_mut().for_each(|finding| finding.spans = unique(std::mem::take(&mut finding.spans)));
    kept
}

fn unique(spans: Vec<Span>) -> Vec<Span> {
    let mut seen = HashSet::new();
    spans.into_iter().filter(|span| seen.insert(*span)).collect()
}

/// A finding as the user gets it: its places resolved, its line quoted.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Report {
    /// Stable code, as `F012`.
    pub code: &'static str,
    /// Stable name, as `leak-check-missing`.
    pub name: &'static str,
    /// How bad it is.
    pub severity: Severity,
    /// What is wrong.
    pub message: String,
    /// What would be right.
    pub help: String,
    /// What the study decided about it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub decision: Option<Decision>,
    /// Where.
    pub places: Vec<Place>,
}

/// A resolved place.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Place {
    /// The file, relative to the study.
    pub file: String,
    /// The sheet, where the file is a workbook.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sheet: Option<String>,
    /// The cell of the sheet, as `B4`, where one cell is meant.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cell: Option<String>,
    /// Line or row from 1; 0 where the file as a whole is meant.
    pub line: u32,
    /// Column from 1, in characters, or of the sheet; 0 where the file or the line as a whole is meant.
    pub column: u32,
    /// Length in characters.
    #[serde(skip)]
    pub length: u32,
    /// The line as it stands in the file, cut to a readable width around the place.
    #[serde(skip)]
    pub excerpt: String,
    /// Whether the excerpt leaves out the beginning of the line.
    #[serde(skip)]
    pub excerpt_cut: bool,
    /// Characters of the excerpt before the place.
    #[serde(skip)]
    pub excerpt_mark: u32,
}

impl std::fmt::Display for Place {
    /// As an editor or a spreadsheet finds it: `readings.csv:4:12`, `field.xlsx#readings!B4`.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.file)?;
        match (&self.sheet, &self.cell) {
            (Some(sheet), Some(cell)) => write!(f, "#{sheet}!{cell}"),
            (Some(sheet), None) if self.line > 0 => write!(f, "#{sheet}!{}", self.line),
            (Some(sheet), None) => write!(f, "#{sheet}"),
            (None, _) if self.column > 0 => write!(f, ":{}:{}", self.line, self.column),
            (None, _) if self.line > 0 => write!(f, ":{}", self.line),
            (None, _) => Ok(()),
        }
    }
}
