//! First fix: the marking list. Room by room and wall by wall, in the order in which one walks: in by the door,
//! then round with the walls on the right hand.

use egui::{Align, Label, Layout, RichText, Ui};
use pattress_model::building::Whereabouts;
use pattress_model::drawing::dimensions::{SettingOut, SettingOutFrom, setting_out};
use pattress_model::edit::Subject;
use pattress_model::geometry::Ring;
use pattress_model::id::Id;
use pattress_model::plan::{Level, OpeningForm, Room, Wall};
use pattress_model::project::Project;

use super::{header, pick};
use crate::window::intent::Intent;
use crate::window::session::Session;
use crate::window::theme::Theme;
use crate::window::widgets::lines;

/// One room of the list, or what is outside all rooms.
struct Walked {
    room: Option<Id<Room>>,
    walls: Vec<(Id<Wall>, Vec<SettingOut>)>,
}

/// The list as it was worked out, and for what.
#[derive(Default)]
pub struct Kept {
    of: Option<(Project, Id<Level>)>,
    rooms: Vec<Walked>,
}

impl Kept {
    /// Works the list out again where the building or what is on it has changed.
    fn keep_up(&mut self, project: &Project, level: Id<Level>) {
        let same = self.of.as_ref().is_some_and(|(of, on)| {
            *on == level
                && of.walls.is_same(&project.walls)
                && of.openings.is_same(&project.openings)
                && of.rooms.is_same(&project.rooms)
                && of.devices.is_same(&project.devices)
        });
        if !same {
            self.rooms = walk(project, level);
            self.of = Some((project.clone(), level));
        }
    }
}

/// Shows the marking list of the level on the board.
pub fn ui(ui: &mut Ui, session: &Session, kept: &mut Kept, theme: &Theme, intents: &mut Vec<Intent>) {
    kept.keep_up(session.project(), session.level());
    let count: usize = kept.rooms.iter().flat_map(|room| &room.walls).map(|(_, boxes)| boxes.len()).sum();
    header(ui, |ui| {
        lines::heading(ui, "Marking list");
        let words = match count {
            0 => "Nothing on the walls of this level.".to_owned(),
            1 => "1 place to mark on this level.".to_owned(),
            _ => format!("{count} places to mark on this level."),
        };
        lines::caption(ui, theme, words);
        if count > 0 {
            lines::caption(ui, theme, "In by the door, then round with the walls on your right hand.");
        }
    });
    lines::thin_rule(ui, theme);
    for walked in &kept.rooms {
        let name = walked.room.and_then(|room| session.project().rooms.get(room));
        lines::group(ui, theme, name.map_or("Outside the rooms", |room| room.name.as_str()));
        for (index, (wall, boxes)) in walked.walls.iter().enumerate() {
            wall_line(ui, session, *wall, index + 1, theme, intents);
            for place in boxes {
                place_line(ui, session, place, theme, intents);
            }
        }
    }
}

fn wall_line(
    ui: &mut Ui,
    session: &Session,
    id: Id<Wall>,
    number: usize,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let Some(wall) = session.project().walls.get(id) else { return };
    let margin = egui::Margin { left: 14, right: 12, top: 6, bottom: 0 };
    let shown = egui::Frame::NONE.inner_margin(margin).show(ui, |ui| {
        ui.set_width(ui.available_width());
        lines::caption(ui, theme, format!("Wall {number}, {} mm long", wall.length()))
    });
    if ui.rect_contains_pointer(shown.response.rect) {
        intents.push(Intent::PointAt(Subject::Wall(id)));
    }
}

fn place_line(ui: &mut Ui, session: &Session, place: &SettingOut, theme: &Theme, intents: &mut Vec<Intent>) {
    let project = session.project();
    let Some(device) = project.devices.get(place.device) else { return };
    let Some(kind) = project.kinds.get(device.kind) else { return };
    let subject = Subject::Device(place.device);
    let marked = session.pointed_at() == Some(subject) || session.selection().contains(&subject);
    let tag = device.tag.to_string();
    let line = lines::line(ui, theme, marked, |ui| {
        let focused = ui
            .horizontal(|ui| {
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    let (words, ink) = match place.height {
                        _ if session.client_view() => (String::new(), theme.ink),
                        Some(height) => (format!("{height} AFFL"), theme.ink),
                        None => ("height missing".to_owned(), theme.wrong),
                    };
                    ui.label(RichText::new(words).color(ink));
                    ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                        let response = lines::name_button(ui, &tag, &format!("Device {tag}"), theme.ink);
                        let name = if device.name.is_empty() { &kind.name } else { &device.name };
                        ui.add(Label::new(RichText::new(name).color(theme.quiet)).truncate());
                        if response.clicked() {
                            pick(subject, intents);
                        }
                        response.has_focus()
                    })
                    .inner
                })
                .inner
            })
            .inner;
        ui.add(Label::new(from_words(project, place)).wrap());
        match kind.back_box {
            _ if session.client_view() => {}
            Some(back_box) => {
                let words = format!("box {} gang, {} mm deep", back_box.gangs, back_box.depth);
                lines::caption(ui, theme, words);
            }
            None if kind.needs_back_box() => {
                ui.label(RichText::new("box missing").size(11.0).color(theme.wrong));
            }
            None => {}
        }
        focused
    });
    if line.hovered || line.inner {
        intents.push(Intent::PointAt(subject));
    }
}

