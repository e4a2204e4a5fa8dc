//! Readings that are not what the others beside them are: of another purpose, or the same tube a second time.

use crate::check::notebook::{Notebook, Saying};
use crate::diagnose::code;
use crate::model::{Purpose, Reading, Stain, Study};
use std::collections::HashMap;

/// Notes purposes that stand side by side, and finds tubes entered twice.
pub fn check(study: &Study, notebook: &mut Notebook) {
    if study.readings.iter().any(|reading| reading.purpose == Purpose::Random) {
        mixed_purposes(study, notebook);
    }
    near_duplicates(study, notebook);
}

/// Worst-case and area readings beside random ones.
fn mixed_purposes(study: &Study, notebook: &mut Notebook) {
    for (number, reading) in study.readings.iter().enumerate() {
        if !matches!(reading.purpose, Purpose::WorstCase | Purpose::Area) {
            continue;
        }
        notebook.of_reading(number, &code::MIXED_PURPOSES, || {
            let word = reading.purpose.word();
            let message = format!("drawn as {word} among random readings; shown, but in no figure");
            Saying::new(reading.at("purpose"), message, "nothing need be done if the purpose is right")
        });
    }
}

/// A stain that can be compared bit by bit.
fn key(stain: Stain) -> (u8, u64, u64) {
    match stain {
        Stain::At(x) => (0, x.to_bits(), 0),
        Stain::Between(low, high) => (1, low.to_bits(), high.to_bits()),
        Stain::Below(x) => (2, x.to_bits(), 0),
        Stain::Past(x) => (3, x.to_bits(), 0),
        Stain::Slanted(short, long) => (4, short.to_bits(), long.to_bits()),
    }
}

/// Rows that tell of the same person, tube, minute, strokes and stain.
fn near_duplicates(study: &Study, notebook: &mut Notebook) {
    let alike = |r: &Reading| (r.worker, r.tube, r.start, r.strokes.to_bits(), key(r.stain));
    let mut first = HashMap::new();
    for (number, reading) in study.readings.iter().enumerate() {
        if reading.purpose == Purpose::Duplicate {
            continue;
        }
        let before: usize = *first.entry(alike(reading)).or_insert(number);
        let before = &study.readings[before];
        if before.span == reading.span || before.id == reading.id {
            continue;
        }
        notebook.of_reading(number, &code::NEAR_DUPLICATE, || {
            let message = format!(
                "the same person, tube, minute, strokes and stain as `{}`: probably one tube entered twice",
                before.id
            );
            let help = "take one row away, or give a tube drawn beside another the purpose `duplicate`";
            Saying::new(reading.at("start"), message, help).beside(before.at("start"))
        });
    }
}
