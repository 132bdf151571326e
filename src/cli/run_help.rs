//! The commands that tell about the program itself: rules, schemas, completions, manual page.

use clap::CommandFactory;
use clap_complete::Shell;

use super::args::{Cli, ExplainArgs, SchemaName, When};
use super::output::{self, Refused};
use super::terminal;
use crate::report::{explain as text, json};
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
    let schema = match name {
        SchemaName::HoleList => crate::hole_list::schema(),
    };
    output::result(|out| json::write(&schema, out))?;
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
    output::result(|out| {
        clap_mangen::Man::new(command.clone()).render(out)?;
        for sub in command.get_subcommands().filter(|c| c.get_name() != "help") {
            let man = clap_mangen::Man::new(sub.clone());
            writeln!(out, ".SH {}", sub.get_name().to_uppercase())?;
            man.render_synopsis_section(out)?;
            man.render_description_section(out)?;
            man.render_options_section(out)?;
            if sub.get_after_help().is_some() {
                man.render_extra_section(out)?;
            }
        }
        Ok(())
    })?;
    Ok(0)
}
