//! The drawings of a report: geometry once, written as SVG by one writer; pixels come from the same SVG.

mod axis;
mod dose;
mod frame;
mod letters;
mod png;
mod probability;
mod rows;
mod settling;
mod shape;
mod shift_figures;
mod spread;
pub(crate) mod svg;
mod timeline;
mod unwritten;

pub(crate) use dose::dose;
pub(crate) use letters::width;
pub(crate) use png::{Picture, png};
pub(crate) use probability::probability;
pub(crate) use settling::settling;
pub(crate) use shape::Drawing;
pub(crate) use shift_figures::shift_figures;
pub(crate) use timeline::timelines;

#[cfg(test)]
mod tests;
