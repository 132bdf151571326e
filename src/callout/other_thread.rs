//! Threads that no thread-rolling screw of the metric or unified series fits: pipe, trapezoidal, acme, Whitworth,
//! round, conduit and aerospace metric threads. They are named, so that their hole is never taken for a plain one;
//! their sizes are not known here.

use super::cursor::{Cursor, Read};
use super::meaning::Meaning;
use super::number::{decimal, fraction, integer, mixed};

/// Letters before the size, as normalised and as printed, and whether they come with inch sizes alone (`G1/4`). The
/// single letter G needs a fraction, for `G1` is a tag.
const BEFORE: &[(&str, &str)] = &[
    ("BSPP", "BSPP"),
    ("BSPT", "BSPT"),
    ("BSP", "BSP"),
    ("BSW", "BSW"),
    ("BSF", "BSF"),
    ("NPTF", "NPTF"),
    ("NPT", "NPT"),
    ("NPSM", "NPSM"),
    ("NPSF", "NPSF"),
    ("RC", "Rc"),
    ("RP", "Rp"),
    ("PT", "PT"),
    ("PF", "PF"),
    ("G", "G"),
];

/// Words after the size: `1/4 BSPP`, `1/4-18 NPT`, `1/2-10 ACME-2G`.
const AFTER: &[&str] = &[
    "BSPP",
    "BSPT",
    "BSPF",
    "BSP",
    "BSW",
    "BSF",
    "NPTF",
    "NPT",
    "NPSM",
    "NPSF",
    "STUB ACME",
    "ACME",
    "BUTT",
    "WHITWORTH",
    "PIPE TAP",
    "PIPE THREAD",
    "PIPE THD",
];

/// Steel conduit threads of DIN 40430 (recalled).
const CONDUIT: &[&str] = &["7", "9", "11", "13.5", "16", "21", "29", "36", "42", "48"];

