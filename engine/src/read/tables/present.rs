//! Interfering substances told as `amines` or `amines=3 ppm`, several joined by ` + `.

use crate::model::ConcentrationUnit;
use crate::read::quantity::{NoQuantity, concentration};

/// A substance and its ppm, where known.
pub type Present = (String, Option<f64>);

/// One substance.
pub fn one(text: &str) -> Result<Present, NoQuantity> {
    let Some((name, amount)) = text.split_once('=') else { return Ok((text.trim().to_owned(), None)) };
    let amount = concentration(amount)?;
    if !amount.unit.by_volume() || amount.value < 0.0 {
        let words = format!("the amount of {} is needed in ppm or ppb", name.trim());
        return Err(NoQuantity::Unreadable(words));
    }
    debug_assert!(amount.unit != ConcentrationUnit::MgPerM3);
    Ok((name.trim().to_owned(), Some(amount.value / amount.unit.per_main_unit())))
}

/// Several substances.
pub fn several(text: &str) -> Result<Vec<Present>, NoQuantity> {
    text.split('+').map(str::trim).filter(|part| !part.is_empty()).map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn substances_come_with_or_without_their_amount() {
        assert_eq!(
            several("amines=3 ppm + H2S"),
            Ok(vec![("amines".into(), Some(3.0)), ("H2S".into(), None)])
        );
        assert_eq!(one("amines=500 ppb"), Ok(("amines".into(), Some(0.5))));
        assert!(one("amines=3").is_err());
        assert!(one("amines=3 mg/m3").is_err());
    }
}
