//! What the report must not be taken for.

use super::telling::Telling;
use crate::page::{Block, Point, Section};

pub(super) fn sections(telling: &Telling<'_>) -> Vec<Section> {
    let say = telling.say();
    let mut section = Section::placed(0, "cautions", say.cautions);
    let cautions = [say.caution_1, say.caution_2, say.caution_3, say.caution_4, say.caution_5];
    let point = |caution: &str| Point { depth: 0, number: None, text: caution.into() };
    section.blocks.push(Block::List(cautions.iter().map(|caution| point(caution)).collect()));
    let mut assumptions = Section::placed(1, "assumptions", say.assumptions);
    let assumed =
        [say.assumption_lognormal, say.assumption_random, say.assumption_independent, say.assumption_diary];
    assumptions.blocks.push(Block::List(assumed.iter().map(|assumption| point(assumption)).collect()));
    vec![section, assumptions]
}
