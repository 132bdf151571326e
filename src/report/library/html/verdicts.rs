//! Shares of verdicts as a bar: each verdict has a pattern of its own, so that no colour need be told from another.

use std::fmt::Write as _;

use super::numbers::{count, share};
use crate::check::Totals;
use crate::library::Sum;

/// Holes by verdict, in the order of [`VERDICTS`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Counts(pub(super) [u64; 6]);

/// A verdict as it is shown.
struct Verdict {
    class: &'static str,
    said: &'static str,
    meaning: &'static str,
}

/// The worst first. Holes that nothing is known of are no part of those in band.
const VERDICTS: [Verdict; 6] = [
    Verdict { class: "tight", said: "tight", meaning: "too small: the screw is hard to drive and may break" },
    Verdict { class: "loose", said: "loose", meaning: "too large: too little thread, which strips" },
    Verdict {
        class: "straddles",
        said: "straddles",
        meaning: "its tolerance leaves the band on one side or both",
    },
    Verdict { class: "undetermined", said: "undetermined", meaning: "something that decides is not stated" },
    Verdict { class: "unjudged", said: "not judged", meaning: "no band or no size is known" },
    Verdict { class: "within", said: "in band", meaning: "its whole tolerance lies in the band" },
];

/// Width of a letter of a name below the bar.
const LETTER: f64 = 8.0;

impl Counts {
    pub(super) fn of(sum: &Sum) -> Counts {
        let Sum { tight, loose, straddles, undetermined, in_band, screw_holes, .. } = *sum;
        Counts::from([tight, loose, straddles, undetermined], in_band, screw_holes)
    }

    pub(super) fn of_all(totals: &Totals) -> Counts {
        let Totals { tight, loose, straddles, undetermined, in_band, screw_holes, .. } = *totals;
        Counts::from([tight, loose, straddles, undetermined], in_band, screw_holes)
    }

    fn from([tight, loose, straddles, undetermined]: [u64; 4], in_band: u64, all: u64) -> Counts {
        let judged = tight + loose + straddles + undetermined + in_band;
        Counts([tight, loose, straddles, undetermined, all.saturating_sub(judged), in_band])
    }

    /// Those outside their band.
    pub(super) fn outside(&self) -> u64 {
        self.0[0] + self.0[1]
    }

    /// Those that are not known to be right, and not known to be wrong.
    pub(super) fn open(&self) -> u64 {
        self.0[2] + self.0[3] + self.0[4]
    }

    pub(super) fn all(&self) -> u64 {
        self.0.iter().sum()
    }

    /// `12 tight, 3 in band`.
    fn said(&self) -> String {
        let parts = VERDICTS.iter().zip(self.0).filter(|(_, holes)| *holes > 0);
        let parts: Vec<String> =
            parts.map(|(verdict, holes)| format!("{} {}", count(holes), verdict.said)).collect();
        if parts.is_empty() { "no screw hole".to_owned() } else { parts.join(", ") }
    }

    /// The bar, as wide as `width` units and as high as `height`.
    pub(super) fn bar(&self, width: f64, height: f64) -> String {
        format!(
            "<svg class=\"shares\" viewBox=\"0 0 {width} {height}\" role=\"img\" aria-label=\"{}\">{}</svg>",
            self.said(),
            self.segments(width, height)
        )
    }

    fn segments(&self, width: f64, height: f64) -> String {
        let mut svg = String::new();
        for (verdict, _, from, wide) in self.parts(width) {
            let _ = write!(
                svg,
                "<rect class=\"f {}\" x=\"{from:.2}\" y=\"1\" width=\"{wide:.2}\" height=\"{}\"/>",
                verdict.class,
                height - 2.0
            );
        }
        svg
    }

    /// Verdicts that some holes have, with the holes, and where they stand in a bar: from where, and how wide.
    fn parts(&self, width: f64) -> Vec<(&'static Verdict, u64, f64, f64)> {
        let mut from = 0.0;
        let mut parts = Vec::new();
        for (verdict, holes) in VERDICTS.iter().zip(self.0).filter(|(_, holes)| *holes > 0) {
            let wide = holes as f64 / self.all() as f64 * width;
            parts.push((verdict, holes, from, wide));
            from += wide;
        }
        parts
    }

