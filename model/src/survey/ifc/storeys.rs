//! Storeys: their names, the heights of their floors, and which part of the building stands on which.

use super::frame::Frame;
use super::reading::Reading;
use super::relations::Relations;

/// A wall whose foot is this far below a floor still stands on it, mm: screed and build-up.
const BUILD_UP: f64 = 300.0;

/// A wall that rises this far above a floor is met by the people on it, mm.
const BREAST_HEIGHT: f64 = 1000.0;

/// A wall whose foot is higher than this above a floor hangs overhead, mm.
const OVERHEAD: f64 = 1900.0;

/// No building has more storeys.
const MOST_STOREYS: usize = 200;

/// A storey of the file.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct FoundStorey {
    /// Number of its record; 0 where the file names no storey.
    pub(super) number: u64,
    /// What it is called.
    pub(super) name: String,
    /// Its floor above the building's datum, mm.
    pub(super) floor: f64,
}

/// All storeys, the lowest first. A file without any gets one, so that its walls have a floor to stand on.
pub(super) fn find_storeys(reading: &Reading<'_>, building: &Frame) -> Vec<FoundStorey> {
    let mut placed = Vec::new();
    for number in reading.file.all_of(&["IFCBUILDINGSTOREY"]) {
        let Some(record) = reading.file.record(number) else {
            reading.note("storeys that cannot be read", number);
            continue;
        };
        if placed.len() >= MOST_STOREYS {
            reading.note("storeys beyond two hundred: left out", number);
            continue;
        }
        let name =
            record.text_at(2).or_else(|| record.text_at(7)).unwrap_or_else(|| format!("Storey #{number}"));
        let stated =
            record.number_at(9).map(|height| height * reading.mm).filter(|height| height.is_finite());
        let stands = record.reference_at(5).and_then(|placement| reading.placement(placement));
        let floor = stands.map(|stands| building.then(&stands).origin[2]).filter(|height| height.is_finite());
        placed.push((number, name, stated, floor));
    }
    // Walls are placed on their storey, so its placement counts; but some writers leave all storeys at nought
    // and only state their heights.
    let lift = |floor: Option<f64>| floor.unwrap_or(0.0);
    let all_alike = placed.windows(2).all(|pair| (lift(pair[0].3) - lift(pair[1].3)).abs() < 1.0);
    let by_statement = placed.len() > 1 && all_alike;
    let mut storeys: Vec<FoundStorey> = placed
        .into_iter()
        .map(|(number, name, stated, floor)| {
            let (first, second) = if by_statement { (stated, floor) } else { (floor, stated) };
            FoundStorey { number, name, floor: first.or(second).unwrap_or(0.0) }
        })
        .collect();
    if storeys.is_empty() {
        let project = reading.file.all_of(&["IFCPROJECT"]).first().copied().unwrap_or(0);
        reading.note("no storey in the file: all is put on one", project);
        storeys.push(FoundStorey { number: 0, name: "Storey".to_owned(), floor: 0.0 });
    }
    storeys.sort_by(|a, b| a.floor.total_cmp(&b.floor).then(a.number.cmp(&b.number)));
    storeys
}

/// Where the file puts a part of the building: index of its storey.
fn filed_under(
    reading: &Reading<'_>,
    relations: &Relations,
    storeys: &[FoundStorey],
    number: u64,
    foot: f64,
) -> usize {
    let is_storey = |at: u64| reading.file.entity_of(at) == Some("IFCBUILDINGSTOREY");
    let named = relations
        .around(number, is_storey)
        .and_then(|storey| storeys.iter().position(|each| each.number == storey));
    named.unwrap_or_else(|| {
        if storeys.iter().any(|storey| storey.number != 0) {
            reading.note("parts on no storey: put on the one at their height", number);
        }
        storey_at(storeys, foot)
    })
}

/// The highest storey whose floor is not above that height, give or take the build-up of a floor.
pub(super) fn storey_at(storeys: &[FoundStorey], height: f64) -> usize {
    storeys.iter().rposition(|storey| storey.floor <= height + BUILD_UP).unwrap_or(0)
}

/// The storey of a room.
pub(super) fn storey_of_room(
    reading: &Reading<'_>,
    relations: &Relations,
    storeys: &[FoundStorey],
    number: u64,
    heights: Option<(f64, f64)>,
) -> usize {
    filed_under(reading, relations, storeys, number, heights.map_or(0.0, |(floor, _)| floor))
}

/// The storeys on which a wall is met, the lowest first: where the file puts it, unless it stands wholly above
/// or below that storey; and every storey it rises through, as outer walls drawn in one piece do. None where it
/// only hangs overhead.
pub(super) fn storeys_of_wall(
    reading: &Reading<'_>,
    relations: &Relations,
    storeys: &[FoundStorey],
    number: u64,
    heights: Option<(f64, f64)>,
    lived_in: impl Fn(usize) -> bool,
) -> Vec<usize> {
    let filed = filed_under(reading, relations, storeys, number, heights.map_or(0.0, |(foot, _)| foot));
    let Some((foot, top)) = heights else { return vec![filed] };
    let next_floor = storeys.get(filed + 1).map_or(f64::MAX, |next| next.floor);
    let above = foot >= next_floor - BUILD_UP && top >= next_floor + BREAST_HEIGHT;
    let below = top <= storeys[filed].floor + BUILD_UP && filed > 0;
    let stands_on = if above || below { storey_at(storeys, foot) } else { filed };
    let through = (stands_on + 1..storeys.len())
        .filter(|index| lived_in(*index) && top >= storeys[*index].floor + BREAST_HEIGHT);
    let met: Vec<usize> = std::iter::once(stands_on)
        .chain(through)
        .filter(|index| foot < storeys[*index].floor + OVERHEAD)
        .collect();
    match met.as_slice() {
        [] => reading.leave_out("walls that hang overhead", number),
        [only] if *only != filed => {
            let (from, to) = (&storeys[filed].name, &storeys[*only].name);
            reading.note(format!("walls filed under “{from}” that stand on “{to}”: put there"), number);
        }
        [_] => {}
        _ => reading.note("walls that rise through several storeys: shown on each", number),
    }
    met
}
