//! Filled material: which filled areas are walls, as one region in the order of painting.
//!
//! Areas are sorted by tone. A tone is of walls where much of its ink lies in long bands between parallel
//! faces; the tone with most is the wall, another joins it where it continues rather than lines it (a new wall
//! in grey against an old one in black, but not a row of kitchen units along it).

use kurbo::Rect;

use super::facing::{Band, Between, facing_bands};
use super::ink::{Area, Ink};
use super::straight::straightened;
use crate::geometry::{Region, Ring, Segment, overlay};

/// Fills lighter than this are tints of rooms, furniture or paper, 0 black to 1 white.
const LIGHTEST_WALL: f32 = 0.9;

/// Tones this near to each other are one.
const SAME_TONE: f32 = 0.05;

/// A fill so much lighter than a wall covers it where it is painted later.
const COVERS_FROM: f32 = 0.12;

/// How much of a tone's ink must lie in bands for it to be of walls.
const LEAST_BANDED: f64 = 0.5;

/// A house has at least so much wall, mm.
const LEAST_WALL_MM: f64 = 3000.0;

/// Most changes between painting and covering that are followed in the order of the page.
const MOST_LAYERS: usize = 60;

/// Filled wall and its faces.
#[derive(Clone, Debug, Default)]
pub(super) struct Solid {
    /// The material.
    pub region: Region,
    /// Its outline, material on the left of each piece.
    pub faces: Vec<Segment>,
    /// Bands between the faces.
    pub bands: Vec<Band>,
}

impl Solid {
    /// Reads the faces and bands of a region.
    pub fn of_region(region: Region, noise: f64) -> Self {
        let region = plain(region, noise);
        let faces: Vec<Segment> = region.rings().flat_map(Ring::edges).collect();
        let bands = facing_bands(&faces, Between::AnyFace, noise);
        Self { region, faces, bands }
    }

    /// Length of bands that are longer than they are thick.
    pub fn wall_length(&self) -> f64 {
        self.bands.iter().filter(|band| band.length() > band.thickness).map(Band::length).sum()
    }

    fn banded_part(&self) -> f64 {
        let banded: f64 = self
            .bands
            .iter()
            .filter(|band| band.length() > 0.8 * band.thickness)
            .map(|band| band.length() * band.thickness)
            .sum();
        banded / self.region.area().max(1.0)
    }
}

/// Without corners that a pen or a pixel made.
fn plain(region: Region, noise: f64) -> Region {
    if noise > 0.0 {
        return straightened(&region, noise);
    }
    let tolerance = 1.0;
    let smooth = |ring: &Ring| ring.without_collinear_points(tolerance);
    let shapes = region.shapes.into_iter().filter_map(|mut shape| {
        shape.outer = smooth(&shape.outer);
        shape.holes = shape.holes.iter().map(smooth).filter(|hole| hole.len() >= 3).collect();
        (shape.outer.len() >= 3).then_some(shape)
    });
    Region { shapes: shapes.collect() }
}

/// The filled walls of a page; empty where it draws them in outline. `None` when told to stop.
pub(super) fn solid_walls(ink: &Ink, keep_going: &dyn Fn(f32) -> bool) -> Option<Solid> {
    let mut tones: Vec<Solid> = Vec::new();
    for tone in wall_tones(&ink.areas) {
        if !keep_going(0.2) {
            return None;
        }
        let solid = Solid::of_region(painted(&ink.areas, tone), ink.noise);
        if solid.wall_length() >= LEAST_WALL_MM && solid.banded_part() >= LEAST_BANDED {
            tones.push(solid);
        }
    }
    // The first with the greatest length is the darkest of equals.
    let main =
        (0..tones.len()).rev().max_by(|a, b| tones[*a].wall_length().total_cmp(&tones[*b].wall_length()));
    let Some(main) = main else { return Some(Solid::default()) };
    let main = tones.swap_remove(main);
    let mut parts = vec![main.region.clone()];
    for other in &tones {
        parts.extend(continuing_shapes(other, &main, ink.noise));
    }
    if parts.len() == 1 {
        return Some(main);
    }
    let together = overlay::union_of_regions(&parts.iter().collect::<Vec<_>>());
    Some(Solid::of_region(together, ink.noise))
}

/// Tones that have a chance to be walls, darkest first.
fn wall_tones(areas: &[Area]) -> Vec<(f32, f32)> {
    let mut levels: Vec<f32> =
        areas.iter().map(|area| area.lightness).filter(|of| *of <= LIGHTEST_WALL).collect();
    levels.sort_by(f32::total_cmp);
    let mut tones: Vec<(f32, f32)> = Vec::new();
    for level in levels {
        match tones.last_mut() {
            Some((_, to)) if level - *to <= SAME_TONE => *to = level,
            _ => tones.push((level, level)),
        }
    }
    tones.truncate(8);
    tones
}

