//! `study.yaml` into the declared part of a study.

mod beliefs;
mod exposure;
mod field_rules;
mod groups;
mod laid_down;
mod limits;
mod report;
mod tables;
mod tubes;

use super::fields::settings::{HEAD, PUMP, REFERENCE, SHIFT, STUDY};
use super::quantity::{MOLAR_VOLUME, PRESSURE, TEMPERATURE, TIME};
use crate::diagnose::nearest;
pub use groups::enrol;
pub use tables::Files;

use super::yaml::{Document, Map, Node};
use crate::diagnose::{Findings, code};
use crate::model::{
    Celsius, KiloPascal, Minutes, MolarVolume, Named, Pump, Ref, Reference, ShiftSettings, Study,
};
use chrono_tz::Tz;

/// Reads the declared part of a study. `None` where the document is no study at all.
pub fn study(document: &Document, findings: &Findings) -> Option<(Study, Files)> {
    let top = document.top();
    if top.is_null() {
        let help = "lay a study down with `fullshift start` and go on from there";
        findings.report(&code::MISSING_KEY, top.span(), "study.yaml is empty", help);
        return None;
    }
    if !top.is_mapping(findings) {
        return None;
    }
    let top_map = top.map(STUDY, findings);
    let mut study = Study::default();
    head(&top_map, &mut study, findings);
    reference(&top_map, &mut study, findings);
    exposure::agents(&top_map, &mut study, findings);
    shift(&top_map, &mut study, findings);
    limits::limits(&top_map, &mut study, findings);
    limits::additive(&top_map, &mut study, findings);
    tubes::tubes(&top_map, &mut study, findings);
    exposure::pumps(&top_map, &mut study, findings);
    exposure::tasks(&top_map, &mut study, findings);
    let empty = groups::groups(&top_map, &mut study, findings);
    laid_down::note(&top_map, findings);
    limits::rules(&top_map, &mut study, findings);
    beliefs::prior(&top_map, &mut study, findings);
    beliefs::reassess(&top_map, &mut study, findings);
    field_rules::field_rules(&top_map, &mut study, findings);
    let mut wanted = tables::tables(&top_map, findings);
    wanted.logo = report::report(&top_map, &mut study, findings);
    if wanted.workers.is_none() {
        groups::report_empty(&empty, &mut study, findings);
    }
    Some((study, wanted))
}

fn head(top: &Map, study: &mut Study, findings: &Findings) {
    let example = "study: {title: Ammonia in the hall, site: Hall 2, prepared_by: A. Assessor}";
    let Some(node) = top.need("study", example, findings) else { return };
    let map = node.map(HEAD, findings);
    let text =
        |key, example| map.need(key, example, findings).and_then(|n| n.text(findings)).unwrap_or_default();
    study.title = text("title", "title: Ammonia in the hall");
    study.site = text("site", "site: Hall 2");
    study.prepared_by = text("prepared_by", "prepared_by: A. Assessor");
    study.clock.zone = map.get("time_zone").and_then(|n| time_zone(&n, findings));
}

fn time_zone(node: &Node, findings: &Findings) -> Option<Tz> {
    let name = node.text(findings)?;
    let zone = name.parse().ok();
    if zone.is_none() {
        let help = nearest(&name, chrono_tz::TZ_VARIANTS.iter().map(|zone| zone.name()));
        let help = if help.starts_with("did") {
            help
        } else {
            "write it as Europe/Berlin or America/Chicago".to_owned()
        };
        findings.report(
            &code::BAD_CHOICE,
            node.span(),
            format!("`{name}` is not the name of a time zone"),
            help,
        );
    }
    zone
}

fn reference(top: &Map, study: &mut Study, findings: &Findings) {
    let Some(node) = top.get("reference") else { return };
    let map = node.map(REFERENCE, findings);
    let standard = Reference::default();
    study.reference = Reference {
        temperature: positive(&map, "temperature", findings, |n| {
            n.quantity(&TEMPERATURE, findings).map(|c| (c + 273.15, Celsius(c)))
        })
        .unwrap_or(standard.temperature),
        pressure: positive(&map, "pressure", findings, |n| {
            n.quantity(&PRESSURE, findings).map(|p| (p, KiloPascal(p)))
        })
        .unwrap_or(standard.pressure),
        molar_volume: positive(&map, "molar_volume", findings, |n| {
            n.quantity(&MOLAR_VOLUME, findings).map(|v| (v, MolarVolume::Conventional(v)))
        })
        .unwrap_or(standard.molar_volume),
    };
}

