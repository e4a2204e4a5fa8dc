//! The parts of the file around its body.

use super::blocks::Body;
use super::package::Part;
use super::text::{WEB, escaped, field, run};
use crate::page::Head;

const DECLARATION: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n";
const WORDS: &str = "http://schemas.openxmlformats.org/wordprocessingml/2006/main";
const RELATIONS: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const PACKAGE: &str = "http://schemas.openxmlformats.org/package/2006";
const STYLES: &str = include_str!("styles.xml");

/// Letters of the title that the header of each page has room for.
const HEADER_LETTERS: usize = 90;

/// All parts, in the order in which the file has them.
pub(super) fn of(head: &Head, body: Body) -> Vec<Part> {
    let language = if head.language == "de" { "de-DE" } else { "en-GB" };
    let text = |path: &str, xml: String| (path.to_owned(), (DECLARATION.to_owned() + &xml).into_bytes());
    let mut parts = vec![
        text("[Content_Types].xml", content_types()),
        text("_rels/.rels", package_relations()),
        text("docProps/core.xml", core(head, language)),
        ("word/styles.xml".to_owned(), STYLES.replace("LANGUAGE", language).into_bytes()),
        text("word/numbering.xml", numbering(&body.lists)),
        text(
            "word/settings.xml",
            format!(
                "<w:settings xmlns:w=\"{WORDS}\"><w:defaultTabStop w:val=\"720\"/><w:updateFields w:val=\"true\"/></w:settings>"
            ),
        ),
        text("word/header1.xml", header(head)),
        text("word/footer1.xml", footer(head)),
        text("word/_rels/document.xml.rels", relations(&body)),
        text("word/document.xml", document(&body.xml)),
    ];
    for (number, (bytes, extension)) in body.pictures.into_iter().enumerate() {
        parts.push((format!("word/media/picture{}.{extension}", number + 1), bytes));
    }
    parts
}

fn document(body: &str) -> String {
    format!(
        "<w:document xmlns:w=\"{WORDS}\" xmlns:r=\"{RELATIONS}\" \
         xmlns:wp=\"http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing\" \
         xmlns:a=\"http://schemas.openxmlformats.org/drawingml/2006/main\" \
         xmlns:pic=\"http://schemas.openxmlformats.org/drawingml/2006/picture\"><w:body>{body}\
         <w:sectPr><w:headerReference w:type=\"default\" r:id=\"header\"/><w:footerReference w:type=\"default\" r:id=\"footer\"/>\
         <w:pgSz w:w=\"11906\" w:h=\"16838\"/>\
         <w:pgMar w:top=\"1247\" w:right=\"1134\" w:bottom=\"1247\" w:left=\"1134\" w:header=\"567\" w:footer=\"567\" w:gutter=\"0\"/>\
         </w:sectPr></w:body></w:document>"
    )
}

fn content_types() -> String {
    let word = "application/vnd.openxmlformats-officedocument.wordprocessingml";
    let parts = [
        ("document", "document.main"),
        ("styles", "styles"),
        ("numbering", "numbering"),
        ("settings", "settings"),
        ("header1", "header"),
        ("footer1", "footer"),
    ];
    let parts: String = parts
        .iter()
        .map(|(part, kind)| {
            format!("<Override PartName=\"/word/{part}.xml\" ContentType=\"{word}.{kind}+xml\"/>")
        })
        .collect();
    format!(
        "<Types xmlns=\"{PACKAGE}/content-types\"><Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\
         <Default Extension=\"xml\" ContentType=\"application/xml\"/><Default Extension=\"png\" ContentType=\"image/png\"/>\
         <Default Extension=\"jpeg\" ContentType=\"image/jpeg\"/>{parts}\
         <Override PartName=\"/docProps/core.xml\" ContentType=\"application/vnd.openxmlformats-package.core-properties+xml\"/></Types>"
    )
}

fn package_relations() -> String {
    format!(
        "<Relationships xmlns=\"{PACKAGE}/relationships\">\
         <Relationship Id=\"document\" Type=\"{RELATIONS}/officeDocument\" Target=\"word/document.xml\"/>\
         <Relationship Id=\"core\" Type=\"{PACKAGE}/relationships/metadata/core-properties\" Target=\"docProps/core.xml\"/></Relationships>"
    )
}

