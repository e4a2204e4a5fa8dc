//! Readings that are not what the others beside them are: of another purpose, or the same tube a second time.

use crate::check::notebook::{Notebook, Saying};
use crate::diagnose::code;
use crate::model::{Column, Purpose, Stain, Study};

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
            Saying::new(reading.at(Column::Purpose), message, "nothing need be done if the purpose is right")
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
    let when = |number: usize| (study.readings[number].worker, study.readings[number].start);
    let what = |number: usize| {
        let r = &study.readings[number];
        (r.tube, r.strokes.to_bits(), key(r.stain))
    };
    let counts = |&number: &usize| study.readings[number].purpose != Purpose::Duplicate;
    let mut numbers: Vec<usize> = (0..study.readings.len()).filter(counts).collect();
    numbers.sort_by_key(|&number| when(number));
    let mut pairs: Vec<(usize, usize)> = Vec::new();
    let minutes = numbers.chunk_by_mut(|&a, &b| when(a) == when(b));
    for minute in minutes.filter(|minute| minute.len() > 1) {
        minute.sort_by_cached_key(|&number| (what(number), number));
        for same in minute.chunk_by(|&a, &b| what(a) == what(b)) {
            pairs.extend(same[1..].iter().map(|&number| (number, same[0])));
        }
    }
    pairs.sort_unstable();
    for (number, before) in pairs {
        let (reading, before) = (&study.readings[number], &study.readings[before]);
        if before.span == reading.span || before.id == reading.id {
            continue;
        }
        notebook.of_reading(number, &code::NEAR_DUPLICATE, || {
            let message = format!(
                "the same person, tube, minute, strokes and stain as `{}`: probably one tube entered twice",
                before.id
            );
            let help = "take one row away, or give a tube drawn beside another the purpose `duplicate`";
            Saying::new(reading.at(Column::Start), message, help).beside(before.at(Column::Start))
        });
    }
}
