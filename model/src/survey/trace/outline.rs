//! Walls drawn in outline: two parallel lines, with or without hatching or joints between them.
//!
//! Lines of one pen are put together, hatching, treads and panes are set aside, and what remains is paired face
//! to face. Leaves of one wall (brick, cavity, block) make one band; each band reaches into the wall it meets,
//! and all together are filled, so that what follows sees the same material as in a drawing with filled walls.

use std::collections::BTreeMap;

use kurbo::Point;

use super::arcs::Arc;
use super::facing::{Band, Between, facing_bands};
use super::faint::{LineIndex, apart_from_panes, joined_lines, without_ladders};
use super::ink::{Ink, Line};
use super::solid::Solid;
use crate::geometry::{Ring, Segment, overlay};

/// Walls in outline thicker than this can't be told from furniture and corridors, mm.
const THICKEST_OUTLINE_MM: f64 = 720.0;

/// Thicker ones than this are walls only where they are long.
const THICK_OUTLINE_MM: f64 = 520.0;

/// How far an opening may part two bands of one wall, mm.
const WIDEST_OPENING_MM: f64 = 2600.0;

/// Lines lighter than this are hatching or tints.
const LIGHTEST_LINE: f32 = 0.8;

/// Pens within this ratio of each other are one.
const SAME_PEN: f64 = 1.15;

/// A band shorter than this says nothing, mm.
const SHORTEST_BAND_MM: f64 = 90.0;

/// Bands meet within this, mm.
const MEETING_MM: f64 = 60.0;

/// What all pens together find must be so much more than what one pen finds to be believed.
const ALL_PENS: f64 = 1.6;

/// Most lines that are paired, the longest of a page; a bound for pages that hold more than any house.
const MOST_FACES: usize = 20_000;

/// Most bands that are weighed against each other, the longest.
const MOST_BANDS: usize = 3_000;

/// The walls that a page draws in outline, filled; empty where it draws none. `None` when told to stop.
pub(super) fn outlined_walls(ink: &Ink, keep_going: &dyn Fn(f32) -> bool) -> Option<Solid> {
    let layers = layers_of(&ink.lines);
    let mut best: (f64, Vec<Band>) = (0.0, Vec::new());
    for (index, layer) in layers.iter().enumerate() {
        if !keep_going(0.5 * index as f32 / layers.len() as f32) {
            return None;
        }
        let bands = wall_bands(layer, ink);
        let length: f64 = bands.iter().map(Band::length).sum();
        if length > best.0 {
            best = (length, bands);
        }
    }
    if layers.len() > 1 {
        let all: Vec<Line> = layers.concat();
        let bands = wall_bands(&all, ink);
        let length: f64 = bands.iter().map(Band::length).sum();
        if length > ALL_PENS * best.0 {
            best = (length, bands);
        }
    }
    let rings: Vec<Ring> = filled_to_joints(&best.1).iter().map(rectangle).collect();
    keep_going(0.9).then(|| Solid::of_region(overlay::union_of_rings(&rings), ink.noise))
}

/// Lines that may be faces of walls, by pen, broadest pen first; at most eight pens.
fn layers_of(lines: &[Line]) -> Vec<Vec<Line>> {
    let mut usable: Vec<Line> = lines
        .iter()
        .filter(|line| !line.dashed && line.lightness <= LIGHTEST_LINE && !line.of_curve)
        .copied()
        .collect();
    usable.sort_by(|a, b| b.pen.total_cmp(&a.pen));
    let mut layers: Vec<Vec<Line>> = Vec::new();
    for line in usable {
        match layers.last_mut() {
            Some(layer) if layer.first().is_some_and(|first| first.pen <= SAME_PEN * line.pen + 0.1) => {
                layer.push(line);
            }
            _ => layers.push(vec![line]),
        }
    }
    let mut tones: Vec<Vec<Line>> = Vec::new();
    for layer in layers {
        let mut by_tone: BTreeMap<i32, Vec<Line>> = BTreeMap::new();
        for line in layer {
            by_tone.entry((line.lightness * 5.0) as i32).or_default().push(line);
        }
        tones.extend(by_tone.into_values());
    }
    let length = |layer: &Vec<Line>| layer.iter().map(|line| line.at.length()).sum::<f64>();
    tones.sort_by(|a, b| length(b).total_cmp(&length(a)));
    tones.truncate(8);
    tones
}

