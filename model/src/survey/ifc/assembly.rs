//! Puts what was found of a building together: each wall on its storeys, each hole in its wall, each room on
//! its floor.

use std::collections::BTreeMap;

use kurbo::{Point, Vec2};

use super::frame::{Frame, unit};
use super::openings::{DOORS, FoundHole, WINDOWS, read_door_in_glazing, read_hole};
use super::reading::Reading;
use super::relations::Relations;
use super::rooms::read_room;
use super::storeys::{FoundStorey, find_storeys, storey_of_room, storeys_of_wall};
use super::walls::{FoundWall, WALLS, read_wall};
use super::{Building, IfcError, KeepGoing, Storey};
use crate::survey::proposal::{Proposal, ProposedOpening, ProposedWall};
use crate::units::{Angle, Length};

/// Coordinates farther than this from the origin belong to a surveyor's grid, mm.
const FAR: f64 = 1.0e7;

/// Parts farther than this from the middle of the building are not of it, mm.
const FARTHEST_PART: f64 = 1.0e6;

/// After how many parts the share of the work is told.
const PARTS_BETWEEN_CALLS: usize = 64;

/// A building in assembly.
struct Assembly<'r, 'a> {
    reading: &'r Reading<'a>,
    relations: &'r Relations,
    /// From the file's world to the building's own coordinates.
    building: Frame,
    storeys: Vec<FoundStorey>,
    proposals: Vec<Proposal>,
    /// Heights of rooms above their floors, mm, for each storey.
    room_heights: Vec<Vec<f64>>,
    /// Where each wall of the file went: its storeys, and the first of its pieces on each.
    walls: BTreeMap<u64, (FoundWall, Vec<(usize, usize)>)>,
}

/// Reads all parts and puts them together.
pub(super) fn assemble(reading: Reading<'_>, keep_going: KeepGoing<'_>) -> Result<Building, IfcError> {
    let relations = Relations::of(&reading);
    let building = reading
        .file
        .all_of(&["IFCBUILDING"])
        .iter()
        .find_map(|number| reading.stands(&reading.file.record(*number)?))
        .unwrap_or(Frame::WORLD)
        .back();
    let storeys = find_storeys(&reading, &building);
    let mut assembly = Assembly {
        reading: &reading,
        relations: &relations,
        building,
        proposals: vec![Proposal::default(); storeys.len()],
        room_heights: vec![Vec::new(); storeys.len()],
        storeys,
        walls: BTreeMap::new(),
    };
    assembly.read_all(keep_going)?;
    assembly.note_the_rest();
    let moved_by = assembly.brought_near();
    let storeys = assembly.finished_storeys();
    let nothing =
        storeys.iter().all(|storey| storey.proposal.walls.is_empty() && storey.proposal.rooms.is_empty());
    if nothing {
        return Err(IfcError::Empty);
    }
    let named = |entity: &str, places: [usize; 2]| {
        let record = reading.file.record(*reading.file.all_of(&[entity]).first()?)?;
        places.iter().find_map(|place| record.text_at(*place))
    };
    let (project, site) = (named("IFCPROJECT", [5, 2]), named("IFCSITE", [7, 2]));
    let north = north(&reading, &building);
    for repeated in &reading.file.repeated {
        reading.note("records whose number is taken already", *repeated);
    }
    if reading.file.is_exhausted() {
        reading.note("parts unread, because the file's records refer to one another too often", 0);
    }
    let schema = reading.file.schema.clone();
    let (not_understood, left_out) = reading.into_notes();
    Ok(Building { schema, project, site, north, storeys, moved_by, not_understood, left_out })
}

fn north(reading: &Reading<'_>, building: &Frame) -> Option<Angle> {
    let contexts = reading.file.all_of(&["IFCGEOMETRICREPRESENTATIONCONTEXT"]);
    let direction = contexts.iter().find_map(|number| {
        let context = reading.file.record(*number)?;
        reading.direction(context.reference_at(5)?)
    })?;
    let [x, y, _] = building.turn(unit([direction[0], direction[1], 0.0])?);
    Some(Angle::of(Vec2::new(x, y)))
}

impl Assembly<'_, '_> {
    fn read_all(&mut self, keep_going: KeepGoing<'_>) -> Result<(), IfcError> {
        let file = &self.reading.file;
        let (spaces, walls) = (file.all_of(&["IFCSPACE"]), file.all_of(&WALLS));
        let holes = &self.relations.holes;
        let all = (spaces.len() + walls.len() + holes.len()).max(1);
        let mut done = 0_usize;
        let mut stopped = || {
            done += 1;
            done.is_multiple_of(PARTS_BETWEEN_CALLS) && !keep_going(0.5 + 0.5 * done as f32 / all as f32)
        };
        for space in spaces {
            if stopped() {
                return Err(IfcError::Stopped);
            }
            self.add_room(space);
        }
        let lived_in = self.lived_in();
        for wall in walls {
            if stopped() {
                return Err(IfcError::Stopped);
            }
            self.add_wall(wall, &lived_in);
        }
        for (host, hole) in holes {
            if stopped() {
                return Err(IfcError::Stopped);
            }
            self.add_hole(*host, *hole);
        }
        self.add_doors_in_glazing();
        Ok(())
    }

