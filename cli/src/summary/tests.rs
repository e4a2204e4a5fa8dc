use super::samples::{assessment, finding};
use crate::page::terminal;
use fullshift_engine::model::Assessment;
use fullshift_engine::model::Figure;
use fullshift_engine::model::assessment::RuleResult;
use fullshift_engine::model::profile::Verdict;

fn shown(assessment: &Assessment, width: usize) -> String {
    let text = terminal::page(&super::page(assessment), width);
    anstream::adapter::strip_str(&text).to_string()
}

#[test]
fn twelve_shifts_fit_on_one_screen() {
    for width in [80, 100] {
        let text = shown(&assessment(12), width);
        assert!(text.lines().count() <= 42, "{} lines:\n{text}", text.lines().count());
        assert!(text.lines().all(|line| line.chars().count() <= width), "{text}");
    }
}

#[test]
fn the_verdict_comes_first_then_profile_shifts_findings_and_caution() {
    let text = shown(&assessment(12), 100);
    let order = [
        "undecided against the TWA limit of 20 ppm",
        "Profile of",
        "Shifts of",
        "Findings",
        "Detector tubes",
    ];
    let at: Vec<usize> =
        order.iter().map(|words| text.find(words).unwrap_or_else(|| panic!("no {words}: {text}"))).collect();
    assert!(at.is_sorted(), "{text}");
}

#[test]
fn a_line_a_shift_holds_twa_ratios_cover_and_tubes() {
    let text = shown(&assessment(1), 100);
    let line = text.lines().find(|line| line.starts_with("W1/")).unwrap();
    let cells: Vec<&str> = line.split("  ").filter(|cell| !cell.is_empty()).map(str::trim).collect();
    assert_eq!(cells, ["W1/2027-03-08", "11.2 [8.13, 14.4]", "0.562", "22", "0.44 ?", "83 %", "1"]);
    assert!(text.contains("? undecided: too few tubes in the window"), "{text}");
}

#[test]
fn rules_that_differ_are_all_shown() {
    let mut assessment = assessment(12);
    let mut other = assessment.groups[0].verdicts[0].clone();
    other.rule = "tolerance";
    other.verdict = Verdict::Above;
    assessment.groups[0].verdicts.push(other);
    let text = shown(&assessment, 100);
    assert!(
        text.contains("hall-operators, ammonia: the rules differ about the TWA limit of 20 ppm\n"),
        "{text}"
    );
    assert!(text.contains("  screening: undecided: the highest"), "{text}");
    assert!(text.contains("  tolerance: above: the highest"), "{text}");
}

#[test]
fn rules_that_agree_are_named_together_and_one_that_cannot_be_applied_does_not_stand_against_them() {
    let mut assessment = assessment(12);
    let only = assessment.groups[0].verdicts[0].clone();
    let rules =
        [("screening", Verdict::NotGiven), ("tolerance", Verdict::Below), ("exceedance", Verdict::Below)];
    assessment.groups[0].verdicts =
        rules.map(|(rule, verdict)| RuleResult { rule, verdict, ..only.clone() }).into();
    let text = shown(&assessment, 100);
    let sentence = "hall-operators, ammonia: below the TWA limit of 20 ppm by tolerance and exceedance\n";
    assert!(text.contains(sentence), "{text}");
    assert!(text.contains("  screening: no verdict: the highest"), "{text}");
}

#[test]
fn findings_of_one_kind_share_a_line() {
    let mut assessment = assessment(1);
    assessment.findings = vec![finding("F012", 3), finding("F012", 9), finding("F003", 4)];
    let text = shown(&assessment, 100);
    assert!(text.contains("Findings: 3 warnings"), "{text}");
    assert!(text.contains("warning F012 readings.csv:3:20 and 1 more: pump P3"), "{text}");
    assert_eq!(text.matches("F012").count(), 1, "{text}");
}

#[test]
fn a_missing_figure_is_shown_with_its_reason() {
    let mut assessment = assessment(2);
    assessment.shifts[1].twa = Figure::not_given("no reading of ammonia in this shift");
    let text = shown(&assessment, 100);
    assert!(text.contains("TWA of W2/2027-03-08: no reading of ammonia in this shift\n"), "{text}");
    assert!(!text.contains("NaN"), "{text}");
}

#[test]
fn an_assessment_without_groups_and_shifts_is_still_a_page() {
    let mut assessment = assessment(0);
    assessment.groups.clear();
    let text = shown(&assessment, 80);
    assert!(text.contains("No verdict: no group is assessed against a limit."), "{text}");
}
