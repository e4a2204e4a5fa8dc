//! YAML with places: values by serde_yaml, the place of every key and value from the event stream beside it.

mod complaint;
mod document;
mod node;
mod spans;
mod tree;

pub use document::{Document, values};
pub use node::{Map, Node};
pub use tree::{At, Tree};
