//! What must not change a figure, and what must change it in a known way.

use approx::assert_relative_eq;
use fullshift_tests::{assessment, copy, fixture};
use serde_json::Value;
use std::path::Path;

/// The assessment of a study after one of its files was rewritten.
fn changed(study: &str, file: &str, rewrite: impl Fn(&str) -> String) -> Value {
    let folder = tempfile::tempdir().unwrap();
    copy(&fixture(study), folder.path());
    rewrite_file(&folder.path().join(file), rewrite);
    assessment(folder.path())
}

fn rewrite_file(path: &Path, rewrite: impl Fn(&str) -> String) {
    let before = std::fs::read_to_string(path).unwrap();
    let after = rewrite(&before);
    assert_ne!(before, after, "the file was to change");
    std::fs::write(path, after).unwrap();
}

/// Every figure of the shifts and groups, without places in files: those move with the rows.
fn figures(assessment: &Value) -> Value {
    let mut kept = serde_json::json!({"shifts": assessment["shifts"], "groups": assessment["groups"]});
    without_trails(&mut kept);
    kept
}

fn without_trails(value: &mut Value) {
    match value {
        Value::Object(object) => {
            object.shift_remove("trail");
            object.values_mut().for_each(without_trails);
        }
        Value::Array(items) => items.iter_mut().for_each(without_trails),
        _ => {}
    }
}

fn figures_of(study: &str) -> Value {
    figures(&assessment(&fixture(study)))
}

/// The lines after the header in the opposite order.
fn turned_round(table: &str) -> String {
    let mut lines: Vec<_> = table.lines().collect();
    lines[1..].reverse();
    lines.join("\n") + "\n"
}

#[test]
fn the_order_of_the_rows_does_not_matter() {
    for table in ["readings.csv", "diary.csv", "leak_checks.csv"] {
        let turned = changed("studies/composting-hall", table, turned_round);
        assert_eq!(figures(&turned), figures_of("studies/composting-hall"), "{table}");
    }
}

#[test]
fn splitting_a_diary_row_changes_nothing() {
    let split = changed("studies/by-hand", "diary.csv", |diary| {
        diary.replace(
            "W1,2027-03-09 06:00,2027-03-09 10:00,turning\n",
            "W1,2027-03-09 06:00,2027-03-09 08:20,turning\nW1,2027-03-09 08:20,2027-03-09 10:00,turning\n",
        )
    });
    assert_eq!(figures(&split), figures_of("studies/by-hand"));
}

#[test]
fn a_diary_by_minutes_gives_the_same_twa_as_the_same_diary_by_the_clock() {
    let by_minutes = changed("studies/by-hand", "diary.csv", |_| {
        "worker,shift,task,minutes\nW1,2027-03-09 06:00,turning,240\nW1,2027-03-09 06:00,screening,180\n\
         W1,2027-03-09 06:00,office,60\n"
            .to_owned()
    });
    let by_clock = assessment(&fixture("studies/by-hand"));
    for key in ["twa", "covered", "unsampled", "minutes", "highest_reading"] {
        let [mut one, mut other] = [&by_minutes, &by_clock].map(|a| a["shifts"][0][key].clone());
        without_trails(&mut one);
        without_trails(&mut other);
        assert_eq!(one, other, "{key}");
    }
}

#[test]
fn an_area_reading_changes_no_figure() {
    let with_area = changed("studies/by-hand", "readings.csv", |readings| {
        let mut lines: Vec<_> = readings.lines().map(|line| format!("{line},")).collect();
        lines[0].push_str("purpose");
        lines.push("A1,W1,turning,NH3-M,P1,2027-03-09 07:30,1,90,area".to_owned());
        lines.join("\n") + "\n"
    });
    assert_eq!(figures(&with_area), figures_of("studies/by-hand"));
}

#[test]
fn a_limit_twice_as_high_halves_every_ratio() {
    let twice =
        changed("studies/by-hand", "study.yaml", |study| study.replace("value: 20 ppm", "value: 40 ppm"));
    let ratio = |a: &Value| a["shifts"][0]["limits"][0]["ratio"]["value"].as_f64().unwrap();
    assert_relative_eq!(
        2.0 * ratio(&twice),
        ratio(&assessment(&fixture("studies/by-hand"))),
        epsilon = 1e-12
    );
    assert_eq!(twice["shifts"][0]["twa"], assessment(&fixture("studies/by-hand"))["shifts"][0]["twa"]);
}

#[test]
fn a_reference_period_of_four_hours_doubles_the_twa() {
    let four = changed("studies/by-hand", "study.yaml", |study| {
        study.replace("rules:", "shift: {reference: 4 h}\nrules:")
    });
    assert_relative_eq!(four["shifts"][0]["twa"]["value"].as_f64().unwrap(), 2.0 * 21.875, epsilon = 1e-12);
}

#[test]
fn half_the_air_pressure_doubles_a_proportional_reading() {
    let with_pressure = |kpa: &str| {
        let folder = tempfile::tempdir().unwrap();
        copy(&fixture("studies/one-reading"), folder.path());
        rewrite_file(&folder.path().join("study.yaml"), |s| {
            s.replace("strokes: 1\n", "strokes: 1\n    pressure: proportional\n")
        });
        rewrite_file(&folder.path().join("readings.csv"), |r| {
            r.replace(",reading\n", ",reading,pressure\n").replace(",1,12\n", &format!(",1,12,{kpa}\n"))
        });
        assessment(folder.path())["shifts"][0]["twa"]["value"].as_f64().unwrap()
    };
    assert_relative_eq!(with_pressure("101.325 kPa"), 12.0, epsilon = 1e-12);
    assert_relative_eq!(with_pressure("50.6625 kPa"), 24.0, epsilon = 1e-12);
    assert_relative_eq!(with_pressure("380 mmHg"), 24.0, epsilon = 1e-12);
}

