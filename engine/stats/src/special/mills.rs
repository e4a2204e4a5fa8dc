//! The ratio of the normal upper tail to the normal density, and the error function near zero.
//!
//! Source: W. J. Cody, Rational Chebyshev approximations for the error function, Math. Comp. 23 (1969) 631-637: three
//! regions, each within 4e-18 of the exact function before rounding.

use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// The square root of half of pi.
pub(crate) const SQRT_HALF_PI: f64 = 1.253_314_137_315_500_3;
/// The logarithm of the square root of two pi.
pub(crate) const LN_SQRT_2PI: f64 = 0.918_938_533_204_672_8;
/// The reciprocal of the square root of two pi.
pub(crate) const FRAC_1_SQRT_2PI: f64 = 0.398_942_280_401_432_7;

const NEAR: f64 = 0.46875;

const ERF_TOP: [f64; 5] = [
    1.857_777_061_846_031_5e-1,
    3.161_123_743_870_565_6,
    1.138_641_541_510_501_6e2,
    3.774_852_376_853_02e2,
    3.209_377_589_138_469_5e3,
];
const ERF_BOTTOM: [f64; 5] = [
    1.0,
    2.360_129_095_234_412e1,
    2.440_246_379_344_441_7e2,
    1.282_616_526_077_372_3e3,
    2.844_236_833_439_171e3,
];
const MIDDLE_TOP: [f64; 9] = [
    2.153_115_354_744_038_5e-8,
    5.641_884_969_886_701e-1,
    8.883_149_794_388_376,
    6.611_919_063_714_163e1,
    2.986_351_381_974_001e2,
    8.819_522_212_417_69e2,
    1.712_047_612_634_070_6e3,
    2.051_078_377_826_071_5e3,
    1.230_339_354_797_997_3e3,
];
const MIDDLE_BOTTOM: [f64; 9] = [
    1.0,
    1.574_492_611_070_983_5e1,
    1.176_939_508_913_125e2,
    5.371_811_018_620_099e2,
    1.621_389_574_566_690_2e3,
    3.290_799_235_733_459_6e3,
    4.362_619_090_143_247e3,
    3.439_367_674_143_721_6e3,
    1.230_339_354_803_749_4e3,
];
const FAR_TOP: [f64; 6] = [
    1.631_538_713_730_209_8e-2,
    3.053_266_349_612_323_4e-1,
    3.603_448_999_498_044_4e-1,
    1.257_817_261_112_292_5e-1,
    1.608_378_514_874_228e-2,
    6.587_491_615_298_378e-4,
];
const FAR_BOTTOM: [f64; 6] = [
    1.0,
    2.568_520_192_289_822,
    1.872_952_849_923_467_3,
    5.279_051_029_514_284e-1,
    6.051_834_131_244_132e-2,
    2.335_204_976_268_691_8e-3,
];

/// The value of the polynomial with these coefficients, highest power first.
fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().fold(0.0, |value, c| value * x + c)
}

/// The error function for |x| up to 0.46875.
fn erf_near_zero(x: f64) -> f64 {
    let square = x * x;
    x * polynomial(&ERF_TOP, square) / polynomial(&ERF_BOTTOM, square)
}

/// `exp(y^2) erfc(y)` for `y` of at least 0.46875.
fn scaled_erfc(y: f64) -> f64 {
    if y <= 4.0 {
        return polynomial(&MIDDLE_TOP, y) / polynomial(&MIDDLE_BOTTOM, y);
    }
    let inverse = (1.0 / y) / y;
    let small = inverse * polynomial(&FAR_TOP, inverse) / polynomial(&FAR_BOTTOM, inverse);
    (1.0 / PI.sqrt() - small) / y
}

/// Whether `x` lies so near zero that [`upper_near_zero`] is to be used.
pub(crate) fn is_near_zero(x: f64) -> bool {
    x.abs() < NEAR * std::f64::consts::SQRT_2
}

/// Probability above `x` for `x` near zero.
pub(crate) fn upper_near_zero(x: f64) -> f64 {
    0.5 - 0.5 * erf_near_zero(x * FRAC_1_SQRT_2)
}

/// The ratio of upper tail to density for `x` not near zero and positive.
pub(crate) fn ratio_away(x: f64) -> f64 {
    SQRT_HALF_PI * scaled_erfc(x * FRAC_1_SQRT_2)
}
