//! Words of a new study that nobody has replaced.

use crate::diagnose::{Findings, Span, code};
use crate::read::yaml::Map;

/// What stands in a study that `start` has just laid down, and would be printed in its report.
const LAID_DOWN: [&str; 4] = ["My study", "Where the work is done", "Who signs", "where you took it from"];

/// Notes the settings of the head and of the limits that are still as they were laid down.
pub fn note(top: &Map, findings: &Findings) {
    let head = top.get("study").into_iter();
    let limits = top.get("limits").into_iter().flat_map(|list| list.members());
    let settings = head.chain(limits).flat_map(|part| part.pairs());
    let left =
        settings.filter(|(_, node)| node.scalar().is_some_and(|text| LAID_DOWN.contains(&text.trim())));
    let left: Vec<Span> = left.map(|(_, node)| node.span()).collect();
    if !left.is_empty() {
        let message = "these words were laid down with the study and would be printed in its report";
        findings.report_at(&code::LEFT_AS_LAID_DOWN, left, message, "write your own in their place");
    }
}
