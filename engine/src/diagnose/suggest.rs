//! The nearest known name.

/// Longest name that is compared; no slip of the pen makes one longer.
const LONGEST: usize = 64;

/// `did you mean ...?` where one of the known names is near, else the known names themselves.
pub fn nearest<'a>(wrong: &str, known: impl Iterator<Item = &'a str> + Clone) -> String {
    match near(wrong, known.clone(), slips) {
        Some(name) => format!("did you mean `{name}`?"),
        None => listed(known),
    }
}

/// The known name from which the fewest slips of the pen part a wrong one, no more than `allowed`; capitals do not count.
pub fn near<'a>(
    wrong: &str,
    known: impl Iterator<Item = &'a str>,
    allowed: impl Fn(&str, &str) -> usize,
) -> Option<&'a str> {
    let wrong = if wrong.len() <= LONGEST { wrong } else { "" };
    let near = known
        .filter(|name| !wrong.is_empty() && name.len() <= LONGEST)
        .map(|name| (strsim::damerau_levenshtein(&wrong.to_lowercase(), &name.to_lowercase()), name))
        .filter(|(distance, name)| *distance <= allowed(wrong, name))
        .min_by_key(|(distance, _)| *distance);
    near.map(|(_, name)| name)
}

/// How many slips of the pen part two names that may be meant for one: `tva` and `twa`, `W11` and `W1`, but not `P2`
/// and `P1`.
fn slips(wrong: &str, name: &str) -> usize {
    let (a, b) = (wrong.chars().count(), name.chars().count());
    let numbered = |text: &str| text.contains(|c: char| c.is_ascii_digit());
    match a.min(b) {
        0..=1 => 0,
        2..=3 if a == b && (numbered(wrong) || numbered(name)) => 0,
        2..=5 => 1,
        6..=8 => 2,
        _ => 3,
    }
}

fn listed<'a>(known: impl Iterator<Item = &'a str>) -> String {
    let names: Vec<_> = known.take(13).map(|n| format!("`{n}`")).collect();
    match names.len() {
        0 => "none is declared yet".to_owned(),
        1..=12 => format!("possible here: {}", names.join(", ")),
        _ => format!("possible here: {}, ...", names[..12].join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_slip_of_one_letter_finds_its_word() {
        assert_eq!(nearest("taks", ["task", "tube"].into_iter()), "did you mean `task`?");
    }

    #[test]
    fn another_short_name_is_no_slip() {
        assert_eq!(nearest("P2", ["P1"].into_iter()), "possible here: `P1`");
        assert_eq!(nearest("p1", ["P1"].into_iter()), "did you mean `P1`?");
    }

    #[test]
    fn a_stranger_gets_the_list() {
        assert_eq!(nearest("zebra", ["task", "tube"].into_iter()), "possible here: `task`, `tube`");
    }
}
