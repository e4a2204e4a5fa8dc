//! `assess`: the main job.

use super::result::{Kind, stop};
use crate::arguments::Assess;
use crate::border::Border;
use crate::failure::Failure;
use crate::summary;
use fullshift_engine::model::Assessment;

const ASSESSMENT: Kind<Assessment> =
    Kind { file: "assessment.json", tables: fullshift_engine::tables, page: summary::page };

pub(super) fn run(typed: &Assess, border: &mut Border<'_>) -> Result<(), Failure> {
    match fullshift_engine::assess(&typed.study) {
        Ok(assessment) => ASSESSMENT.show(&assessment, typed.format, typed.out.as_deref(), border),
        Err(stopped) => stop(typed.format, &stopped, border),
    }
}
