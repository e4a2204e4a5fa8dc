//! Studies at random: workers, their shifts and tasks, tubes read in every notation, strokes other than the sheet's.

use super::files::{Files, Table, moment};
use proptest::collection::vec;
use proptest::prelude::*;

/// The marks of the invented tube, in ppm.
pub const MARKS: [f64; 6] = [5.0, 10.0, 20.0, 30.0, 50.0, 100.0];

/// The tasks; `office` is not sampled by the study's word.
const TASKS: [&str; 3] = ["turning", "screening", "office"];

/// A study before it is written down.
#[derive(Debug, Clone)]
pub struct Invented {
    /// The workers, each with the number of the group.
    pub workers: Vec<Worker>,
    /// How much all concentrations are multiplied: the readings, the marks and the limits.
    pub scale: f64,
    /// The same for the limits only.
    pub limits: f64,
    /// The reference period in hours.
    pub reference_hours: f64,
    /// The air pressure at every reading, in kPa; tubes read in proportion to it.
    pub pressure_kpa: f64,
    /// Minutes by which everything was later.
    pub later: u32,
}

#[derive(Debug, Clone)]
pub struct Worker {
    pub group: usize,
    pub shifts: Vec<Shift>,
}

/// Stretches of work from an hour of the day on, each with its task and how many minutes it took, and the tubes drawn.
#[derive(Debug, Clone)]
pub struct Shift {
    pub hour: u32,
    pub stretches: Vec<(usize, u32)>,
    pub tubes: Vec<Tube>,
}

/// A tube: its place among the moments at which one can be drawn, its strokes, and how its stain was read.
#[derive(Debug, Clone)]
pub struct Tube {
    pub place: prop::sample::Index,
    pub strokes: u32,
    pub stain: Stain,
}

#[derive(Debug, Clone)]
pub enum Stain {
    At(f64),
    Between(usize),
    Below,
    Above,
    Slanted(f64, f64),
}

/// A study of one or two groups.
pub fn studies() -> impl Strategy<Value = Invented> {
    let workers = vec((0..2_usize, vec(shift(), 1..4)), 1..5);
    workers.prop_map(|workers| Invented {
        workers: workers.into_iter().map(|(group, shifts)| Worker { group, shifts }).collect(),
        scale: 1.0,
        limits: 1.0,
        reference_hours: 8.0,
        pressure_kpa: 101.325,
        later: 0,
    })
}

fn shift() -> impl Strategy<Value = Shift> {
    let stretches = vec((0..TASKS.len(), (2..25_u32).prop_map(|n| 10 * n)), 1..5);
    (0..24_u32, stretches, vec(tube(), 1..7)).prop_map(|(hour, stretches, tubes)| Shift {
        hour,
        stretches,
        tubes,
    })
}

fn tube() -> impl Strategy<Value = Tube> {
    let value = || (20..400_u32).prop_map(|quarters| f64::from(quarters) / 4.0);
    let stain = prop_oneof![
        6 => value().prop_map(Stain::At),
        1 => (0..MARKS.len() - 1).prop_map(Stain::Between),
        2 => Just(Stain::Below),
        1 => Just(Stain::Above),
        1 => (value(), value()).prop_map(|(one, other)| Stain::Slanted(one.min(other), one.max(other))),
    ];
    (any::<prop::sample::Index>(), 1..3_u32, stain).prop_map(|(place, strokes, stain)| Tube {
        place,
        strokes,
        stain,
    })
}

impl Shift {
    /// The moments, in minutes from its begin, at which a tube is drawn: apart by ten minutes.
    pub fn drawn(&self) -> Vec<(u32, &Tube)> {
        let minutes: u32 = self.stretches.iter().map(|(_, minutes)| minutes).sum();
        let mut free: Vec<u32> = (0..minutes / 10).map(|tenth| 10 * tenth).collect();
        let mut drawn = Vec::new();
        for tube in self.tubes.iter().take(free.len()) {
            drawn.push((free.remove(tube.place.index(free.len())), tube));
        }
        drawn
    }

    /// Each stretch with its begin, its minutes and its task.
    pub fn stretches(&self, begin: u32) -> impl Iterator<Item = (u32, u32, &'static str)> + '_ {
        self.stretches.iter().scan(begin, |end, &(task, minutes)| {
            *end += minutes;
            Some((*end - minutes, minutes, TASKS[task]))
        })
    }

    /// The task at a minute.
    pub fn task(&self, at: u32) -> &'static str {
        let here = |&(from, minutes, _): &(u32, u32, &str)| at < from + minutes;
        self.stretches(0).find(here).map_or(TASKS[0], |(_, _, task)| task)
    }
}

impl Stain {
    fn written(&self, scale: f64) -> String {
        let at = |value: f64| value * scale;
        match *self {
            Stain::At(value) => at(value).to_string(),
            Stain::Between(mark) => format!("{}..{}", at(MARKS[mark]), at(MARKS[mark + 1])),
            Stain::Below => format!("<{}", at(MARKS[0])),
            Stain::Above => format!(">{}", at(MARKS[MARKS.len() - 1])),
            Stain::Slanted(short, long) => format!("{}/{}", at(short), at(long)),
        }
    }
}

