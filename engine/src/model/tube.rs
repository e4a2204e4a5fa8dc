//! The tube sheet, and pumps.

use super::Ref;
use super::quantity::{ConcentrationUnit, Minutes};
use super::study::Agent;
use crate::diagnose::Span;

/// Relative standard deviation of a detector tube whose sheet gives none [NIOSH-77-173].
pub const DEFAULT_RELATIVE_SD: f64 = 0.14;

/// One entry of the tube sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Tube {
    /// The substance it shows.
    pub agent: Ref<Agent>,
    /// Printed marks, rising; the ends are the range.
    pub marks: Vec<f64>,
    /// Unit of the scale.
    pub unit: ConcentrationUnit,
    /// Strokes for which the scale is printed.
    pub strokes: f64,
    /// Other stroke numbers on the sheet, each with the factor for its reading.
    pub other_strokes: Vec<(f64, f64)>,
    /// Volume of a stroke in millilitres.
    pub stroke_volume_ml: f64,
    /// Time that a stroke takes.
    pub stroke_time: Option<Minutes>,
    /// Relative standard deviation of a reading, as a fraction.
    pub relative_sd: Option<f64>,
    /// Factors by temperature in degrees Celsius, rising.
    pub temperature: Vec<(f64, f64)>,
    /// Factors by relative humidity in per cent, rising.
    pub humidity: Vec<(f64, f64)>,
    /// Whether the reading is corrected in proportion to the air pressure.
    pub pressure_proportional: bool,
    /// Substances that change the reading.
    pub interferes: Vec<Interference>,
    /// Colour change.
    pub colour: Option<String>,
    /// Pre-tube that must be drawn first.
    pub pre_tube: Option<String>,
    /// Time within which the stain must be read.
    pub read_within: Option<Minutes>,
    /// Outer diameter in millimetres.
    pub diameter_mm: Option<f64>,
    /// Tubes in a box.
    pub per_box: Option<u32>,
    /// What the tube contains, for its disposal.
    pub contains: Option<String>,
    /// Expiry dates by lot.
    pub expires: Vec<(String, chrono::NaiveDate)>,
    /// Its place.
    pub span: Span,
}

impl Tube {
    /// Relative standard deviation of a reading, where the sheet gives none the usual one.
    pub fn scatter(&self) -> f64 {
        self.relative_sd.unwrap_or(DEFAULT_RELATIVE_SD)
    }
}

/// How another substance changes a tube's reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Interference {
    /// The other substance, by the user's name for it.
    pub agent: String,
    /// Whether it makes the tube read higher or lower.
    pub reads_higher: bool,
    /// Scale units of reading per ppm of the other substance, where the sheet gives them.
    pub per_ppm: Option<f64>,
}

impl Interference {
    /// Whether this is the substance called `name`, in capitals or not.
    pub fn is(&self, name: &str) -> bool {
        fn small(text: &str) -> impl Iterator<Item = char> {
            text.chars().flat_map(char::to_lowercase)
        }
        self.agent == name || small(&self.agent).eq(small(name))
    }
}

/// One hand pump.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pump {
    /// Volume of a stroke in millilitres, where it differs from 100.
    pub stroke_volume_ml: Option<f64>,
}
