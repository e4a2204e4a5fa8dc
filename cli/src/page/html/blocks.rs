//! The pieces of a section in HTML.

use super::text::{escaped, inline, plain};
use crate::page::{Block, Column, Line, Point, Side, Table, Text};
use std::fmt::Write;

/// Writes a piece; `back` is said of links back to a number, `tables` counts those so far, for their names.
pub(super) fn block(html: &mut String, block: &Block, back: &str, tables: &mut usize) {
    match block {
        Block::Paragraph(text) => {
            let _ = writeln!(html, "<p>{}</p>", inline(text, back));
        }
        Block::Outline(lines) => outline(html, lines, back),
        Block::List(points) => list(html, points, 0, back),
        Block::Table(this) => {
            *tables += 1;
            table(html, this, back, *tables);
        }
        Block::Drawing(drawing) => {
            let place = escaped(&drawing.key);
            let svg = crate::figures::svg::inline(&drawing.thing, &drawing.key);
            let caption = caption(&drawing.label, &drawing.caption, back);
            let _ =
                writeln!(html, "<figure id=\"{place}\">\n{svg}<figcaption>{caption}</figcaption>\n</figure>");
        }
        Block::Verbatim(words) => {
            let _ = writeln!(html, "<pre>{}</pre>", escaped(words).replace("<br>", "\n"));
        }
        Block::Excerpt(quoted) => {
            let _ = writeln!(html, "<pre>{}</pre>", escaped(&quoted.text));
        }
    }
}

fn outline(html: &mut String, lines: &[Line], back: &str) {
    html.push_str("<div class=\"outline\">\n");
    for line in lines {
        let _ = writeln!(html, "<p class=\"depth-{}\">{}</p>", line.depth.min(4), inline(&line.text, back));
    }
    html.push_str("</div>\n");
}

/// Writes the points from `depth` on, those that stand deeper within the one before them; gives how many it wrote.
fn list(html: &mut String, points: &[Point], depth: usize, back: &str) {
    let Some(first) = points.first() else { return };
    let (open, close) = match first.number {
        Some(1) => ("<ol>".to_owned(), "</ol>"),
        Some(number) => (format!("<ol start=\"{number}\">"), "</ol>"),
        None => ("<ul>".to_owned(), "</ul>"),
    };
    let _ = writeln!(html, "{open}");
    let mut at = 0;
    while at < points.len() {
        let deeper = points[at + 1..].iter().take_while(|point| point.depth > depth).count();
        let _ = write!(html, "<li>{}", inline(&points[at].text, back));
        list(html, &points[at + 1..at + 1 + deeper], depth + 1, back);
        html.push_str("</li>\n");
        at += 1 + deeper;
    }
    let _ = writeln!(html, "{close}");
}

fn caption(label: &str, words: &Text, back: &str) -> String {
    match label {
        "" => inline(words, back),
        label => format!("<span class=\"label\">{}.</span> {}", escaped(label), inline(words, back)),
    }
}

fn table(html: &mut String, table: &Table, back: &str, number: usize) {
    let (place, words) = match &table.caption {
        Some(own) => (own.key.clone(), caption(&own.label, &own.caption, back)),
        None => (format!("plain-table-{number}"), String::new()),
    };
    let named = match words.is_empty() {
        true => format!("aria-label=\"{place}\""),
        false => format!("aria-labelledby=\"{place}-caption\""),
    };
    let _ =
        writeln!(html, "<div class=\"wide\" role=\"region\" tabindex=\"0\" id=\"{place}\" {named}>\n<table>");
    if !words.is_empty() {
        let _ = writeln!(html, "<caption id=\"{place}-caption\">{words}</caption>");
    }
    html.push_str("<thead><tr>");
    for column in &table.columns {
        let _ = write!(html, "<th scope=\"col\"{}>{}</th>", side(column), plain(&column.head));
    }
    html.push_str("</tr></thead>\n<tbody>\n");
    for row in &table.rows {
        html.push_str("<tr>");
        for (at, (cell, column)) in row.iter().zip(&table.columns).enumerate() {
            let words = inline(cell, back);
            let _ = match at {
                0 => write!(html, "<th scope=\"row\">{words}</th>"),
                _ => write!(html, "<td{}>{words}</td>", side(column)),
            };
        }
        html.push_str("</tr>\n");
    }
    html.push_str("</tbody>\n</table>\n</div>\n");
}

fn side(column: &Column) -> &'static str {
    match column.side {
        Side::Left => "",
        Side::Right => " class=\"number\"",
    }
}
