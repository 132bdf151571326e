//! The letters of a detail in the title under it, by which the main view marks the place that it enlarges.

use super::super::cursor::Cursor;
use super::super::meaning::Meaning;
use super::Note;
use super::pieces::Piece;
use super::ratio::one_to;

/// `DETAIL B`, `EINZELHEIT Z`; `Z (5:1)` as ISO 128-3 titles a detail, with its scale.
pub(super) fn read(whole: Piece<'_>, note: &mut Note) {
    for line in whole.lines() {
        let start = line.cursor().spaces();
        if let Some(after) = start.word(Meaning::Detail) {
            note.detail = letters(after).map(|(letters, _)| letters);
        } else if let Some((letters, end)) = letters(start)
            && let Some((scale, _)) = one_to(end.spaces().maybe('('))
            && letters != "M"
        {
            // `M 1:2` is the scale alone.
            note.detail = Some(letters);
            note.scale = note.scale.or(Some(scale));
        }
        if note.detail.is_some() {
            return;
        }
    }
}

/// One or two letters, perhaps with a digit, in quotes or not, that no other letter follows.
fn letters(c: Cursor<'_>) -> Option<(String, Cursor<'_>)> {
    let start = c.while_is(|c| matches!(c, '"' | '\'' | ':' | ' '));
    let capitals = start.while_is(|c| c.is_ascii_uppercase());
    let end = capitals.while_is(|c| c.is_ascii_digit());
    let sound = (1..=2).contains(&(capitals.at - start.at)) && end.at - capitals.at <= 1;
    let followed = end.peek().is_some_and(char::is_alphanumeric);
    (sound && !followed).then(|| (start.text_to(end), end))
}

#[cfg(test)]
mod tests {
    use super::super::read;

    // ISO 128-3 titles a detail with its letter and scale; the words are common practice.
    #[test]
    fn titles_of_details() {
        for (text, letters) in [
            ("DETAIL B", Some("B")),
            ("DETAIL 'C'\nSCALE 2:1", Some("C")),
            ("Einzelheit Z", Some("Z")),
            ("DETTAGLIO A1", Some("A1")),
            ("局部放大图 B", Some("B")),
            ("詳細 C", Some("C")),
            ("Z (5:1)", Some("Z")),
            ("X 2:1", Some("X")),
            ("SEE DETAIL B", None),
            ("DETAIL DRAWING", None),
            ("SCALE 2:1", None),
            ("M 1:2", None),
            ("SECTION A-A", None),
        ] {
            assert_eq!(read(text).detail.as_deref(), letters, "{text}");
        }
        assert_eq!(read("Z (5:1)").scale, Some(5.0));
    }
}
