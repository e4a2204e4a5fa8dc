//! What the YAML parser complains of, in the words of somebody who fills in a form.

use crate::diagnose::{FileId, Span};
use saphyr_parser::ScanError;

/// How the parser says that a name has no colon; it says so at the entry after it.
const NO_COLON: &str = "simple key expect";

/// What the parser's words begin with or hold, and what they mean here.
const MEANINGS: [(&str, &str); 8] = [
    (NO_COLON, "a name stands here without a colon and a blank behind it"),
    (
        "mapping values are not allowed",
        "this line begins further right than the entries beside it, or holds a colon too many",
    ),
    (
        "block mapping, did not find expected key",
        "this line does not begin in the same column as the entries beside it",
    ),
    ("did not find expected '-'", "this line does not begin in the same column as the dashes beside it"),
    (
        "flow mapping, did not find",
        "a brace before this place is not closed, or a text in it holds a colon or a quote",
    ),
    ("flow sequence, expected", "a bracket before this place is not closed"),
    ("found unexpected end of stream", "the quote that opens here is not closed"),
    ("tab", "a tab sets this line in, where blanks must"),
];

/// What to look for.
pub const HELP: &str = "look at this line and those before it: each name needs a colon and a blank, as `site: Hall 2`; entries \
     of one part begin in the same column, set in by blanks, never by tabs; brackets and quotes must close; a text that holds a \
     colon needs quotes";

/// The words for the user.
pub fn words(info: &str) -> String {
    let known = MEANINGS.iter().find(|(part, _)| info.contains(part)).map(|(_, words)| (*words).to_owned());
    known.unwrap_or_else(|| format!("the file cannot be read as YAML from here on: {info}"))
}

/// The place to look at.
pub fn span(error: &ScanError, text: &str, file: FileId) -> Span {
    let at = error.marker();
    let line = at.line().max(1);
    let before = text.lines().enumerate().take(line - 1).filter(|(_, text)| has_content(text)).last();
    match before.filter(|(_, text)| error.info().contains(NO_COLON) && !text.contains(": ")) {
        Some((number, text)) => Span::Text {
            file,
            line: number as u32 + 1,
            column: (text.chars().count() - text.trim_start().chars().count()) as u32 + 1,
            length: text.trim().chars().count() as u32,
        },
        None => Span::Text { file, line: line as u32, column: at.col() as u32 + 1, length: 1 },
    }
}

fn has_content(line: &str) -> bool {
    !line.trim().is_empty() && !line.trim_start().starts_with('#')
}
