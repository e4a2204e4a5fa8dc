//! The catalogue of findings: codes and names are stable and never renumbered.
//!
//! F0.. the field work, F1.. files and notation, F2.. `study.yaml`, F3.. tables, F4.. what does not fit together.

use serde::Serialize;

/// How bad a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// Nothing is computed until it is put right.
    Error,
    /// The figures are given; the finding qualifies them.
    Warning,
    /// Worth knowing; changes no figure.
    Note,
}

/// One kind of finding.
#[derive(Debug, PartialEq, Eq)]
pub struct Code {
    /// `F` and three digits.
    pub id: &'static str,
    /// The name used in the handbook, in JSON and in the study's settings.
    pub name: &'static str,
    /// How bad it is.
    pub severity: Severity,
    /// Why it matters, in a sentence.
    pub why: &'static str,
}

macro_rules! catalogue {
    ($($constant:ident $id:literal $name:literal $severity:ident $why:literal;)*) => {
        /// The codes by name.
        pub mod code {
            use super::{Code, Severity};
            $(#[doc = $why] pub static $constant: Code =
                Code { id: $id, name: $name, severity: Severity::$severity, why: $why };)*
        }
        /// Every code, in the order of their numbers.
        pub static CATALOGUE: &[&Code] = &[$(&code::$constant),*];
    };
}

catalogue! {
    STROKES_NOT_ON_SHEET "F001" "strokes-not-on-sheet" Warning "The scale holds for the stroke numbers printed on the tube sheet; another number is scaled in proportion, which the sheet does not promise.";
    CONDITIONS_OUTSIDE_SHEET "F002" "conditions-outside-sheet" Warning "Outside the sheet's temperature or humidity range no correction is known; the nearest printed factor is used.";
    INTERFERENT_PRESENT "F003" "interferent-present" Warning "Another substance that the tube also shows was present, so the true value lies somewhere in a range.";
    NO_RELATIVE_SD "F004" "no-relative-sd" Note "The tube sheet gives no relative standard deviation, so 14 % is taken.";
    CONDITIONS_MISSING "F005" "conditions-missing" Warning "The tube sheet corrects for a condition that was not written down, so no correction is made.";
    LEAK_CHECK_MISSING "F012" "leak-check-missing" Warning "A leaking pump draws too little air and the tube reads low.";
    LEAK_CHECK_FAILED "F013" "leak-check-failed" Warning "A leaking pump draws too little air and the tube reads low.";

    FILE_MISSING "F101" "file-missing" Error "A file that the study names is not there.";
    FILE_UNREADABLE "F102" "file-unreadable" Error "A file that the study names cannot be read.";
    NOT_UTF8 "F103" "not-utf8" Error "Text in another encoding would be misread without notice.";
    YAML_BROKEN "F104" "yaml-broken" Error "The study file cannot be read as YAML from this place on.";
    DUPLICATE_KEY "F105" "duplicate-key" Error "Of two entries with the same name, one would be lost without notice.";
    YAML_TOO_DEEP "F106" "yaml-too-deep" Error "The study file is nested or repeated beyond what a study can mean.";

    UNKNOWN_KEY "F201" "unknown-key" Error "A misspelt setting would be ignored without notice.";
    MISSING_KEY "F202" "missing-key" Error "Something that every figure needs is not given.";
    WRONG_KIND "F203" "wrong-kind" Error "The entry has another form than is needed here.";
    BAD_QUANTITY "F204" "bad-quantity" Error "A number without its unit, or with a unit of another kind, could mean anything.";
    UNKNOWN_NAME "F205" "unknown-name" Error "The name is used but not declared.";
    IMPOSSIBLE_VALUE "F206" "impossible-value" Error "No measurement or setting can have this value.";
    BAD_CHOICE "F207" "bad-choice" Error "Only a few words are possible here.";
    LOGO_UNUSABLE "F208" "logo-unusable" Error "A picture that is neither PNG nor JPEG cannot stand in every form of the report.";

    TABLE_EMPTY "F301" "table-empty" Error "The table has no header line, so its columns are unknown.";
    TABLE_WITHOUT_ROWS "F302" "table-without-rows" Error "The table has a header but no rows.";
    MISSING_COLUMN "F303" "missing-column" Error "A column that every row needs is not there.";
    RAGGED_ROW "F304" "ragged-row" Error "A row with more or fewer cells than the header has cannot be matched to the columns.";
    EXTRA_COLUMNS "F305" "extra-columns" Note "Columns that are not known are kept in the file and not used.";
    DUPLICATE_COLUMN "F306" "duplicate-column" Error "Of two columns with the same name, one would be lost without notice.";
    BAD_CELL "F307" "bad-cell" Error "The cell cannot be read.";
    EMPTY_CELL "F308" "empty-cell" Error "The cell is needed and is empty.";
    AMBIGUOUS_NUMBER "F309" "ambiguous-number" Error "A comma can part decimals or thousands; the two differ by a factor of a thousand.";
    UNKNOWN_FORMAT "F310" "unknown-format" Error "The file is of a kind that cannot be read as a table.";
    NO_SUCH_TIME "F311" "no-such-time" Error "Where the clock changes, a local time may have been shown twice or never.";

    DUPLICATE_ID "F401" "duplicate-id" Error "Two readings of one name cannot be told apart in the report.";
    END_BEFORE_START "F402" "end-before-start" Error "A diary row must end after it starts.";
    DIARY_OVERLAP "F403" "diary-overlap" Error "One person cannot do two tasks at once; the minutes would count twice.";
    READING_OUTSIDE_DIARY "F404" "reading-outside-diary" Error "A reading taken when the diary says the worker was not at work belongs to no shift.";
    READING_IN_OTHER_TASK "F405" "reading-in-other-task" Error "The reading names one task, the diary another at that minute.";
    READING_OFF_SCALE "F406" "reading-off-scale" Error "A tube cannot be read where it has no marks.";
    WORKER_IN_TWO_GROUPS "F407" "worker-in-two-groups" Error "A worker's shifts can speak for one group only.";
    SHIFT_TOO_LONG "F408" "shift-too-long" Error "A working period of more than 24 hours is a slip of the pen.";
    NEEDS_MOLAR_MASS "F409" "needs-molar-mass" Error "Without the molar mass, ppm and mg/m3 cannot be compared.";
    MIXED_DIARY "F410" "mixed-diary" Error "A diary tells tasks by the clock or by minutes, not both.";
    SHIFT_WITHOUT_READINGS "F411" "shift-without-readings" Note "A shift without any reading of its agent has no figure.";
    AGENT_WITHOUT_LIMIT "F412" "agent-without-limit" Error "Without a limit there is nothing to judge the agent by.";
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_and_names_are_unique_and_in_order() {
        assert!(CATALOGUE.windows(2).all(|w| w[0].id < w[1].id));
        let mut names: Vec<_> = CATALOGUE.iter().map(|c| c.name).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), CATALOGUE.len());
    }
}
