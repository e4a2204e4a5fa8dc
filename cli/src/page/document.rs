//! A document: a page with a title, to be kept and handed on.

use super::{Page, Text};
use fullshift_engine::model::Logo;

/// A document.
#[derive(Debug)]
pub(crate) struct Document {
    /// What stands at its top.
    pub(crate) head: Head,
    /// The rest.
    pub(crate) page: Page,
}

/// What stands at the top of a document.
#[derive(Debug)]
pub(crate) struct Head {
    /// The title.
    pub(crate) title: String,
    /// Lines under it.
    pub(crate) lines: Vec<Text>,
    /// A picture beside it.
    pub(crate) logo: Option<Logo>,
    /// The code of its language, as `en`.
    pub(crate) language: &'static str,
    /// The word over the table of contents.
    pub(crate) contents: &'static str,
    /// The word for the logo, read out where it cannot be seen.
    pub(crate) logo_words: &'static str,
    /// How pages are counted, as `Page {page} of {pages}`.
    pub(crate) page_of: &'static str,
    /// What is said of words that a picture made of pixels could not write, as `In the picture: {names}.`
    pub(crate) in_picture: &'static str,
    /// What is read out for a link back from a working to its number.
    pub(crate) back: &'static str,
}
