//! The body of the document: its paragraphs, lists, tables and pictures.

use super::table::{TEXT_WIDTH, table};
use super::text::{Runs, field, run};
use crate::figures::{self, Drawing, Picture};
use crate::language::filled;
use crate::page::{Block, Captioned, Document, Head, Line, Point, Section, Text, Tone};
use fullshift_engine::model::PictureKind;

/// Dots to the inch of a drawing on paper.
const DOTS: f64 = 200.0;
/// English metric units: an inch has so many.
const EMU: f64 = 914_400.0;
/// The largest picture in inches: the width of the text, and what a page holds beside a caption.
const LARGEST: (f64, f64) = (TEXT_WIDTH / 1440.0, 9.1);

/// The body as it grows, with what it needs from other parts of the file.
#[derive(Default)]
pub(super) struct Body {
    pub(super) xml: String,
    pub(super) runs: Runs,
    /// Pictures: bytes and extension.
    pub(super) pictures: Vec<(Vec<u8>, &'static str)>,
    /// The first number of each list; `None` where it has none.
    pub(super) lists: Vec<Option<u64>>,
    /// What is said of words that a picture could not write.
    pub(super) in_picture: &'static str,
}

impl Body {
    fn paragraph(&mut self, style: &str, more: &str, runs: &str) {
        self.xml += &format!("<w:p><w:pPr><w:pStyle w:val=\"{style}\"/>{more}</w:pPr>{runs}</w:p>");
    }

    /// The title with its lines and the logo.
    pub(super) fn head(&mut self, head: &Head) {
        if let Some(logo) = &head.logo {
            let extension = if logo.kind == PictureKind::Png { "png" } else { "jpeg" };
            let (width, height) = (f64::from(logo.size.0), f64::from(logo.size.1));
            // As large as fits into two inches by one.
            let scale = (2.0 / width).min(1.0 / height);
            let size = (width * scale, height * scale);
            let picture = self.picture(logo.bytes.clone(), extension, size, head.logo_words);
            self.paragraph("Normal", "<w:jc w:val=\"right\"/>", &picture);
        }
        self.paragraph("Title", "", &run(&head.title, ""));
        for line in &head.lines {
            let runs = self.runs.text(line, "");
            self.paragraph("Subtitle", "", &runs);
        }
    }

    /// The table of contents: a field with its entries; the word processor fills in the pages when it brings its fields up
    /// to date, for which it asks when it opens the document.
    pub(super) fn contents(&mut self, document: &Document) {
        self.paragraph("TOCHeading", "", &run(document.head.contents, ""));
        let begin = "<w:r><w:fldChar w:fldCharType=\"begin\" w:dirty=\"true\"/></w:r><w:r><w:instrText xml:space=\"preserve\"> TOC \\o \"1-2\" \\h \\z \\u </w:instrText></w:r><w:r><w:fldChar w:fldCharType=\"separate\"/></w:r>";
        let end = "<w:r><w:fldChar w:fldCharType=\"end\"/></w:r>";
        let sections: Vec<&Section> = document.page.sections.iter().filter(|s| !s.place.is_empty()).collect();
        for (at, section) in sections.iter().enumerate() {
            let place = super::text::bookmark(&section.place);
            let words = run(&section.heading.words(), "");
            let entry = format!("<w:hyperlink w:anchor=\"{place}\" w:history=\"1\">{words}</w:hyperlink>");
            let first = if at == 0 { begin } else { "" };
            let last = if at + 1 == sections.len() { end } else { "" };
            let style = if section.depth == 0 { "TOC1" } else { "TOC2" };
            self.paragraph(style, "", &format!("{first}{entry}{last}"));
        }
    }

    /// A section with all that it holds.
    pub(super) fn section(&mut self, section: &Section) -> Result<(), String> {
        let words = self.runs.text(&section.heading, "");
        let heading = self.runs.marked(&section.place, &words);
        self.paragraph(&format!("Heading{}", section.depth.min(2) + 1), "", &heading);
        section.blocks.iter().try_for_each(|block| self.block(block))
    }

    fn block(&mut self, block: &Block) -> Result<(), String> {
        match block {
            Block::Paragraph(text) => {
                let runs = self.runs.text(text, "");
                self.paragraph("Normal", "", &runs);
            }
            Block::Outline(lines) => self.outline(lines),
            Block::List(points) => self.list(points),
            Block::Table(this) => {
                let mut description = String::new();
                if let Some(caption) = &this.caption {
                    description = caption.caption.words();
                    self.caption(caption, "Table", "<w:keepNext/>");
                }
                let xml = table(this, &description, &mut self.runs);
                self.xml += &xml;
                // Two tables without a paragraph between them would become one.
                self.xml += "<w:p><w:pPr><w:spacing w:after=\"120\" w:line=\"120\" w:lineRule=\"exact\"/></w:pPr></w:p>";
            }
            Block::Drawing(drawing) => self.drawing(drawing)?,
            Block::Verbatim(words) => self.paragraph("Verbatim", "", &run(words, "")),
            Block::Excerpt(quoted) => self.paragraph("Verbatim", "", &run(&quoted.text, "")),
        }
        Ok(())
    }

