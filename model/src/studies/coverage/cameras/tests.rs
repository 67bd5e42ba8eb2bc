//! Cameras in small houses: bands, targets, and what stands in the way.

use super::*;
use crate::kit::{Family, Mount, MountKind, Optics, Tag};
use crate::project::CameraEdition;
use crate::small_house::{SmallHouse, bare_house, camera_outdoors, edit_device, edit_site, plain_kind, spot};

/// A camera outside the house, at (2000, -50), looking south; 1000 pixels over 90°, so that 10 m deep there are 50 to
/// the metre, and half as many down.
fn house_with_camera(tilt: f64, height: Option<f64>) -> SmallHouse {
    let mut house = bare_house();
    let id = camera_outdoors(&mut house, height.unwrap_or_default(), tilt);
    edit_device(&mut house, id, |device| device.height_affl = height.map(Length::mm));
    edit_site(&mut house, |site| site.camera_levels = CameraEdition::Of2014);
    house
}

fn target(house: &mut SmallHouse, at: (f64, f64)) -> Id<Spot> {
    spot(house, SpotUse::ToBeSeen, at, 1600.0)
}

fn only(house: &SmallHouse) -> CameraCoverage {
    let found = cameras(&house.project, Options::default());
    assert_eq!(found.len(), 1);
    found.into_iter().next().unwrap()
}

#[test]
fn bands_end_on_lines_at_the_depth_of_the_formula() {
    let found = only(&house_with_camera(0.0, Some(2600.0)));
    let by_name = |name: &str| found.levels.iter().find(|reach| reach.level.name == name).unwrap();
    // 1000 px over 2 D: at 125 px/m the depth is 4 m, and the line 8 m wide.
    let recognise = by_name("recognise");
    assert!((recognise.along_axis.as_m() - 4.0).abs() < 1e-9);
    let [end] = recognise.ends[..] else { panic!("{:?}", recognise.ends) };
    for corner in [end.p0, end.p1] {
        assert!((corner.y - -4050.0).abs() < 1e-6, "{corner}");
    }
    assert!(((end.p1 - end.p0).hypot() - 8000.0).abs() < 0.1);
    // The farthest point lies in a corner of the picture, at 4 m by 4 m.
    assert!((recognise.farthest_seen.unwrap().as_mm() - 4000.0 * 2.0_f64.sqrt()).abs() < 0.1);
    // A face at 1.6 m, a metre beneath the camera, comes into the picture where half its height is a metre: 2 m out.
    let near = found.near_strip(found.target_height).unwrap().as_mm();
    assert!((near - 1000.0 / 0.5).abs() < 1e-6, "{near}");
    // The trapezium between 2 m and 4 m deep: mean width 6 m.
    assert!((recognise.band.area() / 1e6 - 12.0).abs() < 1e-3, "{}", recognise.band.area());
    // A finer level never reaches farther.
    assert!(found.levels.is_sorted_by(|coarse, fine| coarse.band.area() >= fine.band.area()));
    // 1000 px/m lies at half a metre, within the strip beneath.
    assert_eq!(by_name("inspect").farthest_seen, None);
    assert_eq!(found.far_limit(found.target_height), None);
}

#[test]
fn a_tilted_camera_counts_depth_along_its_axis() {
    let mut house = house_with_camera(30.0, Some(2600.0));
    let gate = target(&mut house, (2000.0, -5050.0));
    let found = only(&house);
    let depth = 5000.0 * 30.0_f64.to_radians().cos() + 1000.0 * 30.0_f64.to_radians().sin();
    let expected = 1_000_000.0 / (2.0 * depth);
    assert_eq!(found.targets[0].spot, gate);
    assert!((found.targets[0].px_per_m.unwrap() - expected).abs() < 1e-9);
    assert_eq!(found.targets[0].level.unwrap().name, "observe");
    assert!(
        (found.targets[0].down_angle.as_degrees() - (1000.0_f64 / 5000.0).atan().to_degrees()).abs() < 1e-9
    );
    // (h - t) / tan(tilt - V / 2), tan(V / 2) being 0.5.
    let far = 1000.0 / (30.0_f64.to_radians() - 0.5_f64.atan()).tan();
    assert!((found.far_limit(found.target_height).unwrap().as_mm() - far).abs() < 1e-6);
}

