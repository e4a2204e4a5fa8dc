//! Which tables there are, and which function answers which: one line each.

use super::{Inputs, censored, complete, power, special, workers};
use crate::compliance::answers;
use crate::shares::answers as shares;
use serde_json::Value;

/// What a function answers to the inputs of one row.
pub type Answer = crate::Result<Value>;
type Function = fn(&Inputs) -> Answer;

macro_rules! table {
    ($id:literal) => {
        include_str!(concat!("../../../../fixtures/published/", $id, ".json"))
    };
}

/// The tables, in the order in which they are shown.
pub(super) const TABLES: &[&str] = &[
    table!("normal-tails"),
    table!("normal-quantile"),
    table!("student-t-tails"),
    table!("chi-squared-tails"),
    table!("chi-squared-quantile"),
    table!("noncentral-t-tails"),
    table!("noncentral-t-far-tails"),
    table!("noncentral-t-quantile"),
    table!("noncentrality"),
    table!("tolerance-factors"),
    table!("tolerance-factors-printed"),
    table!("en-689-factors"),
    table!("nist-handbook-factor"),
    table!("unified-guidance-17-3"),
    table!("land-factors"),
    table!("land-factors-wide"),
    table!("land-factors-printed"),
    table!("land-examples-printed"),
    table!("land-examples"),
    table!("finney-psi"),
    table!("finney-examples-printed"),
    table!("gilbert-13-1"),
    table!("lognormal-estimates"),
    table!("exceedance-limits"),
    table!("exceedance-estimates"),
    table!("order-statistics"),
    table!("shapiro-wilk"),
    table!("shapiro-wilk-printed"),
    table!("probability-plot-correlation"),
    table!("mann-kendall"),
    table!("nist-strd-univariate"),
    table!("nist-strd-anova"),
    table!("workers-printed"),
    table!("workers-lme4"),
    table!("workers-restricted"),
    table!("workers-share-between"),
    table!("workers-spread-pivots"),
    table!("workers-distance-pivots"),
    table!("workers-total"),
    table!("workers-lme4-profiles"),
    table!("workers-profile-likelihood"),
    table!("workers-f-ratio"),
    table!("censored-intervals"),
    table!("censored-maximum"),
    table!("censored-lambda"),
    table!("censored-profile"),
    table!("censored-product-limit"),
    table!("censored-order-regression"),
    table!("censored-turnbull"),
    table!("posterior-quadrature"),
    table!("shift-single-printed"),
    table!("shift-consecutive-printed"),
    table!("shift-grab-printed"),
    table!("shift-mixture-printed"),
    table!("long-shift-printed"),
    table!("bartlett-printed"),
    table!("share-of-totals"),
    table!("power-percentile"),
    table!("power-mean"),
    table!("power-by-rank"),
    table!("drawing-missed"),
    table!("drawing-fewest"),
    table!("drawing-real-valued"),
    table!("drawing-printed"),
    table!("comparison-r"),
];

/// The functions by the name that stands in a table's `function`.
const FUNCTIONS: &[(&str, Function)] = &[
    ("normal_tails", special::normal_tails),
    ("normal_quantile", special::normal_quantile),
    ("student_t_tails", special::student_t_tails),
    ("chi_squared_tails", special::chi_squared_tails),
    ("chi_squared_quantile", special::chi_squared_quantile),
    ("noncentral_t_tails", special::noncentral_t_tails),
    ("noncentral_t_quantile", special::noncentral_t_quantile),
    ("noncentrality", special::noncentrality),
    ("lognormal_estimates", complete::lognormal_estimates),
    ("mean_limits", complete::mean_limits),
    ("percentile_limits", complete::percentile_limits),
    ("tolerance_factors", complete::tolerance_factors),
    ("exceedance_limits", complete::exceedance_limits),
    ("land_factors", complete::land_factors),
    ("finney_psi", complete::finney_psi),
    ("order_limits", complete::order_limits),
    ("straightness", complete::straightness),
    ("mann_kendall", complete::mann_kendall),
    ("worker_figures", workers::worker_figures),
    ("worker_profile_limits", workers::worker_profile_limits),
    ("worker_pivots", workers::worker_pivots),
    ("f_ratio_points", workers::f_ratio_points),
    ("mean_and_sd", workers::mean_and_sd),
    ("interval_moments", censored::interval_answer),
    ("censored_fit", censored::censored_fit),
    ("censored_lambda", censored::censored_lambda),
    ("censored_profile_limits", censored::censored_profile_limits),
    ("censored_invariant_limits", censored::censored_invariant_limits),
    ("product_limit", censored::product_limit_answer),
    ("order_regression", censored::order_regression_answer),
    ("turnbull", censored::turnbull_answer),
    ("posterior_probability", censored::posterior_probability),
    ("shift_single", answers::shift_single),
    ("shift_consecutive", answers::shift_consecutive),
    ("shift_grab", answers::shift_grab),
    ("shift_mixture", answers::shift_mixture),
    ("long_shift", answers::long_shift),
    ("bartlett", answers::bartlett),
    ("share_of_totals", shares::share_of_totals),
    ("power_percentile", power::power_percentile),
    ("power_mean", power::power_mean),
    ("power_by_rank", power::power_by_rank),
    ("drawing", power::drawing),
    ("comparison", power::comparison),
];

/// The function of this name.
pub(super) fn function(name: &str) -> Option<Function> {
    FUNCTIONS.iter().find(|(known, _)| *known == name).map(|(_, function)| *function)
}
