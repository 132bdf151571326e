//! `boreband convert` on `samples/convert`. Every number of money, and every hole, is worked by hand in
//! `samples/README.md` and beside the tests here; the golden files are our own output, pinned.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::{Value, json};

const COSTS: &str = "samples/convert/costs.json";

fn convert(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_boreband"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env("COLUMNS", "100")
        .arg("convert")
        .args(args)
        .output()
        .expect("the program runs")
}

fn report(args: &[&str]) -> Value {
    let run = convert(&[args, &["--format", "json"]].concat());
    assert_eq!(run.status.code(), Some(0), "{}", String::from_utf8_lossy(&run.stderr));
    serde_json::from_slice(&run.stdout).expect("the report is JSON")
}

fn with_costs() -> Value {
    report(&["samples/convert", "--costs", COSTS])
}

fn drawing<'a>(report: &'a Value, name: &str) -> &'a Value {
    let all = report["drawings"].as_array().unwrap();
    all.iter().find(|d| d["path"].as_str().unwrap().ends_with(name)).expect("the drawing")
}

fn group<'a>(report: &'a Value, name: &str, named: &str) -> &'a Value {
    let groups = drawing(report, name)["groups"].as_array().unwrap();
    groups.iter().find(|g| g["named"] == named).expect("the group")
}

#[track_caller]
fn near(value: &Value, expected: f64) {
    let value = value.as_f64().expect("a number");
    assert!((value - expected).abs() < 5e-3 * 1f64.min(expected.abs()), "{value}, expected {expected}");
}

/// A copy of the costs with one change.
fn changed(folder: &Path, change: impl FnOnce(&mut Value)) -> PathBuf {
    let text = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(COSTS)).unwrap();
    let mut costs: Value = serde_json::from_str(&text).unwrap();
    change(&mut costs);
    let path = folder.join("costs.json");
    std::fs::write(&path, costs.to_string()).unwrap();
    path
}

// A hole: 9 s at 60 an hour .150, tap 20/2000 .010, .010, .012, .008: .190; less .035 and 1.5 s at 42 an hour .0175: .1375.
// Six are .825 a part, 20,000 parts 16,500; 1200 / .825 = 1454.5.
#[test]
fn the_cover_by_hand() {
    let all = with_costs();
    let saving = &drawing(&all, "cover.dxf")["saving"];
    near(&group(&all, "cover.dxf", "M4-6H")["saving"]["saving"]["value"], 0.1375);
    near(&saving["per_part"]["value"], 0.825);
    near(&saving["yearly"]["value"], 16_500.0);
    near(&saving["first_year"]["value"], 15_300.0);
    assert_eq!((&saving["break_even"], &saving["break_even_parts"]), (&json!("after"), &json!(1455)));
    assert_eq!((&saving["proving"], &saving["not_stated"]), (&json!(1200.0), &json!([])));
    // t/D 0.5: 75 to 93 %, Ø3.5772 to 3.6590; 85 % is 3.6135, the nearest step of a punch 3.60 (87.98 %). ISO 2768-m would be
    // ±0.1; up 0.05 and down 0.02 is what stays.
    let hole = &group(&all, "cover.dxf", "M4-6H")["new_hole"];
    assert_eq!(hole["callout"], "6X Ø3.6 +0.05/-0.02 THRU");
    near(&hole["engagement"]["nominal"], 87.98);
    near(&hole["engagement"]["at_min"], 92.38);
    near(&hole["engagement"]["at_max"], 76.98);
    // DIN 7500-2:1984 (published): M4, 2 mm, steel: 3.6 H11, that is to 3.675, 71.48 %.
    let guide = &group(&all, "cover.dxf", "M4-6H")["guide_hole"];
    assert_eq!((&guide["diameter_mm"], &guide["fit"]), (&json!(3.6), &json!("H11")));
    near(&guide["engagement_at_max"], 71.48);
    let left = group(&all, "cover.dxf", "M5-LH");
    assert_eq!((&left["answer"], &left["count"], &left["saving"]), (&json!("no"), &json!(2), &Value::Null));
    assert_eq!((&left["new_hole"], &left["guide_hole"]), (&Value::Null, &Value::Null), "the tap stays");
}

// M6: 14 s .23333 + .040 - .060 - .0175 = .195833; four .78333; 400 parts 313.33, less 1200: -886.67; 1200 / .78333 = 1531.9.
#[test]
fn the_base_by_hand() {
    let all = with_costs();
    let saving = &drawing(&all, "base.dxf")["saving"];
    near(&saving["per_part"]["value"], 0.783_333);
    near(&saving["yearly"]["value"], 313.333);
    near(&saving["first_year"]["value"], -886.667);
    assert_eq!(saving["break_even_parts"], 1532);
    // Three M5 of a close class, if settled: 3 × .1375.
    near(&saving["doubtful_per_part"]["value"], 0.4125);
    let m6 = group(&all, "base.dxf", "M6-6H");
    // 20 - 3.5 - 1 = 15.5 of full thread, 12 asked; wrought aluminium 65 to 95 %, Ø5.3830 to 5.5778, 80 % is 5.4804, the drill
    // 5.5 (76.98 %).
    assert_eq!((&m6["answer"], &m6["length_mm"]), (&json!("candidate"), &json!(12.0)));
    assert_eq!(m6["new_hole"]["callout"], "4X Ø5.5 +0.07/-0.10 x 20 DEEP");
    near(&m6["new_hole"]["engagement"]["nominal"], 76.98);
    assert_eq!(m6["guide_hole"], Value::Null, "the table has no M6 at 12 mm");
    assert_eq!(group(&all, "base.dxf", "G1/4")["answer"], "no");
}

