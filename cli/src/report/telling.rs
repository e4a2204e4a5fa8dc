//! What every section needs to tell its part: the assessment, the language, and the words that recur.

use super::Copy;
use crate::language::{Language, Sentences, filled};
use crate::page::figure::{self, Form};
use crate::page::{Block, Column, Link, Point, Text, Tone, number};
use fullshift_engine::model::assessment::{GroupResult, ReadingResult, ShiftResult};
use fullshift_engine::model::profile::Verdict;
use fullshift_engine::model::{Assessment, Figure, LimitKind};

/// An assessment to be told in a language.
pub(super) struct Telling<'a> {
    pub(super) assessment: &'a Assessment,
    pub(super) copy: &'a Copy,
    pub(super) language: &'static Language,
}

/// A group and an agent with all that was found for them.
pub(super) struct Pair<'a> {
    pub(super) group: &'a str,
    pub(super) agent: &'a str,
    pub(super) groups: Vec<&'a GroupResult>,
    pub(super) shifts: Vec<&'a ShiftResult>,
}

impl<'a> Telling<'a> {
    /// The sentences.
    pub(super) fn say(&self) -> &'static Sentences {
        &self.language.say
    }

    /// Every group with every agent, in the order of the assessment.
    pub(super) fn pairs(&self) -> Vec<Pair<'a>> {
        let pairs = crate::summary::pairs(self.assessment).into_iter();
        pairs
            .map(|(group, agent)| Pair {
                group,
                agent,
                groups: self
                    .assessment
                    .groups
                    .iter()
                    .filter(|g| (&*g.group, &*g.agent) == (group, agent))
                    .collect(),
                shifts: self
                    .assessment
                    .shifts
                    .iter()
                    .filter(|s| (&*s.group, &*s.agent) == (group, agent))
                    .collect(),
            })
            .collect()
    }

    /// A figure that leads to its working.
    pub(super) fn figure(&self, figure: &Figure, form: Form, address: String) -> Text {
        Text::linked(figure::bare_in(figure, form, &self.language.notation), Link::Working(address))
    }

    /// The same with its unit.
    pub(super) fn with_unit(&self, figure: &Figure, form: Form, address: String) -> Text {
        Text::linked(figure::with_unit_in(figure, form, &self.language.notation), Link::Working(address))
    }

    /// A number in this language.
    pub(super) fn number(&self, value: f64) -> String {
        self.language.notation.digits(&number::number(value))
    }

    /// A share in whole per cent.
    pub(super) fn percent(&self, share: f64) -> String {
        self.language.notation.digits(&number::percent(share))
    }

    /// A limit with its unit.
    pub(super) fn limit(&self, limit: &Figure) -> String {
        self.language.notation.digits(&figure::limit(limit))
    }

    /// A kind of limit with its value, as a sentence has it.
    pub(super) fn limit_in_words(&self, kind: LimitKind, limit: &Figure) -> Text {
        let say = self.say();
        let sentence = match kind {
            LimitKind::Twa => say.limit_twa,
            LimitKind::ShortTerm => say.limit_short_term,
            LimitKind::Ceiling => say.limit_ceiling,
            LimitKind::Mixture => say.limit_mixture,
        };
        filled(sentence, &[("value", self.limit(limit).into())])
    }

    /// A kind of limit.
    pub(super) fn kind(&self, kind: LimitKind) -> &'static str {
        self.language.kind(kind)
    }

    /// A verdict in a word, with its tone.
    pub(super) fn verdict(&self, verdict: Verdict) -> Text {
        let (word, tone) = match verdict {
            Verdict::Below => (self.say().below, Tone::Below),
            Verdict::Above => (self.say().above, Tone::Above),
            Verdict::Undecided => (self.say().undecided, Tone::Open),
            Verdict::NotGiven => (self.say().not_given, Tone::Quiet),
        };
        Text::of(tone, word)
    }

    /// The same with the mark by which the figures show it.
    pub(super) fn marked(&self, verdict: Verdict) -> Text {
        match mark(verdict) {
            "" => self.verdict(verdict),
            mark => Text::from(format!("{mark}\u{a0}")).append(self.verdict(verdict)),
        }
    }

    /// A sentence with texts in its gaps.
    pub(super) fn fill(&self, sentence: &str, gaps: &[(&str, Text)]) -> Text {
        filled(sentence, gaps)
    }

    /// One or several, as text.
    pub(super) fn counted(&self, n: usize, one: &'static str, more: &'static str) -> Text {
        self.language.counted(n, (one, more)).into()
    }

    /// A column of words.
    pub(super) fn words(&self, head: &str) -> Column {
        Column::words(head)
    }

    /// The unit of a pair's figures.
    pub(super) fn unit(&self, agent: &str) -> &'static str {
        self.assessment.study.agents.iter().find(|a| a.agent == agent).map_or("", |a| a.unit)
    }

    /// First and last day of the shifts and readings.
    pub(super) fn days(&self) -> Option<(&'a str, &'a str)> {
        let starts = self.assessment.shifts.iter().map(|s| s.start.as_str());
        let readings = self.assessment.readings.iter().map(|r| r.start.as_str());
        let days = || starts.clone().chain(readings.clone()).filter_map(|start| start.split(' ').next());
        Some((days().min()?, days().max()?))
    }

    /// When it was sampled, as a line of its own.
    pub(super) fn period_line(&self) -> Text {
        let day = |stamp: &str| Text::from(self.language.date(stamp));
        match self.days() {
            None => Text::default(),
            Some((first, last)) if first == last => self.fill(self.say().sampled_on, &[("date", day(first))]),
            Some((first, last)) => {
                self.fill(self.say().sampled_from_to, &[("from", day(first)), ("to", day(last))])
            }
        }
    }

    /// Minutes in words.
    pub(super) fn minutes(&self, minutes: f64) -> String {
        let (n, sentence) = match minutes % 60.0 == 0.0 && minutes > 60.0 {
            true => (minutes / 60.0, self.say().hours),
            false => (minutes, self.say().minutes),
        };
        sentence.replace("{n}", &self.number(n))
    }

    /// A reading's concentration.
    pub(super) fn concentration(&self, reading: &ReadingResult) -> String {
        let notation = &self.language.notation;
        let printed = match reading.high {
            Some(high) if high == reading.low => number::number(high),
            Some(high) => {
                format!("[{}{}{}]", number::number(reading.low), notation.between, number::number(high))
            }
            None => notation.at_least.replace("{end}", &number::number(reading.low)),
        };
        notation.digits(&printed)
    }
}

