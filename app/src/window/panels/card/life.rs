//! Cards of spots and walks: what is lived in the house, as far as sensing goes.

use egui::Ui;
use pattress_model::edit::{Subject, verbs};
use pattress_model::id::Id;
use pattress_model::plan::{Spot, SpotUse, Walk, WalkPurpose};

use super::row;
use crate::window::intent::Intent;
use crate::window::session::Session;

/// A spot.
pub fn spot(ui: &mut Ui, session: &Session, id: Id<Spot>, intents: &mut Vec<Intent>) {
    let project = session.project();
    let Some(spot) = project.spots.get(id) else { return };
    let subject = Subject::Spot(id);
    let edit = |spot: Spot| verbs::edit_spot(project, id, spot);
    row::words(ui, subject, "Called", &spot.name, intents, |name| edit(Spot { name, ..spot.clone() }));
    let uses = SpotUse::ALL.map(|spot_use| (spot_use, spot_use.name()));
    row::choice(ui, subject, "Is", spot.spot_use, &uses, intents, |spot_use| {
        // A height that nobody has changed goes with what the spot is.
        let untouched = spot.height_affl == spot.spot_use.usual_height();
        let height_affl = if untouched { spot_use.usual_height() } else { spot.height_affl };
        edit(Spot { spot_use, height_affl, ..spot.clone() })
    });
    row::length(ui, subject, "Height", "mm AFFL", Some(spot.height_affl), intents, |height_affl| {
        edit(Spot { height_affl, ..spot.clone() })
    });
}

/// A walk.
pub fn walk(ui: &mut Ui, session: &Session, id: Id<Walk>, intents: &mut Vec<Intent>) {
    let project = session.project();
    let Some(walk) = project.walks.get(id) else { return };
    let subject = Subject::Walk(id);
    let edit = |walk: Walk| verbs::edit_walk(project, id, walk);
    row::words(ui, subject, "Called", &walk.name, intents, |name| edit(Walk { name, ..walk.clone() }));
    let purposes = WalkPurpose::ALL.map(|purpose| (purpose, purpose.name()));
    row::choice(ui, subject, "Is", walk.purpose, &purposes, intents, |purpose| {
        edit(Walk { purpose, ..walk.clone() })
    });
    let flat = walk.points.windows(2).map(|leg| (leg[1].at - leg[0].at).hypot()).sum::<f64>();
    row::fact(ui, "Length", &format!("{:.1} m on the plan", flat / 1000.0));
    if ui.button("Walk it the other way").clicked() {
        let mut points = walk.points.clone();
        points.reverse();
        intents.push(Intent::Change(edit(Walk { points, ..walk.clone() })));
    }
}
