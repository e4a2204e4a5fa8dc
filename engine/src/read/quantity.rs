//! Quantities as the user writes them: a number and its unit, as `20 ppm`.

use super::number::{Comma, NotANumber, digits_end, number};
use crate::model::{Amount, ConcentrationUnit};

/// One unit of a kind: its spellings, and `value = offset + factor x number` in the unit the engine uses.
struct Unit {
    spellings: &'static [&'static str],
    factor: f64,
    offset: f64,
}

const fn unit(spellings: &'static [&'static str], factor: f64) -> Unit {
    Unit { spellings, factor, offset: 0.0 }
}

/// A kind of quantity.
pub struct Kind {
    /// What it is, in words.
    pub what: &'static str,
    /// Examples of what would do.
    pub examples: &'static str,
    units: &'static [Unit],
}

impl Kind {
    /// The unit that its examples begin with.
    pub fn usual_symbol(&self) -> &'static str {
        self.examples.split(", ").next().and_then(|example| example.split(' ').nth(1)).unwrap_or("")
    }

    /// Every spelling of its units.
    pub fn symbols(&self) -> impl Iterator<Item = &'static str> {
        self.units.iter().flat_map(|unit| unit.spellings.iter().copied())
    }
}

/// Time, in minutes.
pub static TIME: Kind = Kind {
    what: "a time",
    examples: "15 min, 8 h, 90 s",
    units: &[
        unit(&["min", "minute", "minutes"], 1.0),
        unit(&["h", "hour", "hours"], 60.0),
        unit(&["s", "sec", "second", "seconds"], 1.0 / 60.0),
    ],
};

/// Temperature, in degrees Celsius.
pub static TEMPERATURE: Kind = Kind {
    what: "a temperature",
    examples: "25 C, 298 K, 77 F",
    units: &[
        unit(&["C", "°C", "degC"], 1.0),
        Unit { spellings: &["K"], factor: 1.0, offset: -273.15 },
        Unit { spellings: &["F", "°F", "degF"], factor: 5.0 / 9.0, offset: -160.0 / 9.0 },
    ],
};

/// Pressure, in kilopascal. The millimetre of mercury is 101.325/760 kPa (BIPM, The International System of Units).
pub static PRESSURE: Kind = Kind {
    what: "a pressure",
    examples: "101.325 kPa, 1013 hPa, 760 mmHg",
    units: &[
        unit(&["kPa"], 1.0),
        unit(&["hPa", "mbar"], 0.1),
        unit(&["Pa"], 0.001),
        unit(&["bar"], 100.0),
        unit(&["mmHg", "Torr", "torr"], 101.325 / 760.0),
        unit(&["atm"], 101.325),
    ],
};

/// A share, as a fraction of one.
pub static SHARE: Kind = Kind { what: "a share", examples: "10 %", units: &[unit(&["%", "percent"], 0.01)] };

/// Relative humidity, in per cent.
pub static HUMIDITY: Kind =
    Kind { what: "a relative humidity", examples: "50 %", units: &[unit(&["%", "%RH", "% RH"], 1.0)] };

/// Volume, in millilitres.
pub static VOLUME: Kind = Kind {
    what: "a volume",
    examples: "100 mL, 50 cm3",
    units: &[unit(&["mL", "ml", "cm3", "cm³"], 1.0), unit(&["L", "l"], 1000.0)],
};

/// Length, in millimetres.
pub static LENGTH: Kind = Kind {
    what: "a length",
    examples: "5 mm",
    units: &[unit(&["mm"], 1.0), unit(&["cm"], 10.0), unit(&["in"], 25.4)],
};

/// Molar volume, in litres per mole.
pub static MOLAR_VOLUME: Kind =
    Kind { what: "a molar volume", examples: "24.45 L/mol", units: &[unit(&["L/mol", "l/mol"], 1.0)] };

/// Molar mass, in grams per mole.
pub static MOLAR_MASS: Kind =
    Kind { what: "a molar mass", examples: "17.03 g/mol", units: &[unit(&["g/mol"], 1.0)] };

const CONCENTRATION_SPELLINGS: &[(&str, ConcentrationUnit)] = &[
    ("ppm", ConcentrationUnit::Ppm),
    ("ppb", ConcentrationUnit::Ppb),
    ("mg/m3", ConcentrationUnit::MgPerM3),
    ("mg/m³", ConcentrationUnit::MgPerM3),
    ("ug/m3", ConcentrationUnit::UgPerM3),
    ("µg/m3", ConcentrationUnit::UgPerM3),
    ("μg/m3", ConcentrationUnit::UgPerM3),
    ("µg/m³", ConcentrationUnit::UgPerM3),
    ("μg/m³", ConcentrationUnit::UgPerM3),
];

/// Examples of concentrations.
pub const CONCENTRATION_EXAMPLES: &str = "20 ppm, 500 ppb, 14 mg/m3, 50 ug/m3";

