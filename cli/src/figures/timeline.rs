//! The readings of each shift over its time, with its tasks, its TWA and the limits: a panel a shift.

use super::axis::Axis;
use super::letters::{cut, width};
use super::rows::{self, Sign, small, upright};
use super::shape::{Anchor, Drawing, Fill, Ink, PATTERNS, Shape, Symbol};
use super::spread::spread;
use crate::language::{Language, filled};
use crate::page::figure::{Form, with_unit_in};
use crate::page::number;
use fullshift_engine::model::LimitKind;
use fullshift_engine::model::assessment::{ReadingResult, ShiftResult};

const WIDTH: f64 = 720.0;
const LEFT: f64 = 58.0;
const RIGHT: f64 = 590.0;
/// Height of a panel with its heading, its tasks and its hours.
const PANEL: f64 = 156.0;
/// Where the concentrations of a panel begin and end, from its top.
const UPPER: f64 = 38.0;
const LOWER: f64 = 132.0;
/// Panels of one drawing.
const PANELS: usize = 5;

/// A drawing for every few shifts whose diary tells the time of day.
pub(crate) fn timelines(
    shifts: &[&ShiftResult],
    readings: &[ReadingResult],
    language: &Language,
) -> Vec<Drawing> {
    let clocked: Vec<&ShiftResult> = shifts.iter().copied().filter(|shift| !shift.diary.is_empty()).collect();
    let tasks = tasks(&clocked);
    clocked.chunks(PANELS).map(|shifts| drawing(shifts, readings, &tasks, language)).collect()
}

/// The tasks of all shifts, each with its pattern by its place.
fn tasks<'a>(shifts: &[&'a ShiftResult]) -> Vec<&'a str> {
    let mut tasks: Vec<&str> = Vec::new();
    for stretch in shifts.iter().flat_map(|shift| &shift.diary) {
        if !tasks.contains(&stretch.task.as_str()) {
            tasks.push(&stretch.task);
        }
    }
    tasks
}

fn drawing(
    shifts: &[&ShiftResult],
    readings: &[ReadingResult],
    tasks: &[&str],
    language: &Language,
) -> Drawing {
    let axis = Axis::logarithmic(values(shifts, readings), LOWER, UPPER);
    let mut shapes = Vec::new();
    let mut signs = Signs::default();
    for (at, shift) in shifts.iter().enumerate() {
        let own =
            readings.iter().filter(|r| r.shift.as_ref() == Some(&shift.shift) && r.agent == shift.agent);
        let panel =
            Panel { shift, readings: own.collect(), tasks, axis: &axis, top: PANEL * at as f64, language };
        shapes.extend(panel.shapes(&mut signs));
    }
    let bottom = PANEL * shifts.len() as f64 + 4.0;
    let mut entries = signs.entries(language);
    let worked =
        |task: &&str| shifts.iter().flat_map(|shift| &shift.diary).any(|stretch| stretch.task == **task);
    let patterned = tasks.iter().enumerate().filter(|(_, task)| worked(task));
    entries.extend(
        patterned.map(|(at, task)| (Sign::Surface(Fill::Pattern(at.min(PATTERNS - 1))), (*task).to_owned())),
    );
    let end = rows::key(&entries, LEFT, WIDTH, bottom, &mut shapes);
    Drawing {
        title: title(shifts, language),
        description: description(shifts, readings, language),
        width: WIDTH,
        height: end,
        shapes,
    }
}

fn values<'a>(shifts: &'a [&ShiftResult], readings: &'a [ReadingResult]) -> impl Iterator<Item = f64> + 'a {
    shifts.iter().flat_map(|shift| {
        let own =
            readings.iter().filter(|r| r.shift.as_ref() == Some(&shift.shift) && r.agent == shift.agent);
        let ends = own.flat_map(|reading| [Some(reading.low), reading.high]);
        let limits = shift.limits.iter().map(|limit| limit.limit.value());
        ends.chain(limits).chain([shift.twa.value(), shift.twa.low()]).flatten().collect::<Vec<f64>>()
    })
}

