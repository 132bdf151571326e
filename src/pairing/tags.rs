//! Tags of holes: short texts beside circles (or in a balloon that points at one), and what a written range of tags
//! such as `A1-A4` or `1 to 8` stands for.

use std::collections::{HashMap, HashSet};

use super::Role;
use super::flow::{self, Offer};
use super::rings::Rings;
use super::texts::{Carrier, Statement};
use crate::drawing::{Drawing, Leader};
use crate::geometry::Point;
use crate::near::Near;

/// The most tags that one range may stand for; a larger one is taken literally.
const LONGEST_RANGE: u32 = 2000;

/// Whether a hole tagged `tag` is meant by `named`: the same, or `A` for `A1`, `A2` …
pub(super) fn means(named: &str, tag: &str) -> bool {
    let (named, tag) = (named.trim(), tag.trim());
    let Some(head) = tag.get(..named.len()) else { return false };
    if named.is_empty() || !head.eq_ignore_ascii_case(named) {
        return false;
    }
    let rest = &tag[named.len()..];
    rest.is_empty()
        || (named.ends_with(|c: char| c.is_alphabetic()) && rest.chars().all(|c| c.is_ascii_digit()))
}

/// The tags that a cell or label stands for: `A`, `A1-A4`, `1 to 8`, `30, 32`, `A/B`.
pub(super) fn expand(text: &str) -> Vec<String> {
    let upper = text.trim().to_uppercase();
    let mut tags = Vec::new();
    for piece in upper.split([',', ';', '&', '/', '+']).map(str::trim).filter(|p| !p.is_empty()) {
        match range(piece) {
            Some(mut names) => tags.append(&mut names),
            None => tags.push(piece.to_owned()),
        }
    }
    tags
}

fn range(piece: &str) -> Option<Vec<String>> {
    let separators = ["..", "…", "–", "-", " TO ", " BIS ", " THRU ", " A "];
    let (from, to) = separators.iter().find_map(|s| piece.split_once(s))?;
    let (head, first) = split_number(from.trim())?;
    let (tail, last) = split_number(to.trim())?;
    let same_head = tail.is_empty() || tail == head;
    (same_head && first <= last && last - first < LONGEST_RANGE)
        .then(|| (first..=last).map(|n| format!("{head}{n}")).collect())
}

fn split_number(text: &str) -> Option<(&str, u32)> {
    let head = text.trim_end_matches(|c: char| c.is_ascii_digit());
    let number = text[head.len()..].parse().ok()?;
    head.chars().all(char::is_alphabetic).then_some((head, number))
}

/// Letters and digits that a tag has at most.
const LETTERS: usize = 2;
const DIGITS: usize = 3;

/// The tag that a short text is, if it could be one.
pub(super) fn as_tag(text: &str) -> Option<String> {
    let bare = text.trim().trim_matches(['(', ')', '[', ']', '"', '\'']).trim();
    // Most texts of a sheet are far longer; a letter of two bytes, as `ß`, gives no less than one of a tag.
    if bare.len() > 2 * (LETTERS + DIGITS) {
        return None;
    }
    let bare = bare.to_uppercase();
    let letters = bare.chars().take_while(char::is_ascii_alphabetic).count();
    let digits = bare.chars().skip(letters).take_while(char::is_ascii_digit).count();
    let whole = letters + digits == bare.chars().count();
    let good = whole && letters <= LETTERS && digits <= DIGITS && letters + digits > 0;
    good.then_some(bare)
}

/// A tag that stands beside a ring.
#[derive(Debug, Clone)]
pub(super) struct Beside {
    pub(super) tag: String,
    /// Letter heights between text and rim.
    pub(super) heights: f64,
}

