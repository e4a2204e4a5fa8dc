//! The schema of `study.yaml`, held against every fixture study by a validator that knows nothing of the program.

use fullshift_tests::{fixture, fullshift, studies_in};
use jsonschema::Validator;
use serde_json::{Value, json};
use std::path::Path;

fn schema() -> Value {
    let ran = fullshift(&["schema"]);
    assert_eq!(ran.code, 0, "{}", ran.talk);
    serde_json::from_str(&ran.out).unwrap()
}

fn validator() -> Validator {
    jsonschema::validator_for(&schema()).expect("the schema is a schema")
}

/// The values of a study file as an editor sees them: YAML read into JSON.
fn values(study: &Path) -> Option<Value> {
    let text = std::fs::read_to_string(study.join("study.yaml")).ok()?;
    fullshift_engine::values(&text)
}

#[test]
fn every_study_that_can_be_assessed_fits_the_schema() {
    let validator = validator();
    for study in [studies_in("studies"), studies_in("worked")].concat() {
        let values = values(&study).expect("a fixture study is YAML");
        let wrong: Vec<String> =
            validator.iter_errors(&values).map(|e| format!("{}: {e}", e.instance_path())).collect();
        assert!(wrong.is_empty(), "{}: {wrong:?}", study.display());
    }
}

/// Findings about the form of the study file alone, which a schema can see.
const OF_FORM: [&str; 4] = ["F201", "F203", "F204", "F207"];

#[test]
fn a_broken_study_file_whose_form_is_at_fault_is_refused() {
    let validator = validator();
    let mut refused = 0;
    for study in studies_in("broken") {
        let checked = fullshift_engine::check(&study, None);
        let of_form = checked
            .findings
            .iter()
            .filter(|f| OF_FORM.contains(&f.code) && f.places.iter().any(|p| p.file == "study.yaml"));
        let (Some(finding), Some(values)) = (of_form.into_iter().next(), values(&study)) else { continue };
        // Whether a time zone exists, or a rule, and what can be decided about a finding, only the program knows; so with
        // the parts of a text.
        if ["time zone", "amines", "decide"].iter().any(|words| finding.message.contains(words)) {
            continue;
        }
        assert!(!validator.is_valid(&values), "{}: {}", study.display(), finding.message);
        refused += 1;
    }
    assert!(refused >= 8, "only {refused} broken studies were tried");
}

#[test]
fn a_slip_in_any_part_of_the_file_is_refused() {
    let validator = validator();
    let whole = values(&fixture("studies/composting-hall")).unwrap();
    let slips: [(&str, Value); 8] = [
        ("/limits/0/value", json!("20")),
        ("/limits/0/value", json!(20)),
        ("/limits/0/kind", json!("tva")),
        ("/tubes/NH3-M/marks", json!("5, 10")),
        ("/tubes/NH3-M/stroke_time", json!("1 ppm")),
        ("/tubes/NH3-M/expires/2611-M", json!("31.05.2028")),
        ("/groups/hall-operators", json!({"agents": ["ammonia"], "peopel": 3})),
        ("/study", json!({"title": "without a site"})),
    ];
    for (place, slip) in slips {
        let mut wrong = whole.clone();
        *wrong.pointer_mut(place).unwrap_or_else(|| panic!("{place} is not in the demo")) = slip.clone();
        assert!(!validator.is_valid(&wrong), "{place}: {slip} passes");
    }
}

#[test]
fn a_new_study_has_the_schema_that_its_first_line_names() {
    let folder = tempfile::tempdir().unwrap();
    let ran = fullshift(&["start".as_ref(), folder.path().as_os_str()]);
    assert_eq!(ran.code, 0, "{}", ran.talk);
    let study = std::fs::read_to_string(folder.path().join("study.yaml")).unwrap();
    let named =
        study.lines().next().unwrap().split("$schema=./").nth(1).expect("the first line names the schema");
    let laid: Value = serde_json::from_slice(&std::fs::read(folder.path().join(named)).unwrap()).unwrap();
    assert_eq!(laid, schema());
}

#[test]
fn every_shell_gets_its_completions() {
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let ran = fullshift(&["completions", shell]);
        assert_eq!(ran.code, 0, "{}", ran.talk);
        assert!(
            ["assess", "schema", "completions"].iter().all(|word| ran.out.contains(word)),
            "{shell}: {}",
            ran.out
        );
    }
    assert_eq!(fullshift(&["completions", "abacus"]).code, 2);
}