    fn add_room(&mut self, number: u64) {
        let Some(found) = read_room(self.reading, &self.building, number) else { return };
        let storey = storey_of_room(self.reading, self.relations, &self.storeys, number, found.heights);
        if let Some((_, ceiling)) = found.heights {
            self.room_heights[storey].push(ceiling - self.storeys[storey].floor);
        }
        self.proposals[storey].rooms.push(found.room);
    }

    /// Which storeys have rooms or doors: the others are heights of reference, such as the top of a roof.
    fn lived_in(&self) -> Vec<bool> {
        let mut lived_in: Vec<bool> =
            self.proposals.iter().map(|proposal| !proposal.rooms.is_empty()).collect();
        for door in self.reading.file.all_of(&DOORS) {
            let is_storey = |at: u64| self.storeys.iter().any(|storey| storey.number == at);
            let storey = self.relations.around(door, is_storey);
            let index = storey.and_then(|at| self.storeys.iter().position(|each| each.number == at));
            if let Some(index) = index {
                lived_in[index] = true;
            }
        }
        lived_in
    }

    fn add_wall(&mut self, number: u64, lived_in: &[bool]) {
        let Some(wall) = read_wall(self.reading, self.relations, &self.building, number) else { return };
        let on =
            storeys_of_wall(self.reading, self.relations, &self.storeys, number, wall.heights, |storey| {
                lived_in.get(storey) == Some(&true)
            });
        let mut pieces = Vec::new();
        for storey in on {
            let floor = self.storeys[storey].floor;
            let walls = &mut self.proposals[storey].walls;
            pieces.push((storey, walls.len()));
            walls.extend(
                wall.lines.iter().map(|line| ProposedWall {
                    start: line.start,
                    end: line.end,
                    thickness: Length::mm(wall.thickness),
                    height: wall
                        .heights
                        .map(|(_, top)| Length::mm(top - floor))
                        .filter(|height| height.as_mm() > 0.0),
                    make_up: wall.make_up,
                    confidence: 1.0,
                }),
            );
        }
        self.walls.insert(number, (wall, pieces));
    }

    fn add_hole(&mut self, host: u64, number: u64) {
        // A hole may be cut from one of the parts of a wall.
        let host = self.relations.around(host, |at| self.walls.contains_key(&at)).unwrap_or(host);
        let Some((wall, _)) = self.walls.get(&host) else {
            let entity = self.reading.file.entity_of(host).unwrap_or("something missing");
            if WALLS.contains(&entity) {
                self.reading.note("holes in walls that were not understood", number);
            } else {
                self.reading.leave_out(format!("holes in {entity}"), number);
            }
            return;
        };
        if let Some(hole) = read_hole(self.reading, self.relations, &self.building, wall, number) {
            self.keep_hole(host, number, &hole);
        }
    }

    fn add_doors_in_glazing(&mut self) {
        for host in self.reading.file.all_of(&["IFCCURTAINWALL"]) {
            for part in self.relations.parts(host) {
                let is_door =
                    self.reading.file.entity_of(*part).is_some_and(|entity| DOORS.contains(&entity));
                let Some((wall, _)) = self.walls.get(&host).filter(|_| is_door) else { continue };
                let hole = read_door_in_glazing(self.reading, self.relations, &self.building, wall, *part);
                if let Some(hole) = hole {
                    self.keep_hole(host, *part, &hole);
                }
            }
        }
    }

    /// Puts a hole on that storey of its wall on which its middle lies.
    fn keep_hole(&mut self, host: u64, number: u64, hole: &FoundHole) {
        let (sill, head) = hole.heights;
        let middle = (sill + head) / 2.0;
        let Some((_, pieces)) = self.walls.get(&host) else { return };
        let at_height = pieces.iter().rfind(|(storey, _)| self.storeys[*storey].floor <= middle);
        let Some((storey, first)) = at_height.or_else(|| pieces.first()).copied() else {
            self.reading.leave_out("holes in walls that hang overhead", number);
            return;
        };
        let floor = self.storeys[storey].floor;
        self.proposals[storey].openings.push(ProposedOpening {
            wall: first + hole.line,
            centre: Length::mm(hole.centre),
            width: Length::mm(hole.width),
            sill: Some(Length::mm(sill - floor)),
            head: Some(Length::mm(head - floor)),
            form: hole.form,
            confidence: 1.0,
        });
    }

