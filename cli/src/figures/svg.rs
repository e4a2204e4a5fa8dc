//! A drawing as SVG.

use super::Drawing;

/// As part of a page; `key` makes its names unique there.
pub(crate) fn inline(_drawing: &Drawing, _key: &str) -> String {
    String::new()
}

/// As a file of its own.
pub(crate) fn file(_drawing: &Drawing, _key: &str) -> String {
    String::new()
}
