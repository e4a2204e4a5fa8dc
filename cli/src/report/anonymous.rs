//! A copy of an assessment in which workers are named by letters, the same letter everywhere.

use fullshift_engine::diagnose::Report;
use fullshift_engine::model::assessment::{
    ComplianceResult, DriverResult, DriversResult, GroupResult, MixtureResult, ReadingResult, RuleResult,
    ShiftLimit, ShiftResult, TaskResult, UnmeasuredResult,
};
use fullshift_engine::model::field_quality::FieldQuality;
use fullshift_engine::model::{Assessment, Figure, ReportWords, Step};

/// The assessment with letters for names, in the order in which the study declares them.
pub(crate) fn without_names(mut found: Assessment) -> Assessment {
    let names = Letters::of(&found);
    let study = &mut found.study;
    [&mut study.title, &mut study.site, &mut study.conversion].into_iter().for_each(|text| names.put(text));
    study.groups.iter_mut().for_each(|group| {
        names.put(&mut group.group);
        names.all(&mut group.workers);
    });
    names.in_words(&mut study.report);
    names.in_field_quality(&mut found.field_quality);
    found.findings.iter_mut().for_each(|finding| names.in_finding(finding));
    found.readings.iter_mut().for_each(|reading| names.in_reading(reading));
    found.shifts.iter_mut().for_each(|shift| names.in_shift(shift));
    found.mixtures.iter_mut().for_each(|mixture| names.in_mixture(mixture));
    found.groups.iter_mut().for_each(|group| names.in_group(group));
    found
}

/// Names, longest first, each with its letter.
struct Letters(Vec<(String, String)>);

impl Letters {
    fn of(found: &Assessment) -> Self {
        let declared = found.study.groups.iter().flat_map(|group| &group.workers);
        let seen = found.shifts.iter().map(|s| &s.worker).chain(found.readings.iter().map(|r| &r.worker));
        let mut names: Vec<&String> = Vec::new();
        for name in declared.chain(seen) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let lettered = names.iter().enumerate().map(|(at, name)| ((*name).clone(), letters(at)));
        let mut pairs: Vec<(String, String)> = lettered.collect();
        pairs.sort_by_key(|(name, _)| std::cmp::Reverse(name.len()));
        Letters(pairs)
    }

    /// Puts letters for the names in a text, in one pass, so that a letter is never taken for a name.
    fn put(&self, text: &mut String) {
        let mut written = String::with_capacity(text.len());
        let mut at = 0;
        while let Some(character) = text[at..].chars().next() {
            match self.0.iter().find(|(name, _)| stands_at(text, at, name)) {
                Some((name, letter)) => {
                    written.push_str(letter);
                    at += name.len();
                }
                None => {
                    written.push(character);
                    at += character.len_utf8();
                }
            }
        }
        *text = written;
    }

    fn all(&self, texts: &mut [String]) {
        texts.iter_mut().for_each(|text| self.put(text));
    }

    fn maybe(&self, text: &mut Option<String>) {
        text.iter_mut().for_each(|text| self.put(text));
    }

    fn in_words(&self, words: &mut ReportWords) {
        let ReportWords { background, controls, recommendations, logo: _, language: _ } = words;
        [background, controls, recommendations].into_iter().for_each(|text| self.maybe(text));
    }

    fn in_finding(&self, finding: &mut Report) {
        self.put(&mut finding.message);
        self.put(&mut finding.help);
        finding.decision.iter_mut().for_each(|decision| self.put(&mut decision.reason));
        finding.places.iter_mut().for_each(|place| self.put(&mut place.excerpt));
    }

    fn in_field_quality(&self, quality: &mut FieldQuality) {
        for spoiled in &mut quality.spoiled {
            self.put(&mut spoiled.id);
            self.maybe(&mut spoiled.note);
        }
        quality.rules.iter_mut().for_each(|rule| self.maybe(&mut rule.reason));
        for without in quality.without_qualified.iter_mut() {
            without.groups.iter_mut().for_each(|change| {
                self.put(&mut change.group);
                self.put(&mut change.because);
            });
            without.shifts.iter_mut().for_each(|change| {
                self.put(&mut change.shift);
                self.put(&mut change.because);
            });
        }
    }

    fn in_steps(&self, steps: &mut [Step]) {
        for step in steps {
            [&mut step.name, &mut step.formula, &mut step.result].into_iter().for_each(|text| self.put(text));
            for input in &mut step.inputs {
                [&mut input.name, &mut input.value, &mut input.from]
                    .into_iter()
                    .for_each(|text| self.put(text));
            }
        }
    }

    fn in_figure(&self, figure: &mut Figure) {
        match figure {
            Figure::Given(estimate) => {
                self.put(&mut estimate.method);
                self.maybe(&mut estimate.no_interval);
                self.in_steps(&mut estimate.trail);
            }
            Figure::AtLeast { not_given, trail, .. } => {
                self.put(not_given);
                self.in_steps(trail);
            }
            Figure::NotGiven { not_given } => self.put(not_given),
        }
    }

