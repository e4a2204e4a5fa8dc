//! The lognormal profile of each group: a row a figure, a column a limit; and how well the distribution fits.

use super::telling::{Pair, Telling, group_address, of_group};
use crate::figures;
use crate::page::figure::Form;
use crate::page::{Block, Captioned, Column, Section, Table, Text, Tone, number};
use fullshift_engine::model::Figure;
use fullshift_engine::model::assessment::{GroupResult, Raised};

/// The figures of the profile and what kind of number each is.
const FIGURES: [(&str, Form); 21] = [
    ("gm", Form::Amount),
    ("gsd", Form::Amount),
    ("mean", Form::Amount),
    ("p95", Form::Amount),
    ("p95_by_rank", Form::Amount),
    ("exceedance", Form::Share),
    ("posterior/p95_above_limit", Form::Share),
    ("posterior/mean_above_limit", Form::Share),
    ("posterior_flat/p95_above_limit", Form::Share),
    ("posterior_flat/mean_above_limit", Form::Share),
    ("workers/gsd_between", Form::Amount),
    ("workers/gsd_within", Form::Amount),
    ("workers/share_over", Form::Share),
    ("workers/homogeneity", Form::Amount),
    ("shapiro_wilk_ln", Form::Amount),
    ("plot_correlation", Form::Ratio),
    ("trend", Form::Amount),
    ("second_opinion/gm_order_regression", Form::Amount),
    ("second_opinion/gsd_order_regression", Form::Amount),
    ("second_opinion/mean_turnbull", Form::Amount),
    ("second_opinion/p95_turnbull", Form::Amount),
];

pub(super) fn sections(telling: &Telling<'_>) -> Vec<Section> {
    let mut section = Section::placed(0, "profile", telling.say().profile);
    for (at, pair) in telling.pairs().iter().enumerate().filter(|(_, pair)| !pair.groups.is_empty()) {
        told(telling, pair, at, &mut section);
    }
    if section.blocks.is_empty() {
        section.say(telling.say().no_verdict);
    }
    vec![section]
}

fn told(telling: &Telling<'_>, pair: &Pair<'_>, at: usize, section: &mut Section) {
    let say = telling.say();
    let key = format!("profile-{at}");
    let workers = pair.groups.iter().map(|group| group.workers.workers).max().unwrap_or(0);
    let shifts = pair.groups.iter().map(|group| group.n).max().unwrap_or(0);
    let [group, agent] = pair.names();
    section.say(telling.fill(
        say.profile_words,
        &[
            ("table", Text::caption(&key)),
            ("shifts", telling.counted(shifts, say.shift_one, say.shift_more)),
            ("workers", telling.counted(workers, say.worker_one, say.worker_more)),
            group,
            agent,
        ],
    ));
    let caption = telling.fill(say.profile_caption, &pair.names());
    section.blocks.push(Block::Table(table(telling, pair).captioned(key, caption)));
    section.blocks.extend(telling.reasons(missing(telling, pair)));
    for group in &pair.groups {
        remarks(telling, group, section);
        if let Some(drawing) = figures::probability(group, telling.language) {
            let key = format!("probability-{at}-{}", group.kind.word());
            section.say(telling.fill(say.profile_plot, &[("figure", Text::caption(&key))]));
            section.blocks.push(Block::Drawing(Captioned::new(key, drawing.title.clone(), drawing)));
        }
    }
}

fn table(telling: &Telling<'_>, pair: &Pair<'_>) -> Table {
    let say = telling.say();
    let mut columns = vec![Column::words(say.col_figure)];
    let unit = telling.unit(pair.agent);
    columns.extend(pair.groups.iter().map(|group| {
        let head = format!("{}, {}", telling.kind(group.kind), telling.limit(&group.limit));
        Column::numbers(if unit.is_empty() { head } else { format!("{head} ({unit})") })
    }));
    let shifts = pair.groups.iter().map(|group| Text::from(shifts(telling, group)));
    let mut rows: Vec<Vec<Text>> = vec![std::iter::once(say.in_profile.into()).chain(shifts).collect()];
    for (name, form) in FIGURES {
        let given = |group: &&GroupResult| of_group(group, name).is_some_and(|f| f.reason().is_none());
        if !pair.groups.iter().any(given) {
            continue;
        }
        let cells = pair.groups.iter().map(|group| {
            let figure = of_group(group, name);
            figure.map_or_else(Text::default, |f| telling.figure(f, form, group_address(group, name)))
        });
        rows.push(std::iter::once(telling.language.figure(name).into()).chain(cells).collect());
    }
    Table::of(columns, rows)
}

fn shifts(telling: &Telling<'_>, group: &GroupResult) -> String {
    match group.censored {
        0 => group.n.to_string(),
        ranges => {
            let sentence = telling.say().as_ranges.replace("{n}", &group.n.to_string());
            sentence.replace("{ranges}", &ranges.to_string())
        }
    }
}

/// Why figures of the profile itself are not given.
fn missing(telling: &Telling<'_>, pair: &Pair<'_>) -> Vec<(String, String)> {
    let reason = |group: &&GroupResult| {
        let kind = telling.kind(group.kind);
        let own: Vec<(String, String)> = group
            .profile
            .iter()
            .filter_map(|(name, figure): &(&str, Figure)| {
                Some((format!("{kind}, {}", telling.language.figure(name)), figure.reason()?.to_owned()))
            })
            .collect();
        own
    };
    let left_out = |group: &&GroupResult| {
        let kind = telling.kind(group.kind);
        let own = group.left_out.iter();
        own.map(|shift| (format!("{kind}, {}", shift.shift), shift.reason.clone())).collect::<Vec<_>>()
    };
    pair.groups.iter().flat_map(reason).chain(pair.groups.iter().flat_map(left_out)).collect()
}

fn remarks(telling: &Telling<'_>, group: &GroupResult, section: &mut Section) {
    let say = telling.say();
    if !group.workers.apart.is_empty() {
        let workers = telling.language.list(&group.workers.apart);
        section.say(telling.fill(say.apart_words, &[("workers", workers.into())]));
    }
    if !group.raised.is_empty() {
        let times = |shift: &Raised| {
            let times = telling.language.notation.digits(&number::number(shift.factor));
            format!("{} × {times}", shift.shift)
        };
        let shifts: Vec<String> = group.raised.iter().map(times).collect();
        section.say(telling.fill(say.raised_words, &[("shifts", telling.language.list(&shifts).into())]));
    }
    let chance = of_group(group, "posterior/p95_above_limit").is_some_and(|f| f.value().is_some());
    if chance {
        let prior = [("prior", Text::from(group.posterior.prior.as_str()))];
        let words = telling.fill(say.prior_words, &prior).words();
        section.say(Text::of(Tone::Quiet, words));
    }
}
