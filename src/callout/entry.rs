//! What widens a hole at its face: counterbore, spotface, countersink.

use super::cursor::{Cursor, Read};
use super::meaning::Meaning;

/// The kind of an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Counterbore or spotface.
    Bore,
    /// Countersink.
    Sink,
}

/// An entry's name and whether it is written as a sign, which always stands before its size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Named {
    pub(super) kind: Kind,
    pub(super) sign: bool,
}

/// `⌴`, `⌵`, `C'BORE`, `CSK`, `SPOTFACE`; `⌴ SF` is one spotface.
pub(super) fn entry(c: Cursor<'_>) -> Read<'_, Named> {
    let sign = |kind| Named { kind, sign: true };
    if let Some(after) = counterbore(c) {
        let spotface = after.spaces().word_of(&[Meaning::Spotface, Meaning::Counterbore]);
        return Some((sign(Kind::Bore), spotface.map_or(after, |(_, c)| c)));
    }
    if let Some(after) = c.eat('⌵') {
        return Some((sign(Kind::Sink), after));
    }
    match c.word_of(&[Meaning::Counterbore, Meaning::Spotface, Meaning::Countersink])? {
        (Meaning::Countersink, after) => Some((Named { kind: Kind::Sink, sign: false }, after)),
        (_, after) => Some((Named { kind: Kind::Bore, sign: false }, after)),
    }
}

/// The counterbore sign.
pub(super) fn counterbore(c: Cursor<'_>) -> Option<Cursor<'_>> {
    c.eat('⌴')
}

#[cfg(test)]
mod tests {
    use super::super::testing::parse;
    use super::*;

    #[test]
    fn signs_and_words() {
        let of = |text| parse(text, |c| entry(c).map(|e| e.0.kind));
        for text in
            ["⌴", "凵", "C'BORE", "CBORE", "C-BORE", "COUNTERBORE", "SPOTFACE", "SF", "c’bore", "LAMAGE"]
        {
            assert_eq!(of(text), Some(Kind::Bore), "{text}");
        }
        for text in ["⌵", "CSK", "C'SINK", "CSINK", "COUNTERSINK", "FRAISURE", "沉头孔", "皿モミ"] {
            assert_eq!(of(text), Some(Kind::Sink), "{text}");
        }
    }
}
