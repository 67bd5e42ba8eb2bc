//! What hangs together: the house, apart from scale bars, frames and loose dark pieces beside it.

use crate::geometry::Segment;

use super::ink::Ink;
use super::runs::Run;

/// Walls stand together where their faces come this near, mm.
const TOUCHING_MM: f64 = 80.0;

/// A part of this share of the largest is a building of its own (two storeys on one sheet).
const OWN_BUILDING: f64 = 0.2;

/// A free-standing wall within the house has at least this length, mm.
const FREE_STANDING_MM: f64 = 700.0;

/// What spans this much of the page both ways, and has a house inside, is its frame.
const FRAME: f64 = 0.72;

/// Keeps the runs that belong to a house.
pub(super) fn without_clutter(runs: Vec<Run>, ink: &Ink) -> Vec<Run> {
    let groups = groups_of(&runs, ink.noise);
    let length = |group: &Vec<usize>| group.iter().map(|index| runs[*index].drawn).sum::<f64>();
    let frames: Vec<bool> = groups.iter().map(|group| spans_the_page(&runs, group, ink)).collect();
    let has_house = groups.iter().zip(&frames).any(|(group, frame)| !frame && length(group) > 5000.0);
    let houses: Vec<&Vec<usize>> = groups
        .iter()
        .zip(&frames)
        .filter(|(_, frame)| !(**frame && has_house))
        .map(|(group, _)| group)
        .collect();
    let Some(main) = houses.iter().max_by(|a, b| length(a).total_cmp(&length(b))) else {
        return Vec::new();
    };
    let around = bounds_of(&runs, main);
    let mut kept = vec![false; runs.len()];
    for group in &houses {
        let within = bounds_of(&runs, group);
        let is_inside = around.contains(within.center());
        let own = length(group) >= OWN_BUILDING * length(main) && !is_bar(&runs, group);
        let stands_free = is_inside && length(group) >= FREE_STANDING_MM && !is_bar(&runs, group);
        if own || stands_free {
            group.iter().for_each(|index| kept[*index] = true);
        }
    }
    let mut kept = kept.into_iter();
    runs.into_iter().filter(|_| kept.next().unwrap_or(false)).collect()
}

fn bounds_of(runs: &[Run], group: &[usize]) -> kurbo::Rect {
    let corner = |run: &Run| kurbo::Rect::from_points(run.at(run.from), run.at(run.to));
    group.iter().map(|index| corner(&runs[*index])).reduce(|a, b| a.union(b)).unwrap_or_default()
}

fn spans_the_page(runs: &[Run], group: &[usize], ink: &Ink) -> bool {
    let bounds = bounds_of(runs, group);
    let thin = group.iter().filter(|index| runs[**index].thickness <= 120.0).count() * 2 > group.len();
    thin && bounds.width() > FRAME * ink.page.width() && bounds.height() > FRAME * ink.page.height()
}

/// Whether a group is one straight row of equal pieces: a scale bar.
fn is_bar(runs: &[Run], group: &[usize]) -> bool {
    let [only] = group else { return false };
    let holes = &runs[*only].holes;
    let widths = || holes.iter().map(|hole| hole.to - hole.from);
    let (least, most) = (widths().fold(f64::INFINITY, f64::min), widths().fold(0.0, f64::max));
    holes.len() >= 2 && most - least <= 0.05 * most
}

/// Indices of runs, gathered into groups that touch.
fn groups_of(runs: &[Run], noise: f64) -> Vec<Vec<usize>> {
    let mut group: Vec<usize> = (0..runs.len()).collect();
    fn root(group: &mut [usize], mut index: usize) -> usize {
        while group[index] != index {
            group[index] = group[group[index]];
            index = group[index];
        }
        index
    }
    let axis = |run: &Run| Segment::new(run.at(run.from), run.at(run.to));
    for first in 0..runs.len() {
        let this = axis(&runs[first]);
        let around = kurbo::Rect::from_points(this.a, this.b);
        for second in first + 1..runs.len() {
            let that = axis(&runs[second]);
            let near = (runs[first].thickness + runs[second].thickness) / 2.0 + TOUCHING_MM + 2.0 * noise;
            if !around
                .inflate(near, near)
                .overlaps(kurbo::Rect::from_points(that.a, that.b).inflate(1.0, 1.0))
            {
                continue;
            }
            let apart = [that.distance_to(this.a), that.distance_to(this.b)]
                .into_iter()
                .chain([this.distance_to(that.a), this.distance_to(that.b)])
                .fold(f64::INFINITY, f64::min);
            if apart <= near || this.intersection(&that).is_some() {
                let (a, b) = (root(&mut group, first), root(&mut group, second));
                group[a.max(b)] = a.min(b);
            }
        }
    }
    let mut groups: std::collections::BTreeMap<usize, Vec<usize>> = std::collections::BTreeMap::new();
    for index in 0..runs.len() {
        groups.entry(root(&mut group, index)).or_default().push(index);
    }
    groups.into_values().collect()
}
