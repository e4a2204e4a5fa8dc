//! How one tube was drawn and read, against its sheet.

use crate::check::notebook::{Notebook, Saying};
use crate::diagnose::code;
use crate::model::{Interference, Reading, Study, Tube};

/// A rule about one reading and its tube.
type Rule = fn(&Reading, &Tube, &Study) -> Vec<Saying>;

const RULES: [Rule; 8] =
    [strokes, conditions, unknown_conditions, interferents, pre_tube, colour, read_late, lot];

/// Checks every reading by itself, and the sheets behind them.
pub fn check(study: &Study, notebook: &mut Notebook) {
    for (_, name, tube) in study.tubes.iter().filter(|(.., t)| t.relative_sd.is_none()) {
        let message = format!("the sheet of {name} gives no relative standard deviation; 14 % is taken");
        let help = "add `relative_sd` from the tube sheet, as relative_sd: 10 %";
        notebook.note(&code::NO_RELATIVE_SD, vec![tube.span], message, help);
    }
    for (number, reading) in study.readings.iter().enumerate() {
        let tube = &study.tubes[reading.tube];
        let sayings = RULES.iter().flat_map(|rule| rule(reading, tube, study));
        sayings.for_each(|saying| notebook.of_reading(number, saying));
    }
}

fn sheet<'a>(reading: &Reading, study: &'a Study) -> &'a str {
    study.tubes.name(reading.tube)
}

fn strokes(reading: &Reading, tube: &Tube, study: &Study) -> Vec<Saying> {
    let listed = tube.other_strokes.iter().any(|(n, _)| *n == reading.strokes);
    if reading.strokes == tube.strokes || listed {
        return Vec::new();
    }
    let message = format!(
        "{} {} on the sheet of {}; the reading is scaled by {} / {}",
        reading.strokes,
        if reading.strokes == 1.0 { "stroke is not" } else { "strokes are not" },
        sheet(reading, study),
        tube.strokes,
        reading.strokes
    );
    let help = "draw the strokes that the sheet lists, or add its factor under `other_strokes`";
    vec![Saying::new(&code::STROKES_NOT_ON_SHEET, reading.at("strokes"), message, help)]
}

fn conditions(reading: &Reading, tube: &Tube, study: &Study) -> Vec<Saying> {
    let all = [
        ("temperature", " C", reading.temperature.map(|c| c.0), &tube.temperature),
        ("humidity", " %", reading.humidity, &tube.humidity),
    ];
    let outside = all.into_iter().filter_map(|(column, unit, value, points)| {
        let (value, first, last) = (value?, points.first()?.0, points.last()?.0);
        let message = format!(
            "a {column} outside the {first} to {last}{unit} of the sheet of {}; the nearest factor is used",
            sheet(reading, study)
        );
        let help =
            "look for a sheet that covers these conditions, or say in the note why this is good enough";
        let saying = || Saying::new(&code::CONDITIONS_OUTSIDE_SHEET, reading.at(column), message, help);
        (value < first || value > last).then(saying)
    });
    outside.collect()
}

/// Conditions for which the sheet corrects and which the reading does not tell.
fn unknown_conditions(reading: &Reading, tube: &Tube, study: &Study) -> Vec<Saying> {
    let all = [
        ("temperature", reading.temperature.is_none() && !tube.temperature.is_empty()),
        ("humidity", reading.humidity.is_none() && !tube.humidity.is_empty()),
        ("pressure", reading.pressure.is_none() && tube.pressure_proportional),
    ];
    let saying = |(column, _): &(&str, bool)| {
        let message = format!(
            "the sheet of {} corrects for {column}, which is not told; no correction is made",
            sheet(reading, study)
        );
        let help = "write the condition beside each reading, or say in the note why it does not matter";
        Saying::new(&code::CONDITIONS_MISSING, reading.at(column), message, help)
    };
    all.iter().filter(|(_, unknown)| *unknown).map(saying).collect()
}

fn interferents(reading: &Reading, _: &Tube, study: &Study) -> Vec<Saying> {
    let saying = |(interference, amount): (&Interference, Option<f64>)| {
        let direction = if interference.reads_higher { "higher" } else { "lower" };
        let amount = amount.map_or("in an unknown amount".to_owned(), |ppm| format!("at {ppm} ppm"));
        let message = format!(
            "{} reads {direction} by {}, present {amount}; the true values lie in a range",
            sheet(reading, study),
            interference.agent
        );
        let help = "measure the other substance, or use a tube that does not show it";
        Saying::new(&code::INTERFERENT_PRESENT, reading.at("present"), message, help)
    };
    study.interferents(reading).map(saying).collect()
}

