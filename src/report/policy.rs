//! The policy that holds, value by value, with where each came from: text and JSON. Decides nothing.

use std::io::{self, Write};

use serde::Serialize;
use serde_json::{Value, json};

use super::clean::flowing;
use super::page::{Page, Tone};
use crate::practice::{BandRow, Origin, Stock, ground_rows, limit_rows};
use crate::rules::RULES;
use crate::settings::{FIXED_RULES, Policy};
use crate::trade::{BandOf, Status, band_rows};
use crate::units::Length;

/// A policy and the drawings that it governs.
#[derive(Debug, Clone)]
pub struct Governed<'a> {
    /// The policy.
    pub policy: &'a Policy,
    /// Paths of its drawings, as reports write them.
    pub drawings: Vec<String>,
}

/// All policies, in the shape of the JSON form.
#[derive(Debug, Serialize)]
struct Form {
    /// Version of this format: 1.
    format: u32,
    policies: Vec<Effective>,
}

#[derive(Debug, Serialize)]
struct Effective {
    file: Option<String>,
    drawings: Vec<String>,
    values: Vec<Setting>,
}

/// One value.
#[derive(Debug, Serialize)]
struct Setting {
    /// Section of the policy.
    section: &'static str,
    /// Name in it.
    name: String,
    value: Value,
    unit: Option<&'static str>,
    /// What it means, where the name does not say it.
    meaning: Option<String>,
    /// `default` or `policy`.
    from: &'static str,
    /// JSON pointer in the policy's file.
    pointer: Option<String>,
    /// Where a default comes from.
    source: Option<String>,
    /// How well a default is founded.
    status: Option<&'static str>,
    /// The value for people.
    #[serde(skip)]
    shown: String,
}

