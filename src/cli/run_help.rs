//! The commands that tell about the program itself: rules, schemas, completions, manual page.

use std::io::{self, Write};

use clap::{Command, CommandFactory};
use clap_complete::Shell;
use clap_mangen::Man;

use super::args::{Cli, ExplainArgs, SchemaName, When};
use super::output::{self, Refused};
use super::terminal;
use crate::report::explain as text;
use crate::rules::{self, RULES};

/// `boreband explain`.
pub(super) fn explain(args: &ExplainArgs) -> Result<u8, Refused> {
    let (width, colour) = (terminal::width(), terminal::colour(When::Auto));
    match args.rule.as_deref() {
        Some(name) => {
            let rule = rules::by_name(name).ok_or_else(|| unknown(name))?;
            output::result(|out| text::write(rule, width, colour, out))?;
        }
        None => output::result(|out| text::list(RULES, width, colour, out))?,
    }
    Ok(0)
}

fn unknown(name: &str) -> Refused {
    let mut line = format!("there is no rule '{name}'");
    if let Some(near) = nearest(name) {
        line.push_str(&format!("; is '{near}' meant?"));
    }
    line.push_str(" ('boreband explain --all' lists the rules)");
    Refused::because(line)
}

/// The rule whose name shares most of its words with `name`, if any does.
fn nearest(name: &str) -> Option<&'static str> {
    let words: Vec<&str> = name.split(['-', '_', ' ']).filter(|w| !w.is_empty()).collect();
    let shared = |rule: &str| rule.split('-').filter(|w| words.contains(w)).count();
    RULES.iter().map(|r| r.name).max_by_key(|r| shared(r)).filter(|r| shared(r) > 0)
}

/// `boreband schema`.
pub(super) fn schema(name: SchemaName) -> Result<u8, Refused> {
    let text = crate::report::schema::schema(name.name())
        .ok_or_else(|| Refused::because(format!("there is no schema '{}'", name.name())))?;
    output::result(|out| out.write_all(text.as_bytes()))?;
    Ok(0)
}

/// `boreband completions`.
pub(super) fn completions(shell: Shell) -> Result<u8, Refused> {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "boreband", &mut script);
    output::result(|out| out.write_all(&script))?;
    Ok(0)
}

/// `boreband manual`: one page with every command.
pub(super) fn manual() -> Result<u8, Refused> {
    let mut command = Cli::command();
    command.build();
    let page =
        manual_page(&command).map_err(|e| Refused::because(format!("the manual could not be made: {e}")))?;
    output::result(|out| out.write_all(&page))?;
    Ok(0)
}

fn manual_page(command: &Command) -> io::Result<Vec<u8>> {
    let mut page = Vec::new();
    let man = Man::new(command.clone());
    man.render_title(&mut page)?;
    man.render_name_section(&mut page)?;
    man.render_synopsis_section(&mut page)?;
    man.render_description_section(&mut page)?;
    man.render_options_section(&mut page)?;
    for sub in command.get_subcommands().filter(|c| c.get_name() != "help") {
        let title = sub.get_bin_name().unwrap_or(sub.get_name()).to_uppercase();
        writeln!(page, ".SH \"{title}\"")?;
        let man = Man::new(sub.clone());
        let mut part = Vec::new();
        man.render_synopsis_section(&mut part)?;
        man.render_description_section(&mut part)?;
        man.render_options_section(&mut part)?;
        page.extend_from_slice(String::from_utf8_lossy(&part).replace("\n.SH ", "\n.SS ").as_bytes());
        examples(".SS", sub, &mut page)?;
    }
    examples(".SH", command, &mut page)?;
    Ok(page)
}

/// The text after the help of a command, its lines kept as they are.
fn examples(heading: &str, command: &Command, page: &mut Vec<u8>) -> io::Result<()> {
    let Some(text) = command.get_after_help() else { return Ok(()) };
    writeln!(page, "{heading} NOTES\n.nf")?;
    for line in text.to_string().lines() {
        // A line of text must not begin like a request.
        let safe = line.replace('\\', "\\\\").replace('-', "\\-");
        writeln!(page, "\\&{safe}")?;
    }
    writeln!(page, ".fi")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arguments_are_consistent() {
        Cli::command().debug_assert();
    }

    #[test]
    fn help_fits_80_columns() {
        let mut command = Cli::command().term_width(80);
        command.build();
        let subs: Vec<Command> = command.get_subcommands().cloned().collect();
        for mut command in subs.into_iter().chain([command]) {
            let help = command.render_long_help().to_string();
            for line in help.lines() {
                assert!(line.chars().count() <= 80, "{}: {line}", command.get_name());
            }
        }
    }

    #[test]
    fn the_manual_names_every_command() {
        let mut command = Cli::command();
        command.build();
        let page = String::from_utf8(manual_page(&command).unwrap()).unwrap();
        for sub in command.get_subcommands().filter(|c| c.get_name() != "help") {
            let heading = format!("BOREBAND {}", sub.get_name().to_uppercase());
            assert!(page.contains(&heading), "{heading} is missing");
        }
    }
}
