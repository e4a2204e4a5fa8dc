//! What the rules about the field work say, gathered: a slip repeated all day is read once, and what the study decided
//! about a finding is carried out here and nowhere else.

use crate::diagnose::{Action, Code, Decision, Findings, Severity, Span, Usually};
use crate::model::{Remark, Remarks, Study};
use std::collections::HashMap;

/// Readings or shifts named in one finding before it says how many more.
const NAMED: usize = 6;

/// How much is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Telling {
    /// Everything.
    Whole,
    /// Of every code the first saying, and how often it was met.
    Brief,
}

/// What a rule says of one reading.
pub struct Saying {
    message: String,
    help: String,
    /// Its own places.
    spans: Vec<Span>,
    /// Other places that belong to it.
    beside: Vec<Span>,
}

impl Saying {
    /// Words about a place.
    pub fn new(span: Span, message: impl Into<String>, help: impl Into<String>) -> Saying {
        Saying::at(vec![span], message, help)
    }

    /// Words about several places.
    pub fn at(spans: Vec<Span>, message: impl Into<String>, help: impl Into<String>) -> Saying {
        Saying { message: message.into(), help: help.into(), spans, beside: Vec::new() }
    }

    /// The same with another place that belongs to it.
    pub fn beside(mut self, span: Span) -> Saying {
        self.beside.push(span);
        self
    }
}

/// The gathered sayings of a run.
pub struct Notebook<'a> {
    study: &'a Study,
    findings: &'a Findings,
    telling: Telling,
    said: Vec<(&'static Code, Saying, Vec<usize>)>,
    known: HashMap<(&'static str, String), usize>,
    /// Where little is told: how often each code was met.
    met: Vec<(&'static Code, usize)>,
    remarks: Remarks,
}

impl<'a> Notebook<'a> {
    /// An empty notebook.
    pub fn of(study: &'a Study, telling: Telling, findings: &'a Findings) -> Notebook<'a> {
        let remarks = Remarks::on(study.readings.len());
        let (said, known, met) = (Vec::new(), HashMap::new(), Vec::new());
        Notebook { study, findings, telling, said, known, met, remarks }
    }

    /// Says something of a reading; readings of which the same is said share one finding.
    pub fn of_reading(&mut self, number: usize, code: &'static Code, words: impl FnOnce() -> Saying) {
        self.remark(number, code);
        if self.is_told(code) {
            return;
        }
        let saying = words();
        let key = (code.id, saying.message.clone());
        let at = *self.known.entry(key).or_insert(self.said.len());
        match self.said.get_mut(at) {
            Some((_, first, readings)) => {
                readings.push(number);
                first.spans.extend(saying.spans);
                first.beside.extend(saying.beside);
            }
            None => self.said.push((code, saying, vec![number])),
        }
    }

    /// Says something of a reading in a sentence that names it.
    pub fn alone(&mut self, number: usize, code: &'static Code, words: impl FnOnce() -> Saying) {
        self.remark(number, code);
        self.note(code, words);
    }

    /// Says something that is about no reading.
    pub fn note(&mut self, code: &'static Code, words: impl FnOnce() -> Saying) {
        if !self.is_told(code) {
            self.report(code, words());
        }
    }

    /// Reports what is still gathered, and gives the remarks on every reading.
    pub fn close(mut self) -> Remarks {
        for (code, mut saying, readings) in std::mem::take(&mut self.said) {
            let ids: Vec<&str> = readings.iter().map(|&r| self.study.readings[r].id.as_str()).collect();
            saying.message = format!("{} ({})", saying.message, named("reading", &ids));
            self.report(code, saying);
        }
        self.met.iter().for_each(|(code, times)| self.findings.met_more(code.id, times - 1));
        self.remarks
    }

    /// Whether no more need be told of a code; counts that it was met again.
    fn is_told(&mut self, code: &'static Code) -> bool {
        // An error is told in full: the study stops at it.
        if self.telling == Telling::Whole || code.severity == Severity::Error {
            return false;
        }
        let Some((_, times)) = self.met.iter_mut().find(|(met, _)| std::ptr::eq(*met, code)) else {
            self.met.push((code, 1));
            return false;
        };
        *times += 1;
        true
    }

    fn remark(&mut self, number: usize, code: &'static Code) {
        let decision = self.study.decision(code);
        let action = match (decision, code.usually) {
            (Some(decision), _) => decision.action,
            (None, Usually::Qualified) => Action::Qualify,
            (None, _) => return,
        };
        if action != Action::Ignore {
            let reason = |d: &Decision| Some(d.reason.clone()).filter(|reason| !reason.is_empty());
            self.remarks.add(number, code, || Remark { code, action, reason: decision.and_then(reason) });
        }
    }

    fn report(&self, code: &'static Code, saying: Saying) {
        let decision = self.study.decision(code);
        let spans = [saying.spans, saying.beside].concat();
        self.findings.report_decided(code, spans, saying.message, saying.help, decision);
    }
}

/// Things by their names, as `readings R1, R2 and 3 more`.
pub fn named(one: &str, names: &[&str]) -> String {
    let list = names.iter().take(NAMED).copied().collect::<Vec<_>>().join(", ");
    match (names.len(), names.len().saturating_sub(NAMED)) {
        (1, _) => format!("{one} {list}"),
        (_, 0) => format!("{one}s {list}"),
        (_, more) => format!("{one}s {list} and {more} more"),
    }
}
