//! A place in a tree that knows its JSON pointer, and where faults found there are collected.

use std::cell::RefCell;

use super::{Fault, Tree, Written, nearest, pointer_token};

/// Collects the faults of one file.
#[derive(Debug)]
pub struct Collector {
    file: String,
    faults: RefCell<Vec<Fault>>,
}

impl Collector {
    /// For the file of that name.
    pub fn new(file: &str) -> Self {
        Collector { file: file.to_owned(), faults: RefCell::new(Vec::new()) }
    }

    /// All faults, in the order they were found.
    pub fn into_faults(self) -> Vec<Fault> {
        self.faults.into_inner()
    }

    fn add(&self, pointer: String, message: String) {
        self.faults.borrow_mut().push(Fault { file: self.file.clone(), pointer, message });
    }
}

/// How a value is reached from the one above it.
#[derive(Debug, Clone, Copy)]
enum Step<'a> {
    Root,
    Key(&'a str),
    Index(usize),
}

/// A value and its place. The pointer is only spelt out where a fault needs it.
#[derive(Debug, Clone, Copy)]
pub struct At<'a> {
    tree: &'a Tree,
    step: Step<'a>,
    above: Option<&'a At<'a>>,
    faults: &'a Collector,
}

impl<'a> At<'a> {
    /// The value of a whole file.
    pub fn root(tree: &'a Tree, faults: &'a Collector) -> Self {
        At { tree, step: Step::Root, above: None, faults }
    }

    /// The value.
    pub fn tree(&self) -> &'a Tree {
        self.tree
    }

    /// JSON pointer of the value.
    pub fn pointer(&self) -> String {
        let mut pointer = self.above.map(At::pointer).unwrap_or_default();
        match self.step {
            Step::Root => {}
            Step::Key(key) => {
                pointer.push('/');
                pointer.push_str(&pointer_token(key));
            }
            Step::Index(index) => {
                pointer.push('/');
                pointer.push_str(&index.to_string());
            }
        }
        pointer
    }

    /// Records a fault of this value.
    pub fn fault(&self, message: impl Into<String>) {
        self.faults.add(self.pointer(), message.into());
    }

    /// Records that the value is not what was expected. Returns none, for the caller to pass on.
    pub fn unexpected<T>(&self, expected: &str) -> Option<T> {
        self.fault(format!("found {}, expected {expected}", self.tree.shown()));
        None
    }

    /// The items of an array; a fault if it is none.
    pub fn items(&'a self, expected: &str) -> Option<Vec<At<'a>>> {
        let Tree::Array(items) = self.tree else { return self.unexpected(expected) };
        let item =
            |(index, tree)| At { tree, step: Step::Index(index), above: Some(self), faults: self.faults };
        Some(items.iter().enumerate().map(item).collect())
    }

    /// The members of an object with any keys, each key once; a fault if it is none.
    pub fn members(&'a self, expected: &str) -> Option<Vec<(&'a str, At<'a>)>> {
        let Tree::Object(pairs) = self.tree else { return self.unexpected(expected) };
        let mut seen = std::collections::HashSet::new();
        Some(pairs.iter().filter(|(key, _)| seen.insert(key)).map(|pair| self.member(pair)).collect())
    }

    /// An object with these keys and no others; a fault for each other key, or if it is no object.
    pub fn object(&'a self, keys: &'static [&'static str]) -> Option<Object<'a>> {
        let Tree::Object(pairs) = self.tree else {
            return self.unexpected(&format!("an object with the keys {}", keys.join(", ")));
        };
        for pair in pairs.iter().filter(|(key, _)| !keys.contains(&key.as_str())) {
            let (key, at) = self.member(pair);
            at.fault(unknown_key(key, keys));
        }
        Some(Object { at: self, pairs })
    }

    /// Records every key that stands twice in an object, here and below.
    pub fn refuse_duplicate_keys(&self) {
        match self.tree {
            Tree::Object(pairs) => {
                let mut seen = std::collections::HashSet::new();
                for pair in pairs {
                    let (key, at) = self.member(pair);
                    if !seen.insert(key) {
                        at.fault(format!("the key \"{key}\" stands more than once, expected each key once"));
                    }
                    at.refuse_duplicate_keys();
                }
            }
            Tree::Array(items) => {
                for (index, tree) in items.iter().enumerate() {
                    At { tree, step: Step::Index(index), above: Some(self), faults: self.faults }
                        .refuse_duplicate_keys();
                }
            }
            _ => {}
        }
    }

    fn member<'b>(&'b self, (key, tree): &'b (String, Tree)) -> (&'b str, At<'b>) {
        (key, At { tree, step: Step::Key(key), above: Some(self), faults: self.faults })
    }
}

fn unknown_key(key: &str, keys: &[&str]) -> String {
    let meant = match nearest(key, keys.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"? "),
        None => String::new(),
    };
    let key: String = key.chars().take(60).collect();
    format!("unknown key \"{key}\"; {meant}expected one of {}", keys.join(", "))
}

/// An object whose keys are known.
#[derive(Debug)]
pub struct Object<'a> {
    at: &'a At<'a>,
    pairs: &'a [(String, Tree)],
}

impl<'a> Object<'a> {
    /// Whether the key is written, be its value right or wrong.
    pub fn has(&self, key: &str) -> bool {
        self.pairs.iter().any(|(k, _)| k == key)
    }

    /// A value that may be absent; a fault if it is written wrongly.
    pub fn optional<T: Written>(&self, key: &str) -> Option<T> {
        let pair = self.pairs.iter().find(|(k, _)| k == key)?;
        let (_, at) = self.at.member(pair);
        T::read(&at)
    }

    /// A value that must be there; a fault if it is absent or written wrongly.
    pub fn required<T: Written>(&self, key: &str) -> Option<T> {
        if !self.has(key) {
            self.fault_at(key, format!("missing, expected {}", T::expected()));
            return None;
        }
        self.optional(key)
    }

    /// Records a fault of the object itself.
    pub fn fault(&self, message: impl Into<String>) {
        self.at.fault(message);
    }

    /// Records a fault of the value under a key, which may be absent.
    pub fn fault_at(&self, key: &str, message: impl Into<String>) {
        let pointer = format!("{}/{}", self.at.pointer(), pointer_token(key));
        self.at.faults.add(pointer, message.into());
    }

    /// Records a fault of a value somewhere below, whose whole pointer is known.
    pub fn fault_below(&self, pointer: String, message: impl Into<String>) {
        self.at.faults.add(pointer, message.into());
    }
}
