//! Findings a line each, as editors and other tools that jump to a place read them.

use super::severity;
use fullshift_engine::diagnose::{Place, Report};
use std::path::Path;

/// A line for each place of each finding: `file:line:column: severity CODE message`. The file is reached from where the
/// command was typed; a place that is no single cell is told by its first column, one in a workbook by sheet and cell.
pub(crate) fn lines(study: &Path, findings: &[Report]) -> String {
    let folder = if study.is_dir() { study } else { study.parent().unwrap_or(Path::new("")) };
    let of = |finding: &Report| {
        finding.places.iter().map(|place| line(folder, place, finding)).collect::<Vec<_>>()
    };
    findings.iter().flat_map(of).collect()
}

fn line(folder: &Path, place: &Place, finding: &Report) -> String {
    let (word, _) = severity(finding.severity);
    let message = finding.message.split_whitespace().collect::<Vec<_>>().join(" ");
    let file = folder.join(&place.file).display().to_string();
    let at = match place.sheet {
        Some(_) => Place { file, ..place.clone() }.to_string(),
        None => format!("{file}:{}:{}", place.line.max(1), place.column.max(1)),
    };
    format!("{at}: {word} {} {message}\n", finding.code)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::samples::finding;
    use fullshift_engine::diagnose::Severity;

    #[test]
    fn a_finding_is_a_line_for_each_of_its_places() {
        let mut report = finding(Severity::Error, 3, 4, "R1,abc,x");
        report.places.push(report.places[0].clone());
        report.places[1].line = 7;
        let text = lines(Path::new("hall/study.yaml"), &[report]);
        let expected = "\
hall/readings.csv:3:4: error F307 `abc` is no number of strokes
hall/readings.csv:7:4: error F307 `abc` is no number of strokes
";
        assert_eq!(text.replace('\\', "/"), expected);
    }

    #[test]
    fn a_file_as_a_whole_is_told_by_its_first_character_and_a_message_stays_on_its_line() {
        let mut report = finding(Severity::Note, 0, 0, "");
        report.message = "a cell\nwith a line break".to_owned();
        assert_eq!(
            lines(Path::new("study.yaml"), &[report]),
            "readings.csv:1:1: note F307 a cell with a line break\n"
        );
    }
}
