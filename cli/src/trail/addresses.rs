//! The addresses of all figures and readings of an assessment.

use fullshift_engine::model::assessment::{GroupResult, MixtureResult, ReadingResult, ShiftResult};
use fullshift_engine::model::{Assessment, Figure, LimitKind, Step};

/// What an address leads to.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Thing<'a> {
    /// A figure of a shift, a task or a group.
    Figure(&'a Figure),
    /// A reading.
    Reading(&'a ReadingResult),
}

/// An address with what it leads to.
#[derive(Debug)]
pub(crate) struct Entry<'a> {
    /// The address in full.
    pub(crate) address: String,
    /// The same without the agent, for studies in which that is enough.
    short: String,
    /// What it leads to.
    pub(crate) thing: Thing<'a>,
}

/// All addresses of an assessment: groups, shifts, readings.
#[derive(Debug)]
pub(crate) struct Addresses<'a>(Vec<Entry<'a>>);

/// Why an address leads nowhere.
#[derive(Debug, PartialEq)]
pub(crate) enum Lost {
    /// Nothing is called that; what may have been meant.
    Unknown(Vec<String>),
    /// Several things are called that.
    Several(Vec<String>),
}

impl<'a> Thing<'a> {
    /// Its working.
    pub(crate) fn trail(self) -> &'a [Step] {
        match self {
            Thing::Figure(figure) => figure.trail(),
            Thing::Reading(reading) => &reading.trail,
        }
    }
}

impl<'a> Addresses<'a> {
    /// The addresses of an assessment.
    pub(crate) fn of(assessment: &'a Assessment) -> Self {
        let mut entries: Vec<Entry<'a>> = Vec::new();
        assessment.groups.iter().for_each(|group| entries.extend(of_group(group)));
        assessment.shifts.iter().for_each(|shift| entries.extend(of_shift(shift)));
        entries.extend(assessment.mixtures.iter().map(of_mixture));
        entries.extend(assessment.readings.iter().map(of_reading));
        Addresses(entries)
    }

    /// All entries, in the order of the assessment.
    pub(crate) fn iter(&self) -> impl Iterator<Item = &Entry<'a>> {
        self.0.iter()
    }

    /// The entry at exactly this address.
    pub(crate) fn at(&self, address: &str) -> Option<&Entry<'a>> {
        self.0.iter().find(|entry| entry.address == address)
    }

    /// The entry that the user means: by its full address, or without the agent where only one fits.
    pub(crate) fn meant(&self, typed: &str) -> Result<&Entry<'a>, Lost> {
        if let Some(entry) = self.at(typed) {
            return Ok(entry);
        }
        let fitting: Vec<&Entry<'a>> = self.0.iter().filter(|entry| entry.short == typed).collect();
        match fitting.as_slice() {
            [only] => Ok(only),
            [] => Err(Lost::Unknown(self.near(typed))),
            several => Err(Lost::Several(several.iter().map(|entry| entry.address.clone()).collect())),
        }
    }

    /// What lies below the typed address, or else the nearest one.
    fn near(&self, typed: &str) -> Vec<String> {
        let below = format!("{}/", typed.trim_end_matches('/'));
        let under: Vec<String> =
            self.0.iter().filter(|e| e.address.starts_with(&below)).map(|e| e.address.clone()).collect();
        if !under.is_empty() {
            return under;
        }
        let likeness = |entry: &Entry<'_>| {
            let alike = |name: &str| strsim::normalized_damerau_levenshtein(name, typed);
            alike(&entry.address).max(alike(&entry.short))
        };
        let best = self.0.iter().map(|e| (likeness(e), e)).max_by(|a, b| a.0.total_cmp(&b.0));
        best.filter(|(alike, _)| *alike >= 0.5)
            .map(|(_, entry)| vec![entry.address.clone()])
            .unwrap_or_default()
    }
}

fn of_group<'a>(group: &'a GroupResult) -> impl Iterator<Item = Entry<'a>> {
    let kind = group.kind.word();
    group.figures().map(move |(name, figure)| {
        let end = format!("{kind}/{}", name.replace('_', "-"));
        entry(&group.group, &group.agent, &end, Thing::Figure(figure))
    })
}

fn of_shift<'a>(shift: &'a ShiftResult) -> impl Iterator<Item = Entry<'a>> {
    let own = [
        (LimitKind::Twa.word(), &shift.twa),
        (LimitKind::ShortTerm.word(), &shift.short_term),
        ("highest-reading", &shift.highest_reading),
    ];
    let tasks = shift.tasks.iter().map(|task| (task.task.as_str(), &task.mean));
    let unmeasured = shift.limits.iter().filter_map(|limit| limit.unmeasured.as_ref());
    let unmeasured = unmeasured
        .take(1)
        .flat_map(|u| [("short-term/unmeasured", &u.any), ("short-term/one-window", &u.one)]);
    let compliance = shift.limits.iter().filter_map(|limit| limit.compliance.as_ref()).take(1);
    let compliance = compliance.map(|test| ("twa/shift-sae", &test.ratio));
    own.into_iter()
        .chain(tasks)
        .chain(unmeasured)
        .chain(compliance)
        .map(|(end, figure)| entry(&shift.shift, &shift.agent, end, Thing::Figure(figure)))
}

fn of_mixture(mixture: &MixtureResult) -> Entry<'_> {
    entry(&mixture.shift, &mixture.mixture, "index", Thing::Figure(&mixture.index))
}

fn of_reading(reading: &ReadingResult) -> Entry<'_> {
    Entry { address: reading.id.clone(), short: reading.id.clone(), thing: Thing::Reading(reading) }
}

fn entry<'a>(start: &str, agent: &str, end: &str, thing: Thing<'a>) -> Entry<'a> {
    Entry { address: format!("{start}/{agent}/{end}"), short: format!("{start}/{end}"), thing }
}
