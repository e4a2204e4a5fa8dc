//! `convert` against printed factors, and against itself.

use fullshift_tests::fullshift;

fn converted(words: &[&str]) -> f64 {
    let ran = fullshift(&[&["convert"], words, &["--format", "json"]].concat());
    assert_eq!(ran.code, 0, "{words:?}: {}{}", ran.out, ran.talk);
    let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    let figure = json.get("figure").or_else(|| json.get("result")).unwrap_or(&json);
    figure["value"].as_f64().unwrap_or_else(|| panic!("no value in {}", ran.out))
}

fn mg_per_m3_of_one_ppm(molar_mass: &str, more: &[&str]) -> f64 {
    converted(&[&["1 ppm", "--to", "mg/m3", "--molar-mass", molar_mass], more].concat())
}

#[track_caller]
fn assert_printed(found: f64, printed: &str) {
    let decimals = printed.split('.').nth(1).map_or(0, str::len) as i32;
    let half_a_unit = 0.5 * 10f64.powi(-decimals) * (1.0 + 1e-9);
    let value: f64 = printed.parse().unwrap();
    assert!((found - value).abs() <= half_a_unit, "{found} is not the printed {printed}");
}

/// NIOSH Pocket Guide to Chemical Hazards (DHHS (NIOSH) 2005-149 and web): molar mass and mg/m3 per ppm as printed.
/// Benzene's line was read; the others are from memory. Hydrogen sulfide (34.1, 1.40) is left out: its molar mass
/// over 24.45 is 1.395, which rounds to 1.39.
const POCKET_GUIDE: &[(&str, &str, &str)] = &[
    ("Carbon monoxide", "28.0", "1.15"),
    ("Ammonia", "17.0", "0.70"),
    ("Chlorine", "70.9", "2.90"),
    ("Hydrogen chloride", "36.5", "1.49"),
    ("Hydrogen cyanide", "27.0", "1.10"),
    ("Sulfur dioxide", "64.1", "2.62"),
    ("Nitrogen dioxide", "46.0", "1.88"),
    ("Nitric oxide", "30.0", "1.23"),
    ("Benzene", "78.1", "3.19"),
    ("Toluene", "92.1", "3.77"),
    ("Formaldehyde", "30.0", "1.23"),
    ("Ethylene oxide", "44.1", "1.80"),
    ("Styrene", "104.2", "4.26"),
    ("Acetone", "58.1", "2.38"),
    ("Ozone", "48.0", "1.96"),
    ("Carbon dioxide", "44.0", "1.80"),
    ("Phosphine", "34.0", "1.39"),
    ("o-Xylene", "106.2", "4.34"),
    ("Methanol", "32.1", "1.31"),
    ("n-Hexane", "86.2", "3.53"),
    ("Trichloroethylene", "131.4", "5.37"),
    ("Tetrachloroethylene", "165.8", "6.78"),
    ("Vinyl chloride", "62.5", "2.56"),
];

#[test]
fn the_factors_of_the_pocket_guide_come_out_with_its_conventional_molar_volume() {
    for (substance, molar_mass, printed) in POCKET_GUIDE {
        let found = mg_per_m3_of_one_ppm(molar_mass, &["--molar-volume", "24.45 L/mol"]);
        assert!(
            (found - printed.parse::<f64>().unwrap()).abs() <= 0.005,
            "{substance}: {found}, printed {printed}"
        );
    }
}

/// The gas law differs from 24.45 L/mol by 0.06 %, which shows only where the second decimal stands on an edge.
#[test]
fn the_gas_law_gives_the_factors_of_the_pocket_guide_within_a_hundredth() {
    for (substance, molar_mass, printed) in POCKET_GUIDE {
        let found = mg_per_m3_of_one_ppm(molar_mass, &[]);
        assert!(
            (found - printed.parse::<f64>().unwrap()).abs() <= 0.01,
            "{substance}: {found}, printed {printed}"
        );
    }
}

/// NIOSH documentation of IDLH values, hydrogen sulfide, read: 10 ppm stands for 14 mg/m3, 15 ppm for 21 mg/m3.
#[test]
fn the_paired_limits_of_hydrogen_sulfide_come_out_as_printed() {
    let pair = |ppm: &str| converted(&[ppm, "--to", "mg/m3", "--molar-mass", "34.08"]);
    assert_printed(pair("10 ppm"), "14");
    assert_printed(pair("15 ppm"), "21");
}

/// French Labour Code, article R231-58 (2003 text), read: benzene 1 ppm is 3.25 mg/m3 at 20 C and 101.3 kPa. Its pair
/// for vinyl chloride, 2.59, is cut rather than rounded from 2.598 and is left out.
#[test]
fn benzene_at_20_c_and_101_3_kpa_gives_the_printed_3_25() {
    assert_printed(
        mg_per_m3_of_one_ppm("78.11", &["--temperature", "20 C", "--pressure", "101.3 kPa"]),
        "3.25",
    );
}

