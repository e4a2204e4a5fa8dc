//! The settings of `study.yaml`.

use super::Shape::{
    Choice, Concentration, ConcentrationUnit, Date, Entries, FactorsBy, HeadingsOf, List, NameOf, Number,
    Quantity, QuantityOrNumber, Record, Text,
};
use super::tables::{DIARY, LEAK_CHECKS, READINGS, WORKERS};
use super::{Field, Shape, needed, optional};
use crate::read::quantity::{
    HUMIDITY, LENGTH, MOLAR_MASS, MOLAR_VOLUME, PRESSURE, SHARE, TEMPERATURE, TIME, VOLUME,
};

/// The whole of `study.yaml`.
pub static STUDY: &[Field] = &[
    needed("study", Record(HEAD), "what the report says of itself"),
    optional("reference", Record(REFERENCE), "conditions at which ppm and mg/m3 are converted"),
    needed("agents", Entries(&Record(AGENT)), "the substances, by name"),
    needed("limits", List(&Record(LIMIT)), "the limits in force where the work is done; you enter them"),
    optional("additive", List(&List(&NameOf("agents"))), "lists of substances whose effects add up"),
    needed("tubes", Entries(&Record(TUBE)), "the tube types by name, each copied from the sheet in its box"),
    needed("pumps", Entries(&Record(PUMP)), "the hand pumps, by name"),
    needed("tasks", Entries(&Record(TASK)), "the tasks, by name"),
    needed("groups", Entries(&Record(GROUP)), "people who share their exposure, by the group's name"),
    optional("shift", Record(SHIFT), "how shifts are formed and weighed"),
    optional("rules", Record(RULES), "the rules by which groups are judged, for each kind of limit"),
    optional(
        "field_rules",
        Entries(&Record(FIELD_RULE)),
        "what becomes of the readings that a finding of the field work names",
    ),
    optional("prior", List(&Record(PRIOR)), "what you believe of an exposure before the data"),
    optional("reassess", Record(REASSESS), "your own rule of how long an assessment may stand"),
    needed("tables", Record(TABLES), "the files of the tables"),
    optional("columns", Record(COLUMNS), "other headings of the tables' columns"),
    optional("report", Record(REPORT), "your own words for the written report"),
];

/// `study:`.
pub static HEAD: &[Field] = &[
    needed("title", Text, "title of the report"),
    needed("site", Text, "where the work is done"),
    needed("prepared_by", Text, "who signs"),
    optional(
        "time_zone",
        Text,
        "as Europe/Berlin; a night on which the clock changes then has its true length",
    ),
];

/// `reference:`.
pub static REFERENCE: &[Field] = &[
    optional("temperature", Quantity(&TEMPERATURE), "25 C if left out"),
    optional("pressure", Quantity(&PRESSURE), "101.325 kPa if left out"),
    optional("molar_volume", Quantity(&MOLAR_VOLUME), "a conventional number in the place of the gas law"),
];

/// An entry of `agents:`.
pub static AGENT: &[Field] = &[
    optional("cas", Text, "registry number, for the report"),
    optional("molar_mass", QuantityOrNumber(&MOLAR_MASS), "in g/mol; needed where ppm and mg/m3 meet"),
];

/// An entry of `limits:`.
pub static LIMIT: &[Field] = &[
    needed("agent", NameOf("agents"), "the substance"),
    needed("kind", Choice(&["twa", "short-term", "ceiling"]), "twa, short-term or ceiling"),
    needed("value", Concentration, "the limit with its unit"),
    optional(
        "averaging",
        Quantity(&TIME),
        "over how long a short-term limit is averaged; a short-term limit needs it",
    ),
    optional("at_most", Number, "how often a shift may reach into the range of a short-term limit"),
    optional("at_least_apart", Quantity(&TIME), "how far apart these times must lie"),
    optional(
        "adjust",
        Choice(&["none", "daily", "weekly", "lead-style"]),
        "how a TWA limit is lowered for long work",
    ),
    optional("source", Text, "where you took the limit from; printed beside every verdict"),
];

/// An entry of `tubes:`.
pub static TUBE: &[Field] = &[
    needed("agent", NameOf("agents"), "the substance"),
    needed("marks", List(&Number), "the printed marks, rising; the first and the last are the range"),
    needed("unit", ConcentrationUnit, "of the marks"),
    needed("strokes", Number, "for which the scale is printed"),
    optional("stroke_volume", Quantity(&VOLUME), "of one stroke; 100 mL if left out"),
    optional("stroke_time", Quantity(&TIME), "that one stroke takes"),
    optional(
        "other_strokes",
        List(&Record(OTHER_STROKES)),
        "further stroke numbers on the sheet, each with its factor",
    ),
    optional("relative_sd", Quantity(&SHARE), "relative standard deviation of a reading; 14 % if left out"),
    optional(
        "temperature",
        FactorsBy(&TEMPERATURE),
        "correction factors by temperature, linear between the points",
    ),
    optional(
        "humidity",
        FactorsBy(&HUMIDITY),
        "correction factors by relative humidity, linear between the points",
    ),
    optional(
        "pressure",
        Choice(&["proportional", "none"]),
        "proportional: the reading times 101.325 kPa over the local pressure",
    ),
    optional("interferes", List(&Record(INTERFERES)), "substances that make the tube read higher or lower"),
    optional("colour", Text, "as the sheet has it"),
    optional("pre_tube", Text, "as the sheet has it"),
    optional("read_within", Quantity(&TIME), "after the drawing"),
    optional("diameter", Quantity(&LENGTH), "of the tube"),
    optional("per_box", Number, "tubes in a box; 10 if left out"),
    optional("contains", Text, "what the sheet says it contains"),
    optional("expires", Entries(&Date), "the last day of each lot"),
];