fn shift(top: &Map, study: &mut Study, findings: &Findings) {
    let Some(node) = top.get("shift") else { return };
    let map = node.map(SHIFT, findings);
    let standard = ShiftSettings::default();
    let time = |key| minutes(&map, key, findings);
    study.shift = ShiftSettings {
        reference: time("reference").unwrap_or(standard.reference),
        new_after: time("new_after").unwrap_or(standard.new_after),
        week: time("week").filter(|week| whole_week(&map, *week, findings)),
        unsampled: map
            .get("unsampled")
            .and_then(|n| n.choice(&exposure::UNSAMPLED, findings))
            .unwrap_or_default(),
    };
}

fn whole_week(map: &Map, week: Minutes, findings: &Findings) -> bool {
    let fits = week.0 < 168.0 * 60.0;
    if let (false, Some(node)) = (fits, map.get("week")) {
        let message = "a week has 168 hours, and nobody works all of them";
        findings.report(
            &code::IMPOSSIBLE_VALUE,
            node.span(),
            message,
            "write the usual working time, as 48 h",
        );
    }
    fits
}

/// The value of an entry that must lie above zero; the reader gives the number to test beside the value.
fn positive<T>(
    map: &Map,
    key: &str,
    findings: &Findings,
    read: impl Fn(&Node) -> Option<(f64, T)>,
) -> Option<T> {
    let node = map.get(key)?;
    let (number, value) = read(&node)?;
    if number > 0.0 {
        return Some(value);
    }
    findings.report(
        &code::IMPOSSIBLE_VALUE,
        node.span(),
        format!("`{key}` must be more than zero"),
        "check the number and its unit",
    );
    None
}

/// A whole number from 1.
fn count(node: &Node, findings: &Findings) -> Option<u32> {
    let number = node.number(findings)?;
    if number >= 1.0 && number.fract() == 0.0 && number < 1e6 {
        return Some(number as u32);
    }
    findings.report(
        &code::IMPOSSIBLE_VALUE,
        node.span(),
        "a whole number from 1 is needed here",
        "write it as 4",
    );
    None
}

/// A time above zero, in minutes.
fn minutes(map: &Map, key: &str, findings: &Findings) -> Option<Minutes> {
    positive(map, key, findings, |n| n.quantity(&TIME, findings).map(|m| (m, Minutes(m))))
}

/// The declared thing that a text names, or a finding with the nearest one.
fn declared<T>(node: &Node, list: &Named<T>, what: &str, findings: &Findings) -> Option<Ref<T>> {
    let name = node.text(findings)?;
    let found = list.find(&name);
    if found.is_none() && !list.excuses(&name) {
        let names: Vec<&str> = list.names().collect();
        findings.report(
            &code::UNKNOWN_NAME,
            node.span(),
            format!("no {what} called `{name}` is declared"),
            nearest(&name, names.into_iter()),
        );
    }
    found
}

/// Declares every entry of the mapping under `key`.
fn declare<T: Clone>(
    top: &Map,
    key: &str,
    example: &str,
    list: &mut Named<T>,
    findings: &Findings,
    mut read: impl FnMut(&Node) -> Option<T>,
) {
    let Some(node) = top.need(key, example, findings) else { return list.mark_unreadable() };
    let entries = node.entries(findings);
    if entries.is_empty() {
        list.mark_unreadable();
    }
    if entries.is_empty() && node.is_mapping_like() {
        findings.report(
            &code::MISSING_KEY,
            node.key_span(),
            format!("`{key}` has no entries"),
            format!("add, for example, `{example}`"),
        );
    }
    for (name, entry) in entries {
        match read(&entry) {
            // The YAML reader has refused duplicate keys already.
            Some(thing) => drop(list.insert(&name, entry.key_span(), thing)),
            None => list.insert_faulty(&name),
        }
    }
}

/// Pump volumes need the same reader as tubes.
fn declare_pump(node: &Node, findings: &Findings) -> Option<Pump> {
    let map = node.map(PUMP, findings);
    let stroke_volume_ml = positive(&map, "stroke_volume", findings, |n| {
        n.quantity(&super::quantity::VOLUME, findings).map(|v| (v, v))
    });
    Some(Pump { stroke_volume_ml })
}
