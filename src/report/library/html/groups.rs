//! Screw holes and drawings by a feature, as a table with a bar of verdicts in each row.

use super::table::{Table, left_out};
use super::verdicts::Counts;
use crate::library::Group;
use crate::report::library::features::Feature;
use crate::report::text::words;
use crate::report::web::escape;

/// Most rows of a table.
const MOST: usize = 100;

/// Name of a feature's section within the page.
fn id(feature: &Feature<'_>) -> String {
    format!("by-{}", feature.name.replace(' ', "-"))
}

/// The section of a feature. Folders stand in the order of their failures, all else as it comes.
pub(super) fn section(feature: &Feature<'_>, all_holes: u64) -> String {
    let mut html = format!("<h2 id=\"{}\">{}</h2>\n", id(feature), feature.title);
    if feature.groups.is_empty() {
        return html + "<p>There is no screw hole.</p>\n";
    }
    html.push_str(told(feature));
    let mut groups: Vec<&Group> = feature.groups.iter().collect();
    if feature.name == "folder" {
        let weight = |group: &Group| (group.sum.fail, group.sum.warn);
        groups.sort_by_key(|group| std::cmp::Reverse(weight(group)));
    }
    let mut heads = vec![
        (feature.head, false),
        ("Drawings", true),
        ("Screw holes", true),
        ("Share", true),
        ("Outside", true),
        ("Tight", true),
        ("Loose", true),
        ("Open", true),
        ("In band", true),
    ];
    if feature.of_drawings {
        heads.extend([("Fail", true), ("Warn", true)]);
    }
    heads.push(("Verdicts", false));
    let mut table = Table::begin(feature.title, "groups", &heads);
    for group in groups.iter().take(MOST) {
        row(&mut table, group, feature, all_holes);
    }
    html.push_str(&table.end());
    html + &left_out(groups.len() as u64, MOST, "the workbook and the JSON")
}

/// What must be known to read it.
fn told(feature: &Feature<'_>) -> &'static str {
    match feature.name {
        "folder" => "<p>The most failures first.</p>\n",
        "year" => "<p>The year that the drawing's header states, else that of the file.</p>\n",
        _ => "",
    }
}

fn row(table: &mut Table, group: &Group, feature: &Feature<'_>, all_holes: u64) {
    let holes = Counts::of(&group.sum);
    let about = match feature.name {
        "folder" => escape::path(&group.value),
        "material" => escape::text(&words::material(&group.value)),
        _ => escape::text(&group.value),
    };
    table
        .row(&about)
        .count(group.sum.drawings)
        .count(holes.all())
        .share(holes.all(), all_holes)
        .share(holes.outside(), holes.all())
        .count(holes.0[0])
        .count(holes.0[1])
        .count(holes.open())
        .count(holes.0[5]);
    if feature.of_drawings {
        table.count(group.sum.fail).count(group.sum.warn);
    }
    let outside = if holes.all() == 0 { 0.0 } else { holes.outside() as f64 / holes.all() as f64 };
    let bar = if holes.all() == 0 { "none".to_owned() } else { holes.bar(200.0, 18.0) };
    table.drawn(outside, &bar).end_row();
}
