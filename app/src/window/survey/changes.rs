//! Changes of a drawing beneath the plan, each with the sentence that is said once it is done.

use kurbo::Point;
use pattress_model::edit::{Change, verbs};
use pattress_model::id::Id;
use pattress_model::plan::{SecondLength, Underlay};
use pattress_model::project::Project;
use pattress_model::survey::Scale;
use pattress_model::units::Angle;

use super::at_hand::{CAUTION_IN_SHORT, scale_in_words};
use crate::window::intent::Intent;

/// A turn smaller than this is none, degrees: it moves the far edge of a house by 3 mm.
const LEAST_TURN_DEGREES: f64 = 0.01;

/// Gives a drawing a scale; the point `about` of the plan stays where it is.
pub fn scaled(project: &Project, id: Id<Underlay>, scale: &Scale, about: Point) -> Vec<Intent> {
    let Some(underlay) = project.underlays.get(id) else { return gone() };
    let words = scale.from.words();
    let scaled = underlay.scaled_to(scale.mm_per_unit, Some(scale.from.clone()), about);
    let told = format!("Scaled {words}: {}. {CAUTION_IN_SHORT}", scale_in_words(&scaled));
    done(verbs::edit_underlay(project, id, scaled), format!("Scale the drawing {words}"), told)
}

/// Keeps the scale of a drawing, and what a second length said of it.
pub fn scale_kept(project: &Project, id: Id<Underlay>, second: SecondLength) -> Vec<Intent> {
    let Some(underlay) = project.underlays.get(id) else { return gone() };
    let checked = Underlay { second_length: Some(second), ..underlay.clone() };
    let told = "The scale stays as it was; what the second length says is kept with the drawing.".to_owned();
    done(verbs::edit_underlay(project, id, checked), "Check the scale of the drawing".to_owned(), told)
}

/// Turns a drawing about a point of the plan.
pub fn turned(project: &Project, id: Id<Underlay>, about: Point, by: Angle) -> Vec<Intent> {
    let Some(underlay) = project.underlays.get(id) else { return gone() };
    let degrees = by.as_degrees();
    if degrees.abs() < LEAST_TURN_DEGREES {
        return vec![Intent::Say("That line lies level or upright already; nothing was turned.".to_owned())];
    }
    let way = if degrees > 0.0 { "anticlockwise" } else { "clockwise" };
    let told = format!("Turned by {:.2}° {way}.", degrees.abs());
    let change = verbs::edit_underlay(project, id, underlay.turned_about(about, by));
    done(change, "Level the drawing".to_owned(), told)
}

/// Straightens a drawing that lies askew as it was read; `found` is anticlockwise from level.
pub fn straightened(project: &Project, id: Id<Underlay>, found: Angle) -> Vec<Intent> {
    let Some(underlay) = project.underlays.get(id) else { return gone() };
    // The skew is of the drawing itself: what it was turned by already counts against it.
    let askew = nearest_right_angle(found + underlay.turn);
    if askew.as_degrees().abs() < LEAST_TURN_DEGREES {
        return vec![Intent::Say("The drawing lies straight already.".to_owned())];
    }
    let told = format!("The drawing lay {} and was turned straight.", askew_in_words(askew));
    let change =
        verbs::edit_underlay(project, id, underlay.turned_about(underlay.middle(), Angle::ZERO - askew));
    done(change, "Straighten the drawing".to_owned(), told)
}

/// How far an angle is from the nearest level or upright.
fn nearest_right_angle(angle: Angle) -> Angle {
    let degrees = angle.as_degrees();
    Angle::degrees(degrees - (degrees / 90.0).round() * 90.0)
}

/// `2.3° askew, anticlockwise`.
pub fn askew_in_words(angle: Angle) -> String {
    let degrees = angle.as_degrees();
    let way = if degrees > 0.0 { "anticlockwise" } else { "clockwise" };
    format!("{:.1}° askew, {way}", degrees.abs())
}

fn done(change: Result<Change, String>, label: String, told: String) -> Vec<Intent> {
    match change {
        Ok(change) => vec![Intent::Change(Ok(Change { label, ..change })), Intent::Say(told)],
        Err(sentence) => vec![Intent::Change(Err(sentence))],
    }
}

fn gone() -> Vec<Intent> {
    vec![Intent::Change(Err("that drawing is gone: bring it in again".to_owned()))]
}
