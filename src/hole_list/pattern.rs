//! What the `drawing` of an entry may match: a path or a glob, relative to the folder of its list.

use std::path::{Path, PathBuf};

use globset::{GlobBuilder, GlobMatcher};

use crate::reading::{clean_path, display_path};

/// A path or glob as written, with `/` between folders.
#[derive(Debug)]
pub(super) struct Pattern {
    /// As written.
    pub(super) text: String,
}

/// Whether the text can be used as a pattern.
///
/// # Errors
/// What is wrong with it, in words.
pub(super) fn check(text: &str) -> Result<(), String> {
    if has_magic(text) {
        glob(text)?;
    }
    Ok(())
}

impl Pattern {
    /// Takes a pattern that [`check`] finds sound.
    ///
    /// # Errors
    /// What is wrong with it, in words.
    pub(super) fn new(text: &str) -> Result<Pattern, String> {
        check(text)?;
        Ok(Pattern { text: text.to_owned() })
    }

    /// Whether it is a bare file name, without a folder and without wildcards.
    pub(super) fn is_bare_name(&self) -> bool {
        !self.text.contains('/') && !has_magic(&self.text)
    }

    /// Whether it holds wildcards.
    pub(super) fn is_glob(&self) -> bool {
        has_magic(&self.text)
    }

    /// The file that it names if it is taken word by word.
    pub(super) fn literal(&self, folder: &Path) -> PathBuf {
        clean_path(&folder.join(&self.text))
    }

    /// The glob over clean absolute paths with `/`, and what every path that it matches begins with.
    pub(super) fn absolute_glob(&self, folder: &Path) -> Option<(GlobMatcher, String)> {
        let fixed_parts = self.text.split('/').take_while(|part| !has_magic(part)).count();
        let fixed: Vec<&str> = self.text.split('/').take(fixed_parts).collect();
        let wild = self.text.split('/').skip(fixed_parts).collect::<Vec<_>>().join("/");
        let fixed = if fixed == [""] { "/".to_owned() } else { fixed.join("/") };
        let base = display_path(&clean_path(&folder.join(fixed)));
        let base = base.trim_end_matches('/');
        let plain = wild.split(MAGIC).next().unwrap_or_default();
        // The fixed part is no pattern, whatever characters the folders' names hold.
        let matcher = glob(&format!("{}/{wild}", globset::escape(base))).ok()?;
        Some((matcher, format!("{base}/{plain}")))
    }
}

/// What makes a path a pattern.
const MAGIC: [char; 4] = ['*', '?', '[', '{'];

fn has_magic(text: &str) -> bool {
    text.contains(MAGIC)
}

/// Letter case does not matter, as it does not for the `.dxf` of a drawing; `*` stays within one folder.
fn glob(text: &str) -> Result<GlobMatcher, String> {
    GlobBuilder::new(text)
        .literal_separator(true)
        .case_insensitive(true)
        .backslash_escape(false)
        .build()
        .map(|glob| glob.compile_matcher())
        .map_err(|error| error.kind().to_string())
}
