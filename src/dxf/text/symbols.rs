//! Symbol fonts: which font names are such, and what their letters draw.

/// Whether a font name (`gdt.shx`, `AIGDT`, `amgdt`) is that of a geometric-tolerance symbol font.
pub(in crate::dxf) fn is_symbol_font(name: &str) -> bool {
    name.to_ascii_lowercase().contains("gdt")
}

/// What a letter of such a font draws; digits and all other letters draw themselves.
///
/// The diameter sign arrives as `Ø`, the form that all other carriers use.
pub(super) fn symbol(letter: char) -> char {
    match letter.to_ascii_lowercase() {
        'a' => '∠',
        'b' => '⟂',
        'c' => '⏥',
        'd' => '⌓',
        'e' => '○',
        'f' => '∥',
        'g' => '⌭',
        'h' => '↗',
        'i' => '⌯',
        'j' => '⌖',
        'k' => '⌒',
        'l' => 'Ⓛ',
        'm' => 'Ⓜ',
        'n' => 'Ø',
        'o' => '□',
        'p' => 'Ⓟ',
        'q' => '℄',
        'r' => '◎',
        's' => 'Ⓢ',
        't' => '⌰',
        'u' => '⏤',
        'v' => '⌴',
        'w' => '⌵',
        'x' => '↧',
        'y' => '⌲',
        'z' => '⌳',
        _ => letter,
    }
}
