//! Chains of dimensions and setting-out, on small plans with figures worked out by hand.

use super::*;
use crate::drawing::plan::example::two_rooms;
use crate::drawing::plan::{LevelFigures, PlanOptions, level_items};
use crate::drawing::{Item, Layer, Role, Shape, labels::text_bounds};
use crate::edit::{Change, History, Op};
use crate::kit::Tag;
use crate::kit::catalogue::kind_by_key;
use crate::plan::{DoorsAs, MakeUp, OpeningForm};
use crate::units::Angle;

/// Walls along axes with a thickness, one opening (wall, centre, width), one device (wall, side, along).
struct Case {
    walls: &'static [([f64; 4], f64)],
    opening: Option<(usize, f64, f64)>,
    device: (usize, Side, f64),
}

fn set_out(case: &Case) -> SettingOut {
    let mut project = Project::new();
    let level = project.levels.ids().next().unwrap();
    let mut ids = project.fresh_ids();
    let mut ops = Vec::new();
    let mut walls = Vec::new();
    for ([x0, y0, x1, y1], thickness) in case.walls {
        let id = ids.issue();
        walls.push(id);
        ops.push(Op::put(
            id,
            Wall {
                level,
                start: Point::new(*x0, *y0),
                end: Point::new(*x1, *y1),
                thickness: Length::mm(*thickness),
                height: Length::mm(2400.0),
                make_up: MakeUp::Block,
            },
        ));
    }
    if let Some((wall, centre, width)) = case.opening {
        let [centre, width, head] = [centre, width, 2000.0].map(Length::mm);
        let opening = Opening { wall: walls[wall], centre, width, head, form: OpeningForm::Plain };
        ops.push(Op::put(ids.issue(), opening));
    }
    let kind = ids.issue();
    ops.push(Op::put(kind, kind_by_key("plate-2").unwrap()));
    let (wall, side, along) = case.device;
    let device = Device {
        kind,
        level,
        tag: Tag { code: "PL".to_owned(), number: 1 },
        name: String::new(),
        mount: Mount::WallFace { wall: walls[wall], side, along: Length::mm(along) },
        height_affl: Some(Length::mm(1200.0)),
        turn: Angle::ZERO,
        tilt: Angle::ZERO,
        note: String::new(),
        legend: Default::default(),
    };
    ops.push(Op::put(ids.issue(), device));
    History::default().apply(&mut project, Change::new("Draw", ops)).unwrap();
    setting_out(&project, level).remove(0)
}

/// A room of 4 m by 3 m along axes; walls 0 south, 1 east, 2 north, 3 west, drawn anticlockwise.
const ROOM: &[([f64; 4], f64)] = &[
    ([0.0, 0.0, 4000.0, 0.0], 100.0),
    ([4000.0, 0.0, 4000.0, 3000.0], 300.0),
    ([4000.0, 3000.0, 0.0, 3000.0], 100.0),
    ([0.0, 3000.0, 0.0, 0.0], 215.0),
];

/// The same with a wall from the south half-way up, its end free.
const NIB: &[([f64; 4], f64)] = &[
    ([0.0, 0.0, 4000.0, 0.0], 100.0),
    ([4000.0, 0.0, 4000.0, 3000.0], 300.0),
    ([4000.0, 3000.0, 0.0, 3000.0], 100.0),
    ([0.0, 3000.0, 0.0, 0.0], 215.0),
    ([2000.0, 0.0, 2000.0, 1500.0], 120.0),
];

/// A south side drawn as two walls end to end.
const TWO_LENGTHS: &[([f64; 4], f64)] = &[
    ([0.0, 0.0, 1000.0, 0.0], 100.0),
    ([1000.0, 0.0, 4000.0, 0.0], 100.0),
    ([4000.0, 0.0, 4000.0, 3000.0], 100.0),
    ([4000.0, 3000.0, 0.0, 3000.0], 100.0),
    ([0.0, 3000.0, 0.0, 0.0], 100.0),
];

/// A 3-4-5 triangle: the slope meets the south wall at an acute angle.
const SLOPE: &[([f64; 4], f64)] = &[
    ([0.0, 0.0, 4000.0, 0.0], 100.0),
    ([4000.0, 0.0, 0.0, 3000.0], 100.0),
    ([0.0, 3000.0, 0.0, 0.0], 100.0),
];

const ALONE: &[([f64; 4], f64)] = &[([0.0, 0.0, 4000.0, 0.0], 100.0)];

