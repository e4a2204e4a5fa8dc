//! Every text of an assessment, so that a copy can be told in other words. Each structure is taken apart by name: a
//! field that is added does not compile until it is said here whose words it holds.

use fullshift_engine::diagnose::{Decision, Place, Report};
use fullshift_engine::model::assessment::{
    AgentHead, ComplianceResult, DiaryStretch, DriverResult, DriversResult, GroupHead, GroupResult,
    InputFile, LeftOut, LimitHead, MixtureResult, PartResult, PlottedFigure, PosteriorResult,
    ProbabilityPlot, Raised, ReadingResult, RuleResult, ShiftLimit, ShiftResult, StudyHead, TaskResult,
    TubeHead, UnmeasuredResult, WindowResult, WorkersResult,
};
use fullshift_engine::model::field_quality::{
    Disposal, FieldQuality, GroupChange, RuleCount, ShiftChange, SpoiledResult, TubeCount, WithoutQualified,
};
use fullshift_engine::model::{Assessment, Estimate, Figure, Input, ReportWords, Step};

/// Whose words a text is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Whose {
    /// The program's, who may quote the user; the inputs of a step may also be names and addresses alone.
    Ours,
    /// The user's: a name, an address made of names, a remark.
    Theirs,
}

/// Shows every text of an assessment to `visit`.
pub(super) fn each(found: &mut Assessment, visit: &mut dyn FnMut(Whose, &mut String)) {
    Walk { visit }.assessment(found);
}

struct Walk<'a> {
    visit: &'a mut dyn FnMut(Whose, &mut String),
}

