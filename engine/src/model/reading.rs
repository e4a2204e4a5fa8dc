//! One tube drawn, as the field sheet has it.

use super::Ref;
use super::column::{Cells, Column};
use super::quantity::{Celsius, KiloPascal, Minutes};
use super::study::{Task, Worker};
use super::tube::{Pump, Tube};
use crate::diagnose::Span;
use chrono::NaiveDateTime;
use compact_str::CompactString;
use serde::Serialize;

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

impl Stain {
    /// Between what and what it lies on the scale; a slanted stain counts as its mean.
    pub fn range(self) -> (f64, f64) {
        match self {
            Stain::At(x) => (x, x),
            Stain::Between(low, high) => (low, high),
            Stain::Below(first) => (0.0, first),
            Stain::Past(last) => (last, f64::INFINITY),
            Stain::Slanted(short, long) => (0.5 * (short + long), 0.5 * (short + long)),
        }
    }
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

    /// Whether it speaks for a person, so that worker and task must be told.
    pub fn needs_person(self) -> bool {
        matches!(self, Purpose::Random | Purpose::WorstCase)
    }

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
    /// Who wore it; a reading that feeds no figure of a person may have been worn by nobody.
    pub worker: Option<Ref<Worker>>,
    /// During what; told of every reading that was worn by somebody at random or at the worst moment.
    pub task: Option<Ref<Task>>,
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

impl Reading {
    /// What is told of the circumstances, perhaps nothing.
    pub fn circumstances(&self) -> &Circumstances {
        self.told.as_deref().unwrap_or(&NOTHING)
    }

    /// The place of one of its cells, or of the row where the table lacks the column.
    pub fn at(&self, column: Column) -> Span {
        self.span.cell(self.cells.field(column))
    }
}
