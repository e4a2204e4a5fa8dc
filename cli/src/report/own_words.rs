//! The user's own Markdown as blocks of the page. HTML in it is shown as it was typed.

use crate::page::{Block, Column, Link, Point, Section, Stretch, Table, Text, Tone};
use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};

/// A section of the user's own words; none where nothing was written.
pub(super) fn section(place: &str, heading: &str, markdown: Option<&str>) -> Option<Section> {
    let markdown = markdown.filter(|words| !words.trim().is_empty())?;
    let mut section = Section::placed(1, place, heading);
    section.blocks = blocks(markdown);
    Some(section)
}

/// Markdown as blocks.
fn blocks(markdown: &str) -> Vec<Block> {
    let mut reader = Reader::default();
    Parser::new_ext(markdown, Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH)
        .for_each(|event| reader.take(event));
    reader.flush();
    reader.blocks
}

#[derive(Default)]
struct Reader {
    blocks: Vec<Block>,
    text: Text,
    tones: Vec<Tone>,
    link: Option<Link>,
    /// The next number of each list that is open; `None` where it has none.
    lists: Vec<Option<u64>>,
    points: Vec<Point>,
    code: Option<String>,
    table: Option<Table>,
    row: Vec<Text>,
}

impl Reader {
    fn take(&mut self, event: Event<'_>) {
        match event {
            Event::Start(tag) => self.start(tag),
            Event::End(tag) => self.end(tag),
            Event::Text(words) => self.words(&words, None),
            Event::Code(words) => self.words(&words, Some(Tone::Typed)),
            Event::Html(words) | Event::InlineHtml(words) => self.words(&words, None),
            Event::SoftBreak => self.words(" ", None),
            Event::HardBreak => self.words("\n", None),
            Event::Rule => self.flush(),
            _ => {}
        }
    }

    fn words(&mut self, words: &str, tone: Option<Tone>) {
        if let Some(code) = &mut self.code {
            return code.push_str(words);
        }
        let tone = tone.or(self.tones.last().copied()).unwrap_or_default();
        let stretch = Stretch { tone, words: words.to_owned(), link: self.link.clone(), place: None };
        self.text.whole_mut().push(stretch);
    }

    fn start(&mut self, tag: Tag<'_>) {
        match tag {
            Tag::Heading { .. } => {
                self.flush();
                self.tones.push(Tone::Strong);
            }
            Tag::BlockQuote(_) => {
                self.flush();
                self.tones.push(Tone::Quiet);
            }
            Tag::Strong => self.tones.push(Tone::Strong),
            Tag::Emphasis => self.tones.push(Tone::Stress),
            Tag::Link { dest_url, .. } => self.link = web(&dest_url),
            Tag::List(first) => {
                self.flush();
                self.lists.push(first);
            }
            Tag::CodeBlock(_) => {
                self.flush();
                self.code = Some(String::new());
            }
            Tag::Table(_) => {
                self.flush();
                self.table = Some(Table::default());
            }
            Tag::Paragraph | Tag::Item | Tag::HtmlBlock => self.flush(),
            _ => {}
        }
    }

    fn end(&mut self, tag: TagEnd) {
        match tag {
            TagEnd::Heading(_) | TagEnd::BlockQuote(_) => {
                self.flush();
                self.tones.pop();
            }
            TagEnd::Strong | TagEnd::Emphasis => drop(self.tones.pop()),
            TagEnd::Link => self.link = None,
            TagEnd::List(_) => {
                self.flush();
                self.lists.pop();
                self.flush();
            }
            TagEnd::CodeBlock => {
                let code = self.code.take().unwrap_or_default();
                self.blocks.push(Block::Verbatim(code.trim_end().to_owned()));
            }
            TagEnd::TableCell => self.row.push(std::mem::take(&mut self.text)),
            TagEnd::TableHead => {
                let heads = std::mem::take(&mut self.row);
                if let Some(table) = &mut self.table {
                    table.columns = heads.iter().map(|head| Column::words(head.words())).collect();
                }
            }
            TagEnd::TableRow => {
                let row = std::mem::take(&mut self.row);
                self.table.iter_mut().for_each(|table| table.rows.push(row.clone()));
            }
            TagEnd::Table => self.blocks.extend(self.table.take().map(Block::Table)),
            TagEnd::Paragraph | TagEnd::Item | TagEnd::HtmlBlock => self.flush(),
            _ => {}
        }
    }

    /// Ends the running text: a point of the innermost list, or a paragraph.
    fn flush(&mut self) {
        let text = std::mem::take(&mut self.text);
        let depth = self.lists.len();
        if text.words().trim().is_empty() {
            // Only spaces stood between two blocks.
        } else if let Some(next) = self.lists.last_mut() {
            let number = *next;
            *next = number.map(|n| n + 1);
            self.points.push(Point { depth: depth - 1, number, text });
        } else {
            self.blocks.push(Block::Paragraph(text));
        }
        if depth == 0 && !self.points.is_empty() {
            self.blocks.push(Block::List(std::mem::take(&mut self.points)));
        }
    }
}

/// An address that is safe to follow.
fn web(address: &str) -> Option<Link> {
    let safe = ["https://", "http://", "mailto:"].iter().any(|start| address.starts_with(start));
    safe.then(|| Link::Web(address.to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn paragraph(block: &Block) -> String {
        match block {
            Block::Paragraph(text) => text.words(),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn html_is_shown_as_it_was_typed() {
        let blocks = blocks("Before <b>bold</b>.\n\n<script>alert(1)</script>\n");
        assert_eq!(paragraph(&blocks[0]), "Before <b>bold</b>.");
        assert_eq!(paragraph(&blocks[1]).trim(), "<script>alert(1)</script>");
    }

    #[test]
    fn a_list_stands_between_its_paragraphs_with_its_depths_and_numbers() {
        let blocks = blocks("First.\n\n1. one\n   - inner\n2. two\n\nLast.");
        let Block::List(points) = &blocks[1] else { panic!("{blocks:?}") };
        let shown: Vec<_> = points.iter().map(|p| (p.depth, p.number, p.text.words())).collect();
        let wanted = [(0, Some(1), "one"), (1, None, "inner"), (0, Some(2), "two")];
        assert_eq!(shown, wanted.map(|(depth, number, words)| (depth, number, words.to_owned())));
        assert_eq!((paragraph(&blocks[0]), paragraph(&blocks[2])), ("First.".into(), "Last.".into()));
    }

    #[test]
    fn a_link_to_anything_but_the_web_leads_nowhere() {
        let blocks = blocks("[a](javascript:alert(1)) [b](https://example.org)");
        let Block::Paragraph(text) = &blocks[0] else { panic!("{blocks:?}") };
        let links: Vec<_> = text.whole().iter().filter_map(|s| s.link.clone()).collect();
        assert_eq!(links, [Link::Web("https://example.org".to_owned())]);
    }

    #[test]
    fn a_table_keeps_its_head_and_rows() {
        let blocks = blocks("| a | b |\n|---|---|\n| 1 | 2 |\n");
        let Block::Table(table) = &blocks[0] else { panic!("{blocks:?}") };
        assert_eq!((table.columns[1].head.as_str(), table.rows[0][1].words()), ("b", "2".to_owned()));
    }
}
