//! A document as one HTML file that can be read without a script and from anywhere.

mod blocks;
mod text;

use super::{Document, Section};
use blocks::block;
use fullshift_engine::model::{Logo, PictureKind};
use std::fmt::Write;
use text::{escaped, inline, plain};

const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("script.js");

/// The document as the bytes of its file.
pub(crate) fn document(document: &Document) -> String {
    let head = &document.head;
    let mut html = String::new();
    let _ = write!(
        html,
        "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n<title>{}</title>\n<style>\n{STYLE}{}</style>\n</head>\n<body>\n",
        head.language,
        escaped(&head.title),
        page_numbers(head.page_of)
    );
    title(&mut html, document);
    contents(&mut html, document);
    html.push_str("<main>\n");
    let mut tables = 0;
    for part in &document.page.sections {
        section(&mut html, part, head.back, &mut tables);
    }
    let _ = write!(html, "</main>\n<script>\n{SCRIPT}</script>\n</body>\n</html>\n");
    html
}

/// The rule that counts the pages of a print.
fn page_numbers(words: &str) -> String {
    let content = words.replace("{page}", "\" counter(page) \"").replace("{pages}", "\" counter(pages) \"");
    format!(
        "@page {{ @bottom-right {{ content: \"{content}\"; font: 8pt \"Liberation Sans\", Arial, sans-serif; }} }}\n"
    )
}

fn title(html: &mut String, document: &Document) {
    let head = &document.head;
    html.push_str("<header>\n");
    if let Some(logo) = &head.logo {
        let _ = writeln!(
            html,
            "<img class=\"logo\" alt=\"{}\" src=\"{}\">",
            escaped(head.logo_words),
            data(logo)
        );
    }
    let _ = writeln!(html, "<h1>{}</h1>", plain(&head.title));
    for line in &head.lines {
        let _ = writeln!(html, "<p>{}</p>", inline(line, head.back));
    }
    html.push_str("</header>\n");
}

fn contents(html: &mut String, document: &Document) {
    let words = escaped(document.head.contents);
    let _ = write!(html, "<nav aria-label=\"{words}\">\n<p class=\"nav-head\">{words}</p>\n<ul>\n");
    for part in document.page.sections.iter().filter(|part| part.depth == 0) {
        let _ = writeln!(html, "<li><a href=\"#{}\">{}</a></li>", part.place, plain(&part.heading.words()));
    }
    html.push_str("</ul>\n</nav>\n");
}

fn section(html: &mut String, part: &Section, back: &str, tables: &mut usize) {
    let level = part.depth + 2;
    let place = escaped(&part.place);
    let _ = writeln!(html, "<h{level} id=\"{place}\">{}</h{level}>", inline(&part.heading, back));
    for piece in &part.blocks {
        block(html, piece, back, tables);
    }
}

/// A picture as an address that holds it.
fn data(logo: &Logo) -> String {
    let kind = match logo.kind {
        PictureKind::Png => "image/png",
        PictureKind::Jpeg => "image/jpeg",
    };
    format!("data:{kind};base64,{}", base64(&logo.bytes))
}

/// RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let byte = |at: usize| u32::from(three.get(at).copied().unwrap_or(0));
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for at in 0..4 {
            let letter = LETTERS[(bits >> (18 - 6 * at)) as usize & 63];
            text.push(if at <= three.len() { char::from(letter) } else { '=' });
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The test vectors of RFC 4648, section 10.
    #[test]
    fn base64_is_that_of_the_standard() {
        let vectors = [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ];
        for (bytes, wanted) in vectors {
            assert_eq!(base64(bytes.as_bytes()), wanted);
        }
    }
}
