//! Walls by clicking: each click ends one wall and begins the next, so that undo goes back wall by wall.

use kurbo::{Point, Vec2};
use pattress_model::edit::snap::{Snap, SnapReason};
use pattress_model::edit::verbs::{self, WallSpec};
use pattress_model::edit::{Change, Subject};
use pattress_model::plan::{MakeUp, Wall};
use pattress_model::units::Length;

use super::figures::measured;
use super::preview::wall_item;
use super::{Around, Gesture, Ghost, Tool, Touch};
use crate::window::intent::Intent;

/// Thickness of the first wall of a house, mm: an external wall (common practice, no published source).
const FIRST_WALL_MM: f64 = 300.0;

/// Clicks nearer together than this are one, mm.
const SAME_POINT_MM: f64 = 1.0;

/// The tool for walls.
#[derive(Default)]
pub struct Walls {
    chain: Vec<Point>,
    /// What the plan's generation was when the last point was taken: its wall stands from the next one on.
    taken_at: Option<u64>,
    landing: Option<Snap>,
    spec: Option<WallSpec>,
    ghost: Ghost,
}

/// What the next wall is like: as the wall that is selected, else as the one drawn last on the level.
pub fn spec_in_hand(around: &Around<'_>) -> WallSpec {
    let project = around.project();
    let of = |wall: &Wall| WallSpec { thickness: wall.thickness, height: wall.height, make_up: wall.make_up };
    let selected = match around.session.only_selected() {
        Some(Subject::Wall(id)) => project.walls.get(id),
        _ => None,
    };
    let last = project.walls_on(around.level()).last().map(|(_, wall)| wall);
    selected.or(last).map_or_else(
        || WallSpec {
            thickness: Length::mm(FIRST_WALL_MM),
            height: project.levels.get(around.level()).map_or(Length::mm(2400.0), |level| level.ceiling_affl),
            make_up: MakeUp::Masonry,
        },
        of,
    )
}

/// The words for it.
pub fn spec_words(spec: WallSpec) -> String {
    format!("{} mm {}", spec.thickness, spec.make_up.name())
}

impl Walls {
    /// Undo takes walls back; the chain goes back with them.
    fn follow_undo(&mut self, around: &Around<'_>) {
        if self.taken_at == Some(around.session.generation()) {
            return;
        }
        let stands = |point: Point| {
            let near = |end: Point| (end - point).hypot() < SAME_POINT_MM;
            around.project().walls_on(around.level()).any(|(_, wall)| near(wall.start) || near(wall.end))
        };
        while self.chain.len() > 1 && self.chain.last().is_some_and(|last| !stands(*last)) {
            self.chain.pop();
        }
    }

    fn show(&mut self, at: Point, around: &mut Around<'_>) -> Snap {
        self.follow_undo(around);
        let last = self.chain.last().copied();
        let mut landing = around.snap(at, last, &[]);
        if let Some(first) = self.chain.first().filter(|_| self.chain.len() > 2)
            && around.snapping
            && (*first - at).hypot() <= around.reach()
        {
            landing = Snap { at: *first, why: SnapReason::WallEnd, guide: None };
        }
        let spec = spec_in_hand(around);
        self.spec = Some(spec);
        self.landing = Some(landing);
        self.ghost = Ghost { mark: Some(landing.at), ..Ghost::default() };
        self.ghost.guides.extend(landing.guide);
        if let Some(last) = last
            && (landing.at - last).hypot() >= SAME_POINT_MM
        {
            let WallSpec { thickness, height, make_up } = spec;
            let wall =
                Wall { level: around.level(), start: last, end: landing.at, thickness, height, make_up };
            self.ghost.items.push(wall_item(&wall));
            self.ghost.measures.push(measured(last, landing.at));
        }
        landing
    }

    /// Takes a point; from the second on each makes a wall.
    fn take(&mut self, point: Point, around: &Around<'_>) -> Vec<Intent> {
        let Some(last) = self.chain.last().copied() else {
            self.chain.push(point);
            return Vec::new();
        };
        if (point - last).hypot() < SAME_POINT_MM {
            return Vec::new();
        }
        let change: Result<Change, String> =
            verbs::draw_walls(around.project(), around.level(), &[last, point], spec_in_hand(around));
        if change.is_ok() {
            let closes = self.chain.len() > 2 && (point - self.chain[0]).hypot() < SAME_POINT_MM;
            self.chain.push(point);
            self.taken_at = Some(around.session.generation());
            if closes {
                self.chain.clear();
            }
        }
        vec![Intent::Change(change)]
    }
}

impl Tool for Walls {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        match touch.gesture {
            Gesture::Away => {
                self.ghost = Ghost::default();
                Vec::new()
            }
            Gesture::DoubleClick | Gesture::RightClick => {
                self.chain.clear();
                self.show(touch.at, around);
                Vec::new()
            }
            Gesture::DragStart { from } => {
                let at = self.show(from, around).at;
                self.take(at, around)
            }
            Gesture::Click | Gesture::Drop => {
                let at = self.show(touch.at, around).at;
                self.take(at, around)
            }
            Gesture::Hover | Gesture::Drag => {
                self.show(touch.at, around);
                Vec::new()
            }
        }
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        let why = self.landing.map_or("", |landing| landing.why.words());
        match (self.chain.is_empty(), self.spec) {
            (true, Some(spec)) => format!("Click where the wall begins ({}): {why}.", spec_words(spec)),
            (true, None) => "Click where the wall begins.".to_owned(),
            (false, _) => {
                format!("Click where it ends, or type its length: {why}. Right click ends the chain.")
            }
        }
    }

    fn takes_typing(&self) -> Option<&'static str> {
        (!self.chain.is_empty()).then_some("Length of the wall")
    }

    fn typed(&mut self, text: &str, around: &mut Around<'_>) -> Vec<Intent> {
        let (Some(last), Some(landing)) = (self.chain.last().copied(), self.landing) else {
            return Vec::new();
        };
        let run: Vec2 = landing.at - last;
        let length = match Length::parse(text) {
            Ok(length) if length.as_mm() >= SAME_POINT_MM => length,
            Ok(_) => {
                return vec![Intent::Change(Err(
                    "the length of a wall must be above zero: type 3600 or 3.6m".to_owned(),
                ))];
            }
            Err(sentence) => return vec![Intent::Change(Err(sentence))],
        };
        if run.hypot() < SAME_POINT_MM {
            let sentence = "point in the direction of the wall first, then type its length";
            return vec![Intent::Change(Err(sentence.to_owned()))];
        }
        self.take(last + run * (length.as_mm() / run.hypot()), around)
    }

    fn enter(&mut self, _around: &mut Around<'_>) -> Vec<Intent> {
        self.let_go();
        Vec::new()
    }

    fn let_go(&mut self) -> bool {
        let busy = !self.chain.is_empty();
        self.chain.clear();
        self.ghost = Ghost::default();
        busy
    }
}
