//! The allowed spelling that a misspelt word comes nearest to.

/// The candidate nearest to `word`, if one is near enough that a person may have meant it: at most one slip in three
/// letters, letter case, `_` and `-` not counted. Names with digits and words of two letters are not guessed: `Q11` is no
/// slip for `H11`, nor `cm` for `mm`.
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    // A longer word is no slip of the pen, and comparing it would only cost time.
    if word.len() > 64 {
        return None;
    }
    let plain = folded(word);
    candidates
        .into_iter()
        .map(|candidate| (distance(&plain, &folded(candidate)), candidate))
        .filter(|(slips, candidate)| *slips <= slips_allowed(candidate))
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, candidate)| candidate)
}

fn slips_allowed(candidate: &str) -> usize {
    if candidate.contains(|c: char| c.is_ascii_digit()) { 0 } else { candidate.chars().count() / 3 }
}

fn folded(word: &str) -> Vec<char> {
    word.chars().filter(|c| !matches!(c, '_' | '-' | ' ')).flat_map(char::to_lowercase).collect()
}

/// Slips between two words: letters put in, left out, replaced, or two neighbours swapped (optimal string alignment).
fn distance(a: &[char], b: &[char]) -> usize {
    let width = b.len() + 1;
    let mut table = vec![0_usize; (a.len() + 1) * width];
    for i in 0..=a.len() {
        for j in 0..=b.len() {
            table[i * width + j] = if i == 0 || j == 0 {
                i + j
            } else {
                let replaced = table[(i - 1) * width + j - 1] + usize::from(a[i - 1] != b[j - 1]);
                let one_more = 1 + table[(i - 1) * width + j].min(table[i * width + j - 1]);
                let swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
                let swap = if swapped { table[(i - 2) * width + j - 2] + 1 } else { usize::MAX };
                replaced.min(one_more).min(swap)
            };
        }
    }
    table[a.len() * width + b.len()]
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn finds_what_a_person_meant() {
        let keys = ["tag", "count", "diameter", "edge_finish", "draft_deg"];
        assert_eq!(nearest("diametre", keys), Some("diameter"));
        assert_eq!(nearest("edgeFinish", keys), Some("edge_finish"));
        assert_eq!(nearest("cuont", keys), Some("count"));
        assert_eq!(nearest("tga", keys), Some("tag"));
    }

    #[test]
    fn does_not_guess_wildly() {
        let keys = ["tag", "count", "diameter"];
        assert_eq!(nearest("colour", keys), None);
        // Suggesting another unit or another fit than was written would lead astray.
        assert_eq!(nearest("cm", ["mm", "in"]), None);
        assert_eq!(nearest("Q11", ["H11", "H12"]), None);
        assert_eq!(nearest("h11", ["H11", "H12"]), Some("H11"));
        assert_eq!(nearest("at", keys), None);
        assert_eq!(nearest(&"x".repeat(1_000_000), keys), None);
    }
}
