//! What a policy sets over the trade, named one by one, for reports that show it as the user's.

use super::{GuideHoles, Origin, Practice};

/// What a file sets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Overrides {
    /// The file, as reports write it.
    pub file: String,
    /// Each thing that it sets, in words: `limit blind-clearance 2 pitches`, `3 drills`.
    pub sets: Vec<String>,
    /// Whether it lists the drills that the shop keeps.
    pub drills: bool,
}

impl Practice {
    /// What a policy sets of this, besides the joint tests that it asks for; none if it sets nothing.
    pub fn overrides(&self) -> Option<Overrides> {
        let mut sets: Vec<(String, &Origin)> = self
            .limits
            .own()
            .map(|(limit, value, origin)| {
                (format!("limit {} {value} {}", limit.name(), limit.row().unit.name()), origin)
            })
            .collect();
        let count = |count: usize, one: &str| format!("{count} {one}{}", if count == 1 { "" } else { "s" });
        if let Some(first) = self.bands.first() {
            sets.push((count(self.bands.len(), "band"), &first.origin));
        }
        for (stock, one) in [(&self.drills, "drill"), (&self.punches, "punch")] {
            if let Some(stock) = stock {
                let several = if one == "punch" { "punches" } else { "drills" };
                let number = stock.sizes.len();
                let word = if number == 1 { one } else { several };
                sets.push((format!("{number} {word}"), &stock.origin));
            }
        }
        if let Some((what, origin)) = &self.guide_holes {
            let word = if *what == GuideHoles::Accept { "accepted" } else { "judged as any hole" };
            sets.push((format!("guide holes {word}"), origin));
        }
        if let Some(first) = self.capability.first() {
            let processes: Vec<&str> = self.capability.iter().map(|row| row.process.name()).collect();
            sets.push((format!("capability of {}", processes.join(", ")), &first.origin));
        }
        let file = sets.iter().find_map(|(_, origin)| match origin {
            Origin::File { file, .. } => Some(file.clone()),
            Origin::Default { .. } => None,
        })?;
        let sets = sets.into_iter().map(|(what, _)| what).collect();
        Some(Overrides { file, sets, drills: self.drills.is_some() })
    }
}
