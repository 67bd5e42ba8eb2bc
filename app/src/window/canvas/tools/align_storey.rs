//! Align a storey: two points of this level's drawing, each brought over the same point of the level below.
//!
//! Corners of a stair well, of a chimney or of the outer walls show on the drawings of both storeys. The drawing is
//! moved and turned; with Shift held at the last click it is scaled as well.

use kurbo::Point;
use pattress_model::edit::snap::{SnapIndex, SnapReason, SnapRequest, snap};
use pattress_model::edit::verbs;
use pattress_model::id::Id;
use pattress_model::plan::Level;

use super::figures::measured;
use super::{Around, Gesture, Ghost, Tool, Touch, faces};
use crate::window::intent::Intent;
use crate::window::survey::at_hand::drawing_at_hand;

/// The tool that brings this level's drawing over the level below.
#[derive(Default)]
pub struct AlignStorey {
    /// Points by turns: of this drawing, then of the level below.
    picked: Vec<Point>,
    lacking: Option<&'static str>,
    below: Option<(u64, SnapIndex)>,
    why: &'static str,
    ghost: Ghost,
}

impl AlignStorey {
    /// Where a click lands: on this level's drawing, or on what the level below shows.
    fn landing(&mut self, at: Point, around: &Around<'_>) -> Point {
        let on_this_drawing = self.picked.len().is_multiple_of(2);
        self.ghost.of_drawing = false;
        self.why = SnapReason::Nothing.words();
        if !around.snapping {
            return at;
        }
        if on_this_drawing {
            let Some(caught) = around.snap_to_drawing(at) else { return at };
            return self.caught(caught.at, caught.why, true);
        }
        let Some(level) = around.session.level_below() else { return at };
        if let Some(face) = faces::catch(around.project(), level, at, around.reach()) {
            self.why = face.words();
            return face.at;
        }
        let own = snap(
            self.index_of(level, around),
            &SnapRequest { at, reach_mm: around.reach(), from: None, skip: Vec::new() },
        );
        if matches!(own.why, SnapReason::WallEnd | SnapReason::WallMiddle | SnapReason::OnWall) {
            return self.caught(own.at, own.why, false);
        }
        match around.snap_to_drawing_of(level, at) {
            Some(caught) => self.caught(caught.at, caught.why, true),
            None => at,
        }
    }

    fn caught(&mut self, at: Point, why: SnapReason, of_drawing: bool) -> Point {
        self.why = why.words();
        self.ghost.of_drawing = of_drawing;
        at
    }

    fn index_of(&mut self, level: Id<Level>, around: &Around<'_>) -> &SnapIndex {
        let generation = around.session.generation();
        if self.below.as_ref().is_some_and(|(made_at, _)| *made_at != generation) {
            self.below = None;
        }
        let (_, index) =
            self.below.get_or_insert_with(|| (generation, SnapIndex::of_level(around.project(), level)));
        index
    }

    fn align(&mut self, keep_scale: bool, around: &Around<'_>) -> Vec<Intent> {
        let Some((id, _)) = drawing_at_hand(around.session) else { return Vec::new() };
        let &[a, a_below, b, b_below] = self.picked.as_slice() else { return Vec::new() };
        self.picked.clear();
        match verbs::align_underlay(around.project(), id, [a, b], [a_below, b_below], keep_scale) {
            Ok(aligned) => vec![Intent::Change(Ok(aligned.change)), Intent::Say(aligned.sentence)],
            Err(sentence) => vec![Intent::Change(Err(sentence))],
        }
    }
}

impl Tool for AlignStorey {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        self.lacking = match (drawing_at_hand(around.session), around.session.level_below()) {
            (None, _) => Some("There is no drawing on this level: bring one in first (Plan menu)."),
            (_, None) => Some("There is no level below this one to align with."),
            _ => None,
        };
        if self.lacking.is_some() {
            self.ghost = Ghost::default();
            return Vec::new();
        }
        match touch.gesture {
            Gesture::Away => {
                self.ghost.mark = None;
                return Vec::new();
            }
            Gesture::RightClick => {
                self.picked.pop();
            }
            _ => {}
        }
        self.ghost = Ghost::default();
        let at = self.landing(touch.at, around);
        self.ghost.mark = Some(at);
        if matches!(touch.gesture, Gesture::Click | Gesture::Drop) {
            self.picked.push(at);
            if self.picked.len() == 4 {
                return self.align(!touch.modifiers.shift, around);
            }
        }
        let ends: Vec<Point> = self.picked.iter().copied().chain([at]).collect();
        for pair in ends.chunks_exact(2) {
            self.ghost.guides.push((pair[0], pair[1]));
            self.ghost.measures.push(measured(pair[0], pair[1]));
        }
        self.ghost.handles.extend(self.picked.iter().step_by(2));
        Vec::new()
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        if let Some(lacking) = self.lacking {
            return lacking.to_owned();
        }
        let why = self.why;
        match self.picked.len() {
            0 => format!("Click a point of this drawing that the level below shows too: {why}."),
            1 => format!("Click the same point on the level below, shown fainter: {why}."),
            2 => format!("Click a second point of this drawing, far from the first: {why}."),
            _ => format!("Click it on the level below; Shift scales the drawing as well: {why}."),
        }
    }

    fn let_go(&mut self) -> bool {
        self.ghost = Ghost::default();
        let busy = !self.picked.is_empty();
        self.picked.clear();
        busy
    }
}
