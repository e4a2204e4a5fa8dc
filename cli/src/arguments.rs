//! What can be typed: the commands and their options, each with its help text.

use crate::border::Border;
use crate::failure::Failure;
use crate::workbook::Paper;
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{CommandFactory, FromArgMatches, Parser, Subcommand, ValueEnum};
use std::ffi::OsString;
use std::path::PathBuf;

const CAUTIONS: &str = "\
Where to begin:
  fullshift start my-study             lays down files to fill in, each part with a comment
  fullshift check my-study             says what to correct, until nothing is left
  fullshift assess my-study            prints verdicts and figures
  fullshift report my-study --out report.html
  With `start DIR --demo` there is a whole study to look at.

Cautions:
  Detector tubes are short-term screening instruments. A verdict printed here supports a competent person's judgement \
under the law in force and does not replace it. The limits are those that you enter.
  Not for entry into confined spaces, emergencies, or atmospheres immediately dangerous to life or health.
  Broken tubes cut. Spent tubes may be hazardous waste: see the tube sheet and the local rules.

Exit codes: 0 done, 1 the study has errors, 2 the command line is wrong, 3 the machine failed.";

/// Turns the detector-tube readings of a shift study into exposure figures that can be defended.
///
/// A study is a folder with `study.yaml` and its tables. From it come each worker's 8-hour TWA and worst short-term
/// window, the profile of each similar-exposure group and a verdict against each limit, with a range on every figure
/// and the way back to the tubes behind it.
#[derive(Debug, Parser)]
#[command(name = "fullshift", version, after_help = CAUTIONS, max_term_width = 100)]
struct Line {
    #[command(subcommand)]
    command: Command,
}

/// One command with what was typed for it.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Lay down a new study as a folder or as one workbook, or with `--demo` the worked example.
    Start(Start),
    /// Read and check a study, and say what to correct.
    Check(Check),
    /// Explain a finding by its code or name: what it says, why it matters, what to do.
    Explain(Explain),
    /// Assess a study: verdicts, group profiles, shifts.
    Assess(Assess),
    /// Write the report of a study as HTML, Word or Markdown, with its figures.
    Report(Report),
    /// Write a workbook for the field, with the names of the study to choose from, or the whole study as one.
    Sheet(Sheet),
    /// Show how one figure came about, down to its tubes.
    Trace(Trace),
    /// Plan the next visit: whom to sample, when, with which tubes, and what it can be expected to settle.
    Plan(Plan),
    /// Compare two groups of a study, or a group before and after a control.
    Compare(Compare),
    /// Convert a concentration between ppm and mg/m3.
    Convert(Convert),
    /// Print the JSON Schema of study.yaml, by which an editor completes and checks it.
    Schema,
    /// Print the lines by which a shell completes these commands.
    Completions(Completions),
    /// Recompute the published check values on this machine and say to how many digits they agree.
    Verify(Verify),
}

/// How a result is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// A page to read.
    Text,
    /// The same for another program, at full precision.
    Json,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Start {
    /// The folder for the study, or a name that ends with .xlsx for a study in one workbook; a folder is made where it
    /// is missing, and no file is ever overwritten.
    #[arg(value_name = "DIR|FILE.xlsx")]
    pub(crate) folder: PathBuf,
    /// Lay down the worked example: ammonia at a composting hall, all names and numbers invented.
    #[arg(long)]
    pub(crate) demo: bool,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Sheet {
    /// The folder of the study, or its workbook.
    pub(crate) study: PathBuf,
    /// The workbook to write; a file that is there already is never overwritten.
    #[arg(long, value_name = "FILE.xlsx")]
    pub(crate) out: PathBuf,
    /// Fill in what the tables of the study hold; without it the pages are empty.
    #[arg(long)]
    pub(crate) filled: bool,
    /// Write the whole study, so that the workbook can take the place of the folder.
    #[arg(long, conflicts_with = "filled")]
    pub(crate) whole: bool,
    /// The paper that the pages are laid out for.
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    pub(crate) paper: Paper,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Check {
    /// The folder of the study, or its workbook.
    pub(crate) study: PathBuf,
    /// Of an archive: the group to check; without it all are, and each kind of finding is told once.
    #[arg(long, value_name = "GROUP")]
    pub(crate) group: Option<String>,
    /// How the findings are printed.
    #[arg(long, value_enum, default_value_t = CheckFormat::Text)]
    pub(crate) format: CheckFormat,
}

/// How tables are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Tables {
    /// Text, for a spreadsheet.
    Csv,
    /// Packed columns, for a program that analyses data.
    Parquet,
}

/// How findings are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum CheckFormat {
    /// A page to read.
    Text,
    /// The same for another program, at full precision.
    Json,
    /// A line for each place, as editors read them: `file:line:column: severity CODE message`.
    Lines,
}

