//! What of a room's floor is covered by each sense, what is blind, and where sensors overlap.
//!
//! Covered is what any sensor of the sense covers with its polygon of this study, and blind is the rest of the
//! floor. Slivers are left out, counted and added up, for nobody stands in them.

use std::collections::BTreeMap;

use super::lighters::NOTICES_PEOPLE;
use crate::building::outline::RoomOutline;
use crate::geometry::{Region, difference, intersection, union_of_regions};
use crate::plan::Sense;
use crate::studies::coverage::SensorCoverage;
use crate::units::Area;

/// Blind areas smaller than this are slivers: 0.01 m², a square of 100 mm, less than a foot takes.
pub const SLIVER: Area = Area::mm2(10_000.0);

/// The parts of a floor that nobody sees.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Blind {
    /// One region of a single shape each, the largest first; none is a sliver.
    pub areas: Vec<Region>,
    /// How many slivers were left out.
    pub slivers: usize,
    /// How large they are together.
    pub in_slivers: Area,
}

impl Blind {
    /// How large the areas are together, slivers left out.
    pub fn area(&self) -> Area {
        Area::mm2(self.areas.iter().map(Region::area).sum())
    }

    /// How large the largest is; nothing where there is none.
    pub fn largest(&self) -> Area {
        self.areas.first().map_or(Area::mm2(0.0), |area| Area::mm2(area.area()))
    }

    fn of(region: Region) -> Self {
        let mut blind = Self::default();
        for shape in region.shapes {
            let area = shape.area();
            if area < SLIVER.as_mm2() {
                blind.slivers += 1;
                blind.in_slivers = Area::mm2(blind.in_slivers.as_mm2() + area);
            } else {
                blind.areas.push(Region { shapes: vec![shape] });
            }
        }
        blind.areas.sort_by(|a, b| b.area().total_cmp(&a.area()));
        blind
    }
}

/// A floor and what sensors see of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Floor {
    /// Share covered by each sense present, 0 to 1.
    pub shares: BTreeMap<Sense, f64>,
    /// What none of the sensors of each sense present covers.
    pub blind_by_sense: BTreeMap<Sense, Blind>,
    /// What no sensor that notices people covers; the whole floor where there is none.
    pub blind: Blind,
    /// Where two sensors or more that notice people overlap.
    pub overlap: Region,
}

/// Studies the floor of a room under the sensors of its level.
pub fn floor(outline: &RoomOutline, sensors: &[&SensorCoverage]) -> Floor {
    let room = Region { shapes: vec![outline.shape.clone()] };
    let whole = room.area();
    let bounds = outline.shape.outer.bounds();
    let mut by_sense: BTreeMap<Sense, Vec<&Region>> = BTreeMap::new();
    for sensor in sensors {
        let near = match (bounds, sensor.polygon.bounds()) {
            (Some(a), Some(b)) => a.overlaps(b),
            _ => false,
        };
        if near {
            by_sense.entry(sensor.sense).or_default().push(&sensor.polygon);
        }
    }
    let mut floor = Floor::default();
    let mut people = Vec::new();
    for (sense, polygons) in &by_sense {
        let covered = intersection(&room, &union_of_regions(polygons));
        let share = if whole > 0.0 { (covered.area() / whole).clamp(0.0, 1.0) } else { 0.0 };
        if share <= 0.0 {
            continue;
        }
        floor.shares.insert(*sense, share);
        floor.blind_by_sense.insert(*sense, Blind::of(difference(&room, &covered)));
        if NOTICES_PEOPLE.contains(sense) {
            people.push(covered);
        }
    }
    let seen = union_of_regions(&people.iter().collect::<Vec<_>>());
    floor.blind = Blind::of(difference(&room, &seen));
    let watching: Vec<&Region> =
        NOTICES_PEOPLE.iter().filter_map(|sense| by_sense.get(sense)).flatten().copied().collect();
    floor.overlap = seen_twice(&room, &watching);
    floor
}

/// The part of a room that two regions or more hold.
fn seen_twice(room: &Region, regions: &[&Region]) -> Region {
    let (mut once, mut twice) = (Region::empty(), Region::empty());
    if regions.len() < 2 {
        return twice;
    }
    for region in regions {
        let within = intersection(room, region);
        twice = union_of_regions(&[&twice, &intersection(&once, &within)]);
        once = union_of_regions(&[&once, &within]);
    }
    twice
}
