//! Quantities with their units in the type.

use serde::Serialize;
use std::fmt;

/// A time span in minutes.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Minutes(pub f64);

/// A temperature in degrees Celsius.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Celsius(pub f64);

/// A pressure in kilopascal.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct KiloPascal(pub f64);

/// One standard atmosphere, at which tube scales are printed (101.325 kPa by definition, 10th CGPM, 1954).
pub const ATMOSPHERE: KiloPascal = KiloPascal(101.325);

/// The unit of a concentration in air.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
pub enum ConcentrationUnit {
    /// Parts per million by volume.
    #[serde(rename = "ppm")]
    Ppm,
    /// Parts per billion by volume.
    #[serde(rename = "ppb")]
    Ppb,
    /// Milligrams per cubic metre.
    #[serde(rename = "mg/m3")]
    MgPerM3,
    /// Micrograms per cubic metre.
    #[serde(rename = "ug/m3")]
    UgPerM3,
}

impl ConcentrationUnit {
    /// As written.
    pub fn symbol(self) -> &'static str {
        match self {
            ConcentrationUnit::Ppm => "ppm",
            ConcentrationUnit::Ppb => "ppb",
            ConcentrationUnit::MgPerM3 => "mg/m3",
            ConcentrationUnit::UgPerM3 => "ug/m3",
        }
    }

    /// Whether it counts volume in volume (ppm, ppb) rather than mass in volume.
    pub fn by_volume(self) -> bool {
        matches!(self, ConcentrationUnit::Ppm | ConcentrationUnit::Ppb)
    }

    /// How many of it make one ppm or one mg/m3.
    pub fn per_main_unit(self) -> f64 {
        match self {
            ConcentrationUnit::Ppm | ConcentrationUnit::MgPerM3 => 1.0,
            ConcentrationUnit::Ppb | ConcentrationUnit::UgPerM3 => 1000.0,
        }
    }

    /// More than this no air holds of anything: all of its volume, or 10 kg in a cubic metre, some eight times what air weighs
    /// (our own bound).
    pub fn most_in_air(self) -> f64 {
        let main = if self.by_volume() { 1e6 } else { 1e7 };
        main * self.per_main_unit()
    }
}

impl fmt::Display for ConcentrationUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}

impl ConcentrationUnit {
    /// Whether a conversion to `other` goes between volume and mass.
    pub fn crosses_to(self, other: ConcentrationUnit) -> bool {
        self.by_volume() != other.by_volume()
    }
}

/// A concentration with its unit, as the user wrote it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    /// The number.
    pub value: f64,
    /// The unit.
    pub unit: ConcentrationUnit,
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.value, self.unit)
    }
}
