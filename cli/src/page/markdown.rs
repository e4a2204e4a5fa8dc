//! A document as Markdown, its drawings as files beside it.

use super::{Block, Document, Link, Point, Section, Stretch, Table, Text, Tone, harmless};
use crate::figures::svg;
use fullshift_engine::model::PictureKind;
use std::fmt::Write;

/// The files of a document: the Markdown itself as `stem.md`'s text, and each drawing with its name.
pub(crate) fn document(document: &Document, stem: &str) -> (String, Vec<(String, Vec<u8>)>) {
    let mut written = Written { text: String::new(), drawings: Vec::new(), stem };
    written.head(document);
    for section in &document.page.sections {
        written.section(section);
    }
    (written.text, written.drawings)
}

struct Written<'a> {
    text: String,
    drawings: Vec<(String, Vec<u8>)>,
    stem: &'a str,
}

impl Written<'_> {
    fn head(&mut self, document: &Document) {
        let head = &document.head;
        let _ = writeln!(self.text, "# {}\n", escaped(&head.title));
        if let Some(logo) = &head.logo {
            let kind = if logo.kind == PictureKind::Png { "png" } else { "jpg" };
            let name = format!("{}-logo.{kind}", self.stem);
            let _ = writeln!(self.text, "![{}]({})\n", escaped(head.logo_words), address(&name));
            self.drawings.push((name, logo.bytes.clone()));
        }
        for line in &head.lines {
            let _ = writeln!(self.text, "{}  ", inline(line));
        }
        let _ = writeln!(self.text, "\n**{}**\n", escaped(head.contents));
        for section in document.page.sections.iter().filter(|section| section.depth == 0) {
            let heading = escaped(&section.heading.words());
            let _ = writeln!(self.text, "- [{heading}](#{})", section.place);
        }
        self.text.push('\n');
    }

    fn section(&mut self, section: &Section) {
        let level = "#".repeat(section.depth + 2);
        let _ =
            writeln!(self.text, "<a id=\"{}\"></a>\n\n{level} {}\n", section.place, inline(&section.heading));
        for block in &section.blocks {
            self.block(block);
            self.text.push('\n');
        }
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Paragraph(text) => drop(writeln!(self.text, "{}", inline(text))),
            Block::Outline(lines) => {
                for line in lines {
                    let _ = writeln!(self.text, "{:1$}- {2}", "", 2 * line.depth, inline(&line.text));
                }
            }
            Block::List(points) => points.iter().for_each(|point| self.point(point)),
            Block::Table(table) => self.table(table),
            Block::Drawing(drawing) => {
                let name = format!("{}-{}.svg", self.stem, drawing.key);
                let _ = writeln!(
                    self.text,
                    "<a id=\"{}\"></a>\n\n![{}]({})\n\n**{}.** {}",
                    drawing.key,
                    escaped(&drawing.thing.description),
                    address(&name),
                    escaped(&drawing.label),
                    inline(&drawing.caption)
                );
                self.drawings.push((name, svg::file(&drawing.thing, &drawing.key).into_bytes()));
            }
            Block::Verbatim(words) => self.verbatim(words),
            Block::Excerpt(quoted) => self.verbatim(&quoted.text),
        }
    }

    fn point(&mut self, point: &Point) {
        let mark = point.number.map_or("-".to_owned(), |number| format!("{number}."));
        let _ = writeln!(self.text, "{:1$}{mark} {2}", "", 3 * point.depth, inline(&point.text));
    }

    fn verbatim(&mut self, words: &str) {
        for line in words.lines() {
            let _ = writeln!(self.text, "    {}", harmless(line));
        }
    }

    fn table(&mut self, table: &Table) {
        if let Some(caption) = &table.caption {
            let _ = writeln!(
                self.text,
                "<a id=\"{}\"></a>\n\n**{}.** {}\n",
                caption.key,
                escaped(&caption.label),
                inline(&caption.caption)
            );
        }
        let heads: Vec<String> = table.columns.iter().map(|column| escaped(&column.head)).collect();
        let sides = table.columns.iter().map(|column| match column.side {
            super::Side::Left => "---",
            super::Side::Right => "--:",
        });
        let _ = writeln!(self.text, "| {} |", heads.join(" | "));
        let _ = writeln!(self.text, "| {} |", sides.collect::<Vec<_>>().join(" | "));
        for row in &table.rows {
            let cells: Vec<String> = row.iter().map(|cell| inline(cell).replace("\\\n", " ")).collect();
            let _ = writeln!(self.text, "| {} |", cells.join(" | "));
        }
    }
}

/// A file name as an address: what is no letter, digit or plain sign is written as its bytes.
fn address(name: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-_.".contains(&byte);
    let sign = |byte: u8| if plain(byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") };
    name.bytes().map(sign).collect()
}

fn inline(text: &Text) -> String {
    text.whole().iter().map(stretch).collect()
}

fn stretch(stretch: &Stretch) -> String {
    let words = escaped(&stretch.words);
    // Emphasis must touch the words, not the spaces around them.
    let core = words.trim();
    let toned = match stretch.tone {
        _ if core.is_empty() => words.clone(),
        Tone::Strong | Tone::Below | Tone::Above | Tone::Open => {
            words.replacen(core, &format!("**{core}**"), 1)
        }
        Tone::Stress => words.replacen(core, &format!("*{core}*"), 1),
        Tone::Typed => typed(&stretch.words),
        Tone::Plain | Tone::Quiet => words.clone(),
    };
    let place = stretch.place.as_ref().map_or(String::new(), |place| format!("<a id=\"{place}\"></a>"));
    match &stretch.link {
        Some(Link::Place(to)) => format!("{place}[{toned}](#{to})"),
        Some(Link::Web(address)) => format!("{place}[{toned}](<{}>)", address.replace(['<', '>', '\n'], "")),
        _ => format!("{place}{toned}"),
    }
}

/// Letters as typed; a fence that is longer than any within.
fn typed(words: &str) -> String {
    let longest = words.split(|c| c != '`').map(str::len).max().unwrap_or(0);
    let fence = "`".repeat(longest + 1);
    let space = if words.starts_with('`') || words.ends_with('`') { " " } else { "" };
    format!("{fence}{space}{}{space}{fence}", harmless(words).replace('\n', " ").replace('|', "\\|"))
}

/// Words with nothing in them that Markdown would take for its own.
fn escaped(words: &str) -> String {
    let mut text = String::with_capacity(words.len());
    for (at, character) in harmless(words).char_indices() {
        match character {
            '&' => text.push_str("&amp;"),
            '<' => text.push_str("&lt;"),
            '>' => text.push_str("&gt;"),
            '\\' | '`' | '*' | '_' | '[' | ']' | '|' | '~' | '$' => {
                text.push('\\');
                text.push(character);
            }
            '#' | '+' | '-' | '=' if at == 0 => {
                text.push('\\');
                text.push(character);
            }
            '\n' => text.push_str("\\\n"),
            other => text.push(other),
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_of_the_users_becomes_markup() {
        assert_eq!(escaped("<script> a|b *c* _d_ [e](f)"), "&lt;script&gt; a\\|b \\*c\\* \\_d\\_ \\[e\\](f)");
        assert_eq!(escaped("# no heading"), "\\# no heading");
        assert_eq!(typed("a`b|c"), "``a`b\\|c``");
    }

    #[test]
    fn emphasis_touches_its_words() {
        assert_eq!(inline(&Text::of(Tone::Strong, " a ")), " **a** ");
    }
}
