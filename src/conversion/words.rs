//! Words on a drawing that speak against a conversion: inserts and left-hand threads in the callout itself, codes and
//! duties anywhere on the sheet. The words are data (`words.csv`).

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Fact, Grounds};
use crate::callout::Callout;
use crate::drawing::Drawing;
use crate::practice::Ground;
use crate::trade::tables;

/// What a word means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Kind {
    /// In a callout: a thread insert, or a nut.
    Insert,
    /// In a callout: left-hand.
    LeftHand,
    /// The name of a code that governs joints.
    Code,
    /// A duty that needs an engineer.
    Critical,
    /// A phrase with such a word that means something else.
    Exempt,
}

#[derive(Debug, Deserialize)]
struct Row {
    words: String,
    kind: Kind,
    /// `en`, `de` …, for readers of the table.
    #[serde(rename = "language")]
    _language: String,
}

struct Phrase {
    /// Words in capitals; one that ends with `*` stands for every word that begins like it.
    words: Vec<String>,
    kind: Kind,
    shown: String,
}

static PHRASES: LazyLock<Vec<Phrase>> = LazyLock::new(|| {
    let rows: Vec<Row> = tables::rows("words.csv", include_str!("words.csv"));
    let mut phrases: Vec<Phrase> = rows
        .into_iter()
        .map(|row| Phrase {
            words: row.words.split_whitespace().map(str::to_uppercase).collect(),
            kind: row.kind,
            shown: row.words.trim_end_matches('*').to_owned(),
        })
        .collect();
    // The longest phrase at a place says what is meant.
    phrases.sort_by_key(|phrase| std::cmp::Reverse(phrase.words.len()));
    phrases
});

/// A word of a drawing that calls for caution, and the text that it stands in.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Caution {
    ground: Ground,
    word: String,
}

/// The words of caution on a drawing, each once.
pub(super) fn cautions(drawing: &Drawing) -> Vec<Caution> {
    let texts = drawing.texts.iter().filter(|t| t.origin.visible).map(|t| t.content.as_str());
    let cells = drawing.tables.iter().filter(|t| t.origin.visible).flat_map(|t| t.rows.iter().flatten());
    let mut found: Vec<Caution> = Vec::new();
    for text in texts.chain(cells.map(String::as_str)) {
        for phrase in phrases(text) {
            let ground = match phrase.kind {
                Kind::Code => Ground::WordsCode,
                Kind::Critical => Ground::WordsCritical,
                Kind::Insert | Kind::LeftHand | Kind::Exempt => continue,
            };
            let caution = Caution { ground, word: phrase.shown.clone() };
            if !found.contains(&caution) {
                found.push(caution);
            }
        }
    }
    found
}

/// The grounds that lie in words: those of the callout, and the cautions of its drawing.
pub(super) fn grounds(callout: &Callout, cautions: &[Caution], grounds: &mut Grounds<'_>) {
    for phrase in phrases(&callout.text) {
        let stated = callout.thread.as_ref().is_some_and(|named| named.left_hand);
        match phrase.kind {
            Kind::Insert => grounds.add(Ground::Insert, Fact::Words(phrase.shown.clone())),
            Kind::LeftHand if !stated => grounds.add(Ground::LeftHand, Fact::Nothing),
            _ => {}
        }
    }
    for caution in cautions {
        grounds.add(caution.ground, Fact::Words(caution.word.clone()));
    }
}

/// The phrases of a text, at each place the longest.
fn phrases(text: &str) -> Vec<&'static Phrase> {
    let upper = text.to_uppercase();
    let words: Vec<&str> =
        upper.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let mut found = Vec::new();
    let mut at = 0;
    while at < words.len() {
        match PHRASES.iter().find(|phrase| phrase.stands_at(&words[at..])) {
            Some(phrase) => {
                found.push(phrase);
                at += phrase.words.len();
            }
            None => at += 1,
        }
    }
    // Ideographs stand without blanks between words.
    found.extend(PHRASES.iter().filter(|p| p.is_ideographic() && upper.contains(&p.words[0])));
    found
}

impl Phrase {
    fn stands_at(&self, words: &[&str]) -> bool {
        let fits = |(own, word): (&String, &&str)| match own.strip_suffix('*') {
            Some(start) => word.starts_with(start),
            None => own == word,
        };
        !self.is_ideographic() && words.len() >= self.words.len() && self.words.iter().zip(words).all(fits)
    }

    fn is_ideographic(&self) -> bool {
        self.words[0].chars().next().is_some_and(|c| c >= '\u{3000}')
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kinds(text: &str) -> Vec<Kind> {
        phrases(text).iter().map(|phrase| phrase.kind).filter(|kind| *kind != Kind::Exempt).collect()
    }

    #[test]
    fn table_is_whole() {
        let mut seen = std::collections::HashSet::new();
        for phrase in PHRASES.iter() {
            assert!(!phrase.words.is_empty());
            assert!(seen.insert(&phrase.words), "{:?} stands twice", phrase.words);
        }
        assert!(seen.len() > 60);
    }

    #[test]
    fn words_of_drawings() {
        for (text, kind) in [
            ("MAX. WORKING PRESSURE 6 BAR", Some(Kind::Critical)),
            ("PRESSURE DIE CASTING A380", None),
            ("HIGH-PRESSURE DIE CAST", None),
            ("LIFTING EYE", Some(Kind::Critical)),
            ("SAFETY CRITICAL", Some(Kind::Critical)),
            ("Sicherheitsrelevantes Teil", Some(Kind::Critical)),
            ("Druckguss AlSi9Cu3", None),
            ("Druckbehälter", Some(Kind::Critical)),
            ("WELD TO AWS D1.1", Some(Kind::Code)),
            ("DESIGN PER ASME BPVC SECTION VIII", Some(Kind::Code)),
            ("压力容器", Some(Kind::Critical)),
            ("4X M4 - 6H THRU", None),
            ("BREAK SHARP EDGES", None),
        ] {
            assert_eq!(kinds(text), kind.into_iter().collect::<Vec<_>>(), "{text}");
        }
    }

    #[test]
    fn words_of_callouts() {
        for (text, kind) in [
            ("Ø5 THRU M6 HELICAL INSERT", Kind::Insert),
            ("M4 Gewindeeinsatz", Kind::Insert),
            ("M5 PRESS NUT", Kind::Insert),
            ("M4 TAP LH", Kind::LeftHand),
            ("M10 Linksgewinde", Kind::LeftHand),
        ] {
            assert_eq!(kinds(text), [kind], "{text}");
        }
    }
}