impl Invented {
    /// The study as its files.
    pub fn files(&self) -> Files {
        let mut files = Files {
            settings: self.settings(),
            readings: Table::of("id,worker,task,tube,pump,start,strokes,reading,pressure"),
            diary: Table::of("worker,start,end,task"),
            leak_checks: Table::of("pump,tube,at,passed"),
        };
        for (worker, begin, shift) in self.shifts() {
            let stretches = shift.stretches(begin).map(|(from, minutes, task)| {
                format!("W{worker},{},{},{task}", moment(from), moment(from + minutes))
            });
            files.diary.rows.extend(stretches);
            let tubes = shift.drawn();
            files
                .readings
                .rows
                .extend(tubes.into_iter().map(|(at, tube)| self.row(worker, begin, at, tube, shift)));
        }
        let checked = |worker| format!("P{worker},NH3,2027-02-28 05:00,yes");
        files.leak_checks.rows = (0..self.workers.len()).map(checked).collect();
        files
    }

    /// The diary told by minutes.
    pub fn diary_by_minutes(&self) -> Table {
        let mut diary = Table::of("worker,shift,task,minutes");
        for (worker, begin, shift) in self.shifts() {
            let told = |(_, minutes, task)| format!("W{worker},{},{task},{minutes}", moment(begin));
            diary.rows.extend(shift.stretches(begin).map(told));
        }
        diary
    }

    /// When each row of the diary begins, and how many minutes it lasts.
    pub fn stretches(&self) -> Vec<(u32, u32)> {
        let of_shift = |(_, begin, shift): (usize, u32, &'_ Shift)| {
            shift.stretches(begin).map(|(from, minutes, _)| (from, minutes)).collect::<Vec<_>>()
        };
        self.shifts().flat_map(of_shift).collect()
    }

    /// Every shift with the number of its worker and its begin; two days apart, so that none touches the next.
    pub fn shifts(&self) -> impl Iterator<Item = (usize, u32, &Shift)> {
        let begin = |day: usize, shift: &Shift| 2 * 1440 * day as u32 + 60 * shift.hour + self.later;
        self.workers.iter().enumerate().flat_map(move |(number, worker)| {
            worker.shifts.iter().enumerate().map(move |(day, shift)| (number, begin(day, shift), shift))
        })
    }

    fn row(&self, worker: usize, begin: u32, at: u32, tube: &Tube, shift: &Shift) -> String {
        let stain = tube.stain.written(self.scale);
        let (start, task) = (moment(begin + at), shift.task(at));
        let id = format!("W{worker}-{begin}-{at}");
        format!(
            "{id},W{worker},{task},NH3,P{worker},{start},{},{stain},{} kPa",
            tube.strokes, self.pressure_kpa
        )
    }

    fn settings(&self) -> String {
        let marks: Vec<String> = MARKS.iter().map(|mark| (mark * self.scale).to_string()).collect();
        let limit = |ppm: f64| ppm * self.scale * self.limits;
        let workers = |group| {
            let own = (0..self.workers.len()).filter(|&n| self.workers[n].group == group);
            own.map(|n| format!("W{n}")).collect::<Vec<_>>().join(", ")
        };
        let group = |group: usize| match workers(group) {
            none if none.is_empty() => String::new(),
            own => format!("  G{group}: {{workers: [{own}], agents: [ammonia]}}\n"),
        };
        let pumps: Vec<String> = (0..self.workers.len()).map(|n| format!("P{n}: {{}}")).collect();
        format!(
            "study: {{title: Invented, site: Hall 2, prepared_by: A. Assessor}}\n\
             agents: {{ammonia: {{molar_mass: 17.03}}}}\n\
             limits:\n\
             \x20 - {{agent: ammonia, kind: twa, value: {} ppm, source: invented}}\n\
             \x20 - {{agent: ammonia, kind: short-term, value: {} ppm, averaging: 15 min, source: invented}}\n\
             tubes:\n\
             \x20 NH3: {{agent: ammonia, marks: [{}], unit: ppm, strokes: 1, stroke_time: 1 min, relative_sd: 10 %, \
             pressure: proportional, other_strokes: [{{strokes: 2, factor: 0.5}}]}}\n\
             pumps: {{P-area: {{}}, {}}}\n\
             tasks: {{turning: {{}}, screening: {{unsampled: borrow}}, office: {{unsampled: zero}}}}\n\
             groups:\n{}{}\
             shift: {{reference: {} h}}\n\
             rules: {{twa: [screening, tolerance, exceedance, mean], short-term: [exceedance]}}\n\
             tables: {{readings: readings.csv, diary: diary.csv, leak_checks: leak_checks.csv}}\n",
            limit(20.0),
            limit(50.0),
            marks.join(", "),
            pumps.join(", "),
            group(0),
            group(1),
            self.reference_hours,
        )
    }
}
