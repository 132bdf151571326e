//! Formatted text (MTEXT, multileader, dimension override) to plain lines. Formatting that draws nothing is left
//! out; stacked text becomes `a/b`; letters of symbol fonts become their symbols.

use super::control::{caret_code, control_code, plain_run};
use super::symbols::{is_symbol_font, symbol};
use crate::dxf::bounds::MAX_FORMAT_DEPTH;

/// Decodes a formatted text; `symbol_font` says whether its style uses a symbol font.
pub(in crate::dxf) fn formatted_text(raw: &str, symbol_font: bool) -> String {
    let mut parser =
        Parser { out: String::with_capacity(raw.len()), fonts: Vec::new(), symbol_font, after_stack: false };
    let mut rest = raw;
    while !rest.is_empty() {
        if !parser.after_stack {
            rest = plain_run(rest, parser.symbol_font, b"%\\^{}\r", &mut parser.out);
        }
        let used = parser.step(rest).max(1);
        // A step always ends between letters; this only guards the slice.
        rest = rest.get(used..).unwrap_or("");
    }
    parser.out
}

struct Parser {
    out: String,
    /// Fonts of the enclosing braces.
    fonts: Vec<bool>,
    symbol_font: bool,
    /// The last thing drawn was a stack, so that a letter right after it needs a blank between.
    after_stack: bool,
}

impl Parser {
    /// Reads one unit of `rest`; returns how many bytes it took.
    fn step(&mut self, rest: &str) -> usize {
        if let Some((letters, length)) = control_code(rest) {
            self.draw_all(&letters);
            return length;
        }
        if let Some((letter, length)) = caret_code(rest) {
            if let Some(letter) = letter {
                self.draw(letter);
            }
            return length;
        }
        let Some(c) = rest.chars().next() else {
            return 1;
        };
        match c {
            '{' => {
                if self.fonts.len() < MAX_FORMAT_DEPTH {
                    self.fonts.push(self.symbol_font);
                }
            }
            '}' => {
                if let Some(font) = self.fonts.pop() {
                    self.symbol_font = font;
                }
            }
            '\\' => return self.command(rest),
            '\r' => {}
            _ => self.draw(if self.symbol_font { symbol(c) } else { c }),
        }
        c.len_utf8()
    }

    fn draw(&mut self, letter: char) {
        if self.after_stack && letter.is_alphanumeric() {
            self.out.push(' ');
        }
        self.after_stack = false;
        self.out.push(letter);
    }

    fn draw_all(&mut self, letters: &str) {
        for letter in letters.chars() {
            self.draw(letter);
        }
    }

    /// A backslash command at the start of `rest`; returns its length.
    fn command(&mut self, rest: &str) -> usize {
        let Some(c) = rest[1..].chars().next() else {
            self.draw('\\');
            return 1;
        };
        match c {
            'P' | 'N' | 'X' => self.draw('\n'),
            '~' => self.draw(' '),
            '\\' | '{' | '}' => self.draw(c),
            'L' | 'l' | 'O' | 'o' | 'K' | 'k' => {}
            'A' | 'C' | 'c' | 'H' | 'W' | 'Q' | 'T' => return 2 + number_argument(&rest[2..]),
            'p' => return 2 + rest[2..].find(';').map_or(0, |n| n + 1),
            'f' | 'F' => {
                let Some(end) = rest.find(';') else {
                    return 2;
                };
                self.symbol_font = is_symbol_font(&rest[2..end]);
                return end + 1;
            }
            'S' => return self.stack(rest),
            _ => {
                self.draw('\\');
                self.draw(c);
            }
        }
        1 + c.len_utf8()
    }

    /// `\Supper^lower;`, with `/` and `#` as other separators.
    fn stack(&mut self, rest: &str) -> usize {
        let mut halves = [String::new(), String::new()];
        let mut half = 0;
        let mut separator = '/';
        let mut at = 2;
        while let Some(c) = rest[at..].chars().next() {
            if let Some((letters, length)) = control_code(&rest[at..]) {
                halves[half].push_str(&letters);
                at += length;
                continue;
            }
            at += c.len_utf8();
            match c {
                ';' => break,
                '\\' => {
                    if let Some(escaped) = rest[at..].chars().next() {
                        halves[half].push(escaped);
                        at += escaped.len_utf8();
                    }
                }
                '^' | '/' | '#' if half == 0 => {
                    separator = c;
                    half = 1;
                }
                _ => halves[half].push(if self.symbol_font { symbol(c) } else { c }),
            }
        }
        self.draw_stack(&halves[0], &halves[1], separator);
        at
    }

