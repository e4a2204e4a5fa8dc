//! What a conversion is asked for, from texts as the user types them.

use super::quantity;
use crate::model::{Amount, Celsius, ConcentrationUnit, KiloPascal, MolarVolume, Reference};

/// A conversion asked for.
#[derive(Debug)]
pub struct Asked {
    /// The amount to convert.
    pub amount: Amount,
    /// The unit wanted.
    pub to: ConcentrationUnit,
    /// The conditions.
    pub reference: Reference,
}

/// Reads the texts; the error says what is wrong and what would do.
pub fn conversion(
    amount: &str,
    to: &str,
    temperature: &str,
    pressure: &str,
    molar_volume: Option<&str>,
) -> Result<Asked, String> {
    let amount = quantity::concentration(amount)
        .map_err(|wrong| wrong.with_examples(quantity::CONCENTRATION_EXAMPLES))?;
    if amount.value < 0.0 {
        return Err(format!("a concentration cannot be {}", amount.value));
    }
    let to = quantity::concentration_unit(to).map_err(|e| format!("{e}: use ppm, ppb, mg/m3 or ug/m3"))?;
    let celsius = above(quantity::temperature_celsius(temperature)?, -273.15, "temperature", " C")?;
    let kpa = above(quantity::pressure_kpa(pressure)?, 0.0, "pressure", " kPa")?;
    let molar_volume = match molar_volume {
        Some(text) => MolarVolume::Conventional(above(
            quantity::molar_volume_l_per_mol(text)?,
            0.0,
            "molar volume",
            " L/mol",
        )?),
        None => MolarVolume::GasLaw,
    };
    let reference = Reference { temperature: Celsius(celsius), pressure: KiloPascal(kpa), molar_volume };
    Ok(Asked { amount, to, reference })
}

fn above(value: f64, least: f64, what: &str, unit: &str) -> Result<f64, String> {
    if value > least { Ok(value) } else { Err(format!("the {what} must be more than {least}{unit}")) }
}
