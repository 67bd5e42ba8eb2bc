//! The camera schedule: what each camera sees, how far it sees how much, and how well it shows what it is there for.

use super::order::WalkingOrder;
use super::{Cell, Table, columns};
use crate::project::Project;
use crate::studies::coverage::{CameraCoverage, Options, cameras as studied};
use crate::units::Length;

/// Every camera, in walking order, with doors as drawn.
pub fn cameras(project: &Project, order: &WalkingOrder) -> Table {
    let found = studied(project, Options::default());
    let rows = order
        .devices(project)
        .into_iter()
        .filter_map(|placed| {
            let camera = found.iter().find(|camera| camera.device == placed.id)?;
            let place = placed.room.map_or(placed.level.name.clone(), |(_, room)| room.name.clone());
            let mut row = vec![Cell::text(placed.device.tag.to_string()), Cell::text(place)];
            row.extend(figures(camera));
            row.push(Cell::text(levels(camera)));
            row.push(Cell::text(targets(project, camera)));
            row.push(match camera.beyond_boundary.filter(|_| camera.height.is_some()) {
                Some(area) => Cell::Number { value: area.as_m2(), decimals: 1 },
                None => Cell::Empty,
            });
            Some(row)
        })
        .collect();
    Table {
        name: "cameras",
        title: "Camera schedule",
        columns: columns(&[
            ("Tag", ""),
            ("Place", ""),
            ("View across", "°"),
            ("View down", "°"),
            ("Height", "mm AFFL"),
            ("Tilt", "° down"),
            ("Target height", "mm AFFL"),
            ("Blind beneath, floor", "mm"),
            ("Blind beneath, target", "mm"),
            ("Picture ends, target", "mm"),
            ("Levels of detail, along the axis", "m"),
            ("Targets", "px/m"),
            ("Beyond the boundary", "m²"),
        ]),
        rows,
    }
}

fn figures(camera: &CameraCoverage) -> [Cell; 8] {
    let whole =
        |length: Option<Length>| length.map_or(Cell::Empty, |length| Cell::whole(length.as_mm().round()));
    let degrees = |value: f64| Cell::Number { value, decimals: 1 };
    [
        degrees(camera.lens.view_across().as_degrees()),
        degrees(camera.lens.view_down().as_degrees()),
        camera.height.map_or(Cell::Missing("height"), |height| Cell::whole(height.as_mm())),
        degrees(camera.lens.tilt.as_degrees()),
        Cell::whole(camera.target_height.as_mm()),
        whole(camera.near_strip(Length::ZERO)),
        whole(camera.near_strip(camera.target_height)),
        whole(camera.far_limit(camera.target_height)),
    ]
}

/// `overview 95.3, outline 47.7`: how deep each level reaches, the coarsest first.
fn levels(camera: &CameraCoverage) -> String {
    let each =
        camera.levels.iter().map(|reach| format!("{} {:.1}", reach.level.name, reach.along_axis.as_m()));
    each.collect::<Vec<_>>().join(", ")
}

/// `Front gate 310 (characterise)`: what is seen of each target that is in the picture.
fn targets(project: &Project, camera: &CameraCoverage) -> String {
    let each = camera.targets.iter().filter_map(|target| {
        let (px_per_m, name) = (target.px_per_m.ok()?, &project.spots.get(target.spot)?.name);
        let level = target.level.map_or("below every level", |level| level.name.as_str());
        Some(format!("{name} {px_per_m:.0} ({level})"))
    });
    each.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::SpotUse;
    use crate::project::CameraEdition;
    use crate::small_house::{bare_house, camera_outdoors, edit_device, edit_site, spot};

    #[test]
    fn a_camera_has_a_row_with_its_figures() {
        let mut house = bare_house();
        let id = camera_outdoors(&mut house, 2600.0, 0.0);
        spot(&mut house, SpotUse::ToBeSeen, (2000.0, -3050.0), 1600.0);
        edit_site(&mut house, |site| site.camera_levels = CameraEdition::Of2014);
        let shown = |house: &crate::small_house::SmallHouse| -> Vec<String> {
            let table = cameras(&house.project, &WalkingOrder::of(&house.project));
            assert_eq!(table.rows.len(), 1);
            table.rows[0].iter().map(Cell::shown).collect()
        };
        let row = shown(&house);
        assert_eq!(
            row[..10],
            ["CAM-01", "Ground floor", "90.0", "53.1", "2600", "0.0", "1600", "5200", "2000", ""]
        );
        assert_eq!(
            row[10],
            "monitor 40.0, detect 20.0, observe 8.0, recognise 4.0, identify 2.0, inspect 0.5"
        );
        assert_eq!(row[11], "to be seen by a camera 167 (recognise)");
        edit_device(&mut house, id, |device| device.height_affl = None);
        let row = shown(&house);
        assert_eq!((row[4].as_str(), row[7].as_str(), row[11].as_str()), ("height missing", "", ""));
    }
}
