//! The client guide: whom to call, the modes of the house, what works without the hub, and room by room what happens by
//! itself, every rule as its own sentence in plain words.

use super::Page;
use super::handout::{head, lines, pair, set, subhead, width};
use super::told::{Told, rules_under};
use crate::drawing::Role;
use crate::drawing::sheets::flow::Block;
use crate::drawing::sheets::pen::Hand;
use crate::id::Id;
use crate::kit::Family;
use crate::plan::Room;
use crate::sentence::{mode_words, scene_sentence};
use crate::systems::{Deed, HouseMode, Rule, RuleBody, Trigger};

/// Width of the column in which names of rules stand, mm.
const NAME_MM: f64 = 44.0;

const BODY: Hand = Hand::regular(Role::Body, 2.5);
const RED: Hand = Hand::regular(Role::Missing, 2.5);
const CAUTION: Hand = Hand::regular(Role::Caution, 2.5);

/// The sheets of the guide.
pub(super) fn pages(told: &Told<'_>) -> Vec<Page> {
    let mut blocks = head(&format!("{}: how the house behaves", told.project.site.project_name), 7.0);
    say(
        &mut blocks,
        BODY,
        &[
            "Rule by rule what the house does by itself, as it was designed. What keys do is on the client page of each room.",
            "Rules that are switched off are left out.",
        ],
    );
    say(&mut blocks, CAUTION, &["It tells how the house is watched: keep it where visitors do not read it."]);
    whom_to_call(told, &mut blocks);
    modes(told, &mut blocks);
    without_the_hub(told, &mut blocks);
    section(told, &mut blocks, "The whole house", None, &rules_under(told.project, None));
    for room in &told.rooms {
        section(told, &mut blocks, &room.name, Some(room.id), &room.rules);
    }
    set("Client guide by room", &blocks, &[])
}

fn say(blocks: &mut Vec<Block>, hand: Hand, sentences: &[&str]) {
    for sentence in sentences {
        blocks.extend(lines(sentence, hand, width(), "", 1.5));
    }
}

fn list(blocks: &mut Vec<Block>, hand: Hand, sentence: &str) {
    blocks.extend(lines(sentence, hand, width(), "–", 1.5));
}

fn whom_to_call(told: &Told<'_>, blocks: &mut Vec<Block>) {
    blocks.push(subhead("Whom to call", 5.0));
    let call = told.project.site.call.trim();
    if call.is_empty() {
        list(blocks, RED, "Whom the household calls is missing: name somebody under title block and site.");
    } else {
        list(blocks, BODY, &format!("When something does not work: {call}."));
    }
    let danger = "Fire, smoke, gas or carbon monoxide: leave the house, then call the emergency number (999 or 112 in \
                  the UK).";
    list(blocks, CAUTION, danger);
    list(blocks, CAUTION, "Anything on the mains: a competent electrician, and nobody else.");
}

/// Each mode: which rules set it, and what happens then.
fn modes(told: &Told<'_>, blocks: &mut Vec<Block>) {
    if told.project.modes.is_empty() {
        return;
    }
    blocks.push(subhead("Modes of the house", 5.0));
    let modes = std::iter::once(HouseMode::AtHome).chain(told.project.modes.ids().map(HouseMode::Named));
    let on = || told.project.rules.iter().filter(|(_, rule)| rule.enabled);
    for mode in modes {
        let sets = on().filter(|(_, rule)| match &rule.body {
            RuleBody::When { actions, .. } => {
                actions.iter().any(|action| action.deed == Deed::EnterMode(mode))
            }
            _ => false,
        });
        let sets: Vec<&str> = sets.map(|(_, rule)| rule.name.as_str()).collect();
        let mut said = vec![if sets.is_empty() {
            "Set by hand at a screen.".to_owned()
        } else {
            format!("Set by: {}.", sets.join("; "))
        }];
        let follows = on().filter(|(_, rule)| {
            matches!(&rule.body, RuleBody::When { trigger: Trigger::ModeEntered(entered), .. } if *entered == mode)
        });
        said.extend(follows.map(|(id, _)| told.sentence(id)));
        blocks.extend(pair(&mode_words(told.project, mode), &said, NAME_MM, BODY));
    }
}

fn without_the_hub(told: &Told<'_>, blocks: &mut Vec<Block>) {
    blocks.push(subhead("What works without the hub", 5.0));
    let wired: Vec<Id<Rule>> = told
        .project
        .rules
        .iter()
        .filter(|(_, rule)| rule.enabled && matches!(rule.body, RuleBody::Wired { .. }))
        .map(|(id, _)| id)
        .collect();
    for rule in &wired {
        list(blocks, BODY, &told.sentence(*rule));
    }
    if wired.is_empty() {
        let none =
            "No key is wired to what it switches: while the hub is down no light can be switched at a key.";
        list(blocks, RED, none);
    }
    let has_alarms = told.project.devices.iter().any(|(_, device)| {
        told.project.kinds.get(device.kind).is_some_and(|kind| kind.family == Family::FireAndCo)
    });
    if has_alarms {
        let alarms = "Smoke, heat and carbon monoxide alarms sound by themselves; no rule of the house is needed for it.";
        list(blocks, BODY, alarms);
    }
    list(blocks, BODY, "All else waits until the hub runs again.");
}

/// A room, or the whole house: its scenes, and its rules by name.
fn section(told: &Told<'_>, blocks: &mut Vec<Block>, name: &str, room: Option<Id<Room>>, rules: &[Id<Rule>]) {
    let scenes: Vec<String> = told
        .named
        .scenes
        .iter()
        .filter(|(_, scene)| scene.room == room)
        .map(|(_, scene)| scene_sentence(&told.named, scene).into_iter().map(|phrase| phrase.words).collect())
        .collect();
    if rules.is_empty() && scenes.is_empty() {
        return;
    }
    blocks.push(subhead(name, 5.0));
    for id in rules {
        let name = told.project.rules.get(*id).map_or("", |rule| rule.name.as_str());
        blocks.extend(pair(name, &[told.sentence(*id)], NAME_MM, BODY));
    }
    for scene in scenes {
        list(blocks, BODY, &scene);
    }
}