    /// The bar with the name and share of each part below it. Names that would run into the next one stand lower.
    fn named_bar(&self) -> String {
        const WIDTH: f64 = 1000.0;
        const HEIGHT: f64 = 46.0;
        let mut names = String::new();
        // Where the last name of each line begins, from the right: a name ends before all names of its own line and
        // before the leaders that go down to lower ones.
        let mut begun: Vec<f64> = Vec::new();
        for (verdict, holes, from, _) in self.parts(WIDTH).into_iter().rev() {
            let name = format!("{} {}", verdict.said, share(holes, self.all()));
            let wide = name.chars().count() as f64 * LETTER + 12.0;
            let at = from.min(WIDTH - wide);
            let fits = |line: &usize| begun[*line..].iter().all(|begin| at + wide <= *begin);
            let line = (0..begun.len()).find(fits).unwrap_or(begun.len());
            match begun.get_mut(line) {
                Some(begin) => *begin = at,
                None => begun.push(at),
            }
            let low = HEIGHT + 18.0 + line as f64 * 20.0;
            let _ = write!(
                names,
                "<path class=\"grid\" d=\"M{:.1} {HEIGHT}V{low}\"/><text x=\"{:.1}\" y=\"{low}\">{name}</text>",
                from + 1.0,
                at + 6.0
            );
        }
        let all = HEIGHT + 6.0 + begun.len() as f64 * 20.0;
        format!(
            "<svg class=\"shares\" viewBox=\"0 0 {WIDTH} {all}\" role=\"img\" aria-label=\"{}\">{}{names}</svg>",
            self.said(),
            self.segments(WIDTH, HEIGHT)
        )
    }
}

/// The verdicts of the whole library as a bar, with a legend that is a table.
pub(super) fn section(totals: &Totals) -> String {
    let counts = Counts::of_all(totals);
    let mut html = "<h2 id=\"verdicts\">Screw holes by verdict</h2>\n".to_owned();
    if counts.all() == 0 {
        return html + "<p>There is no screw hole.</p>\n";
    }
    let _ = writeln!(html, "<div class=\"whole\">{}</div>", counts.named_bar());
    html.push_str(
        "<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"Verdicts\"><table class=\"verdicts\"><thead><tr>\
         <th scope=\"col\">Verdict</th><th scope=\"col\" class=\"n\">Screw holes</th>\
         <th scope=\"col\" class=\"n\">Share</th></tr></thead><tbody>\n",
    );
    for (verdict, holes) in VERDICTS.iter().zip(counts.0) {
        let _ = writeln!(
            html,
            "<tr><th scope=\"row\"><svg class=\"swatch\" viewBox=\"0 0 28 18\" aria-hidden=\"true\">\
             <rect class=\"f {}\" x=\"1\" y=\"1\" width=\"26\" height=\"16\"/></svg> {} \
             <small>{}</small></th><td class=\"n\">{}</td><td class=\"n\">{}</td></tr>",
            verdict.class,
            verdict.said,
            verdict.meaning,
            count(holes),
            share(holes, counts.all())
        );
    }
    html.push_str("</tbody></table></div>\n");
    html
}

/// The patterns that bars are filled with.
pub(super) fn patterns() -> &'static str {
    "<svg class=\"patterns\" width=\"0\" height=\"0\" aria-hidden=\"true\"><defs>\n\
     <pattern id=\"p-loose\" width=\"7\" height=\"7\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">\
     <rect width=\"7\" height=\"7\" class=\"ground\"/><rect width=\"3.4\" height=\"7\" class=\"loose-line\"/></pattern>\n\
     <pattern id=\"p-straddles\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\">\
     <rect width=\"6\" height=\"6\" class=\"ground\"/><rect width=\"6\" height=\"2.4\" class=\"straddles-line\"/></pattern>\n\
     <pattern id=\"p-undetermined\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\">\
     <rect width=\"6\" height=\"6\" class=\"ground\"/><circle cx=\"3\" cy=\"3\" r=\"1.6\" class=\"undetermined-dot\"/></pattern>\n\
     <pattern id=\"p-outside\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\">\
     <rect width=\"6\" height=\"6\" class=\"ground\"/><rect width=\"4\" height=\"6\" class=\"outside-line\"/></pattern>\n\
     </defs></svg>\n"
}