fn from_words(project: &Project, place: &SettingOut) -> String {
    let from = match place.from {
        SettingOutFrom::InternalCorner => "the corner".to_owned(),
        SettingOutFrom::WallEnd => "the end of the wall".to_owned(),
        SettingOutFrom::Reveal { opening } => {
            let name = project.openings.get(opening).map_or("opening", |opening| opening.name());
            format!("the reveal of the {name}")
        }
    };
    format!("{} mm from {from}", place.distance)
}

/// The places of a level in walking order.
fn walk(project: &Project, level: Id<Level>) -> Vec<Walked> {
    let whereabouts = Whereabouts::of(project);
    let mut places: Vec<(Option<Id<Room>>, f64, SettingOut)> = setting_out(project, level)
        .into_iter()
        .map(|place| {
            let room =
                project.devices.get(place.device).and_then(|device| whereabouts.room_of(project, device));
            let ring = room
                .and_then(|room| whereabouts.outline(project, room))
                .map(|outline| outline.shape.outer.clone().anticlockwise());
            let along = ring.map_or(0.0, |ring| {
                let start = doorway(project, level, &ring).unwrap_or(0.0);
                let round = ring.perimeter().max(1.0);
                (along_ring(&ring, place.to_point).0 - start).rem_euclid(round)
            });
            (room, along, place)
        })
        .collect();
    // Rooms in the order they were named; what is outside them comes last.
    places.sort_by(|(room_a, a, _), (room_b, b, _)| {
        (room_a.is_none(), room_a).cmp(&(room_b.is_none(), room_b)).then(a.total_cmp(b))
    });
    let mut rooms: Vec<Walked> = Vec::new();
    for (room, _, place) in places {
        if rooms.last().is_none_or(|walked| walked.room != room) {
            rooms.push(Walked { room, walls: Vec::new() });
        }
        let Some(walked) = rooms.last_mut() else { continue };
        match walked.walls.last_mut() {
            Some((wall, boxes)) if *wall == place.wall => boxes.push(place),
            _ => walked.walls.push((place.wall, vec![place])),
        }
    }
    rooms
}

/// How far along the outline of a room its first door is.
fn doorway(project: &Project, level: Id<Level>, ring: &Ring) -> Option<f64> {
    project
        .openings_on(level)
        .filter(|(_, opening, _)| matches!(opening.form, OpeningForm::Door { .. }))
        .find_map(|(_, opening, wall)| {
            let (along, off) = along_ring(ring, wall.on_axis(opening.centre));
            (off <= wall.thickness.as_mm()).then_some(along)
        })
}

/// How far along a ring the point nearest to a place lies, and how far off the ring that place is, mm.
fn along_ring(ring: &Ring, place: kurbo::Point) -> (f64, f64) {
    let mut walked = 0.0;
    let mut best = (0.0, f64::INFINITY);
    for edge in ring.edges() {
        let length = (edge.b - edge.a).hypot();
        let share = if length > 0.0 {
            ((place - edge.a).dot(edge.b - edge.a) / (length * length)).clamp(0.0, 1.0)
        } else {
            0.0
        };
        let off = (edge.a.lerp(edge.b, share) - place).hypot();
        if off < best.1 {
            best = (walked + share * length, off);
        }
        walked += length;
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{Point, Rect};

    #[test]
    fn a_place_lies_so_far_along_the_outline() {
        let ring = Ring::from_rect(Rect::new(0.0, 0.0, 4000.0, 3000.0)).anticlockwise();
        let round = ring.perimeter();
        let at = |x, y| along_ring(&ring, Point::new(x, y)).0;
        // Anticlockwise: along the south wall to the east, then north, then west.
        assert_eq!((at(3000.0, -50.0) - at(1000.0, 0.0)).rem_euclid(round), 2000.0);
        assert_eq!((at(4000.0, 1000.0) - at(3000.0, 0.0)).rem_euclid(round), 2000.0);
        assert_eq!((at(1000.0, 3000.0) - at(3000.0, 3000.0)).rem_euclid(round), 2000.0);
    }
}
