//! Blanks: tubes drawn where there is nothing to show.

use crate::check::notebook::{Notebook, Saying};
use crate::diagnose::code;
use crate::model::reading::written;
use crate::model::{Column, Purpose, Reading, Ref, Stain, Study, Tube};
use chrono::NaiveDate;
use std::collections::HashMap;

/// A blank with a stain throws doubt on the tubes of its type, lot and day.
pub fn check(study: &Study, notebook: &mut Notebook) {
    let mut blanks: HashMap<(Ref<Tube>, NaiveDate), OfDay> = HashMap::new();
    for blank in study.readings.iter().filter(|reading| stained(reading)) {
        let of_day = blanks.entry(kind(blank, study)).or_insert_with(|| OfDay::of(blank));
        of_day.by_lot.entry(lot(blank)).or_insert(blank);
    }
    if blanks.is_empty() {
        return;
    }
    for (number, reading) in study.readings.iter().enumerate() {
        let other = || blanks.get(&kind(reading, study)).and_then(|of_day| of_day.beside(reading));
        let itself = Some(reading).filter(|reading| stained(reading));
        let Some(blank) = itself.or_else(other) else { continue };
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

/// The first stained blanks of a type of tube and a day.
struct OfDay<'a> {
    first: &'a Reading,
    /// That of each lot; of no lot where it is not told.
    by_lot: HashMap<Option<&'a str>, &'a Reading>,
}

impl<'a> OfDay<'a> {
    fn of(first: &'a Reading) -> OfDay<'a> {
        OfDay { first, by_lot: HashMap::new() }
    }

    /// One that may be of a reading's lot: where one of the two lots is not told, they may be the same.
    fn beside(&self, reading: &Reading) -> Option<&'a Reading> {
        match lot(reading) {
            None => Some(self.first),
            own => self.by_lot.get(&own).or(self.by_lot.get(&None)).copied(),
        }
    }
}

fn stained(reading: &Reading) -> bool {
    reading.purpose == Purpose::Blank && !matches!(reading.stain, Stain::Below(_))
}

fn lot(reading: &Reading) -> Option<&str> {
    reading.circumstances().lot.as_deref()
}

fn kind(reading: &Reading, study: &Study) -> (Ref<Tube>, NaiveDate) {
    (reading.tube, study.clock.local(reading.start).date())
}
