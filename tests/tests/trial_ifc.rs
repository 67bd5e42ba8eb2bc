//! Building models of real houses, read and compared with exact truths that were worked out of the same files.
//!
//! The trial data are no part of the checkout: they are looked for in `shared/data` in the folders above it,
//! or where the variable PATTRESS_TRIAL_DATA says; without them this test says so and passes. Everything must
//! agree to a millimetre; what is left aside is named with its reason.

use std::time::Instant;

use kurbo::{Point, Vec2};
use pattress_model::geometry::Ring;
use pattress_model::survey::ifc::{Building, Storey, read_ifc};
use pattress_model::survey::{ProposedForm, ProposedOpening, ProposedRoom, ProposedWall};
use pattress_tests::trial_data;
use serde_json::Value;

/// How far anything may be off, mm.
const WITHIN: f64 = 1.0;

fn mm(value: &Value) -> f64 {
    value.as_f64().expect("a number") * 1000.0
}

fn points(value: &Value) -> Vec<Point> {
    let pairs = value.as_array().expect("points").iter();
    pairs.map(|pair| Point::new(mm(&pair[0]), mm(&pair[1]))).collect()
}

/// How far a wall's axis and thickness are off, mm; its ends may be named either way round.
fn wall_off(wall: &ProposedWall, axis: &[Point], thickness: f64) -> f64 {
    let ends = |a: Point, b: Point| wall.start.distance(a).max(wall.end.distance(b));
    let along = ends(axis[0], axis[1]).min(ends(axis[1], axis[0]));
    along.max((wall.thickness.as_mm() - thickness).abs())
}

/// How far a hole is off, mm: along its wall, and in its sill and head above a floor.
fn hole_off(hole: &ProposedOpening, wall: &ProposedWall, truth: &Value, lift: f64) -> f64 {
    let along = (wall.end - wall.start) / (wall.end - wall.start).hypot();
    let square = Vec2::new(-along.y, along.x);
    let rectangle = points(&truth["plan_rect"]);
    let reach = |direction: Vec2| {
        let at = rectangle.iter().map(|corner| (*corner - wall.start).dot(direction));
        at.fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)))
    };
    let (from, to) = reach(along);
    let (near, far) = reach(square);
    if near > 0.0 || far < 0.0 {
        return f64::MAX;
    }
    let half = hole.width.as_mm() / 2.0;
    let sideways = (hole.centre.as_mm() - half - from).abs().max((hole.centre.as_mm() + half - to).abs());
    let level = |height: Option<pattress_model::units::Length>, truth: &Value| {
        (height.map_or(f64::MAX, |height| height.as_mm()) + lift - mm(truth)).abs()
    };
    sideways.max(level(hole.sill, &truth["sill_m"])).max(level(hole.head, &truth["head_m"]))
}

/// How far a room's outline is off, mm, and its area in percent.
fn room_off(room: &ProposedRoom, outline: &Ring) -> (f64, f64) {
    let ours = Ring::new(room.outline.clone());
    let off = |from: &Ring, to: &Ring| {
        from.points().iter().map(|corner| to.distance_to_outline(*corner)).fold(0.0_f64, f64::max)
    };
    let area = (ours.area() / outline.area() - 1.0).abs() * 100.0;
    (off(&ours, outline).max(off(outline, &ours)), area)
}

/// Found of all, the worst that was off, what was missed, and what was left aside with its reason.
#[derive(Default)]
struct Count {
    found: usize,
    all: usize,
    worst: f64,
    missed: Vec<String>,
    aside: Vec<String>,
}

impl Count {
    fn add(&mut self, off: Option<f64>, name: String) {
        self.all += 1;
        match off.filter(|off| *off <= WITHIN) {
            Some(off) => {
                self.found += 1;
                self.worst = self.worst.max(off);
            }
            None => self.missed.push(format!("{name}: off by {off:?} mm")),
        }
    }
}

fn lift_between(storey: &Storey, truth: &Value) -> f64 {
    storey.floor_above_datum.as_mm() - mm(&truth["storey_elevation_m"])
}

fn count_walls(building: &Building, truth: &Value) -> Count {
    let mut count = Count::default();
    for wall in truth["walls"].as_array().expect("walls") {
        let axis = points(&wall["axis"]);
        let thickness = mm(&wall["thickness_m"]);
        // A wall that the file puts on this storey although it stands wholly on the next is drawn there.
        let stands_here = !wall["section_at_cut"].as_array().expect("section").is_empty();
        let storeys = building.storeys.iter().filter(|s| !stands_here || truth["storey"] == s.name.as_str());
        let all = storeys.flat_map(|storey| &storey.proposal.walls);
        let off = all.map(|ours| wall_off(ours, &axis, thickness)).reduce(f64::min);
        if !stands_here && off.is_none_or(|off| off > WITHIN) {
            count.aside.push(format!(
                "wall {} hangs overhead: nothing of it at the height of the cut",
                wall["name"]
            ));
            continue;
        }
        count.add(off, format!("wall {}", wall["name"]));
    }
    count
}

