//! A module uses only modules of a lower level than its own. The levels are those of the table in `src/lib.rs`.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The level of each module by its name.
type Levels = BTreeMap<String, u32>;

#[test]
fn every_module_uses_only_lower_levels() {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let levels = levels_of(&std::fs::read_to_string(source.join("lib.rs")).expect("lib.rs can be read"));
    let mut wrong = Vec::new();
    let mut uses = 0;
    for file in sources(&source) {
        let text = std::fs::read_to_string(&file).expect("a source can be read");
        let Some(module) = module_of(file.strip_prefix(&source).expect("it lies in src")) else { continue };
        let used = used_modules(&text);
        uses += used.len();
        wrong.extend(faults(&module, &used, &levels).into_iter().map(|f| format!("{}:{f}", file.display())));
    }
    assert!(uses > 50, "only {uses} uses were seen: the search has gone blind");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_module_of_the_library_has_a_level() {
    let text = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("src/lib.rs")).unwrap();
    let levels = levels_of(&text);
    let modules: Vec<&str> = text
        .lines()
        .filter_map(|line| line.strip_prefix("pub mod ").or_else(|| line.strip_prefix("mod ")))
        .filter_map(|rest| rest.strip_suffix(';'))
        .collect();
    assert!(modules.len() > 15);
    for module in &modules {
        assert!(levels.contains_key(*module), "{module} has no row in the table");
    }
    assert_eq!(levels.len(), modules.len(), "a row of the table names no module");
}

#[test]
fn an_upward_or_sideways_use_is_found_however_it_is_written() {
    let levels: Levels =
        [("low", 1), ("peer", 2), ("own", 2), ("high", 3)].map(|(m, l)| (m.to_owned(), l)).into();
    let wrong = |text: &str| faults("own", &used_modules(text), &levels);
    assert_eq!(wrong("use crate::low::Thing;\nuse crate::own::part;\nuse super::sibling;"), [""; 0]);
    assert_eq!(wrong("// see crate::high\n/// [`crate::high::X`]\n//! crate::high"), [""; 0]);
    assert_eq!(wrong("use crate::high::Thing;").len(), 1);
    assert_eq!(wrong("pub use crate::high;").len(), 1);
    assert_eq!(wrong("use crate::peer::Thing;").len(), 1);
    assert_eq!(wrong("fn f() { let x = crate::high::make(); }").len(), 1);
    assert_eq!(wrong("fn f(x: &crate :: high :: X) {}").len(), 1);
    assert_eq!(wrong("use crate::{low::A, high::{B, C}, peer};").len(), 2);
    assert_eq!(wrong("use crate::{\n    low,\n    high as h,\n};").len(), 1);
    assert_eq!(wrong("use crate::{low::{A, B}, own::{C}};"), [""; 0]);
    assert_eq!(wrong("use boreband::high;").len(), 1);
    assert_eq!(wrong("use crate::unheard_of::X;").len(), 1);
    let fault = &wrong("\nuse crate::high::Thing;")[0];
    assert!(fault.starts_with("2: own (level 2) uses high (level 3)"), "{fault}");
}

#[test]
fn levels_are_read_from_the_table() {
    let levels = levels_of(
        "//! | level | module | x |\n//! | --- | --- | --- |\n//! | 0 | [`units`] | a |\n//! | 10 | [`cli`] | b |",
    );
    assert_eq!(levels, [("units", 0), ("cli", 10)].map(|(m, l)| (m.to_owned(), l)).into());
}

/// The rows `| level | [`module`] | … |` of the table.
fn levels_of(lib: &str) -> Levels {
    let row = |line: &str| {
        let mut cells = line.strip_prefix("//! |")?.split('|').map(str::trim);
        let level = cells.next()?.parse().ok()?;
        let module = cells.next()?.strip_prefix("[`")?.strip_suffix("`]")?;
        Some((module.to_owned(), level))
    };
    lib.lines().filter_map(row).collect()
}

/// The top-level module that a source belongs to; none for the roots, which name all modules.
fn module_of(file: &Path) -> Option<String> {
    let first = file.components().next()?.as_os_str().to_str()?;
    let name = first.strip_suffix(".rs").unwrap_or(first);
    (!matches!(name, "lib" | "main")).then(|| name.to_owned())
}

fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).expect("a folder can be read").flatten() {
        let path = entry.path();
        if path.is_dir() {
            found.extend(sources(&path));
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// A use of a module of this library: the 1-based line and the module.
type Use = (usize, String);

/// Every module that a source reaches by `crate::…` or `boreband::…`, in code and not in comments.
fn used_modules(text: &str) -> Vec<Use> {
    let code: String =
        text.lines().map(|line| format!("{}\n", line.split("//").next().unwrap_or(""))).collect();
    let mut found = Vec::new();
    for root in ["crate", "boreband"] {
        for (at, _) in code.match_indices(root) {
            let before = code[..at].chars().next_back();
            if before.is_some_and(|c| c.is_alphanumeric() || matches!(c, '_' | '$' | '"')) {
                continue;
            }
            let Some(rest) = code[at + root.len()..].trim_start().strip_prefix("::") else { continue };
            let line = 1 + code[..at].matches('\n').count();
            found.extend(heads(rest.trim_start()).into_iter().map(|module| (line, module)));
        }
    }
    found
}

/// The first names of what follows `crate::`: one, or each of a group in braces.
fn heads(rest: &str) -> Vec<String> {
    let name = |text: &str| -> String {
        text.trim_start().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
    };
    let Some(group) = rest.strip_prefix('{') else { return vec![name(rest)] };
    let mut heads = vec![name(group)];
    let mut depth = 0;
    for (at, c) in group.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => heads.push(name(&group[at + 1..])),
            _ => {}
        }
    }
    heads.retain(|head| !head.is_empty());
    heads
}

/// What is wrong with the uses that a module makes of others.
fn faults(module: &str, used: &[Use], levels: &Levels) -> Vec<String> {
    let Some(own) = levels.get(module) else { return vec![format!("1: {module} has no level")] };
    let fault = |(line, other): &Use| match levels.get(other) {
        _ if other == module => None,
        Some(level) if level < own => None,
        Some(level) => Some(format!("{line}: {module} (level {own}) uses {other} (level {level})")),
        None => Some(format!("{line}: {module} uses {other}, which has no level")),
    };
    used.iter().filter_map(fault).collect()
}