/// The tag beside each ring that is a hole: all tags at once at the least distance, each for one hole. A tag that a
/// table states another size for than the ring is drawn at counts as standing farther away, and so does one that nothing
/// names where others are named, as the letter of a detail.
pub(super) fn beside(
    drawing: &Drawing,
    rings: &Rings,
    roles: &[Role],
    statements: &[Statement],
) -> Vec<Option<Beside>> {
    let tails = Tails::new(drawing);
    let mut pairs: Vec<Pair> = Vec::new();
    for (text, s) in statements.iter().enumerate() {
        let Carrier::Text(_) = s.carrier else { continue };
        let Some(tag) = as_tag(&s.callout.text) else { continue };
        let p = tails.tip(rings, roles, s);
        let points_away = p.is_some();
        let center = p.unwrap_or_else(|| s.middle());
        let half = if points_away { 0.0 } else { center.distance(s.bounds.max) };
        for ring in rings.within(s.origin.space, center, half + 2.5 * s.height) {
            if roles[ring] != Role::Hole {
                continue;
            }
            let r = &rings.rings[ring];
            let gap = if points_away { center.distance(r.center) } else { s.bounds.distance(r.center) }
                - r.diameter / 2.0;
            let heights = gap.max(0.0) / s.height;
            if heights <= 2.5 {
                pairs.push(Pair { heights, ring, text, tag: tag.clone() });
            }
        }
    }
    pairs.sort_by(|a, b| (a.heights.total_cmp(&b.heights)).then(a.ring.cmp(&b.ring)).then(a.tag.cmp(&b.tag)));
    let listed = Listed::new(rings, statements, &pairs);
    matched(&pairs, rings.rings.len(), statements.len(), &listed)
}

/// A text that could be the tag of a ring.
struct Pair {
    /// Letter heights between them.
    heights: f64,
    ring: usize,
    text: usize,
    tag: String,
}

/// How far beyond the most distant tag a pair is still worth something, so that no hole near a tag stays without one
/// where the tags of a row of holes stand between them.
const WORTH: f64 = 4.0;
/// What it takes off a pair's worth that the table states another size for the tag than the ring is drawn at, or that the
/// tag is named nowhere.
const UNLIKELY: f64 = 2.0;
/// More pairs than this are taken nearest first: on such sheets the best choice of all would take too long.
const MOST_PAIRS: usize = 50_000;

/// Tags on rings with the least distances in all, each text and each ring once.
fn matched(pairs: &[Pair], rings: usize, texts: usize, listed: &Listed) -> Vec<Option<Beside>> {
    let mut found: Vec<Option<Beside>> = vec![None; rings];
    if pairs.len() > MOST_PAIRS {
        let mut used = vec![false; texts];
        for pair in pairs {
            if found[pair.ring].is_none() && !used[pair.text] {
                used[pair.text] = true;
                found[pair.ring] = Some(Beside { tag: pair.tag.clone(), heights: pair.heights });
            }
        }
        return found;
    }
    let offers: Vec<Offer> = pairs
        .iter()
        .map(|p| {
            let against = if listed.speaks_against(p) { UNLIKELY } else { 0.0 };
            Offer::new(p.text, p.ring, WORTH - p.heights - against)
        })
        .collect();
    for (ring, offer) in flow::solve(&vec![1; texts], rings, &offers).into_iter().enumerate() {
        found[ring] = offer.map(|o| Beside { tag: pairs[o].tag.clone(), heights: pairs[o].heights });
    }
    found
}

/// The tags that tables and callouts name, and those whose size a table states, with the ratio of drawn to listed size that
/// most tags have to their nearest ring.
struct Listed {
    named: HashSet<String>,
    sizes: HashMap<String, f64>,
    drawn: Vec<f64>,
    usual: Option<f64>,
}

impl Listed {
    fn new(rings: &Rings, statements: &[Statement], pairs: &[Pair]) -> Listed {
        let of_holes = |s: &&Statement| s.carrier == Carrier::TableRow || s.callout.states_hole();
        let tags = statements.iter().filter(of_holes).flat_map(|s| &s.tags);
        let named = tags.map(|tag| tag.to_uppercase()).collect();
        let mut sizes: HashMap<String, f64> = HashMap::new();
        for row in statements.iter().filter(|s| s.carrier == Carrier::TableRow) {
            if let Some(called) = row.called().map(|q| q.value).filter(|c| *c > 0.0) {
                sizes.extend(row.tags.iter().map(|t| (t.to_uppercase(), called)));
            }
        }
        let drawn = rings.rings.iter().map(|r| r.diameter).collect();
        let mut out = Listed { named, sizes, drawn, usual: None };
        if out.sizes.is_empty() {
            return out;
        }
        let mut seen = vec![false; statements.len()];
        let mut nearest = Vec::new();
        for pair in pairs {
            if !std::mem::replace(&mut seen[pair.text], true) {
                nearest.extend(out.ratio(pair));
            }
        }
        nearest.sort_by(f64::total_cmp);
        let most = nearest.chunk_by(|a, b| b / a <= 1.01).max_by_key(|same| same.len());
        out.usual = most.filter(|same| 2 * same.len() > nearest.len()).map(|same| same[same.len() / 2]);
        out
    }

