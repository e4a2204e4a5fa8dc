//! Special functions: distributions with both tails.

pub mod normal;
