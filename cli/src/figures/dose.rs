//! The share of each task in the dose of each shift: a bar a shift, patterns for tasks.

use super::letters::{cut, width};
use super::rows::{self, LEFT, RIGHT, Sign, WIDTH, small};
use super::shape::{Anchor, Drawing, Fill, Ink, PATTERNS, Shape};
use super::shift_figures::named;
use crate::language::Language;
use crate::page::number;
use fullshift_engine::model::assessment::ShiftResult;

/// The drawing; `None` where no shift has a dose to share out.
pub(crate) fn dose(shifts: &[&ShiftResult], language: &Language) -> Option<Drawing> {
    let tasks = tasks(shifts);
    if tasks.is_empty() {
        return None;
    }
    let mut shapes = Vec::new();
    let shown =
        |task: usize| if task < PATTERNS - 1 { tasks[task].0.as_str() } else { language.say.fig_other_tasks };
    let entries: Vec<(Sign, String)> = (0..tasks.len().min(PATTERNS))
        .map(|task| (Sign::Surface(Fill::Pattern(task)), shown(task).to_owned()))
        .collect();
    let top = rows::key(&entries, LEFT, WIDTH, 4.0, &mut shapes) + 6.0;
    let height = rows::height(shifts.len());
    rows::names(shifts, top, language, &mut shapes);
    for (row, shift) in shifts.iter().enumerate() {
        bar(shift, &tasks, top + height * row as f64, height, language, &mut shapes);
    }
    let bottom = top + height * shifts.len() as f64;
    for part in 0..=4 {
        let x = LEFT + (RIGHT - LEFT) * f64::from(part) / 4.0;
        shapes.push(Shape::line((x, bottom), (x, bottom + 4.0), Ink::Quiet, 1.0));
        let words = number::percent(f64::from(part) / 4.0);
        shapes.push(small((x, bottom + 16.0), words, Anchor::Middle, Ink::Quiet));
    }
    let middle = ((LEFT + RIGHT) / 2.0, bottom + 32.0);
    shapes.push(small(middle, language.say.fig_dose_axis, Anchor::Middle, Ink::Data));
    Some(Drawing {
        title: named(language.say.fig_dose_title, shifts),
        description: description(shifts, &tasks, language),
        width: WIDTH,
        height: bottom + 40.0,
        shapes,
    })
}

/// Every task with its highest share, the highest first.
fn tasks(shifts: &[&ShiftResult]) -> Vec<(String, f64)> {
    let mut tasks: Vec<(String, f64)> = Vec::new();
    for task in shifts.iter().flat_map(|shift| &shift.tasks) {
        let Some(share) = task.share_of_dose.value() else { continue };
        match tasks.iter_mut().find(|(name, _)| *name == task.task) {
            Some((_, highest)) => *highest = highest.max(share),
            None => tasks.push((task.task.clone(), share)),
        }
    }
    tasks.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
    tasks
}

fn bar(
    shift: &ShiftResult,
    tasks: &[(String, f64)],
    top: f64,
    height: f64,
    language: &Language,
    shapes: &mut Vec<Shape>,
) {
    let mut x = LEFT;
    let (y, tall) = (top + 2.0, height - 4.0);
    for (at, (name, _)) in tasks.iter().enumerate() {
        let own = shift.tasks.iter().filter(|task| task.task == *name);
        let share: f64 = own.filter_map(|task| task.share_of_dose.value()).sum();
        let wide = share * (RIGHT - LEFT);
        if wide < 0.5 {
            continue;
        }
        let pattern = Fill::Pattern(at.min(PATTERNS - 1));
        shapes.push(Shape::rectangle((x, y), (wide, tall), pattern, Some(Ink::Data)));
        let words = language.notation.digits(&number::percent(share));
        let needs = width(&words, 10.0) + 4.0;
        if wide >= needs + 6.0 && tall >= 12.0 {
            let middle = x + wide / 2.0;
            shapes.push(Shape::rectangle(
                (middle - needs / 2.0, y + 1.5),
                (needs, tall - 3.0),
                Fill::Ink(Ink::Paper),
                None,
            ));
            shapes.push(small((middle, y + tall / 2.0 + 3.5), words, Anchor::Middle, Ink::Data));
        }
        x += wide;
    }
    if x == LEFT {
        shapes.push(small((LEFT + 4.0, y + tall / 2.0 + 3.5), "–", Anchor::Start, Ink::Quiet));
    }
}

fn description(shifts: &[&ShiftResult], tasks: &[(String, f64)], language: &Language) -> String {
    let say = &language.say;
    let range = |name: &str| {
        let shares = || {
            let tasks = shifts.iter().flat_map(|shift| &shift.tasks).filter(|task| task.task == name);
            tasks.filter_map(|task| task.share_of_dose.value())
        };
        let [low, high] = [shares().fold(1.0, f64::min), shares().fold(0.0, f64::max)].map(number::percent);
        say.from_to.replace("{low}", &low).replace("{high}", &high)
    };
    let tasks: Vec<String> =
        tasks.iter().map(|(name, _)| format!("{} {}", cut(name, 10.0, 400.0), range(name))).collect();
    say.fig_dose_text
        .replace("{shifts}", &language.counted(shifts.len(), (say.shift_one, say.shift_more)))
        .replace("{tasks}", &tasks.join("; "))
}