    fn ratio(&self, pair: &Pair) -> Option<f64> {
        let [tag, letters] = names(&pair.tag);
        let size = self.sizes.get(tag).or_else(|| self.sizes.get(letters))?;
        Some(self.drawn[pair.ring] / size)
    }

    fn speaks_against(&self, pair: &Pair) -> bool {
        if !self.named.is_empty() && !names(&pair.tag).iter().any(|name| self.named.contains(*name)) {
            return true;
        }
        let (Some(usual), Some(ratio)) = (self.usual, self.ratio(pair)) else { return false };
        (ratio / usual - 1.0).abs() > 0.03
    }
}

/// The names that a tag beside a hole, in upper case, may be meant by: itself, and its letters alone.
pub(super) fn names(tag: &str) -> [&str; 2] {
    [tag, tag.trim_end_matches(|c: char| c.is_ascii_digit())]
}

/// Tails of leaders, to find the one that begins at a tag.
struct Tails<'a> {
    drawing: &'a Drawing,
    leaders: Vec<usize>,
    near: Near,
}

impl<'a> Tails<'a> {
    fn new(drawing: &'a Drawing) -> Tails<'a> {
        let shown = |l: &Leader| l.origin.visible && l.vertices.len() >= 2;
        let leaders: Vec<usize> =
            (0..drawing.leaders.len()).filter(|&i| shown(&drawing.leaders[i])).collect();
        let tails = leaders.iter().filter_map(|&i| drawing.leaders[i].vertices.last());
        let near = Near::new(tails.map(|&p| (p, 0.0)));
        Tails { drawing, leaders, near }
    }

    /// Where a tag in a balloon, or with a leader, points at: the tip of the leader that ends at it.
    fn tip(&self, rings: &Rings, roles: &[Role], s: &Statement) -> Option<Point> {
        let center = s.middle();
        let balloon = rings.within(s.origin.space, center, 0.0).into_iter().find(|&i| {
            roles[i] == Role::Balloon
                && rings.rings[i].center.distance(center) < rings.rings[i].diameter / 2.0
        });
        let reach = match balloon {
            Some(i) => 0.6 * rings.rings[i].diameter,
            None => center.distance(s.bounds.max) + s.height,
        };
        let close = |end: Point| match balloon {
            Some(i) => end.distance(rings.rings[i].center) <= 0.55 * rings.rings[i].diameter,
            None => s.bounds.distance(end) <= s.height,
        };
        let from = balloon.map_or(center, |i| rings.rings[i].center);
        let found = self.near.within(from, reach).into_iter().map(|k| &self.drawing.leaders[self.leaders[k]]);
        found
            .filter(|l| l.origin.space == s.origin.space && l.vertices.last().is_some_and(|&end| close(end)))
            .find_map(|l| l.vertices.first().copied())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Expected readings from the forms in use on drawings: rows `A`, `A1-A4`, `1 to 8`, `30, 32` (common practice).
    #[test]
    fn ranges_and_lists_of_tags() {
        assert_eq!(expand("A"), ["A"]);
        assert_eq!(expand("A1-A4"), ["A1", "A2", "A3", "A4"]);
        assert_eq!(expand("1 to 3"), ["1", "2", "3"]);
        assert_eq!(expand("30, 32"), ["30", "32"]);
        assert_eq!(expand("B1..B2"), ["B1", "B2"]);
        assert_eq!(expand("A-B"), ["A-B"]);
        assert_eq!(expand("1-4000000000"), ["1-4000000000"]);
    }

    #[test]
    fn a_letter_means_its_numbered_holes_but_a_number_does_not() {
        assert!(means("A", "a"));
        assert!(means("A", "A12"));
        assert!(!means("A1", "A12"));
        assert!(!means("A", "AB"));
        assert!(!means("1", "12"));
    }

    #[test]
    fn sizes_and_words_are_no_tags() {
        assert_eq!(as_tag(" a1 ").as_deref(), Some("A1"));
        assert_eq!(as_tag("(12)").as_deref(), Some("12"));
        assert_eq!(as_tag("3.65"), None);
        assert_eq!(as_tag("THRU"), None);
    }
}
