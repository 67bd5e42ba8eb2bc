//! A printed dimension that someone points at: its length as written, and the line it measures.
//!
//! Lettering that reads as a length belongs to the line that runs beside it or is broken by it; the line ends at
//! the nearest tick, arrow, dot or extension line on either side. Units are rarely printed: a number with
//! decimals is taken as metres and a whole one from a hundred up as millimetres (trade habit, no published source),
//! so what is shown before it is used is the length, not the number alone.

use kurbo::{Point, Rect, Vec2};

use super::super::page::{Page, Writing};
use super::lines::{Piece, Ruler, distance_to_writing, small_fills, straight_pieces};
use crate::units::Length;

/// A dimension line lies no farther from the middle of its lettering than this, heights of the lettering.
const BESIDE: f64 = 2.5;

/// Someone who points at lettering is no farther off than this, heights of the lettering.
const POINTED_WITHIN: f64 = 4.0;

/// Ticks and arrows reach no farther than this from the line, heights of the lettering.
const TICK_REACH: f64 = 2.5;

/// A mark touches the line where it passes no farther off than this, heights of the lettering.
const TOUCHES: f64 = 0.12;

/// The shortest dimension line, heights of the lettering.
const SHORTEST: f64 = 0.5;

/// The largest number that is taken as metres where it has decimals.
const MOST_METRES: f64 = 1000.0;

/// Whole numbers from here to there are taken as millimetres.
const MILLIMETRES: std::ops::RangeInclusive<f64> = 100.0..=500_000.0;

/// A dimension that is printed on a page.
#[derive(Clone, Debug, PartialEq)]
pub struct PrintedDimension {
    /// As it reads.
    pub text: String,
    /// The length it is taken to say.
    pub length: Length,
    /// The two ends of its dimension line, units of the page.
    pub line: [Point; 2],
}

/// The printed dimension nearest to a point, where one is near.
pub fn dimension_at(page: &Page, point: Point) -> Option<PrintedDimension> {
    if !point.is_finite() {
        return None;
    }
    let mut near: Vec<(f64, &Writing, Length)> = page
        .writings
        .iter()
        .filter(|writing| writing.height > 0.0 && writing.height.is_finite() && writing.length.is_finite())
        .map(|writing| (distance_to_writing(writing, point), writing))
        .filter(|(off, writing)| *off <= POINTED_WITHIN * writing.height)
        .filter_map(|(off, writing)| Some((off, writing, printed_length(&writing.text)?)))
        .collect();
    near.sort_by(|a, b| a.0.total_cmp(&b.0));
    let pieces = if near.is_empty() { Vec::new() } else { straight_pieces(page) };
    near.into_iter().find_map(|(_, writing, length)| {
        let line = dimension_line(page, &pieces, writing)?;
        Some(PrintedDimension { text: writing.text.trim().to_owned(), length, line })
    })
}

/// The length that lettering on a drawing says, if it says one and nothing else.
pub fn printed_length(text: &str) -> Option<Length> {
    let text = text.trim();
    let bare = text.replace(',', ".");
    let is_bare = !bare.is_empty() && bare.chars().all(|c| c.is_ascii_digit() || c == '.');
    let length = if is_bare {
        let value: f64 = bare.parse().ok()?;
        match bare.split_once('.') {
            Some((whole, decimals)) if !whole.is_empty() && !decimals.is_empty() => {
                (value < MOST_METRES).then(|| Length::m(value))?
            }
            Some(_) => return None,
            None => MILLIMETRES.contains(&value).then(|| Length::mm(value))?,
        }
    } else {
        text.starts_with(|c: char| c.is_ascii_digit()).then(|| Length::parse(text).ok())??
    };
    (length.as_mm() > 0.0).then_some(length)
}

