//! The nearest known name.

/// Longest name that is compared; no slip of the pen makes one longer.
const LONGEST: usize = 64;

/// `; did you mean ...?` where one of the known names is near, else the known names themselves.
pub fn nearest<'a>(wrong: &str, known: impl Iterator<Item = &'a str> + Clone) -> String {
    let wrong = if wrong.len() <= LONGEST { wrong } else { "" };
    let near = known
        .clone()
        .filter(|name| !wrong.is_empty() && name.len() <= LONGEST)
        .map(|name| (strsim::damerau_levenshtein(&wrong.to_lowercase(), &name.to_lowercase()), name))
        .filter(|(distance, name)| *distance <= 1 + name.chars().count().min(wrong.chars().count()) / 3)
        .min_by_key(|(distance, _)| *distance);
    match near {
        Some((_, name)) => format!("did you mean `{name}`?"),
        None => listed(known),
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
    fn a_stranger_gets_the_list() {
        assert_eq!(nearest("zebra", ["task", "tube"].into_iter()), "possible here: `task`, `tube`");
    }
}
