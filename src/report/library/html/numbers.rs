//! Counts and shares as a page shows them: a share that is not nothing never reads as 0 %, one that is not all never as
//! 100 %.

/// A count, its thousands set apart by a narrow space, which no language takes for a decimal sign.
pub(super) fn count(count: u64) -> String {
    let digits = count.to_string();
    let mut out = String::with_capacity(digits.len() * 2);
    for (nth, digit) in digits.chars().enumerate() {
        if nth > 0 && (digits.len() - nth).is_multiple_of(3) {
            out.push('\u{202f}');
        }
        out.push(digit);
    }
    out
}

/// `1 drawing`, `1 200 drawings`.
pub(super) fn counted(number: u64, one: &str) -> String {
    format!("{} {one}{}", count(number), if number == 1 { "" } else { "s" })
}

/// A share in percent; a dash of nothing.
pub(super) fn share(part: u64, whole: u64) -> String {
    if whole == 0 {
        return "–".to_owned();
    }
    let percent = part as f64 / whole as f64 * 100.0;
    match (part, percent) {
        (0, _) => "0 %".to_owned(),
        _ if part == whole => "100 %".to_owned(),
        (_, percent) if percent < 0.1 => "below 0.1 %".to_owned(),
        (_, percent) if percent < 9.95 => format!("{percent:.1} %"),
        (_, percent) if percent < 99.0 => format!("{percent:.0} %"),
        (_, percent) if percent <= 99.9 => format!("{percent:.1} %"),
        _ => "above 99.9 %".to_owned(),
    }
}

/// A count where there is little room: exact up to four digits, then in thousands or millions, rounded.
pub(super) fn short(number: u64) -> String {
    match number {
        0..10_000 => number.to_string(),
        10_000..999_500 => format!("{:.0}k", number as f64 / 1e3),
        _ => format!("{:.1}M", number as f64 / 1e6),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand.
    #[test]
    fn no_share_is_rounded_to_nothing_or_to_all() {
        let shares = [
            (0, 7, "0 %"),
            (7, 7, "100 %"),
            (0, 0, "–"),
            (1, 1_000_000, "below 0.1 %"),
            (1, 300, "0.3 %"),
            (1, 7, "14 %"),
            (999, 1000, "99.9 %"),
            (999_999, 1_000_000, "above 99.9 %"),
            (995, 1000, "99.5 %"),
        ];
        for (part, whole, said) in shares {
            assert_eq!(share(part, whole), said, "{part} of {whole}");
        }
    }

    #[test]
    fn thousands_stand_apart() {
        let counts = [(0, "0"), (999, "999"), (1000, "1\u{202f}000"), (1_234_567, "1\u{202f}234\u{202f}567")];
        for (number, said) in counts {
            assert_eq!(count(number), said);
        }
        assert_eq!(counted(1, "drawing"), "1 drawing");
        assert_eq!(counted(0, "drawing"), "0 drawings");
        assert_eq!([9999, 10_000, 12_600, 1_250_000].map(short), ["9999", "10k", "13k", "1.2M"]);
    }
}