#[test]
fn a_night_shift_moved_by_twelve_hours_keeps_its_figures() {
    let night = |text: &str| {
        let mut moved = text
            .replace("2027-03-09 06:00", "2027-03-09 18:00")
            .replace("2027-03-09 10:00", "2027-03-09 22:00");
        moved = moved
            .replace("2027-03-09 13:00", "2027-03-10 01:00")
            .replace("2027-03-09 14:00", "2027-03-10 02:00");
        moved = moved
            .replace("2027-03-09 07:00", "2027-03-09 19:00")
            .replace("2027-03-09 11:30", "2027-03-09 23:30");
        moved =
            moved.replace("2027-03-09 09:", "2027-03-09 21:").replace("2027-03-09 05:50", "2027-03-09 17:50");
        moved
    };
    let folder = tempfile::tempdir().unwrap();
    copy(&fixture("studies/by-hand"), folder.path());
    for table in ["diary.csv", "readings.csv", "leak_checks.csv"] {
        rewrite_file(&folder.path().join(table), night);
    }
    let (moved, day) = (assessment(folder.path()), assessment(&fixture("studies/by-hand")));
    for key in ["covered", "minutes"] {
        assert_eq!(moved["shifts"][0][key], day["shifts"][0][key]);
    }
    for key in ["twa", "short_term"] {
        assert_eq!(moved["shifts"][0][key]["value"], day["shifts"][0][key]["value"], "{key}");
    }
}

/// Half the fitted shares lie below the geometric mean, 95 of 100 below the 95th percentile, with the same limits.
#[test]
fn the_line_of_the_probability_plot_goes_through_the_profile() {
    for group in assessment(&fixture("studies/composting-hall"))["groups"].as_array().unwrap() {
        for (share, name) in [(0.5, "gm"), (0.95, "p95")] {
            let line = group["plot"]["line"].as_array().unwrap();
            let point = line.iter().find(|p| p["share"] == share).unwrap();
            for end in ["value", "low", "high"] {
                let (drawn, given) = (point[end].as_f64().unwrap(), group["profile"][name][end].as_f64());
                assert!((drawn / given.unwrap() - 1.0).abs() < 1e-9, "{name} {end}");
            }
        }
        let scores =
            group["plot"]["figures"].as_array().unwrap().iter().map(|f| f["score"].as_f64().unwrap());
        let scores: Vec<f64> = scores.collect();
        assert_eq!(scores.len() as u64, group["n"].as_u64().unwrap());
        assert!(scores.is_sorted() && scores.iter().sum::<f64>().abs() < 1e-9, "{scores:?}");
    }
}

/// The stretches of a shift cover it without a gap, and each reading lies in a stretch of its task.
#[test]
fn the_diary_of_a_shift_holds_its_readings() {
    let assessed = assessment(&fixture("studies/composting-hall"));
    for shift in assessed["shifts"].as_array().unwrap() {
        let diary = shift["diary"].as_array().unwrap();
        let minutes = |s: &Value| s["to"].as_f64().unwrap() - s["from"].as_f64().unwrap();
        let total: f64 = diary.iter().map(minutes).sum();
        assert_eq!(total, shift["minutes"].as_f64().unwrap());
        for reading in
            assessed["readings"].as_array().unwrap().iter().filter(|r| r["shift"] == shift["shift"])
        {
            let at = reading["minutes_into_shift"].as_f64().unwrap();
            let around = |s: &&Value| s["from"].as_f64() <= Some(at) && Some(at) < s["to"].as_f64();
            assert_eq!(diary.iter().find(around).unwrap()["task"], reading["task"], "{}", reading["id"]);
        }
    }
}

/// The more shifts, the surer they settle what is open, and the number that was told for 80 % lies where the curve passes 80 %.
#[test]
fn the_chance_to_settle_a_verdict_grows_with_the_shifts() {
    let assessed = assessment(&fixture("studies/composting-hall"));
    let verdicts =
        assessed["groups"].as_array().unwrap().iter().flat_map(|g| g["verdicts"].as_array().unwrap());
    let mut seen = 0;
    for verdict in verdicts.filter(|verdict| verdict["settling"].is_object()) {
        let chances: Vec<(f64, f64)> = verdict["settling"]["chances"]
            .as_array()
            .unwrap()
            .iter()
            .map(|c| (c["more_shifts"].as_f64().unwrap(), c["chance"].as_f64().unwrap()))
            .collect();
        assert!(chances.windows(2).all(|pair| pair[0].1 <= pair[1].1 + 1e-9), "{chances:?}");
        assert!(chances.iter().all(|(_, chance)| (0.0..=1.0).contains(chance)), "{chances:?}");
        let Some(told) = verdict["more_shifts"]["value"].as_f64() else { continue };
        assert!(
            chances.iter().all(|(more, chance)| (*more >= told) == (*chance >= 0.8)),
            "{told}: {chances:?}"
        );
        seen += 1;
    }
    assert!(seen > 0, "the demo has an open verdict");
}
