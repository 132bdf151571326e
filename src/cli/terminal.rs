//! What the terminal can show: width and colour. The only file that looks at the environment.

use std::io::IsTerminal;

use super::args::When;

/// Columns of standard output: `COLUMNS` if set, else the terminal's, 80 where there is none; at most 160, because
/// longer lines are hard to follow.
pub(super) fn width() -> usize {
    let asked = std::env::var("COLUMNS").ok().and_then(|c| c.trim().parse().ok()).filter(|c| *c > 0);
    asked.or_else(measured).unwrap_or(80).min(160)
}

fn measured() -> Option<usize> {
    let out = std::io::stdout();
    if !out.is_terminal() {
        return None;
    }
    terminal_size::terminal_size().map(|(width, _)| usize::from(width.0)).filter(|w| *w > 0)
}

/// Whether standard output gets colour.
pub(super) fn colour(when: When) -> bool {
    match when {
        When::Always => true,
        When::Never => false,
        When::Auto => {
            let refused = std::env::var_os("NO_COLOR").is_some_and(|v| !v.is_empty());
            let dumb = std::env::var_os("TERM").is_some_and(|t| t == "dumb");
            !refused && !dumb && std::io::stdout().is_terminal()
        }
    }
}

/// Whether standard error is a terminal.
pub(super) fn errors_on_terminal() -> bool {
    std::io::stderr().is_terminal()
}
