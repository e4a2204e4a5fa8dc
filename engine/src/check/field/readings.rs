//! How one tube was drawn and read, against its sheet.

use crate::check::notebook::{Notebook, Saying};
use crate::diagnose::{Code, code};
use crate::model::{Column, Reading, Stain, Study, Tube};

/// A reading that is looked at, with its tube.
struct Look<'a, 'b> {
    number: usize,
    reading: &'a Reading,
    tube: &'a Tube,
    study: &'a Study,
    notebook: &'a mut Notebook<'b>,
}

impl Look<'_, '_> {
    /// Says something of the cell in `column`; the words are a message and a remedy.
    fn say(&mut self, code: &'static Code, column: Column, words: impl FnOnce(&str) -> (String, String)) {
        let (reading, sheet) = (self.reading, self.study.tubes.name(self.reading.tube));
        self.notebook.of_reading(self.number, code, || {
            let (message, help) = words(sheet);
            Saying::new(reading.at(column), message, help)
        });
    }
}

/// A rule about one reading and its tube.
type Rule = fn(&mut Look);

const RULES: [Rule; 9] =
    [strokes, slanted, conditions, unknown_conditions, interferents, pre_tube, colour, read_late, lot];

/// How many times as long as its shortest point a slanted stain may be at its longest.
const MOST_SLANTED: f64 = 3.0;

/// Checks every reading by itself, and the sheets behind them.
pub fn check(study: &Study, notebook: &mut Notebook) {
    for (_, name, tube) in study.tubes.iter().filter(|(.., t)| t.relative_sd.is_none()) {
        notebook.note(&code::NO_RELATIVE_SD, || {
            let message = format!("the sheet of {name} gives no relative standard deviation; 14 % is taken");
            let help = "add `relative_sd` from the tube sheet, as relative_sd: 10 %";
            Saying::new(tube.span, message, help)
        });
    }
    for (number, reading) in study.readings.iter().enumerate() {
        let tube = &study.tubes[reading.tube];
        RULES.iter().for_each(|rule| rule(&mut Look { number, reading, tube, study, notebook }));
    }
}

fn strokes(look: &mut Look) {
    let (drawn, tube) = (look.reading.strokes, look.tube);
    let listed = tube.other_strokes.iter().any(|(n, _)| *n == drawn);
    if drawn == tube.strokes || listed {
        return;
    }
    look.say(&code::STROKES_NOT_ON_SHEET, Column::Strokes, |sheet| {
        let message = format!(
            "{drawn} {} on the sheet of {sheet}; the reading is scaled by {} / {drawn}",
            if drawn == 1.0 { "stroke is not" } else { "strokes are not" },
            tube.strokes,
        );
        (message, "draw the strokes that the sheet lists, or add its factor under `other_strokes`".to_owned())
    });
}

fn slanted(look: &mut Look) {
    let Stain::Slanted(shortest, longest) = look.reading.stain else { return };
    if longest <= MOST_SLANTED * shortest {
        return;
    }
    look.say(&code::VERY_SLANTED, Column::Reading, |sheet| {
        let message = format!(
            "a stain of {sheet} whose longest point is more than three times its shortest; their mean says little"
        );
        let help = "draw the tube again, or write the stain as a range between two marks, as 5..20";
        (message, help.to_owned())
    });
}

fn conditions(look: &mut Look) {
    let (told, tube) = (look.reading.circumstances(), look.tube);
    let all = [
        (Column::Temperature, " C", told.temperature.map(|c| c.0), &tube.temperature),
        (Column::Humidity, " %", told.humidity, &tube.humidity),
    ];
    for (column, unit, value, points) in all {
        let (Some(value), Some(first), Some(last)) = (value, points.first(), points.last()) else { continue };
        let (first, last) = (first.0, last.0);
        if value < first || value > last {
            look.say(&code::CONDITIONS_OUTSIDE_SHEET, column, |sheet| {
                let message = format!(
                    "a {column} outside the {first} to {last}{unit} of the sheet of {sheet}; the nearest factor is used"
                );
                let help = "look for a sheet that covers these conditions, or say in the note why this is good enough";
                (message, help.to_owned())
            });
        }
    }
}

/// Conditions for which the sheet corrects and which the reading does not tell.
fn unknown_conditions(look: &mut Look) {
    let (told, tube) = (look.reading.circumstances(), look.tube);
    let all = [
        (Column::Temperature, told.temperature.is_none() && !tube.temperature.is_empty()),
        (Column::Humidity, told.humidity.is_none() && !tube.humidity.is_empty()),
        (Column::Pressure, told.pressure.is_none() && tube.pressure_proportional),
    ];
    for (column, _) in all.into_iter().filter(|(_, unknown)| *unknown) {
        look.say(&code::CONDITIONS_MISSING, column, |sheet| {
            let message = format!(
                "the sheet of {sheet} corrects for {column}, which is not told; no correction is made"
            );
            let help = "write the condition beside each reading, or say in the note why it does not matter";
            (message, help.to_owned())
        });
    }
}

