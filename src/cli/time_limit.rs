//! `--time-limit`: how long one drawing may take.

use std::time::Duration;

/// A limit of time; none for as long as it takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct TimeLimit(pub(super) Option<Duration>);

/// Longest limit that is believed (s): 30 days.
const LONGEST: f64 = 30.0 * 24.0 * 3600.0;

/// Reads a number with `ms`, `s`, `min` or `h`, or `0` or `none` for no limit.
pub(super) fn read(text: &str) -> Result<TimeLimit, String> {
    let wanted = "expected a duration such as 10s, 500ms or 2min, or none for no limit";
    if matches!(text.trim(), "0" | "none") {
        return Ok(TimeLimit(None));
    }
    let end = text.trim().find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.trim().len());
    let (number, unit) = text.trim().split_at(end);
    let number: f64 = number.parse().map_err(|_| wanted.to_owned())?;
    let seconds = match unit.trim() {
        "ms" => number / 1000.0,
        "s" => number,
        "min" => number * 60.0,
        "h" => number * 3600.0,
        "" => return Err(format!("'{text}' has no unit; write {text}s or {text}ms")),
        _ => return Err(wanted.to_owned()),
    };
    if seconds == 0.0 {
        return Ok(TimeLimit(None));
    }
    if !(0.001..=LONGEST).contains(&seconds) {
        return Err("expected 1ms to 720h, or none for no limit".to_owned());
    }
    Ok(TimeLimit(Some(Duration::from_secs_f64(seconds))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn durations_are_read_with_their_unit() {
        let millis = |text| read(text).map(|limit| limit.0.map(|limit| limit.as_millis()));
        assert_eq!(millis("10s"), Ok(Some(10_000)));
        assert_eq!(millis("500ms"), Ok(Some(500)));
        assert_eq!(millis("2min"), Ok(Some(120_000)));
        assert_eq!(millis("1.5 h"), Ok(Some(5_400_000)));
        for none in ["0", "none", "0s"] {
            assert_eq!(millis(none), Ok(None), "{none}");
        }
        for wrong in ["", "s", "-1s", "10", "10x", "1e3s", "1..2s", "0.1ms", "9999h", "inf", "NaNs"] {
            assert!(read(wrong).is_err(), "{wrong}");
        }
        assert!(read("10").is_err_and(|said| said.contains("10s")));
    }
}
