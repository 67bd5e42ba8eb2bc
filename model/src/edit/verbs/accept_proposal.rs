//! Accept what a trace or a model of a building proposes: all of it, or the parts someone chose.
//!
//! A wall that stands on the level already is not built twice, and an opening chosen without its wall brings the
//! wall along. Rooms come last, and only where the walls that are there by then close around them; where a model parts an
//! open space into rooms, room lines do so here.

use super::chosen_parts::{chosen_parts, middle_of};
use super::close_joints::close_joints;
use super::draft::Draft;
use super::open_sides::open_sides;
use super::standing_parts::{stands_for, wall_of};
use super::words::{counted, gone, listed};
use crate::building::outline::{RoomOutline, room_spaces};
use crate::edit::Change;
use crate::edit::invariant::{FARTHEST_MM, SHORTEST_WALL_MM};
use crate::id::Id;
use crate::plan::{DoorState, Hand, Level, MakeUp, Opening, OpeningForm, Room, RoomUse, Side, Wall};
use crate::project::Project;
use crate::survey::{Part, Proposal, ProposedDoor, ProposedForm, ProposedOpening, ProposedRoom};
use crate::units::{Angle, Length, round_point};

/// The narrowest opening that is cut, mm.
const NARROWEST_OPENING_MM: f64 = 100.0;

/// An opening that must be trimmed to fit keeps at least this share of its width, or is left out.
const LEAST_TRIMMED: f64 = 0.5;

/// What is taken where a proposal does not say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Defaults {
    /// What walls are made of.
    pub make_up: MakeUp,
    /// Heads of doors above the finished floor.
    pub door_head: Length,
    /// Heads of windows and plain openings.
    pub head: Length,
    /// Sills of windows.
    pub sill: Length,
    /// What rooms are for.
    pub room_use: RoomUse,
}

impl Default for Defaults {
    /// As the tools of the window draw them (common practice, no published source).
    fn default() -> Self {
        Self {
            make_up: MakeUp::Masonry,
            door_head: Length::mm(2060.0),
            head: Length::mm(2100.0),
            sill: Length::mm(900.0),
            room_use: RoomUse::Unsaid,
        }
    }
}

/// Accepts a proposal for a level, or the chosen parts of it, as one change. What is there already is left out.
///
/// # Errors
/// A sentence, where nothing is left to accept, a room has no walls around it, or a figure is out of bounds.
pub fn accept_proposal(
    project: &Project,
    level: Id<Level>,
    proposal: &Proposal,
    chosen: Option<&[Part]>,
    defaults: Defaults,
) -> Result<Change, String> {
    let storey = project.levels.get(level).ok_or_else(|| gone("level"))?;
    let mut accepting = Accepting {
        draft: Draft::of(project),
        level,
        ceiling: storey.ceiling_affl,
        proposal,
        defaults,
        built: vec![None; proposal.walls.len()],
        fresh: Vec::new(),
        counts: [0; 3],
    };
    let chosen = chosen_parts(proposal, chosen);
    for wall in chosen.walls {
        accepting.build(wall)?;
    }
    close_joints(&mut accepting.draft, level, &accepting.fresh);
    for opening in chosen.openings {
        accepting.cut(opening);
    }
    let not_closed = accepting.name_rooms(&chosen.rooms);
    accepting.finish(not_closed)
}

/// A proposal on its way into a plan.
struct Accepting<'a> {
    draft: Draft,
    level: Id<Level>,
    ceiling: Length,
    proposal: &'a Proposal,
    defaults: Defaults,
    /// The wall that stands for each proposed one.
    built: Vec<Option<Id<Wall>>>,
    /// Walls that did not stand there before.
    fresh: Vec<Id<Wall>>,
    /// How many walls, openings and rooms came in.
    counts: [usize; 3],
}

