//! Every correction of a reading, alone and together, with its arithmetic; and the steps in which `trace` tells them.

use approx::assert_relative_eq;
use fullshift_tests::{assessment, fullshift};
use serde_json::Value;

/// An invented tube with every correction a sheet can have; figures in mg/m3, because the limit is. Hydrogen 1 and 4 ppm are there
/// by the readings' own word.
const SETTINGS: &str = "\
study: {title: Corrections, site: Hall 2, prepared_by: A. Assessor}
agents: {ammonia: {molar_mass: 17}}
limits:
  - {agent: ammonia, kind: twa, value: 14 mg/m3, source: invented}
  - {agent: ammonia, kind: short-term, value: 50 ppm, averaging: 15 min, source: invented}
reference: {temperature: 25 C, pressure: 101.325 kPa, molar_volume: 24.45 L/mol}
tubes:
  T:
    agent: ammonia
    marks: [5, 10, 20, 30, 50, 100]
    unit: ppm
    strokes: 4
    stroke_time: 1 min
    other_strokes: [{strokes: 2, factor: 2.2}]
    relative_sd: 10 %
    temperature: {0 C: 1.3, 20 C: 1.0, 40 C: 0.9}
    humidity: {20 %: 1.1, 60 %: 1.0}
    pressure: proportional
    interferes:
      - {agent: hydrogen, reads: higher, per_ppm: 2}
      - {agent: helium, reads: lower, per_ppm: 3}
      - {agent: neon, reads: higher}
      - {agent: argon, reads: lower}
pumps: {P1: {}}
tasks: {turning: {}}
groups: {G: {workers: [W1], agents: [ammonia]}}
rules: {twa: [screening]}
tables: {readings: readings.csv, diary: diary.csv, leak_checks: leak_checks.csv}
";

