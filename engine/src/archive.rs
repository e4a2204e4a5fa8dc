//! The same steps for a study too long to be kept: group by group, a portion of the groups at a time.
//!
//! What is said of a group is what would be said of it alone; its shifts are written to a table as they are found, where one is
//! wanted, and forgotten. Groups are worked out on all threads and taken in their order, so that nothing depends on how many
//! threads there are.

use crate::check::Telling;
use crate::combine::Depth;
use crate::diagnose::{Findings, Stop};
use crate::model::assessment::ShiftResult;
use crate::model::overview::GroupOutline;
use crate::model::{Group, Overview, Progress, Ref, Study};
use crate::present::overview::{Counts, Gathered};
use crate::read::{Archive, Sources};
use crate::summarise::Input;
use crate::tabulate::{Keep, ShiftTable};
use crate::{check, combine, correct, judge, present, summarise};
use rayon::prelude::*;

/// What is told while an archive is walked.
pub type Watch<'a> = &'a dyn Fn(Progress);

/// Walks an archive. The inner error says why a table could not be written.
pub fn overview(
    archive: &Archive,
    sources: &Sources,
    findings: Findings,
    keep: Option<&Keep>,
    watch: Watch,
) -> Result<Result<Overview, String>, Findings> {
    let (declared, mut gathered) = (archive.declared(), Gathered::default());
    check::declared(declared, &judge::rule_names(), &findings);
    gathered.hear(findings, false);
    let mut table = keep.map(|keep| ShiftTable::new(keep, judge::asks_for_shift_test(declared)));
    // The digests take one thread a while; beside the groups it costs none of them its time.
    let (walked, (inputs, heard)) = std::thread::scope(|scope| {
        let inputs = scope.spawn(|| {
            let heard = Findings::default();
            (sources.inputs(&heard), heard)
        });
        let walked = walk_groups(archive, &mut gathered, table.as_mut(), watch);
        (walked, inputs.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
    });
    if let Err(words) = walked {
        return Ok(Err(words));
    }
    archive.report_duplicates(&heard);
    gathered.hear(heard, false);
    if gathered.has_errors() {
        return Err(gathered.into_findings());
    }
    let conversion = correct::conversion_in_words(&declared.reference);
    let mut quotes = sources.quotes();
    let overview = gathered.into_overview(declared, conversion, inputs, |finding| quotes.resolve(finding));
    Ok(match (table, keep) {
        (Some(table), Some(keep)) => table.finish().and_then(|()| keep.groups(&overview)).map(|()| overview),
        _ => Ok(overview),
    })
}

/// All groups, portion by portion; the error says why a table could not be written.
fn walk_groups(
    archive: &Archive,
    gathered: &mut Gathered,
    mut table: Option<&mut ShiftTable>,
    watch: Watch,
) -> Result<(), String> {
    let (of, mut done) = (archive.rows(), 0);
    for portion in archive.portions() {
        let heard = Findings::default();
        let studies = archive.studies(&portion, &heard);
        gathered.hear(heard, false);
        if !gathered.has_errors() {
            let groups =
                studies.into_par_iter().map(|(group, study)| of_group(group, &study, table.is_some()));
            for Outcome { lines, counts, shifts, findings } in groups.collect::<Vec<_>>() {
                gathered.hear(findings, true);
                gathered.add(lines, counts);
                if let (Some(table), Some(rows)) = (&mut table, shifts) {
                    table.add(&rows)?;
                }
            }
        }
        done += portion.rows;
        watch(Progress { done, of });
    }
    Ok(())
}

/// What came of a group.
struct Outcome {
    lines: Vec<GroupOutline>,
    counts: Counts,
    shifts: Option<Vec<ShiftResult>>,
    findings: Findings,
}

/// The steps for one group; `with_shifts` where its shifts are wanted with their limits.
fn of_group(group: Ref<Group>, study: &Study, with_shifts: bool) -> Outcome {
    let findings = Findings::default();
    let walked = walk(group, study, with_shifts, &findings);
    match walked {
        Ok((lines, counts, shifts)) => Outcome { lines, counts, shifts, findings },
        Err(_) => Outcome { lines: Vec::new(), counts: Counts::default(), shifts: None, findings },
    }
}

type Walked = (Vec<GroupOutline>, Counts, Option<Vec<ShiftResult>>);

fn walk(group: Ref<Group>, study: &Study, with_shifts: bool, findings: &Findings) -> Result<Walked, Stop> {
    let (shifts, field_work) = check::rows(study, Telling::Brief, findings)?;
    let limits = correct::limits(study, &shifts);
    let concentrations = correct::readings(study, &field_work.remarks);
    let tested = judge::asks_for_shift_test(study);
    let depth = if with_shifts { Depth::Shifts { tested } } else { Depth::Figures };
    let figures = combine::figures(study, &shifts, &limits, concentrations, depth);
    let input = Input { study, shifts: &shifts, figures: &figures, limits: &limits };
    let outlines = summarise::outlines(&input, group, |kind| judge::further(study, kind));
    let counts = Counts::of(study, &shifts, &field_work);
    let found = present::Found {
        study,
        shifts: &shifts,
        figures: &figures,
        profiles: &[],
        limits: &limits,
        field_work: &field_work,
        places: &[],
        parts: false,
        conversion: "",
    };
    let lines = present::outline::of(&found, group, outlines);
    Ok((lines, counts, with_shifts.then(|| present::shifts(&found))))
}
