//! How many workers to sample, and which.

use super::draw::Draw;
use crate::model::plan::{DrawSize, DrawnWorker, Wishes};
use crate::model::{Group, Ref, Study};
use fullshift_stats::{Result, drawing};

/// The shares and confidences for which the manual of 1977 prints tables.
const USUAL: [(f64, f64); 4] = [(0.1, 0.9), (0.1, 0.95), (0.2, 0.9), (0.2, 0.95)];

/// The people of a group.
pub struct Roster {
    /// How many there are.
    pub population: usize,
    /// Those whom the study names, in its order.
    pub named: Vec<String>,
}

impl Roster {
    /// The roster of a group; without a population it is the workers named.
    pub fn of(study: &Study, group: Ref<Group>) -> Roster {
        let own = study.workers.iter().filter(|(.., worker)| worker.group == group);
        let named: Vec<String> = own.map(|(_, name, _)| name.to_owned()).collect();
        let population = study.groups[group].population.map_or(named.len(), |p| p as usize);
        Roster { population: population.max(named.len()), named }
    }
}

/// The numbers to draw for the usual shares and confidences and for those wished, which are marked as used.
pub fn sizes(population: usize, wishes: &Wishes) -> Result<Vec<DrawSize>> {
    let wished = (wishes.highest, wishes.confidence);
    let further = Some(wished).filter(|wished| !USUAL.contains(wished));
    let all = USUAL.into_iter().chain(further);
    all.map(|pair| size(population, pair, pair == wished && wishes.workers.is_none())).collect()
}

fn size(population: usize, (highest, confidence): (f64, f64), used: bool) -> Result<DrawSize> {
    // A share of a whole group, as 0.1 of 20, must not grow by rounding.
    let highest_workers = ((highest * population as f64 - 1e-9).ceil() as usize).clamp(1, population);
    let workers = drawing::fewest(population, highest_workers, confidence)?;
    let as_printed =
        (drawing::real_valued(population, highest, confidence)?.round() as usize).min(population);
    Ok(DrawSize {
        highest,
        highest_workers,
        confidence,
        workers,
        missed: drawing::chance_missed(population, highest_workers, workers)?,
        as_printed,
        as_printed_missed: drawing::chance_missed(population, highest_workers, as_printed)?,
        used,
    })
}

/// The workers drawn at random.
pub fn drawn(roster: &Roster, sizes: &[DrawSize], wishes: &Wishes, stream: u64) -> Vec<DrawnWorker> {
    let size = sizes.iter().find(|size| size.used).map_or(0, |size| size.workers);
    let count = wishes.workers.unwrap_or(size);
    let members = Draw::new(wishes.seed, stream).members(roster.population, count);
    let worker = |number: usize| DrawnWorker { number, worker: roster.named.get(number - 1).cloned() };
    members.into_iter().map(worker).collect()
}
