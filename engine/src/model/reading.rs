//! One tube drawn, as the field sheet has it.

use super::Ref;
use super::quantity::{Celsius, KiloPascal, Minutes};
use super::study::{Pump, Task, Tube, Worker};
use crate::diagnose::Span;
use chrono::NaiveDateTime;
use compact_str::CompactString;
use serde::Serialize;
use std::num::NonZeroU8;

/// The stain as read against the printed scale, in the tube's unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stain {
    /// Read from the scale: `12`.
    At(f64),
    /// Between two marks: `10..15`.
    Between(f64, f64),
    /// Less than the first mark: `<5`.
    Below(f64),
    /// Past the last mark: `>100`.
    Past(f64),
    /// A slanted stain, shortest and longest point: `8/14`.
    Slanted(f64, f64),
}

/// The stain in the same notation, for the record.
pub fn written(stain: Stain) -> String {
    match stain {
        Stain::At(x) => format!("{x}"),
        Stain::Between(low, high) => format!("{low}..{high}"),
        Stain::Below(x) => format!("<{x}"),
        Stain::Past(x) => format!(">{x}"),
        Stain::Slanted(short, long) => format!("{short}/{long}"),
    }
}

/// Why a tube was drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Purpose {
    /// A personal reading at a time chosen at random.
    #[default]
    Random,
    /// At the time the exposure was thought highest.
    WorstCase,
    /// At a fixed place, not on a person.
    Area,
    /// Unexposed.
    Blank,
    /// Beside another reading.
    Duplicate,
}

impl Purpose {
    /// Every purpose with its word.
    pub const WORDS: [(&'static str, Purpose); 5] = [
        ("random", Purpose::Random),
        ("worst-case", Purpose::WorstCase),
        ("area", Purpose::Area),
        ("blank", Purpose::Blank),
        ("duplicate", Purpose::Duplicate),
    ];

    /// The word used in the readings table.
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, p)| *p == self).map_or("random", |(w, _)| w)
    }
}

/// One tube drawn: who, where, when, strokes, the stain as read. A study may have a million of them, so that what few rows tell
/// stands apart.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Name, unique in the study.
    pub id: CompactString,
    /// Who wore it.
    pub worker: Ref<Worker>,
    /// During what.
    pub task: Ref<Task>,
    /// Tube type.
    pub tube: Ref<Tube>,
    /// Pump.
    pub pump: Ref<Pump>,
    /// When the drawing began.
    pub start: NaiveDateTime,
    /// Strokes drawn.
    pub strokes: f64,
    /// The stain.
    pub stain: Stain,
    /// Why it was drawn.
    pub purpose: Purpose,
    /// What else is told; `None` where nothing is.
    pub told: Option<Box<Circumstances>>,
    /// Its row; [`Cells`] leads from here to the cells.
    pub span: Span,
    /// Columns of the table it came from.
    pub cells: std::sync::Arc<Cells>,
}

/// What a row may tell of the circumstances of a reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Circumstances {
    /// Lot of the tube.
    pub lot: Option<String>,
    /// Air temperature.
    pub temperature: Option<Celsius>,
    /// Relative humidity in per cent.
    pub humidity: Option<f64>,
    /// Air pressure.
    pub pressure: Option<KiloPascal>,
    /// Pre-tube used.
    pub pre_tube: Option<String>,
    /// Colour seen.
    pub colour: Option<String>,
    /// Time from the end of drawing to reading.
    pub read_after: Option<Minutes>,
    /// Where.
    pub place: Option<String>,
    /// Interfering substances present, each with its ppm where known.
    pub present: Vec<(String, Option<f64>)>,
    /// Remark.
    pub note: Option<String>,
}

/// Where nothing is told.
static NOTHING: Circumstances = Circumstances {
    lot: None,
    temperature: None,
    humidity: None,
    pressure: None,
    pre_tube: None,
    colour: None,
    read_after: None,
    place: None,
    present: Vec::new(),
    note: None,
};

impl Circumstances {
    /// For a reading: `None` where nothing is told.
    pub fn if_any(self) -> Option<Box<Circumstances>> {
        (self != NOTHING).then(|| Box::new(self))
    }
}

impl Reading {
    /// What is told of the circumstances, perhaps nothing.
    pub fn circumstances(&self) -> &Circumstances {
        self.told.as_deref().unwrap_or(&NOTHING)
    }

    /// The place of one of its cells, or of the row where the table lacks the column.
    pub fn at(&self, column: &str) -> Span {
        self.span.cell(self.cells.field(column))
    }
}

/// Which field of a row holds which column. Every row is asked for every column that there could be, most of which its table does
/// not have, so that the answer must come at once: from a slot to which the name leads.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Cells {
    columns: Vec<(String, u16)>,
    slots: [Option<NonZeroU8>; SLOTS],
}

const SLOTS: usize = 32;

/// The slot of a column, by its ends and its length; the weights part nearly all columns of our tables. Where two share one, the
/// search goes on from the first of them.
#[inline]
fn slot(name: &str) -> usize {
    let [first, .., last] = name.as_bytes() else { return 0 };
    (usize::from(*first) + 3 * name.len() + 30 * usize::from(*last)) % SLOTS
}

impl Cells {
    /// Adds a column, which lies in `field`.
    pub fn add(&mut self, column: String, field: u16) {
        let slot = &mut self.slots[slot(&column)];
        let place = u8::try_from(self.columns.len() + 1).ok().and_then(NonZeroU8::new);
        *slot = slot.or(place);
        self.columns.push((column, field));
    }

    /// The columns that there are, each with its field.
    pub fn iter(&self) -> impl Iterator<Item = &(String, u16)> {
        self.columns.iter()
    }

    /// The field that holds `column`.
    #[inline]
    pub fn field(&self, column: &str) -> Option<u16> {
        let first = usize::from(self.slots[slot(column)]?.get()) - 1;
        self.columns[first..].iter().find(|(name, _)| name == column).map(|&(_, field)| field)
    }
}
