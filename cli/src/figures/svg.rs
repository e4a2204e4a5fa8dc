//! A drawing as SVG. Every shape carries the colours of light paper itself; a page may replace them by class.

use super::shape::{Anchor, Drawing, Fill, Ink, PATTERNS, Point, Shape, Symbol};
use crate::page::harmless;
use std::fmt::Write;

const FACE: &str = "Liberation Sans, Arial, Helvetica, sans-serif";

/// What a page does by its style: a white ground, and letters that stay readable over lines.
const GROUND: &str = "<style>text { paint-order: stroke; stroke: #ffffff; stroke-width: 2.5px; stroke-linejoin: round }</style>\n\
    <rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n";

/// As part of a page; `key` makes its names unique there.
pub(crate) fn inline(drawing: &Drawing, key: &str) -> String {
    svg(drawing, key, "")
}

/// As a file of its own, on white.
pub(crate) fn file(drawing: &Drawing, key: &str) -> String {
    svg(drawing, key, GROUND)
}

fn svg(drawing: &Drawing, key: &str, ground: &str) -> String {
    let (width, height) = (drawing.width, drawing.height.ceil());
    let mut svg = String::new();
    let _ = write!(
        svg,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-labelledby=\"{key}-title {key}-text\" \
         viewBox=\"0 0 {width} {height}\" width=\"{width}\" height=\"{height}\" font-family=\"{FACE}\">\n\
         <title id=\"{key}-title\">{}</title>\n<desc id=\"{key}-text\">{}</desc>\n{}{ground}",
        escaped(&drawing.title),
        escaped(&drawing.description),
        patterns(drawing, key)
    );
    for shape in &drawing.shapes {
        write_shape(&mut svg, shape, key);
    }
    svg.push_str("</svg>\n");
    svg
}

/// Class and colour of an ink.
fn ink(ink: Ink) -> (&'static str, &'static str) {
    match ink {
        Ink::Data => ("ink", "#1b1d1f"),
        Ink::Quiet => ("quiet-ink", "#55595e"),
        Ink::Grid => ("grid-ink", "#d5d9dd"),
        Ink::Fit => ("fit-ink", "#1f5f99"),
        Ink::Limit => ("limit-ink", "#8a3a00"),
        Ink::Paper => ("paper-ink", "#ffffff"),
    }
}

fn stroke(of: Ink) -> String {
    let (class, colour) = ink(of);
    format!("class=\"{class}-line\" stroke=\"{colour}\"")
}

fn write_shape(svg: &mut String, shape: &Shape, key: &str) {
    let _ = match shape {
        Shape::Line { points, .. } if points.len() < 2 => Ok(()),
        Shape::Line { points, ink, width, dashed } => {
            let dashes = if *dashed { " stroke-dasharray=\"6 3\"" } else { "" };
            writeln!(
                svg,
                "<path d=\"{}\" fill=\"none\" {} stroke-width=\"{width}\"{dashes}/>",
                path(points, false),
                stroke(*ink)
            )
        }
        Shape::Surface { points, fill, outline } => {
            let outline = outline.map_or(String::new(), |of| {
                let (class, colour) = ink(of);
                format!(" stroke=\"{colour}\" stroke-width=\"0.8\" data-edge=\"{class}\"")
            });
            let (class, colour) = match fill {
                Fill::Ink(of) => (ink(*of).0, ink(*of).1.to_owned()),
                Fill::Band => ("band", "#dbe7f2".to_owned()),
                Fill::Pattern(number) => ("", format!("url(#{key}-pattern-{number})")),
            };
            let class = if class.is_empty() { String::new() } else { format!(" class=\"{class}-fill\"") };
            writeln!(svg, "<path d=\"{}\"{class} fill=\"{colour}\"{outline}/>", path(points, true))
        }
        Shape::Mark { at, symbol } => writeln!(svg, "{}", mark(*at, *symbol)),
        Shape::Words { at: (x, y), words, size, anchor, ink: of, bold, upward } => {
            let (class, colour) = ink(*of);
            let anchor = match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            };
            let weight = if *bold { " font-weight=\"bold\"" } else { "" };
            let turn = if *upward {
                format!(" transform=\"rotate(-90 {} {})\"", short(*x), short(*y))
            } else {
                String::new()
            };
            let (x, y) = (short(*x), short(*y));
            let words = escaped(words);
            writeln!(
                svg,
                "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" text-anchor=\"{anchor}\" class=\"{class}-fill\" fill=\"{colour}\"{weight}{turn}>{words}</text>"
            )
        }
    };
}

