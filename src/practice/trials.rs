//! Which holes a shop asks a joint test for.

use globset::GlobBuilder;

use super::Origin;
use crate::trade::{Material, Thread};

/// A demand for trial records. What it leaves open holds for all.
#[derive(Debug, Clone, PartialEq)]
pub struct RequiredTrial {
    /// Pattern of paths of drawings, such as `castings/**`; it may begin at any folder.
    pub drawing: Option<String>,
    /// Materials.
    pub materials: Vec<Material>,
    /// Threads.
    pub threads: Vec<Thread>,
    /// Who asks.
    pub origin: Origin,
}

impl RequiredTrial {
    /// Whether a test is asked for of a screw hole. An unknown material may be any of those named.
    pub fn asks(&self, path: &str, thread: &Thread, material: Option<Material>) -> bool {
        let of_path = self.drawing.as_deref().is_none_or(|pattern| matches(pattern, path));
        let of_material =
            self.materials.is_empty() || material.is_none_or(|material| self.materials.contains(&material));
        let same = |other: &Thread| other.major == thread.major && other.pitch == thread.pitch;
        let of_thread = self.threads.is_empty() || self.threads.iter().any(same);
        of_path && of_material && of_thread
    }
}

/// Whether a text can be a pattern of drawings.
///
/// # Errors
/// What is wrong with it, in words.
pub fn check_pattern(pattern: &str) -> Result<(), String> {
    GlobBuilder::new(pattern).literal_separator(true).build().map(|_| ()).map_err(|e| e.kind().to_string())
}

/// Whether a path, or its end from some folder on, is as the pattern says.
pub(super) fn matches(pattern: &str, path: &str) -> bool {
    let whole = format!("**/{}", pattern.trim_start_matches("./").trim_start_matches('/'));
    let glob = GlobBuilder::new(&whole).literal_separator(true).build();
    glob.is_ok_and(|glob| glob.compile_matcher().is_match(path.trim_start_matches("./")))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn required(drawing: Option<&str>, materials: &[Material], threads: &[&str]) -> RequiredTrial {
        RequiredTrial {
            drawing: drawing.map(str::to_owned),
            materials: materials.to_vec(),
            threads: threads.iter().map(|t| Thread::parse(t).unwrap()).collect(),
            origin: Origin::File { file: "boreband.json".to_owned(), pointer: "/trials/0".to_owned() },
        }
    }

    #[test]
    fn a_demand_is_for_what_it_names() {
        let m4 = Thread::parse("M4").unwrap();
        let zinc = Some(Material::ZincDieCast);
        let asks = |r: RequiredTrial, path: &str, material| r.asks(path, &m4, material);
        assert!(asks(required(None, &[], &[]), "lid.dxf", None));
        assert!(asks(required(Some("castings/*.dxf"), &[], &[]), "work/castings/lid.dxf", zinc));
        assert!(asks(required(Some("castings/**"), &[], &[]), "castings/a/lid.dxf", zinc));
        assert!(!asks(required(Some("castings/*.dxf"), &[], &[]), "sheet/lid.dxf", zinc));
        assert!(!asks(required(None, &[Material::Brass], &[]), "lid.dxf", zinc));
        assert!(asks(required(None, &[Material::Brass], &[]), "lid.dxf", None), "it may be of brass");
        assert!(asks(required(None, &[], &["M5", "M4x0.7"]), "lid.dxf", zinc));
        assert!(!asks(required(None, &[], &["M5"]), "lid.dxf", zinc));
        assert!(check_pattern("a/[b").is_err() && check_pattern("a/**/b.dxf").is_ok());
    }
}