/// The designation, in one way of writing: `G1/4`, `Tr20x4`, `1/4-18 NPT`.
pub(super) fn other_thread(c: Cursor<'_>) -> Read<'_, String> {
    if c.before().is_some_and(|b| (b.is_ascii_alphanumeric() && b != 'X') || matches!(b, '.' | '_' | '/')) {
        return None;
    }
    match c.peek()? {
        'T' | 'R' if c.peek_at(1).is_some_and(|n| n.is_ascii_alphabetic()) => {
            trapezoidal(c).or_else(|| inch_before(c))
        }
        'B' | 'N' | 'G' | 'R' => inch_before(c),
        'P' => conduit(c).or_else(|| inch_before(c)),
        'M' => aerospace(c),
        first if first.is_ascii_digit() || first == '.' => inch_after(c),
        _ => None,
    }
}

/// `G1/4`, `Rc 1/8`, `NPT 1/4-18`, `BSP 3/8"`. A class `A` of ISO 228-1 is an external thread.
fn inch_before(c: Cursor<'_>) -> Read<'_, String> {
    let (name, after) = BEFORE.iter().find_map(|(letters, name)| Some((*name, eat_all(c, letters)?)))?;
    let start = after.spaces().maybe('-').spaces();
    let (size, end) =
        size(start, matches!(name, "BSP" | "BSPP" | "BSPT" | "NPT" | "NPTF") && start.at > after.at)?;
    // ISO 228-1 and ISO 7-1 name no pitch.
    let (pitch, end) = if name.starts_with(['N', 'B']) { pitch(end) } else { (String::new(), end) };
    // ISO 228-1 names no fraction above `G3 1/2`: in `Ø0.1 g6 3/8 BSPP` the letter is that of a fit.
    let (whole, fraction) = size.split_once('-').unwrap_or((&size, ""));
    if name == "G" && !fraction.is_empty() && whole.parse().is_ok_and(|whole: u32| whole > 3) {
        return None;
    }
    // A class `A` is a screw's.
    if !ends(end) || (name == "G" && end.spaces().literal("A").is_some()) {
        return None;
    }
    Some((format!("{name}{}{size}{pitch}", if name.len() > 2 { " " } else { "" }), hand(end)))
}

/// `1/4 BSPP`, `1/4"-18 NPT`, `1-11 1/2 NPT`, `.500-10 ACME-2G`.
fn inch_after(c: Cursor<'_>) -> Read<'_, String> {
    let (size, after) = size(c, true)?;
    let quoted = after.before() == Some('"') || after.before() == Some('\'');
    let (pitch, next) = pitch(after);
    let whole = size.chars().all(|c| c.is_ascii_digit());
    if whole && pitch.is_empty() && !quoted {
        return None;
    }
    let next = next.while_is(|c| c == ' ' || c == '-');
    let (name, end) = AFTER.iter().find_map(|name| Some((*name, words(next, name)?)))?;
    let end =
        class(end, &['2', '3', '4', '5', '6'], &['G', 'C']).filter(|_| name.ends_with("ACME")).unwrap_or(end);
    ends(end).then(|| (format!("{size}{pitch} {name}"), hand(end)))
}

/// `Tr20x4`, `Tr 40 x 14 (P7) LH - 7H`, `Rd 40x1/6`.
fn trapezoidal(c: Cursor<'_>) -> Read<'_, String> {
    let (name, after) = [("TR", "Tr"), ("RD", "Rd")].iter().find_map(|(l, n)| Some((*n, eat_all(c, l)?)))?;
    let (major, after) = decimal(after.spaces())?;
    let times = after.spaces().eat('X')?.spaces();
    let (lead, end) =
        if name == "Rd" { per_inch(times)? } else { decimal(times).map(|(q, end)| (q.value, end))? };
    let lead_text = times.text_to(end).replace(',', ".");
    let start = end.spaces().eat('(').and_then(|c| decimal(c.eat('P')?)).and_then(|(_, c)| c.eat(')'));
    let end = hand(start.unwrap_or(end));
    if external_class(end) {
        return None;
    }
    let end = class(end, &['7', '8', '9'], &['H']).unwrap_or(end);
    let sound = lead > 0.0 && lead < major.value && ends(end);
    sound.then(|| (format!("{name}{}x{lead_text}", major.value), hand(end)))
}

/// `1/6`: the pitch of a round thread in inches.
fn per_inch(c: Cursor<'_>) -> Read<'_, f64> {
    let (threads, end) = integer(c.eat('1')?.eat('/')?).filter(|(n, _)| *n > 0)?;
    Some((1.0 / f64::from(threads), end))
}

/// Past a class such as `-7H`, `-2G`, `-4H5H`.
fn class<'a>(c: Cursor<'a>, grades: &[char], letters: &[char]) -> Option<Cursor<'a>> {
    let one = |c: Cursor<'a>| Some(c.eat_any(grades)?.1.eat_any(letters)?.1);
    let end = one(c.while_is(|c| c == ' ' || c == '-'))?;
    let end = one(end).unwrap_or(end);
    end.at_word_end().then_some(end)
}

/// `-7e`: a small letter is a screw's class.
fn external_class(c: Cursor<'_>) -> bool {
    let start = c.while_is(|c| c == ' ' || c == '-');
    start.eat_any(&['4', '5', '6', '7', '8', '9']).is_some_and(|(_, c)| c.small())
}

/// `MJ6x1-4H5H` (ISO 5855), whose root is larger than that of a metric thread.
fn aerospace(c: Cursor<'_>) -> Read<'_, String> {
    let (major, after) = decimal(eat_all(c, "MJ")?)?;
    let (pitch, end) = decimal(after.spaces().eat('X')?.spaces())?;
    if external_class(end) {
        return None;
    }
    let end = class(end, &['4', '5', '6'], &['H']).unwrap_or(end);
    (pitch.value < major.value && ends(end)).then(|| (format!("MJ{}x{}", major.value, pitch.value), end))
}

/// `Pg11`, `PG 13.5 GEWINDE`: capitals alone may be a page or a tag.
fn conduit(c: Cursor<'_>) -> Read<'_, String> {
    let after = eat_all(c, "PG")?;
    let (size, end) = decimal(after.spaces())?;
    let text = size.value.to_string();
    let worded = end.spaces().word(Meaning::Tap).is_some();
    let marked = (!c.small() && c.next().small()) || worded;
    (CONDUIT.contains(&text.as_str()) && marked && ends(end)).then(|| (format!("Pg{text}"), end))
}

/// A size in inches as written, with its mark: `1/4`, `1 1/2`, `.500`, `1`; a bare whole number only where `whole`.
fn size(c: Cursor<'_>, whole: bool) -> Read<'_, String> {
    let (text, end) = if let Some((_, end)) = mixed(c).or_else(|| fraction(c)) {
        (c.text_to(end).replace(' ', "-"), end)
    } else {
        let (value, end) = decimal(c).filter(|(v, _)| whole && v.value > 0.0 && v.value <= 12.0)?;
        if value.decimals > 0 && value.decimals < 3 && value.value < 1.0 {
            return None;
        }
        (c.text_to(end).replace(',', "."), end)
    };
    let quoted = end.eat('"').or_else(|| end.eat('\'')?.eat('\''));
    Some((text, quoted.unwrap_or(end)))
}

/// `-18`, `-11.5`, `-11 1/2`: threads per inch.
fn pitch(c: Cursor<'_>) -> (String, Cursor<'_>) {
    let start = c.spaces();
    let found = start.eat('-').or_else(|| start.eat('X')).and_then(|c| {
        let c = c.spaces();
        if let Some((_, end)) = mixed(c) {
            return Some((c.text_to(end).replace('-', " "), end));
        }
        let (value, end) = decimal(c)?;
        (3.0..=40.0).contains(&value.value).then(|| (c.text_to(end).replace(',', "."), end))
    });
    match found {
        Some((text, end)) => (format!("-{text}"), end),
        None => (String::new(), c),
    }
}

/// Past `LH`, which the designation leaves out.
fn hand(c: Cursor<'_>) -> Cursor<'_> {
    let start = c.while_is(|c| c == ' ' || c == '-');
    start.word_of(&[Meaning::LeftHand, Meaning::RightHand]).map_or(c, |(_, end)| end)
}

/// Past these letters, whatever follows.
fn eat_all<'a>(c: Cursor<'a>, letters: &str) -> Option<Cursor<'a>> {
    letters.chars().try_fold(c, Cursor::eat)
}

/// Past these words, with blanks between them.
fn words<'a>(c: Cursor<'a>, wanted: &str) -> Option<Cursor<'a>> {
    wanted.split(' ').try_fold(c, |c, word| c.spaces().literal(word))
}

/// Whether the designation may end here: `1/4-1999` and `G1/4-A33` are part numbers.
fn ends(c: Cursor<'_>) -> bool {
    let runs_on = matches!(c.peek(), Some('/' | '.' | '_' | ':' | '-')) && {
        let next = c.next();
        next.peek().is_some_and(|c| c.is_ascii_alphanumeric()) && next.any_word().is_none()
    };
    c.at_word_end() && !runs_on && integer(c).is_none()
}

#[cfg(test)]
mod tests {
    use super::super::testing::parse;
    use super::*;

    fn of(text: &str) -> Option<String> {
        parse(text, |c| other_thread(c).map(|t| t.0))
    }

    // Designations: ISO 228-1 (G), ISO 7-1 (Rc, Rp), ASME B1.20.1 (NPT), ISO 2904 (Tr), ASME B1.5 (ACME), as recalled.
    #[test]
    fn designations() {
        for (text, name) in [
            ("G1/4", "G1/4"),
            ("G 1/4", "G1/4"),
            ("G 1 1/2", "G1-1/2"),
            ("G 3 1/2", "G3-1/2"),
            ("G1/4-LH", "G1/4"),
            ("Rc1/4", "Rc1/4"),
            ("Rp 3/8", "Rp3/8"),
            ("1/4-18 NPT", "1/4-18 NPT"),
            ("1/4\"-18 NPTF", "1/4-18 NPTF"),
            ("1-11 1/2 NPT", "1-11 1/2 NPT"),
            ("1-11.5 NPT", "1-11.5 NPT"),
            ("1/4 NPT", "1/4 NPT"),
            ("NPT 1/4", "NPT 1/4"),
            ("1/4 BSPP", "1/4 BSPP"),
            ("3/8 BSW", "3/8 BSW"),
            ("1\" BSP", "1 BSP"),
            ("BSP 1/2\"", "BSP 1/2"),
            ("1/2-10 ACME-2G", "1/2-10 ACME"),
            ("1.500-4 STUB ACME", "1.500-4 STUB ACME"),
            ("1/4 PIPE TAP", "1/4 PIPE TAP"),
            ("Tr20x4", "Tr20x4"),
            ("TR 20 x 4 - 7H", "Tr20x4"),
            ("Tr40x14(P7)LH-7H", "Tr40x14"),
            ("Rd40x1/6", "Rd40x1/6"),
            ("MJ6x1-4H5H", "MJ6x1"),
            ("Pg11", "Pg11"),
            ("PG 13,5 GEWINDE", "Pg13.5"),
        ] {
            assert_eq!(of(text).as_deref(), Some(name), "{text}");
        }
    }

    #[test]
    fn what_is_none_of_them() {
        for text in [
            "g6 3/8 BSPP",
            "G1",
            "G 1/4 A",
            "PG 11",
            "R1/4",
            "1/4-20 UNC",
            "1/4",
            "TR20",
            "Tr20x4-7e",
            "2 NPT",
            "G1/4-A33",
            "PT 3",
            "1/4 BSPX",
            "RC 5",
            "NPT",
            "TRUE 20x4",
            "Pg12",
            "GA 1/4",
        ] {
            assert_eq!(of(text), None, "{text}");
        }
    }
}