fn mark((x, y): Point, symbol: Symbol) -> String {
    let (_, colour) = ink(Ink::Data);
    let paper = ink(Ink::Paper).1;
    let polygon = |corners: &[Point]| {
        let points: Vec<Point> = corners.iter().map(|(dx, dy)| (x + dx, y + dy)).collect();
        format!("<path d=\"{}\" class=\"ink-fill\" fill=\"{colour}\"/>", path(&points, true))
    };
    match symbol {
        Symbol::Disc => format!(
            "<circle cx=\"{}\" cy=\"{}\" r=\"3.6\" class=\"ink-fill\" fill=\"{colour}\"/>",
            short(x),
            short(y)
        ),
        Symbol::Ring => format!(
            "<circle cx=\"{}\" cy=\"{}\" r=\"3.8\" class=\"ring\" fill=\"{paper}\" stroke=\"{colour}\" stroke-width=\"1.7\"/>",
            short(x),
            short(y)
        ),
        Symbol::Triangle => polygon(&[(0.0, -5.2), (5.0, 4.0), (-5.0, 4.0)]),
        Symbol::Diamond => polygon(&[(0.0, -5.0), (5.0, 0.0), (0.0, 5.0), (-5.0, 0.0)]),
        Symbol::Cross => {
            let line = |points: &[Point]| path(points, false);
            let arms = line(&[(x - 3.5, y - 3.5), (x + 3.5, y + 3.5)])
                + &line(&[(x - 3.5, y + 3.5), (x + 3.5, y - 3.5)]);
            format!("<path d=\"{arms}\" fill=\"none\" {} stroke-width=\"1.8\"/>", stroke(Ink::Data))
        }
    }
}

fn path(points: &[Point], closed: bool) -> String {
    let mut path = String::new();
    for (at, (x, y)) in points.iter().enumerate() {
        let _ = write!(path, "{}{} {}", if at == 0 { "M" } else { "L" }, short(*x), short(*y));
    }
    if closed { path + "Z" } else { path }
}

/// A coordinate with two decimals, without those that are nothing.
fn short(value: f64) -> String {
    let rounded = (value * 100.0).round() / 100.0;
    if rounded == 0.0 { "0".to_owned() } else { format!("{rounded}") }
}

/// The patterns that a drawing uses: from ground and figure only, so that they are told apart without colour.
fn patterns(drawing: &Drawing, key: &str) -> String {
    let used = |number: usize| {
        drawing
            .shapes
            .iter()
            .any(|shape| matches!(shape, Shape::Surface { fill: Fill::Pattern(n), .. } if *n == number))
    };
    let patterns: String =
        (0..PATTERNS).filter(|&number| used(number)).map(|number| pattern(number, key)).collect();
    if patterns.is_empty() { patterns } else { format!("<defs>\n{patterns}</defs>\n") }
}

fn pattern(number: usize, key: &str) -> String {
    let (size, ground, drawn) = match number {
        0 => (8, "mid", ""),
        1 => (8, "paper-ink", ""),
        2 => (6, "paper-ink", "<path d=\"M-1 1L1 -1M0 6L6 0M5 7L7 5\" STROKE stroke-width=\"1.3\"/>"),
        3 => (6, "paper-ink", "<circle cx=\"3\" cy=\"3\" r=\"1.3\" class=\"ink-fill\" fill=\"#1b1d1f\"/>"),
        4 => (5, "paper-ink", "<path d=\"M0 2.5H5\" STROKE stroke-width=\"1.1\"/>"),
        5 => (6, "paper-ink", "<path d=\"M0 0L6 6M6 0L0 6\" STROKE stroke-width=\"1\"/>"),
        6 => (5, "paper-ink", "<path d=\"M2.5 0V5\" STROKE stroke-width=\"1.1\"/>"),
        _ => (6, "mid", "<path d=\"M0 0L6 6M-1 5L1 7M5 -1L7 1\" STROKE stroke-width=\"1.2\"/>"),
    };
    let colour = if ground == "mid" { "#9aa1a8" } else { "#ffffff" };
    let drawn = drawn.replace("STROKE", &format!("fill=\"none\" {}", stroke(Ink::Data)));
    format!(
        "<pattern id=\"{key}-pattern-{number}\" width=\"{size}\" height=\"{size}\" patternUnits=\"userSpaceOnUse\">\
         <rect width=\"{size}\" height=\"{size}\" class=\"{ground}-fill\" fill=\"{colour}\"/>{drawn}</pattern>\n"
    )
}

/// Words with nothing in them that XML would take for its own.
fn escaped(words: &str) -> String {
    harmless(words)
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
        .replace('\n', " ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_the_user_are_words_and_nothing_else() {
        let shapes = vec![Shape::words((0.0, 0.0), "<script>&", Anchor::Start, Ink::Data)];
        let drawing =
            Drawing { title: "a < b".into(), description: "\"x\"".into(), width: 10.0, height: 10.0, shapes };
        let svg = file(&drawing, "k");
        assert!(
            svg.contains(">&lt;script&gt;&amp;</text>")
                && svg.contains("<title id=\"k-title\">a &lt; b</title>")
        );
    }

    #[test]
    fn coordinates_are_short() {
        assert_eq!([short(1.0), short(1.239), short(-0.001)], ["1", "1.24", "0"]);
    }
}
