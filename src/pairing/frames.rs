//! Texts in the cells of feature control frames that were drawn as lines and texts: a zone such as `Ø0.2 Ⓜ` states how
//! far a feature may leave its place, not the size of a hole (ISO 1101, ASME Y14.5). Reads no other text.

use crate::drawing::{Drawing, Text};
use crate::geometry::Bounds;

/// Signs of what is toleranced, as they stand in the first cell.
const CHARACTERISTICS: &str = "⌖⊕◎⌯⏤⏥○⌭⌒⌓∥⟂⊥∠↗⌰";

/// Conditions behind a zone. The letters in rings stand there in no size of a hole.
const CONDITIONS: &str = "ⓂⓁⓈⓅⒻⓉⓊⒺ";

/// The letters that a symbol font shows as the signs of position and concentricity, which carry a diameter.
const FONT_LETTERS: [&str; 2] = ["j", "r"];

/// Letter heights between the text of a cell and that of the next one, at most.
const CELL_GAP: f64 = 6.0;

/// Largest zone (drawing units) that the letter of a datum alone makes known, by whether it is written as an inch value
/// is: with three decimals or more, or without a zero before the point. Holes of such sizes are drilled in no plate.
const LARGEST_ZONE: [(bool, f64); 2] = [(false, 1.0), (true, 0.06)];

/// Most texts of one height on the sheet among which a neighbour is looked for; the rows of a frame hold few.
const MOST_LOOKED_AT: usize = 200;

/// A zone as it is written.
struct Zone {
    value: f64,
    inch: bool,
    /// Whether a ringed condition follows, which alone says that it is a zone.
    ringed: bool,
}

/// Which texts are zones in feature control frames.
pub(super) fn zones(drawing: &Drawing) -> Vec<bool> {
    let mut found = vec![false; drawing.texts.len()];
    let candidates: Vec<(usize, Zone)> = (0..drawing.texts.len())
        .filter(|&i| drawing.texts[i].origin.visible && !drawing.texts[i].bounds.is_empty())
        .filter_map(|i| zone(&drawing.texts[i].content).map(|z| (i, z)))
        .collect();
    if candidates.is_empty() {
        return found;
    }
    let mut by_base: Vec<usize> = (0..drawing.texts.len()).collect();
    by_base.sort_by(|&a, &b| drawing.texts[a].at.y.total_cmp(&drawing.texts[b].at.y));
    for (i, zone) in candidates {
        found[i] = zone.ringed || stands_in_a_frame(drawing, &by_base, &drawing.texts[i], &zone);
    }
    found
}

/// `Ø0.2`, `Ø.014 Ⓜ`, `Ø0,1M`.
fn zone(content: &str) -> Option<Zone> {
    let text = content.trim().strip_prefix(['Ø', '⌀', '∅', 'ø', 'Φ', 'φ'])?.trim_start();
    let end = text.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(text.len());
    let (number, rest) = text.split_at(end);
    let rest = rest.trim();
    let ringed = !rest.is_empty() && rest.chars().all(|c| CONDITIONS.contains(c) || c == ' ');
    if !(rest.is_empty() || ringed || matches!(rest, "M" | "L")) {
        return None;
    }
    let value = number.replace(',', ".").parse().ok()?;
    let decimals = number.split(['.', ',']).nth(1).map_or(0, str::len);
    Some(Zone { value, inch: decimals >= 3 || number.starts_with('.'), ringed })
}

/// Whether the sign of a characteristic stands in the cell before, or the zone is small and the letter of a datum stands
/// in the cell behind.
fn stands_in_a_frame(drawing: &Drawing, by_base: &[usize], text: &Text, zone: &Zone) -> bool {
    let slack = 0.3 * text.height;
    let first = by_base.partition_point(|&i| drawing.texts[i].at.y < text.at.y - slack);
    let level = by_base[first..].iter().map(|&i| &drawing.texts[i]).take(MOST_LOOKED_AT);
    let small = LARGEST_ZONE.iter().any(|&(inch, most)| inch == zone.inch && zone.value <= most);
    level.take_while(|t| t.at.y <= text.at.y + slack).any(|other| {
        let content = other.content.trim();
        let one = content.chars().count() == 1;
        let next = |gap: f64| gap > -slack && gap <= CELL_GAP * text.height;
        let same = other.origin.space == text.origin.space && other.origin.visible && one;
        let sign = CHARACTERISTICS.contains(content) || FONT_LETTERS.contains(&content);
        let datum = small && content.chars().all(|c| c.is_ascii_uppercase());
        same && (sign && next(gap(&other.bounds, &text.bounds))
            || datum && next(gap(&text.bounds, &other.bounds)))
    })
}

fn gap(left: &Bounds, right: &Bounds) -> f64 {
    right.min.x - left.max.x
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pairing::testing::Sheet;

    fn zones_of(texts: &[(f64, &str)]) -> Vec<bool> {
        let sheet = texts.iter().fold(Sheet::new(), |sheet, &(x, content)| sheet.text(x, 20.0, content));
        zones(&sheet.drawing())
    }

    #[test]
    fn a_zone_is_known_by_its_condition_the_sign_before_and_the_datum_behind() {
        assert_eq!(zones_of(&[(10.0, "Ø0.2 Ⓜ")]), [true]);
        assert_eq!(zones_of(&[(2.0, "⌖"), (10.0, "Ø2")]), [false, true]);
        assert_eq!(zones_of(&[(2.0, "j"), (10.0, "Ø0,1")]), [false, true]);
        assert_eq!(zones_of(&[(10.0, "Ø0.2"), (26.0, "A"), (34.0, "B")]), [true, false, false]);
        assert_eq!(zones_of(&[(10.0, "Ø.014M"), (30.0, "A")]), [true, false]);
    }

    #[test]
    fn a_size_alone_before_a_tag_or_in_a_table_is_no_zone() {
        assert_eq!(zones_of(&[(10.0, "Ø0.2")]), [false]);
        assert_eq!(zones_of(&[(10.0, "Ø5.5"), (26.0, "A")]), [false, false]);
        assert_eq!(zones_of(&[(10.0, "Ø.250"), (26.0, "A")]), [false, false]);
        assert_eq!(zones_of(&[(2.0, "A"), (10.0, "Ø0.8")]), [false, false]);
        assert_eq!(zones_of(&[(10.0, "Ø0.8 THRU"), (36.0, "A")]), [false, false]);
    }
}
