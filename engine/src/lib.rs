//! From detector-tube readings to defensible exposure figures: the whole story on one page.
//!
//! ```text
//! read -> check -> correct -> combine -> summarise -> judge -> present
//! ```
//!
//! Each step is a folder named by its verb; none calls an earlier one again; nothing flows back. The result is one
//! value, [`model::Assessment`]; everything printed anywhere is a view of it.

mod archive;
mod check;
mod checked;
mod combine;
mod compare;
mod correct;
pub mod diagnose;
mod judge;
pub mod model;
mod plan;
mod present;
mod read;
mod small_jobs;
mod summarise;
mod tabulate;

use check::Telling;
use checked::contents;
use combine::Depth;
use diagnose::{Findings, Report, Stop};
use model::assessment::InputFile;
use model::comparison::Comparison;
use model::plan::{Plan, Wishes};
use model::profile::GroupProfile;
use model::shift::{Figures, Shift};
use model::{Assessment, Concentration, FieldWork, LimitValues, Overview, Study};
use present::Fewer;
use read::{Opened, Sources};
use std::path::Path;

pub use archive::Watch;
pub use checked::{Checked, Stopped};
pub use fullshift_stats::verify;
pub use read::FormKind;
pub use small_jobs::{
    Conversion, convert, form, packed_tables, plan_sheets, plan_tables, schema, tables, values,
};
pub use tabulate::{Keep, TableFile, TableFormat, Target};

/// Reads and checks the study in folder `study` (or at a path to its `study.yaml`). Of an archive the group called `group` is
/// checked, or every group, each kind of finding told once.
pub fn check(study: &Path, group: Option<&str>) -> Checked {
    let (mut sources, findings) = (Sources::default(), Findings::default());
    let opened = read::open(study, &mut sources, &findings);
    if let (None, Ok(Opened::Archive(archive))) = (group, &opened) {
        return match archive::overview(archive, &sources, findings, None, &|_| ()) {
            Ok(overview) => Checked::of_archive(overview.ok()),
            Err(findings) => {
                let findings = sources.reports(findings);
                Checked { stopped: true, findings, contents: Vec::new(), groups: Vec::new() }
            }
        };
    }
    let read = opened.and_then(|opened| opened.study(group, &findings));
    let groups = match &read {
        Ok(study) => study.groups.names().map(str::to_owned).collect(),
        Err(_) => Vec::new(),
    };
    let checked =
        read.and_then(|study| checked(&study, &findings).map(|(shifts, _)| contents(&study, &shifts)));
    Checked {
        stopped: checked.is_err(),
        findings: sources.reports(findings),
        contents: checked.unwrap_or_default(),
        groups,
    }
}

/// What became of the main job.
#[derive(Debug)]
pub enum Assessed {
    /// A study with all its shifts and readings.
    Study(Box<Assessment>),
    /// An archive with a few lines for each group, or why its tables could not be written.
    Archive(Box<Result<Overview, String>>),
}

/// The main job: reads, checks and assesses the study in folder `study` (or at a path to its `study.yaml`). A study with
/// tables too long to be kept is an archive: of it the group called `group` is assessed as a study, or all groups in a few
/// lines each, with the tables of groups and shifts written to `keep` on the way.
pub fn assess(
    study: &Path,
    group: Option<&str>,
    keep: Option<&Keep>,
    watch: Watch,
) -> Result<Assessed, Stopped> {
    if group.is_some() {
        return assessment(study, group).map(|assessment| Assessed::Study(Box::new(assessment)));
    }
    let (mut sources, findings) = (Sources::default(), Findings::default());
    match read::open(study, &mut sources, &findings) {
        Ok(Opened::Archive(archive)) => archive::overview(&archive, &sources, findings, keep, watch)
            .map(|overview| Assessed::Archive(Box::new(overview)))
            .map_err(|findings| Stopped { findings: sources.reports(findings) }),
        Ok(Opened::Whole(study)) => found_in(*study, sources, findings, present::assessment)
            .map(|assessment| Assessed::Study(Box::new(assessment))),
        Err(_) => Err(Stopped { findings: sources.reports(findings) }),
    }
}

/// Assesses a study, or one group of an archive.
pub fn assessment(study: &Path, group: Option<&str>) -> Result<Assessment, Stopped> {
    found(study, group, present::assessment)
}

