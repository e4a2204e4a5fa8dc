//! A list of declared things, each with a name and a place.

use crate::diagnose::Span;
use foldhash::fast::RandomState;
use std::cell::Cell;
use std::collections::{HashMap, HashSet};
use std::marker::PhantomData;
use std::sync::Arc;

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

#[derive(Clone)]
struct Entry<T> {
    name: String,
    span: Span,
    thing: T,
}

/// Things in the order in which the user declared them, each found by its name. A copy shares them until one of the two changes.
pub struct Named<T>(Arc<List<T>>);

#[derive(Clone)]
struct List<T> {
    entries: Vec<Entry<T>>,
    by_name: HashMap<String, u32, RandomState>,
    /// Names whose declaration is at fault; `None` where it cannot be told which names were declared.
    faulty: Option<HashSet<String>>,
}

impl<T> Default for Named<T> {
    fn default() -> Self {
        let list = List { entries: Vec::new(), by_name: HashMap::default(), faulty: Some(HashSet::new()) };
        Named(Arc::new(list))
    }
}

impl<T> Clone for Named<T> {
    fn clone(&self) -> Self {
        Named(self.0.clone())
    }
}

impl<T: Clone> Named<T> {
    /// Adds a thing; a name that is taken gives back the first one's number as the error.
    pub fn insert(&mut self, name: &str, span: Span, thing: T) -> Result<Ref<T>, Ref<T>> {
        if let Some(first) = self.find(name) {
            return Err(first);
        }
        let list = Arc::make_mut(&mut self.0);
        let number = list.entries.len() as u32;
        list.by_name.insert(name.to_owned(), number);
        list.entries.push(Entry { name: name.to_owned(), span, thing });
        Ok(Ref(number, PhantomData))
    }

    /// Remembers that the thing called `name` is declared, but with a fault that has been reported.
    pub fn insert_faulty(&mut self, name: &str) {
        if let Some(faulty) = &mut Arc::make_mut(&mut self.0).faulty {
            faulty.insert(name.to_owned());
        }
    }

    /// Remembers that the declarations could not be read, which has been reported.
    pub fn mark_unreadable(&mut self) {
        Arc::make_mut(&mut self.0).faulty = None;
    }
}

impl<T> Named<T> {
    /// Whether any declaration is at fault.
    pub fn has_faults(&self) -> bool {
        self.0.faulty.as_ref().is_none_or(|faulty| !faulty.is_empty())
    }

    /// Whether a name that is not found may have been declared: then it is no fault of those who use it.
    pub fn excuses(&self, name: &str) -> bool {
        self.0.faulty.as_ref().is_none_or(|faulty| faulty.contains(name))
    }

    /// The thing called `name`.
    pub fn find(&self, name: &str) -> Option<Ref<T>> {
        self.0.by_name.get(name).map(|&number| Ref(number, PhantomData))
    }

    /// The thing called `name`, looked for first where the last one was found.
    pub fn find_again(&self, name: &str, last: &Cell<u32>) -> Option<Ref<T>> {
        let here = self.0.entries.get(last.get() as usize).is_some_and(|entry| entry.name == name);
        if here {
            return Some(Ref(last.get(), PhantomData));
        }
        let found = self.find(name)?;
        last.set(found.0);
        Some(found)
    }

    /// Its name.
    pub fn name(&self, at: Ref<T>) -> &str {
        &self.0.entries[at.0 as usize].name
    }

    /// Where it is declared.
    pub fn span(&self, at: Ref<T>) -> Span {
        self.0.entries[at.0 as usize].span
    }

    /// All of them with their numbers.
    pub fn iter(&self) -> impl Iterator<Item = (Ref<T>, &str, &T)> {
        self.0
            .entries
            .iter()
            .enumerate()
            .map(|(i, e)| (Ref(i as u32, PhantomData), e.name.as_str(), &e.thing))
    }

    /// All names.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.0.entries.iter().map(|e| e.name.as_str())
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.0.entries.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.0.entries.is_empty()
    }
}

impl<T> std::ops::Index<Ref<T>> for Named<T> {
    type Output = T;
    fn index(&self, at: Ref<T>) -> &T {
        &self.0.entries[at.0 as usize].thing
    }
}