/// Ideal gas, 34.08 g/mol, computed with fifty digits by another program. The gas constant is entered with the ten
/// digits of its customary print, which differs from its exact value by 2 in 10^11.
#[test]
fn ten_ppm_at_other_temperatures_and_pressures_follow_the_ideal_gas() {
    for (temperature, pressure, wanted) in [
        ("25 C", "101.325 kPa", 13.929874373635),
        ("20 C", "101.325 kPa", 14.167463907553),
        ("35 C", "101.325 kPa", 13.477825878628),
        ("25 C", "84 kPa", 11.548082382288),
        ("0 C", "70 kPa", 10.504181958262),
    ] {
        let words = [
            "10 ppm",
            "--to",
            "mg/m3",
            "--molar-mass",
            "34.08",
            "--temperature",
            temperature,
            "--pressure",
            pressure,
        ];
        let found = converted(&words);
        assert!((found - wanted).abs() <= 3e-11 * wanted, "{temperature}, {pressure}: {found}, not {wanted}");
    }
}

#[test]
fn there_and_back_gives_the_same_number() {
    for unit in ["mg/m3", "ug/m3", "ppb"] {
        let there = converted(&["25 ppm", "--to", unit, "--molar-mass", "17.03"]);
        let back = converted(&[&format!("{there} {unit}"), "--to", "ppm", "--molar-mass", "17.03"]);
        assert!((back - 25.0).abs() < 1e-12, "{unit}: {back}");
    }
}

#[test]
fn a_conversion_tells_its_formula_and_what_went_into_it() {
    for (amount, to, formula, inputs) in [
        ("25 ppm", "ug/m3", "mg/m3 = ppm x M / V", "C M V"),
        ("10 mg/m3", "ppb", "ppm = mg/m3 x V / M", "C M V"),
        ("25 ppm", "ppb", "1 ppm = 1000 ppb, 1 mg/m3 = 1000 ug/m3", "C"),
    ] {
        let ran = fullshift(&["convert", amount, "--to", to, "--molar-mass", "17.03", "--format", "json"]);
        let json: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
        let step = &json["result"]["trail"][0];
        let names = step["inputs"].as_array().unwrap().iter().map(|input| input["name"].as_str().unwrap());
        assert_eq!(step["formula"], formula);
        assert_eq!(names.collect::<Vec<_>>().join(" "), inputs);
    }
}

#[test]
fn what_cannot_be_converted_is_refused_in_words() {
    for (words, part) in [
        (&["25", "--to", "mg/m3", "--molar-mass", "17.03"][..], "unit"),
        (&["25 ppm", "--to", "mg/m3"], "molar mass"),
        (&["25 ppm", "--to", "mg"], "mg"),
        (&["25 ppm", "--to", "mg/m3", "--molar-mass", "0"], "molar mass"),
        (&["NaN ppm", "--to", "mg/m3", "--molar-mass", "17.03"], "NaN"),
        (&["25 ppm", "--to", "mg/m3", "--molar-mass", "17.03", "--temperature", "-300 C"], "-273.15"),
        (&["25 ppm", "--to", "mg/m3", "--molar-mass", "17.03", "--pressure", "0 kPa"], "pressure"),
        (&["1e400 ppm", "--to", "mg/m3", "--molar-mass", "17.03"], "1e400"),
        (&["1e200 ppm", "--to", "mg/m3", "--molar-mass", "1e200"], "larger than a number can be"),
    ] {
        let ran = fullshift(&[&["convert"], words].concat());
        assert_eq!(ran.code, 2, "{words:?}: {}{}", ran.out, ran.talk);
        assert!(ran.out.is_empty() && ran.talk.contains(part), "{words:?}: {}", ran.talk);
    }
}

#[test]
fn a_negative_amount_is_refused_in_our_own_words_however_it_is_typed() {
    for words in [&["convert", "-25 ppm"][..], &["convert", "-25", "ppm"]] {
        let ran = fullshift(&[words, &["--to", "mg/m3", "--molar-mass", "17.03"]].concat());
        assert_eq!(ran.code, 2);
        assert!(ran.talk.contains("a concentration cannot be -25"), "{}", ran.talk);
    }
}

#[test]
fn a_comma_that_may_part_thousands_is_refused() {
    let asked = |amount| fullshift(&["convert", amount, "--to", "mg/m3", "--molar-mass", "17.03"]);
    let ran = asked("1,000 ppm");
    assert_eq!(ran.code, 2, "{}", ran.out);
    assert!(ran.talk.contains("the comma in `1,000` may part decimals or thousands: write a decimal point"));
    assert_eq!(asked("20,5 ppm").code, 0);
}
