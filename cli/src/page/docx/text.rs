//! Text as runs, with links, bookmarks and fields.

use crate::page::{Link, Stretch, Text, Tone, harmless, is_right_to_left};
use std::fmt::Write;

/// Words with nothing in them that XML would take for its own or refuse.
pub(super) fn escaped(words: &str) -> String {
    let safe = harmless(words).replace(['\u{fffe}', '\u{ffff}'], "\u{fffd}");
    safe.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

/// A place as a bookmark's name: letters, digits and strokes, at most forty.
pub(super) fn bookmark(place: &str) -> String {
    place.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '_' }).take(40).collect()
}

/// A run of words with its properties.
pub(super) fn run(words: &str, properties: &str) -> String {
    let turned = if is_right_to_left(words) { "<w:rtl/>" } else { "" };
    let properties = match (properties, turned) {
        ("", "") => String::new(),
        (own, turned) => format!("<w:rPr>{own}{turned}</w:rPr>"),
    };
    let mut xml = format!("<w:r>{properties}");
    for (at, line) in escaped(words).split('\n').enumerate() {
        let broken = if at > 0 { "<w:br/>" } else { "" };
        let _ = write!(xml, "{broken}<w:t xml:space=\"preserve\">{line}</w:t>");
    }
    xml + "</w:r>"
}

/// A field: what it says, and what it shows until it is brought up to date.
pub(super) fn field(instruction: &str, shown: &str) -> String {
    format!(
        "<w:r><w:fldChar w:fldCharType=\"begin\"/></w:r><w:r><w:instrText xml:space=\"preserve\"> {instruction} </w:instrText></w:r>\
         <w:r><w:fldChar w:fldCharType=\"separate\"/></w:r>{shown}<w:r><w:fldChar w:fldCharType=\"end\"/></w:r>"
    )
}

/// What texts need beyond themselves: numbers for bookmarks, and the addresses of the web to which they lead.
#[derive(Debug, Default)]
pub(super) struct Runs {
    bookmarks: usize,
    /// Addresses, each with the name of its relationship by place.
    pub(super) addresses: Vec<String>,
}

/// Where the names of relationships to the web begin.
pub(super) const WEB: &str = "web";

impl Runs {
    /// Something that links find at a place.
    pub(super) fn marked(&mut self, place: &str, xml: &str) -> String {
        self.bookmarks += 1;
        let (id, name) = (self.bookmarks, bookmark(place));
        format!("<w:bookmarkStart w:id=\"{id}\" w:name=\"{name}\"/>{xml}<w:bookmarkEnd w:id=\"{id}\"/>")
    }

    /// A text as runs; `properties` hold for all of it.
    pub(super) fn text(&mut self, text: &Text, properties: &str) -> String {
        text.whole().iter().map(|stretch| self.stretch(stretch, properties)).collect()
    }

    fn stretch(&mut self, stretch: &Stretch, properties: &str) -> String {
        let own = run(&stretch.words, &format!("{}{properties}", toned(stretch.tone)));
        let linked = match &stretch.link {
            Some(Link::Place(place)) if place.starts_with("table-") || place.starts_with("figure-") => {
                field(&format!("REF {} \\h \\* MERGEFORMAT", bookmark(place)), &own)
            }
            Some(Link::Place(place)) => {
                format!("<w:hyperlink w:anchor=\"{}\" w:history=\"1\">{own}</w:hyperlink>", bookmark(place))
            }
            Some(Link::Web(address)) => {
                let number = self.address(address);
                format!("<w:hyperlink r:id=\"{WEB}{number}\" w:history=\"1\">{own}</w:hyperlink>")
            }
            _ => own,
        };
        match &stretch.place {
            Some(place) => self.marked(place, &linked),
            None => linked,
        }
    }

    fn address(&mut self, address: &str) -> usize {
        let known = self.addresses.iter().position(|known| known == address);
        known.unwrap_or_else(|| {
            self.addresses.push(address.to_owned());
            self.addresses.len() - 1
        })
    }
}

/// The properties of a tone, in the order that the schema asks for: face, bold, italic, colour.
fn toned(tone: Tone) -> &'static str {
    match tone {
        Tone::Plain => "",
        Tone::Strong | Tone::Below => "<w:b/>",
        Tone::Stress => "<w:i/>",
        Tone::Typed => {
            "<w:rFonts w:ascii=\"Liberation Mono\" w:hAnsi=\"Liberation Mono\" w:cs=\"Courier New\"/>"
        }
        Tone::Quiet => "<w:color w:val=\"595959\"/>",
        Tone::Above => "<w:b/><w:color w:val=\"7A2500\"/>",
        Tone::Open => "<w:b/><w:color w:val=\"594500\"/>",
    }
}
