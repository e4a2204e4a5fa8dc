//! End-to-end tests, a module a topic.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test fails by panicking")]

mod absent;
mod accessibility;
mod archive;
mod beliefs;
mod broken;
mod by_hand;
mod compare;
mod convert;
mod corpora;
mod corrections;
mod explain;
mod field_work;
mod handbook;
mod hostile;
mod laws;
mod machine;
mod overwriting;
mod plan;
mod reference;
mod report;
mod schema;
mod settle;
mod shift_figures;
mod short_term;
mod start;
mod studies;
mod tables;
mod trace;
mod twa_limits;
#[cfg(unix)]
mod whole_or_nothing;
mod workbooks;
mod worked;