fn core(head: &Head, language: &str) -> String {
    format!(
        "<cp:coreProperties xmlns:cp=\"{PACKAGE}/metadata/core-properties\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\">\
         <dc:title>{}</dc:title><dc:language>{language}</dc:language></cp:coreProperties>",
        escaped(&head.title)
    )
}

fn relations(body: &Body) -> String {
    let own = [
        ("styles", "styles"),
        ("numbering", "numbering"),
        ("settings", "settings"),
        ("header", "header1"),
        ("footer", "footer1"),
    ];
    let own = own.iter().map(|(id, file)| {
        format!("<Relationship Id=\"{id}\" Type=\"{RELATIONS}/{id}\" Target=\"{file}.xml\"/>")
    });
    let pictures = body.pictures.iter().enumerate().map(|(at, (_, extension))| {
        let n = at + 1;
        format!("<Relationship Id=\"picture{n}\" Type=\"{RELATIONS}/image\" Target=\"media/picture{n}.{extension}\"/>")
    });
    let web = body.runs.addresses.iter().enumerate().map(|(n, address)| {
        format!(
            "<Relationship Id=\"{WEB}{n}\" Type=\"{RELATIONS}/hyperlink\" Target=\"{}\" TargetMode=\"External\"/>",
            escaped(address)
        )
    });
    let all: String = own.chain(pictures).chain(web).collect();
    format!("<Relationships xmlns=\"{PACKAGE}/relationships\">{all}</Relationships>")
}

/// The lists: all bulleted ones look alike, each numbered one counts for itself.
fn numbering(lists: &[Option<u64>]) -> String {
    let levels = |kind: &str, sign: &dyn Fn(usize) -> String| -> String {
        (0..9)
            .map(|level| {
                format!(
                    "<w:lvl w:ilvl=\"{level}\"><w:start w:val=\"1\"/><w:numFmt w:val=\"{kind}\"/><w:lvlText w:val=\"{}\"/><w:lvlJc w:val=\"left\"/>\
                     <w:pPr><w:ind w:left=\"{}\" w:hanging=\"300\"/></w:pPr></w:lvl>",
                    sign(level),
                    360 * (level + 1)
                )
            })
            .collect()
    };
    let bullets = levels("bullet", &|_| "•".to_owned());
    let numbers = levels("decimal", &|level| format!("%{}.", level + 1));
    let lists: String = lists
        .iter()
        .enumerate()
        .map(|(at, first)| {
            let (id, kind) = (at + 1, usize::from(first.is_some()));
            let starts = first.map_or(String::new(), |first| {
                let at_level = |level| format!("<w:lvlOverride w:ilvl=\"{level}\"><w:startOverride w:val=\"{first}\"/></w:lvlOverride>");
                (0..9).map(at_level).collect()
            });
            format!("<w:num w:numId=\"{id}\"><w:abstractNumId w:val=\"{kind}\"/>{starts}</w:num>")
        })
        .collect();
    format!(
        "<w:numbering xmlns:w=\"{WORDS}\"><w:abstractNum w:abstractNumId=\"0\"><w:multiLevelType w:val=\"hybridMultilevel\"/>{bullets}</w:abstractNum>\
         <w:abstractNum w:abstractNumId=\"1\"><w:multiLevelType w:val=\"hybridMultilevel\"/>{numbers}</w:abstractNum>{lists}</w:numbering>"
    )
}

fn header(head: &Head) -> String {
    let title: String = match head.title.char_indices().nth(HEADER_LETTERS) {
        Some((end, _)) => format!("{}…", &head.title[..end]),
        None => head.title.clone(),
    };
    format!(
        "<w:hdr xmlns:w=\"{WORDS}\"><w:p><w:pPr><w:pStyle w:val=\"Header\"/></w:pPr>{}</w:p></w:hdr>",
        run(&title, "")
    )
}

/// `Page 3 of 12`, counted by the word processor.
fn footer(head: &Head) -> String {
    let (before, rest) = head.page_of.split_once("{page}").unwrap_or((head.page_of, ""));
    let (between, after) = rest.split_once("{pages}").unwrap_or((rest, ""));
    let counted = |instruction| field(instruction, &run("1", ""));
    let words =
        [run(before, ""), counted("PAGE"), run(between, ""), counted("NUMPAGES"), run(after, "")].concat();
    format!(
        "<w:ftr xmlns:w=\"{WORDS}\"><w:p><w:pPr><w:pStyle w:val=\"Footer\"/></w:pPr>{words}</w:p></w:ftr>"
    )
}
