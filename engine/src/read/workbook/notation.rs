//! A setting in one cell: scalars as they are, lists as `W1, W2`, named values as `0 C: 1.2, 20 C: 1.0`, and lists of
//! such groups parted by semicolons. What fits none of these stands in brackets or braces as in `study.yaml`.

use crate::read::fields::{Field, Shape};
use crate::read::yaml::Node;
use serde_yaml::{Mapping, Value};

/// The headings of a column.
static HEADINGS: Shape = Shape::ListOrOne(&Shape::Text);

/// Reads a cell as a value of this form. The error says what is wrong.
pub fn parse(text: &str, shape: &Shape) -> Result<Value, String> {
    let text = text.trim();
    if is_composite(shape) && text.starts_with(['[', '{']) {
        return serde_yaml::from_str(text).map_err(|_| "the brackets of this cell cannot be read".to_owned());
    }
    match shape {
        Shape::List(member) | Shape::ListOrOne(member) => {
            let members = split(text, member)?.into_iter().map(|part| parse(part, member));
            members.collect::<Result<_, _>>().map(Value::Sequence)
        }
        Shape::Entries(entry) => pairs(text, |_| Some(entry)),
        Shape::FactorsBy(_) => pairs(text, |_| Some(&Shape::Number)),
        Shape::HeadingsOf(_) => pairs(text, |_| Some(&HEADINGS)),
        Shape::Record(fields) => pairs(text, |name| shape_of(fields, name)),
        _ => Ok(Value::String(text.to_owned())),
    }
}

fn shape_of<'a>(fields: &'a [Field], name: &str) -> Option<&'a Shape> {
    fields.iter().find(|field| field.name == name).map(|field| &field.shape)
}

/// Whether a value of this form has parts.
fn is_composite(shape: &Shape) -> bool {
    use Shape as S;
    matches!(
        shape,
        S::List(_) | S::ListOrOne(_) | S::Entries(_) | S::FactorsBy(_) | S::HeadingsOf(_) | S::Record(_)
    )
}

/// `name: value` several times.
fn pairs<'a>(text: &str, shape: impl Fn(&str) -> Option<&'a Shape>) -> Result<Value, String> {
    let first = text.split_once(':').and_then(|(name, _)| shape(name.trim())).unwrap_or(&Shape::Text);
    let mut mapping = Mapping::new();
    for part in split(text, first)? {
        let Some((name, value)) = part.rsplit_once(": ").or_else(|| part.rsplit_once(':')) else {
            return Err(format!("`{part}` is not a name and its value"));
        };
        let value = parse(value, shape(name.trim()).unwrap_or(&Shape::Text))?;
        if mapping.insert(Value::String(name.trim().to_owned()), value).is_some() {
            return Err(format!("`{}` stands twice in this cell", name.trim()));
        }
    }
    Ok(Value::Mapping(mapping))
}

/// The parts of a cell: parted by semicolons where they have parts of their own or a semicolon stands there, else by
/// commas.
fn split<'a>(text: &'a str, part: &Shape) -> Result<Vec<&'a str>, String> {
    let separator = if is_composite(part) || text.contains(';') { ';' } else { ',' };
    let followed = |comma: usize| text[comma + 1..].starts_with(' ');
    let commas: Vec<bool> = text.match_indices(',').map(|(at, _)| followed(at)).collect();
    if separator == ',' && matches!(part, Shape::Number) && commas.contains(&true) && commas.contains(&false)
    {
        return Err(format!(
            "a comma in `{text}` may part decimals or members; part the members by semicolons"
        ));
    }
    Ok(text.split(separator).map(str::trim).filter(|part| !part.is_empty()).collect())
}

/// The cell for a value of this form, such that [`parse`] gives the value again.
pub fn write(node: &Node, shape: &Shape) -> String {
    let plain = plain(node, shape);
    match plain.filter(|text| parse(text, shape).is_ok_and(|value| same(&value, node))) {
        Some(text) => text,
        None => node.as_flow(),
    }
}

/// The short notation, which may not give the value again where names hold separators.
fn plain(node: &Node, shape: &Shape) -> Option<String> {
    match shape {
        Shape::List(member) | Shape::ListOrOne(member) if node.is_list() => {
            let parts: Option<Vec<String>> = node.members().iter().map(|n| plain(n, member)).collect();
            joined(parts?, member)
        }
        Shape::Entries(entry) => named(node, |_| Some(entry)),
        Shape::FactorsBy(_) => named(node, |_| Some(&Shape::Number)),
        Shape::HeadingsOf(_) => named(node, |_| Some(&HEADINGS)),
        Shape::Record(fields) => named(node, |name| shape_of(fields, name)),
        _ => node.scalar(),
    }
}

