//! Special functions: distributions with both tails.

pub mod chi_squared;
pub mod gamma;
pub(crate) mod mills;
pub mod noncentral_t;
pub mod normal;
pub mod student_t;
