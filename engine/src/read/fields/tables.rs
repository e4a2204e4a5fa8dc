//! The columns of the tables.

use super::Shape::{Choice, ConcentrationUnit, Moment, NameOf, Number, Quantity, Stain, Text};
use super::{Field, needed, optional};
use crate::read::quantity::{HUMIDITY, PRESSURE, TEMPERATURE, TIME};

/// The readings.
pub static READINGS: &[Field] = &[
    needed("id", Text, "the reading's name, unique in the study"),
    needed("worker", NameOf("workers"), "whose air it was"),
    needed("task", NameOf("tasks"), "what was being done"),
    needed("tube", NameOf("tubes"), "the tube type"),
    needed("pump", NameOf("pumps"), "the pump"),
    needed("start", Moment, "when the drawing began"),
    needed("strokes", Number, "how many were drawn"),
    needed("reading", Stain, "the stain: 12, 10..15 between two marks, <5, >100, 8/14 slanted, or spoiled"),
    optional("unit", ConcentrationUnit, "of the scale"),
    optional("lot", Text, "of the tube"),
    optional("temperature", Quantity(&TEMPERATURE), "of the air"),
    optional("humidity", Quantity(&HUMIDITY), "of the air, relative"),
    optional("pressure", Quantity(&PRESSURE), "of the air"),
    optional("pre_tube", Text, "used or not"),
    optional("colour", Text, "as seen"),
    optional("read_after", Quantity(&TIME), "from the end of the drawing to the reading"),
    optional(
        "purpose",
        Choice(&["random", "worst-case", "area", "blank", "duplicate"]),
        "random if left out; only random readings feed a group's profile",
    ),
    optional("place", Text, "in your words"),
    optional("present", Text, "interfering substances there, as amines=3 ppm, joined by +"),
    optional("note", Text, "in your words"),
];

/// The diary; `start` and `end`, or `shift` and `minutes`, besides.
pub static DIARY: &[Field] = &[
    needed("worker", NameOf("workers"), "who"),
    needed("task", NameOf("tasks"), "did what"),
    optional("start", Moment, "from when"),
    optional("end", Moment, "to when; past midnight with the next day's date"),
    optional("shift", Moment, "the beginning of the shift or its date, where the diary is told by minutes"),
    optional("minutes", Number, "how long, where the diary is told by minutes"),
];

/// The leak checks.
pub static LEAK_CHECKS: &[Field] = &[
    needed("pump", NameOf("pumps"), "the pump"),
    needed("tube", NameOf("tubes"), "with which unopened tube"),
    needed("at", Moment, "when"),
    needed("passed", Choice(&["yes", "no"]), "yes or no"),
];

/// The workers.
pub static WORKERS: &[Field] =
    &[needed("worker", Text, "the person's name or number"), needed("group", NameOf("groups"), "the group")];