/// What a tone leaves on the paper: its areas, less what lighter ones cover afterwards.
fn painted(areas: &[Area], (from, to): (f32, f32)) -> Region {
    let mut painted = Region::empty();
    let (mut fresh, mut covers): (Vec<Region>, Vec<Region>) = (Vec::new(), Vec::new());
    let mut seen: Vec<Rect> = Vec::new();
    let mut layers = 0;
    for area in areas {
        if (from..=to).contains(&area.lightness) {
            if !covers.is_empty() && layers < MOST_LAYERS {
                painted = settled(&painted, &mut fresh, &mut covers);
                layers += 1;
            }
            seen.push(area.bounds);
            fresh.push(area.region());
        } else if area.lightness > to + COVERS_FROM && seen.iter().any(|rect| rect.overlaps(area.bounds)) {
            covers.push(area.region());
        }
    }
    settled(&painted, &mut fresh, &mut covers)
}

fn settled(painted: &Region, fresh: &mut Vec<Region>, covers: &mut Vec<Region>) -> Region {
    let mut parts: Vec<&Region> = fresh.iter().collect();
    parts.push(painted);
    let mut all = overlay::union_of_regions(&parts);
    if !covers.is_empty() {
        all = overlay::difference(&all, &overlay::union_of_regions(&covers.iter().collect::<Vec<_>>()));
    }
    fresh.clear();
    covers.clear();
    all
}

/// Shapes of another tone that go on where the main walls end, rather than line them.
fn continuing_shapes(other: &Solid, main: &Solid, noise: f64) -> Vec<Region> {
    let beside = 30.0 + 2.0 * noise;
    let lines_a_wall = |band: &Band| {
        let out = band.along().turn_90() * (band.thickness / 2.0 + beside);
        let against = |side: f64| {
            (1..8)
                .filter(|part| {
                    main.region.contains(band.start.lerp(band.end, f64::from(*part) / 8.0) + out * side)
                })
                .count()
        };
        against(1.0).max(against(-1.0)) >= 4
    };
    let mut kept = Vec::new();
    for shape in &other.region.shapes {
        let within: Vec<&Band> = other
            .bands
            .iter()
            .filter(|band| band.length() > band.thickness && shape.contains(band.middle()))
            .collect();
        let banded: f64 = within.iter().map(|band| band.length() * band.thickness).sum();
        let lining: f64 = within.iter().filter(|band| lines_a_wall(band)).map(|band| band.length()).sum();
        let length: f64 = within.iter().map(|band| band.length()).sum();
        if banded >= LEAST_BANDED * shape.area() && lining <= 0.5 * length {
            kept.push(Region { shapes: vec![shape.clone()] });
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(x0: f64, y0: f64, x1: f64, y1: f64, lightness: f32) -> Area {
        let bounds = Rect::new(x0, y0, x1, y1);
        Area { outlines: vec![Ring::from_rect(bounds)], even_odd: true, lightness, bounds, order: 0 }
    }

    #[test]
    fn white_painted_later_opens_a_wall() {
        let ink = Ink {
            areas: vec![
                area(-9e3, -9e3, 9e3, 9e3, 1.0),
                area(0., 0., 5000., 200., 0.0),
                area(1000., -50., 2000., 250., 1.0),
            ],
            ..Ink::default()
        };
        let solid = solid_walls(&ink, &|_| true).unwrap();
        assert!((solid.region.area() - 4000.0 * 200.0).abs() < 1.0);
        assert_eq!(solid.bands.len(), 2);
    }

    #[test]
    fn grey_walls_join_black_ones_and_units_along_them_do_not() {
        let ink = Ink {
            areas: vec![
                area(0., 0., 8000., 300., 0.0),
                area(4000., 300., 4100., 4000., 0.5),
                area(0., 300., 3800., 900., 0.3),
                area(4500., 500., 8000., 4000., 0.7),
            ],
            ..Ink::default()
        };
        let solid = solid_walls(&ink, &|_| true).unwrap();
        assert!((solid.region.area() - (8000.0 * 300.0 + 100.0 * 3700.0)).abs() < 1.0);
    }

    #[test]
    fn a_page_without_fills_has_none() {
        assert!(solid_walls(&Ink::default(), &|_| true).unwrap().region.is_empty());
    }
}
