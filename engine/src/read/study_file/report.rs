//! The part `report`: the user's own words for the written report.

use crate::diagnose::{Findings, Span};
use crate::model::{ReportLanguage, ReportWords, Study};
use crate::read::fields::settings::REPORT;
use crate::read::yaml::Map;

const LANGUAGES: [(&str, ReportLanguage); 2] =
    [("en", ReportLanguage::English), ("de", ReportLanguage::German)];

/// Reads the words and gives the name of the logo with its place.
pub fn report(top: &Map, study: &mut Study, findings: &Findings) -> Option<(String, Span)> {
    let node = top.get("report")?;
    let map = node.map(REPORT, findings);
    let text = |key| map.get(key).and_then(|n| n.text(findings));
    study.report = ReportWords {
        language: map.get("language").and_then(|n| n.choice(&LANGUAGES, findings)),
        background: text("background"),
        controls: text("controls"),
        recommendations: text("recommendations"),
        logo: None,
    };
    map.get("logo").and_then(|n| Some((n.text(findings)?, n.span())))
}
