//! Text in HTML: escaped, with its tones, links and places.

use crate::page::{Link, Stretch, Text, Tone, harmless, is_right_to_left};

/// Words with nothing in them that HTML would take for its own.
pub(super) fn escaped(words: &str) -> String {
    let mut html = String::with_capacity(words.len());
    for character in harmless(words).chars() {
        match character {
            '&' => html.push_str("&amp;"),
            '<' => html.push_str("&lt;"),
            '>' => html.push_str("&gt;"),
            '"' => html.push_str("&quot;"),
            '\'' => html.push_str("&#39;"),
            '\n' => html.push_str("<br>"),
            other => html.push(other),
        }
    }
    html
}

/// Words; those written from right to left keep to themselves.
pub(super) fn plain(words: &str) -> String {
    match is_right_to_left(words) {
        true => format!("<bdi>{}</bdi>", escaped(words)),
        false => escaped(words),
    }
}

/// A text with everything that belongs to it; `back` is said of a link back from a working to its number.
pub(super) fn inline(text: &Text, back: &str) -> String {
    text.whole().iter().map(|part| stretch(part, back)).collect()
}

fn stretch(stretch: &Stretch, back: &str) -> String {
    let words = plain(&stretch.words);
    let toned = match stretch.tone {
        Tone::Plain => words,
        Tone::Strong => format!("<strong>{words}</strong>"),
        Tone::Stress => format!("<em>{words}</em>"),
        Tone::Typed => format!("<code>{words}</code>"),
        Tone::Quiet => format!("<span class=\"quiet\">{words}</span>"),
        Tone::Below => format!("<strong class=\"below\">{words}</strong>"),
        Tone::Above => format!("<strong class=\"above\">{words}</strong>"),
        Tone::Open => format!("<strong class=\"open\">{words}</strong>"),
    };
    let id = stretch.place.as_ref().map_or(String::new(), |place| format!(" id=\"{}\"", escaped(place)));
    match &stretch.link {
        Some(Link::Place(place)) if place.starts_with("number-") => {
            format!("<a{id} title=\"{}\" href=\"#{}\">{toned}</a>", escaped(back), escaped(place))
        }
        Some(Link::Place(place)) => format!("<a{id} href=\"#{}\">{toned}</a>", escaped(place)),
        Some(Link::Web(address)) => format!("<a{id} href=\"{}\">{toned}</a>", escaped(address)),
        _ if id.is_empty() => toned,
        _ => format!("<span{id}>{toned}</span>"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_of_the_users_becomes_markup() {
        assert_eq!(escaped("<script>\"a\" & 'b'"), "&lt;script&gt;&quot;a&quot; &amp; &#39;b&#39;");
        assert_eq!(plain("אבג"), "<bdi>אבג</bdi>");
        assert_eq!(escaped("a\u{202e}b\u{7}"), "a\u{fffd}b\u{fffd}");
    }

    #[test]
    fn a_number_leads_to_its_working() {
        let stretch = Stretch {
            words: "12".into(),
            link: Some(Link::Place("working-1".into())),
            place: Some("number-1".into()),
            ..Stretch::default()
        };
        assert_eq!(inline(&Text::stretch(stretch), ""), "<a id=\"number-1\" href=\"#working-1\">12</a>");
    }
}
