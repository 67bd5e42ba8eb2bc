//! The sample plans are what the code builds, give the figures that lie beside them, and are sound.

use std::collections::BTreeSet;

use kurbo::Point;
use pattress::files;
use pattress_model::building::outline::room_outlines;
use pattress_model::checks::{Severity, findings};
use pattress_model::edit::invariant::check_all;
use pattress_model::kit::Family;
use pattress_model::plan::{DoorState, Opening, Wall};
use pattress_model::project::Project;
use pattress_model::store::write_project;
use pattress_model::systems::ZonePurpose;
use pattress_model::units::Angle;
use pattress_tests::figures::figures_text;
use pattress_tests::samples::{SAMPLES, folder};

fn ferry_cottage() -> Project {
    pattress_tests::ferry_cottage::ferry_cottage()
}

fn garden_flat() -> Project {
    pattress_tests::garden_flat::garden_flat()
}

/// What lies in the folder of each sample: `project.json` and `figures.json`.
const KEPT: [(&str, &str); 2] = [
    (
        include_str!("../../sample-plans/ferry-cottage/project.json"),
        include_str!("../../sample-plans/ferry-cottage/figures.json"),
    ),
    (
        include_str!("../../sample-plans/garden-flat/project.json"),
        include_str!("../../sample-plans/garden-flat/figures.json"),
    ),
];

#[test]
fn the_folders_hold_what_the_code_builds() {
    for (sample, (kept, _)) in SAMPLES.iter().zip(KEPT) {
        let built = (sample.build)();
        let read = files::read(&folder().join(sample.name)).unwrap();
        assert!(read.project == built, "{}: run write-samples and look at the difference", sample.name);
        assert_eq!(read.missing_media, Vec::<String>::new());
        assert!(kept == write_project(&built), "{}: project.json is written differently now", sample.name);
    }
}

#[test]
fn the_figures_are_those_that_lie_beside_the_plans() {
    for (sample, (_, kept)) in SAMPLES.iter().zip(KEPT) {
        let computed = figures_text(&(sample.build)());
        assert_eq!(kept, computed, "{}: run write-samples and look at the difference", sample.name);
    }
}

#[test]
fn the_samples_are_sound_and_nothing_in_them_is_serious() {
    for sample in SAMPLES {
        let project = (sample.build)();
        assert_eq!(check_all(&project), [], "{}", sample.name);
        let found: Vec<String> = findings(&project)
            .into_iter()
            .filter(|finding| finding.severity >= Severity::Warning)
            .map(|finding| finding.sentence)
            .collect();
        assert_eq!(found, Vec::<String>::new(), "{}", sample.name);
    }
}

#[test]
fn every_room_is_enclosed() {
    for sample in SAMPLES {
        let project = (sample.build)();
        for (level, named) in project.levels.iter() {
            let rooms = project.rooms_on(level).count();
            assert_eq!(room_outlines(&project, level).len(), rooms, "{}: {}", sample.name, named.name);
        }
    }
}

#[test]
fn every_height_is_decided_and_every_luminaire_and_blind_has_a_zone() {
    for sample in SAMPLES {
        let project = (sample.build)();
        let zoned = |purpose: ZonePurpose| -> BTreeSet<_> {
            let zones = project.zones.iter().filter(|(_, zone)| zone.purpose == purpose);
            zones.flat_map(|(_, zone)| zone.points.iter().map(|point| point.device)).collect()
        };
        let (lit, moved) = (zoned(ZonePurpose::Lighting), zoned(ZonePurpose::Blinds));
        for (id, device) in project.devices.iter() {
            let kind = project.kinds.get(device.kind).unwrap();
            assert!(device.height_affl.is_some(), "{}", device.tag);
            assert!(kind.family != Family::Luminaires || lit.contains(&id), "{}", device.tag);
            assert!(!["BLD", "CRT"].contains(&kind.code.as_str()) || moved.contains(&id), "{}", device.tag);
        }
    }
}

