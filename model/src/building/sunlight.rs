//! Where a ray from a point towards the sun goes: into the open, through windows, or against a wall or ceiling.
//!
//! Walls of every storey stand from their own floor to their own top; a window, a plain opening and a door that is
//! drawn open let a ray through between sill and head, the depth of the reveal counted. Rooms are shut above by their
//! ceilings. Roofs, eaves, trees and neighbours are on no plan and shade nothing here.

use kurbo::{Point, Vec2};

use super::Whereabouts;
use crate::id::Id;
use crate::plan::{DoorState, Level, MakeUp, Opening, OpeningForm, Side, Wall};
use crate::project::Project;
use crate::units::{Angle, Length};

/// Anything nearer along the ray than this lies behind the point, mm: the very face that a device is fixed to.
const BEHIND_MM: f64 = 1.0;

/// A ray flatter than this meets no ceiling within any house, radians.
const LEVEL: f64 = 1e-6;

/// Glass that a ray passes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Glass {
    /// A window.
    Window(Id<Opening>),
    /// A glazed screen.
    Screen(Id<Wall>),
}

/// Where a ray ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RayEnds {
    /// In the sky, through this glass, the nearest first; none where nothing but air lies between.
    InTheSky(Vec<Glass>),
    /// Against a wall, a shut door or a ceiling.
    Indoors,
}

/// A wall that stands somewhere above the datum, with its holes.
struct Standing<'a> {
    id: Id<Wall>,
    wall: &'a Wall,
    /// Floor of its storey above the datum, mm.
    floor: f64,
    holes: Vec<(Id<Opening>, &'a Opening)>,
}

/// All that a ray can meet.
pub struct Sunlight<'a> {
    project: &'a Project,
    whereabouts: &'a Whereabouts,
    standing: Vec<Standing<'a>>,
}

impl<'a> Sunlight<'a> {
    /// Gathers the walls of every storey.
    pub fn of(project: &'a Project, whereabouts: &'a Whereabouts) -> Self {
        let mut standing = Vec::new();
        for (level, storey) in project.levels.iter() {
            let floor = storey.floor_above_datum.as_mm();
            for (id, wall) in project.walls_on(level) {
                let holes = project.openings_on(level).filter(|(_, opening, _)| opening.wall == id);
                let holes = holes.filter(|(_, opening, _)| lets_light_through(opening));
                let holes = holes.map(|(hole, opening, _)| (hole, opening)).collect();
                standing.push(Standing { id, wall, floor, holes });
            }
        }
        Self { project, whereabouts, standing }
    }

    /// Follows a ray from a point of a storey, at a height above its floor, towards a direction on the plan
    /// (anticlockwise from +x) and an elevation above level.
    pub fn follow(
        &self,
        level: Id<Level>,
        from: Point,
        height: Length,
        on_plan: Angle,
        elevation: Angle,
    ) -> RayEnds {
        let Some(storey) = self.project.levels.get(level) else { return RayEnds::Indoors };
        let rise = elevation.as_radians().tan();
        let start = storey.floor_above_datum.as_mm() + height.as_mm();
        let ray = Ray { from, towards: on_plan.direction(), start, rise };
        let to_ceiling = storey.ceiling_affl.as_mm() - height.as_mm();
        if rise.abs() > LEVEL {
            let meets = ray.from + ray.towards * (to_ceiling / rise).max(0.0);
            let is_beneath_it = |at: Point| self.whereabouts.room_at(level, at).is_some();
            if rise > 0.0 && is_beneath_it(from) && is_beneath_it(meets) {
                return RayEnds::Indoors;
            }
        }
        let mut glass: Vec<(f64, Glass)> = Vec::new();
        for standing in &self.standing {
            match ray.meets(standing) {
                Meets::Nothing => {}
                Meets::Wall => return RayEnds::Indoors,
                Meets::Glass(at, pane) => glass.push((at, pane)),
            }
        }
        glass.sort_by(|a, b| a.0.total_cmp(&b.0));
        RayEnds::InTheSky(glass.into_iter().map(|(_, pane)| pane).collect())
    }
}

fn lets_light_through(opening: &Opening) -> bool {
    !matches!(opening.form, OpeningForm::Door { state: DoorState::Shut, .. })
}

enum Meets {
    Nothing,
    Wall,
    Glass(f64, Glass),
}

struct Ray {
    from: Point,
    /// Unit vector on the plan.
    towards: Vec2,
    /// Height above the datum where it starts, mm.
    start: f64,
    /// Millimetres that it rises in a millimetre of plan.
    rise: f64,
}

