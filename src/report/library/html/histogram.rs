//! How the engagement of the screw holes of a thread lies against its band, as a histogram. What is outside its band is
//! told by pattern and by words as well as by colour, and every number stands in a table below.

use std::fmt::Write as _;

use super::numbers::{count, counted, share, short};
use super::table::left_out;
use crate::library::{BIN_WIDTH, BINS, Engagement};
use crate::report::text::numbers::trimmed;
use crate::report::web::escape;

/// Most threads that are drawn: those of the most holes.
const MOST: usize = 12;

const WIDTH: f64 = 640.0;
const HEIGHT: f64 = 300.0;
/// Where the axes are.
const LEFT: f64 = 62.0;
const RIGHT: f64 = WIDTH - 10.0;
const TOP: f64 = 52.0;
const BOTTOM: f64 = HEIGHT - 52.0;

/// The histograms, and what tells their parts apart.
pub(super) fn section(engagement: &[Engagement]) -> String {
    let mut html = "<h2 id=\"engagement\">Engagement against the band</h2>\n".to_owned();
    if engagement.is_empty() {
        return html + "<p>Of no screw hole is the engagement known.</p>\n";
    }
    html.push_str(
        "<p>Each bar is 10 % of rolled engagement at the nominal size. Holes of one thread may have different bands, by metal \
         and thickness: the framed one reaches from the least to the greatest of their limits.</p>\n<p class=\"legend\">",
    );
    for (class, said) in
        [("outside", "outside its own band"), ("undetermined", "open"), ("within", "in its band")]
    {
        let _ = write!(
            html,
            "<span><svg class=\"swatch\" viewBox=\"0 0 28 18\" aria-hidden=\"true\"><rect class=\"f {class}\" x=\"1\" \
             y=\"1\" width=\"26\" height=\"16\"/></svg> {said}</span> "
        );
    }
    html.push_str("</p>\n<div class=\"histograms\">\n");
    for (nth, one) in engagement.iter().take(MOST).enumerate() {
        html.push_str(&figure(one, nth));
    }
    html.push_str("</div>\n");
    html + &left_out(engagement.len() as u64, MOST, "the workbook and the JSON, threads of fewer holes")
}

/// The histogram of a thread with its table; `nth` names it within the page.
fn figure(one: &Engagement, nth: usize) -> String {
    let (all, outside) = (one.holes.iter().sum::<u64>(), one.outside.iter().sum::<u64>());
    let thread = escape::text(&one.thread);
    let said = match outside {
        0 => "none outside its band".to_owned(),
        _ => format!("{} outside their band ({})", count(outside), share(outside, all)),
    };
    format!(
        "<figure class=\"histogram\"><figcaption><strong>{thread}</strong> {}, {said}</figcaption>\n{}\
         <details><summary>{thread} as a table</summary>\n{}</details></figure>\n",
        counted(all, "screw hole"),
        drawn(one, nth, &thread),
        table(one)
    )
}

fn x(percent: f64) -> f64 {
    LEFT + percent.clamp(0.0, BINS as f64 * BIN_WIDTH) / (BINS as f64 * BIN_WIDTH) * (RIGHT - LEFT)
}

fn drawn(one: &Engagement, nth: usize, thread: &str) -> String {
    let top = round_top(one.holes.iter().copied().max().unwrap_or(0));
    let y = |holes: u64| BOTTOM - holes as f64 / top as f64 * (BOTTOM - TOP);
    let mut svg = format!(
        "<svg viewBox=\"0 0 {WIDTH} {HEIGHT}\" role=\"img\" aria-labelledby=\"g{nth}-t g{nth}-d\">\
         <title id=\"g{nth}-t\">{thread}: screw holes by rolled engagement</title><desc id=\"g{nth}-d\">{}</desc>\n",
        described(one)
    );
    if let Some((min, max)) = one.bands {
        svg.push_str(&band(min, max));
    }
    for holes in [0, top / 2, top] {
        let (at, left) = (y(holes), LEFT - 6.0);
        let _ = writeln!(
            svg,
            "<path class=\"grid\" d=\"M{LEFT} {at:.1}H{RIGHT}\"/><text x=\"{left}\" y=\"{:.1}\" text-anchor=\"end\">{}</text>",
            at + 5.0,
            short(holes)
        );
    }
    for bin in 0..BINS {
        svg.push_str(&bar(one, bin, &y));
    }
    svg.push_str(&scale());
    svg.push_str("</svg>\n");
    svg
}

/// The frame of the band, from below the bars to above them.
fn band(min: f64, max: f64) -> String {
    let (from, to, above) = (x(min), x(max), TOP - 30.0);
    let middle = f64::midpoint(from, to).clamp(LEFT + 70.0, RIGHT - 70.0);
    format!(
        "<rect class=\"band\" x=\"{from:.1}\" y=\"{above}\" width=\"{:.1}\" height=\"{}\"/>\
         <text class=\"band\" x=\"{middle:.1}\" y=\"16\" text-anchor=\"middle\">band {} to {} %</text>\n",
        (to - from).max(1.0),
        BOTTOM - above,
        trimmed(min, 1),
        trimmed(max, 1)
    )
}

