//! How a figure came about: every figure has an address, and its working leads to the figures and readings behind it.

mod addresses;
mod page;
mod walk;

pub(crate) use addresses::{Addresses, Entry, Lost, Thing};
pub(crate) use page::{list, remarks, step_line, step_lines, working};
pub(crate) use walk::{Stop, walk};

#[cfg(test)]
mod tests;
