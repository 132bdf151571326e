//! The text of a rule, and the list of all rules, for a terminal.

use std::io::{self, Write};

use super::clean::flowing;
use super::page::{Page, Tone};
use crate::rules::Rule;

/// Writes one rule: its name and level, then its text as it stands.
///
/// # Errors
/// Those of the writer.
pub fn write(rule: &Rule, width: usize, colour: bool, out: &mut dyn Write) -> io::Result<()> {
    let mut page = Page::new(out, width, colour);
    page.split(rule.name, &format!("level {}", rule.level))?;
    page.blank()?;
    let mut paragraph = String::new();
    // The text's own title is the name, which stands above already.
    let title = |line: &&str| line.trim_start_matches(['#', ' ']) == rule.name || line.is_empty();
    for line in rule.text.lines().skip_while(title) {
        if is_prose(line) {
            paragraph.push_str(line);
            paragraph.push(' ');
            continue;
        }
        end_paragraph(&mut page, &mut paragraph)?;
        match line.trim_start_matches('#') {
            "" => page.blank()?,
            title if title.len() < line.len() => {
                page.labelled(0, (Tone::Strong, title.trim()), 0, "")?;
            }
            _ => page.raw(line)?,
        }
    }
    end_paragraph(&mut page, &mut paragraph)
}

/// Prose is wrapped anew; headings, lists, tables and code keep their lines.
fn is_prose(line: &str) -> bool {
    line.starts_with(|c: char| c.is_alphanumeric() || "(`*'\"Ø".contains(c))
        && !line.starts_with("* ")
        && !line.starts_with("```")
}

fn end_paragraph(page: &mut Page<'_>, paragraph: &mut String) -> io::Result<()> {
    if paragraph.is_empty() {
        return Ok(());
    }
    page.prose(0, paragraph)?;
    paragraph.clear();
    Ok(())
}

/// Lists rules: name, level, and the first sentence of what they ask.
///
/// # Errors
/// Those of the writer.
pub fn list(rules: &[Rule], width: usize, colour: bool, out: &mut dyn Write) -> io::Result<()> {
    let mut page = Page::new(out, width, colour);
    let column = rules.iter().map(|r| r.name.len()).max().unwrap_or(0) + 3;
    for rule in rules {
        let label = format!("{:column$}{}", rule.name, rule.level.name());
        page.labelled(0, (Tone::Plain, &label), column + 7, &flowing(requirement(rule)))?;
    }
    Ok(())
}

/// The first paragraph under the heading Requirement, up to its first full stop.
pub(super) fn requirement(rule: &Rule) -> &'static str {
    let after = rule
        .text
        .split_once("Requirement")
        .map_or(rule.text, |(_, rest)| rest)
        .trim_start_matches(['\n', '\r', ' ', '#']);
    let paragraph = after.split("\n\n").next().unwrap_or_default();
    paragraph.split_once(". ").map_or(paragraph, |(first, _)| first).trim_end_matches(['.', '\n'])
}