/// Plans the next visit to a study, whether or not it has readings. The inner error says in words why there is no plan.
pub fn plan(study: &Path, group: Option<&str>, wishes: &Wishes) -> Result<Result<Plan, String>, Stopped> {
    found(study, group, |found, _, inputs, findings| present::plan::of(found, wishes, inputs, findings))
}

/// Compares two groups, each a study with the name of a group; the first is before, the second after. The inner error says in words why
/// they cannot be compared.
pub fn compare(first: (&Path, &str), second: (&Path, &str)) -> Result<Result<Comparison, String>, Stopped> {
    let side = |(study, group): (&Path, &str)| {
        found(study, Some(group), |found, _, _, _| present::comparison::sampled(found, group))
    };
    let (first, second) = (side(first)?, side(second)?);
    Ok(first.and_then(|first| Ok(present::comparison::of(first, second?))))
}

/// Walks the steps up to what is to be presented, and presents it; of an archive for the group called `group`.
fn found<T>(
    study: &Path,
    group: Option<&str>,
    present: impl FnOnce(&present::Found, Option<&Fewer>, Vec<InputFile>, Vec<Report>) -> T,
) -> Result<T, Stopped> {
    let (mut sources, findings) = (Sources::default(), Findings::default());
    let opened = read::open(study, &mut sources, &findings);
    match opened.and_then(|opened| opened.study(group, &findings)) {
        Ok(study) => found_in(study, sources, findings, present),
        Err(_) => Err(Stopped { findings: sources.reports(findings) }),
    }
}

fn found_in<T>(
    study: Study,
    sources: Sources,
    findings: Findings,
    present: impl FnOnce(&present::Found, Option<&Fewer>, Vec<InputFile>, Vec<Report>) -> T,
) -> Result<T, Stopped> {
    let inputs = sources.inputs(&findings);
    let Ok((shifts, field_work)) = checked(&study, &findings) else {
        return Err(Stopped { findings: sources.reports(findings) });
    };
    let limits = correct::limits(&study, &shifts);
    let concentrations = correct::readings(&study, &field_work.remarks);
    // Where a rule qualifies readings, the verdicts are found once more without them.
    let left = correct::without_qualified(&concentrations, &field_work.remarks);
    let walk = Walk { study: &study, shifts: &shifts, limits: &limits };
    let ((figures, profiles), fewer) = rayon::join(
        || walk.in_full(concentrations),
        || left.map(|concentrations| walk.in_short(concentrations)),
    );
    let places: Vec<String> = study.readings.iter().map(|reading| sources.named(reading.span)).collect();
    let found = present::Found {
        study: &study,
        shifts: &shifts,
        figures: &figures,
        profiles: &profiles,
        limits: &limits,
        field_work: &field_work,
        places: &places,
        parts: true,
        conversion: &correct::conversion_in_words(&study.reference),
    };
    Ok(present(&found, fewer.as_ref(), inputs, sources.reports(findings)))
}

fn checked(study: &Study, findings: &Findings) -> Result<(Vec<Shift>, FieldWork), Stop> {
    check::declared(study, &judge::rule_names(), findings);
    check::rows(study, Telling::Whole, findings)
}

/// What the steps from the concentrations on rest on.
struct Walk<'a> {
    study: &'a Study,
    shifts: &'a [Shift],
    limits: &'a LimitValues,
}

impl Walk<'_> {
    /// The figures of shifts, and the profiles of groups.
    fn in_full(&self, concentrations: Vec<Concentration>) -> (Figures, Vec<GroupProfile>) {
        let figures = self.figures(concentrations, Depth::Tasks);
        let profiles = summarise::groups(&self.input(&figures));
        (figures, profiles)
    }

    /// As much of them as the verdicts rest on.
    fn in_short(&self, concentrations: Vec<Concentration>) -> Fewer {
        let figures = self.figures(concentrations, Depth::Shifts { tested: false });
        let further = |kind| judge::further(self.study, kind);
        let groups = self.study.groups.iter().map(|(group, ..)| group);
        let outlines = groups.flat_map(|group| summarise::outlines(&self.input(&figures), group, further));
        Fewer { outlines: outlines.collect(), figures }
    }

    fn figures(&self, concentrations: Vec<Concentration>, depth: Depth) -> Figures {
        combine::figures(self.study, self.shifts, self.limits, concentrations, depth)
    }

    fn input<'a>(&'a self, figures: &'a Figures) -> summarise::Input<'a> {
        summarise::Input { study: self.study, shifts: self.shifts, figures, limits: self.limits }
    }
}
