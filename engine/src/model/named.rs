//! A list of declared things, each with a name and a place.

use crate::diagnose::Span;
use std::collections::HashMap;
use std::marker::PhantomData;

/// Number of a thing in its [`Named`] list.
pub struct Ref<T>(u32, PhantomData<fn() -> T>);

impl<T> Clone for Ref<T> {
    fn clone(&self) -> Self {
        *self
    }
}
impl<T> Copy for Ref<T> {}
impl<T> PartialEq for Ref<T> {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0
    }
}
impl<T> Eq for Ref<T> {}
impl<T> PartialOrd for Ref<T> {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl<T> Ord for Ref<T> {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.cmp(&other.0)
    }
}
impl<T> std::hash::Hash for Ref<T> {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        self.0.hash(state);
    }
}
impl<T> std::fmt::Debug for Ref<T> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "#{}", self.0)
    }
}

struct Entry<T> {
    name: String,
    span: Span,
    thing: T,
}

/// Things in the order in which the user declared them, each found by its name.
pub struct Named<T> {
    entries: Vec<Entry<T>>,
    by_name: HashMap<String, u32>,
}

impl<T> Default for Named<T> {
    fn default() -> Self {
        Named { entries: Vec::new(), by_name: HashMap::new() }
    }
}

impl<T> Named<T> {
    /// Adds a thing; a name that is taken gives back the first one's number as the error.
    pub fn insert(&mut self, name: &str, span: Span, thing: T) -> Result<Ref<T>, Ref<T>> {
        if let Some(first) = self.find(name) {
            return Err(first);
        }
        let number = self.entries.len() as u32;
        self.by_name.insert(name.to_owned(), number);
        self.entries.push(Entry { name: name.to_owned(), span, thing });
        Ok(Ref(number, PhantomData))
    }

    /// The thing called `name`.
    pub fn find(&self, name: &str) -> Option<Ref<T>> {
        self.by_name.get(name).map(|&number| Ref(number, PhantomData))
    }

    /// Its name.
    pub fn name(&self, at: Ref<T>) -> &str {
        &self.entries[at.0 as usize].name
    }

    /// Where it is declared.
    pub fn span(&self, at: Ref<T>) -> Span {
        self.entries[at.0 as usize].span
    }

    /// All of them with their numbers.
    pub fn iter(&self) -> impl Iterator<Item = (Ref<T>, &str, &T)> {
        self.entries.iter().enumerate().map(|(i, e)| (Ref(i as u32, PhantomData), e.name.as_str(), &e.thing))
    }

    /// All names.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.entries.iter().map(|e| e.name.as_str())
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }
}

impl<T> std::ops::Index<Ref<T>> for Named<T> {
    type Output = T;
    fn index(&self, at: Ref<T>) -> &T {
        &self.entries[at.0 as usize].thing
    }
}

impl<T> std::ops::IndexMut<Ref<T>> for Named<T> {
    fn index_mut(&mut self, at: Ref<T>) -> &mut T {
        &mut self.entries[at.0 as usize].thing
    }
}
