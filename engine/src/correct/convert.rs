//! ppm and mg/m3.

use crate::model::{ConcentrationUnit, Figure, Input, MolarVolume, Reference, Step, shown};
use crate::read::Asked;

/// Molar gas constant in kPa L/(mol K), which is J/(mol K) (CODATA 2018, exact to the digits given).
const GAS_CONSTANT: f64 = 8.314462618;

impl Reference {
    /// Molar volume in litres per mole: `V = R T / p`, or the conventional number the user entered.
    pub fn litres_per_mole(&self) -> f64 {
        match self.molar_volume {
            MolarVolume::GasLaw => GAS_CONSTANT * (self.temperature.0 + 273.15) / self.pressure.0,
            MolarVolume::Conventional(litres) => litres,
        }
    }
}

/// Converts between two units of concentration: `mg/m3 = ppm x M / V`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Converter {
    /// Factor from the first unit to the second.
    pub factor: f64,
}

impl Converter {
    /// `molar_mass` in g/mol; `None` where the conversion needs it and it is not known.
    pub fn new(
        from: ConcentrationUnit,
        to: ConcentrationUnit,
        molar_mass: Option<f64>,
        reference: &Reference,
    ) -> Option<Converter> {
        let scale = to.per_main_unit() / from.per_main_unit();
        let factor = match (from.by_volume(), to.by_volume()) {
            (true, false) => molar_mass? / reference.litres_per_mole(),
            (false, true) => reference.litres_per_mole() / molar_mass?,
            _ => 1.0,
        };
        Some(Converter { factor: scale * factor })
    }
}

/// How a study converts, in words.
pub fn conversion_in_words(reference: &Reference) -> String {
    let litres = reference.litres_per_mole();
    match reference.molar_volume {
        MolarVolume::GasLaw => format!(
            "molar volume {litres:.3} L/mol from the gas law at {} C and {} kPa",
            reference.temperature.0, reference.pressure.0
        ),
        MolarVolume::Conventional(_) => format!("conventional molar volume {litres} L/mol"),
    }
}

/// A conversion on its own; the error says what is missing.
pub fn converted(asked: &Asked, molar_mass: Option<f64>) -> Result<Figure, String> {
    if molar_mass.is_some_and(|mass| !(mass > 0.0 && mass.is_finite())) {
        return Err("the molar mass must be more than zero".to_owned());
    }
    let converter = Converter::new(asked.amount.unit, asked.to, molar_mass, &asked.reference)
        .ok_or("between ppm and mg/m3 the molar mass is needed, as --molar-mass 17.03")?;
    let value = asked.amount.value * converter.factor;
    if !value.is_finite() {
        return Err(
            "the result is larger than a number can be; check the amount and the molar mass".to_owned()
        );
    }
    let unit = asked.to.symbol();
    let formula = match (asked.amount.unit.by_volume(), asked.to.by_volume()) {
        (true, false) => "mg/m3 = ppm x M / V",
        (false, true) => "ppm = mg/m3 x V / M",
        _ => "1 ppm = 1000 ppb, 1 mg/m3 = 1000 ug/m3",
    };
    let mut inputs = vec![Input::new("C", asked.amount, "asked")];
    if asked.amount.unit.crosses_to(asked.to) {
        inputs.push(Input::new("M", format!("{} g/mol", molar_mass.unwrap_or(0.0)), "asked"));
        inputs.push(Input::new(
            "V",
            format!("{} L/mol", shown(asked.reference.litres_per_mole())),
            conversion_in_words(&asked.reference),
        ));
    }
    let step = Step {
        name: "unit".to_owned(),
        formula: formula.to_owned(),
        inputs,
        result: format!("{} {unit}", shown(value)),
        source: "NIOSH Pocket Guide, conversion factors",
    };
    Ok(Figure::without_interval(value, unit, "converted", "a conversion adds no uncertainty of its own")
        .with_trail(vec![step]))
}