impl Accepting<'_> {
    /// Builds a wall, or finds the one that stands there.
    fn build(&mut self, index: usize) -> Result<(), String> {
        let Some(proposed) = self.proposal.walls.get(index) else { return Ok(()) };
        let wall = wall_of(proposed, self.level, self.ceiling, self.defaults.make_up);
        // Joints and rooms are worked out before the draft is finished, and need places that are numbers.
        let figures = [wall.start.x, wall.start.y, wall.end.x, wall.end.y, wall.thickness.as_mm()];
        if !figures.iter().all(|figure| figure.is_finite() && figure.abs() <= FARTHEST_MM) {
            return Err("a proposed wall lies more than 10 km off or nowhere: choose the others".to_owned());
        }
        if wall.length().as_mm() < SHORTEST_WALL_MM {
            return Ok(());
        }
        let standing = self
            .draft
            .now()
            .walls_on(self.level)
            .find(|(_, other)| stands_for(other, &wall))
            .map(|(id, _)| id);
        self.built[index] = Some(match standing {
            Some(id) => id,
            None => {
                self.counts[0] += 1;
                let id = self.draft.add(wall);
                self.fresh.push(id);
                id
            }
        });
        Ok(())
    }

    /// Cuts an opening into its wall where there is room for it.
    fn cut(&mut self, proposed: &ProposedOpening) {
        let host = self.built.get(proposed.wall).copied().flatten();
        let now = self.draft.now();
        let (Some(id), Some(drawn)) = (host, self.proposal.walls.get(proposed.wall)) else { return };
        let (Some(wall), Some(middle)) = (now.walls.get(id), middle_of(self.proposal, proposed)) else {
            return;
        };
        let turned = wall.direction().dot(drawn.end - drawn.start) < 0.0;
        let half = proposed.width.as_mm() / 2.0;
        let along = wall.along_of(middle).as_mm();
        let Some((from, to)) = self.room_on(id, along - half, along + half) else { return };
        let head = self.head_of(proposed).as_mm().min(wall.height.as_mm());
        let opening = Opening {
            wall: id,
            centre: Length::mm((from + to) / 2.0).rounded(),
            width: Length::mm(to - from).rounded(),
            head: Length::mm(head).rounded(),
            form: self.form_of(proposed, head, turned),
        };
        self.counts[1] += 1;
        self.draft.add(opening);
    }

    /// What is left of a stretch of a wall between its ends and its other openings; `None` where that is too little.
    fn room_on(&self, wall: Id<Wall>, from: f64, to: f64) -> Option<(f64, f64)> {
        let now = self.draft.now();
        let length = (now.walls.get(wall)?.length().as_mm() * 10.0).floor() / 10.0;
        let (mut first, mut last) = (from.max(0.0), to.min(length));
        for (_, other) in now.openings.iter().filter(|(_, other)| other.wall == wall) {
            let (start, end) = (other.from().as_mm(), other.to().as_mm());
            if start >= last || end <= first {
                continue;
            }
            // The other takes its side of the middle; what holds the middle takes all.
            let middle = (from + to) / 2.0;
            if end <= middle {
                first = first.max(end);
            } else if start >= middle {
                last = last.min(start);
            } else {
                return None;
            }
        }
        // Both are kept to the tenth, so that centre and half the width never reach over an end.
        let (first, last) = ((first * 5.0).ceil() / 5.0, (last * 5.0).floor() / 5.0);
        let enough = (to - from) * LEAST_TRIMMED;
        (last - first >= enough.max(NARROWEST_OPENING_MM)).then_some((first, last))
    }

    fn head_of(&self, proposed: &ProposedOpening) -> Length {
        let usual = match proposed.form {
            ProposedForm::Door(_) => self.defaults.door_head,
            ProposedForm::Window | ProposedForm::Plain => self.defaults.head,
        };
        proposed.head.filter(|head| head.as_mm() > 0.0).unwrap_or(usual)
    }

    /// The form of an opening; `turned` where its wall runs the other way than the proposed one.
    fn form_of(&self, proposed: &ProposedOpening, head: f64, turned: bool) -> OpeningForm {
        match proposed.form {
            ProposedForm::Plain => OpeningForm::Plain,
            ProposedForm::Window => {
                let below = |sill: &Length| sill.as_mm() < head;
                let sill = proposed.sill.filter(below).or(Some(self.defaults.sill).filter(below));
                OpeningForm::Window { sill: sill.unwrap_or(Length::ZERO).rounded() }
            }
            ProposedForm::Door(hung) => {
                let ProposedDoor { hinge, swing } =
                    hung.unwrap_or(ProposedDoor { hinge: Hand::Start, swing: Side::Left });
                let (hinge, swing) = if turned { (hinge.other(), swing.other()) } else { (hinge, swing) };
                OpeningForm::Door { hinge, swing, state: DoorState::Open(Angle::degrees(90.0)) }
            }
        }
    }

    /// Parts open spaces as the rooms do, and names those around which walls close; returns the first around which none do.
    fn name_rooms(&mut self, rooms: &[&ProposedRoom]) -> Option<String> {
        if rooms.is_empty() {
            return None;
        }
        for line in open_sides(self.draft.now(), self.level, rooms) {
            self.draft.add(line);
        }
        let spaces = room_spaces(self.draft.now(), self.level);
        let mut named: Vec<&RoomOutline> = Vec::new();
        let mut not_closed = None;
        for room in rooms {
            let seed = round_point(room.seed);
            let Some(space) = spaces.iter().find(|space| space.contains(seed)) else {
                not_closed.get_or_insert_with(|| called(room));
                continue;
            };
            let is_named = self.draft.now().rooms_on(self.level).any(|(_, other)| space.contains(other.seed));
            if is_named || named.contains(&space) {
                continue;
            }
            named.push(space);
            let name = match room.name.trim() {
                "" => self.free_name(),
                name => name.to_owned(),
            };
            let room_use = room.room_use.unwrap_or(self.defaults.room_use);
            self.draft.add(Room { level: self.level, name, room_use, seed, ceiling: None });
            self.counts[2] += 1;
        }
        not_closed
    }

    fn free_name(&self) -> String {
        let taken = |name: &str| self.draft.now().rooms.iter().any(|(_, room)| room.name == name);
        (1..).map(|number| format!("Room {number}")).find(|name| !taken(name)).unwrap_or_default()
    }

    fn finish(self, not_closed: Option<String>) -> Result<Change, String> {
        let sorts = ["wall", "opening", "room"];
        let counted: Vec<String> = self
            .counts
            .iter()
            .zip(sorts)
            .filter(|(count, _)| **count > 0)
            .map(|(count, sort)| counted(*count, sort))
            .collect();
        if counted.is_empty() {
            return Err(match not_closed {
                Some(room) => format!("no walls close around {room} yet: accept its walls first"),
                None => {
                    "all of it is on the level already, or nothing is proposed: there is nothing to accept"
                        .to_owned()
                }
            });
        }
        self.draft.finish(format!("Accept {}", listed(&counted)))
    }
}

