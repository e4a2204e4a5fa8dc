//! Blanks: tubes drawn where there is nothing to show.

use crate::check::notebook::{Notebook, Saying};
use crate::diagnose::code;
use crate::model::reading::written;
use crate::model::{Column, Purpose, Reading, Ref, Stain, Study, Tube};
use chrono::NaiveDate;
use std::collections::HashMap;

/// A blank with a stain throws doubt on the tubes of its type, lot and day.
pub fn check(study: &Study, notebook: &mut Notebook) {
    let stained =
        |reading: &Reading| reading.purpose == Purpose::Blank && !matches!(reading.stain, Stain::Below(_));
    let mut blanks: HashMap<(Ref<Tube>, NaiveDate), Vec<&Reading>> = HashMap::new();
    for blank in study.readings.iter().filter(|reading| stained(reading)) {
        blanks.entry(kind(blank, study)).or_default().push(blank);
    }
    if blanks.is_empty() {
        return;
    }
    for (number, reading) in study.readings.iter().enumerate() {
        let of_kind = blanks.get(&kind(reading, study)).map_or(&[][..], Vec::as_slice);
        let itself = of_kind.iter().find(|blank| std::ptr::eq(**blank, reading));
        let Some(blank) = itself.or_else(|| of_kind.iter().find(|blank| one_lot(blank, reading))) else {
            continue;
        };
        notebook.of_reading(number, &code::BLANK_WITH_STAIN, || {
            let message = format!(
                "blank `{}` of {} shows {} on {} where it should show nothing; tubes of its lot may read too high",
                blank.id,
                study.clock.local(blank.start).date(),
                written(blank.stain),
                study.tubes.name(blank.tube)
            );
            let help = "draw a blank in clean air again; if it shows a stain, draw from another lot; if it was no blank, correct its purpose";
            Saying::new(reading.at(Column::Reading), message, help)
        });
    }
}

fn kind(reading: &Reading, study: &Study) -> (Ref<Tube>, NaiveDate) {
    (reading.tube, study.clock.local(reading.start).date())
}

/// Whether two tubes may be of one lot: where one of the two is not told, they may.
fn one_lot(a: &Reading, b: &Reading) -> bool {
    let lots = a.circumstances().lot.as_ref().zip(b.circumstances().lot.as_ref());
    lots.is_none_or(|(a, b)| a == b)
}