/// A member of `other_strokes:`.
pub static OTHER_STROKES: &[Field] = &[
    needed("strokes", Number, "strokes drawn"),
    needed("factor", Number, "by which the reading is multiplied"),
];

/// A member of `interferes:`.
pub static INTERFERES: &[Field] = &[
    needed("agent", Text, "the other substance"),
    needed("reads", Choice(&["higher", "lower"]), "what it does to the reading"),
    optional("per_ppm", Number, "reading per ppm of it, where the sheet says"),
];

/// An entry of `pumps:`.
pub static PUMP: &[Field] = &[optional("stroke_volume", Quantity(&VOLUME), "where it is not 100 mL")];

const UNSAMPLED: Shape = Choice(&["bounds", "borrow", "zero"]);

/// An entry of `tasks:`.
pub static TASK: &[Field] = &[
    optional("unsampled", UNSAMPLED, "what stands for minutes without a reading"),
    optional("protection_factor", Number, "assigned protection factor of the respirator worn"),
];

/// An entry of `groups:`.
pub static GROUP: &[Field] = &[
    optional("workers", List(&Text), "the people, unless a table of workers lists them"),
    optional("population", Number, "how many people belong to the group, sampled or not"),
    needed("agents", List(&NameOf("agents")), "the substances for which the group is assessed"),
    optional(
        "present",
        List(&Text),
        "interfering substances that are always there, as amines or amines=3 ppm",
    ),
];

/// `shift:`.
pub static SHIFT: &[Field] = &[
    optional("reference", Quantity(&TIME), "the period over which a TWA is taken; 8 h if left out"),
    optional("new_after", Quantity(&TIME), "a rest this long or longer begins a new shift; 4 h if left out"),
    optional("week", Quantity(&TIME), "usual working time of a week, for limits lowered by the week"),
    optional("unsampled", UNSAMPLED, "for tasks that say nothing of their own"),
];

/// `rules:`.
pub static RULES: &[Field] = &[
    optional("twa", List(&Text), "rules for TWA limits"),
    optional("short-term", List(&Text), "rules for short-term limits"),
    optional("ceiling", List(&Text), "rules for ceiling limits"),
    optional("mixture", List(&Text), "rules for the index of a mixture; those of a TWA if left out"),
];

/// An entry of `field_rules:`, by the name of the finding.
pub static FIELD_RULE: &[Field] = &[
    needed("do", Choice(&["reject", "qualify", "ignore"]), "what becomes of the readings"),
    optional("reason", Text, "why; needed with reject and ignore, and printed with them"),
];

/// A member of `prior:`.
pub static PRIOR: &[Field] = &[
    needed("agent", NameOf("agents"), "the substance"),
    needed("kind", Choice(&["twa", "short-term", "ceiling"]), "the kind of limit"),
    needed("gm", Record(PRIOR_GM), "the geometric mean, in per cent of the limit"),
    needed("gsd", Record(PRIOR_GSD), "the geometric standard deviation"),
    needed("source", Text, "what the belief rests on; printed beside the verdict"),
];

/// `gm:` of a prior.
pub static PRIOR_GM: &[Field] = &[
    optional("median", Quantity(&SHARE), "half of the belief lies below it"),
    optional("gsd", Number, "how wide the belief is, as a geometric standard deviation"),
    optional("lowest", Quantity(&SHARE), "of an even belief"),
    optional("highest", Quantity(&SHARE), "of an even belief"),
];

/// `gsd:` of a prior.
pub static PRIOR_GSD: &[Field] = &[
    optional("median", Number, "half of the belief lies below it"),
    optional("factor", Number, "of ln GSD, for one standard deviation of the belief"),
    optional("lowest", Number, "of an even belief"),
    optional("highest", Number, "of an even belief"),
];

/// `reassess:`.
pub static REASSESS: &[Field] = &[
    needed("source", Text, "where the rule comes from; printed beside the proposal"),
    needed("steps", List(&Record(REASSESS_STEP)), "rising; the last holds for all else"),
];

/// A member of `steps:`.
pub static REASSESS_STEP: &[Field] = &[
    optional("gm_below", Quantity(&SHARE), "a GM below this share of the limit"),
    needed("months", Number, "until the next assessment"),
];

/// `tables:`.
pub static TABLES: &[Field] = &[
    needed("readings", Text, "one row for each tube drawn"),
    needed("diary", Text, "who did which task, from when to when"),
    optional("leak_checks", Text, "each test of a pump with an unopened tube"),
    optional("workers", Text, "who belongs to which group, where `groups` does not list them"),
    optional(
        "dates",
        Choice(&["YYYY-MM-DD", "DD.MM.YYYY", "DD/MM/YYYY", "MM/DD/YYYY", "serial-1900", "serial-1904"]),
        "how dates are written, where not with the year first",
    ),
];

/// `columns:`; under each table its columns with the headings that they go by.
pub static COLUMNS: &[Field] = &[
    optional("readings", HeadingsOf(READINGS), "as {start: Begin, reading: [Stain, Value]}"),
    optional("diary", HeadingsOf(DIARY), "likewise"),
    optional("leak_checks", HeadingsOf(LEAK_CHECKS), "likewise"),
    optional("workers", HeadingsOf(WORKERS), "likewise"),
];

/// `report:`.
pub static REPORT: &[Field] = &[
    optional("language", Choice(&["en", "de"]), "of the report's own words"),
    optional("background", Text, "the occasion, the work and its substances, in your words"),
    optional("controls", Text, "what is done against the exposure"),
    optional("recommendations", Text, "what you advise"),
    optional("logo", Text, "a PNG or JPEG beside the study"),
];