#[test]
fn a_target_says_why_it_is_not_seen() {
    let mut house = house_with_camera(0.0, Some(2600.0));
    for (at, expected) in [
        ((2000.0, -3050.0), None),
        ((2000.0, 1500.0), Some(Unseen::OutOfPicture)),
        ((2000.0, -500.0), Some(Unseen::OutOfPicture)),
        ((9000.0, -3050.0), Some(Unseen::OutOfPicture)),
    ] {
        let id = target(&mut house, at);
        let found = only(&house);
        let target = found.targets.iter().find(|target| target.spot == id).unwrap();
        assert_eq!(target.px_per_m.err(), expected, "{at:?}");
    }
    // A camera within the house sees the garden only through an opening.
    let mut indoors = house_with_camera(0.0, Some(2000.0));
    let id = indoors.project.devices.ids().next().unwrap();
    edit_device(&mut indoors, id, |device| device.mount = Mount::Ceiling { at: Point::new(2000.0, 1500.0) });
    target(&mut indoors, (2000.0, -3050.0));
    assert_eq!(only(&indoors).targets[0].px_per_m, Err(Unseen::Hidden));
}

#[test]
fn a_camera_without_a_height_keeps_to_the_formula() {
    let mut house = house_with_camera(10.0, None);
    target(&mut house, (2000.0, -3050.0));
    let found = only(&house);
    assert_eq!(found.height, None);
    assert!(found.seen.is_empty() && found.near_strip(Length::ZERO).is_none());
    assert_eq!(found.targets[0].px_per_m, Err(Unseen::HeightUndecided));
    let distances: Vec<f64> = found.levels.iter().map(|reach| reach.along_axis.as_m()).collect();
    for (found, expected) in distances.iter().zip([40.0, 20.0, 8.0, 4.0, 2.0, 0.5]) {
        assert!((found - expected).abs() < 1e-9, "{distances:?}");
    }
}

#[test]
fn what_lies_beyond_the_boundary_is_measured_where_one_is_drawn() {
    let mut house = house_with_camera(0.0, Some(2600.0));
    assert_eq!(only(&house).beyond_boundary, None);
    let rectangle = |south: f64| {
        [(-30_000.0, south), (30_000.0, south), (30_000.0, 9000.0), (-30_000.0, 9000.0)]
            .map(Point::from)
            .to_vec()
    };
    edit_site(&mut house, |site| site.boundary = rectangle(-30_000.0));
    assert!(only(&house).beyond_boundary.unwrap().as_m2() < 1e-6);
    // From 4 m on: the quarter circle of 12 m without the triangle of 4 m.
    edit_site(&mut house, |site| site.boundary = rectangle(-4050.0));
    let expected = std::f64::consts::PI * 144.0 / 4.0 - 16.0;
    let found = only(&house).beyond_boundary.unwrap().as_m2();
    assert!((found - expected).abs() < 0.05, "{found} {expected}");
}

#[test]
fn the_edition_of_the_site_decides_the_levels() {
    let mut house = house_with_camera(0.0, Some(2600.0));
    assert_eq!(only(&house).levels.len(), 6);
    edit_site(&mut house, |site| site.camera_levels = CameraEdition::Of2025);
    let found = only(&house);
    assert_eq!(found.levels.len(), 7);
    assert!((found.levels[0].along_axis.as_m() - 25.0).abs() < 1e-9);
}

#[test]
fn odd_cameras_give_an_answer_or_none_but_never_a_crash() {
    for (sensor, pixels, range) in [
        (0.0, 1000, 12_000.0),
        (8.0, 0, 12_000.0),
        (8.0, 1000, 0.0),
        (1e9, 1000, 12_000.0),
        (1e-9, 1000, 1e9),
    ] {
        let house = bare_house();
        let mut kind =
            plain_kind("Camera", Family::CamerasAndEntry, "CAM", MountKind::Outdoors, &["picture"]);
        kind.optics = Some(Optics {
            sensor_width: Length::mm(sensor),
            focal_length: Length::mm(4.0),
            pixels_across: pixels,
            pixels_down: 500,
            stated_view: None,
            drawn_range: Length::mm(range),
        });
        let device = Device {
            kind: Id::from_number(1),
            level: house.ground,
            tag: Tag { code: "CAM".to_owned(), number: 1 },
            name: String::new(),
            mount: Mount::Outdoors { at: Point::new(2000.0, -50.0) },
            height_affl: Some(Length::mm(2600.0)),
            turn: Angle::ZERO,
            tilt: Angle::degrees(20.0),
            note: String::new(),
            legend: Default::default(),
        };
        let mut scenes = Scenes::of_level(&house.project, house.ground, DoorsAs::Drawn);
        let found = camera(&house.project, &mut scenes, DoorsAs::Drawn, (Id::from_number(2), &device, &kind));
        if let Some(found) = found {
            assert!(found.seen.area().is_finite(), "{sensor} {pixels} {range}");
        }
    }
}
