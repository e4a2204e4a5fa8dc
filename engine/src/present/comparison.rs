//! One side of a comparison, and the two together.

use super::Found;
use super::groups::held;
use crate::compare::{self, Points};
use crate::diagnose::nearest;
use crate::model::assessment::{FORMAT_VERSION, Program};
use crate::model::comparison::{Comparison, LimitComparison, Side};
use crate::model::profile::GroupProfile;
use crate::model::{Figure, Interval, LimitKind};
use crate::summarise;

/// The shift figures of a group, limit by limit.
pub struct Sampled {
    side: Side,
    limits: Vec<AgainstLimit>,
}

struct AgainstLimit {
    agent: String,
    kind: LimitKind,
    unit: &'static str,
    n: usize,
    gm: Figure,
    points: Points,
    middles: bool,
}

/// The shift figures of the group called `name`; the error says in words that there is none.
pub fn sampled(found: &Found, name: &str) -> Result<Sampled, String> {
    let study = found.study;
    let Some(group) = study.groups.find(name) else {
        let names: Vec<&str> = study.groups.names().collect();
        return Err(format!(
            "there is no group `{name}` in {}; {}",
            study.title,
            nearest(name, names.into_iter())
        ));
    };
    let own = found.profiles.iter().filter(|profile| profile.group == group);
    let side = Side { study: study.title.clone(), group: name.to_owned() };
    Ok(Sampled { side, limits: own.map(|profile| against(found, profile)).collect() })
}

fn against(found: &Found, profile: &GroupProfile) -> AgainstLimit {
    let held = held(found, profile.against);
    let values: Vec<Interval> = profile.values.iter().map(|(_, value)| *value).collect();
    let worker = |shift: usize| found.study.workers.name(found.shifts[shift].worker).to_owned();
    let found_points =
        summarise::middles(&values).and_then(|(points, all_points)| match points.iter().any(|x| *x <= 0.0) {
            true => Err("a shift figure is zero, which has no logarithm".to_owned()),
            false => Ok((points, all_points)),
        });
    let middles = found_points.as_ref().is_ok_and(|(_, all_points)| !all_points);
    let points = found_points.map(|(points, _)| {
        profile.values.iter().zip(points).map(|((shift, _), x)| (worker(*shift), x)).collect()
    });
    let gm = profile.figures.iter().find(|(name, _)| *name == "gm").map(|(_, figure)| figure.clone());
    AgainstLimit {
        agent: held.agent,
        kind: held.kind,
        unit: held.unit,
        n: profile.n,
        gm: gm.unwrap_or_else(|| Figure::not_given("the group has no GM")),
        points,
        middles,
    }
}

/// The two compared, for every limit that both are held against.
pub fn of(first: Sampled, second: Sampled) -> Comparison {
    let pairs = first.limits.iter().filter_map(|one| {
        let other =
            second.limits.iter().find(|other| (&other.agent, other.kind) == (&one.agent, one.kind))?;
        Some(compared(one, other))
    });
    Comparison {
        format_version: FORMAT_VERSION,
        program: Program { name: "fullshift", version: env!("CARGO_PKG_VERSION") },
        results: pairs.collect(),
        first: first.side,
        second: second.side,
    }
}

fn compared(first: &AgainstLimit, second: &AgainstLimit) -> LimitComparison {
    let same_unit = |points: &Points| match first.unit == second.unit {
        true => points.clone(),
        false => Err(format!(
            "the first is given in {}, the second in {}; enter both limits in one unit",
            first.unit, second.unit
        )),
    };
    let (a, b) = (same_unit(&first.points), same_unit(&second.points));
    let noted = |mut ratio: crate::model::comparison::Ratio| {
        if (first.middles || second.middles) && ratio.ratio.value().is_some() {
            ratio.notes.push("narrow ranges stand for their middles".to_owned());
        }
        ratio
    };
    LimitComparison {
        agent: first.agent.clone(),
        kind: first.kind,
        first_n: first.n,
        second_n: second.n,
        first_gm: first.gm.clone(),
        second_gm: second.gm.clone(),
        unpaired: noted(compare::across(&a, &b)),
        paired: noted(compare::within(&a, &b)),
    }
}
