//! What the room answers while a sensor of it is placed or dragged, beside the pointer.
//!
//! What the other sensors cover comes from the last figures and is put together once a gesture; the moving one is
//! asked anew at every place. Figures of an older plan are not used: then only the area is told.

use std::collections::BTreeMap;
use std::sync::Arc;

use pattress_model::building::outline::room_at;
use pattress_model::id::Id;
use pattress_model::kit::Device;
use pattress_model::project::Project;
use pattress_model::studies::coverage::SensorCoverage;
use pattress_model::studies::coverage::rooms::Entry;
use pattress_model::studies::coverage::rooms::moving::{Moving, WhileMoved};

use super::{Around, Ghost};

/// What was put together of a room, and of which coverage.
pub type Kept = (Arc<BTreeMap<Id<Device>, SensorCoverage>>, Moving);

/// Tells what a sensor covers where it would be.
pub fn tell(ghost: &mut Ghost, around: &mut Around<'_>, after: &Project, coverage: &SensorCoverage) {
    let Some(at) = after.devices.get(coverage.device).and_then(|device| after.position_of(device)) else {
        return;
    };
    let mut lines = vec![format!("covers {:.1} m²", coverage.area.as_m2())];
    if let Some((room, answer)) = answer(around, after, coverage) {
        lines.extend(words(around, &room, &answer));
    }
    ghost.told = Some((at, lines.join("\n")));
}

/// The room that the sensor would be in, and what that answers.
fn answer(
    around: &mut Around<'_>,
    after: &Project,
    coverage: &SensorCoverage,
) -> Option<(String, WhileMoved)> {
    let figures = around.figures;
    if figures.generation != Some(around.session.generation()) || figures.level != Some(around.level()) {
        return None;
    }
    let id: Id<Device> = coverage.device;
    let device = after.devices.get(id)?;
    let inside = after.position_of(device)? + after.facing_of(device).direction();
    let room = room_at(&figures.outlines, inside)?;
    let holds =
        |(of, moving): &Kept| Arc::ptr_eq(of, &figures.coverage) && moving.is_for(room, id, coverage.sense);
    if !around.moving.as_ref().is_some_and(holds) {
        let (answers, outline) = (figures.rooms.get(&room)?, figures.outlines.get(&room)?);
        let others = figures.coverage.values();
        let moving = Moving::in_room(answers, outline, others, (id, coverage.sense));
        *around.moving = Some((Arc::clone(&figures.coverage), moving));
    }
    let name = after.rooms.get(room)?.name.clone();
    Some((name, around.moving.as_ref()?.1.with(&coverage.polygon)))
}

fn words(around: &Around<'_>, room: &str, answer: &WhileMoved) -> Vec<String> {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    let alone = percent(answer.alone);
    let mut lines = vec![match percent(answer.together) {
        together if together == alone => format!("{room}: {alone} of the floor"),
        together => format!("{room}: {alone} of the floor, {together} with the others"),
    }];
    let if_so = if answer.lights { "" } else { "if it put the light on: " };
    lines.extend(answer.worst.as_ref().map(|entry| format!("{if_so}{}", first_seen(around, entry))));
    lines
}

fn first_seen(around: &Around<'_>, entry: &Entry) -> String {
    let from = entry.way_in.from.and_then(|room| around.project().rooms.get(room));
    let from = from.map_or("outside", |room| room.name.as_str());
    match entry.first_seen() {
        Some(seen) => format!("first seen after {:.1} m at worst, from {from}", seen.after.as_m()),
        None => format!("never seen coming from {from}"),
    }
}
