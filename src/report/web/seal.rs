//! What a page's own style and script are recognised by, so that a browser runs and applies nothing else in it.

use sha2::{Digest, Sha256};

/// The policy of a page (Content Security Policy level 3): no network at all, these styles and this script only.
pub(super) fn policy(styles: &[&str], script: &str) -> String {
    let styles: Vec<String> = styles.iter().map(|style| format!("'sha256-{}'", digest(style))).collect();
    format!(
        "default-src 'none'; script-src 'sha256-{}'; style-src {}; base-uri 'none'; form-action 'none'",
        digest(script),
        styles.join(" ")
    )
}

fn digest(text: &str) -> String {
    base64(&Sha256::digest(text.as_bytes()))
}

/// RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::new();
    for three in bytes.chunks(3) {
        let all =
            three.iter().fold(0_usize, |all, byte| all << 8 | usize::from(*byte)) << (8 * (3 - three.len()));
        for nth in 0..4 {
            let letter = char::from(LETTERS[all >> (18 - 6 * nth) & 63]);
            out.push(if nth > three.len() { '=' } else { letter });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FIPS 180-4 example "abc" and RFC 4648 section 10.
    #[test]
    fn digests_are_those_of_the_standards() {
        let published = ["", "Zg==", "Zm8=", "Zm9v", "Zm9vYg==", "Zm9vYmE=", "Zm9vYmFy"];
        for (length, expected) in published.into_iter().enumerate() {
            assert_eq!(base64(&b"foobar"[..length]), expected);
        }
        let hex: String = Sha256::digest(b"abc").iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(hex, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}
