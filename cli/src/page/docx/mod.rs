//! A document as OOXML for a word processor: real headings, captions and references that it can renumber, header rows that
//! repeat, pictures with words for those who cannot see them. The same document gives the same bytes.

mod blocks;
mod package;
mod parts;
mod table;
mod text;

use super::Document;
use blocks::Body;

/// The document as the bytes of its file; the error says what could not be written.
pub(crate) fn document(document: &Document) -> Result<Vec<u8>, String> {
    let mut body = Body { in_picture: document.head.in_picture, ..Body::default() };
    body.head(&document.head);
    body.contents(document);
    for section in &document.page.sections {
        body.section(section)?;
    }
    package::zipped(&parts::of(&document.head, body))
}

#[cfg(test)]
mod tests;
