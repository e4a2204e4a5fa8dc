//! The words of the trade for the names in the data.

use crate::page::figure::{self, Form};
use crate::page::{Text, Tone};
use fullshift_engine::model::profile::Verdict;
use fullshift_engine::model::{Figure, LimitKind};

/// The figures of a group that the summary shows: name on the page, and the figures of the row, each with its name in the
/// data and what kind of number it is.
pub(super) const PROFILE: &[(&str, &[(&str, Form)])] = &[
    ("GM", &[("gm", Form::Amount)]),
    ("GSD", &[("gsd", Form::Amount)]),
    ("arithmetic mean", &[("mean", Form::Amount)]),
    ("95th percentile; 70 % upper", &[("p95", Form::Amount)]),
    ("95th percentile by rank", &[("p95_by_rank", Form::Amount)]),
    ("exceedance", &[("exceedance", Form::Share)]),
    (
        "chance P95, mean above (prior)",
        &[("posterior/p95_above_limit", Form::Share), ("posterior/mean_above_limit", Form::Share)],
    ),
    (
        "the same under the flat prior",
        &[("posterior_flat/p95_above_limit", Form::Share), ("posterior_flat/mean_above_limit", Form::Share)],
    ),
    ("GSD between workers", &[("workers/gsd_between", Form::Amount)]),
    ("GSD within a worker", &[("workers/gsd_within", Form::Amount)]),
    ("workers with P95 above", &[("workers/share_over", Form::Share)]),
    ("one level for all workers, p", &[("workers/homogeneity", Form::Amount)]),
    ("fit lognormal, normal, p", &[("shapiro_wilk_ln", Form::Amount), ("shapiro_wilk", Form::Amount)]),
    ("plot correlation; trend, p", &[("plot_correlation", Form::Amount), ("trend", Form::Amount)]),
    ("re-assess, months (proposal)", &[("reassess", Form::Amount)]),
    (
        "GM, GSD by order regression",
        &[
            ("second_opinion/gm_order_regression", Form::Amount),
            ("second_opinion/gsd_order_regression", Form::Amount),
        ],
    ),
    ("mean without a model", &[("second_opinion/mean_turnbull", Form::Amount)]),
    ("95th percentile without a model", &[("second_opinion/p95_turnbull", Form::Amount)]),
];

/// A kind of limit as a page names it.
pub(crate) fn limit_kind(kind: LimitKind) -> &'static str {
    match kind {
        LimitKind::Twa => "TWA",
        LimitKind::ShortTerm => "short-term",
        LimitKind::Ceiling => "ceiling",
        LimitKind::Mixture => "mixture",
    }
}

/// What a verdict says of a limit, as a sentence goes on, and the tone of it.
pub(crate) fn verdict(verdict: Verdict) -> (&'static str, Tone) {
    match verdict {
        Verdict::Below => ("below", Tone::Below),
        Verdict::Above => ("above", Tone::Above),
        Verdict::Undecided => ("undecided against", Tone::Open),
        Verdict::NotGiven => ("no verdict against", Tone::Strong),
    }
}

/// A heading that says what the ranges below it are.
pub(super) fn with_ranges<'a>(heading: String, figures: impl Iterator<Item = &'a Figure>) -> Text {
    let ranges = figure::ranges_are(figures).map(|words| format!("  {words}")).unwrap_or_default();
    Text::of(Tone::Strong, heading).and(Tone::Quiet, ranges)
}

/// A span of minutes.
pub(super) fn minutes(minutes: f64) -> String {
    if minutes >= 60.0 && minutes % 60.0 == 0.0 {
        return format!("{} h", minutes / 60.0);
    }
    format!("{minutes} min")
}

/// A count with its word, as `1 shift` or `12 shifts`.
pub(crate) fn counted(count: usize, word: &str) -> String {
    format!("{count} {word}{}", if count == 1 { "" } else { "s" })
}

/// Words as a list, as `a, b and c`.
pub(super) fn list(words: &[&str]) -> String {
    match words {
        [first @ .., last] if !first.is_empty() => format!("{} and {last}", first.join(", ")),
        _ => words.concat(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_ends_with_and() {
        assert_eq!(list(&["a"]), "a");
        assert_eq!(list(&["a", "b"]), "a and b");
        assert_eq!(list(&["a", "b", "c"]), "a, b and c");
    }

    #[test]
    fn whole_hours_are_hours() {
        assert_eq!([minutes(15.0), minutes(60.0), minutes(90.0)], ["15 min", "1 h", "90 min"]);
    }
}
