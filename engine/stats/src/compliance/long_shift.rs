//! By how much a limit made for 8 hours a day and 40 a week is reduced for longer work.

use super::within;
use crate::Result;

/// The factor for a day of `hours` hours, 0 to 24: `(8 / h) (24 - h) / 16`, never above 1.
///
/// Table `long-shift-printed`. Source: Brief-Scala-1975 (recalled).
///
/// ```
/// // 10 hours: 0.7; 12 hours: 0.5 (Brief-Scala-1975, recalled)
/// assert!((fullshift_stats::compliance::daily_reduction(12.0)? - 0.5).abs() < 1e-15);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn daily_reduction(hours: f64) -> Result<f64> {
    let h = within("hours worked in a day", hours, 0.01, 24.0, "from 0.01 to 24")?;
    Ok((8.0 / h * (24.0 - h) / 16.0).min(1.0))
}

/// The factor for a week of `hours` hours, 0 to 168: `(40 / h) (168 - h) / 128`, never above 1.
///
/// Table `long-shift-printed`. Source: Brief-Scala-1975 (recalled).
///
/// ```
/// // 7 days of 8 hours: 0.625 (Brief-Scala-1975, recalled)
/// assert!((fullshift_stats::compliance::weekly_reduction(56.0)? - 0.625).abs() < 1e-15);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn weekly_reduction(hours: f64) -> Result<f64> {
    let h = within("hours worked in a week", hours, 0.01, 168.0, "from 0.01 to 168")?;
    Ok((40.0 / h * (168.0 - h) / 128.0).min(1.0))
}

/// The factor in proportion to the hours of a day, 0 to 24: `8 / h`, never above 1.
///
/// For lead, whose 8-hour limit is 50 ug/m3, this is the rule 400 / h. Table `long-shift-printed`. Source: 29 CFR 1910.1025(c)(2) (recalled).
///
/// ```
/// // Lead, 10 hours: 400 / 10 = 40 ug/m3
/// assert!((50.0 * fullshift_stats::compliance::lead_style_reduction(10.0)? - 40.0).abs() < 1e-12);
/// # Ok::<(), fullshift_stats::Error>(())
/// ```
pub fn lead_style_reduction(hours: f64) -> Result<f64> {
    Ok((8.0 / within("hours worked in a day", hours, 0.01, 24.0, "from 0.01 to 24")?).min(1.0))
}