/// Bands of walls among the lines of one pen.
fn wall_bands(layer: &[Line], ink: &Ink) -> Vec<Band> {
    let lines = without_ladders(joined_lines(layer, ink.noise, MOST_FACES));
    let (lines, panes) = apart_from_panes(&lines, ink.noise);
    let faces: Vec<Segment> = lines.iter().flat_map(|face| [*face, Segment::new(face.b, face.a)]).collect();
    let mut bands = facing_bands(&faces, Between::ParallelLines, ink.noise);
    bands.sort_by(|a, b| b.length().total_cmp(&a.length()));
    bands.truncate(MOST_BANDS);
    let bands: Vec<Band> = stacked(bands)
        .into_iter()
        .filter(|band| band.thickness <= THICK_OUTLINE_MM || band.length() > 2.5 * band.thickness)
        .filter(|band| band.thickness <= THICKEST_OUTLINE_MM && band.length() >= SHORTEST_BAND_MM)
        .filter(|band| !is_leaf(band, &ink.arcs))
        .collect();
    // What stands shut in a band or glazes it opens it: faces are sometimes drawn on across it.
    let shut = ink.arcs.iter().filter_map(|arc| shut_leaf(arc, &lines));
    let openings: Vec<Segment> = shut.chain(panes).collect();
    connected(one_for_each_place(opened(bands, &openings)))
}

fn rectangle(band: &Band) -> Ring {
    let out = band.along().turn_90() * (band.thickness / 2.0);
    Ring::new(vec![band.start - out, band.end - out, band.end + out, band.start + out])
}

/// A point as distance along a band from its start and distance to the left of its axis.
fn place(band: &Band, point: Point) -> (f64, f64) {
    let along = band.along();
    ((point - band.start).dot(along), along.cross(point - band.start))
}

/// Whether one band lies along another, and how much of the shorter.
fn overlap(a: &Band, b: &Band) -> Option<(f64, f64)> {
    if a.along().cross(b.along()).abs() > 0.04 {
        return None;
    }
    let (p, q) = (place(a, b.start), place(a, b.end));
    let (from, to) = (p.0.min(q.0).max(0.0), p.0.max(q.0).min(a.length()));
    (to > from).then(|| (to - from, f64::midpoint(p.1, q.1).abs()))
}

/// Leaves of one wall become one band: bands that share a face along most of their length, none much thicker
/// than the others, and not thicker together than a wall may be.
fn stacked(mut bands: Vec<Band>) -> Vec<Band> {
    let index = LineIndex::of(bands.iter().map(|band| Segment::new(band.start, band.end)));
    let mut gone = vec![false; bands.len()];
    for first in 0..bands.len() {
        if gone[first] || bands[first].length() < 300.0 {
            continue;
        }
        for second in index.near(bands[first].start, bands[first].end, THICKEST_OUTLINE_MM) {
            let (a, b) = (bands[first], bands[second]);
            if second == first || gone[second] || a.thickness + b.thickness > THICKEST_OUTLINE_MM {
                continue;
            }
            let Some((along, apart)) = overlap(&a, &b) else { continue };
            let longest = a.length().max(b.length());
            let touching = (apart - (a.thickness + b.thickness) / 2.0).abs() < 4.0;
            let alike = a.thickness.max(b.thickness) <= 2.6 * a.thickness.min(b.thickness);
            if touching && alike && along > 0.85 * longest {
                let side = place(&a, b.middle()).1.signum();
                let shift = a.along().turn_90() * (side * b.thickness / 2.0);
                bands[first] =
                    Band { start: a.start + shift, end: a.end + shift, thickness: a.thickness + b.thickness };
                gone[second] = true;
            }
        }
    }
    let mut gone = gone.into_iter();
    bands.retain(|_| !gone.next().unwrap_or(true));
    bands
}

