//! What holds within an assessment.

use serde_json::Value;

fn items(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().unwrap().iter()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

/// Half the fitted shares lie below the geometric mean, 95 of 100 below the 95th percentile, with the same limits; says in
/// how many groups.
pub fn line_through_profile(assessment: &Value) -> usize {
    let drawn = |group: &&Value| group["plot"].is_object();
    let groups: Vec<&Value> = items(&assessment["groups"]).filter(drawn).collect();
    for group in &groups {
        for (share, name) in [(0.5, "gm"), (0.95, "p95")] {
            let point = items(&group["plot"]["line"]).find(|point| point["share"] == share);
            for end in ["value", "low", "high"] {
                let (Some(point), given) = (point, &group["profile"][name]) else { continue };
                let off = number(&point[end]) / number(&given[end]) - 1.0;
                assert!(off.abs() < 1e-9, "{name} {end}: {point} {given}");
            }
        }
        let scores: Vec<f64> =
            items(&group["plot"]["figures"]).map(|figure| number(&figure["score"])).collect();
        assert_eq!(scores.len() as u64, group["n"].as_u64().unwrap());
        assert!(scores.is_sorted() && scores.iter().sum::<f64>().abs() < 1e-9, "{scores:?}");
    }
    groups.len()
}

/// The stretches of a shift cover it without a gap, and each reading lies in a stretch of its task; says of how many readings.
pub fn diary_holds_readings(assessment: &Value) -> usize {
    let mut seen = 0;
    for shift in items(&assessment["shifts"]) {
        let minutes = |stretch: &Value| number(&stretch["to"]) - number(&stretch["from"]);
        let total: f64 = items(&shift["diary"]).map(minutes).sum();
        assert_eq!(total, number(&shift["minutes"]));
        for reading in items(&assessment["readings"]).filter(|reading| reading["shift"] == shift["shift"]) {
            let at = number(&reading["minutes_into_shift"]);
            let around = |s: &&Value| number(&s["from"]) <= at && at < number(&s["to"]);
            let stretch = items(&shift["diary"]).find(around).unwrap();
            assert_eq!(stretch["task"], reading["task"], "{}", reading["id"]);
            seen += 1;
        }
    }
    seen
}

/// The more shifts, the surer they settle what is open, and the number that was told for 80 % lies where the curve passes 80 %;
/// says for how many verdicts such a number was told.
pub fn chances_grow(assessment: &Value) -> usize {
    let verdicts = items(&assessment["groups"]).flat_map(|group| items(&group["verdicts"]));
    let mut seen = 0;
    for verdict in verdicts.filter(|verdict| verdict["settling"].is_object()) {
        let chance = |c: &Value| (number(&c["more_shifts"]), number(&c["chance"]));
        let chances: Vec<(f64, f64)> = items(&verdict["settling"]["chances"]).map(chance).collect();
        assert!(chances.windows(2).all(|pair| pair[0].1 <= pair[1].1 + 1e-9), "{chances:?}");
        assert!(chances.iter().all(|(_, chance)| (0.0..=1.0).contains(chance)), "{chances:?}");
        let Some(told) = verdict["more_shifts"]["value"].as_f64() else { continue };
        let right = |&(more, chance): &(f64, f64)| (more >= told) == (chance >= 0.8);
        assert!(chances.iter().all(right), "{told}: {chances:?}");
        seen += 1;
    }
    seen
}

/// None of these looks at nothing.
#[test]
fn the_demo_has_what_they_look_at() {
    let demo = fullshift_tests::assessment(&fullshift_tests::fixture("studies/composting-hall"));
    assert!(line_through_profile(&demo) > 0 && diary_holds_readings(&demo) > 0 && chances_grow(&demo) > 0);
}