#[test]
fn no_rule_speaks_of_a_fire_or_carbon_monoxide_alarm() {
    for sample in SAMPLES {
        let project = (sample.build)();
        for (_, rule) in project.rules.iter() {
            let of_zones = rule.zones().into_iter().flat_map(|zone| &project.zones.get(zone).unwrap().points);
            for point in rule.points().into_iter().chain(of_zones) {
                let device = project.devices.get(point.device).unwrap();
                let family = project.kinds.get(device.kind).unwrap().family;
                assert_ne!(family, Family::FireAndCo, "{} speaks of {}", rule.name, device.tag);
            }
        }
    }
}

#[test]
fn ferry_cottage_is_as_large_as_it_says() {
    let house = ferry_cottage();
    assert_eq!(house.levels.len(), 2);
    assert!(house.rooms.len() >= 11, "{} rooms", house.rooms.len());
    assert!(house.devices.len() >= 100, "{} devices", house.devices.len());
    assert!(house.kinds.len() >= 32, "{} kinds", house.kinds.len());
    assert!(house.zones.len() >= 16, "{} zones", house.zones.len());
    assert!(house.rules.len() >= 24, "{} rules", house.rules.len());
    let purposes: BTreeSet<_> = house.zones.iter().map(|(_, zone)| zone.purpose).collect();
    assert_eq!(purposes, ZonePurpose::ALL.into_iter().collect());
}

#[test]
fn garden_flat_is_one_storey_with_wide_doors_and_plates_within_reach() {
    let flat = garden_flat();
    assert_eq!(flat.levels.len(), 1);
    assert!(flat.devices.len() >= 32 && flat.zones.len() >= 8 && flat.rules.len() >= 10);
    for (_, opening) in flat.openings.iter().filter(|(_, opening)| opening.name() == "door") {
        assert_eq!(opening.width.as_mm(), 926.0);
    }
    for (_, device) in flat.devices.iter() {
        let kind = flat.kinds.get(device.kind).unwrap();
        if kind.family == Family::Plates {
            let height = device.height_affl.unwrap().as_mm();
            assert!((450.0..=1200.0).contains(&height), "{} at {height}", device.tag);
        }
    }
}

/// A door leaf from shut to a right angle, in steps of ten degrees: hinge and points along the leaf.
fn leaf_positions(opening: &Opening, wall: &Wall) -> Vec<(Point, Vec<Point>)> {
    (0..=9)
        .filter_map(|step| {
            let open = DoorState::Open(Angle::degrees(f64::from(step) * 10.0));
            let (hinge, free) = opening.leaf(wall, open)?;
            Some((hinge, (1..=10).map(|part| hinge.lerp(free, f64::from(part) / 10.0)).collect()))
        })
        .collect()
}

#[test]
fn no_door_strikes_another_door_or_a_piece_of_joinery() {
    for sample in SAMPLES {
        let project = (sample.build)();
        for level in project.levels.ids() {
            let doors: Vec<_> = project
                .openings_on(level)
                .filter(|(_, opening, _)| opening.name() == "door")
                .map(|(id, opening, wall)| (id, opening.width.as_mm(), leaf_positions(opening, wall)))
                .collect();
            for (id, width, swing) in &doors {
                let swept: Vec<Point> = swing.iter().flat_map(|(_, points)| points.clone()).collect();
                for (other, reach, of_other) in doors.iter().filter(|(other, ..)| other != id) {
                    let (hinge, _) = of_other[0];
                    let struck = swept.iter().any(|point| {
                        let near = (*point - hinge).hypot() < *reach;
                        near && of_other
                            .iter()
                            .any(|(_, leaf)| leaf.iter().any(|at| (*at - *point).hypot() < 60.0))
                    });
                    assert!(!struck, "{}: {id:?} ({width} mm) strikes {other:?}", sample.name);
                }
                for (_, piece) in project.joinery_on(level) {
                    let [a, _, c, _] = piece.corners();
                    let footprint = kurbo::Rect::from_points(a, c).inflate(-1.0, -1.0);
                    let struck =
                        piece.base.as_mm() < 2000.0 && swept.iter().any(|at| footprint.contains(*at));
                    assert!(!struck, "{}: {id:?} ({width} mm) strikes “{}”", sample.name, piece.name);
                }
            }
        }
    }
}