/// Stain, strokes, temperature, humidity, pressure, what else is there; the range in ppm.
type Case = (&'static str, f64, &'static str, &'static str, &'static str, &'static str, (f64, f64));

const INF: f64 = f64::INFINITY;

const CASES: [Case; 18] = [
    // Nothing told: no correction.
    ("30", 4.0, "", "", "", "", (30.0, 30.0)),
    ("10..20", 4.0, "", "", "", "", (10.0, 20.0)),
    ("<5", 4.0, "", "", "", "", (0.0, 5.0)),
    (">100", 4.0, "", "", "", "", (100.0, INF)),
    ("20/30", 4.0, "", "", "", "", (25.0, 25.0)),
    // The sheet's factor for two strokes; others in proportion.
    ("30", 2.0, "", "", "", "", (66.0, 66.0)),
    ("30", 3.0, "", "", "", "", (40.0, 40.0)),
    // Half way between 1.3 and 1.0; a quarter of the way from 1.1 to 1.0; outside the points the nearest.
    ("30", 4.0, "10 C", "", "", "", (34.5, 34.5)),
    ("30", 4.0, "", "30 %", "", "", (32.25, 32.25)),
    ("30", 4.0, "45 C", "90 %", "", "", (27.0, 27.0)),
    ("30", 4.0, "", "", "81.06 kPa", "", (37.5, 37.5)),
    // Two ppm for each of hydrogen, at least nothing; three for each of helium; neon and argon open an end.
    ("30", 4.0, "", "", "", "hydrogen=4 ppm", (22.0, 30.0)),
    ("30", 4.0, "", "", "", "hydrogen=40 ppm", (0.0, 30.0)),
    ("30", 4.0, "", "", "", "hydrogen", (0.0, 30.0)),
    ("30", 4.0, "", "", "", "helium=5 ppm", (30.0, 45.0)),
    ("30", 4.0, "", "", "", "neon=1 ppm", (0.0, 30.0)),
    ("30", 4.0, "", "", "", "argon=1 ppm", (30.0, INF)),
    // All together: 30 x 4/3 x 1.15 x 1.075 x 1.25 = 61.8125, less 2 x 4, and 3 x 5 more.
    ("30", 3.0, "10 C", "30 %", "81.06 kPa", "hydrogen=4 ppm + helium=5 ppm", (53.8125, 76.8125)),
];

fn lay(folder: &std::path::Path) {
    let row = |(i, case): (usize, &Case)| {
        let (stain, strokes, temperature, humidity, pressure, present, _) = case;
        let start = format!("2027-03-09 {:02}:{:02}", 6 + i / 6, i % 6 * 10);
        format!(
            "R{i},W1,turning,T,P1,{start},{strokes},{stain},{temperature},{humidity},{pressure},{present}\n"
        )
    };
    let readings: String = CASES.iter().enumerate().map(row).collect();
    let header = "id,worker,task,tube,pump,start,strokes,reading,temperature,humidity,pressure,present\n";
    for (name, text) in [
        ("study.yaml", SETTINGS.to_owned()),
        ("readings.csv", header.to_owned() + &readings),
        ("diary.csv", "worker,start,end,task\nW1,2027-03-09 06:00,2027-03-09 14:00,turning\n".to_owned()),
        ("leak_checks.csv", "pump,tube,at,passed\nP1,T,2027-03-09 05:30,yes\n".to_owned()),
    ] {
        std::fs::write(folder.join(name), text).unwrap();
    }
}

#[test]
fn every_correction_does_what_the_sheet_says() {
    let folder = tempfile::tempdir().unwrap();
    lay(folder.path());
    let found = assessment(folder.path());
    let mg = 17.0 / 24.45;
    for (reading, case) in found["readings"].as_array().unwrap().iter().zip(CASES) {
        let (low, high) = case.6;
        assert_eq!(reading["unit"], "mg/m3");
        assert_relative_eq!(reading["low"].as_f64().unwrap(), low * mg, max_relative = 1e-12);
        match reading["high"].as_f64() {
            Some(found) => assert_relative_eq!(found, high * mg, max_relative = 1e-12),
            None => assert_eq!(high, INF, "{case:?}"),
        }
        assert_eq!(reading["drawn_minutes"].as_f64(), Some(case.1), "a minute a stroke");
    }
}

/// 50 ppm are 50 x 17 / 24.45 mg/m3.
#[test]
fn a_limit_in_another_unit_is_converted_to_that_of_the_figures() {
    let folder = tempfile::tempdir().unwrap();
    lay(folder.path());
    let limits = assessment(folder.path())["shifts"][0]["limits"].clone();
    for (number, mg) in [(0, 14.0), (1, 50.0 * 17.0 / 24.45)] {
        let limit = &limits[number]["limit"];
        assert_eq!(limit["unit"], "mg/m3");
        assert_relative_eq!(limit["value"].as_f64().unwrap(), mg, max_relative = 1e-12);
    }
}

/// Name and result of every step by which a reading was corrected, and where its factor is from.
fn steps(study: &std::path::Path, reading: &str) -> Vec<[String; 3]> {
    let words = ["trace".as_ref(), study.as_os_str(), reading.as_ref(), "--format".as_ref(), "json".as_ref()];
    let ran = fullshift(&words);
    assert_eq!(ran.code, 0, "{}", ran.talk);
    let found: Value = serde_json::from_str(&ran.out).unwrap();
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let step = |step: &Value| {
        let factor = step["inputs"].as_array().unwrap().iter().find(|input| input["name"] == "factor");
        [text(&step["name"]), text(&step["result"]), factor.map_or(String::new(), |f| text(&f["from"]))]
    };
    found["reading"]["trail"].as_array().unwrap().iter().map(step).collect()
}

#[test]
fn the_trace_of_a_reading_tells_every_correction_with_what_it_left() {
    let folder = tempfile::tempdir().unwrap();
    lay(folder.path());
    let linear = "linear between the points of the tube sheet";
    let volume = "conventional molar volume 24.45 L/mol";
    let all = [
        ["stain", "30 ppm", ""],
        ["strokes", "40 ppm", "in proportion; not on the tube sheet"],
        ["temperature", "46 ppm", linear],
        ["humidity", "49.45 ppm", linear],
        ["pressure", "61.8125 ppm", "101.325 kPa / P"],
        ["interference of hydrogen", "53.8125 to 61.8125 ppm", ""],
        ["interference of helium", "53.8125 to 76.8125 ppm", ""],
        ["unit", "37.4156 to 53.4075 mg/m3", volume],
    ];
    assert_eq!(steps(folder.path(), "R17"), all);
    let untold = "the reading has none, so no correction";
    let none = [
        ["stain", "30 ppm", ""],
        ["strokes", "30 ppm", "the strokes of the printed scale"],
        ["temperature", "30 ppm", untold],
        ["humidity", "30 ppm", untold],
        ["pressure", "30 ppm", untold],
        ["unit", "20.8589 mg/m3", volume],
    ];
    assert_eq!(steps(folder.path(), "R0"), none);
    assert_eq!(steps(folder.path(), "R5")[1][2], "the tube sheet's factor for these strokes");
}