// 10-32: .1375 as for M4; eight 1.10; 2500 parts 2750, less 1200: 1550; 1200 / 1.1 = 1090.9.
#[test]
fn the_rail_by_hand() {
    let all = with_costs();
    let saving = &drawing(&all, "rail.dxf")["saving"];
    near(&saving["per_part"]["value"], 1.1);
    near(&saving["yearly"]["value"], 2750.0);
    near(&saving["first_year"]["value"], 1550.0);
    assert_eq!(saving["break_even_parts"], 1091);
    // 65 to 95 %: Ø.17072 to .17681; 80 % is .17376, the nearest drill #17, .173 (83.75 %).
    let hole = &group(&all, "rail.dxf", "10-32-2B")["new_hole"];
    assert_eq!((&hole["drill"], &hole["callout"]), (&json!("#17"), &json!("8X Ø.173 +.003/-.001 THRU")));
    near(&hole["engagement"]["nominal"], 83.75);
    assert_eq!(group(&all, "rail.dxf", "1/4-28-3B")["answer"], "doubtful");
}

// 16,500 + 2750 + 313.33 = 19,563.33 a year; three joints 3600; 15,963.33.
#[test]
fn sums_and_order() {
    let all = with_costs();
    let paths: Vec<&str> =
        all["drawings"].as_array().unwrap().iter().map(|d| d["path"].as_str().unwrap()).collect();
    let names = ["cover", "rail", "base"].map(|name| format!("samples/convert/{name}.dxf"));
    assert_eq!(paths, names, "the greatest saving of the first year first");
    let totals = &all["totals"];
    near(&totals["yearly"]["value"], 19_563.333);
    near(&totals["first_year"]["value"], 15_963.333);
    assert_eq!((&totals["joints"], &totals["proving"]), (&json!(3), &json!(3600.0)));
    assert_eq!(
        (&totals["candidate"], &totals["doubtful"], &totals["no"]),
        (&json!(18), &json!(5), &json!(4))
    );
}

#[test]
fn without_costs_nothing_is_saved_on_paper() {
    let all = report(&["samples/convert"]);
    assert_eq!(all["costs"], Value::Null);
    assert_eq!(all["totals"]["yearly"]["value"], Value::Null);
    assert!(all["drawings"].as_array().unwrap().iter().all(|d| d["saving"] == Value::Null));
    // By the count of candidates: 8, 6, 4.
    let counts: Vec<u64> =
        all["drawings"].as_array().unwrap().iter().map(|d| d["candidate"].as_u64().unwrap()).collect();
    assert_eq!(counts, [8, 6, 4]);
    let text = String::from_utf8(convert(&["samples/convert"]).stdout).unwrap();
    assert!(text.contains("not known: no costs are given") && text.contains("tap_price / holes_per_tap"));
    assert!(!text.contains("EUR"));
}

#[test]
fn a_cost_that_is_not_stated_is_named_and_never_guessed() {
    let folder = tempfile::tempdir().unwrap();
    let of = |key: &str| {
        let costs = changed(folder.path(), |costs| {
            costs["costs"]["all"].as_object_mut().unwrap().remove(key).expect("the key stands there");
        });
        report(&["samples/convert/cover.dxf", "--costs", costs.to_str().unwrap()])
    };
    let saving = |report: &Value| drawing(report, "cover.dxf")["saving"].clone();
    // Without the gauging's .012: .1255 a hole, .753 a part, 1200 / .753 = 1593.6 parts at most.
    let least = saving(&of("gauging"));
    near(&least["per_part"]["value"], 0.753);
    assert_eq!((&least["per_part"]["at_least"], &least["break_even_parts"]), (&json!(true), &json!(1594)));
    assert_eq!(least["not_stated"], json!(["gauging"]));
    for (key, term) in [("screw_premium", "screw-premium"), ("drive_rate", "drive-time")] {
        let none = saving(&of(key));
        assert_eq!((&none["per_part"]["value"], &none["first_year"]["value"]), (&Value::Null, &Value::Null));
        assert_eq!((&none["break_even"], &none["not_stated"]), (&json!("not-known"), &json!([term])));
    }
    let unproved = saving(&of("proving"));
    near(&unproved["yearly"]["value"], 16_500.0);
    assert_eq!(
        (&unproved["first_year"]["value"], &unproved["not_stated"]),
        (&Value::Null, &json!(["proving"]))
    );
    let costs = changed(folder.path(), |costs| costs["costs"]["parts"] = json!([]));
    let no_parts = report(&["samples/convert/cover.dxf", "--costs", costs.to_str().unwrap()]);
    let saving = saving(&no_parts);
    assert_eq!((&saving["yearly"]["value"], &saving["break_even_parts"]), (&Value::Null, &json!(1455)));
    assert_eq!(saving["not_stated"], json!(["yearly-parts"]));
}

