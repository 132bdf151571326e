//! What all pages for people have in common: the look, the head with its policy, the cautions, what the rules require,
//! and words put as text. Knows nothing of what a page shows.

pub(super) mod escape;
mod seal;

use std::fmt::Write as _;

use super::explain::requirement;
use super::text::CAUTION;
use crate::rules::RULES;

/// The look.
const STYLE: &str = include_str!("style.css");

/// What a reader must know before he trusts a number of a page.
pub const CAUTIONS: [&str; 5] = [
    "The bands are guide values. Test your own joint with your own parts, screws and driver.",
    "This is no verdict for safety-critical, lifting, pressure, vehicle-safety or structural joints.",
    "Local codes and licensed practice govern.",
    "Unknown is never a pass: an undetermined hole is not in its band.",
    "Percentages are rolled engagement: 100 % is a hole at the basic pitch diameter of the thread.",
];

/// What a page is made of beside its content.
pub(super) struct Page<'a> {
    /// Its title.
    pub(super) title: &'a str,
    /// Its own style, after that of all pages; empty if it has none.
    pub(super) style: &'static str,
    /// Its script.
    pub(super) script: &'static str,
    /// Class of the body; empty if it has none.
    pub(super) class: &'static str,
}

impl Page<'_> {
    /// All up to the beginning of the body.
    pub(super) fn begin(&self) -> String {
        let styles: Vec<&str> = [STYLE, self.style].into_iter().filter(|style| !style.is_empty()).collect();
        let elements: String = styles.iter().map(|style| format!("<style>{style}</style>")).collect();
        let class = if self.class.is_empty() { String::new() } else { format!(" class=\"{}\"", self.class) };
        format!(
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n\
             <meta http-equiv=\"Content-Security-Policy\" content=\"{}\"/>\n\
             <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n\
             <meta name=\"referrer\" content=\"no-referrer\"/>\n<title>{}</title>\n{elements}\n</head>\n<body{class}>\n",
            seal::policy(&styles, self.script),
            escape::text(self.title),
        )
    }

    /// The script and the end.
    pub(super) fn end(&self) -> String {
        format!("<script>{}</script>\n</body>\n</html>\n", self.script)
    }
}

/// The facts of a page or a sheet in ruled cells. The values are markup.
pub(super) fn block(id: &str, cells: &[(&str, String)]) -> String {
    let id = if id.is_empty() { String::new() } else { format!(" id=\"{id}\"") };
    let cells: String =
        cells.iter().map(|(name, value)| format!("<div><dt>{name}</dt><dd>{value}</dd></div>")).collect();
    format!("<dl class=\"block\"{id}>{cells}</dl>\n")
}

/// The cautions as a box.
pub(super) fn cautions() -> String {
    let lines: String = CAUTIONS.iter().map(|line| format!("<li>{}</li>\n", escape::text(line))).collect();
    format!(
        "<div class=\"caution\" role=\"note\"><strong>Before you rely on it</strong><ul>\n{lines}</ul></div>\n"
    )
}

/// The last words of a page: the caution again, and what each rule requires.
pub(super) fn footer() -> String {
    let mut html = format!(
        "<footer>\n<p><strong>{CAUTION} Local codes and licensed practice govern.</strong></p>\n\
         <h2>What the rules require</h2>\n<dl class=\"rules\">\n"
    );
    for rule in RULES {
        let _ = writeln!(
            html,
            "<div id=\"rule-{0}\" tabindex=\"-1\"><dt>{1} {0}</dt><dd>{2}.</dd></div>",
            rule.name,
            level(rule.level.name()),
            escape::text(requirement(rule))
        );
    }
    html.push_str("</dl>\n</footer>\n");
    html
}

/// A level as it is written: a word and a shape, never a colour alone.
pub(super) fn level(level: &str) -> String {
    let (class, word) = match level {
        "fail" => ("fail", "FAIL"),
        "warn" => ("warn", "WARN"),
        _ => ("note", "NOTE"),
    };
    format!("<span class=\"level {class}\">{word}</span>")
}

/// A rule, leading to what it requires.
pub(super) fn rule(name: &str) -> String {
    if RULES.iter().any(|rule| rule.name == name) {
        format!("<a class=\"rule\" href=\"#rule-{name}\">{name}</a>")
    } else {
        escape::text(name)
    }
}

/// What a rule requires, as markup; none if there is no such rule.
pub(super) fn required(name: &str) -> Option<String> {
    let rule = RULES.iter().find(|rule| rule.name == name)?;
    Some(escape::text(requirement(rule)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_sealed_cannot_end_its_element() {
        for script in [crate::report::html::SCRIPT, crate::report::library::html::SCRIPT] {
            assert!(!script.contains("</") && !script.contains("<!--"));
        }
        assert!(!STYLE.contains('<') && !crate::report::library::html::STYLE.contains('<'));
    }
}
