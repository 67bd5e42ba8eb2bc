//! Placing a device of a kind: its ghost goes with the pointer along its host, with what it would see and the
//! distances that set it out. It stays in hand for the next.

use kurbo::Point;
use pattress_model::edit::snap::host::Fixing;
use pattress_model::edit::snap::{HOST_REACH_MM, HostSnap, SnapReason, face_stretch};
use pattress_model::edit::{Change, Subject, verbs};
use pattress_model::kit::{Kind, Mount, MountKind};
use pattress_model::units::{Angle, Length, round_point};

use super::{Around, Gesture, Ghost, Tool, Touch, preview};
use crate::window::intent::Intent;

/// The placing tool.
pub struct Place {
    kind: Kind,
    turn: Angle,
    ghost: Ghost,
    landing: Option<HostSnap>,
    refused: Option<String>,
}

impl Place {
    /// Ready to place devices of a kind.
    pub fn of(kind: Kind) -> Self {
        Self { kind, turn: Angle::ZERO, ghost: Ghost::default(), landing: None, refused: None }
    }

    fn change(&self, mount: Mount, around: &Around<'_>) -> Result<Change, String> {
        let (level, turn) = (around.level(), self.turn);
        verbs::with_kind(around.project(), &self.kind, |project, kind| {
            let placing = verbs::Placing { kind, level, turn, height: None };
            verbs::place_device(project, placing, mount)
        })
    }

    fn show(&mut self, at: Point, around: &mut Around<'_>) {
        let landing = land(&self.kind, None, at, around, &[]);
        self.landing = Some(landing);
        self.ghost = Ghost { mark: Some(landing.at), ..Ghost::default() };
        self.ghost.guides.extend(landing.guide);
        let change = self.change(landing.mount, around);
        self.refused = change.as_ref().err().cloned();
        let Ok(change) = change else { return };
        let Some(after) = preview::show(&mut self.ghost, around, &change) else { return };
        self.ghost.hides.clear();
        for subject in verbs::new_things(around.project(), &change) {
            if let Subject::Device(id) = subject {
                preview::show_setting_out(&mut self.ghost, &after, id);
            }
        }
    }

    /// The mount at a typed distance: on a wall from the nearer end of its face, else from the nearest wall.
    fn mount_at(&self, length: Length, around: &Around<'_>) -> Result<Mount, String> {
        let landing = self.landing.ok_or("move the pointer to where it shall go first")?;
        let project = around.project();
        let away = |from: Point, to: Point| {
            let run = to - from;
            if run.hypot() < 1e-6 { from } else { from + run * (length.as_mm() / run.hypot()) }
        };
        match landing.mount {
            Mount::WallFace { wall: id, side, along } => {
                let fixing = Fixing { height: self.kind.default_height, sits_in_openings: false };
                let stretch = face_stretch(project, id, side, along, fixing)
                    .ok_or("this wall has no free face: move to another")?;
                let (start, end) = (stretch.start.0, stretch.end.0);
                let (near, far) = if (landing.at - start).hypot() <= (landing.at - end).hypot() {
                    (start, end)
                } else {
                    (end, start)
                };
                if length.as_mm() < 0.0 || length.as_mm() > (far - near).hypot() {
                    return Err(format!(
                        "this stretch of wall is {} mm long: type a shorter distance",
                        Length::mm((far - near).hypot())
                    ));
                }
                let wall = project.walls.get(id).ok_or("the wall is gone")?;
                Ok(Mount::WallFace { wall: id, side, along: wall.along_of(away(near, far)).rounded() })
            }
            mount => {
                let nearest = self
                    .ghost
                    .measures
                    .iter()
                    .min_by(|a, b| (a.to - a.from).hypot().total_cmp(&(b.to - b.from).hypot()))
                    .ok_or("there is no wall to measure from: click to place it")?;
                let at = round_point(away(nearest.from, nearest.to));
                Ok(match mount {
                    Mount::Ceiling { .. } => Mount::Ceiling { at },
                    Mount::Floor { .. } => Mount::Floor { at },
                    other => other,
                })
            }
        }
    }
}

/// Where a device of a kind lands near a point. Walls draw it from farther off than a click would catch.
pub fn land(
    kind: &Kind,
    height: Option<Length>,
    at: Point,
    around: &mut Around<'_>,
    skip: &[Subject],
) -> HostSnap {
    let free = round_point(at);
    let unsnapped = |mount| HostSnap { mount, at: free, why: SnapReason::Nothing, guide: None };
    let reach = match kind.mount {
        MountKind::Wall => around.reach().max(HOST_REACH_MM),
        MountKind::Ceiling if !around.snapping => return unsnapped(Mount::Ceiling { at: free }),
        MountKind::Floor if !around.snapping => return unsnapped(Mount::Floor { at: free }),
        MountKind::Outdoors if !around.snapping => return unsnapped(Mount::Outdoors { at: free }),
        _ => around.reach(),
    };
    around.host((kind, height), at, reach, skip)
}

impl Tool for Place {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        if touch.gesture == Gesture::Away {
            self.ghost = Ghost::default();
            self.landing = None;
            return Vec::new();
        }
        self.show(touch.at, around);
        match (touch.gesture, self.landing) {
            // A drag that begins and ends here is a click of an unsteady hand.
            (Gesture::Click | Gesture::Drop, Some(landing)) => {
                vec![Intent::Change(self.change(landing.mount, around))]
            }
            _ => Vec::new(),
        }
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        let name = &self.kind.name;
        if let Some(refused) = &self.refused {
            return format!("It can't go here: {refused}.");
        }
        match self.landing.map(|landing| landing.why) {
            None => format!("Move over the plan and click to place: {name}."),
            Some(SnapReason::NoHost) if self.kind.mount == MountKind::Joinery => {
                "No joinery here: it would be placed without a host and reported as missing.".to_owned()
            }
            Some(SnapReason::NoHost) => {
                "No wall here: it would be placed without a host and reported as missing.".to_owned()
            }
            Some(why) => {
                format!("Click to place: {name}, {}. Type a distance for an exact place.", why.words())
            }
        }
    }

    fn takes_typing(&self) -> Option<&'static str> {
        match self.landing?.mount {
            Mount::WallFace { .. } => Some("Distance from the nearer end of the wall"),
            Mount::Ceiling { .. } | Mount::Floor { .. } if !self.ghost.measures.is_empty() => {
                Some("Distance from the nearest wall")
            }
            _ => None,
        }
    }

    fn typed(&mut self, text: &str, around: &mut Around<'_>) -> Vec<Intent> {
        let change = Length::parse(text)
            .and_then(|length| self.mount_at(length, around))
            .and_then(|mount| self.change(mount, around));
        vec![Intent::Change(change)]
    }

    fn turn(&mut self, degrees: f64) -> bool {
        self.turn = (self.turn + Angle::degrees(degrees)).wrapped();
        true
    }
}