fn pre_tube(reading: &Reading, tube: &Tube, study: &Study) -> Vec<Saying> {
    let Some(wanted) = &tube.pre_tube else { return Vec::new() };
    let used = reading.pre_tube.as_deref().unwrap_or("no");
    if used.eq_ignore_ascii_case(wanted) || used.eq_ignore_ascii_case("yes") {
        return Vec::new();
    }
    let said = match used {
        "no" | "none" => "none is told".to_owned(),
        other => format!("`{other}` is told"),
    };
    let message = format!("the sheet of {} asks for the pre-tube `{wanted}`; {said}", sheet(reading, study));
    let help = format!("write {wanted}, or yes, where it was used; otherwise draw the tubes again with it");
    vec![Saying::new(&code::PRE_TUBE_MISSING, reading.at("pre_tube"), message, help)]
}

/// Words that say that the colour was right without naming it.
const AS_IT_SHOULD_BE: [&str; 2] = ["yes", "ok"];

fn colour(reading: &Reading, tube: &Tube, study: &Study) -> Vec<Saying> {
    let (Some(sheet_says), Some(seen)) = (&tube.colour, &reading.colour) else { return Vec::new() };
    let is_word_of = |text: &str, word: &str| text.split(|c: char| !c.is_alphanumeric()).any(|w| w == word);
    let (wanted, found) = (sheet_says.to_lowercase(), seen.to_lowercase());
    // The last word of `yellow to dark blue` is the colour of the stain; its shades have it too.
    let last = wanted.split(|c: char| !c.is_alphanumeric()).rfind(|word| !word.is_empty());
    if AS_IT_SHOULD_BE.contains(&found.as_str()) || last.is_none_or(|last| is_word_of(&found, last)) {
        return Vec::new();
    }
    let message = format!("{} turns {sheet_says}, but {seen} was seen", sheet(reading, study));
    let help =
        "find out which substance or fault made that colour, and reject the reading if it cannot be told";
    vec![Saying::new(&code::COLOUR_OFF, reading.at("colour"), message, help)]
}

fn read_late(reading: &Reading, tube: &Tube, study: &Study) -> Vec<Saying> {
    let (Some(within), Some(after)) = (tube.read_within, reading.read_after) else { return Vec::new() };
    if after.0 <= within.0 {
        return Vec::new();
    }
    let message =
        format!("read later than the {} min that the sheet of {} allows", within.0, sheet(reading, study));
    let help = "read tubes at once; a stain read late stays doubtful";
    vec![Saying::new(&code::READ_TOO_LATE, reading.at("read_after"), message, help)]
}

/// The lot: past its date, or without one where other lots have theirs.
fn lot(reading: &Reading, tube: &Tube, study: &Study) -> Vec<Saying> {
    if tube.expires.is_empty() {
        return Vec::new();
    }
    let (tube_name, at) = (sheet(reading, study), reading.at("lot"));
    let day = study.clock.local(reading.start).date();
    let known = reading.lot.as_ref().and_then(|lot| tube.expires.iter().find(|(name, _)| name == lot));
    match (known, &reading.lot) {
        (Some((_, last)), _) if day <= *last => Vec::new(),
        (Some((lot, last)), _) => {
            let message = format!("drawn from lot {lot} of {tube_name} after its last day, {last}");
            let help = "draw the tubes again from a lot in date; correct the date if it was copied wrongly";
            vec![Saying::new(&code::LOT_EXPIRED, at, message, help)]
        }
        (None, Some(lot)) => {
            let message = format!("no last day is given for lot {lot} of {tube_name}");
            let help = format!("add it to the tube sheet, as expires: {{{lot}: 2028-05-31}}");
            vec![Saying::new(&code::LOT_UNKNOWN, at, message, help)]
        }
        (None, None) => {
            let message =
                format!("the lot of {tube_name} is not told, so it cannot be seen whether it was in date");
            vec![Saying::new(&code::LOT_UNKNOWN, at, message, "write the lot beside each reading")]
        }
    }
}
