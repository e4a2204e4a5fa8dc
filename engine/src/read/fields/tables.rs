//! The columns of the tables.

use super::Shape::{Choice, ConcentrationUnit, Moment, NameOf, Number, Quantity, Stain, Text};
use super::{Field, needed, optional};
use crate::model::Column;
use crate::read::quantity::{HUMIDITY, PRESSURE, TEMPERATURE, TIME};

/// The readings.
pub static READINGS: &[Field] = &[
    needed(Column::Id.name(), Text, "the reading's name, unique in the study"),
    needed(Column::Worker.name(), NameOf("workers"), "whose air it was"),
    needed(Column::Task.name(), NameOf("tasks"), "what was being done"),
    needed(Column::Tube.name(), NameOf("tubes"), "the tube type"),
    needed(Column::Pump.name(), NameOf("pumps"), "the pump"),
    needed(Column::Start.name(), Moment, "when the drawing began"),
    needed(Column::Strokes.name(), Number, "how many were drawn"),
    needed(
        Column::Reading.name(),
        Stain,
        "the stain: 12, 10..15 between two marks, <5, >100, 8/14 slanted, or spoiled",
    ),
    optional(Column::Unit.name(), ConcentrationUnit, "of the scale"),
    optional(Column::Lot.name(), Text, "of the tube"),
    optional(Column::Temperature.name(), Quantity(&TEMPERATURE), "of the air"),
    optional(Column::Humidity.name(), Quantity(&HUMIDITY), "of the air, relative"),
    optional(Column::Pressure.name(), Quantity(&PRESSURE), "of the air"),
    optional(Column::PreTube.name(), Text, "used or not"),
    optional(Column::Colour.name(), Text, "as seen"),
    optional(Column::ReadAfter.name(), Quantity(&TIME), "from the end of the drawing to the reading"),
    optional(
        Column::Purpose.name(),
        Choice(&["random", "worst-case", "area", "blank", "duplicate"]),
        "random if left out; only random readings feed a group's profile",
    ),
    optional(Column::Place.name(), Text, "in your words"),
    optional(Column::Present.name(), Text, "interfering substances there, as amines=3 ppm, joined by +"),
    optional(Column::Note.name(), Text, "in your words"),
];

/// The diary; `start` and `end`, or `shift` and `minutes`, besides.
pub static DIARY: &[Field] = &[
    needed(Column::Worker.name(), NameOf("workers"), "who"),
    needed(Column::Task.name(), NameOf("tasks"), "did what"),
    optional(Column::Start.name(), Moment, "from when"),
    optional(Column::End.name(), Moment, "to when; past midnight with the next day's date"),
    optional(
        Column::Shift.name(),
        Moment,
        "the beginning of the shift or its date, where the diary is told by minutes",
    ),
    optional(Column::Minutes.name(), Number, "how long, where the diary is told by minutes"),
];

/// The leak checks.
pub static LEAK_CHECKS: &[Field] = &[
    needed(Column::Pump.name(), NameOf("pumps"), "the pump"),
    needed(Column::Tube.name(), NameOf("tubes"), "with which unopened tube"),
    needed(Column::At.name(), Moment, "when"),
    needed(Column::Passed.name(), Choice(&["yes", "no"]), "yes or no"),
];

/// The workers.
pub static WORKERS: &[Field] = &[
    needed(Column::Worker.name(), Text, "the person's name or number"),
    needed(Column::Group.name(), NameOf("groups"), "the group"),
];