/// Whether the rectangle of a hole lies beside the wall that the file says it is cut from.
fn lies_beside_its_wall(hole: &Value, truth: &Value) -> bool {
    let walls = truth["walls"].as_array().expect("walls");
    let wall = walls.iter().find(|wall| wall["guid"] == hole["in_wall"]).expect("the hole's wall");
    let (axis, half) = (points(&wall["axis"]), mm(&wall["thickness_m"]) / 2.0);
    let along = (axis[1] - axis[0]) / axis[0].distance(axis[1]);
    let across = points(&hole["plan_rect"]).into_iter().map(|at| along.cross(at - axis[0]));
    let (near, far) = across.fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)));
    near >= half || far <= -half
}

fn count_holes(building: &Building, truth: &Value) -> Count {
    let mut count = Count::default();
    for hole in truth["openings"].as_array().expect("openings") {
        if lies_beside_its_wall(hole, truth) {
            count.aside.push(format!("hole {} lies beside the wall it is cut from", hole["guid"]));
            continue;
        }
        let mut nearest: Option<(f64, ProposedForm)> = None;
        for storey in &building.storeys {
            let lift = lift_between(storey, truth);
            for ours in &storey.proposal.openings {
                let off = hole_off(ours, &storey.proposal.walls[ours.wall], hole, lift);
                if nearest.is_none_or(|(best, _)| off < best) {
                    nearest = Some((off, ours.form));
                }
            }
        }
        let fits = nearest.filter(|(_, form)| match hole["fills"].as_str() {
            Some("IfcDoor") => matches!(form, ProposedForm::Door(_)),
            Some("IfcWindow") => *form == ProposedForm::Window,
            _ => true,
        });
        count.add(fits.map(|(off, _)| off), format!("hole {}", hole["guid"]));
    }
    count
}

fn count_rooms(storey: &Storey, truth: &Value) -> (Count, f64) {
    let (mut count, mut worst_area) = (Count::default(), 0.0_f64);
    for room in truth["spaces"].as_array().expect("spaces") {
        let outline = Ring::new(points(&room["polygon"]));
        let name = room["long_name"].as_str().or(room["name"].as_str()).unwrap_or_default();
        let alike = storey.proposal.rooms.iter().filter(|ours| ours.name == name);
        let off = alike.map(|ours| room_off(ours, &outline)).reduce(|a, b| if a.0 <= b.0 { a } else { b });
        if let Some((_, area)) = off {
            worst_area = worst_area.max(area);
        }
        count.add(off.map(|(off, _)| off), format!("room {name}"));
    }
    (count, worst_area)
}

#[test]
fn real_models_are_read_to_the_millimetre() {
    let Some(folder) = trial_data::data() else {
        println!("trial data not present: nothing read");
        return;
    };
    println!("file                  walls    worst   holes   worst   rooms   worst   area     time");
    let mut failures = Vec::new();
    for (file, truth) in [
        ("smart_home_flat.ifc", "flat_L1_1-50_A3.truth.json"),
        ("duplex.ifc", "duplex_L1_1-100_A3.truth.json"),
    ] {
        let bytes = std::fs::read(folder.join("ifc").join(file)).expect("trial data complete");
        let truth = std::fs::read(folder.join("derived").join(truth)).expect("trial data complete");
        let truth: Value = serde_json::from_slice(&truth).expect("truth is JSON");
        let started = Instant::now();
        let building = read_ifc(&bytes, &|_| true).expect("a building");
        let taken = started.elapsed();
        let storey = building.storeys.iter().find(|storey| truth["storey"] == storey.name.as_str());
        let storey = storey.expect("the truth's storey");
        assert!(lift_between(storey, &truth).abs() < 0.01, "{:?}", storey.floor_above_datum);
        let (walls, holes) = (count_walls(&building, &truth), count_holes(&building, &truth));
        let (rooms, area) = count_rooms(storey, &truth);
        println!(
            "{file:20} {:>3}/{:<3} {:6.3} {:>3}/{:<3} {:7.3} {:>3}/{:<3} {:7.3} {area:5.3} % {:5} ms",
            walls.found,
            walls.all,
            walls.worst,
            holes.found,
            holes.all,
            holes.worst,
            rooms.found,
            rooms.all,
            rooms.worst,
            taken.as_millis()
        );
        for aside in [&walls.aside, &holes.aside, &rooms.aside].into_iter().flatten() {
            println!("  left aside: {aside}");
        }
        print_building(&building);
        failures.extend([walls.missed, holes.missed, rooms.missed].concat());
    }
    assert_eq!(failures, Vec::<String>::new());
}

fn print_building(building: &Building) {
    println!("  {}, {:?}, north {:?}", building.schema, building.project, building.north);
    for storey in &building.storeys {
        println!(
            "  {}: floor {}, next {:?}, ceiling {:?}: {} walls, {} holes, {} rooms",
            storey.name,
            storey.floor_above_datum,
            storey.height_to_next.map(|height| height.as_mm()),
            storey.ceiling.map(|height| height.as_mm()),
            storey.proposal.walls.len(),
            storey.proposal.openings.len(),
            storey.proposal.rooms.len()
        );
    }
    for (title, notes) in [("not understood", &building.not_understood), ("left out", &building.left_out)] {
        for note in notes {
            println!("  {title}: {} × {} (first: {})", note.count, note.what, note.example);
        }
    }
}