fn called(room: &ProposedRoom) -> String {
    match room.name.trim() {
        "" => "the room".to_owned(),
        name => format!("“{name}”"),
    }
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::edit::History;
    use crate::edit::verbs::draw_walls;
    use crate::edit::verbs::tests::SPEC;
    use crate::survey::ProposedWall;

    fn wall(from: (f64, f64), to: (f64, f64)) -> ProposedWall {
        ProposedWall {
            start: from.into(),
            end: to.into(),
            thickness: Length::mm(100.0),
            height: None,
            make_up: None,
            confidence: 0.9,
        }
    }

    fn opening(wall: usize, centre: f64, form: ProposedForm) -> ProposedOpening {
        ProposedOpening {
            wall,
            centre: Length::mm(centre),
            width: Length::mm(800.0),
            sill: None,
            head: None,
            form,
            confidence: 0.8,
        }
    }

    fn room(name: &str, seed: (f64, f64)) -> ProposedRoom {
        ProposedRoom {
            name: name.to_owned(),
            room_use: None,
            seed: seed.into(),
            outline: Vec::new(),
            confidence: 0.7,
        }
    }

    #[test]
    fn a_model_that_parts_an_open_space_into_rooms_brings_the_lines_between_them() {
        let corners = [(0.0, 0.0), (6000.0, 0.0), (6000.0, 3000.0), (0.0, 3000.0)];
        let walls = (0..4).map(|index| wall(corners[index], corners[(index + 1) % 4])).collect();
        // A kitchen of 2 m in the lower left, around its other sides the living room; all measured to the faces.
        let kitchen = [(50.0, 50.0), (2000.0, 50.0), (2000.0, 1500.0), (50.0, 1500.0)];
        let living = [
            (2000.0, 50.0),
            (5950.0, 50.0),
            (5950.0, 2950.0),
            (50.0, 2950.0),
            (50.0, 1500.0),
            (2000.0, 1500.0),
        ];
        let of = |name: &str, seed, outline: &[(f64, f64)]| ProposedRoom {
            outline: outline.iter().map(|at| Point::from(*at)).collect(),
            ..room(name, seed)
        };
        let rooms = vec![of("Kitchen", (500.0, 500.0), &kitchen), of("Living", (4000.0, 2000.0), &living)];
        let proposal = Proposal { walls, openings: Vec::new(), rooms };
        let mut project = Project::new();
        let level = project.levels.ids().next().unwrap();
        let change = accept_proposal(&project, level, &proposal, None, Defaults::default()).unwrap();
        History::default().apply(&mut project, change).unwrap();
        assert_eq!((project.room_lines.len(), project.rooms.len()), (2, 2));
        let mut areas: Vec<f64> = crate::building::outline::room_outlines(&project, level)
            .values()
            .map(|outline| outline.area().as_mm2())
            .collect();
        areas.sort_by(f64::total_cmp);
        let kitchen = 1950.0 * 1450.0;
        for (found, expected) in areas.iter().zip([kitchen, 5900.0 * 2900.0 - kitchen]) {
            assert!((found - expected).abs() < 50.0, "{found} {expected}");
        }
        // The same once more brings nothing.
        assert!(accept_proposal(&project, level, &proposal, None, Defaults::default()).is_err());
    }

    /// A room of 4 by 3 m with a door and a window, and one that is open to the right of it.
    fn proposal() -> Proposal {
        Proposal {
            walls: vec![
                wall((0.0, 0.0), (4000.0, 0.0)),
                wall((4000.0, 0.0), (4000.0, 3000.0)),
                wall((4000.0, 3000.0), (0.0, 3000.0)),
                wall((0.0, 3000.0), (0.0, 0.0)),
                wall((4000.0, 3000.0), (7000.0, 3000.0)),
            ],
            openings: vec![
                opening(0, 1000.0, ProposedForm::Door(None)),
                opening(2, 2000.0, ProposedForm::Window),
            ],
            rooms: vec![room("Bad", (2000.0, 1500.0)), room("Open", (5500.0, 1500.0))],
        }
    }

    fn fresh() -> (Project, Id<Level>) {
        let project = Project::new();
        let level = project.levels.ids().next().unwrap();
        (project, level)
    }

    fn accept(project: &Project, proposal: &Proposal, chosen: Option<&[Part]>) -> Result<Change, String> {
        let level = project.levels.ids().next().unwrap();
        accept_proposal(project, level, proposal, chosen, Defaults::default())
    }

    fn accepted(proposal: &Proposal, chosen: Option<&[Part]>) -> Project {
        let (mut project, _) = fresh();
        let change = accept(&project, proposal, chosen).unwrap();
        History::default().apply(&mut project, change).unwrap();
        project
    }

    fn counts(project: &Project) -> (usize, usize, usize) {
        (project.walls.len(), project.openings.len(), project.rooms.len())
    }

    #[test]
    fn all_of_a_proposal_comes_in_as_one_change_and_a_second_time_nothing() {
        let (mut project, _) = fresh();
        let change = accept(&project, &proposal(), None).unwrap();
        assert_eq!(change.label, "Accept 5 walls, 2 openings and 1 room");
        History::default().apply(&mut project, change).unwrap();
        assert_eq!(counts(&project), (5, 2, 1));
        let ceiling = project.levels.iter().next().unwrap().1.ceiling_affl;
        assert!(project.walls.iter().all(|(_, wall)| wall.height == ceiling));
        let heads: Vec<f64> = project.openings.iter().map(|(_, opening)| opening.head.as_mm()).collect();
        assert_eq!(heads, [2060.0, 2100.0]);
        assert!(accept(&project, &proposal(), None).unwrap_err().contains("“Open”"));
        let closed = Proposal { rooms: proposal().rooms[..1].to_vec(), ..proposal() };
        assert!(accept(&project, &closed, None).unwrap_err().contains("on the level already"));
        assert!(accept(&project, &Proposal::default(), None).is_err());
    }

    #[test]
    fn chosen_parts_come_alone_and_an_opening_brings_its_wall() {
        for (chosen, expected) in [
            (vec![Part::Wall(1)], Ok((1, 0, 0))),
            (vec![Part::Opening(0)], Ok((1, 1, 0))),
            (vec![Part::Opening(0), Part::Opening(1), Part::Wall(0)], Ok((2, 2, 0))),
            (vec![Part::Room(0), Part::Wall(0)], Ok((1, 0, 0))),
            (vec![Part::Room(0)], Err("no walls close around “Bad” yet")),
            (vec![Part::Wall(99), Part::Opening(99), Part::Room(99)], Err("nothing to accept")),
            (vec![], Err("nothing to accept")),
        ] {
            let (mut project, _) = fresh();
            let outcome = accept(&project, &proposal(), Some(&chosen)).map(|change| {
                History::default().apply(&mut project, change).unwrap();
                counts(&project)
            });
            match (outcome, expected) {
                (Ok(given), Ok(expected)) => assert_eq!(given, expected, "{chosen:?}"),
                (Err(sentence), Err(words)) => assert!(sentence.contains(words), "{sentence}"),
                (outcome, _) => panic!("{chosen:?}: {outcome:?}"),
            }
        }
    }

    #[test]
    fn an_opening_goes_into_the_wall_that_stands_and_keeps_its_hanging() {
        let (mut project, level) = fresh();
        let drawn = [Point::new(4000.0, 20.0), Point::new(0.0, 20.0)];
        History::default()
            .apply(&mut project, draw_walls(&Project::new(), level, &drawn, SPEC).unwrap())
            .unwrap();
        let mut proposal = proposal();
        let hung = ProposedDoor { hinge: Hand::Start, swing: Side::Left };
        proposal.openings[0].form = ProposedForm::Door(Some(hung));
        let change = accept(&project, &proposal, Some(&[Part::Opening(0)])).unwrap();
        assert_eq!(change.label, "Accept 1 opening");
        History::default().apply(&mut project, change).unwrap();
        let (_, door) = project.openings.iter().next().unwrap();
        assert_eq!(door.centre, Length::mm(3000.0));
        assert!(matches!(door.form, OpeningForm::Door { hinge: Hand::End, swing: Side::Right, .. }));
    }

    #[test]
    fn openings_that_overlap_or_stick_out_are_trimmed_or_left_out() {
        for (centres, expected) in [
            (vec![300.0], vec![(350.0, 700.0)]),
            (vec![3900.0], vec![(3750.0, 500.0)]),
            (vec![-200.0], vec![]),
            (vec![1000.0, 1100.0], vec![(1000.0, 800.0)]),
            (vec![1000.0, 1600.0], vec![(1000.0, 800.0), (1700.0, 600.0)]),
            (vec![f64::NAN], vec![]),
        ] {
            let openings = centres.iter().map(|at| opening(0, *at, ProposedForm::Plain)).collect();
            let project = accepted(&Proposal { openings, ..proposal() }, None);
            let given: Vec<(f64, f64)> =
                project.openings.iter().map(|(_, cut)| (cut.centre.as_mm(), cut.width.as_mm())).collect();
            assert_eq!(given, expected, "{centres:?}");
        }
    }

    #[test]
    fn what_the_source_says_goes_before_what_is_usual() {
        let mut proposal = proposal();
        proposal.walls[0].height = Some(Length::mm(2000.0));
        proposal.walls[0].make_up = Some(MakeUp::Stud);
        proposal.openings[1].sill = Some(Length::mm(400.0));
        proposal.openings[1].head = Some(Length::mm(1900.0));
        proposal.rooms[0].room_use = Some(RoomUse::Bathroom);
        let project = accepted(&proposal, None);
        let (_, low) = project.walls.iter().next().unwrap();
        assert_eq!((low.height.as_mm(), low.make_up), (2000.0, MakeUp::Stud));
        let openings: Vec<&Opening> = project.openings.iter().map(|(_, opening)| opening).collect();
        // A head is never above the wall it is in.
        assert_eq!(openings[0].head.as_mm(), 2000.0);
        assert_eq!((openings[1].sill().as_mm(), openings[1].head.as_mm()), (400.0, 1900.0));
        assert_eq!(project.rooms.iter().next().unwrap().1.room_use, RoomUse::Bathroom);
    }

    #[test]
    fn figures_out_of_bounds_are_refused_or_left_out() {
        let mut proposal = proposal();
        for wrong in [f64::NAN, f64::INFINITY, 1e9] {
            proposal.walls[0].start = Point::new(wrong, 0.0);
            assert!(accept(&fresh().0, &proposal, None).unwrap_err().contains("10 km"), "{wrong}");
        }
        let nameless = Proposal { rooms: vec![room("  ", (2000.0, 1500.0))], ..self::proposal() };
        assert_eq!(accepted(&nameless, None).rooms.iter().next().unwrap().1.name, "Room 1");
    }
}