impl Ray {
    fn meets(&self, standing: &Standing<'_>) -> Meets {
        let wall = standing.wall;
        let (along, out) = (wall.direction(), wall.normal(Side::Left));
        let offset = self.from - wall.start;
        let half = wall.thickness.as_mm() / 2.0;
        let across = through(offset.dot(out), self.towards.dot(out), -half, half);
        let lengthwise = through(offset.dot(along), self.towards.dot(along), 0.0, wall.length().as_mm());
        let (Some(across), Some(lengthwise)) = (across, lengthwise) else { return Meets::Nothing };
        let (enters, leaves) = (across.0.max(lengthwise.0).max(0.0), across.1.min(lengthwise.1));
        if leaves <= enters || leaves <= BEHIND_MM {
            return Meets::Nothing;
        }
        let heights = [self.start + self.rise * enters, self.start + self.rise * leaves];
        let (low, high) =
            (heights[0].min(heights[1]) - standing.floor, heights[0].max(heights[1]) - standing.floor);
        if low >= wall.height.as_mm() || high <= 0.0 {
            return Meets::Nothing;
        }
        let places = [enters, leaves].map(|at| (offset + self.towards * at).dot(along));
        let (first, last) = (places[0].min(places[1]), places[0].max(places[1]));
        let hole = standing.holes.iter().find(|(_, hole)| {
            hole.from().as_mm() <= first
                && last <= hole.to().as_mm()
                && hole.sill().as_mm() <= low
                && high <= hole.head.as_mm()
        });
        match hole {
            Some((id, hole)) if matches!(hole.form, OpeningForm::Window { .. }) => {
                Meets::Glass(enters, Glass::Window(*id))
            }
            Some(_) => Meets::Nothing,
            None if wall.make_up == MakeUp::Glazed => Meets::Glass(enters, Glass::Screen(standing.id)),
            None => Meets::Wall,
        }
    }
}

/// From where to where along a ray one coordinate lies between two bounds; `None` where it never does.
fn through(at: f64, step: f64, low: f64, high: f64) -> Option<(f64, f64)> {
    if step.abs() < 1e-12 {
        return (low < at && at < high).then_some((f64::NEG_INFINITY, f64::INFINITY));
    }
    let (a, b) = ((low - at) / step, (high - at) / step);
    Some((a.min(b), a.max(b)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::small_house::{SmallHouse, bare_house};

    /// The kitchen with a window of 1.2 m in its south wall, sill 900, head 2100, from x 1400 to 2600.
    fn house_with_a_window() -> (SmallHouse, Id<Opening>) {
        let mut house = bare_house();
        let wall = house.walls[0];
        let window = house.put(Opening {
            wall,
            centre: Length::mm(2000.0),
            width: Length::mm(1200.0),
            head: Length::mm(2100.0),
            form: OpeningForm::Window { sill: Length::mm(900.0) },
        });
        (house, window)
    }

    fn follow(house: &SmallHouse, from: (f64, f64), height: f64, towards: f64, elevation: f64) -> RayEnds {
        let whereabouts = Whereabouts::of(&house.project);
        let sunlight = Sunlight::of(&house.project, &whereabouts);
        let (towards, elevation) = (Angle::degrees(towards), Angle::degrees(elevation));
        sunlight.follow(house.ground, Point::from(from), Length::mm(height), towards, elevation)
    }

    #[test]
    fn a_ray_leaves_by_the_window_or_not_at_all() {
        let (house, window) = house_with_a_window();
        let by_the_window = RayEnds::InTheSky(vec![Glass::Window(window)]);
        for (from, height, towards, elevation, out) in [
            ((2000.0, 2000.0), 1200.0, 270.0, 10.0, true),
            // Over the head: at 1950 mm the ray has risen by 1126 at 30 degrees.
            ((2000.0, 2000.0), 1200.0, 270.0, 30.0, false),
            // Beneath the sill.
            ((2000.0, 2000.0), 300.0, 270.0, 10.0, false),
            // Beside the reveal.
            ((500.0, 2000.0), 1200.0, 270.0, 10.0, false),
            // Slanting through the reveal of 100 mm.
            ((2000.0, 1000.0), 1200.0, 250.0, 10.0, true),
            // To the north there is no window, and up there is the ceiling.
            ((2000.0, 1000.0), 1200.0, 90.0, 10.0, false),
            ((2000.0, 1000.0), 1200.0, 270.0, 80.0, false),
        ] {
            let found = follow(&house, from, height, towards, elevation);
            let expected = if out { by_the_window.clone() } else { RayEnds::Indoors };
            assert_eq!(found, expected, "{from:?} {height} {towards} {elevation}");
        }
    }

    #[test]
    fn outside_the_house_the_sky_is_open_but_for_its_walls() {
        let (house, _) = house_with_a_window();
        let open = RayEnds::InTheSky(Vec::new());
        assert_eq!(follow(&house, (2000.0, -50.0), 2000.0, 270.0, 5.0), open);
        assert_eq!(follow(&house, (2000.0, -50.0), 2000.0, 90.0, 5.0), RayEnds::Indoors);
        assert_eq!(follow(&house, (2000.0, -1000.0), 2000.0, 90.0, 60.0), open);
        assert_eq!(follow(&house, (-3000.0, 1500.0), 1000.0, 0.0, 5.0), RayEnds::Indoors);
    }
}
