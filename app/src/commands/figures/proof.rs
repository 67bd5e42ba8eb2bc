//! What trying a plan's rules in every order showed: faults with their scripts, and how far the search went.

use std::sync::Arc;

use pattress_model::project::Project;
use pattress_model::studies::rehearsal::RuleBook;
use pattress_model::studies::rehearsal::proof::{
    MOST_STEPS_OF_A_HOUSE, fault_sentence, how_far, prove_house, reach_sentence, script_of, step_sentence,
};
use serde_json::{Value, json};

use super::{list, words};
use crate::rehearsing::proof_options;

/// The search of the whole house.
pub(super) fn proof_json(project: &Project) -> Value {
    let options = proof_options(project);
    let proof = prove_house(project, &options, MOST_STEPS_OF_A_HOUSE, || true);
    let book = Arc::new(RuleBook::of(project));
    let faults: Vec<Value> = proof
        .faults
        .iter()
        .map(|fault| {
            let rules = fault.rules.iter().filter_map(|rule| project.rules.get(*rule));
            let steps: Vec<String> = fault.script.iter().map(|step| step_sentence(project, step)).collect();
            let script = script_of(project, &book, fault, &options);
            json!({
                "sentence": fault_sentence(project, fault),
                "rules": rules.map(|rule| rule.name.as_str()).collect::<Vec<_>>(),
                "start": options.clock.shows(fault.start).map(|local| local.to_string()),
                "steps": steps,
                "script": script.map(|script| script.lines),
            })
        })
        .collect();
    let rooms: Vec<Value> = proof
        .rooms
        .iter()
        .map(|room| {
            json!({
                "name": project.rooms.get(room.room).map(|room| room.name.as_str()),
                "rules": room.rules.len(),
                "two_state_inputs": room.two_state_inputs,
                "whole": room.is_whole(),
                "tried_up_to_steps": if room.is_whole() { Value::Null } else { json!(room.depth()) },
                "sentence": reach_sentence(project, room, options.clock),
            })
        })
        .collect();
    let not_begun = proof.not_begun.iter().filter_map(|room| project.rooms.get(*room));
    json!({
        "date": options.date.to_string(),
        "how_far": how_far(project, &proof),
        "rooms": rooms,
        "not_begun": not_begun.map(|room| room.name.as_str()).collect::<Vec<_>>(),
        "faults": faults,
    })
}

/// The same in words.
pub(super) fn proof_lines(proof: &Value) -> Vec<String> {
    let mut lines = vec![String::new(), format!("Rules tried in every order: {}", words(&proof["how_far"]))];
    lines.extend(list(&proof["rooms"]).iter().map(|room| format!("  {}", words(&room["sentence"]))));
    for fault in list(&proof["faults"]) {
        lines.push(format!("  {}", words(&fault["sentence"])));
        lines.push(format!("    from {}", words(&fault["start"])));
        lines.extend(list(&fault["steps"]).iter().map(|step| format!("    {}", words(step))));
    }
    lines
}