/// The ends of the line that a dimension measures.
fn dimension_line(page: &Page, pieces: &[Piece], writing: &Writing) -> Option<[Point; 2]> {
    let height = writing.height;
    let ruler = Ruler::new(writing.centre(), writing.direction);
    let mut tracks = tracks(pieces, writing, ruler);
    // The line beneath or through the lettering is nearer than its neighbours in a stack of dimensions.
    tracks.sort_by(|a, b| a.across.abs().total_cmp(&b.across.abs()));
    let found: Vec<([Point; 2], usize)> = tracks
        .iter()
        .filter_map(|track| {
            let stops = stops(page, pieces, track, ruler, height);
            let before = nearest(&stops, |at| -at);
            let after = nearest(&stops, |at| at);
            let (from, to) = (before.unwrap_or(track.from), after.unwrap_or(track.to));
            let marks = usize::from(before.is_some()) + usize::from(after.is_some());
            let ends = [ruler.point(from, track.across), ruler.point(to, track.across)];
            (to - from > SHORTEST * height).then_some((ends, marks))
        })
        .collect();
    // A line without marks at its ends may be anything; it serves only where there is no better.
    let most = found.iter().map(|(_, marks)| *marks).max()?;
    found.into_iter().find(|(_, marks)| *marks == most).map(|(ends, _)| ends)
}

/// A line that runs along the lettering: how far across, and from where to where along.
#[derive(Clone, Copy, Debug)]
struct Track {
    across: f64,
    from: f64,
    to: f64,
}

/// Lines beside or through the lettering's middle; pieces in line with a gap for the lettering are one.
fn tracks(pieces: &[Piece], writing: &Writing, ruler: Ruler) -> Vec<Track> {
    let height = writing.height;
    let mut beside: Vec<Track> = pieces
        .iter()
        .filter(|piece| piece.runs_along(writing.direction))
        .map(|piece| {
            let (a, b) = (ruler.along(piece.a), ruler.along(piece.b));
            let across = (ruler.across(piece.a) + ruler.across(piece.b)) / 2.0;
            Track { across, from: a.min(b), to: a.max(b) }
        })
        .filter(|track| track.across.abs() <= BESIDE * height)
        .collect();
    beside.sort_by(|a, b| a.across.total_cmp(&b.across).then(a.from.total_cmp(&b.from)));
    let gap = writing.length + 2.0 * height;
    let mut joined: Vec<Track> = Vec::new();
    for group in beside.chunk_by(|a, b| b.across - a.across <= TOUCHES * height) {
        let mut group = group.to_vec();
        group.sort_by(|a, b| a.from.total_cmp(&b.from));
        let mut running: Option<Track> = None;
        for next in group {
            running = match running {
                Some(so_far) if next.from - so_far.to <= gap_allowed(so_far.to, next.from, gap, height) => {
                    Some(Track { to: so_far.to.max(next.to), ..so_far })
                }
                Some(so_far) => {
                    joined.push(so_far);
                    Some(next)
                }
                None => Some(next),
            };
        }
        joined.extend(running);
    }
    joined.retain(|track| track.from <= 0.0 && track.to >= 0.0);
    joined
}

/// Two pieces in line are one where the lettering's middle (0) lies in the gap, or where they touch.
fn gap_allowed(from: f64, to: f64, gap: f64, height: f64) -> f64 {
    if from <= 0.0 && to >= 0.0 { gap } else { TOUCHES * height }
}

/// Where marks stop a line, along it.
fn stops(page: &Page, pieces: &[Piece], track: &Track, ruler: Ruler, height: f64) -> Vec<f64> {
    let touch = TOUCHES * height;
    let on_track = |along: f64| along >= track.from - touch && along <= track.to + touch;
    let mut stops: Vec<f64> = Vec::new();
    for piece in pieces {
        let (a, b) = (ruler.across(piece.a) - track.across, ruler.across(piece.b) - track.across);
        let short = piece.length() <= 2.0 * TICK_REACH * height;
        // A tick or arrow is short; an extension line is long, but ends soon after it has crossed the line.
        let ends_soon = a.abs().min(b.abs()) <= TICK_REACH * height;
        let reaches = a.min(b) <= touch && a.max(b) >= -touch;
        // Barbs of an arrow lie within some thirty degrees of the line, what runs along it is no mark.
        let slants = (a - b).abs() >= 0.1 * piece.length();
        if !reaches || !slants || !(short || ends_soon) {
            continue;
        }
        let share = (a / (a - b)).clamp(0.0, 1.0);
        let along = ruler.along(piece.a.lerp(piece.b, share));
        if on_track(along) {
            stops.push(along);
        }
    }
    let size = TICK_REACH * height;
    for rect in small_fills(page, size, size) {
        stops.extend(stop_of_fill(rect, track, ruler, touch, &stops).filter(|along| on_track(*along)));
    }
    stops
}