/// How an explanation is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ExplainFormat {
    /// A page to read.
    Text,
    /// The same for another program.
    Json,
    /// A page of the handbook.
    Markdown,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Explain {
    /// The finding, as `F012` or `leak-check-missing`; all are listed without it.
    pub(crate) finding: Option<String>,
    /// How the explanation is printed.
    #[arg(long, value_enum, default_value_t = ExplainFormat::Text)]
    pub(crate) format: ExplainFormat,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Assess {
    /// The folder of the study, or its workbook.
    pub(crate) study: PathBuf,
    /// Assess this group only. Of an archive, whose tables are longer than 1 MiB, all groups are told in a line each without it.
    #[arg(long, value_name = "GROUP")]
    pub(crate) group: Option<String>,
    /// How the assessment is printed.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(crate) format: Format,
    /// Also write assessment.json and the tables (readings.csv, shifts.csv, groups.csv, field_quality.csv,
    /// mixtures.csv) to this folder; of an archive overview.json and the tables of groups and shifts.
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// How the tables are written.
    #[arg(long, value_enum, default_value_t = Tables::Csv, requires = "out")]
    pub(crate) tables: Tables,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Report {
    /// The folder of the study, or its workbook.
    pub(crate) study: PathBuf,
    /// The file to write: .html, .docx or .md; may be given several times.
    #[arg(long, value_name = "FILE", required = true)]
    pub(crate) out: Vec<PathBuf>,
    /// Tell of this group only.
    #[arg(long, value_name = "GROUP")]
    pub(crate) group: Option<String>,
    /// Name workers by letters, the same letter everywhere.
    #[arg(long)]
    pub(crate) anonymous: bool,
    /// The language of the report, in the place of the one that the study names.
    #[arg(long, value_enum)]
    pub(crate) language: Option<Tongue>,
}

/// A language of the report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Tongue {
    /// English.
    En,
    /// German.
    De,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Trace {
    /// The folder of the study, or its workbook.
    pub(crate) study: PathBuf,
    /// The figure, as `W3/2027-03-10/twa`, `hall-operators/twa/p95`, or a reading as `R17`; all are listed without it.
    pub(crate) figure: Option<String>,
    /// Of an archive: the group that the figure belongs to.
    #[arg(long, value_name = "GROUP")]
    pub(crate) group: Option<String>,
    /// How the working is printed.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(crate) format: Format,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Plan {
    /// The folder of the study, with or without readings.
    pub(crate) study: PathBuf,
    /// Of an archive: the group to plan for.
    #[arg(long, value_name = "GROUP")]
    pub(crate) group: Option<String>,
    /// The seed of every draw; without it one is taken from the clock and printed.
    #[arg(long, value_name = "NUMBER")]
    pub(crate) seed: Option<u64>,
    /// One of the highest of this share of the group is to be among the workers drawn.
    #[arg(long, value_name = "PERCENT", default_value = "10", value_parser = share)]
    pub(crate) highest: f64,
    /// With this confidence.
    #[arg(long, value_name = "PERCENT", default_value = "90", value_parser = share)]
    pub(crate) confidence: f64,
    /// Draw so many workers instead.
    #[arg(long, value_name = "COUNT", value_parser = clap::value_parser!(u32).range(1..100_000))]
    pub(crate) workers: Option<u32>,
    /// Grab times in a shift; every task gets two at least.
    #[arg(long, value_name = "COUNT", default_value_t = 8, value_parser = clap::value_parser!(u32).range(1..200))]
    pub(crate) times: u32,
    /// Spare tubes, as a share of those drawn.
    #[arg(long, value_name = "PERCENT", default_value = "10", value_parser = share)]
    pub(crate) spares: f64,
    /// Assume this GSD instead of the profile's.
    #[arg(long, value_name = "GSD", value_parser = gsd)]
    pub(crate) gsd: Option<f64>,
    /// Assume the 95th percentile at this share of the limit instead of the profile's.
    #[arg(long, value_name = "PERCENT", value_parser = percentile_share)]
    pub(crate) p95: Option<f64>,
    /// How the plan is printed.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(crate) format: Format,
    /// Also write plan.json, workers.csv, times.csv, tubes.csv and chances.csv to this folder.
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Also write a field workbook as `sheet` does, with pages of whom to sample, when and with which tubes; a file that is there already is
    /// never overwritten.
    #[arg(long, value_name = "FILE.xlsx")]
    pub(crate) sheet: Option<PathBuf>,
    /// The paper that the pages of the workbook are laid out for.
    #[arg(long, value_enum, default_value_t = Paper::A4, requires = "sheet")]
    pub(crate) paper: Paper,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Compare {
    /// The folder of the study.
    pub(crate) study: PathBuf,
    /// The group, before.
    pub(crate) group: String,
    /// The group to compare it with, after; may be left out with --after.
    pub(crate) other: Option<String>,
    /// The folder of the study after a control; the group of the same name there, unless another is named.
    #[arg(long, value_name = "STUDY")]
    pub(crate) after: Option<PathBuf>,
    /// How the comparison is printed.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(crate) format: Format,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Convert {
    /// The concentration with its unit, as `25 ppm`.
    #[arg(allow_hyphen_values = true)]
    amount: String,
    /// The unit, where it is typed as a word of its own.
    unit: Option<String>,
    /// The unit to convert to: ppm, ppb, mg/m3, ug/m3.
    #[arg(long, value_name = "UNIT")]
    pub(crate) to: String,
    /// Molar mass of the substance in g/mol.
    #[arg(long, value_name = "G_PER_MOL", allow_hyphen_values = true, value_parser = grams_per_mole)]
    pub(crate) molar_mass: Option<f64>,
    /// Temperature of the conversion.
    #[arg(long, default_value = "25 C", allow_hyphen_values = true)]
    pub(crate) temperature: String,
    /// Pressure of the conversion.
    #[arg(long, default_value = "101.325 kPa", allow_hyphen_values = true)]
    pub(crate) pressure: String,
    /// A conventional molar volume in the place of the gas law, as `24.45 L/mol`.
    #[arg(long, value_name = "VOLUME", conflicts_with_all = ["temperature", "pressure"])]
    pub(crate) molar_volume: Option<String>,
    /// How the result is printed.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(crate) format: Format,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Completions {
    /// The shell.
    #[arg(value_enum)]
    pub(crate) shell: clap_complete::Shell,
}

#[derive(Debug, clap::Args)]
pub(crate) struct Verify {
    /// How the result is printed.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(crate) format: Format,
}

impl Convert {
    /// The concentration with its unit, as one text.
    pub(crate) fn amount(&self) -> String {
        [Some(self.amount.as_str()), self.unit.as_deref()].into_iter().flatten().collect::<Vec<_>>().join(" ")
    }
}

/// A number with a decimal point or comma, and perhaps a percent sign.
fn number(text: &str) -> Result<f64, String> {
    let text = text.trim().trim_end_matches('%').trim_end().replace(',', ".");
    text.parse().map_err(|_| "write a plain number, as 10 or 2.5".to_owned())
}

/// A percentage between 0 and 100, as a share.
fn share(text: &str) -> Result<f64, String> {
    match number(text)? {
        percent if percent > 0.0 && percent < 100.0 => Ok(percent / 100.0),
        _ => Err("write a percentage above 0 and below 100".to_owned()),
    }
}

/// A percentage of a limit, as a share.
fn percentile_share(text: &str) -> Result<f64, String> {
    match number(text)? {
        percent if (0.01..=100_000.0).contains(&percent) => Ok(percent / 100.0),
        _ => Err("write a percentage of the limit from 0.01 to 100000".to_owned()),
    }
}

/// A geometric standard deviation.
fn gsd(text: &str) -> Result<f64, String> {
    match number(text)? {
        gsd if (1.05..=50.0).contains(&gsd) => Ok(gsd),
        _ => {
            Err("a geometric standard deviation lies above 1; from 1.05 to 50 can be planned with".to_owned())
        }
    }
}

/// A molar mass, with a decimal point or comma.
fn grams_per_mole(text: &str) -> Result<f64, String> {
    text.trim().replace(',', ".").parse().map_err(|_| "write a plain number, as 17.03".to_owned())
}

/// Reads a command line, the program's name first; help comes wrapped at `width` columns.
pub(crate) fn read<W>(words: impl IntoIterator<Item = W>, width: usize) -> Result<Command, clap::Error>
where
    W: Into<OsString> + Clone,
{
    let mut command = Line::command().term_width(width);
    let matches =
        command.try_get_matches_from_mut(words).map_err(|error| with_near_option(error, &command))?;
    Line::from_arg_matches(&matches).map(|line| line.command).map_err(|e| e.format(&mut command))
}

/// Most slips of the pen in an option.
const SLIPS: usize = 2;

/// An unknown option with the one that was probably meant, where the parser itself saw none: `--ouput` for `--out`.
fn with_near_option(mut error: clap::Error, command: &clap::Command) -> clap::Error {
    let text = |error: &clap::Error, kind| match error.get(kind) {
        Some(ContextValue::String(text)) => Some(text.clone()),
        _ => None,
    };
    let wrong = text(&error, ContextKind::InvalidArg).filter(|_| error.kind() == ErrorKind::UnknownArgument);
    let usage = error.get(ContextKind::Usage).map(ToString::to_string).unwrap_or_default();
    let (Some(wrong), None) = (wrong, error.get(ContextKind::SuggestedArg)) else { return error };
    let own =
        command.get_subcommands().find(|own| usage.split_whitespace().any(|word| word == own.get_name()));
    let flags = own.into_iter().flat_map(clap::Command::get_arguments).filter_map(|arg| arg.get_long());
    let distance = |flag: &str| strsim::damerau_levenshtein(wrong.trim_start_matches('-'), flag);
    if let Some(near) = flags.min_by_key(|flag| distance(flag)).filter(|flag| distance(flag) <= SLIPS) {
        error.insert(ContextKind::SuggestedArg, ContextValue::String(format!("--{near}")));
    }
    error
}

/// The completion lines of a shell.
pub(crate) fn completions(shell: clap_complete::Shell) -> String {
    let mut lines = Vec::new();
    clap_complete::generate(shell, &mut Line::command(), "fullshift", &mut lines);
    String::from_utf8_lossy(&lines).into_owned()
}

/// Prints help and version as results, and says what is wrong with the command line.
pub(crate) fn answer(error: &clap::Error, border: &mut Border<'_>) -> Result<(), Failure> {
    let text = error.render().ansi().to_string();
    if error.use_stderr() {
        border.say(&text);
        return Err(Failure::CommandTold);
    }
    border.print(&text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_command_line_is_built_without_contradictions() {
        Line::command().debug_assert();
    }

    #[test]
    fn an_option_is_found_behind_a_slip_of_the_pen() {
        for (slip, meant) in [("--ouput", "'--out'"), ("--gruop", "'--group'")] {
            let told = read(["fullshift", "assess", "hall", slip, "x"], 100).unwrap_err().to_string();
            assert!(told.contains(meant), "{told}");
        }
        let told = read(["fullshift", "assess", "hall", "--zebra"], 100).unwrap_err().to_string();
        assert!(!told.contains("similar"), "{told}");
    }

    #[test]
    fn an_amount_is_one_word_or_two() {
        for words in [&["convert", "25 ppm"][..], &["convert", "25", "ppm"]] {
            let line = ["fullshift"].iter().chain(words).chain(&["--to", "mg/m3"]);
            let Ok(Command::Convert(convert)) = read(line, 100) else {
                panic!("{words:?} is not understood")
            };
            assert_eq!(convert.amount(), "25 ppm");
        }
    }
}
