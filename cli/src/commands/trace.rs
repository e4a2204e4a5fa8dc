//! `trace`: how one figure came about, down to its tubes.

use super::{check, has_group, json};
use crate::arguments::{Format, Trace};
use crate::border::Border;
use crate::failure::Failure;
use crate::page::terminal;
use crate::trail::{self, Addresses, Entry, Lost, Stop, Thing};
use fullshift_engine::model::Figure;
use fullshift_engine::model::assessment::ReadingResult;
use serde::Serialize;

/// Suggestions printed before the others are counted.
const SUGGESTED: usize = 12;

#[derive(Serialize)]
struct Listed<'a> {
    format_version: u32,
    figures: Vec<&'a str>,
}

#[derive(Serialize)]
struct Traced<'a> {
    format_version: u32,
    #[serde(flatten)]
    asked: Told<'a>,
    behind: Vec<Told<'a>>,
}

#[derive(Serialize)]
struct Told<'a> {
    address: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    figure: Option<&'a Figure>,
    #[serde(skip_serializing_if = "Option::is_none")]
    reading: Option<&'a ReadingResult>,
}

pub(super) fn run(typed: &Trace, border: &mut Border<'_>) -> Result<(), Failure> {
    let assessment =
        fullshift_engine::assessment(&typed.study, typed.group.as_deref()).map_err(|stopped| {
            check::tell_why(&stopped.findings, border);
            Failure::Study
        })?;
    let groups: Vec<String> = assessment.study.groups.iter().map(|g| g.group.clone()).collect();
    has_group(typed.group.as_deref(), &groups)?;
    let addresses = Addresses::of(&assessment);
    let text = match &typed.figure {
        None => list(typed.format, &addresses, border)?,
        Some(figure) => {
            let entry = addresses.meant(figure).map_err(|lost| explain(figure, &lost))?;
            working(typed.format, &trail::walk(&addresses, entry), border)?
        }
    };
    border.print(&text)
}

fn list(format: Format, addresses: &Addresses<'_>, border: &Border<'_>) -> Result<String, Failure> {
    match format {
        Format::Text => Ok(terminal::page(&trail::list(addresses), border.width())),
        Format::Json => {
            let figures = addresses.iter().map(|entry| entry.address.as_str()).collect();
            json(&Listed { format_version: 1, figures })
        }
    }
}

fn working(format: Format, stops: &[Stop<'_>], border: &Border<'_>) -> Result<String, Failure> {
    match (format, stops) {
        (Format::Json, [asked, behind @ ..]) => json(&Traced {
            format_version: 1,
            asked: told(asked.entry),
            behind: behind.iter().map(|stop| told(stop.entry)).collect(),
        }),
        _ => Ok(terminal::page(&trail::working(stops), border.width())),
    }
}

fn told<'a>(entry: &'a Entry<'a>) -> Told<'a> {
    let (figure, reading) = match entry.thing {
        Thing::Figure(figure) => (Some(figure), None),
        Thing::Reading(reading) => (None, Some(reading)),
    };
    Told { address: &entry.address, figure, reading }
}

fn explain(typed: &str, lost: &Lost) -> Failure {
    match lost {
        Lost::Several(these) => Failure::command(format!("`{typed}` fits several figures"), some(these)),
        Lost::Unknown(near) => match near.as_slice() {
            [] => Failure::command(
                format!("there is no figure `{typed}` in this study"),
                "Without a figure, `fullshift trace STUDY` lists them all.",
            ),
            [one] => Failure::command(
                format!("there is no figure `{typed}` in this study"),
                format!("Did you mean {one}?"),
            ),
            several => Failure::command(format!("`{typed}` has more than one figure"), some(several)),
        },
    }
}

fn some(addresses: &[String]) -> String {
    let mut lines = vec!["Choose one of:".to_owned()];
    lines.extend(addresses.iter().take(SUGGESTED).cloned());
    if addresses.len() > SUGGESTED {
        lines.push(format!("and {} more", addresses.len() - SUGGESTED));
    }
    lines.join("\n")
}
