//! Tables of the page: headed, captioned where needed, wide ones in a frame of their own that scrolls, long ones cut with
//! a word that says how much is left out. A cell that shows a number carries it plain for the script that sorts.

use std::fmt::Write as _;

use super::numbers::{count, share};

/// A column: its name, and whether it holds numbers.
pub(super) type Head = (&'static str, bool);

/// A table in the making.
pub(super) struct Table {
    html: String,
    heads: Vec<&'static str>,
    /// Columns of the row so far.
    at: usize,
}

impl Table {
    /// Begins a table, named for those who cannot see where it stands.
    pub(super) fn begin(name: &str, class: &str, heads: &[Head]) -> Table {
        let mut html = format!(
            "<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"{name}\"><table class=\"sorts {class}\"><thead><tr>"
        );
        for (head, number) in heads {
            let class = if *number { " class=\"n\"" } else { "" };
            let _ = write!(html, "<th scope=\"col\"{class}>{head}</th>");
        }
        html.push_str("</tr></thead><tbody>\n");
        Table { html, heads: heads.iter().map(|head| head.0).collect(), at: 0 }
    }

    /// Begins a row with what it is about, as markup.
    pub(super) fn row(&mut self, about: &str) -> &mut Table {
        self.at = 0;
        let _ = write!(self.html, "<tr><th scope=\"row\">{about}</th>");
        self
    }

    /// Markup.
    pub(super) fn cell(&mut self, markup: &str) -> &mut Table {
        let head = self.next();
        let _ = write!(self.html, "<td data-h=\"{head}\">{markup}</td>");
        self
    }

    /// A count.
    pub(super) fn count(&mut self, number: u64) -> &mut Table {
        let head = self.next();
        let shown = count(number);
        let _ = write!(self.html, "<td class=\"n\" data-h=\"{head}\" data-v=\"{number}\">{shown}</td>");
        self
    }

    /// A number as it is said.
    pub(super) fn number(&mut self, value: f64, said: &str) -> &mut Table {
        let head = self.next();
        let _ = write!(self.html, "<td class=\"n\" data-h=\"{head}\" data-v=\"{value:.4}\">{said}</td>");
        self
    }

    /// A share.
    pub(super) fn share(&mut self, part: u64, whole: u64) -> &mut Table {
        let value = if whole == 0 { -1.0 } else { part as f64 / whole as f64 };
        self.number(value, &share(part, whole))
    }

    /// A bar of a count, as long as its part of the most that there is in the table.
    pub(super) fn bar(&mut self, number: u64, most: u64) -> &mut Table {
        self.next();
        let value = if most == 0 { 0.0 } else { number as f64 / most as f64 };
        let _ = write!(
            self.html,
            "<td class=\"b\" data-v=\"{value:.4}\"><svg class=\"bar\" viewBox=\"0 0 160 16\" aria-hidden=\"true\">\
             <rect class=\"f part\" x=\"0\" y=\"2\" width=\"{:.1}\" height=\"12\"/></svg></td>",
            value * 160.0
        );
        self
    }

    /// A bar that is markup, sorted by a number.
    pub(super) fn drawn(&mut self, value: f64, markup: &str) -> &mut Table {
        self.next();
        let _ = write!(self.html, "<td class=\"b\" data-v=\"{value:.4}\">{markup}</td>");
        self
    }

    /// The name of the next column, which a narrow page shows beside the cell.
    fn next(&mut self) -> &'static str {
        self.at += 1;
        self.heads.get(self.at).copied().unwrap_or_default()
    }

    /// Ends a row.
    pub(super) fn end_row(&mut self) {
        self.html.push_str("</tr>\n");
    }

    /// Ends the table.
    pub(super) fn end(mut self) -> String {
        self.html.push_str("</tbody></table></div>\n");
        self.html
    }
}

/// That a list goes on elsewhere.
pub(super) fn left_out(all: u64, most: usize, where_all: &str) -> String {
    match all.saturating_sub(most as u64) {
        0 => String::new(),
        more => format!("<p class=\"more\">{} more in {where_all}.</p>\n", count(more)),
    }
}
