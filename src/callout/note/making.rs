//! How all holes are made. Only a clause that names the holes counts: `BLANK: LASER CUT` says how the outline is
//! cut, and its holes may still be punched or drilled.

use super::super::cursor::Cursor;
use super::super::meaning::Meaning;
use super::pieces::Piece;
use crate::trade::Process;

/// `ALL HOLES PUNCHED`, `HOLES LASER CUT`, `ALLE BOHRUNGEN GESTANZT`.
pub(super) fn read(whole: Piece<'_>) -> Option<Process> {
    whole.clauses().find_map(clause)
}

/// The process of a clause about holes in general. A number makes it a callout of certain holes, a tap makes it
/// one of threads, and a denial says nothing.
fn clause(clause: Piece<'_>) -> Option<Process> {
    let general = clause.places().any(|c| c.word(Meaning::AllHoles).is_some() || is_holes(c));
    let number = without_number(clause.rest(clause.cursor())).chars().any(char::is_numeric);
    let denied = clause.has_literal(&["NOT", "NO", "NICHT", "KEINE", "NON", "NE", "PAS"]);
    if !general
        || number
        || denied
        || clause.has(&[Meaning::Tap, Meaning::TappedHole, Meaning::OtherPart, Meaning::Coating])
    {
        return None;
    }
    let mut found = clause.places().filter_map(|c| c.any_word()?.0.process());
    let first = found.next()?;
    // Of two processes the reamer is the one that leaves the size; other pairs are alternatives.
    found.try_fold(first, |a, b| match (a, b) {
        _ if a == b => Some(a),
        (Process::Reamed, _) | (_, Process::Reamed) => Some(Process::Reamed),
        _ => None,
    })
}

/// A clause without the number of its note.
fn without_number(text: &str) -> &str {
    let text = text.trim_start();
    let rest = text.trim_start_matches(|c: char| c.is_ascii_digit());
    rest.strip_prefix(['.', ')']).unwrap_or(text)
}

/// A word for holes in the plural; a single hole is not all of them.
fn is_holes(c: Cursor<'_>) -> bool {
    c.word(Meaning::Hole).is_some_and(|end| {
        let word = c.text_to(end);
        let word = word.trim_end_matches('.');
        ["S", "EN", "ER", "RI"].iter().any(|plural| word.ends_with(plural))
    })
}

#[cfg(test)]
mod tests {
    use super::super::read;
    use super::*;

    // Notes of drawings (common practice).
    #[test]
    fn processes_of_all_holes() {
        for (text, process) in [
            ("ALL HOLES PUNCHED", Process::Punched),
            ("3. ALL HOLES TO BE PUNCHED.", Process::Punched),
            ("HOLES LASER CUT", Process::Laser),
            ("ALLE BOHRUNGEN GESTANZT", Process::Punched),
            ("HOLES DRILLED AND REAMED", Process::Reamed),
        ] {
            assert_eq!(read(text).process, Some(process), "{text}");
        }
        for text in [
            "BLANK: LASER CUT",
            "4X DRILL HOLES",
            "HOLE PUNCHED",
            "HOLES PUNCHED OR DRILLED",
            "HOLES NOT PUNCHED",
            "PUNCHED",
        ] {
            assert_eq!(read(text).process, None, "{text}");
        }
    }
}
