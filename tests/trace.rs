//! From a printed figure back to the tubes.

use fullshift_tests::{assessment, fixture, fullshift};

fn trace(study: &str, figure: &str) -> fullshift_tests::Ran {
    fullshift(&["trace".as_ref(), fixture(study).as_os_str(), figure.as_ref()])
}

#[test]
fn the_trace_of_a_twa_names_every_tube_behind_it() {
    let ran = trace("studies/by-hand", "W1/2027-03-09/twa");
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.talk);
    for part in ["R1", "R2", "R3", "R4", "R5", "21.875", "480", "8/14", "turning", "screening"] {
        assert!(ran.out.contains(part), "`{part}` is not in the trace:\n{}", ran.out);
    }
}

#[test]
fn the_trace_of_a_reading_shows_every_factor() {
    let ran = trace("worked/tube-corrections", "R4");
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.talk);
    for part in ["10", "101.325", "84", "12.06"] {
        assert!(ran.out.contains(part), "`{part}` is not in the trace:\n{}", ran.out);
    }
}

#[test]
fn every_shift_of_the_demo_can_be_traced_to_its_own_readings() {
    let demo = assessment(&fixture("studies/composting-hall"));
    for shift in demo["shifts"].as_array().unwrap() {
        let [name, agent] = ["shift", "agent"].map(|key| shift[key].as_str().unwrap());
        let ran = trace("studies/composting-hall", &format!("{name}/{agent}/twa"));
        assert_eq!(ran.code, 0, "{name}: {}{}", ran.out, ran.talk);
        for task in shift["tasks"].as_array().unwrap() {
            for reading in task["readings"].as_array().unwrap() {
                assert!(
                    ran.out.contains(reading.as_str().unwrap()),
                    "{reading} is not in the trace of {name}"
                );
            }
        }
    }
}

#[test]
fn a_figure_that_is_not_there_is_answered_with_those_that_are() {
    let ran = trace("studies/by-hand", "W2/2027-03-09/twa");
    assert_eq!(ran.code, 2, "{}{}", ran.out, ran.talk);
    assert!(ran.talk.contains("W1/2027-03-09"), "{}", ran.talk);
}