struct Panel<'a> {
    shift: &'a ShiftResult,
    readings: Vec<&'a ReadingResult>,
    tasks: &'a [&'a str],
    axis: &'a Axis,
    top: f64,
    language: &'a Language,
}

impl Panel<'_> {
    fn shapes(&self, signs: &mut Signs) -> Vec<Shape> {
        let mut shapes = Vec::new();
        self.heading(&mut shapes);
        self.frame(&mut shapes);
        self.strip(&mut shapes);
        self.levels(signs, &mut shapes);
        self.points(signs, &mut shapes);
        shapes
    }

    fn y(&self, value: f64) -> f64 {
        self.top + self.axis.at(value)
    }

    /// The last minute that the panel shows.
    fn length(&self) -> f64 {
        self.shift.diary.iter().map(|stretch| stretch.to).fold(1.0, f64::max)
    }

    fn x(&self, minutes: f64) -> f64 {
        LEFT + (minutes / self.length()).clamp(0.0, 1.0) * (RIGHT - LEFT)
    }

    fn heading(&self, shapes: &mut Vec<Shape>) {
        let times = format!(
            "{} – {}",
            self.language.moment(&self.shift.start),
            time(self.shift.end.as_deref().unwrap_or_default())
        );
        let worker = cut(&self.shift.worker, 11.0, RIGHT - LEFT - width(&times, 10.0) - 24.0);
        let beside = LEFT + width(&worker, 11.0) + 16.0;
        shapes.push(Shape::words((LEFT, self.top + 14.0), worker, Anchor::Start, Ink::Data).bold());
        shapes.push(small((beside, self.top + 14.0), times, Anchor::Start, Ink::Quiet));
    }

    fn frame(&self, shapes: &mut Vec<Shape>) {
        for (y, words) in self.axis.ticks(19.0, &self.language.notation) {
            let y = self.top + y;
            shapes.push(Shape::line((LEFT, y), (RIGHT, y), Ink::Grid, 0.6));
            shapes.push(small((LEFT - 5.0, y + 3.5), words, Anchor::End, Ink::Quiet));
        }
        let (upper, lower) = (self.top + UPPER, self.top + LOWER);
        let corners = vec![(LEFT, upper), (LEFT, lower), (RIGHT, lower)];
        shapes.push(Shape::Line { points: corners, ink: Ink::Quiet, width: 1.0, dashed: false });
        let unit = self.shift.limits.first().map_or(self.shift.twa.unit(), |limit| limit.limit.unit());
        shapes.push(small((4.0, upper - 8.0), unit, Anchor::Start, Ink::Data));
        for (minutes, words, offset) in self.hours() {
            let x = self.x(minutes);
            let offset = offset.map(|offset| small((x, lower + 25.0), offset, Anchor::Middle, Ink::Quiet));
            shapes.extend(offset);
            shapes.push(Shape::line((x, lower), (x, lower + 4.0), Ink::Quiet, 1.0));
            shapes.push(small((x, lower + 15.0), words, Anchor::Middle, Ink::Quiet));
        }
    }

    /// Full hours of the clock within the shift, every one or every other; in an hour shown twice with the offset from UTC.
    fn hours(&self) -> Vec<(f64, String, Option<&str>)> {
        let length = self.length();
        let every = if length > 600.0 { 2 } else { 1 };
        let minutes = (0..=(length + 1e-6) as i64).map(|minute| (minute, self.clock_at(minute)));
        let full = minutes.filter(|(_, shown)| shown % 60 == 0).step_by(every);
        full.map(|(minute, shown)| {
            let words = format!("{:02}:00", (shown / 60).rem_euclid(24));
            (minute as f64, words, self.offset_at(minute as f64))
        })
        .collect()
    }

    /// The minute of the day that the clock shows so many minutes into the shift; past midnight it goes on.
    fn clock_at(&self, minute: i64) -> i64 {
        let (hour, start) = clock(&self.shift.start);
        let past = self.shift.clock_changes.iter().filter(|change| change.minutes <= minute as f64);
        let put_forward: f64 = past.map(|change| change.forward_minutes).sum();
        (hour * 60.0 + start + put_forward).round() as i64 + minute
    }

    /// The offset from UTC, in the hour that the clock shows twice.
    fn offset_at(&self, minutes: f64) -> Option<&str> {
        let put_back = self.shift.clock_changes.iter().filter(|change| change.forward_minutes < 0.0);
        put_back.into_iter().find_map(|change| match minutes - change.minutes {
            since if since >= change.forward_minutes && since < 0.0 => Some(change.before.as_str()),
            since if since >= 0.0 && since < -change.forward_minutes => Some(change.after.as_str()),
            _ => None,
        })
    }

    /// What was done, as a strip with patterns; the name stands in it where there is room.
    fn strip(&self, shapes: &mut Vec<Shape>) {
        let (y, tall) = (self.top + UPPER - 17.0, 14.0);
        for stretch in &self.shift.diary {
            let (from, to) = (self.x(stretch.from), self.x(stretch.to));
            let pattern =
                self.tasks.iter().position(|task| *task == stretch.task).unwrap_or(0).min(PATTERNS - 1);
            shapes.push(Shape::rectangle(
                (from, y),
                (to - from, tall),
                Fill::Pattern(pattern),
                Some(Ink::Data),
            ));
            let words = cut(&stretch.task, 10.0, to - from - 8.0);
            if words.chars().count() >= 3.min(stretch.task.chars().count()) && words != "…" {
                let wide = width(&words, 10.0) + 3.0;
                let middle = (from + to) / 2.0;
                let ground = Shape::rectangle(
                    (middle - wide / 2.0, y + 1.0),
                    (wide, tall - 2.0),
                    Fill::Ink(Ink::Paper),
                    None,
                );
                shapes.extend([ground, small((middle, y + 10.5), words, Anchor::Middle, Ink::Data)]);
            }
        }
    }

    /// The TWA with its range across the shift, and the limits; their words at the right, none over another.
    fn levels(&self, signs: &mut Signs, shapes: &mut Vec<Shape>) {
        let say = &self.language.say;
        let mut labels: Vec<(f64, String, Ink)> = Vec::new();
        let shown = |value: f64| self.language.notation.digits(&number::number(value));
        if let (Some(low), Some(high)) = (self.shift.twa.low(), self.shift.twa.high()) {
            let (top, bottom) = (self.y(high), self.y(low));
            let size = (RIGHT - LEFT, (bottom - top).max(0.5));
            shapes.push(Shape::rectangle((LEFT, top), size, Fill::Band, None));
        }
        if let Some(twa) = self.shift.twa.value() {
            signs.twa = true;
            let y = self.y(twa);
            shapes.push(Shape::line((LEFT, y), (RIGHT, y), Ink::Fit, 1.8));
            labels.push((y, format!("{} {}", say.fig_twa, shown(twa)), Ink::Fit));
        }
        for limit in &self.shift.limits {
            let Some(value) = limit.limit.value() else { continue };
            let y = self.y(value);
            shapes.push(Shape::dashes((LEFT, y), (RIGHT, y), Ink::Limit, 1.8));
            let value = self.language.notation.digits(&number::entered(value));
            let words = match limit.kind {
                LimitKind::Twa => say.fig_limit.replace("{value}", &value),
                LimitKind::ShortTerm => format!("{} {value}", say.kind_short_term),
                LimitKind::Ceiling | LimitKind::Mixture => format!("{} {value}", say.kind_ceiling),
            };
            labels.push((y, words, Ink::Limit));
        }
        let wanted: Vec<f64> = labels.iter().map(|(y, ..)| *y).collect();
        let places = spread(&wanted, 12.0, self.top + UPPER - 8.0, self.top + LOWER + 8.0);
        for ((y, words, ink), place) in labels.into_iter().zip(places) {
            if (y - place).abs() > 2.0 {
                shapes.push(Shape::line((RIGHT + 1.0, y), (RIGHT + 7.0, place), Ink::Quiet, 0.7));
            }
            let words = cut(&words, 10.0, WIDTH - RIGHT - 10.0);
            shapes.push(small((RIGHT + 9.0, place + 3.5), words, Anchor::Start, ink).bold());
        }
    }

    fn points(&self, signs: &mut Signs, shapes: &mut Vec<Shape>) {
        for reading in &self.readings {
            let Some(minutes) = reading.minutes_into_shift else { continue };
            let x = self.x(minutes + reading.drawn_minutes.unwrap_or(0.0) / 2.0);
            let middle = reading.high.map_or(reading.low, |high| (reading.low + high) / 2.0);
            if !reading.used {
                signs.unused = true;
                shapes.push(Shape::Mark { at: (x, self.y(middle)), symbol: Symbol::Cross });
            } else if reading.high == Some(reading.low) {
                signs.points = true;
                shapes.push(Shape::Mark { at: (x, self.y(middle)), symbol: Symbol::Disc });
            } else {
                signs.ranges = true;
                let (top, bottom) = (self.y(reading.high.unwrap_or(f64::INFINITY)), self.y(reading.low));
                shapes.extend(upright(x, top, bottom));
                if reading.high.is_none() {
                    shapes.push(Shape::arrow((x, top), (0.0, -1.0)));
                }
                if self.axis.is_below(reading.low) {
                    shapes.push(Shape::arrow((x, bottom - 2.0), (0.0, 1.0)));
                }
            }
        }
    }
}

