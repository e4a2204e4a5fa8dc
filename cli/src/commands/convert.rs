//! `convert`: one concentration in another unit, with the working.

use super::json;
use crate::arguments::{Convert, Format};
use crate::border::Border;
use crate::failure::Failure;
use crate::page::{Block, Line, Page, Section, Text, Tone, number, terminal};
use crate::trail::step_lines;
use fullshift_engine::Conversion;
use fullshift_engine::model::Figure;
use serde::Serialize;

/// The molar volume that printed tables use, at the conditions at which they use it.
const CONVENTIONAL: (&str, &str, &str) = ("24.45 L/mol", "25 C", "101.325 kPa");

#[derive(Serialize)]
struct Converted<'a> {
    format_version: u32,
    amount: &'a str,
    result: &'a Figure,
    conditions: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    conventional: Option<&'a Figure>,
}

pub(super) fn run(typed: &Convert, border: &mut Border<'_>) -> Result<(), Failure> {
    let amount = typed.amount();
    let exact = converted(typed, &amount, typed.molar_volume.as_deref())?;
    let conventional = is_tabulated(typed).then(|| converted(typed, &amount, Some(CONVENTIONAL.0)));
    let conventional = conventional.transpose()?;
    let text = match typed.format {
        Format::Text => terminal::page(&page(&amount, &exact, conventional.as_ref()), border.width()),
        Format::Json => json(&Converted {
            format_version: 1,
            amount: &amount,
            result: &exact.figure,
            conditions: &exact.conditions,
            conventional: conventional.as_ref().map(|c| &c.figure),
        })?,
    };
    border.print(&text)
}

fn converted(typed: &Convert, amount: &str, molar_volume: Option<&str>) -> Result<Conversion, Failure> {
    let Convert { to, molar_mass, temperature, pressure, .. } = typed;
    fullshift_engine::convert(amount, to, *molar_mass, temperature, pressure, molar_volume).map_err(|words| {
        Failure::command(words, "An example: fullshift convert 25 ppm --to mg/m3 --molar-mass 17.03")
    })
}

/// Whether printed tables answer the same question with their own molar volume.
fn is_tabulated(typed: &Convert) -> bool {
    let at = (typed.temperature.as_str(), typed.pressure.as_str());
    typed.molar_mass.is_some() && typed.molar_volume.is_none() && at == (CONVENTIONAL.1, CONVENTIONAL.2)
}

fn page(amount: &str, exact: &Conversion, conventional: Option<&Conversion>) -> Page {
    let mut section = Section::headed(headline(amount, exact));
    let mut lines = Vec::new();
    for step in exact.figure.trail() {
        step_lines(step, 1, &mut lines);
    }
    if let Some(tables) = conventional {
        lines.push(Line::at(1, headline(amount, tables)));
    }
    section.blocks.push(Block::Outline(lines));
    Page { sections: vec![section] }
}

fn headline(amount: &str, conversion: &Conversion) -> Text {
    let figure = &conversion.figure;
    let value = figure.value().map_or_else(|| number::number(f64::NAN), number::converted);
    Text::of(Tone::Strong, format!("{amount} = {value} {}", figure.unit()))
        .then(format!("  ({})", conversion.conditions))
}
