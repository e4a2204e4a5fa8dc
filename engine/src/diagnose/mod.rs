//! What we say to the user about their input: where it is, what is wrong, what would be right.

mod catalogue;
mod finding;
mod span;
mod suggest;

pub use catalogue::{Action, Code, FAMILIES, Family, Severity, Usually, catalogue, code, find_code};
pub use finding::{Decision, Finding, Findings, Place, Report, Stop};
pub(crate) use span::cell_name;
pub use span::{FileId, Span};
pub(crate) use suggest::{near, nearest};
