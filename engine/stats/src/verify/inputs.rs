//! The inputs of one row.

use crate::{Error, Result};
use serde_json::{Map, Value};

/// The named inputs of a row; every accessor refuses what is absent or of another kind.
#[derive(Debug, Clone, Copy)]
pub struct Inputs<'a>(pub(super) &'a Map<String, Value>);

impl<'a> Inputs<'a> {
    /// The number of this name.
    pub fn number(&self, name: &'static str) -> Result<f64> {
        self.0.get(name).and_then(Value::as_f64).ok_or(absent(name))
    }

    /// The number of this name, if it stands there.
    pub fn number_if_any(&self, name: &str) -> Option<f64> {
        self.0.get(name).and_then(Value::as_f64)
    }

    /// The whole number of this name.
    pub fn count(&self, name: &'static str) -> Result<usize> {
        self.0.get(name).and_then(Value::as_u64).map(|n| n as usize).ok_or(absent(name))
    }

    /// The list of numbers of this name.
    pub fn numbers(&self, name: &'static str) -> Result<Vec<f64>> {
        let list = self.0.get(name).and_then(Value::as_array).ok_or(absent(name))?;
        list.iter().map(|v| v.as_f64().ok_or(absent(name))).collect()
    }

    /// The text of this name, if it stands there.
    pub fn text(&self, name: &str) -> Option<&'a str> {
        self.0.get(name).and_then(Value::as_str)
    }

    /// The value of this name as it stands, for inputs of another shape.
    pub fn value(&self, name: &'static str) -> Result<&'a Value> {
        self.0.get(name).ok_or(absent(name))
    }
}

fn absent(what: &'static str) -> Error {
    Error::OutsideDomain { what, value: 0.0, allowed: "an input of the row of the right kind" }
}