impl Walk<'_> {
    fn ours<'t>(&mut self, texts: impl IntoIterator<Item = &'t mut String>) {
        texts.into_iter().for_each(|text| (self.visit)(Whose::Ours, text));
    }

    fn theirs<'t>(&mut self, texts: impl IntoIterator<Item = &'t mut String>) {
        texts.into_iter().for_each(|text| (self.visit)(Whose::Theirs, text));
    }

    fn figures<'t>(&mut self, figures: impl IntoIterator<Item = &'t mut Figure>) {
        figures.into_iter().for_each(|figure| self.figure(figure));
    }

    fn named(&mut self, figures: &mut [(&'static str, Figure)]) {
        self.figures(figures.iter_mut().map(|(_, figure)| figure));
    }

    fn assessment(&mut self, found: &mut Assessment) {
        let Assessment {
            format_version: _,
            program: _,
            inputs,
            study,
            findings,
            field_quality,
            readings,
            shifts,
            mixtures,
            groups,
        } = found;
        self.theirs(inputs.iter_mut().map(|InputFile { file, sha256: _ }| file));
        self.study(study);
        findings.iter_mut().for_each(|finding| self.finding(finding));
        self.field_quality(field_quality);
        readings.iter_mut().for_each(|reading| self.reading(reading));
        shifts.iter_mut().for_each(|shift| self.shift(shift));
        mixtures.iter_mut().for_each(|mixture| self.mixture(mixture));
        groups.iter_mut().for_each(|group| self.group(group));
    }

    fn study(&mut self, head: &mut StudyHead) {
        let StudyHead {
            title,
            site,
            prepared_by: _, // Who signs is no worker of the study, even under the same name.
            conversion,
            reference_minutes: _,
            agents,
            limits,
            groups,
            tubes,
            report,
        } = head;
        self.theirs([title, site]);
        self.ours([conversion]);
        for AgentHead { agent, cas, molar_mass: _, unit: _ } in agents {
            self.theirs(std::iter::once(agent).chain(cas));
        }
        for limit in limits {
            let LimitHead {
                agent,
                kind: _,
                value: _,
                unit: _,
                in_figures,
                averaging_minutes: _,
                at_most: _,
                at_least_apart_minutes: _,
                adjust: _,
                source,
            } = limit;
            self.theirs(std::iter::once(agent).chain(source));
            self.figure(in_figures);
        }
        for GroupHead { group, workers, population: _, agents } in groups {
            self.theirs(std::iter::once(group).chain(workers).chain(agents));
        }
        for sheet in tubes {
            let TubeHead {
                tube,
                agent,
                first_mark: _,
                last_mark: _,
                unit: _,
                strokes: _,
                relative_sd: _,
                contains,
                readings: _,
            } = sheet;
            self.theirs([tube, agent].into_iter().chain(contains));
        }
        let ReportWords { language: _, background, controls, recommendations, logo: _ } = report;
        self.theirs([background, controls, recommendations].into_iter().flatten());
    }

    fn finding(&mut self, finding: &mut Report) {
        let Report { code: _, name: _, severity: _, message, help, decision, places } = finding;
        self.ours([message, help]);
        self.theirs(decision.iter_mut().map(|Decision { action: _, reason }| reason));
        for place in places {
            let Place {
                file,
                sheet,
                cell: _,
                line: _,
                column: _,
                length: _,
                excerpt,
                excerpt_cut: _,
                excerpt_mark: _,
            } = place;
            self.theirs([file, excerpt].into_iter().chain(sheet));
        }
    }

    fn field_quality(&mut self, quality: &mut FieldQuality) {
        let FieldQuality {
            tubes,
            spoiled,
            leak_checks_needed: _,
            leak_checks_done: _,
            readings: _,
            qualified: _,
            rejected: _,
            rules,
            without_qualified,
            to_dispose,
            disposal_caution: _,
        } = quality;
        for TubeCount { tube, lot, drawn: _, spoiled: _, qualified: _, rejected: _ } in tubes {
            self.theirs(std::iter::once(tube).chain(lot));
        }
        for SpoiledResult { id, tube, lot, note } in spoiled {
            self.theirs([id, tube].into_iter().chain(lot).chain(note));
        }
        for RuleCount { code: _, name: _, action: _, reason, readings: _ } in rules {
            self.theirs(reason);
        }
        if let Some(WithoutQualified { readings_left: _, groups, shifts }) = without_qualified {
            for change in groups {
                let GroupChange { group, agent, kind: _, limit, rule: _, verdict: _, without: _, because } =
                    change;
                self.figure(limit);
                self.theirs([group, agent]);
                self.ours([because]);
            }
            for ShiftChange { shift, agent, kind: _, limit, verdict: _, without: _, because } in shifts {
                self.figure(limit);
                self.theirs([shift, agent]);
                self.ours([because]);
            }
        }
        for Disposal { tube, tubes: _, contains } in to_dispose {
            self.theirs(std::iter::once(tube).chain(contains));
        }
    }

    fn steps(&mut self, steps: &mut [Step]) {
        for Step { name, formula, inputs, result, source: _ } in steps {
            self.ours([name, formula, result]);
            for Input { name, value, from } in inputs {
                self.ours([name, value, from]);
            }
        }
    }

    fn figure(&mut self, figure: &mut Figure) {
        match figure {
            Figure::Given(Estimate {
                value: _,
                low: _,
                high: _,
                confidence: _,
                further: _,
                no_interval,
                unit,
                method,
                trail,
            }) => {
                self.ours([unit, method].into_iter().chain(no_interval));
                self.steps(trail);
            }
            Figure::AtLeast { low: _, unit, not_given, trail } => {
                self.ours([unit, not_given]);
                self.steps(trail);
            }
            Figure::NotGiven { not_given } => self.ours([not_given]),
        }
    }

    fn reading(&mut self, reading: &mut ReadingResult) {
        let ReadingResult {
            id,
            worker,
            shift,
            task,
            agent,
            place,
            tube,
            lot,
            pump,
            start: _,
            minutes_into_shift: _,
            drawn_minutes: _,
            stain,
            purpose: _,
            unit: _,
            low: _,
            high: _,
            used: _,
            why_not,
            rejected_by: _,
            qualified_by: _,
            trail,
        } = reading;
        let told = worker.iter_mut().chain(task).chain(shift).chain(lot);
        self.theirs([id, agent, place, tube, pump, stain].into_iter().chain(told));
        self.ours(why_not);
        self.steps(trail);
    }

    fn shift(&mut self, result: &mut ShiftResult) {
        let ShiftResult {
            shift,
            worker,
            group,
            start: _,
            end: _,
            minutes: _,
            agent,
            twa,
            twa_notes,
            twa_inside_respirators,
            short_term,
            short_term_window,
            highest_reading,
            covered: _,
            unsampled: _,
            tasks,
            diary,
            clock_changes: _,
            limits,
        } = result;
        self.theirs([shift, worker, group, agent]);
        self.ours(twa_notes);
        self.figures([twa, short_term, highest_reading].into_iter().chain(twa_inside_respirators));
        if let Some(window) = short_term_window {
            let WindowResult {
                start: _,
                minutes: _,
                drawn_minutes: _,
                measured_minutes: _,
                readings,
                screening_only: _,
            } = window;
            self.theirs(readings);
        }
        for TaskResult { task, minutes: _, readings, basis, unsampled: _, mean, share_of_dose } in tasks {
            self.theirs(std::iter::once(task).chain(readings));
            self.ours([basis]);
            self.figures([mean, share_of_dose]);
        }
        self.theirs(diary.iter_mut().map(|DiaryStretch { task, from: _, to: _ }| task));
        limits.iter_mut().for_each(|limit| self.limit(limit));
    }

    fn limit(&mut self, against: &mut ShiftLimit) {
        let ShiftLimit { kind: _, limit, ratio, verdict: _, because, unmeasured, compliance } = against;
        self.figures([limit, ratio]);
        self.ours([because]);
        if let Some(UnmeasuredResult { task, windows: _, one, any }) = unmeasured {
            self.theirs(task);
            self.figures([one, any]);
        }
        if let Some(ComplianceResult { rule: _, ratio, verdict: _, because, source: _ }) = compliance {
            self.figures([ratio]);
            self.ours([because]);
        }
    }

    fn mixture(&mut self, result: &mut MixtureResult) {
        let MixtureResult {
            shift,
            worker,
            group,
            start: _,
            mixture,
            index,
            notes,
            parts,
            verdict: _,
            because,
        } = result;
        self.theirs([shift, worker, group, mixture]);
        self.figures([index]);
        self.ours(notes.iter_mut().chain([because]));
        for PartResult { agent, ratio } in parts {
            self.theirs([agent]);
            self.figures([ratio]);
        }
    }

    fn group(&mut self, result: &mut GroupResult) {
        let GroupResult {
            group,
            agent,
            kind: _,
            limit,
            source,
            n: _,
            censored: _,
            left_out,
            raised,
            screened: _,
            profile,
            fit,
            second_opinion,
            plot: ProbabilityPlot { figures: plotted, line: _ },
            posterior,
            posterior_flat,
            not_one_group,
            reassess,
            verdicts,
            workers: WorkersResult { workers: _, apart, figures: compared },
            drivers,
        } = result;
        self.theirs([group, agent, source].into_iter().chain(apart));
        self.figures([limit, reassess]);
        [profile, fit, second_opinion, compared].into_iter().for_each(|figures| self.named(figures));
        self.theirs(raised.iter_mut().map(|Raised { shift, factor: _ }| shift));
        for LeftOut { shift, reason } in left_out {
            self.theirs([shift]);
            self.ours([reason]);
        }
        self.theirs(plotted.iter_mut().map(|PlottedFigure { shift, low: _, high: _, score: _ }| shift));
        for PosteriorResult { prior, figures } in std::iter::once(posterior).chain(posterior_flat) {
            self.ours([prior]);
            self.named(figures);
        }
        self.ours(not_one_group);
        for rule in verdicts {
            let RuleResult { rule: _, verdict: _, because, to_settle, more_shifts, settling: _, source: _ } =
                rule;
            self.ours(std::iter::once(because).chain(to_settle));
            self.figures(more_shifts);
        }
        if let Some(DriversResult { tasks, largest, p95_halved, exceedance_halved }) = drivers {
            self.theirs([largest]);
            self.figures([p95_halved, exceedance_halved]);
            for DriverResult { task, share } in tasks {
                self.theirs([task]);
                self.figures([share]);
            }
        }
    }
}
