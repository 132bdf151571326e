//! What is written onto a drawing: marks made of lines, arcs and texts on layers of our own. Says how text is made safe
//! to draw, and puts marks into a file; decides nothing about where a mark stands.

mod insert;
mod pairs;
mod survey;

pub use insert::insert;

use crate::finding::Level;
use crate::geometry::Point;

/// What all our layers begin with.
pub const LAYER_PREFIX: &str = "BOREBAND_";

/// Whether a layer of this name holds marks: `BOREBAND_FAIL`, and as an attached or bound overlay names it
/// (`lid|BOREBAND_FAIL`, `lid$0$BOREBAND_FAIL`).
pub(super) fn is_of_marks(layer: &str) -> bool {
    let own = layer.rsplit(['|', '$']).next().unwrap_or(layer);
    own.get(..LAYER_PREFIX.len()).is_some_and(|start| start.eq_ignore_ascii_case(LAYER_PREFIX))
}

/// The layer that marks of a level stand on.
pub const fn layer_of(level: Level) -> &'static str {
    match level {
        Level::Fail => "BOREBAND_FAIL",
        Level::Warn => "BOREBAND_WARN",
        Level::Note => "BOREBAND_NOTE",
    }
}

/// Its colour, as a number of the colour index of DXF: red, orange, blue.
pub const fn colour_of(level: Level) -> u8 {
    match level {
        Level::Fail => 1,
        Level::Warn => 30,
        Level::Note => 150,
    }
}

/// One thing to draw, in drawing units.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Whose layer it stands on.
    pub level: Level,
    /// `model`, or the layout's name.
    pub space: String,
    /// What is drawn.
    pub shape: Shape,
}

/// What a mark is.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A circular arc, counter-clockwise.
    Arc {
        /// Centre.
        center: Point,
        /// Radius.
        radius: f64,
        /// Start (degrees).
        start_deg: f64,
        /// End (degrees).
        end_deg: f64,
    },
    /// A straight line.
    Line {
        /// Start.
        from: Point,
        /// End.
        to: Point,
    },
    /// A line of text.
    Text {
        /// Its lower left corner, or the right one.
        at: Point,
        /// Which of the two.
        align: Align,
        /// Letter height.
        height: f64,
        /// What it says, as [`harmless`] gives it.
        text: String,
    },
}

/// Where a text begins or ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// It begins at its place.
    Left,
    /// It ends at its place.
    Right,
}

/// Text as a TEXT entity says it: the signs of holes as the codes that every font draws (`%%c`, `%%p`, `%%d`), and
/// nothing else a code, because a blank parts what would begin one (`%%`, `\U+`, `\M+`). Carets are left to the writer,
/// who puts a blank behind each.
pub fn harmless(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    let mut rest = text.chars();
    while let Some(c) = rest.next() {
        if let Some(code) = code_of(c) {
            out.push_str(if out.ends_with('%') { " " } else { "" });
            out.push_str(code);
            continue;
        }
        out.push(if c.is_control() { ' ' } else { c });
        let mut next = rest.as_str().chars();
        let parted = match (c, next.next(), next.next()) {
            ('%', Some('%'), _) => true,
            ('\\', Some(letter), Some('+')) => matches!(letter, 'U' | 'u' | 'M' | 'm'),
            _ => false,
        };
        if parted {
            out.push(' ');
        }
    }
    out
}

/// The code of a sign that the stroke fonts of CAD programs have no letter for.
const fn code_of(sign: char) -> Option<&'static str> {
    match sign {
        'Ø' | 'ø' | '⌀' | '∅' => Some("%%c"),
        '±' => Some("%%p"),
        '°' => Some("%%d"),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_parted_and_the_rest_stays() {
        assert_eq!(harmless("90%%d %%%"), "90% %d % % %");
        assert_eq!(harmless("a\\U+00D8 \\M+18C8A \\P {x}"), "a\\ U+00D8 \\ M+18C8A \\P {x}");
        assert_eq!(harmless("a\u{1b}b\nc"), "a b c");
        assert_eq!(harmless("80 % of Ø3.6 ±0.05, C:\\lid"), "80 % of %%c3.6 %%p0.05, C:\\lid");
        assert_eq!(harmless("5%Ø"), "5% %%c", "%%% would be a percent sign");
    }
}
