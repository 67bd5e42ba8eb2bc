//! The side list and what lies over the board, worked by accessible name and by key, with no display.

mod window_hand;
mod window_house;

use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use pattress::window::Board;
use pattress::window::intent::{Intent, Overlay, PathFor, Selecting, Viewing};
use pattress::window::session::Stage;
use pattress_model::edit::Subject;
use pattress_model::systems::RuleBody;

use egui::Key;
use egui::Role;

use window_hand::{click, do_it, kitchen, type_in};

#[test]
fn the_finder_finds_a_device_by_its_tag_and_selects_it() {
    let mut harness = kitchen();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, Key::F);
    harness.run();
    harness.get_by_role_and_label(Role::TextInput, "Find anything").type_text("dl-02");
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    let session = harness.state().session();
    let Some(Subject::Device(id)) = session.only_selected() else { panic!("{:?}", session.selection()) };
    assert_eq!(session.project().devices.get(id).unwrap().tag.to_string(), "DL-02");
    assert!(harness.query_by_label("Find anything").is_none(), "the finder is still open");
}

#[test]
fn arrow_keys_move_the_pick_in_the_finder() {
    let mut harness = kitchen();
    do_it(&mut harness, Intent::Open(Overlay::Finder));
    harness.get_by_role_and_label(Role::TextInput, "Find anything").type_text("dl-0");
    harness.run();
    harness.key_press(Key::ArrowDown);
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    let session = harness.state().session();
    let Some(Subject::Device(id)) = session.only_selected() else { panic!("{:?}", session.selection()) };
    assert_eq!(session.project().devices.get(id).unwrap().tag.to_string(), "DL-02");
}

#[test]
fn bare_keys_of_the_board_rest_while_something_lies_over_it() {
    let mut harness = kitchen();
    let device = harness.state().session().project().devices.ids().next().unwrap();
    do_it(&mut harness, Intent::Select(Selecting::Only(vec![Subject::Device(device)])));
    do_it(&mut harness, Intent::Open(Overlay::Keys));
    harness.key_press(Key::Delete);
    harness.run();
    assert!(harness.state().session().project().devices.contains(device));
    harness.key_press(Key::Escape);
    harness.run();
    assert!(harness.query_by_label("Close (Esc)").is_none());
    // The Escape that closed the overlay did not also drop the selection.
    assert_eq!(harness.state().session().only_selected(), Some(Subject::Device(device)));
    harness.key_press(Key::Delete);
    harness.run();
    let session = harness.state().session();
    assert!(session.project().devices.contains(device), "a rule speaks of the plate, so it stays");
    assert!(harness.state().said().refused);
}

#[test]
fn a_rule_reads_as_a_sentence_and_is_switched_off() {
    let mut harness = kitchen();
    harness.get_by_role_and_label(Role::Link, "PL-01 key 1");
    harness.get_by_role_and_label(Role::Link, "Kitchen ceiling");
    let switch = harness.get_by_label("Switch off: Kitchen light");
    assert_eq!(switch.accesskit_node().toggled(), Some(egui::accesskit::Toggled::True));
    switch.click();
    harness.run();
    let rule = harness.state().session().project().rules.iter().next().unwrap().1.clone();
    assert!(!rule.enabled);
    click(&mut harness, "Switch on: Kitchen light");
    assert!(harness.state().session().project().rules.iter().next().unwrap().1.enabled);
}

#[test]
fn words_of_a_rule_point_at_the_plan_and_select_there() {
    let mut harness = kitchen();
    let project = harness.state().session().project().clone();
    let plate = project.devices.iter().find(|(_, device)| device.tag.code == "PL").unwrap().0;
    harness.get_by_role_and_label(Role::Link, "PL-01 key 1").hover();
    harness.run();
    assert_eq!(harness.state().session().pointed_at(), Some(Subject::Device(plate)));
    harness.get_by_label("Rule Kitchen light").hover();
    harness.run();
    let rule = Subject::Rule(project.rules.ids().next().unwrap());
    assert_eq!(harness.state().session().pointed_at(), Some(rule));
    harness.get_by_role_and_label(Role::Link, "PL-01 key 1").click();
    harness.run();
    assert_eq!(harness.state().session().only_selected(), Some(Subject::Device(plate)));
}

