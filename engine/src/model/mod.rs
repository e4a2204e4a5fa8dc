//! The things themselves: plain data, no algorithms. Constructors refuse impossible values.

pub mod assessment;
pub mod belief;
pub mod clock;
pub mod comparison;
pub mod concentration;
pub mod criterion;
pub mod faulty;
pub mod field_quality;
pub mod field_work;
pub mod figure;
pub mod form;
pub mod named;
pub mod overview;
pub mod plan;
pub mod profile;
pub mod quantity;
pub mod reading;
pub mod report;
pub mod shift;
pub mod step;
pub mod study;

pub use assessment::Assessment;
pub use clock::{Clock, NoInstant};
pub use concentration::{Concentration, Interval};
pub use criterion::Criterion;
pub use faulty::{Faulty, FaultyDiary};
pub use field_work::{FieldRule, FieldWork, LeakCheckCount, Remark, Remarks, SpoiledTube};
pub use figure::{Estimate, Figure};
pub use form::{Form, FormColumn, FormEntry, FormSheet};
pub use named::{Named, Ref};
pub use overview::{Overview, Progress};
pub use quantity::{Amount, Celsius, ConcentrationUnit, KiloPascal, Minutes};
pub use reading::{Purpose, Reading, Stain};
pub use report::{Logo, PictureKind, ReportLanguage, ReportWords};
pub use step::{Input, Step, brief, brief_beside, brief_range, shown, shown_range};
pub use study::*;
