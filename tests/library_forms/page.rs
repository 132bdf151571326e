//! The page for an auditor.

use std::collections::HashSet;

use boreband::ledger::Entry;
use boreband::report::clean;
use quick_xml::events::Event;

use super::sample::{Library, entries, hostile};
use super::{HOSTILE, PAGE, golden, text};

/// An element with its attributes.
type Element = (String, Vec<(String, String)>);

/// Every element of a page without its styles and script, which are no XML; fails if it is not well-formed.
fn elements(page: &str) -> Vec<Element> {
    let mut xml = page.strip_prefix("<!DOCTYPE html>\n").unwrap().to_owned();
    for (start, end) in [("<style>", "</style>"), ("<style>", "</style>"), ("<script>", "</script>")] {
        let (before, rest) = xml.split_once(start).unwrap();
        xml = format!("{before}{}", rest.split_once(end).unwrap().1);
    }
    let mut reader = quick_xml::Reader::from_str(&xml);
    reader.config_mut().check_end_names = true;
    let mut found = Vec::new();
    loop {
        match reader.read_event().unwrap() {
            Event::Start(e) | Event::Empty(e) => {
                let attributes = e.attributes().map(|a| {
                    let a = a.unwrap();
                    let value = a.normalized_value(quick_xml::XmlVersion::Implicit1_0).unwrap();
                    (a.key.as_ref().to_owned(), value.into_owned())
                });
                found.push((e.name().as_ref().to_owned(), attributes.collect()));
            }
            Event::Eof => return found,
            _ => {}
        }
    }
}

fn values<'a>(elements: &'a [Element], name: &'a str) -> impl Iterator<Item = &'a str> {
    elements.iter().flat_map(|e| &e.1).filter(move |(key, _)| key == name).map(|(_, value)| value.as_str())
}

#[test]
fn page_of_a_library() {
    let page = text(&entries(), PAGE);
    let (head, body) = page.split_once("</head>").unwrap();
    assert!(head.contains("default-src 'none'") && head.matches("'sha256-").count() == 3, "{head}");
    let body = body.split_once("<footer>").unwrap().0.replace(env!("CARGO_PKG_VERSION"), "VERSION");
    golden("library.html", &body);
}

/// More folders, duplicates, unread drawings and worst drawings than a page lists.
fn large() -> Vec<Entry> {
    let mut all = Vec::new();
    for nth in 0..150 {
        for (at, mut entry) in entries().into_iter().enumerate() {
            entry.path = format!("{nth:03}/{}", entry.path);
            // What was a copy stays one; all else differs from the others.
            let content = if at == 0 || at == 2 { 2 } else { at };
            entry.digest = format!("blake3:{:064x}", nth * 10 + content);
            all.push(entry);
        }
    }
    all
}

#[test]
fn what_a_list_leaves_out_is_counted() {
    let page = text(&large(), PAGE);
    // By hand: four of six drawings do harm, two are not read whole, one is a copy; four folders; all 150 times.
    for said in [
        "500 more in the CSV and the workbook, which",
        "200 more in the CSV and the workbook.",
        "50 more in the CSV and the workbook.",
        "500 more in the workbook and the JSON.",
    ] {
        assert!(page.contains(said), "{said}");
    }
    let listed = page.split_once("id=\"duplicates\"").unwrap().1.matches("<tr>").count();
    assert_eq!(listed, 100 + 1, "the rows and their head");
}

#[test]
fn links_lead_to_what_is_there() {
    for all in [entries(), large()] {
        let elements = elements(&text(&all, PAGE));
        let ids: Vec<&str> = values(&elements, "id").collect();
        let known: HashSet<&str> = ids.iter().copied().collect();
        assert_eq!(known.len(), ids.len(), "a name stands twice");
        let mut links = 0;
        for link in values(&elements, "href") {
            let name = link.strip_prefix('#').unwrap_or_else(|| panic!("{link} leaves the page"));
            assert!(known.contains(name), "{link} leads nowhere");
            links += 1;
        }
        assert!(links > 15);
        for name in values(&elements, "aria-labelledby").flat_map(|names| names.split(' ')) {
            assert!(known.contains(name), "{name} labels nothing");
        }
    }
}

