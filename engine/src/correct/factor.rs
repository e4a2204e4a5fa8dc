//! Correction factors.

use crate::model::Tube;
use crate::model::quantity::ATMOSPHERE;

/// The factor at `at` of a table of points rising in their condition: linear between points, outside them the
/// nearest point's factor, never extrapolated. `None` for an empty table.
pub fn interpolated(points: &[(f64, f64)], at: f64) -> Option<f64> {
    let above = points.partition_point(|(x, _)| *x <= at);
    match (above.checked_sub(1).map(|i| points[i]), points.get(above)) {
        (Some((x0, f0)), Some(&(x1, f1))) => Some(f0 + (f1 - f0) * (at - x0) / (x1 - x0)),
        (Some((_, f)), None) | (None, Some(&(_, f))) => Some(f),
        (None, None) => None,
    }
}

/// The factor for the strokes drawn: the sheet's own where it lists them, else in proportion (common practice, no
/// source).
pub fn for_strokes(tube: &Tube, strokes: f64) -> (f64, &'static str) {
    if strokes == tube.strokes {
        return (1.0, "the strokes of the printed scale");
    }
    match tube.other_strokes.iter().find(|(n, _)| *n == strokes) {
        Some((_, factor)) => (*factor, "the tube sheet's factor for these strokes"),
        None => (tube.strokes / strokes, "in proportion; not on the tube sheet"),
    }
}

/// The factor for the air pressure: the tube senses the mass drawn, its scale was printed at one atmosphere.
pub fn for_pressure(kpa: f64) -> f64 {
    ATMOSPHERE.0 / kpa
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Points and results of the definition of linear interpolation; the table is invented.
    const POINTS: [(f64, f64); 5] = [(0.0, 1.3), (10.0, 1.13), (20.0, 1.0), (30.0, 0.91), (40.0, 0.84)];

    #[test]
    fn halfway_between_two_points_lies_the_mean_of_their_factors() {
        assert_relative_eq!(interpolated(&POINTS, 25.0).unwrap_or(0.0), 0.955, max_relative = 1e-14);
        assert_relative_eq!(interpolated(&POINTS, 3.0).unwrap_or(0.0), 1.249, max_relative = 1e-14);
        assert_eq!(interpolated(&POINTS, 20.0), Some(1.0));
    }

    #[test]
    fn outside_the_points_the_nearest_factor_holds() {
        assert_eq!(interpolated(&POINTS, -8.0), Some(1.3));
        assert_eq!(interpolated(&POINTS, 55.0), Some(0.84));
        assert_eq!(interpolated(&[], 20.0), None);
        assert_eq!(interpolated(&[(20.0, 1.0)], 25.0), Some(1.0));
    }

    #[test]
    fn eight_ppm_at_640_mmhg_are_nine_and_a_half() {
        assert_relative_eq!(8.0 * for_pressure(640.0 * 101.325 / 760.0), 9.5, max_relative = 1e-14);
    }
}