#[test]
fn looking_at_an_editor_changes_nothing() {
    let mut harness = kitchen();
    let project = harness.state().session().project().clone();
    let rule = project.rules.ids().next().unwrap();
    let overlays = project.kinds.ids().map(Overlay::KindEditor).chain([
        Overlay::RuleEditor(rule),
        Overlay::Site,
        Overlay::Array,
        Overlay::NewRule,
        Overlay::Preview,
    ]);
    for overlay in overlays {
        do_it(&mut harness, Intent::Open(overlay.clone()));
        harness.run();
        do_it(&mut harness, Intent::CloseOverlay);
        assert_eq!(harness.state().session().project(), &project, "{overlay:?}");
        assert_eq!(harness.state().session().history().labels().count(), 0, "{overlay:?}");
        assert!(!harness.state().said().refused, "{overlay:?}: {:?}", harness.state().said());
    }
}

#[test]
fn a_new_rule_starts_from_a_template_and_opens() {
    let mut harness = kitchen();
    click(&mut harness, "New rule");
    harness.get_by_role_and_label(Role::Button, "Light on motion").click();
    harness.run();
    let project = harness.state().session().project().clone();
    let (_, rule) = project.rules.iter().next_back().unwrap();
    let RuleBody::While { conditions, settings, .. } = &rule.body else { panic!("{rule:?}") };
    assert_eq!((conditions.len(), settings.len()), (2, 1));
    harness.get_by_role_and_label(Role::TextInput, "Name of the rule");
}

#[test]
fn a_template_that_lacks_something_says_so_and_makes_nothing() {
    let mut harness = kitchen();
    do_it(&mut harness, Intent::Open(Overlay::NewRule));
    harness.get_by_role_and_label(Role::Button, "Leak").click_accesskit();
    harness.run();
    assert_eq!(harness.state().session().project().rules.len(), 1);
    assert!(harness.query_by_label_contains("there is no leak detector").is_some());
}

#[test]
fn a_device_is_taken_out_of_its_zone_and_put_back() {
    let mut harness = kitchen();
    click(&mut harness, "Zones 1");
    click(&mut harness, "Edit zone Kitchen ceiling");
    click(&mut harness, "Take DL-01 out of Kitchen ceiling");
    let zone = |harness: &Harness<'static, Board>| {
        harness.state().session().project().zones.iter().next().unwrap().1.clone()
    };
    assert_eq!(zone(&harness).points.len(), 1);
    let lamp = harness
        .state()
        .session()
        .project()
        .devices
        .iter()
        .find(|(_, device)| device.tag.to_string() == "DL-01")
        .unwrap()
        .0;
    do_it(&mut harness, Intent::Select(Selecting::Only(vec![Subject::Device(lamp)])));
    click(&mut harness, "Add 1 device selected to Kitchen ceiling");
    assert_eq!(zone(&harness).points.len(), 2);
    type_in(&mut harness, "Name of the zone", "Ceiling of the kitchen");
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(zone(&harness).name, "Ceiling of the kitchen");
}

#[test]
fn the_title_block_is_filled_in() {
    let mut harness = kitchen();
    do_it(&mut harness, Intent::Open(Overlay::Site));
    type_in(&mut harness, "Client", "A. Ferryman");
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(harness.state().session().project().site.client, "A. Ferryman");
    type_in(&mut harness, "Price of one hour of fitting", "lots");
    harness.key_press(Key::Enter);
    harness.run();
    assert!(harness.state().said().refused);
    assert!(harness.state().said().sentence.contains("lots"));
}

#[test]
fn a_point_of_a_kind_is_renamed_and_its_rule_with_it() {
    let mut harness = kitchen();
    let project = harness.state().session().project().clone();
    let plate = project.kinds.iter().find(|(_, kind)| kind.code == "PL").unwrap().0;
    do_it(&mut harness, Intent::Open(Overlay::KindEditor(plate)));
    type_in(&mut harness, "Point 1", "key by the door");
    harness.key_press(Key::Enter);
    harness.run();
    let project = harness.state().session().project();
    assert!(project.kinds.get(plate).unwrap().point("key by the door").is_some());
    assert_eq!(project.rules.iter().next().unwrap().1.points()[0].point, "key by the door");
}