/// The mark by which a verdict is told in tables and drawings, without colour.
pub(super) fn mark(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Below => "●",
        Verdict::Above => "▲",
        Verdict::Undecided => "○",
        Verdict::NotGiven => "",
    }
}

/// The figure of a shift for a kind of limit, and the end of its address.
pub(super) fn of_shift(shift: &ShiftResult, kind: LimitKind) -> (&Figure, &'static str) {
    match kind {
        LimitKind::Twa => (&shift.twa, "twa"),
        LimitKind::ShortTerm => (&shift.short_term, "short-term"),
        LimitKind::Ceiling | LimitKind::Mixture => (&shift.highest_reading, "highest-reading"),
    }
}

/// The address of a figure of a group.
pub(super) fn group_address(group: &GroupResult, name: &str) -> String {
    format!("{}/{}/{}/{}", group.group, group.agent, group.kind.word(), name.replace('_', "-"))
}

/// The figure of a group by its name, as `gm` or `workers/gsd_between`.
pub(super) fn of_group<'a>(group: &'a GroupResult, name: &str) -> Option<&'a Figure> {
    group.figures().find(|(known, _)| known == name).map(|(_, figure)| figure)
}

impl<'a> Pair<'a> {
    /// The gaps of a sentence that names group and agent.
    pub(super) fn names(&self) -> [(&'static str, Text); 2] {
        [("group", self.group.into()), ("agent", self.agent.into())]
    }
}

/// Things named before the others are counted.
const NAMED: usize = 4;
/// Reasons told before the appendix has the others.
const REASONS: usize = 10;

impl Telling<'_> {
    /// Reasons, each once, with the things for which it holds.
    pub(super) fn reasons(&self, reasons: Vec<(String, String)>) -> Vec<Block> {
        self.reasons_under(self.say().why_missing, reasons)
    }

    /// The same under a heading of their own.
    pub(super) fn reasons_under(&self, heading: &str, reasons: Vec<(String, String)>) -> Vec<Block> {
        let mut by_reason: Vec<(String, Vec<String>)> = Vec::new();
        for (what, reason) in reasons {
            match by_reason.iter_mut().find(|(known, _)| *known == reason) {
                Some((_, things)) => things.push(what),
                None => by_reason.push((reason, vec![what])),
            }
        }
        if by_reason.is_empty() {
            return Vec::new();
        }
        let more = by_reason.len().saturating_sub(REASONS);
        by_reason.truncate(REASONS);
        let points = by_reason.into_iter().map(|(reason, mut things)| {
            let more = things.len().saturating_sub(NAMED);
            things.truncate(NAMED);
            if more > 0 {
                things.push(self.say().and_more.replace("{n}", &more.to_string()));
            }
            Point { depth: 0, number: None, text: format!("{}: {reason}", things.join(", ")).into() }
        });
        let mut points: Vec<Point> = points.collect();
        if more > 0 {
            let text = self.say().more_reasons.replace("{n}", &more.to_string());
            points.push(Point { depth: 0, number: None, text: text.into() });
        }
        vec![Block::Paragraph(Text::of(Tone::Quiet, format!("{heading}:"))), Block::List(points)]
    }
}