/// Where a dot or a filled arrow stops a line: at an end of the line or at another mark that it touches, else at its
/// own middle.
fn stop_of_fill(rect: Rect, track: &Track, ruler: Ruler, touch: f64, others: &[f64]) -> Option<f64> {
    let middle = rect.center();
    let half = Vec2::new(rect.width(), rect.height()).hypot() / 2.0;
    if (ruler.across(middle) - track.across).abs() > rect.width().min(rect.height()) / 2.0 + touch {
        return None;
    }
    let along = ruler.along(middle);
    if others.iter().any(|other| (other - along).abs() <= half + touch) {
        return None;
    }
    let end = [track.from, track.to].into_iter().find(|end| (end - along).abs() <= half + touch);
    Some(end.unwrap_or(along))
}

/// The stop nearest to the lettering's middle on one side.
fn nearest(stops: &[f64], outwards: impl Fn(f64) -> f64) -> Option<f64> {
    stops
        .iter()
        .copied()
        .filter(|at| outwards(*at) > 0.0)
        .min_by(|a, b| outwards(*a).total_cmp(&outwards(*b)))
}

#[cfg(test)]
mod tests {
    use kurbo::BezPath;

    use super::super::super::page::{Fill, Stroke};
    use super::*;

    #[test]
    fn lettering_is_read_as_a_length_or_not_at_all() {
        for (text, millimetres) in [
            ("11.710", Some(11710.0)),
            ("9,88", Some(9880.0)),
            ("4650", Some(4650.0)),
            ("100", Some(100.0)),
            ("3.20 m", Some(3200.0)),
            ("885 mm", Some(885.0)),
            ("12'-6\"", Some(3810.0)),
            ("12'6\"", Some(3810.0)),
            ("99", None),
            ("0.00", None),
            ("7", None),
            ("4.80 m²", None),
            ("Kitchen", None),
            ("Bedroom 2", None),
            ("+2.70", None),
            ("1.2.3", None),
            ("4.", None),
            (".5", None),
            ("2500.5", None),
            ("", None),
        ] {
            assert_eq!(printed_length(text).map(|length| length.rounded().as_mm()), millimetres, "{text}");
        }
    }

    fn line(page: &mut Page, points: &[(f64, f64)]) {
        let mut path = BezPath::new();
        path.move_to(points[0]);
        points[1..].iter().for_each(|point| path.line_to(*point));
        page.strokes.push(Stroke { path, width: 0.2, lightness: 0.0, dashed: false, order: 0 });
    }

    fn fill(page: &mut Page, points: &[(f64, f64)]) {
        let mut path = BezPath::new();
        path.move_to(points[0]);
        points[1..].iter().for_each(|point| path.line_to(*point));
        path.close_path();
        page.fills.push(Fill { path, even_odd: false, lightness: 0.0, order: 0 });
    }

    fn letter(page: &mut Page, text: &str, centre: (f64, f64)) {
        let length = 1.8 * text.chars().count() as f64;
        let at = Point::new(centre.0 - length / 2.0, centre.1 + 0.9);
        page.writings.push(Writing {
            text: text.to_owned(),
            at,
            direction: Vec2::new(1.0, 0.0),
            length,
            height: 2.5,
        });
    }

    /// A dimension line from x 20 to x 80 at y 50, with lettering above its middle, and what ends it.
    fn page_with(ends: impl Fn(&mut Page, f64)) -> Page {
        let mut page = Page { width: 200.0, height: 100.0, ..Page::default() };
        letter(&mut page, "3.000", (50.0, 48.0));
        line(&mut page, &[(20.0, 50.0), (80.0, 50.0)]);
        for x in [20.0, 80.0] {
            ends(&mut page, x);
        }
        page
    }

    fn measured(page: &Page) -> Option<(f64, f64)> {
        let found = dimension_at(page, Point::new(51.0, 47.0))?;
        assert!((found.line[0].y - found.line[1].y).abs() < 1e-9);
        Some((found.line[0].x, found.line[1].x))
    }