/// Writes policies as JSON.
///
/// # Errors
/// Those of the writer.
pub fn write_json(policies: &[Governed<'_>], out: &mut dyn Write) -> io::Result<()> {
    super::json::write(&form(policies), out)
}

/// Writes policies for a terminal.
///
/// # Errors
/// Those of the writer.
pub fn write_text(
    policies: &[Governed<'_>],
    width: usize,
    colour: bool,
    out: &mut dyn Write,
) -> io::Result<()> {
    let mut page = Page::new(out, width, colour);
    for (index, policy) in form(policies).policies.iter().enumerate() {
        if index > 0 {
            page.blank()?;
        }
        let count = policy.drawings.len();
        let drawings = format!("{count} drawing{}", if count == 1 { "" } else { "s" });
        page.split(policy.file.as_deref().unwrap_or("no policy file: defaults"), &drawings)?;
        text(policy, &mut page)?;
    }
    Ok(())
}

fn text(policy: &Effective, page: &mut Page<'_>) -> io::Result<()> {
    let mut sections: Vec<&str> = policy.values.iter().map(|s| s.section).collect();
    sections.dedup();
    for section in sections {
        page.blank()?;
        page.labelled(2, (Tone::Strong, section), 2, "")?;
        let of_section: Vec<&Setting> = policy.values.iter().filter(|s| s.section == section).collect();
        let row =
            |s: &&Setting| [&s.name, &s.shown, &s.origin()].map(|text| flowing(text).into_owned()).to_vec();
        page.table(4, &of_section.iter().map(row).collect::<Vec<_>>())?;
        let mut told: Vec<&str> = Vec::new();
        for source in of_section.iter().filter_map(|s| s.source.as_deref()) {
            if !matches!(section, "limits" | "conversion") && !told.contains(&source) {
                told.push(source);
                page.prose(4, &format!("source: {}", flowing(source)))?;
            }
        }
    }
    Ok(())
}

impl Setting {
    fn new(
        section: &'static str,
        name: impl Into<String>,
        value: Value,
        shown: String,
        origin: &Origin,
    ) -> Setting {
        let (from, pointer, source, status) = match origin {
            Origin::Default { source, status } => {
                ("default", None, (!source.is_empty()).then(|| source.clone()), Some(status.name()))
            }
            Origin::File { pointer, .. } => ("policy", Some(pointer.clone()), None, None),
        };
        let (name, unit, meaning) = (name.into(), None, None);
        Setting { section, name, value, unit, meaning, from, pointer, source, status, shown }
    }

    /// Where it comes from, in words.
    fn origin(&self) -> String {
        match (&self.pointer, &self.source) {
            (Some(pointer), _) => format!("policy {pointer}"),
            (None, Some(source)) if self.section == "limits" => {
                format!("default: {source} ({})", self.status.unwrap_or_default().replace('_', " "))
            }
            (None, _) => "default".to_owned(),
        }
    }
}

fn form(policies: &[Governed<'_>]) -> Form {
    let policies = policies.iter().map(|governed| Effective {
        file: governed.policy.file.clone(),
        drawings: governed.drawings.clone(),
        values: settings(governed.policy),
    });
    Form { format: 1, policies: policies.collect() }
}

fn settings(policy: &Policy) -> Vec<Setting> {
    let mut all = levels(policy);
    all.extend(limits(policy));
    all.extend(policy.practice.bands.iter().map(own_band));
    all.extend(band_rows().iter().map(trade_band));
    let practice = &policy.practice;
    all.push(stock("drills", practice.drills.as_ref(), "every drill of the tables"));
    all.push(stock("punches", practice.punches.as_ref(), "steps of 0.05 mm or .001 in"));
    let origin =
        practice.guide_holes.as_ref().map_or_else(|| own(Status::CommonPractice), |(_, o)| o.clone());
    let word = if practice.accepts_guide_holes() { "accept" } else { "judge" };
    all.push(Setting::new("guide_holes", "guide_holes", json!(word), word.to_owned(), &origin));
    all.extend(capability(policy));
    all.extend(trials(policy));
    all.extend(grounds(policy));
    all.extend(costs(policy));
    let word = |(word, origin): &(crate::callout::UserWord, Origin)| {
        Setting::new("words", word.word.clone(), json!(word.meaning), word.meaning.clone(), origin)
    };
    all.extend(policy.words.iter().map(word));
    all
}

/// The origin of what is this program's own rule.
fn own(status: Status) -> Origin {
    Origin::Default { source: String::new(), status }
}

fn levels(policy: &Policy) -> Vec<Setting> {
    let row = |rule: &crate::rules::Rule| {
        let set = policy.levels.get(rule.name).filter(|_| !FIXED_RULES.contains(&rule.name));
        let level = set.map_or(rule.level.name(), |level| level.map_or("off", |level| level.name()));
        let origin = match (set, &policy.file) {
            (Some(_), Some(file)) => {
                Origin::File { file: file.clone(), pointer: format!("/levels/{}", rule.name) }
            }
            _ => own(Status::CommonPractice),
        };
        let mut setting = Setting::new("levels", rule.name, json!(level), level.to_owned(), &origin);
        setting.status = None;
        setting
    };
    RULES.iter().map(row).collect()
}

fn limits(policy: &Policy) -> Vec<Setting> {
    let limits = &policy.practice.limits;
    let row = |row: &crate::practice::LimitRow| {
        let value = limits.value(row.limit);
        let shown = format!("{value} {}", row.unit.name());
        let origin = limits.origin(row.limit);
        let mut setting = Setting::new("limits", row.limit.name(), json!(value), shown, &origin);
        (setting.unit, setting.meaning) = (Some(row.unit.name()), Some(row.meaning.clone()));
        setting
    };
    limit_rows().iter().map(row).collect()
}

/// What follows from each ground that decides about a tapped hole.
fn grounds(policy: &Policy) -> Vec<Setting> {
    let grounds = &policy.practice.grounds;
    let row = |row: &crate::practice::GroundRow| {
        let answer = grounds.answer(row.ground).name();
        let set = grounds.own().find(|(ground, ..)| *ground == row.ground).map(|(.., origin)| origin.clone());
        let origin =
            set.unwrap_or_else(|| Origin::Default { source: row.source.clone(), status: row.status });
        let mut setting =
            Setting::new("conversion", row.ground.name(), json!(answer), answer.to_owned(), &origin);
        setting.meaning = Some(row.meaning.clone());
        setting
    };
    ground_rows().iter().map(row).collect()
}

/// That costs are stated, and where; each amount stands in the file.
fn costs(policy: &Policy) -> Option<Setting> {
    let costs = policy.practice.costs.as_ref()?;
    let shown = format!("stated in {}", costs.currency);
    Some(Setting::new("costs", "currency", json!(costs.currency), shown, &costs.origin))
}

fn own_band(row: &BandRow) -> Setting {
    let ratio = match (row.over, row.to) {
        (None, None) => None,
        (over, to) => Some(between(over, to)),
    };
    let conditions = [
        row.material.map(|m| m.name().to_owned()),
        row.thread.as_ref().map(|t| t.name.clone()),
        row.process.map(|p| p.name().to_owned()),
        ratio,
    ];
    let name: Vec<String> = conditions.into_iter().flatten().collect();
    let name = if name.is_empty() { "every joint".to_owned() } else { name.join(", ") };
    let value = json!({
        "material": row.material.map(|m| m.name()), "thread": row.thread.as_ref().map(|t| &t.name),
        "process": row.process.map(|p| p.name()), "over": row.over, "to": row.to,
        "min": row.min, "target": row.target, "max": row.max,
    });
    band("bands", name, value, (row.min, row.target, row.max), &row.origin)
}

fn trade_band(row: &BandOf) -> Setting {
    let ratio = row.ratio.map(|(over, to)| between(Some(over), Some(to)));
    let name =
        [Some(row.material.name().to_owned()), ratio].into_iter().flatten().collect::<Vec<_>>().join(", ");
    let b = &row.band;
    let value = json!({
        "material": row.material.name(), "thread": null, "process": null, "over": row.ratio.map(|r| r.0),
        "to": row.ratio.map(|r| r.1), "min": b.min, "target": b.target, "max": b.max,
    });
    let origin = Origin::Default { source: b.source.to_string(), status: b.status };
    band("bands", name, value, (b.min, b.target, b.max), &origin)
}

fn band(
    section: &'static str,
    name: String,
    value: Value,
    (min, target, max): (f64, f64, f64),
    origin: &Origin,
) -> Setting {
    let mut setting =
        Setting::new(section, name, value, format!("{min} to {max} %, target {target} %"), origin);
    setting.unit = Some("percent");
    setting
}

/// `t/D over 0.2 to 0.4`.
fn between(over: Option<f64>, to: Option<f64>) -> String {
    match (over, to) {
        (Some(over), Some(to)) => format!("t/D over {over} to {to}"),
        (Some(over), None) => format!("t/D over {over}"),
        (None, Some(to)) => format!("t/D to {to}"),
        (None, None) => "any t/D".to_owned(),
    }
}

fn stock(section: &'static str, stock: Option<&Stock>, otherwise: &str) -> Setting {
    let Some(stock) = stock else {
        return Setting::new(
            section,
            section,
            Value::Null,
            otherwise.to_owned(),
            &own(Status::CommonPractice),
        );
    };
    let sizes: Vec<Value> =
        stock.sizes.iter().map(|s| json!({ "name": s.name, "diameter_mm": mm(s.diameter) })).collect();
    let names: Vec<&str> = stock.sizes.iter().map(|s| s.name.as_str()).collect();
    Setting::new(section, section, json!(sizes), names.join(", "), &stock.origin)
}

fn capability(policy: &Policy) -> Vec<Setting> {
    let rows = policy.practice.capability.iter();
    rows.map(|row| {
        let (offset, sd) = (mm(row.offset), mm(row.sd));
        let value = json!({ "offset_mm": offset, "sd_mm": sd });
        let shown = format!("mean {offset:+} mm from the nominal, standard deviation {sd} mm");
        Setting::new("capability", row.process.name(), value, shown, &row.origin)
    })
    .collect()
}

fn trials(policy: &Policy) -> Vec<Setting> {
    let rows = policy.practice.trials.iter();
    rows.map(|row| {
        let materials: Vec<&str> = row.materials.iter().map(|m| m.name()).collect();
        let threads: Vec<&str> = row.threads.iter().map(|t| t.name.as_str()).collect();
        let any = |names: &[&str], what: &str| {
            if names.is_empty() { format!("any {what}") } else { names.join(" or ") }
        };
        let drawing = row.drawing.clone().unwrap_or_else(|| "any drawing".to_owned());
        let shown = format!("{}, {}", any(&materials, "material"), any(&threads, "thread"));
        let value = json!({ "drawing": row.drawing, "materials": materials, "threads": threads });
        Setting::new("trials", drawing, value, shown, &row.origin)
    })
    .collect()
}

/// A length in mm, rounded to 1e-6 mm.
fn mm(length: Length) -> f64 {
    (length.mm() * 1e6).round() / 1e6
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(text: &str) -> (String, Value) {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("boreband.json");
        std::fs::write(&path, text).expect("written");
        let rules: Vec<&str> = RULES.iter().map(|r| r.name).collect();
        let policy = Policy::load(&path, &rules).expect("a sound policy");
        let governed = [Governed { policy: &policy, drawings: vec!["lid.dxf".to_owned()] }];
        let (mut text, mut form) = (Vec::new(), Vec::new());
        write_text(&governed, 120, false, &mut text).expect("a buffer");
        write_json(&governed, &mut form).expect("a buffer");
        let text = String::from_utf8(text).expect("UTF-8");
        (text, serde_json::from_slice(&form).expect("JSON"))
    }

    fn value<'a>(form: &'a Value, section: &str, name: &str) -> &'a Value {
        let values = form["policies"][0]["values"].as_array().expect("values");
        values.iter().find(|v| v["section"] == section && v["name"] == name).expect("the value")
    }

    #[test]
    fn every_value_says_where_it_comes_from() {
        let (text, form) =
            of(r#"{"format": 1, "levels": {"count-differs": "off"}, "limits": {"least-metal": 2.5},
                "bands": [{"material": "brass", "min": 60, "max": 80}], "drills": ["3.6mm", "7/32"],
                "guide_holes": "judge", "words": {"OTWORY": "hole"},
                "capability": [{"process": "punched", "unit": "mm", "offset": 0.01, "sd": 0.02}]}"#);
        for (section, name, shown, pointer) in [
            ("levels", "count-differs", json!("off"), "/levels/count-differs"),
            ("limits", "least-metal", json!(2.5), "/limits/least-metal"),
            ("guide_holes", "guide_holes", json!("judge"), "/guide_holes"),
            ("words", "OTWORY", json!("hole"), "/words/OTWORY"),
            ("capability", "punched", json!({"offset_mm": 0.01, "sd_mm": 0.02}), "/capability/0"),
        ] {
            let found = value(&form, section, name);
            assert_eq!((&found["value"], found["from"].as_str()), (&shown, Some("policy")), "{name}");
            assert_eq!(found["pointer"], pointer);
            assert!(text.contains(&format!("policy {pointer}")), "{pointer} is missing in\n{text}");
        }
        let spacing = value(&form, "limits", "hole-spacing");
        // Three diameters, common practice.
        assert_eq!((&spacing["value"], &spacing["status"]), (&json!(3.0), &json!("common_practice")));
        assert_eq!(spacing["from"], "default");
        // 7/32 in is 5.55625 mm.
        assert_eq!(value(&form, "drills", "drills")["value"][1]["diameter_mm"], 5.55625);
        assert!(text.contains("60 to 80 %, target 70 %"), "{text}");
    }

    #[test]
    fn without_a_file_all_is_default() {
        let policy = Policy::default();
        let settings = settings(&policy);
        assert!(settings.iter().all(|s| s.from == "default"));
        // Every rule and every limit stands once, and 14 bands: 6 rows by thickness, 8 by material.
        let count = |section: &str| settings.iter().filter(|s| s.section == section).count();
        assert_eq!((count("levels"), count("limits"), count("bands")), (RULES.len(), limit_rows().len(), 14));
    }
}
