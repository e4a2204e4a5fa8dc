//! The JSON Schema of `study.yaml`, for editors that complete and check while the user writes.

use super::settings::STUDY;
use super::{Field, Shape};
use crate::read::quantity::{self, Kind};
use serde_json::{Map, Value, json};

/// A number at the start of a quantity, as people type it.
const NUMBER: &str = r"[+-]?[0-9.,]+( [0-9]{3})*([.,][0-9]+)?([eE][+-]?[0-9]+)?";

/// The schema of the whole file.
pub fn schema() -> Value {
    let mut whole = Map::new();
    whole.insert("$schema".to_owned(), json!("http://json-schema.org/draft-07/schema#"));
    whole.insert("title".to_owned(), json!("A study of fullshift: study.yaml"));
    if let Value::Object(rest) = of(&Shape::Record(STUDY)) {
        whole.extend(rest);
    }
    Value::Object(whole)
}

/// The schema of a value of this form.
fn of(shape: &Shape) -> Value {
    match shape {
        Shape::Text => json!({"type": ["string", "number", "boolean"]}),
        Shape::NameOf(setting) => {
            json!({"type": ["string", "number", "boolean"], "title": format!("a name declared under {setting}")})
        }
        Shape::Number => json!({"type": ["number", "string"], "pattern": format!("^{NUMBER}$")}),
        Shape::Stain => json!({"type": ["number", "string"]}),
        Shape::Quantity(kind) => quantity(kind),
        Shape::QuantityOrNumber(kind) => json!({"anyOf": [{"type": "number"}, quantity(kind)]}),
        Shape::Concentration => measured(quantity::concentration_units(), quantity::CONCENTRATION_EXAMPLES),
        Shape::ConcentrationUnit => json!({"enum": quantity::concentration_units().collect::<Vec<_>>()}),
        Shape::Date => json!({"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}),
        Shape::Moment => json!({"type": "string"}),
        Shape::Choice(words) => json!({"enum": words}),
        Shape::List(member) => json!({"type": "array", "items": of(member)}),
        Shape::ListOrOne(member) => json!({"anyOf": [of(member), {"type": "array", "items": of(member)}]}),
        Shape::Entries(entry) => json!({"type": "object", "additionalProperties": of(entry)}),
        Shape::FactorsBy(kind) => json!({
            "type": "object",
            "patternProperties": {pattern(kind.symbols()): of(&Shape::Number)},
            "additionalProperties": false,
        }),
        Shape::HeadingsOf(columns) => {
            let heading = of(&Shape::ListOrOne(&Shape::Text));
            let properties: Map<String, Value> =
                columns.iter().map(|column| (column.name.to_owned(), heading.clone())).collect();
            json!({"type": "object", "properties": properties, "additionalProperties": false})
        }
        Shape::Record(fields) => record(fields),
    }
}

fn quantity(kind: &Kind) -> Value {
    measured(kind.symbols(), kind.examples)
}

/// A number with one of these units.
fn measured(units: impl Iterator<Item = &'static str>, examples: &str) -> Value {
    let examples: Vec<&str> = examples.split(", ").collect();
    json!({"type": "string", "pattern": pattern(units), "examples": examples})
}

fn pattern(units: impl Iterator<Item = &'static str>) -> String {
    format!("^ *{NUMBER} *({}) *$", units.collect::<Vec<_>>().join("|"))
}

fn record(fields: &[Field]) -> Value {
    let properties: Map<String, Value> =
        fields.iter().map(|field| (field.name.to_owned(), described(field))).collect();
    let needed: Vec<&str> = fields.iter().filter(|field| field.needed).map(|field| field.name).collect();
    // An entry without settings is written as `{}` or as nothing at all.
    let kind = if needed.is_empty() { json!(["object", "null"]) } else { json!("object") };
    json!({"type": kind, "properties": properties, "required": needed, "additionalProperties": false})
}

fn described(field: &Field) -> Value {
    let mut schema = of(&field.shape);
    if let Value::Object(object) = &mut schema {
        object.insert("description".to_owned(), json!(field.about));
    }
    schema
}