/// Whether a band is the leaf of a door, from the hinge to the end of its arc.
fn is_leaf(band: &Band, arcs: &[Arc]) -> bool {
    band.thickness <= 75.0
        && arcs.iter().any(|arc| {
            let reach = 0.15 * arc.radius;
            let at = |point: Point, that: Point| point.distance(that) < reach;
            [arc.start, arc.end].iter().any(|tip| {
                (at(band.start, arc.centre) && at(band.end, *tip))
                    || (at(band.end, arc.centre) && at(band.start, *tip))
            })
        })
}

/// Where the leaf of a door stands when it is shut: from the hinge to the end of the arc that no line of its own
/// leads to, since the leaf is drawn open.
fn shut_leaf(arc: &Arc, lines: &[Segment]) -> Option<Segment> {
    let near = 0.06 * arc.radius + 20.0;
    let is_drawn = |tip: Point| {
        lines.iter().any(|line| {
            (line.a.distance(arc.centre) < near && line.b.distance(tip) < near)
                || (line.b.distance(arc.centre) < near && line.a.distance(tip) < near)
        })
    };
    match (is_drawn(arc.start), is_drawn(arc.end)) {
        (true, false) => Some(Segment::new(arc.centre, arc.end)),
        (false, true) => Some(Segment::new(arc.centre, arc.start)),
        _ => None,
    }
}

/// Bands with gaps where an opening lies along them.
fn opened(bands: Vec<Band>, openings: &[Segment]) -> Vec<Band> {
    let mut whole = bands;
    for opening in openings {
        let mut parts = Vec::new();
        for band in whole {
            let (a, b) = (place(&band, opening.a), place(&band, opening.b));
            let within = band.thickness / 2.0 + 60.0;
            let lies_in = (a.1 - b.1).abs() < 0.1 * opening.length() && a.1.abs().max(b.1.abs()) <= within;
            let (from, to) = (a.0.min(b.0), a.0.max(b.0));
            if !lies_in || from < -60.0 || to > band.length() + 60.0 {
                parts.push(band);
                continue;
            }
            let along = band.along();
            if from >= SHORTEST_BAND_MM {
                parts.push(Band { end: band.start + along * from, ..band });
            }
            if to <= band.length() - SHORTEST_BAND_MM {
                parts.push(Band { start: band.start + along * to, ..band });
            }
        }
        whole = parts;
    }
    whole
}

/// Where bands overlap side by side, the slenderest and longest stays: a face has wall on one side only.
fn one_for_each_place(mut bands: Vec<Band>) -> Vec<Band> {
    let worth = |band: &Band| band.length() / band.thickness.max(60.0).sqrt();
    bands.sort_by(|a, b| worth(b).total_cmp(&worth(a)));
    let index = LineIndex::of(bands.iter().map(|band| Segment::new(band.start, band.end)));
    let mut kept: Vec<bool> = vec![false; bands.len()];
    for which in 0..bands.len() {
        let band = bands[which];
        let beside: f64 = index
            .near(band.start, band.end, THICKEST_OUTLINE_MM)
            .into_iter()
            .filter(|other| *other < which && kept[*other])
            .filter_map(|other| {
                let (along, apart) = overlap(&band, &bands[other])?;
                (apart < (band.thickness + bands[other].thickness) / 2.0 + 5.0).then_some(along)
            })
            .sum();
        kept[which] = beside < 0.3 * band.length();
    }
    let mut kept = kept.into_iter();
    bands.retain(|_| kept.next().unwrap_or(false));
    bands
}