fn named<'a>(node: &Node, shape: impl Fn(&str) -> Option<&'a Shape>) -> Option<String> {
    let pairs = node.pairs();
    let first = pairs.first().and_then(|(name, _)| shape(name)).unwrap_or(&Shape::Text);
    let parts: Option<Vec<String>> = pairs
        .iter()
        .map(|(name, value)| Some(format!("{name}: {}", plain(value, shape(name).unwrap_or(&Shape::Text))?)))
        .collect();
    joined(parts?, first)
}

fn joined(parts: Vec<String>, part: &Shape) -> Option<String> {
    let inner_comma = parts.iter().any(|text| text.contains(','));
    let separator = if is_composite(part) || inner_comma { "; " } else { ", " };
    (!parts.is_empty()).then(|| parts.join(separator))
}

/// Whether a value read back says the same as the node it was written from, scalar by scalar.
fn same(value: &Value, node: &Node) -> bool {
    match value {
        Value::Sequence(members) if node.is_list() => {
            let nodes = node.members();
            members.len() == nodes.len() && members.iter().zip(&nodes).all(|(value, node)| same(value, node))
        }
        // A list of one may stand without brackets.
        Value::Sequence(members) => matches!(members.as_slice(), [one] if same(one, node)),
        Value::Mapping(entries) => {
            let nodes = node.pairs();
            entries.len() == nodes.len()
                && entries.iter().zip(&nodes).all(|((key, value), (name, node))| {
                    key.as_str() == Some(name.as_str()) && same(value, node)
                })
        }
        Value::String(text) => node.scalar().is_some_and(|scalar| scalar.trim() == text),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::fields::settings::{INTERFERES, OTHER_STROKES, TUBE};

    static STROKES: Shape = Shape::Record(OTHER_STROKES);
    static OTHERS: Shape = Shape::Record(INTERFERES);

    fn yaml(text: &str) -> Value {
        serde_yaml::from_str(text).unwrap()
    }

    /// Scalars of a cell are texts, as their words are read by the same reader as those of the study file.
    #[test]
    fn lists_names_and_groups_stand_in_one_cell() {
        let marks = parse("5, 10, 20", &Shape::List(&Shape::Number)).unwrap();
        assert_eq!(marks, yaml("['5', '10', '20']"));
        assert_eq!(parse("0,5; 1; 2", &Shape::List(&Shape::Number)).unwrap(), yaml("['0,5', '1', '2']"));
        let factors = parse("0 C: 1.2, 20 C: 1.0", &Shape::FactorsBy(&crate::read::quantity::TEMPERATURE));
        assert_eq!(factors.unwrap(), yaml("{'0 C': '1.2', '20 C': '1.0'}"));
        let strokes = parse("strokes: 2, factor: 0.5; strokes: 0.5, factor: 2", &Shape::List(&STROKES));
        assert_eq!(strokes.unwrap(), yaml("[{strokes: '2', factor: '0.5'}, {strokes: '0.5', factor: '2'}]"));
        let brackets = parse("[{agent: amines, reads: higher}]", &Shape::List(&OTHERS));
        assert_eq!(brackets.unwrap(), yaml("[{agent: amines, reads: higher}]"));
        let texts = parse("yellow: to blue", &Shape::Text).unwrap();
        assert_eq!(texts, yaml("'yellow: to blue'"));
        let mixtures = parse("ammonia, amines; ammonia, dust", &Shape::List(&Shape::List(&Shape::Text)));
        assert_eq!(mixtures.unwrap(), yaml("[[ammonia, amines], [ammonia, dust]]"));
    }

    #[test]
    fn what_could_be_meant_in_two_ways_is_refused() {
        assert!(parse("1,2, 3", &Shape::List(&Shape::Number)).is_err());
        assert!(parse("[1, 2", &Shape::List(&Shape::Number)).is_err());
        assert!(parse("0 C: 1.2, 0 C: 1.3", &Shape::Entries(&Shape::Number)).is_err());
        assert!(parse("1.2", &Shape::Entries(&Shape::Number)).is_err());
    }

    #[test]
    fn no_setting_of_an_entry_is_called_name() {
        assert!(TUBE.iter().all(|field| field.name != "name"));
    }
}
