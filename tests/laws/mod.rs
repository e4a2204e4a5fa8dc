//! What must not change a figure, and what must change it in a known way: of studies at random, and of single ones.

mod figures;
mod files;
mod invented;
mod second_way;
mod within;

use figures::{assert_multiplied, figures, verdicts, without_working};
use files::{Files, Table, moment};
use fullshift_tests::fullshift;
use invented::{Invented, studies};
use proptest::prelude::*;
use proptest::sample::Index;
use proptest::test_runner::RngSeed;
use serde_json::Value;

/// So few studies a law where nobody asks for more: `FULLSHIFT_STUDIES=200 cargo test --workspace --test whole -- laws`.
fn few() -> ProptestConfig {
    let cases = std::env::var("FULLSHIFT_STUDIES").ok().and_then(|n| n.parse().ok()).unwrap_or(6);
    ProptestConfig {
        cases,
        rng_seed: RngSeed::Fixed(20_271_128),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// The files of a study, and the same with the rows of every table in any order.
fn shuffled() -> impl Strategy<Value = (Files, Files)> {
    studies().prop_flat_map(|study| {
        let files = study.files();
        let any_order = |table: &Table| Just(table.rows.clone()).prop_shuffle();
        let rows = (any_order(&files.readings), any_order(&files.diary), any_order(&files.leak_checks));
        rows.prop_map(move |(readings, diary, leak_checks)| {
            let mut other = files.clone();
            other.readings.rows = readings;
            other.diary.rows = diary;
            other.leak_checks.rows = leak_checks;
            (files.clone(), other)
        })
    })
}

proptest! {
    #![proptest_config(few())]

    #[test]
    fn the_order_of_the_rows_does_not_matter((files, other) in shuffled()) {
        assert_eq!(without_working(&files.assessed()), without_working(&other.assessed()));
    }

    #[test]
    fn splitting_a_stretch_of_work_changes_nothing(study in studies(), row in any::<Index>(), cut in any::<Index>()) {
        let whole = study.files();
        let mut split = whole.clone();
        let at = row.index(split.diary.rows.len());
        let (begin, minutes) = study.stretches()[at];
        let end = begin + minutes;
        let amid = begin + 1 + cut.index(minutes as usize - 1) as u32;
        let own = split.diary.rows[at].clone();
        split.diary.rows[at] = own.replace(&moment(end), &moment(amid));
        split.diary.rows.push(own.replace(&moment(begin), &moment(amid)));
        assert_eq!(without_working(&split.assessed()), without_working(&whole.assessed()));
    }

    #[test]
    fn a_diary_by_minutes_gives_the_twa_of_the_same_diary_by_the_clock(study in studies()) {
        let by_clock = study.files();
        let mut by_minutes = by_clock.clone();
        by_minutes.diary = study.diary_by_minutes();
        let [one, other] = [by_clock, by_minutes].map(|files| without_working(&files.assessed()));
        for (one, other) in one["shifts"].as_array().unwrap().iter().zip(other["shifts"].as_array().unwrap()) {
            for key in ["shift", "twa", "covered", "unsampled", "minutes", "highest_reading"] {
                assert_eq!(one[key], other[key], "{key}");
            }
        }
    }

    #[test]
    fn a_reading_of_the_area_changes_no_figure(study in studies(), beside in any::<Index>(), stain in 5..100_u32) {
        let without = study.files();
        let mut with = without.clone();
        with.readings.columns = "id,worker,task,tube,pump,start,strokes,reading,pressure,purpose";
        with.readings.rows.iter_mut().for_each(|row| row.push(','));
        let row = beside.get(&without.readings.rows);
        let cells: Vec<&str> = row.split(',').collect();
        with.readings.rows.push(format!("A1,{},{},NH3,P-area,{},1,{stain},101 kPa,area", cells[1], cells[2], cells[5]));
        assert_eq!(without_working(&with.assessed()), without_working(&without.assessed()));
    }

    #[test]
    fn concentrations_and_limits_times_a_number_give_figures_times_it(
        study in studies(), scale in prop::sample::select(vec![0.25, 0.5, 3.0, 8.0, 10.0]),
    ) {
        let [one, other] = [study.clone(), Invented { scale, ..study }].map(|study| study.files().assessed());
        assert_multiplied(&one, &other, |_, unit| if unit == "ppm" { scale } else { 1.0 });
        assert_eq!(verdicts(&one), verdicts(&other));
    }

    #[test]
    fn a_limit_times_a_number_divides_the_ratios_by_it(
        study in studies(), limits in prop::sample::select(vec![0.1, 0.5, 2.0, 7.0]),
    ) {
        let [one, other] = [study.clone(), Invented { limits, ..study }].map(|study| only_shifts(&study.files()));
        assert_multiplied(&one, &other, |place, _| match place.rsplit('/').next() {
            Some("limit") => limits,
            Some("ratio") => 1.0 / limits,
            // The chance that the limit was passed where nothing was measured is another one.
            _ if place.contains("/unmeasured/") => f64::NAN,
            _ => 1.0,
        });
    }

    #[test]
    fn a_twa_is_in_inverse_proportion_to_its_reference_period(
        study in studies(), reference_hours in prop::sample::select(vec![4.0, 6.0, 10.0, 12.0]),
    ) {
        let [one, other] = [study.clone(), Invented { reference_hours, ..study }].map(|study| only_shifts(&study.files()));
        assert_multiplied(&one, &other, |place, _| {
            // A shift has the limit of the TWA before that of the short term.
            let of_twa = place.ends_with("/twa") || place.ends_with("/limits/0/ratio");
            if of_twa { 8.0 / reference_hours } else { 1.0 }
        });
    }

    #[test]
    fn thinner_air_raises_readings_in_proportion(
        study in studies(), scale in prop::sample::select(vec![1.25, 1.5, 2.0]),
    ) {
        let thin = Invented { pressure_kpa: 101.325 / scale, limits: scale, ..study.clone() };
        let [one, other] = [study, thin].map(|study| study.files().assessed());
        assert_multiplied(&one, &other, |_, unit| if unit == "ppm" { scale } else { 1.0 });
        assert_eq!(verdicts(&one), verdicts(&other));
    }

    #[test]
    fn the_same_work_later_has_the_same_figures(study in studies(), later in 1..10_000_u32) {
        let [one, other] = [study.clone(), Invented { later, ..study }].map(|study| study.files().assessed());
        assert_multiplied(&one, &other, |_, _| 1.0);
        assert_eq!(verdicts(&one), verdicts(&other));
    }

    #[test]
    fn units_cancel(study in studies()) {
        let one = study.files();
        let mut other = one.clone();
        // 8.314 462 618 153 24 J/(mol K) is exact in the SI; 298.15 K and 101.325 kPa are the study's reference.
        let litres = 8.314_462_618_153_24 * 298.15 / 101.325;
        for ppm in [20.0, 50.0] {
            let mg = format!("value: {} mg/m3", ppm * 17.03 / litres);
            other.settings = other.settings.replace(&format!("value: {ppm} ppm"), &mg);
        }
        for (unit, same) in [("averaging: 15 min", "averaging: 900 s"), ("stroke_time: 1 min", "stroke_time: 60 s"),
            ("reference: 8 h", "reference: 480 min"), ("relative_sd: 10 %", "stroke_volume: 0.1 L, relative_sd: 10 %")] {
            assert!(other.settings.contains(unit));
            other.settings = other.settings.replace(unit, same);
        }
        other.readings.rows.iter_mut().for_each(|row| *row = row.replace("101.325 kPa", "1 atm"));
        let [one, other] = [one, other].map(|files| files.assessed());
        let pure = |assessment: &Value| -> Vec<_> {
            figures(assessment).into_iter().filter(|(_, (unit, _))| unit.is_empty()).collect()
        };
        let (one_pure, other_pure) = (pure(&one), pure(&other));
        assert_eq!(one_pure.len(), other_pure.len());
        for ((place, (_, one)), (_, (_, other))) in one_pure.iter().zip(&other_pure) {
            let close = |(a, b): (&f64, &f64)| (a - b).abs() <= 1e-7 * a.abs().max(1e-6);
            assert!(one.keys().eq(other.keys()) && one.values().zip(other.values()).all(close), "{place}: {one:?} {other:?}");
        }
        assert_eq!(verdicts(&one), verdicts(&other));
    }

    #[test]
    fn a_group_has_the_figures_that_it_has_alone(study in studies()) {
        let together = study.files().assessed();
        for group in [0, 1] {
            let mut alone = study.clone();
            alone.workers.iter_mut().filter(|worker| worker.group != group).for_each(|worker| worker.shifts.clear());
            if alone.workers.iter().all(|worker| worker.shifts.is_empty()) {
                continue;
            }
            let alone = alone.files().assessed();
            assert_eq!(of_group(&together, group), of_group(&alone, group));
        }
    }

    #[test]
    fn an_archive_says_of_its_groups_what_the_study_says(study in studies(), cut in any::<Index>()) {
        let files = study.files();
        let whole = files.assessed();
        let folder = tempfile::tempdir().unwrap();
        as_archive(&files, folder.path(), cut);
        let said = fullshift(&["assess".as_ref(), folder.path().as_os_str(), "--format".as_ref(), "json".as_ref()]);
        assert_eq!(said.code, 0, "{}", said.talk);
        let archive: Value = serde_json::from_str(&said.out).unwrap();
        assert_eq!(verdicts(&whole), verdicts(&archive));
        let whole = without_working(&whole);
        for (one, other) in whole["groups"].as_array().unwrap().iter().zip(archive["groups"].as_array().unwrap()) {
            for key in ["group", "kind", "n", "censored", "profile"] {
                assert_eq!(one[key], other[key], "{key}");
            }
        }
    }

    #[test]
    fn a_second_way_finds_the_same_shifts(study in studies(), thinner in prop::sample::select(vec![1.0, 1.25])) {
        let study = Invented { pressure_kpa: 101.325 / thinner, ..study };
        second_way::agrees(&study, &study.files().assessed());
    }

    #[test]
    fn every_figure_lies_within_its_limits_and_wider_ones_around_narrower(study in studies()) {
        let assessed = study.files().assessed();
        for (place, (_, numbers)) in figures(&assessed) {
            let named = |name: &str| numbers.get(name).copied();
            let rising = [named("low"), named("value"), named("upper_70"), named("high")];
            let rising: Vec<f64> = rising.into_iter().flatten().collect();
            assert!(rising.is_sorted_by(|a, b| *a <= b * (1.0 + 1e-9)), "{place}: {numbers:?}");
        }
        within::line_through_profile(&assessed);
        within::diary_holds_readings(&assessed);
        within::chances_grow(&assessed);
    }
}

/// The assessment with its shifts only.
fn only_shifts(files: &Files) -> Value {
    serde_json::json!({"shifts": files.assessed()["shifts"], "groups": []})
}

/// The shifts and lines of one group.
fn of_group(assessment: &Value, group: usize) -> Value {
    let mut kept = without_working(assessment);
    for part in ["shifts", "groups"] {
        kept[part].as_array_mut().unwrap().retain(|item| item["group"] == format!("G{group}"));
    }
    kept
}

/// Lays a study down as an archive: its readings and its diary as folders, each of two files.
fn as_archive(files: &Files, folder: &std::path::Path, cut: Index) {
    files.lay(folder);
    let settings = files
        .settings
        .replace("readings: readings.csv, diary: diary.csv", "readings: readings, diary: diary");
    std::fs::write(folder.join("study.yaml"), settings).unwrap();
    for (name, table) in [("readings", &files.readings), ("diary", &files.diary)] {
        std::fs::create_dir(folder.join(name)).unwrap();
        let (one, other) = table.rows.split_at(cut.index(table.rows.len()));
        for (part, rows) in [("a.csv", one), ("b.csv", other)] {
            std::fs::write(folder.join(name).join(part), table.text(rows)).unwrap();
        }
    }
}