/// Where the end of one band meets another: how far it must reach to get to the far face of that one.
fn reach_into(band: &Band, at_end: bool, other: &Band) -> Option<f64> {
    let (end, outwards) = if at_end { (band.end, band.along()) } else { (band.start, -band.along()) };
    let sine = outwards.cross(other.along()).abs();
    if sine < 0.3 {
        return None;
    }
    let (along, aside) = place(other, end);
    let towards = other.along().cross(outwards);
    let far = (other.thickness / 2.0 * towards.signum() - aside) / towards;
    let room = band.thickness / sine + MEETING_MM;
    let lies_there = (-room..=other.length() + room).contains(&along);
    (lies_there && far > 0.0 && far <= other.thickness / sine + MEETING_MM).then_some(far)
}

/// Bands that hang together by their ends; loose rectangles and scattered pairs of lines go.
fn connected(bands: Vec<Band>) -> Vec<Band> {
    let index = LineIndex::of(bands.iter().map(|band| Segment::new(band.start, band.end)));
    let mut group: Vec<usize> = (0..bands.len()).collect();
    fn root(group: &mut [usize], mut index: usize) -> usize {
        while group[index] != index {
            group[index] = group[group[index]];
            index = group[index];
        }
        index
    }
    for first in 0..bands.len() {
        let band = bands[first];
        for second in index.near(band.start, band.end, WIDEST_OPENING_MM) {
            let other = bands[second];
            let meets = [false, true].into_iter().any(|at_end| reach_into(&band, at_end, &other).is_some());
            if second != first && (meets || goes_on(&band, &other)) {
                let (a, b) = (root(&mut group, first), root(&mut group, second));
                group[a.max(b)] = a.min(b);
            }
        }
    }
    let roots: Vec<usize> = (0..bands.len()).map(|index| root(&mut group, index)).collect();
    let mut lengths: BTreeMap<usize, f64> = BTreeMap::new();
    for (band, root) in bands.iter().zip(&roots) {
        *lengths.entry(*root).or_default() += band.length();
    }
    let longest = lengths.values().copied().fold(0.0, f64::max);
    let mut roots = roots.into_iter();
    bands
        .into_iter()
        .filter(|_| {
            roots.next().is_some_and(|root| lengths.get(&root).is_some_and(|of| *of >= 0.15 * longest))
        })
        .collect()
}

/// Whether two bands are on one axis and as thick, an opening's width apart at most, or meet end to end where
/// the thickness changes.
fn goes_on(a: &Band, b: &Band) -> bool {
    if a.along().cross(b.along()).abs() > 0.05 {
        return false;
    }
    let (p, q) = (place(a, b.start), place(a, b.end));
    let gap = (p.0.min(q.0) - a.length()).max(-p.0.max(q.0));
    let is_one = (a.thickness - b.thickness).abs() < 15.0 && p.1.abs() < 12.0 && q.1.abs() < 12.0;
    let changes =
        f64::midpoint(p.1, q.1).abs() < (a.thickness + b.thickness) / 2.0 && gap.abs() < MEETING_MM + 100.0;
    (is_one && gap < WIDEST_OPENING_MM) || changes
}

/// Each band drawn out to the far face of the walls its ends meet.
fn filled_to_joints(bands: &[Band]) -> Vec<Band> {
    let index = LineIndex::of(bands.iter().map(|band| Segment::new(band.start, band.end)));
    let reach = |which: usize, at_end: bool| {
        let band = &bands[which];
        let end = if at_end { band.end } else { band.start };
        index
            .near(end, end, 2.0 * THICKEST_OUTLINE_MM)
            .into_iter()
            .filter(|other| *other != which)
            .filter_map(|other| reach_into(band, at_end, &bands[other]))
            .fold(0.0, f64::max)
    };
    (0..bands.len())
        .map(|which| {
            let (band, along) = (bands[which], bands[which].along());
            Band {
                start: band.start - along * reach(which, false),
                end: band.end + along * reach(which, true),
                ..band
            }
        })
        .collect()
}