/// The percentages below, and which side is which.
fn scale() -> String {
    let mut svg = String::new();
    for percent in (0..=200).step_by(20) {
        let plus = if percent == 200 { "+" } else { "" };
        let (at, low) = (x(f64::from(percent)).min(RIGHT - 12.0), BOTTOM + 19.0);
        let _ = write!(svg, "<text x=\"{at:.1}\" y=\"{low}\" text-anchor=\"middle\">{percent}{plus}</text>");
    }
    let (middle, low) = (f64::midpoint(LEFT, RIGHT), HEIGHT - 8.0);
    let _ = write!(
        svg,
        "\n<text x=\"{middle}\" y=\"{low}\" text-anchor=\"middle\">rolled engagement (%)</text>\
         <text class=\"side\" x=\"{LEFT}\" y=\"{low}\">loose</text>\
         <text class=\"side\" x=\"{RIGHT}\" y=\"{low}\" text-anchor=\"end\">tight</text>"
    );
    svg
}

/// What lies in a bin: in band below, then what is open, then what is outside.
fn bar(one: &Engagement, bin: usize, y: &impl Fn(u64) -> f64) -> String {
    let all = one.holes[bin];
    if all == 0 {
        return String::new();
    }
    let (within, outside) = (one.in_band[bin], one.outside[bin]);
    let from = x(bin as f64 * BIN_WIDTH) + 1.0;
    let wide = x(BIN_WIDTH) - LEFT - 2.0;
    let parts =
        [("within", 0, within), ("undetermined", within, all - outside), ("outside", all - outside, all)];
    let mut svg = String::new();
    for (class, low, high) in parts.into_iter().filter(|(_, low, high)| low < high) {
        let (bottom, top) = (y(low), y(high));
        // Few holes among many are still seen.
        let tall = (bottom - top).max(1.5);
        let _ = write!(
            svg,
            "<rect class=\"f {class}\" x=\"{from:.1}\" y=\"{:.1}\" width=\"{wide:.1}\" height=\"{tall:.1}\"/>",
            bottom - tall
        );
    }
    let _ = writeln!(
        svg,
        "<text class=\"over\" x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"middle\">{}</text>",
        from + wide / 2.0,
        y(all).min(BOTTOM - 1.5) - 4.0,
        short(all)
    );
    svg
}

/// What the histogram shows, in words.
fn described(one: &Engagement) -> String {
    let most = (0..BINS).max_by_key(|bin| (one.holes[*bin], BINS - bin)).unwrap_or(0);
    let band = match one.bands {
        Some((min, max)) => format!("The band is {} to {} %.", trimmed(min, 1), trimmed(max, 1)),
        None => "No band is known.".to_owned(),
    };
    format!("{band} The most holes, {}, lie at {}.", count(one.holes[most]), range(most))
}

/// `150 to 160 %`.
fn range(bin: usize) -> String {
    let from = bin as f64 * BIN_WIDTH;
    if bin + 1 == BINS { format!("{from} % and more") } else { format!("{from} to {} %", from + BIN_WIDTH) }
}

fn table(one: &Engagement) -> String {
    let mut html = "<table class=\"bins\"><thead><tr><th scope=\"col\">Rolled engagement</th><th scope=\"col\" class=\"n\">Screw holes</th>\
                    <th scope=\"col\" class=\"n\">Outside their band</th><th scope=\"col\" class=\"n\">Open</th>\
                    <th scope=\"col\" class=\"n\">In band</th></tr></thead><tbody>\n"
        .to_owned();
    for bin in (0..BINS).filter(|bin| one.holes[*bin] > 0) {
        let (all, outside, within) = (one.holes[bin], one.outside[bin], one.in_band[bin]);
        let counts = [all, outside, all - outside - within, within];
        let cells: String = counts.iter().map(|c| format!("<td class=\"n\">{}</td>", count(*c))).collect();
        let _ = writeln!(html, "<tr><th scope=\"row\">{}</th>{cells}</tr>", range(bin));
    }
    html.push_str("</tbody></table>\n");
    html
}

/// The end of the scale: 2, 4, 6, 8, 10, 20, 40 … so that its half is a whole number.
fn round_top(most: u64) -> u64 {
    let mut ten = 1;
    loop {
        for step in [2, 4, 6, 8, 10] {
            if most <= u64::saturating_mul(step, ten) {
                return step * ten;
            }
        }
        ten *= 10;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scales_end_above_the_most() {
        assert_eq!(
            [0, 2, 3, 5, 11, 41, 1001, 1_999_999].map(round_top),
            [2, 2, 4, 6, 20, 60, 2000, 2_000_000]
        );
    }

    /// 1 of 1 000 000 holes is drawn high enough to be seen, and never above the axis' end.
    #[test]
    fn few_holes_among_many_are_seen() {
        let mut one = Engagement {
            thread: "M4".to_owned(),
            holes: [0; BINS],
            outside: [0; BINS],
            in_band: [0; BINS],
            bands: None,
        };
        (one.holes[8], one.in_band[8], one.holes[15], one.outside[15]) = (1_000_000, 1_000_000, 1, 1);
        let svg = figure(&one, 0);
        assert!(svg.contains("class=\"f outside\"") && svg.contains("height=\"1.5\""), "{svg}");
        assert!(svg.contains("1 outside their band (below 0.1 %)"), "{svg}");
        assert!(svg.contains("No band is known."));
    }
}
