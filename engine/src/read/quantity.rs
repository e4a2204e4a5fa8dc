//! Quantities as the user writes them: a number and its unit, as `20 ppm`.

use super::number::{Comma, NotANumber, digits_end, number};
use crate::diagnose::{Findings, Span, code};
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

/// Why a text is no quantity.
#[derive(Debug, PartialEq)]
pub enum NoQuantity {
    /// The comma of this number may part decimals or thousands.
    AmbiguousComma(String),
    /// Anything else, in words; the examples of the kind say what would do.
    Unreadable(String),
}

impl NoQuantity {
    /// Reports it at a place; `help` says what would do.
    pub fn report(self, span: Span, help: &str, findings: &Findings) {
        let (code, message, help) = match self {
            NoQuantity::Unreadable(words) => (&code::BAD_QUANTITY, words, help),
            NoQuantity::AmbiguousComma(number) => (&code::AMBIGUOUS_NUMBER, ambiguous(&number), WITH_POINT),
        };
        findings.report(code, span, message, help);
    }

    /// What is wrong and what would do, in one sentence.
    pub fn with_examples(self, examples: &str) -> String {
        match self {
            NoQuantity::AmbiguousComma(number) => format!("{}: {WITH_POINT}", ambiguous(&number)),
            NoQuantity::Unreadable(words) => format!("{words}: write it as {examples}"),
        }
    }
}

/// What to do about a comma that may part thousands, where no cells are parted.
const WITH_POINT: &str = "write a decimal point, and nothing between thousands";

/// Says that the comma of a number may part decimals or thousands.
pub fn ambiguous(number: &str) -> String {
    format!("the comma in `{number}` may part decimals or thousands")
}

/// Reads a quantity of a kind, with a comma in its number as `comma` says.
pub fn quantity_text(text: &str, kind: &Kind, comma: Comma) -> Result<f64, NoQuantity> {
    let (value, symbol) = split(text, kind.what, comma)?;
    match kind.units.iter().find(|u| u.spellings.contains(&symbol)) {
        Some(unit) => Ok(unit.offset + unit.factor * value),
        None if symbol.is_empty() => Err(without_unit(text, kind.what)),
        None => Err(NoQuantity::Unreadable(format!(
            "`{symbol}` is not a unit of {}",
            kind.what.trim_start_matches("a ")
        ))),
    }
}

/// Reads a concentration as `20 ppm`; a comma before three digits is refused.
pub fn concentration(text: &str) -> Result<Amount, NoQuantity> {
    let (value, symbol) = split(text, "a concentration", Comma::Doubtful)?;
    if symbol.is_empty() {
        return Err(without_unit(text, "a concentration"));
    }
    Ok(Amount { value, unit: concentration_unit(symbol).map_err(NoQuantity::Unreadable)? })
}

fn without_unit(text: &str, what: &str) -> NoQuantity {
    NoQuantity::Unreadable(format!("`{}` has no unit; {what} needs one", text.trim()))
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
fn split<'a>(text: &'a str, what: &str, comma: Comma) -> Result<(f64, &'a str), NoQuantity> {
    let text = text.trim();
    let end = number_end(text);
    let symbol = text[end..].trim();
    number(&text[..end], comma).map(|value| (value, symbol)).map_err(|wrong| match wrong {
        NotANumber::AmbiguousComma => NoQuantity::AmbiguousComma(text[..end].trim().to_owned()),
        NotANumber::TooLarge => {
            NoQuantity::Unreadable(format!("{} is larger than {what} can be", &text[..end]))
        }
        NotANumber::Unreadable => NoQuantity::Unreadable(format!("`{text}` is not {what}")),
    })
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
    quantity_text(text, kind, Comma::Doubtful).map_err(|wrong| wrong.with_examples(kind.examples))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn read(text: &str, kind: &Kind) -> Result<f64, NoQuantity> {
        quantity_text(text, kind, Comma::Doubtful)
    }

    #[test]
    fn units_turn_into_the_engines_own() {
        assert_eq!(read("8 h", &TIME), Ok(480.0));
        assert_eq!(read("90s", &TIME), Ok(1.5));
        assert_eq!(read("1,5 h", &TIME), Ok(90.0));
        assert_relative_eq!(read("298.15 K", &TEMPERATURE).unwrap_or(0.0), 25.0, epsilon = 1e-12);
        assert_relative_eq!(read("77 F", &TEMPERATURE).unwrap_or(0.0), 25.0, epsilon = 1e-12);
        assert_relative_eq!(read("760 mmHg", &PRESSURE).unwrap_or(0.0), 101.325, epsilon = 1e-12);
        assert_relative_eq!(read("12 %", &SHARE).unwrap_or(0.0), 0.12, epsilon = 1e-15);
    }

    #[test]
    fn a_bare_number_and_a_strange_unit_are_refused() {
        assert_eq!(read("8", &TIME), Err(NoQuantity::Unreadable("`8` has no unit; a time needs one".into())));
        assert_eq!(read("8 kg", &TIME), Err(NoQuantity::Unreadable("`kg` is not a unit of time".into())));
        assert!(read("1e400 h", &TIME).is_err());
        assert!(concentration("20").is_err());
        assert!(concentration("20 %").is_err());
    }

    #[test]
    fn a_blank_may_part_thousands_before_the_unit() {
        assert_eq!(read("1 013 hPa", &PRESSURE).map(f64::round), Ok(101.0));
        assert_eq!(read("98,1 kPa", &PRESSURE), Ok(98.1));
    }

    #[test]
    fn a_comma_before_three_digits_is_refused_unless_it_must_part_decimals() {
        let doubt = |number: &str| NoQuantity::AmbiguousComma(number.into());
        assert_eq!(concentration("1,000 ppm"), Err(doubt("1,000")));
        assert_eq!(concentration("20,5 ppm"), Ok(Amount { value: 20.5, unit: ConcentrationUnit::Ppm }));
        assert_eq!(read("1,013 hPa", &PRESSURE), Err(doubt("1,013")));
        assert_eq!(quantity_text("1,013 bar", &PRESSURE, Comma::Decimal).map(f64::round), Ok(101.0));
    }

    #[test]
    fn an_exponent_is_part_of_the_number() {
        assert_eq!(concentration("2e1 ppm"), Ok(Amount { value: 20.0, unit: ConcentrationUnit::Ppm }));
        assert_eq!(concentration("50 µg/m³"), Ok(Amount { value: 50.0, unit: ConcentrationUnit::UgPerM3 }));
    }
}
