//! What may stand where in a study: every setting of `study.yaml` and every column of its tables, once.
//!
//! The readers know their keys from here, the sheets of a workbook are formed after it, and the schema that an editor
//! reads is written from it. A setting added here is known in all three places.

mod schema;
pub mod settings;
pub mod tables;

pub use schema::schema;

use super::quantity::Kind;

/// A setting or a column.
pub struct Field {
    /// Its name, as the user writes it.
    pub name: &'static str,
    /// What stands in it.
    pub shape: Shape,
    /// Whether it must be there.
    pub needed: bool,
    /// What it means, in a sentence without a full stop.
    pub about: &'static str,
}

/// The form of a value.
#[derive(Clone, Copy)]
pub enum Shape {
    /// Words.
    Text,
    /// A number without a unit.
    Number,
    /// A quantity of a kind, with its unit.
    Quantity(&'static Kind),
    /// A number whose unit may be left out, because the trade writes it so.
    QuantityOrNumber(&'static Kind),
    /// A concentration with its unit.
    Concentration,
    /// A unit of concentration.
    ConcentrationUnit,
    /// A date alone.
    Date,
    /// A date and time.
    Moment,
    /// A stain as read.
    Stain,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// The name of something declared under this setting.
    NameOf(&'static str),
    /// Several of a form.
    List(&'static Shape),
    /// Several of a form, or one alone.
    ListOrOne(&'static Shape),
    /// Values of a form under names that the user chooses.
    Entries(&'static Shape),
    /// Factors by a condition of this kind.
    FactorsBy(&'static Kind),
    /// Other headings, one or several, under the names of these columns.
    HeadingsOf(&'static [Field]),
    /// These settings.
    Record(&'static [Field]),
}

/// A field that must be there.
pub const fn needed(name: &'static str, shape: Shape, about: &'static str) -> Field {
    Field { name, shape, needed: true, about }
}

/// A field that may be there.
pub const fn optional(name: &'static str, shape: Shape, about: &'static str) -> Field {
    Field { name, shape, needed: false, about }
}
