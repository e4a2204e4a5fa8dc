//! The tube sheet.

use super::super::fields::settings::{INTERFERES, OTHER_STROKES, TUBE};
use super::super::number::Comma;
use super::super::quantity::{self, HUMIDITY, Kind, LENGTH, NoQuantity, SHARE, TEMPERATURE, VOLUME};
use super::super::yaml::{Map, Node};
use super::{count, declare, declared, minutes, positive};
use crate::diagnose::{Findings, code};
use crate::model::{Agent, Interference, Named, Study, Tube};

/// A relative standard deviation in the place of one that cannot be read.
const IN_PLACE_OF_A_FAULT: f64 = 0.1;

/// `tubes:`.
pub fn tubes(top: &Map, study: &mut Study, findings: &Findings) {
    let example = "tubes: {NH3-M: {agent: ammonia, marks: [5, 10, 20, 50, 100], unit: ppm, strokes: 1, stroke_time: 1 min}}";
    let (agents, tubes) = (&study.agents, &mut study.tubes);
    declare(top, "tubes", example, tubes, findings, |node| tube(node, agents, findings));
}

fn tube(node: &Node, agents: &Named<Agent>, findings: &Findings) -> Option<Tube> {
    let map = node.map(TUBE, findings);
    let agent =
        map.need("agent", "agent: ammonia", findings).and_then(|n| declared(&n, agents, "agent", findings));
    let marks = map.need("marks", "marks: [5, 10, 20, 50, 100]", findings).and_then(|n| marks(&n, findings));
    let unit = map.need("unit", "unit: ppm", findings).and_then(|n| {
        let text = n.text(findings)?;
        n.or_bad_quantity(
            quantity::concentration_unit(&text).map_err(NoQuantity::Unreadable),
            "ppm, ppb, mg/m3 or ug/m3",
            findings,
        )
    });
    let strokes = map.need("strokes", "strokes: 1", findings);
    let strokes =
        strokes.and_then(|_| positive(&map, "strokes", findings, |n| n.number(findings).map(|x| (x, x))));
    Some(Tube {
        agent: agent?,
        marks: marks?,
        unit: unit?,
        strokes: strokes?,
        other_strokes: other_strokes(&map, findings),
        stroke_volume_ml: measure(&map, "stroke_volume", &VOLUME, findings).unwrap_or(100.0),
        stroke_time: minutes(&map, "stroke_time", findings),
        // One at fault is an error; the checks go on as if it were told.
        relative_sd: map
            .get("relative_sd")
            .map(|_| measure(&map, "relative_sd", &SHARE, findings).unwrap_or(IN_PLACE_OF_A_FAULT)),
        temperature: factors(&map, "temperature", &TEMPERATURE, findings),
        humidity: factors(&map, "humidity", &HUMIDITY, findings),
        pressure_proportional: map
            .get("pressure")
            .and_then(|n| n.choice(&[("proportional", true), ("none", false)], findings))
            .unwrap_or(false),
        interferes: interferences(&map, findings),
        colour: map.get("colour").and_then(|n| n.text(findings)),
        pre_tube: map.get("pre_tube").and_then(|n| n.text(findings)).filter(|t| t != "none"),
        read_within: minutes(&map, "read_within", findings),
        diameter_mm: measure(&map, "diameter", &LENGTH, findings),
        per_box: map.get("per_box").and_then(|n| count(&n, findings)),
        contains: map.get("contains").and_then(|n| n.text(findings)),
        expires: expiries(&map, findings),
        span: node.key_span(),
    })
}

fn measure(map: &Map, key: &str, kind: &Kind, findings: &Findings) -> Option<f64> {
    positive(map, key, findings, |n| n.quantity(kind, findings).map(|x| (x, x)))
}

/// At least two marks, rising from above zero.
fn marks(node: &Node, findings: &Findings) -> Option<Vec<f64>> {
    let marks = node.numbers(findings)?;
    if marks.len() >= 2 && marks[0] > 0.0 && marks.windows(2).all(|w| w[0] < w[1]) {
        return Some(marks);
    }
    findings.report(
        &code::IMPOSSIBLE_VALUE,
        node.key_span(),
        "the marks of a scale are at least two numbers above zero, each larger than the one before",
        "copy them from the tube sheet, as [5, 10, 20, 50, 100]",
    );
    None
}

fn other_strokes(map: &Map, findings: &Findings) -> Vec<(f64, f64)> {
    let Some(node) = map.get("other_strokes") else { return Vec::new() };
    let read = |entry: &Node| {
        let entry = entry.map(OTHER_STROKES, findings);
        entry.need("strokes", "strokes: 2", findings)?;
        entry.need("factor", "factor: 0.5", findings)?;
        let above_zero = |key| positive(&entry, key, findings, |n| n.number(findings).map(|x| (x, x)));
        Some((above_zero("strokes")?, above_zero("factor")?))
    };
    node.list(findings).iter().filter_map(read).collect()
}

/// Factors by condition, as `{0 C: 1.2, 20 C: 1.0}`, rising.
fn factors(map: &Map, key: &str, kind: &Kind, findings: &Findings) -> Vec<(f64, f64)> {
    let Some(node) = map.get(key) else { return Vec::new() };
    let mut points = Vec::new();
    for (name, entry) in node.entries(findings) {
        let at = quantity::quantity_text(&name, kind, Comma::Doubtful).map_err(|wrong| {
            let help = format!("write the condition before the colon, as {}", kind.examples);
            wrong.report(entry.key_span(), &help, findings);
        });
        match (at, entry.number(findings)) {
            (Ok(at), Some(factor)) if factor > 0.0 => points.push((at, factor)),
            (_, Some(factor)) if factor <= 0.0 => {
                let help = "copy it from the tube sheet";
                findings.report(
                    &code::IMPOSSIBLE_VALUE,
                    entry.span(),
                    "a factor must be more than zero",
                    help,
                );
            }
            _ => {}
        }
    }
    points.sort_by(|a: &(f64, f64), b| a.0.total_cmp(&b.0));
    if points.windows(2).any(|w| w[0].0 == w[1].0) {
        let message = format!("`{key}` gives two factors for one condition");
        findings.report(&code::IMPOSSIBLE_VALUE, node.key_span(), message, "keep one of the two");
    }
    points
}

fn interferences(map: &Map, findings: &Findings) -> Vec<Interference> {
    let Some(node) = map.get("interferes") else { return Vec::new() };
    let read = |entry: &Node| {
        let entry = entry.map(INTERFERES, findings);
        let agent = entry.need("agent", "agent: amines", findings)?.text(findings)?;
        let reads_higher = entry
            .need("reads", "reads: higher", findings)?
            .choice(&[("higher", true), ("lower", false)], findings)?;
        let per_ppm = positive(&entry, "per_ppm", findings, |n| n.number(findings).map(|x| (x, x)));
        Some(Interference { agent, reads_higher, per_ppm })
    };
    node.list(findings).iter().filter_map(read).collect()
}

fn expiries(map: &Map, findings: &Findings) -> Vec<(String, chrono::NaiveDate)> {
    let Some(node) = map.get("expires") else { return Vec::new() };
    let read = |(lot, entry): (String, Node)| {
        let text = entry.text(findings)?;
        let date = chrono::NaiveDate::parse_from_str(&text, "%Y-%m-%d");
        if date.is_err() {
            let message = format!("`{text}` is not a date");
            findings.report(&code::BAD_QUANTITY, entry.span(), message, "write it as 2027-06-30");
        }
        Some((lot, date.ok()?))
    };
    node.entries(findings).into_iter().filter_map(read).collect()
}
