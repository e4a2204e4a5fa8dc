//! What comes next: what would settle an open verdict, and how the next visit is to be sampled.

mod chance;
mod driver;
mod settle;

pub use driver::driving_task;
pub use settle::{Open, to_settle};