#[test]
fn sums_of_the_page_are_those_of_the_picture() {
    let t = Library::of(&entries()).picture.totals;
    let page = text(&entries(), PAGE);
    for said in [
        "<b>6</b> checked, 1 duplicate not counted".to_owned(),
        "<b>4</b> of 6 drawings, 67 %".to_owned(),
        format!("<b>{}</b> of {} screw holes, 42 %", t.tight + t.loose, t.screw_holes),
        format!("<b>{}</b> of {} screw holes, 33 %", t.straddles + t.undetermined, t.screw_holes),
        format!("{} fail, {} warn, {} note, {} waived", t.fail, t.warn, t.note, t.waived),
        "4 tight, 1 loose, 2 straddles, 2 undetermined, 3 in band".to_owned(),
    ] {
        assert!(page.contains(&said), "{said}");
    }
    // The cells of the tables by feature, by the name of their column, add up to the same.
    let sections = page.split("<h2 ").filter(|section| section.starts_with("id=\"by-"));
    let mut seen = 0;
    for section in sections {
        let sum = |head: &str| -> u64 {
            let before = format!("data-h=\"{head}\" data-v=\"");
            let cells = section.split(before.as_str()).skip(1);
            cells.map(|cell| cell.split_once('"').unwrap().0.parse::<u64>().unwrap()).sum()
        };
        assert_eq!(sum("Screw holes"), t.screw_holes, "{section}");
        assert_eq!((sum("Tight"), sum("Loose"), sum("In band")), (t.tight, t.loose, t.in_band));
        assert_eq!(sum("Open"), t.straddles + t.undetermined);
        seen += 1;
    }
    assert_eq!(seen, 6);
}

#[test]
fn an_open_hole_never_stands_with_those_in_band() {
    let page = text(&entries(), PAGE);
    // M4 by hand: 3 in band at 90 %, 2 straddle at 95 %, 4 are outside at 154 %.
    let m4 = page.split_once("M4 as a table").unwrap().1.split_once("</table>").unwrap().0;
    let row = |range: &str| m4.split_once(range).unwrap().1.split_once("</tr>").unwrap().0.to_owned();
    let cells = |counts: [u64; 4]| counts.map(|n| format!("<td class=\"n\">{n}</td>")).concat();
    assert_eq!(row("90 to 100 %</th>"), cells([5, 0, 2, 3]), "all, outside, open, in band");
    assert_eq!(row("150 to 160 %</th>"), cells([4, 4, 0, 0]));
    assert!(page.contains("band 80 to 98 %"));
}

#[test]
fn nothing_of_a_drawing_is_live_in_the_page() {
    let page = text(&hostile(HOSTILE), PAGE);
    let live: Vec<char> = page.chars().filter(|c| clean::is_live(*c) && *c != '\n').collect();
    assert!(live.is_empty(), "{live:?}");
    assert_eq!((page.matches("<script").count(), page.matches("</script").count()), (1, 1));
    assert!(!page.contains("<!--"));
    let elements = elements(&page);
    assert!(elements.iter().all(|e| e.0 != "img"));
    for (key, _) in elements.iter().flat_map(|e| &e.1) {
        assert!(!key.starts_with("on") && key != "src" && key != "style", "{key}");
    }
    assert!(page.contains("&lt;script&gt;alert(1)"), "it is shown");
}

#[test]
fn a_page_without_drawings_is_whole_and_passes_nothing() {
    let page = text(&[], PAGE);
    assert!(page.contains("No screw hole was checked") && page.ends_with("</html>\n"));
    assert!(elements(&page).len() > 20);
}
