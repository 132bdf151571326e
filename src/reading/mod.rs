//! Reads JSON that people write, strictly: every value keeps its place, every fault of a file is collected.
//!
//! A file becomes a [`Tree`] that keeps duplicate keys, then a typed value ([`Written`]) whose JSON Schema comes from
//! the same definition, so that what is read and what the schema says cannot drift apart. Which files there are and
//! what they mean is not known here.

mod common;
mod cursor;
mod fault;
mod repair;
mod spelling;
mod tree;
mod values;
mod written;

pub use common::{
    Band, Brinell, Format, LengthAboveZero, LengthFromZero, MaterialName, Percent, ThreadName,
    check_band_edges,
};
pub use cursor::{At, Collector, Object};
pub use fault::{Fault, pointer_token};
pub use spelling::nearest;
pub use tree::{Tree, parse};
pub use values::{
    AnyText, Bound, Choice, Choose, Coordinates, Map, NumberLimits, PathText, Placed, Text, number_schema,
};
pub use written::{Property, Written, object_schema, schema_document};

pub(crate) use values::number;
pub(crate) use written::{property, written};

use std::path::{Component, Path, PathBuf};

/// A path as reports and faults write it: `/` between folders on every system.
pub fn display_path(path: &Path) -> String {
    let text = path.to_string_lossy();
    if cfg!(windows) { text.replace('\\', "/") } else { text.into_owned() }
}

/// An absolute path without `.` and `..`, found without asking the disk.
pub fn clean_path(path: &Path) -> PathBuf {
    let absolute = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
    let mut clean = PathBuf::new();
    for part in absolute.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir => _ = clean.pop(),
            other => clean.push(other),
        }
    }
    clean
}

/// The archive of drawings that a path leads into: the first file named `*.zip`, in any letter case, above it. A folder
/// of that name is no archive.
pub fn archive_above(path: &Path) -> Option<&Path> {
    // Nearly every path says at once that there is none.
    let bytes = path.as_os_str().as_encoded_bytes();
    let is_ending = |at: usize| bytes.get(at + 1..at + 4).is_some_and(|it| it.eq_ignore_ascii_case(b"zip"));
    if !memchr::memchr_iter(b'.', bytes).any(is_ending) {
        return None;
    }
    let mut above: Vec<&Path> = path.ancestors().skip(1).filter(|above| is_zip(above)).collect();
    above.reverse();
    above.into_iter().find(|above| above.is_file())
}

/// Whether a name ends as those of archives do.
pub fn is_zip(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("zip"))
}

/// Reads a whole file into a typed value, or all its faults.
///
/// # Errors
/// One fault if the file cannot be opened or is no JSON, else every fault of its values.
pub fn read_file<T: Written>(path: &Path) -> Result<T, Vec<Fault>> {
    read_file_with(path, |_| {})
}

/// Like [`read_file`], with one more look at the whole tree for faults that the types cannot know; they are told
/// together with all others.
///
/// # Errors
/// As [`read_file`].
pub fn read_file_with<T: Written>(path: &Path, also: impl FnOnce(&At<'_>)) -> Result<T, Vec<Fault>> {
    let file = display_path(path);
    let bytes = std::fs::read(path)
        .map_err(|e| vec![Fault::whole(&file, format!("cannot be read: {}", io_reason(&e)))])?;
    read_bytes_with(&file, &bytes, also)
}

/// Reads bytes into a typed value, or all faults; `file` is only named in the faults.
///
/// # Errors
/// As [`read_file`].
pub fn read_bytes<T: Written>(file: &str, bytes: &[u8]) -> Result<T, Vec<Fault>> {
    read_bytes_with(file, bytes, |_| {})
}

fn read_bytes_with<T: Written>(
    file: &str,
    bytes: &[u8],
    also: impl FnOnce(&At<'_>),
) -> Result<T, Vec<Fault>> {
    let tree = parse(file, bytes).map_err(|fault| vec![fault])?;
    let faults = Collector::new(file);
    let root = At::root(&tree, &faults);
    root.refuse_duplicate_keys();
    let value = T::read(&root);
    also(&root);
    let faults = faults.into_faults();
    match value {
        Some(value) if faults.is_empty() => Ok(value),
        None if faults.is_empty() => Err(vec![Fault::whole(file, format!("expected {}", T::expected()))]),
        _ => Err(faults),
    }
}

/// Why a file could not be opened, in words that do not depend on the system's language where that can be told.
fn io_reason(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::NotFound => "there is no such file".to_owned(),
        std::io::ErrorKind::PermissionDenied => "no permission to read it".to_owned(),
        std::io::ErrorKind::IsADirectory => "it is a folder, a file was expected".to_owned(),
        _ => error.to_string(),
    }
}

#[cfg(test)]
mod tests;