/// Reads a quantity of a kind. The error says what is wrong; `kind.examples` says what would do.
pub fn quantity_text(text: &str, kind: &Kind) -> Result<f64, String> {
    let (value, symbol) = split(text, kind.what)?;
    match kind.units.iter().find(|u| u.spellings.contains(&symbol)) {
        Some(unit) => Ok(unit.offset + unit.factor * value),
        None if symbol.is_empty() => Err(format!("`{}` has no unit; {} needs one", text.trim(), kind.what)),
        None => Err(format!("`{symbol}` is not a unit of {}", kind.what.trim_start_matches("a "))),
    }
}

/// Reads a concentration as `20 ppm`.
pub fn concentration(text: &str) -> Result<Amount, String> {
    let (value, symbol) = split(text, "a concentration")?;
    if symbol.is_empty() {
        return Err(format!("`{}` has no unit; a concentration needs one", text.trim()));
    }
    Ok(Amount { value, unit: concentration_unit(symbol)? })
}

/// Every spelling of the units of concentration.
pub fn concentration_units() -> impl Iterator<Item = &'static str> {
    CONCENTRATION_SPELLINGS.iter().map(|(spelling, _)| *spelling)
}

/// Reads a unit of concentration.
pub fn concentration_unit(symbol: &str) -> Result<ConcentrationUnit, String> {
    CONCENTRATION_SPELLINGS
        .iter()
        .find(|(spelling, _)| *spelling == symbol.trim())
        .map(|(_, unit)| *unit)
        .ok_or_else(|| format!("`{}` is not a unit of concentration", symbol.trim()))
}

/// Splits `20 ppm` into number and unit.
fn split<'a>(text: &'a str, what: &str) -> Result<(f64, &'a str), String> {
    let text = text.trim();
    let end = number_end(text);
    let symbol = text[end..].trim();
    match number(&text[..end], Comma::Decimal) {
        Ok(value) => Ok((value, symbol)),
        Err(NotANumber::TooLarge) => Err(format!("{} is larger than {what} can be", &text[..end])),
        Err(_) => Err(format!("`{text}` is not {what}")),
    }
}

/// Where the number at the start of a text ends; an `e` counts only with digits behind it.
fn number_end(text: &str) -> usize {
    let bytes = text.as_bytes();
    let digits_from = |from: usize| digits_end(text, from);
    let mut end = digits_from(usize::from(text.starts_with(['+', '-'])));
    if bytes.get(end).is_some_and(|b| b"eE".contains(b)) {
        let sign = usize::from(bytes.get(end + 1).is_some_and(|b| b"+-".contains(b)));
        let exponent = digits_from(end + 1 + sign);
        if exponent > end + 1 + sign {
            end = exponent;
        }
    }
    end
}

/// A temperature in degrees Celsius.
pub fn temperature_celsius(text: &str) -> Result<f64, String> {
    with_examples(text, &TEMPERATURE)
}

/// A pressure in kilopascal.
pub fn pressure_kpa(text: &str) -> Result<f64, String> {
    with_examples(text, &PRESSURE)
}

/// A molar volume in litres per mole.
pub fn molar_volume_l_per_mol(text: &str) -> Result<f64, String> {
    with_examples(text, &MOLAR_VOLUME)
}

fn with_examples(text: &str, kind: &Kind) -> Result<f64, String> {
    quantity_text(text, kind).map_err(|e| format!("{e}: write it as {}", kind.examples))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn units_turn_into_the_engines_own() {
        assert_eq!(quantity_text("8 h", &TIME), Ok(480.0));
        assert_eq!(quantity_text("90s", &TIME), Ok(1.5));
        assert_eq!(quantity_text("1,5 h", &TIME), Ok(90.0));
        assert_relative_eq!(quantity_text("298.15 K", &TEMPERATURE).unwrap_or(0.0), 25.0, epsilon = 1e-12);
        assert_relative_eq!(quantity_text("77 F", &TEMPERATURE).unwrap_or(0.0), 25.0, epsilon = 1e-12);
        assert_relative_eq!(quantity_text("760 mmHg", &PRESSURE).unwrap_or(0.0), 101.325, epsilon = 1e-12);
        assert_relative_eq!(quantity_text("12 %", &SHARE).unwrap_or(0.0), 0.12, epsilon = 1e-15);
    }

    #[test]
    fn a_bare_number_and_a_strange_unit_are_refused() {
        assert_eq!(quantity_text("8", &TIME), Err("`8` has no unit; a time needs one".into()));
        assert_eq!(quantity_text("8 kg", &TIME), Err("`kg` is not a unit of time".into()));
        assert!(quantity_text("1e400 h", &TIME).is_err());
        assert!(concentration("20").is_err());
        assert!(concentration("20 %").is_err());
    }

    #[test]
    fn a_blank_may_part_thousands_before_the_unit() {
        assert_eq!(quantity_text("1 013 hPa", &PRESSURE).map(f64::round), Ok(101.0));
        assert_eq!(quantity_text("98,1 kPa", &PRESSURE), Ok(98.1));
    }

    #[test]
    fn an_exponent_is_part_of_the_number() {
        assert_eq!(concentration("2e1 ppm"), Ok(Amount { value: 20.0, unit: ConcentrationUnit::Ppm }));
        assert_eq!(concentration("50 µg/m³"), Ok(Amount { value: 50.0, unit: ConcentrationUnit::UgPerM3 }));
    }
}
