use super::addresses::{Addresses, Lost};
use crate::page::terminal;
use crate::summary::samples::assessment;

#[test]
fn every_figure_of_a_shift_a_task_and_a_group_has_an_address() {
    let assessment = assessment(1);
    let addresses = Addresses::of(&assessment);
    for address in [
        "hall-operators/ammonia/twa/p95",
        "hall-operators/ammonia/short-term/gm",
        "W1/2027-03-08/ammonia/twa",
        "W1/2027-03-08/ammonia/short-term",
        "W1/2027-03-08/ammonia/highest-reading",
        "W1/2027-03-08/ammonia/turning",
        "R1",
    ] {
        assert!(addresses.at(address).is_some(), "{address}");
    }
}

#[test]
fn the_agent_may_be_left_out_where_one_figure_fits() {
    let assessment = assessment(1);
    let addresses = Addresses::of(&assessment);
    assert_eq!(addresses.meant("W1/2027-03-08/twa").unwrap().address, "W1/2027-03-08/ammonia/twa");
    assert_eq!(addresses.meant("hall-operators/twa/p95").unwrap().address, "hall-operators/ammonia/twa/p95");
}

#[test]
fn a_short_address_that_fits_two_agents_names_both() {
    let mut assessment = assessment(1);
    let mut other = assessment.shifts[0].clone();
    other.agent = "amines".to_owned();
    assessment.shifts.push(other);
    let lost = Addresses::of(&assessment).meant("W1/2027-03-08/twa").unwrap_err();
    let both = ["W1/2027-03-08/ammonia/twa", "W1/2027-03-08/amines/twa"].map(str::to_owned);
    assert_eq!(lost, Lost::Several(both.into()));
}

#[test]
fn a_misspelt_address_gets_the_nearest_one_and_a_shift_its_figures() {
    let assessment = assessment(2);
    let addresses = Addresses::of(&assessment);
    let near = Lost::Unknown(vec!["W2/2027-03-08/ammonia/twa".to_owned()]);
    assert_eq!(addresses.meant("W2/2027-03-08/tva").unwrap_err(), near);
    let Lost::Unknown(under) = addresses.meant("W2/2027-03-08").unwrap_err() else { panic!() };
    assert_eq!(under.len(), 4, "{under:?}");
    assert_eq!(addresses.meant("nothing at all like it").unwrap_err(), Lost::Unknown(Vec::new()));
}

#[test]
fn a_working_leads_down_to_the_tubes() {
    let assessment = assessment(1);
    let addresses = Addresses::of(&assessment);
    let entry = addresses.meant("W1/2027-03-08/twa").unwrap();
    let stops = super::walk(&addresses, entry);
    let way: Vec<(usize, &str)> = stops.iter().map(|s| (s.depth, s.entry.address.as_str())).collect();
    assert_eq!(way, [(0, "W1/2027-03-08/ammonia/twa"), (1, "W1/2027-03-08/ammonia/turning"), (2, "R1")]);
    let text = terminal::page(&super::working(&stops), 100);
    let text = anstream::adapter::strip_str(&text).to_string();
    assert!(
        text.starts_with("W1/2027-03-08/ammonia/twa = 11.2 ppm [8.13, 14.4]\n  weighted\n  TWA: C = R x f\n"),
        "{text}"
    );
    assert!(text.contains("    R1 = 12 ppm\n"), "{text}");
    assert!(
        text.contains("strokes: C = R x f; R = 12 ppm [readings.csv:2:60]; gives 12 ppm [OSHA"),
        "{text}"
    );
}

#[test]
fn a_working_that_refers_to_itself_ends() {
    let mut assessment = assessment(1);
    assessment.readings[0].trail[0].inputs[0].from = "W1/2027-03-08/ammonia/twa".to_owned();
    let addresses = Addresses::of(&assessment);
    let entry = addresses.meant("R1").unwrap();
    assert_eq!(super::walk(&addresses, entry).len(), 3);
}