    fn in_reading(&self, reading: &mut ReadingResult) {
        let ReadingResult { id, worker, task, place, .. } = reading;
        [id, worker, task, place].into_iter().for_each(|text| self.put(text));
        self.maybe(&mut reading.shift);
        self.maybe(&mut reading.why_not);
        self.in_steps(&mut reading.trail);
    }

    fn in_shift(&self, shift: &mut ShiftResult) {
        [&mut shift.shift, &mut shift.worker, &mut shift.group].into_iter().for_each(|text| self.put(text));
        self.all(&mut shift.twa_notes);
        let figures = [&mut shift.twa, &mut shift.short_term, &mut shift.highest_reading];
        figures
            .into_iter()
            .chain(&mut shift.twa_inside_respirators)
            .for_each(|figure| self.in_figure(figure));
        shift.short_term_window.iter_mut().for_each(|window| self.all(&mut window.readings));
        shift.diary.iter_mut().for_each(|stretch| self.put(&mut stretch.task));
        for TaskResult { task, readings, basis, mean, share_of_dose, .. } in &mut shift.tasks {
            [task, basis].into_iter().for_each(|text| self.put(text));
            self.all(readings);
            [mean, share_of_dose].into_iter().for_each(|figure| self.in_figure(figure));
        }
        for ShiftLimit { kind: _, limit, ratio, verdict: _, because, unmeasured, compliance } in
            &mut shift.limits
        {
            [limit, ratio].into_iter().for_each(|figure| self.in_figure(figure));
            self.put(because);
            for UnmeasuredResult { task, windows: _, one, any } in unmeasured.iter_mut() {
                self.maybe(task);
                [one, any].into_iter().for_each(|figure| self.in_figure(figure));
            }
            for ComplianceResult { rule: _, ratio, verdict: _, because, source: _ } in compliance.iter_mut() {
                self.in_figure(ratio);
                self.put(because);
            }
        }
    }

    fn in_mixture(&self, mixture: &mut MixtureResult) {
        let MixtureResult { shift, worker, group, because, notes, index, parts, .. } = mixture;
        [shift, worker, group, because].into_iter().for_each(|text| self.put(text));
        self.all(notes);
        self.in_figure(index);
        parts.iter_mut().for_each(|part| self.in_figure(&mut part.ratio));
    }

    fn in_group(&self, group: &mut GroupResult) {
        self.put(&mut group.group);
        let named = [
            &mut group.profile,
            &mut group.fit,
            &mut group.second_opinion,
            &mut group.posterior.figures,
            &mut group.workers.figures,
        ];
        named.into_iter().flatten().for_each(|(_, figure)| self.in_figure(figure));
        let flat = group.posterior_flat.iter_mut().flat_map(|flat| &mut flat.figures);
        flat.for_each(|(_, figure)| self.in_figure(figure));
        [&mut group.limit, &mut group.reassess].into_iter().for_each(|figure| self.in_figure(figure));
        self.maybe(&mut group.not_one_group);
        self.all(&mut group.workers.apart);
        group.left_out.iter_mut().for_each(|shift| {
            self.put(&mut shift.shift);
            self.put(&mut shift.reason);
        });
        group.plot.figures.iter_mut().for_each(|figure| self.put(&mut figure.shift));
        for DriversResult { tasks, largest, p95_halved, exceedance_halved } in group.drivers.iter_mut() {
            self.put(largest);
            [p95_halved, exceedance_halved].into_iter().for_each(|figure| self.in_figure(figure));
            for DriverResult { task, share } in tasks {
                self.put(task);
                self.in_figure(share);
            }
        }
        for RuleResult { because, to_settle, more_shifts, .. } in &mut group.verdicts {
            more_shifts.iter_mut().for_each(|figure| self.in_figure(figure));
            self.put(because);
            self.maybe(to_settle);
        }
    }
}

/// A, B, ..., Z, AA, AB, ...
fn letters(number: usize) -> String {
    let last = char::from(b'A' + (number % 26) as u8);
    match number / 26 {
        0 => last.to_string(),
        more => format!("{}{last}", letters(more - 1)),
    }
}

/// Whether a text holds a name as a word of its own.
pub(super) fn mentions(text: &str, name: &str) -> bool {
    text.char_indices().any(|(at, _)| stands_at(text, at, name))
}

fn stands_at(text: &str, at: usize, name: &str) -> bool {
    let part_of_a_word = |character: Option<char>| character.is_some_and(char::is_alphanumeric);
    !name.is_empty()
        && text[at..].starts_with(name)
        && !part_of_a_word(text[..at].chars().next_back())
        && !part_of_a_word(text[at + name.len()..].chars().next())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!([0, 25, 26, 51, 52, 701, 702].map(letters), ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
    }

    #[test]
    fn a_name_is_replaced_as_a_whole_word_only_and_in_one_pass() {
        let names =
            Letters(vec![("W12".into(), "C".into()), ("W1".into(), "A".into()), ("A".into(), "B".into())]);
        let mut text = "W1, W12/2027-03-08, A, W123, \u{e4}W1, W1's".to_owned();
        names.put(&mut text);
        assert_eq!(text, "A, C/2027-03-08, B, W123, \u{e4}W1, A's");
    }
}