    fn outline(&mut self, lines: &[Line]) {
        for line in lines {
            let runs = self.runs.text(&line.text, "");
            let style = if line.depth == 0 { "WorkingHead" } else { "Working" };
            let indent = format!("<w:ind w:left=\"{}\"/>", 300 * line.depth);
            self.paragraph(style, &indent, &runs);
        }
    }

    fn list(&mut self, points: &[Point]) {
        let mut numbers: Vec<usize> = Vec::new();
        for point in points {
            numbers.truncate(point.depth + 1);
            while numbers.len() <= point.depth {
                self.lists.push(point.number);
                numbers.push(self.lists.len());
            }
            let number = numbers[point.depth];
            let level = point.depth.min(8);
            let own = format!("<w:numPr><w:ilvl w:val=\"{level}\"/><w:numId w:val=\"{number}\"/></w:numPr>");
            let runs = self.runs.text(&point.text, "");
            self.paragraph("ListParagraph", &own, &runs);
        }
    }

    /// A caption whose number the word processor can renew.
    fn caption<T>(&mut self, caption: &Captioned<T>, sequence: &str, more: &str) {
        let (word, number) = caption.label.rsplit_once(' ').unwrap_or((&caption.label, ""));
        let number = field(&format!("SEQ {sequence} \\* ARABIC"), &run(number, "<w:b/>"));
        let label =
            self.runs.marked(&caption.key, &format!("{}{number}", run(&format!("{word} "), "<w:b/>")));
        let words = self.runs.text(&Text::of(Tone::Strong, ". ").append(caption.caption.clone()), "");
        self.paragraph("Caption", more, &format!("{label}{words}"));
    }

    fn drawing(&mut self, drawing: &Captioned<Drawing>) -> Result<(), String> {
        let inches = (drawing.thing.width / 96.0, drawing.thing.height / 96.0);
        let scale = (LARGEST.0 / inches.0).min(LARGEST.1 / inches.1).min(1.0);
        let Picture { png, unwritten } = figures::png(&drawing.thing, DOTS * scale)?;
        let size = (inches.0 * scale, inches.1 * scale);
        let picture = self.picture(png, "png", size, &drawing.thing.description);
        self.paragraph("Picture", "", &picture);
        let after = if unwritten.is_empty() { 260 } else { 60 };
        self.caption(drawing, "Figure", &format!("<w:spacing w:before=\"60\" w:after=\"{after}\"/>"));
        if !unwritten.is_empty() {
            // Each in a run of its own, so that words read from the right do not draw the others with them.
            let mut names = Text::default();
            for (at, words) in unwritten.iter().enumerate() {
                names = names.then(if at > 0 { "; " } else { "" }).then(format!("[{}] ", at + 1)).then(words);
            }
            let runs = self.runs.text(&filled(self.in_picture, &[("names", names)]), "");
            self.paragraph("Caption", "<w:spacing w:before=\"0\" w:after=\"260\"/>", &runs);
        }
        Ok(())
    }

    /// A picture of so many inches, with the words for those who cannot see it.
    fn picture(
        &mut self,
        bytes: Vec<u8>,
        extension: &'static str,
        inches: (f64, f64),
        words: &str,
    ) -> String {
        self.pictures.push((bytes, extension));
        let number = self.pictures.len();
        let [width, height] = [inches.0, inches.1].map(|side| (side * EMU).round());
        let words = super::text::escaped(&words.replace('\n', " "));
        format!(
            "<w:r><w:drawing><wp:inline distT=\"0\" distB=\"0\" distL=\"0\" distR=\"0\"><wp:extent cx=\"{width}\" cy=\"{height}\"/>\
             <wp:docPr id=\"{number}\" name=\"picture{number}\" descr=\"{words}\"/>\
             <a:graphic><a:graphicData uri=\"http://schemas.openxmlformats.org/drawingml/2006/picture\"><pic:pic>\
             <pic:nvPicPr><pic:cNvPr id=\"{number}\" name=\"picture{number}.{extension}\" descr=\"{words}\"/><pic:cNvPicPr/></pic:nvPicPr>\
             <pic:blipFill><a:blip r:embed=\"picture{number}\"/><a:stretch><a:fillRect/></a:stretch></pic:blipFill>\
             <pic:spPr><a:xfrm><a:off x=\"0\" y=\"0\"/><a:ext cx=\"{width}\" cy=\"{height}\"/></a:xfrm>\
             <a:prstGeom prst=\"rect\"><a:avLst/></a:prstGeom></pic:spPr></pic:pic></a:graphicData></a:graphic></wp:inline></w:drawing></w:r>"
        )
    }
}