#[test]
fn rows_and_columns_are_placed_in_the_room() {
    let mut harness = kitchen();
    do_it(&mut harness, Intent::Open(Overlay::Array));
    type_in(&mut harness, "Columns", "3");
    harness.key_press(Key::Enter);
    harness.run();
    assert!(harness.query_by_label_contains("6 devices").is_some());
    click(&mut harness, "Place");
    let project = harness.state().session().project();
    assert_eq!(project.devices.iter().filter(|(_, device)| device.tag.code == "DL").count(), 8);
}

#[test]
fn a_path_that_is_not_there_is_asked_for_in_place() {
    let mut harness = kitchen();
    do_it(&mut harness, Intent::Open(Overlay::TypePath(PathFor::Drawing)));
    click(&mut harness, "Read it");
    assert!(harness.query_by_label_contains("There is no path yet").is_some());
    harness.get_by_role_and_label(Role::TextInput, "Path").type_text("scan.png");
    harness.run();
    click(&mut harness, "Read it");
    assert!(harness.query_by_label("Path").is_none());
}

#[test]
fn every_stage_has_its_list() {
    let mut harness = kitchen();
    for (stage, words) in [
        (Stage::Survey, "Levels"),
        (Stage::FirstFix, "Marking list"),
        (Stage::AsBuilt, "Changes"),
        (Stage::Design, "Rules 1"),
    ] {
        do_it(&mut harness, Intent::View(Viewing::Stage(stage)));
        assert!(harness.query_by_label(words).is_some(), "{stage:?}");
    }
    do_it(&mut harness, Intent::View(Viewing::Stage(Stage::FirstFix)));
    assert_eq!(harness.query_all_by_label_contains("mm from the corner").count(), 2);
    click(&mut harness, "Device PL-01");
    assert!(matches!(harness.state().session().only_selected(), Some(Subject::Device(_))));
}

#[test]
fn sheets_are_turned_with_the_page_keys() {
    let mut harness = kitchen();
    do_it(&mut harness, Intent::Open(Overlay::Preview));
    let picked = |harness: &Harness<'static, Board>| {
        harness
            .query_all_by_role(Role::ListBoxOption)
            .position(|node| node.accesskit_node().toggled() == Some(egui::accesskit::Toggled::True))
    };
    assert_eq!(picked(&harness), Some(0));
    harness.key_press(Key::PageDown);
    harness.run();
    assert_eq!(picked(&harness), Some(1));
    harness.key_press(Key::PageUp);
    harness.run();
    assert_eq!(picked(&harness), Some(0));
}

#[test]
fn unsaved_work_is_asked_about() {
    let mut harness = kitchen();
    let after = pattress::window::intent::AfterSaving::New;
    do_it(&mut harness, Intent::Open(Overlay::Unsaved(after)));
    for button in ["Save", "Don’t save", "Cancel"] {
        assert!(harness.query_all_by_role_and_label(Role::Button, button).count() > 0, "{button}");
    }
    click(&mut harness, "Cancel");
    assert!(harness.query_by_label("Don’t save").is_none());
}

#[test]
fn words_are_written_on_a_key_and_the_legend_is_marked_final() {
    let mut harness = kitchen();
    let plate = |harness: &Harness<'static, Board>| {
        let project = harness.state().session().project().clone();
        let found = project.devices.iter().find(|(_, device)| device.tag.code == "PL").unwrap();
        (found.0, found.1.legend.clone())
    };
    let (id, _) = plate(&harness);
    do_it(&mut harness, Intent::Select(Selecting::Only(vec![Subject::Device(id)])));
    type_in(&mut harness, "key 1, first line", "Worktop");
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(plate(&harness).1.of("key 1").unwrap().words[0], "Worktop");
    harness.get_by_label("Mark the legend final").click_accesskit();
    harness.run();
    let (_, legend) = plate(&harness);
    assert!(legend.is_final && legend.keys.len() == 4, "{legend:?}");
    assert!(legend.of("key 1").unwrap().did[0].starts_with("one press: "), "{legend:?}");
    assert!(
        harness.query_by_label("key 1, first line").is_none(),
        "what is engraved can still be typed over"
    );
    harness.get_by_label("Legend is final").click_accesskit();
    harness.run();
    assert!(!plate(&harness).1.is_final);
}