#[test]
fn a_policy_can_state_the_costs_and_decide_a_ground() {
    let folder = tempfile::tempdir().unwrap();
    let text = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(COSTS)).unwrap();
    let mut policy: Value = serde_json::from_str(&text).unwrap();
    policy["conversion"] = json!({ "class-close": "no" });
    let path = folder.path().join("policy.json");
    std::fs::write(&path, policy.to_string()).unwrap();
    let all = report(&["samples/convert", "--policy", path.to_str().unwrap()]);
    near(&all["totals"]["first_year"]["value"], 15_963.333);
    let close = group(&all, "rail.dxf", "1/4-28-3B");
    assert_eq!(close["answer"], "no");
    assert_eq!(close["reasons"][0]["status"], "user");
    policy["conversion"] = json!({ "metal-unknown": "candidate" });
    std::fs::write(&path, policy.to_string()).unwrap();
    let refused = convert(&["samples/convert", "--policy", path.to_str().unwrap()]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&refused.stderr).contains("/conversion/metal-unknown"));
}

#[test]
fn faults_of_the_costs_are_told_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let costs = changed(folder.path(), |costs| {
        costs["costs"]["all"]["cleaning"] = json!(-1);
        costs["costs"]["parts"][0]["yearly"] = json!("many");
    });
    let run = convert(&["samples/convert", "--costs", costs.to_str().unwrap()]);
    let said = String::from_utf8_lossy(&run.stderr);
    assert_eq!(run.status.code(), Some(2));
    assert!(said.contains("/costs/all/cleaning") && said.contains("/costs/parts/0/yearly"), "{said}");
    assert!(run.stdout.is_empty());
}

#[test]
fn a_row_of_parts_that_covers_nothing_is_told() {
    let run = convert(&["samples/convert/cover.dxf", "--costs", COSTS]);
    let said = String::from_utf8_lossy(&run.stderr);
    assert!(said.contains("/costs/parts/1: covers no drawing (drawing base.dxf)"), "{said}");
    assert!(!said.contains("/costs/parts/0"), "{said}");
}

#[test]
fn a_drawing_that_cannot_be_read_is_named_and_ends_with_2() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("scan.dxf"), "%PDF-1.7\n").unwrap();
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    std::fs::copy(root.join("samples/convert/cover.dxf"), folder.path().join("cover.dxf")).unwrap();
    let run = convert(&[folder.path().to_str().unwrap()]);
    let text = String::from_utf8_lossy(&run.stdout);
    assert_eq!(run.status.code(), Some(2));
    assert!(
        text.contains("scan.dxf") && text.contains("unreadable") && text.contains("6 candidate"),
        "{text}"
    );
}

#[test]
fn the_bytes_do_not_depend_on_the_number_of_threads_and_fit_the_schema() {
    let of = |jobs| convert(&["samples", "--costs", COSTS, "--format", "json", "--jobs", jobs]).stdout;
    let one = of("1");
    assert!(one == of("4"));
    let schema = boreband::report::schema::schema("conversion").unwrap();
    let validator = jsonschema::validator_for(&serde_json::from_str(&schema).unwrap()).unwrap();
    let report: Value = serde_json::from_slice(&one).unwrap();
    let wrong: Vec<String> = validator.iter_errors(&report).map(|e| e.to_string()).collect();
    assert!(wrong.is_empty(), "{wrong:?}");
    let costs = boreband::report::schema::schema("costs").unwrap();
    let validator = jsonschema::validator_for(&serde_json::from_str(&costs).unwrap()).unwrap();
    let text = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(COSTS)).unwrap();
    let mut written: Value = serde_json::from_str(&text).unwrap();
    assert!(validator.is_valid(&written));
    written["costs"]["parts"][0]["part"] = json!("GC-141");
    assert!(!validator.is_valid(&written), "a drawing or a part, not both");
}

#[test]
fn golden_files() {
    let folder = tempfile::tempdir().unwrap();
    let csv = folder.path().join("a.csv");
    let order = format!("csv={}", csv.display());
    let text = convert(&["samples/convert", "--costs", COSTS, "--write", &order]);
    let plain = convert(&["samples/convert"]);
    let json = convert(&["samples/convert", "--costs", COSTS, "--format", "json"]);
    for (name, bytes) in [
        ("convert.txt", text.stdout),
        ("convert-counts.txt", plain.stdout),
        ("convert.json", json.stdout),
        ("convert.csv", std::fs::read(&csv).unwrap()),
    ] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(name);
        if std::env::var_os("BOREBAND_RENEW").is_some() {
            std::fs::write(&path, &bytes).unwrap();
        }
        let kept = std::fs::read(&path).unwrap_or_default();
        assert!(
            kept == bytes,
            "{name} is not as pinned; renew with BOREBAND_RENEW=1 and read the difference"
        );
    }
}