    /// Doors and windows in no wall, and all elements that a plan here has no place for.
    fn note_the_rest(&self) {
        let filling: std::collections::BTreeSet<u64> = self.relations.fillings().collect();
        let in_glazing = |number: u64| {
            let is_glazing = |at: u64| self.reading.file.entity_of(at) == Some("IFCCURTAINWALL");
            self.relations.around(number, is_glazing).is_some()
        };
        for (entities, what) in [(DOORS, "doors in no wall"), (WINDOWS, "windows in no wall")] {
            for number in self.reading.file.all_of(&entities) {
                if !filling.contains(&number) && !in_glazing(number) {
                    self.reading.note(what, number);
                }
            }
        }
        for number in self.relations.contained() {
            let Some(entity) = self.reading.file.entity_of(number) else { continue };
            let has_a_place = WALLS.contains(&entity)
                || DOORS.contains(&entity)
                || WINDOWS.contains(&entity)
                || entity == "IFCSPACE"
                || entity == "IFCOPENINGELEMENT";
            if !has_a_place {
                self.reading.leave_out(entity, number);
            }
        }
    }

    /// Moves a building from a surveyor's grid to the origin, and leaves out what lies far off it.
    fn brought_near(&mut self) -> Option<Vec2> {
        let walls = self.proposals.iter().flat_map(|proposal| proposal.walls.iter().map(|wall| wall.start));
        let rooms = self.proposals.iter().flat_map(|proposal| proposal.rooms.iter().map(|room| room.seed));
        let (mut xs, mut ys): (Vec<f64>, Vec<f64>) = walls.chain(rooms).map(|at| (at.x, at.y)).unzip();
        let middle = Point::new(median(&mut xs)?, median(&mut ys)?);
        self.leave_out_far_parts(middle);
        if middle.x.abs() <= FAR && middle.y.abs() <= FAR {
            return None;
        }
        let by = Vec2::new(-(middle.x / 1000.0).round() * 1000.0, -(middle.y / 1000.0).round() * 1000.0);
        for proposal in &mut self.proposals {
            for wall in &mut proposal.walls {
                (wall.start, wall.end) = (wall.start + by, wall.end + by);
            }
            for room in &mut proposal.rooms {
                room.seed += by;
                room.outline.iter_mut().for_each(|corner| *corner += by);
            }
        }
        Some(by)
    }

    fn leave_out_far_parts(&mut self, middle: Point) {
        let near = |point: &Point| (*point - middle).hypot() <= FARTHEST_PART;
        for proposal in &mut self.proposals {
            let mut kept = Vec::with_capacity(proposal.walls.len());
            let mut index_now = Vec::with_capacity(proposal.walls.len());
            for wall in std::mem::take(&mut proposal.walls) {
                let is_near = near(&wall.start) && near(&wall.end);
                index_now.push(is_near.then_some(kept.len()));
                if is_near {
                    kept.push(wall);
                } else {
                    self.reading.note("walls more than a kilometre from the building: left out", 0);
                }
            }
            proposal.walls = kept;
            proposal.openings.retain_mut(|opening| match index_now.get(opening.wall) {
                Some(Some(index)) => {
                    opening.wall = *index;
                    true
                }
                _ => false,
            });
            let rooms = proposal.rooms.len();
            proposal.rooms.retain(|room| room.outline.iter().all(near));
            for _ in proposal.rooms.len()..rooms {
                self.reading.note("rooms more than a kilometre from the building: left out", 0);
            }
        }
    }

    fn finished_storeys(&mut self) -> Vec<Storey> {
        let floors: Vec<f64> = self.storeys.iter().map(|storey| storey.floor).collect();
        let mut finished = Vec::new();
        for (index, storey) in self.storeys.iter().enumerate() {
            let next = floors.iter().skip(index + 1).find(|floor| **floor > storey.floor + 1.0);
            let height_to_next = next.map(|next| next - storey.floor);
            let of_rooms = median(&mut self.room_heights[index]).filter(|height| *height > 0.0);
            let ceiling = of_rooms.map(|height| height.min(height_to_next.unwrap_or(f64::MAX)));
            finished.push(Storey {
                name: storey.name.clone(),
                floor_above_datum: Length::mm(storey.floor),
                height_to_next: height_to_next.map(Length::mm),
                ceiling: ceiling.map(Length::mm),
                proposal: std::mem::take(&mut self.proposals[index]),
            });
        }
        finished
    }
}

/// The middle one of some figures.
fn median(figures: &mut [f64]) -> Option<f64> {
    figures.sort_by(f64::total_cmp);
    figures.get(figures.len() / 2).copied()
}
