//! Lists of shift figures that many workings share: written out once, then referred to.

use crate::language::Sentences;
use fullshift_engine::model::{Input, Step};

/// Fewer inputs than this are always written out.
const FEWEST: usize = 4;

/// The lists written out so far, each with the address of the figure under which it stands.
pub(super) struct Repeats {
    written: Vec<(Vec<Input>, String)>,
    say: &'static Sentences,
}

impl Repeats {
    pub(super) fn told_in(say: &'static Sentences) -> Self {
        Repeats { written: Vec::new(), say }
    }

    /// The step, with a list that stands under another figure already replaced by a reference to it.
    pub(super) fn shortened(&mut self, step: &Step, address: &str) -> Step {
        let listed = |input: &Input| !input.name.is_empty() && input.name == input.from;
        let Some(first) = step.inputs.iter().position(listed) else { return step.clone() };
        let count = step.inputs[first..].iter().take_while(|input| listed(input)).count();
        let list = &step.inputs[first..first + count];
        if count < FEWEST {
            return step.clone();
        }
        let Some((_, known)) = self.written.iter().find(|(known, _)| known == list) else {
            self.written.push((list.to_vec(), address.to_owned()));
            return step.clone();
        };
        let name = self.say.shift_figures.replace("{n}", &count.to_string());
        let reference = Input::new(name, self.say.as_listed, known.as_str());
        let mut short = step.clone();
        short.inputs.splice(first..first + count, [reference]);
        short
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language;
    use fullshift_engine::model::ReportLanguage;

    fn step(values: &[&str]) -> Step {
        let value = |name: &&str| Input::new(*name, "1 ppm", *name);
        let n = Input::new("n", 4, "shifts with a figure");
        let inputs = std::iter::once(n).chain(values.iter().map(value)).collect();
        Step { name: String::new(), formula: String::new(), inputs, result: String::new(), source: "" }
    }

    #[test]
    fn a_list_is_written_out_once_and_another_list_again() {
        let mut repeats = Repeats::told_in(&language::of(ReportLanguage::English).say);
        let (one, other) = (step(&["a", "b", "c", "d"]), step(&["a", "b", "c", "e"]));
        assert_eq!(repeats.shortened(&one, "gm"), one);
        let short = repeats.shortened(&one, "gsd");
        assert_eq!(short.inputs[1], Input::new("4 shift figures", "as listed", "gm"));
        assert_eq!(short.inputs.len(), 2);
        assert_eq!(repeats.shortened(&other, "p95"), other);
    }
}
