//! `explain`: what a finding says, why it matters and what to do.

use super::json;
use crate::arguments::{Explain, ExplainFormat};
use crate::border::Border;
use crate::explanation;
use crate::failure::Failure;
use crate::page::terminal;
use fullshift_engine::diagnose::{Code, catalogue, find_code};
use serde::Serialize;

#[derive(Serialize)]
struct Listed {
    format_version: u32,
    findings: Vec<&'static Code>,
}

pub(super) fn run(typed: &Explain, border: &mut Border<'_>) -> Result<(), Failure> {
    let asked = typed.finding.as_deref().map(meant).transpose()?;
    let text = match (typed.format, asked) {
        (ExplainFormat::Json, asked) => json(&Listed { format_version: 1, findings: codes(asked) })?,
        (ExplainFormat::Text, Some(code)) => terminal::page(&explanation::page(code), border.width()),
        (ExplainFormat::Text, None) => terminal::page(&explanation::list(), border.width()),
        (ExplainFormat::Markdown, Some(code)) => explanation::handbook(code),
        (ExplainFormat::Markdown, None) => explanation::handbook_list(),
    };
    border.print(&text)
}

fn meant(text: &str) -> Result<&'static Code, Failure> {
    find_code(text.trim()).map_err(|remedy| Failure::command(format!("there is no finding `{text}`"), remedy))
}

/// The code asked for, or all of them.
fn codes(asked: Option<&'static Code>) -> Vec<&'static Code> {
    asked.map_or_else(|| catalogue().collect(), |code| vec![code])
}
