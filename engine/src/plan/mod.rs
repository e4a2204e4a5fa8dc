//! What comes next: what would settle an open verdict, and how the next visit is to be sampled.

mod chance;
mod curve;
mod draw;
mod driver;
mod outlook;
mod settle;
mod tubes;
mod visit;
mod workers;

pub use curve::curve;
pub use draw::IN_WORDS as DRAWS_IN_WORDS;
pub use driver::driving_task;
pub use outlook::{Against, AskedRule};
pub use settle::{Open, to_settle};
pub use tubes::Air;

use crate::model::plan::{GroupPlan, TubeChoice, Wishes};
use crate::model::shift::Shift;
use crate::model::{Group, Ref, Study, Task};
use draw::Draw;
use std::collections::BTreeMap;
use workers::Roster;

/// The plan of one group; `number` is its place in the study, which gives its draws a stream of their own.
pub fn group(
    air: &Air,
    shifts: &[Shift],
    (number, group): (usize, Ref<Group>),
    against: Vec<Against>,
    wishes: &Wishes,
) -> fullshift_stats::Result<GroupPlan> {
    let study = air.study;
    let roster = Roster::of(study, group);
    let sizes = workers::sizes(roster.population, wishes)?;
    let drawn = workers::drawn(&roster, &sizes, wishes, 2 * number as u64);
    let wanted = choices(air, group);
    let nothing: (&[TubeChoice], f64) = (&[], 1.0);
    let of_task = |task| wanted.get(&task).map_or(nothing, |(tubes, minutes)| (tubes.as_slice(), *minutes));
    let mut times = Draw::new(wishes.seed, 2 * number as u64 + 1);
    let visits: Vec<_> = drawn
        .iter()
        .map(|worker| {
            let like = shift_of(study, shifts, group, worker.worker.as_deref());
            visit::visit(study, worker.called(), like, wishes.times, &of_task, &mut times)
        })
        .collect();
    Ok(GroupPlan {
        group: study.groups.name(group).to_owned(),
        population: roster.population,
        named: roster.named.len(),
        sizes,
        drawn,
        tubes: air.needs(group, &visits, wishes.spares),
        visits,
        outlooks: against.into_iter().map(|against| outlook::outlook(against, wishes)).collect(),
    })
}

/// For each task, and for a shift of unknown tasks: the tubes of the group's substances, and how long they take one after the other.
fn choices(air: &Air, group: Ref<Group>) -> BTreeMap<Option<Ref<Task>>, (Vec<TubeChoice>, f64)> {
    let tasks = air.study.tasks.iter().map(|(task, ..)| Some(task)).chain([None]);
    let of_task = |task: Option<Ref<Task>>| {
        let agents = air.study.groups[group].agents.iter();
        let found: Vec<(TubeChoice, f64)> =
            agents.filter_map(|&agent| air.choice(agent, group, task)).collect();
        let minutes = found.iter().map(|(_, minutes)| minutes).sum();
        (task, (found.into_iter().map(|(choice, _)| choice).collect(), minutes))
    };
    tasks.map(of_task).collect()
}

/// The shift after which a worker's visit is laid: the worker's own last one in the diary, else the last one of the group.
fn shift_of<'a>(
    study: &Study,
    shifts: &'a [Shift],
    group: Ref<Group>,
    worker: Option<&str>,
) -> Option<&'a Shift> {
    let own = worker.and_then(|name| study.workers.find(name));
    let last = |list: &mut dyn Iterator<Item = &'a Shift>| list.max_by_key(|shift| shift.start);
    last(&mut shifts.iter().filter(|shift| Some(shift.worker) == own))
        .or_else(|| last(&mut shifts.iter().filter(|shift| shift.group == group)))
}