    fn draw_stack(&mut self, upper: &str, lower: &str, separator: char) {
        let (upper, lower) = (upper.trim(), lower.trim());
        let first = if upper.is_empty() { lower } else { upper };
        let Some(opening) = first.chars().next() else {
            return;
        };
        // "1" and a stacked 1/2 are one and a half; "Ø3.6" and stacked tolerances need a blank between.
        let signed = opening == '+' || opening == '-' || opening == '±';
        let is_stack = !upper.is_empty() && !lower.is_empty();
        // The measured value of a dimension (`<>`) ends in a digit too.
        let after_number = self.out.ends_with("<>")
            || (self.out.ends_with(char::is_alphanumeric) && !self.out.ends_with(['Ø', 'ø']));
        if after_number && (is_stack || signed) {
            self.out.push(' ');
        }
        self.after_stack = false;
        self.out.push_str(upper);
        if is_stack {
            self.out.push('/');
        }
        self.out.push_str(lower);
        self.after_stack = is_stack && separator == '^';
    }
}

/// Length of the number after a command such as `\H2.5x;`, its semicolon included.
fn number_argument(rest: &str) -> usize {
    let number = rest.bytes().take_while(|b| b.is_ascii_digit() || matches!(b, b'.' | b'-' | b'+')).count();
    let bytes = rest.as_bytes();
    let relative = usize::from(bytes.get(number) == Some(&b'x'));
    let semicolon = usize::from(bytes.get(number + relative) == Some(&b';'));
    number + relative + semicolon
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formatting_draws_nothing() {
        for (raw, text) in [
            ("4X %%c3.6\\PTHRU", "4X Ø3.6\nTHRU"),
            ("{\\fArial|b0|i0|c0|p34;Hole \\L1\\l}", "Hole 1"),
            ("\\A1;\\H2.5x;\\W0.8;\\C1;\\Q15;\\T1.2;x", "x"),
            ("\\pi-21,l21,t21;a", "a"),
            ("a\\~b", "a b"),
            ("\\{x\\}\\\\", "{x}\\"),
            ("\\H3.5M4", "M4"),
            ("{\\Fgdt;n}3.6 {\\FGDT.SHX|c0;x}12", "Ø3.6 ↧12"),
            ("{\\fAIGDT|b0|i0;v}8 {\\Fgdt;w}90%%d", "⌴8 ⌵90°"),
            ("\\Kstruck\\k \\Oover\\o", "struck over"),
            ("C:\\temp", "C:\\temp"),
            ("a^Jb", "a\nb"),
            ("\\U+22052.3794", "∅2.3794"),
            ("open \\S1/2", "open 1/2"),
            ("tail\\", "tail\\"),
        ] {
            assert_eq!(formatted_text(raw, false), text, "{raw}");
        }
    }

    #[test]
    fn stacks_become_one_line() {
        for (raw, text) in [
            ("Ø3.6\\S+.003^-.000;", "Ø3.6 +.003/-.000"),
            ("%%c3.6 \\S+0.05^ 0; THRU", "Ø3.6 +0.05/0 THRU"),
            ("%%c3.6\\S+0.05^ 0;THRU", "Ø3.6 +0.05/0 THRU"),
            ("\\S7/32;", "7/32"),
            ("\\S7#32;", "7/32"),
            ("1\\S1/2;", "1 1/2"),
            ("\\S1/4;-20 UNC", "1/4-20 UNC"),
            ("%%c\\S.227^.224;", "Ø.227/.224"),
            ("m\\S2^ ;", "m2"),
            ("<>\\S+0.1^-0.2;", "<> +0.1/-0.2"),
            // Met in real drawings: limits of a fit without signs. There are none in the file, so none are added.
            ("\\A1;<>\\S0.01^ 0.02;", "<> 0.01/0.02"),
            ("\\S+0,1^\\;-0,1;", "+0,1/;-0,1"),
        ] {
            assert_eq!(formatted_text(raw, false), text, "{raw}");
        }
    }

    #[test]
    fn a_font_ends_with_its_braces() {
        assert_eq!(formatted_text("{\\Fgdt;n{\\Ftxt;n}n}n", false), "ØnØn");
        // Unbalanced braces and very deep nesting are harmless.
        assert_eq!(formatted_text("}}a{{{", false), "a");
        let deep = "{".repeat(100_000);
        assert_eq!(formatted_text(&deep, false), "");
    }
}
