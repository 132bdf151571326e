//! Which program it is.

use std::sync::OnceLock;

/// The version, with the commit where the build knows it (`.ci/commit.rs`).
pub fn version() -> &'static str {
    static VERSION: OnceLock<String> = OnceLock::new();
    VERSION.get_or_init(|| match option_env!("BOREBAND_COMMIT") {
        Some(commit) if !commit.is_empty() => format!("{} ({commit})", env!("CARGO_PKG_VERSION")),
        _ => env!("CARGO_PKG_VERSION").to_owned(),
    })
}