#[test]
fn distances_are_what_the_tape_reads() {
    use Side::{Left, Right};
    let cases: [(&str, Case, &str, f64); 11] = [
        // From the face of the west wall, 107.5 off its axis.
        ("near the west", Case { walls: ROOM, opening: None, device: (0, Left, 1000.0) }, "corner", 892.5),
        // From the face of the east wall, at 4000 − 150.
        ("near the east", Case { walls: ROOM, opening: None, device: (0, Left, 3000.0) }, "corner", 850.0),
        // On the east wall from the face of the south wall.
        ("on the east", Case { walls: ROOM, opening: None, device: (1, Left, 700.0) }, "corner", 650.0),
        // The opening reaches from 1600 to 2400.
        (
            "by a reveal",
            Case { walls: ROOM, opening: Some((0, 2000.0, 800.0)), device: (0, Left, 1450.0) },
            "reveal",
            150.0,
        ),
        (
            "past a reveal",
            Case { walls: ROOM, opening: Some((0, 2000.0, 800.0)), device: (0, Left, 2617.3) },
            "reveal",
            217.3,
        ),
        (
            "corner before reveal",
            Case { walls: ROOM, opening: Some((0, 2000.0, 800.0)), device: (0, Left, 307.5) },
            "corner",
            200.0,
        ),
        // The nib's west face is at 2000 − 60.
        ("by a nib", Case { walls: NIB, opening: None, device: (0, Left, 1700.0) }, "corner", 240.0),
        // On the nib its free end is nearer, but a tape wants a corner.
        ("on a nib", Case { walls: NIB, opening: None, device: (4, Left, 1200.0) }, "corner", 1150.0),
        // The joint between two lengths is no corner: the west face at 50 is the nearest one.
        (
            "past a joint",
            Case { walls: TWO_LENGTHS, opening: None, device: (1, Left, 200.0) },
            "corner",
            1150.0,
        ),
        // The inner face of the slope meets y = 50 where 3x + 4y = 12000 − 250, that is at x = 3850.
        ("by a slope", Case { walls: SLOPE, opening: None, device: (0, Left, 3000.0) }, "corner", 850.0),
        ("on a wall alone", Case { walls: ALONE, opening: None, device: (0, Right, 3000.0) }, "end", 1000.0),
    ];
    for (name, case, from, distance) in cases {
        let setting = set_out(&case);
        let found = match setting.from {
            SettingOutFrom::InternalCorner => "corner",
            SettingOutFrom::Reveal { .. } => "reveal",
            SettingOutFrom::WallEnd => "end",
        };
        assert_eq!(found, from, "{name}");
        let off = setting.distance.as_mm() - distance;
        assert!(off.abs() < 0.05, "{name}: {} is not {distance}", setting.distance.as_mm());
        assert_eq!(setting.height, Some(Length::mm(1200.0)));
    }
}

#[test]
fn outside_a_house_only_its_corners_are_left() {
    let setting = set_out(&Case { walls: ROOM, opening: None, device: (0, Side::Right, 1000.0) });
    // The outer corner lies at −107.5.
    assert_eq!(setting.from, SettingOutFrom::WallEnd);
    assert!((setting.distance.as_mm() - 1107.5).abs() < 0.05, "{}", setting.distance.as_mm());
}

fn drawn(hidden: &[Layer]) -> Vec<Item> {
    let (project, level) = two_rooms();
    let figures = LevelFigures::compute(&project, level, DoorsAs::Drawn);
    let layers = Layer::ALL.into_iter().filter(|layer| !hidden.contains(layer)).collect();
    level_items(&project, level, &figures, &PlanOptions { scale: 50.0, layers, level_below: None })
}

#[test]
fn no_figure_covers_another_text_and_all_can_be_read() {
    for hidden in [&[][..], &[Layer::Tags]] {
        let items = drawn(hidden);
        let texts: Vec<&Item> =
            items.iter().filter(|item| matches!(item.shape, Shape::Text { .. })).collect();
        let figures = texts.iter().filter(|item| item.layer == Layer::Dimensions).count();
        assert_eq!(figures, 10, "one for each device on a wall");
        for (index, one) in texts.iter().enumerate() {
            let Shape::Text { text, height_mm, turn, .. } = &one.shape else { continue };
            assert!(*height_mm >= 1.8, "{text}");
            assert!(
                (-0.01..=90.02).contains(&turn.as_degrees()) || turn.as_degrees() > 269.0,
                "{text}: {turn}"
            );
            let bounds = text_bounds(&one.shape, 50.0).unwrap();
            for other in &texts[..index] {
                // A symbol's own code and a warning's query stand within their symbols by design.
                let both = bounds.intersect(text_bounds(&other.shape, 50.0).unwrap());
                assert!(both.width() < 1e-6 || both.height() < 1e-6, "{text} covers {:?}", other.shape);
            }
        }
    }
}

#[test]
fn without_tags_a_figure_says_the_height_or_that_it_is_missing() {
    let items = drawn(&[Layer::Tags]);
    let says = |wanted: &str, role: Role| {
        items.iter().any(|item| {
            item.role == role && matches!(&item.shape, Shape::Text { text, .. } if text == wanted)
        })
    };
    assert!(says("100, 2200 AFFL", Role::DimensionText));
    assert!(says("300, height missing", Role::Missing));
}