    #[test]
    fn a_line_ends_at_ticks_arrows_dots_or_extension_lines() {
        let inwards = |x: f64, by: f64| if x < 50.0 { x + by } else { x - by };
        let pages = [
            ("upright ticks", page_with(|page, x| line(page, &[(x, 48.5), (x, 51.5)]))),
            ("slanted ticks", page_with(|page, x| line(page, &[(x - 1.0, 51.0), (x + 1.0, 49.0)]))),
            (
                "open arrows",
                page_with(|page, x| {
                    line(page, &[(inwards(x, 2.0), 49.5), (x, 50.0), (inwards(x, 2.0), 50.5)]);
                }),
            ),
            (
                "filled arrows",
                page_with(|page, x| {
                    fill(page, &[(x, 50.0), (inwards(x, 2.0), 49.5), (inwards(x, 2.0), 50.5)]);
                }),
            ),
            (
                "dots",
                page_with(|page, x| {
                    fill(page, &[(x - 0.5, 49.5), (x + 0.5, 49.5), (x + 0.5, 50.5), (x - 0.5, 50.5)]);
                }),
            ),
            ("extension lines", page_with(|page, x| line(page, &[(x, 49.0), (x, 90.0)]))),
            ("nothing", page_with(|_, _| {})),
        ];
        for (what, page) in pages {
            let (from, to) = measured(&page).unwrap_or_else(|| panic!("{what}: no dimension"));
            assert!((from - 20.0).abs() < 0.01 && (to - 80.0).abs() < 0.01, "{what}: {from} to {to}");
        }
    }

    #[test]
    fn a_chain_gives_the_link_that_is_pointed_at_and_a_broken_line_the_whole() {
        let mut chain = Page { width: 200.0, height: 100.0, ..Page::default() };
        line(&mut chain, &[(5.0, 50.0), (150.0, 50.0)]);
        for x in [10.0, 40.0, 60.0, 140.0] {
            line(&mut chain, &[(x - 1.0, 51.0), (x + 1.0, 49.0)]);
        }
        for (text, x) in [("1.500", 25.0), ("1.000", 50.0), ("4.000", 100.0)] {
            letter(&mut chain, text, (x, 48.0));
        }
        assert_eq!(measured(&chain).map(|(from, to)| (from.round(), to.round())), Some((40.0, 60.0)));

        let mut broken = Page { width: 200.0, height: 100.0, ..Page::default() };
        letter(&mut broken, "3000", (50.0, 50.0));
        line(&mut broken, &[(20.0, 50.0), (45.0, 50.0)]);
        line(&mut broken, &[(55.0, 50.0), (80.0, 50.0)]);
        for x in [20.0, 80.0] {
            line(&mut broken, &[(x, 48.0), (x, 52.0)]);
        }
        assert_eq!(measured(&broken), Some((20.0, 80.0)));
    }

    #[test]
    fn an_upright_dimension_is_read_along_its_lettering() {
        let mut page = Page { width: 200.0, height: 100.0, ..Page::default() };
        page.writings.push(Writing {
            text: "2.000".to_owned(),
            at: Point::new(29.0, 55.0),
            direction: Vec2::new(0.0, -1.0),
            length: 9.0,
            height: 2.5,
        });
        line(&mut page, &[(30.0, 30.0), (30.0, 70.0)]);
        for y in [30.0, 70.0] {
            line(&mut page, &[(28.5, y), (31.5, y)]);
        }
        let found = dimension_at(&page, Point::new(28.0, 50.0)).unwrap();
        assert_eq!((found.line[0], found.line[1]), (Point::new(30.0, 70.0), Point::new(30.0, 30.0)));
        assert_eq!(found.length, Length::m(2.0));
    }

    #[test]
    fn nothing_is_taken_from_a_point_far_off_or_from_lettering_without_a_line() {
        let page = page_with(|_, _| {});
        assert_eq!(dimension_at(&page, Point::new(150.0, 90.0)), None);
        assert_eq!(dimension_at(&page, Point::new(f64::NAN, 0.0)), None);
        let mut alone = Page { width: 200.0, height: 100.0, ..Page::default() };
        letter(&mut alone, "3.000", (50.0, 48.0));
        assert_eq!(measured(&alone), None);
    }
}
