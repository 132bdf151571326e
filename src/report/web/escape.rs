//! Words of drawings and people as text of a page: never markup, never able to leave an attribute, no character that acts.

use crate::report::clean::{flowing, visible};

/// A text on one line.
pub(in crate::report) fn text(text: &str) -> String {
    escaped(&flowing(text))
}

/// A path: as it is, with what acts written out.
pub(in crate::report) fn path(path: &str) -> String {
    escaped(&visible(path))
}

/// Something of several lines, each for itself.
pub(in crate::report) fn lines(text: &str) -> Vec<String> {
    text.lines().map(self::text).filter(|line| !line.is_empty()).collect()
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_quotes_and_live_characters_are_text() {
        assert_eq!(
            text("<script>\"'&\u{202e}\n</script>"),
            "&lt;script&gt;&quot;&#39;&amp;\\u{202e} &lt;/script&gt;"
        );
        assert_eq!(path("a\n<b>.dxf"), "a\\n&lt;b&gt;.dxf");
        assert_eq!(lines("a\r\n\n<b"), ["a", "&lt;b"]);
    }
}
