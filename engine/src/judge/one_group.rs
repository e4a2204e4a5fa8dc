//! Whether the workers of a group are one group, as far as their shifts tell.

use crate::model::{Figure, brief};

/// Chance of so large differences among like workers below which they are not taken for one group (common practice, no source).
const SURPRISING: f64 = 0.05;

/// What a verdict of the group must carry where the workers differ more than chance explains; `None` where they do not, or where that cannot
/// be told. `between` are the figures between workers, `apart` the workers who stand apart.
pub fn not_one_group(between: &[(&'static str, Figure)], apart: &[String]) -> Option<String> {
    let value = |name: &str| between.iter().find(|(known, _)| *known == name).and_then(|(_, f)| f.value());
    let p = value("homogeneity")?;
    let differ = p < SURPRISING;
    if !differ && apart.is_empty() {
        return None;
    }
    let named = match apart {
        [] => String::new(),
        [one] => format!("{one} apart"),
        [others @ .., last] => format!("{} and {last} apart", others.join(", ")),
    };
    let p = brief(p);
    Some(match (differ, named.is_empty()) {
        (true, true) => format!("not one group: workers differ (p {p})"),
        (true, false) => format!("not one group: workers differ (p {p}), {named}"),
        (false, _) => format!(
            "not one group: {named}, though all workers together differ no more than chance explains (p {p})"
        ),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(p: f64, apart: &[&str]) -> Option<String> {
        let figures = [("homogeneity", Figure::without_interval(p, "", "", ""))];
        let apart: Vec<String> = apart.iter().map(|name| (*name).to_owned()).collect();
        not_one_group(&figures, &apart)
    }

    #[test]
    fn workers_who_differ_no_more_than_chance_are_one_group() {
        assert_eq!(said(0.05, &[]), None);
    }

    #[test]
    fn workers_who_stand_apart_are_named() {
        let words = "not one group: workers differ (p 0.01)";
        assert_eq!(said(0.01, &[]), Some(words.to_owned()));
        assert_eq!(said(0.01, &["W5"]), Some(format!("{words}, W5 apart")));
        assert_eq!(said(0.01, &["W1", "W4", "W5"]), Some(format!("{words}, W1, W4 and W5 apart")));
        let alone = "not one group: W5 apart, though all workers together differ no more than chance explains (p 0.14)";
        assert_eq!(said(0.14, &["W5"]), Some(alone.to_owned()));
    }
}