fn interferents(look: &mut Look) {
    let (study, reading) = (look.study, look.reading);
    for (interference, amount) in study.interferents(reading) {
        look.say(&code::INTERFERENT_PRESENT, Column::Present, |sheet| {
            let direction = if interference.reads_higher { "higher" } else { "lower" };
            let amount = amount.map_or("in an unknown amount".to_owned(), |ppm| format!("at {ppm} ppm"));
            let message = format!(
                "{sheet} reads {direction} by {}, present {amount}; the true values lie in a range",
                interference.agent
            );
            (message, "measure the other substance, or use a tube that does not show it".to_owned())
        });
    }
}

fn pre_tube(look: &mut Look) {
    let Some(wanted) = &look.tube.pre_tube else { return };
    let used = look.reading.circumstances().pre_tube.as_deref().unwrap_or("no");
    if used.eq_ignore_ascii_case(wanted) || used.eq_ignore_ascii_case("yes") {
        return;
    }
    look.say(&code::PRE_TUBE_MISSING, Column::PreTube, |sheet| {
        let said = match used {
            "no" | "none" => "none is told".to_owned(),
            other => format!("`{other}` is told"),
        };
        let message = format!("the sheet of {sheet} asks for the pre-tube `{wanted}`; {said}");
        (
            message,
            format!("write {wanted}, or yes, where it was used; otherwise draw the tubes again with it"),
        )
    });
}

/// Words that say that the colour was right without naming it.
const AS_IT_SHOULD_BE: [&str; 2] = ["yes", "ok"];

fn colour(look: &mut Look) {
    let (Some(sheet_says), Some(seen)) = (&look.tube.colour, &look.reading.circumstances().colour) else {
        return;
    };
    let is_word_of = |text: &str, word: &str| text.split(|c: char| !c.is_alphanumeric()).any(|w| w == word);
    let (wanted, found) = (sheet_says.to_lowercase(), seen.to_lowercase());
    // The last word of `yellow to dark blue` is the colour of the stain; its shades have it too.
    let last = wanted.split(|c: char| !c.is_alphanumeric()).rfind(|word| !word.is_empty());
    if AS_IT_SHOULD_BE.contains(&found.as_str()) || last.is_none_or(|last| is_word_of(&found, last)) {
        return;
    }
    look.say(&code::COLOUR_OFF, Column::Colour, |sheet| {
        let message = format!("{sheet} turns {sheet_says}, but {seen} was seen");
        let help =
            "find out which substance or fault made that colour, and reject the reading if it cannot be told";
        (message, help.to_owned())
    });
}

fn read_late(look: &mut Look) {
    let (Some(within), Some(after)) = (look.tube.read_within, look.reading.circumstances().read_after) else {
        return;
    };
    if after.0 <= within.0 {
        return;
    }
    look.say(&code::READ_TOO_LATE, Column::ReadAfter, |sheet| {
        let message = format!("read later than the {} min that the sheet of {sheet} allows", within.0);
        (message, "read tubes at once; a stain read late stays doubtful".to_owned())
    });
}

/// The lot: past its date, or without one where other lots have theirs.
fn lot(look: &mut Look) {
    let (tube, reading) = (look.tube, look.reading);
    if tube.expires.is_empty() {
        return;
    }
    let day = look.study.clock.local(reading.start).date();
    let own = &reading.circumstances().lot;
    let known = own.as_ref().and_then(|lot| tube.expires.iter().find(|(name, _)| name == lot));
    match (known, own) {
        (Some((_, last)), _) if day <= *last => {}
        (Some((lot, last)), _) => look.say(&code::LOT_EXPIRED, Column::Lot, |sheet| {
            let message = format!("drawn from lot {lot} of {sheet} after its last day, {last}");
            let help = "draw the tubes again from a lot in date; correct the date if it was copied wrongly";
            (message, help.to_owned())
        }),
        (None, Some(lot)) => look.say(&code::LOT_UNKNOWN, Column::Lot, |sheet| {
            let message = format!("no last day is given for lot {lot} of {sheet}");
            (message, format!("add it to the tube sheet, as expires: {{{lot}: 2028-05-31}}"))
        }),
        (None, None) => look.say(&code::LOT_UNKNOWN, Column::Lot, |sheet| {
            let message =
                format!("the lot of {sheet} is not told, so it cannot be seen whether it was in date");
            (message, "write the lot beside each reading".to_owned())
        }),
    }
}