/// Which signs the drawing uses.
#[derive(Default)]
struct Signs {
    points: bool,
    ranges: bool,
    unused: bool,
    twa: bool,
}

impl Signs {
    fn entries(&self, language: &Language) -> Vec<(Sign, String)> {
        let say = &language.say;
        let all = [
            (self.points, Sign::Symbol(Symbol::Disc), say.fig_reading),
            (self.ranges, Sign::Upright, say.fig_reading_range),
            (self.unused, Sign::Symbol(Symbol::Cross), say.fig_unused),
            (self.twa, Sign::Line(Ink::Fit, false), say.fig_twa_band),
        ];
        all.into_iter().filter(|(used, ..)| *used).map(|(_, sign, words)| (sign, words.to_owned())).collect()
    }
}

/// The hour and minute of a moment as the tables have it, with or without an offset behind it.
fn clock(stamp: &str) -> (f64, f64) {
    let time = time(stamp).split(' ').next().unwrap_or_default();
    let (hour, minute) = time.split_once(':').unwrap_or(("0", "0"));
    (hour.parse().unwrap_or(0.0), minute.parse().unwrap_or(0.0))
}

fn time(stamp: &str) -> &str {
    stamp.split_once(' ').map_or(stamp, |(_, time)| time)
}

fn title(shifts: &[&ShiftResult], language: &Language) -> String {
    let name = |shift: &&ShiftResult| format!("{} {}", shift.worker, language.short_date(&shift.start));
    let [first, last] = [shifts.first(), shifts.last()].map(|shift| shift.map_or_else(String::new, name));
    let sentence = match shifts {
        [_] => language.say.fig_time_title_one,
        _ => language.say.fig_time_title,
    };
    let sentence = super::shift_figures::named(sentence, shifts);
    filled(&sentence, &[("from", first.into()), ("to", last.into())]).words()
}

fn description(shifts: &[&ShiftResult], readings: &[ReadingResult], language: &Language) -> String {
    let say = &language.say;
    let panels: Vec<String> = shifts
        .iter()
        .map(|shift| {
            let own =
                readings.iter().filter(|r| r.shift.as_ref() == Some(&shift.shift) && r.agent == shift.agent);
            say.fig_time_panel
                .replace("{worker}", &shift.worker)
                .replace("{start}", &language.moment(&shift.start))
                .replace("{readings}", &language.counted(own.count(), (say.reading_one, say.reading_more)))
                .replace("{twa}", &with_unit_in(&shift.twa, Form::Amount, &language.notation))
        })
        .collect();
    let unit = shifts.iter().map(|shift| shift.twa.unit()).find(|unit| !unit.is_empty()).unwrap_or_default();
    say.fig_time_text.replace("{unit}", unit).replace("{panels}", &panels.join(" "))
}
