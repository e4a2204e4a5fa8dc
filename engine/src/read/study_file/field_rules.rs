//! What the study decides about the readings that findings of its field work name.

use super::super::yaml::{Map, Node};
use crate::diagnose::{Action, Code, Decision, Findings, Usually, catalogue, code, nearest};
use crate::model::{FieldRule, Study};
use crate::read::fields::settings::FIELD_RULE;

/// `field_rules:`.
pub fn field_rules(top: &Map, study: &mut Study, findings: &Findings) {
    let Some(node) = top.get("field_rules") else { return };
    let read = |(name, entry): (String, Node)| field_rule(&name, &entry, findings);
    study.field_rules = node.entries(findings).into_iter().filter_map(read).collect();
}

fn field_rule(name: &str, entry: &Node, findings: &Findings) -> Option<FieldRule> {
    let map = entry.map(FIELD_RULE, findings);
    let code = decidable(name, entry, findings);
    let action = map.need("do", "do: qualify", findings);
    let action = action.and_then(|node| action_of(code?, &node, findings));
    let wanted = action.is_some_and(|action| action != Action::Qualify);
    let reason = match wanted {
        true => map.need("reason", "reason: \"the pump was checked, the sheet got lost\"", findings),
        false => map.get("reason"),
    };
    let reason = reason.map_or(Some(String::new()), |node| node.text(findings));
    let (code, action, reason) = (code?, action?, reason?);
    (!wanted || !reason.is_empty()).then_some(FieldRule { code, decision: Decision { action, reason } })
}

/// The finding of a name, if a study can decide anything about it.
fn decidable(name: &str, entry: &Node, findings: &Findings) -> Option<&'static Code> {
    let named = |code: &&Code| code.name == name || code.id == name;
    let open = || catalogue().filter(|code| code.usually != Usually::Undecidable);
    match catalogue().find(named) {
        Some(code) if code.usually != Usually::Undecidable => return Some(code),
        Some(code) => {
            let message = format!("about `{}` there is nothing to decide", code.name);
            let help = format!("put right what it says, see `fullshift explain {}`", code.id);
            findings.report(&code::BAD_CHOICE, entry.key_span(), message, help);
        }
        None => {
            let message = format!("there is no finding called `{name}`");
            findings.report(
                &code::UNKNOWN_NAME,
                entry.key_span(),
                message,
                nearest(name, open().map(|code| code.name)),
            );
        }
    }
    None
}

fn action_of(code: &'static Code, node: &Node, findings: &Findings) -> Option<Action> {
    let action = node.choice(&Action::WORDS, findings)?;
    let choices = code.usually.choices();
    if choices.contains(&action) {
        return Some(action);
    }
    let words: Vec<String> = choices.iter().map(|choice| format!("`{}`", choice.word())).collect();
    let message = format!("`{}` cannot be decided about `{}`", action.word(), code.name);
    findings.report(&code::BAD_CHOICE, node.span(), message, format!("possible here: {}", words.join(", ")));
    None
}
