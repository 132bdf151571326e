//! Names of the entries of an archive to places below it. Any bytes can be a name, so none is trusted.

/// Whether a name ends with `.` and this ending, in any letter case.
pub(super) fn ends_in(name: &str, ending: &str) -> bool {
    name.rsplit_once('.').is_some_and(|(_, its)| its.eq_ignore_ascii_case(ending))
}

/// Whether an entry is what a kind of system packs beside each file to keep its icon and marks, under the file's name with
/// `._` in front. It is no drawing.
pub(super) fn is_companion(name: &str) -> bool {
    name.strip_prefix("__MACOSX/")
        .and_then(|below| below.rsplit('/').next())
        .is_some_and(|n| n.starts_with("._"))
}

/// The place of an entry below its archive, with `/` and without `.`; none for a name that leads out of the archive, starts
/// at a root or a drive, or holds control characters. A backslash divides folders, as some programs that pack write it.
pub(super) fn of(name: &str) -> Option<String> {
    let name = name.replace('\\', "/");
    let parts: Vec<&str> = name.split('/').filter(|part| !matches!(*part, "" | ".")).collect();
    let drive = name.as_bytes().get(1) == Some(&b':');
    let unfit = name.starts_with('/') || drive || parts.contains(&"..") || name.contains(char::is_control);
    (!unfit && !parts.is_empty()).then(|| parts.join("/"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_below_its_archive() {
        for (name, place) in [
            ("lid.dxf", "lid.dxf"),
            ("./a//lid.dxf", "a/lid.dxf"),
            ("a\\b\\lid.dxf", "a/b/lid.dxf"),
            ("ä..b/..dxf", "ä..b/..dxf"),
        ] {
            assert_eq!(of(name).as_deref(), Some(place), "{name}");
        }
        for name in [
            "/etc/lid.dxf",
            "\\lid.dxf",
            "../lid.dxf",
            "a/../lid.dxf",
            "a\\..\\lid.dxf",
            "C:lid.dxf",
            "c:\\lid.dxf",
            "a\n.dxf",
            "\0.dxf",
            "",
            "./",
        ] {
            assert_eq!(of(name), None, "{name:?}");
        }
    }

    #[test]
    fn companions_are_told_from_drawings() {
        assert!(is_companion("__MACOSX/a/._lid.dxf"));
        assert!(!is_companion("__MACOSX/a/lid.dxf"));
        assert!(!is_companion("a/._lid.dxf"));
    }

    #[test]
    fn endings_in_any_letter_case() {
        assert!(ends_in("a/lid.DXF", "dxf") && !ends_in("dxf", "dxf") && !ends_in("lid.dxf.bak", "dxf"));
    }
}
