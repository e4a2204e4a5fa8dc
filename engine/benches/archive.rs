//! How long an archive takes, beside the least that it can take: the table library merely reading the same files.
//!
//! ```text
//! cargo bench -p fullshift-engine --bench archive [-- GROUPS]
//! ```
//!
//! Each group has 2,400 readings. Times are the best of some runs in one process; machines are noisy, so the ratio counts.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a bench that cannot run should say so and stop"
)]

use fullshift_engine::{Assessed, Keep, TableFormat, Target, assess};
use polars::prelude::{CsvReader, SerReader};
use rand::{RngExt, SeedableRng};
use std::fmt::Write;
use std::path::Path;
use std::time::{Duration, Instant};

const WORKERS: usize = 20;
const SHIFTS: usize = 10;
const TASKS: usize = 4;
const READINGS: usize = 3;
const RUNS: usize = 5;

fn main() {
    let groups = std::env::args().skip(1).find_map(|word| word.parse().ok()).unwrap_or(100);
    let folder = std::env::temp_dir().join(format!("fullshift-bench-{}", std::process::id()));
    write(&folder, groups);
    let floor = best(|| read_and_sum(&folder));
    let outlines = best(|| assert_groups(assess(&folder, None, None, &|_| ()).unwrap(), groups));
    let open = |_: &str| Ok(Box::new(std::io::sink()) as Target);
    let shifts = best(|| {
        let keep = Keep { format: TableFormat::Parquet, open: &open };
        assert_groups(assess(&folder, None, Some(&keep), &|_| ()).unwrap(), groups);
    });
    let readings = groups * WORKERS * SHIFTS * TASKS * READINGS;
    println!("{readings} readings in {groups} groups");
    for (what, time) in
        [("reading and summing a column", floor), ("every group", outlines), ("and every shift", shifts)]
    {
        println!(
            "{what:<30} {:>8.3} s {:>7.2} times",
            time.as_secs_f64(),
            time.as_secs_f64() / floor.as_secs_f64()
        );
    }
    std::fs::remove_dir_all(&folder).unwrap();
}

fn best(run: impl Fn()) -> Duration {
    let timed = || {
        let start = Instant::now();
        run();
        start.elapsed()
    };
    (0..RUNS).map(|_| timed()).min().unwrap_or_default()
}

fn assert_groups(assessed: Assessed, groups: usize) {
    match assessed {
        Assessed::Archive(overview) => assert_eq!(overview.unwrap().groups.len(), groups),
        Assessed::Study(_) => unreachable!("it is long enough for an archive"),
    }
}

fn read_and_sum(folder: &Path) {
    for (table, column) in [("readings.csv", Some("reading")), ("diary.csv", None), ("workers.csv", None)] {
        let file = std::fs::File::open(folder.join(table)).unwrap();
        let frame = CsvReader::new(file).finish().unwrap();
        if let Some(column) = column {
            std::hint::black_box(frame.column(column).unwrap().f64().unwrap().iter().flatten().sum::<f64>());
        }
    }
}

/// Invented shifts of eight hours with four tasks each.
fn write(folder: &Path, groups: usize) {
    std::fs::create_dir_all(folder).unwrap();
    let list = |count: usize, of: &dyn Fn(usize) -> String| (0..count).map(of).collect::<Vec<_>>().join(", ");
    let study = format!(
        "study: {{title: Invented shifts, site: bench, prepared_by: A. Assessor}}\n\
         agents: {{ammonia: {{cas: 7664-41-7, molar_mass: 17.03}}}}\n\
         limits: [{{agent: ammonia, kind: twa, value: 20 ppm, source: invented}}]\n\
         tubes: {{T: {{agent: ammonia, marks: [0.001, 100000], unit: ppm, strokes: 1, stroke_time: 1 min, relative_sd: 10 %, pressure: none}}}}\n\
         pumps: {{P: {{}}}}\ntasks: {{{}}}\ngroups: {{{}}}\n\
         rules: {{twa: [tolerance, exceedance, mean]}}\n\
         tables: {{readings: readings.csv, diary: diary.csv, workers: workers.csv}}\n",
        list(TASKS, &|task| format!("task-{task}: {{}}")),
        list(groups, &|group| format!("G{group}: {{agents: [ammonia]}}"))
    );
    let (mut workers, mut diary) = ("worker,group\n".to_owned(), "worker,start,end,task\n".to_owned());
    let mut readings = "id,worker,task,tube,pump,start,strokes,reading\n".to_owned();
    let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(1);
    let (mut number, minutes) = (0, 480 / TASKS);
    let clock = |minute: usize| format!("{:02}:{:02}", minute / 60, minute % 60);
    for group in 0..groups {
        let level: f64 = rng.random_range(1.0..15.0);
        for worker in (0..WORKERS).map(|worker| format!("G{group}W{worker}")) {
            writeln!(workers, "{worker},G{group}").unwrap();
            for day in 0..SHIFTS {
                let (day, of_day) = (format!("2027-01-{:02}", 4 + day), rng.random_range(0.4_f64..2.0));
                for task in 0..TASKS {
                    let from = 360 + task * minutes;
                    writeln!(
                        diary,
                        "{worker},{day} {},{day} {},task-{task}",
                        clock(from),
                        clock(from + minutes)
                    )
                    .unwrap();
                    for reading in 0..READINGS {
                        let at = clock(from + (2 * reading + 1) * minutes / (2 * READINGS));
                        let value = level * of_day * rng.random_range(0.3..2.5);
                        number += 1;
                        writeln!(readings, "R{number},{worker},task-{task},T,P,{day} {at},1,{value:.3}")
                            .unwrap();
                    }
                }
            }
        }
    }
    for (name, text) in
        [("study.yaml", study), ("workers.csv", workers), ("diary.csv", diary), ("readings.csv", readings)]
    {
        std::fs::write(folder.join(name), text).unwrap();
    }
}
