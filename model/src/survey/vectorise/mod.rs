//! A picture of a drawing made into lines and areas.
//!
//! The paper is made even, ink is told from it, lettering and specks are left out; what is thicker than a pen
//! draws becomes areas with straight edges, and the rest becomes lines along the middles of the ink. Every edge
//! and line is then moved to where the shades of grey put it, to a small share of a pixel.

mod ink;
mod outline;
mod paper;
mod skeleton;
mod straight;
#[cfg(test)]
mod tests;
mod thickness;

use kurbo::{BezPath, Point};

use self::ink::{DARK, INK, Marks, Pieces, THICK};
use self::straight::Joiner;
use super::Greyscale;
use super::grey::{self, PAPER, Piece};
use super::page::{Fill, Page, Stroke};

/// Pens draw thinner lines than this, walls are thicker: mm of the house (a wall of plasterboard on thin studs
/// has about 75 mm; a pen of 0.5 mm draws 50 mm at 1:100). Common practice, no published source.
const THINNEST_WALL_MM: f64 = 60.0;
/// What is smaller than this, mm of the house, and no block of wall is lettering, a mark or a speck: figures 5 mm
/// high at 1:100. Common practice, no published source.
const LETTERING_MM: f64 = 480.0;
/// Blocks of wall smaller than this, mm of the house, are taken for blots and small letters run full of ink.
const SMALLEST_BLOCK_MM: f64 = 180.0;
/// Side of the tiles in which the tone of paper is found, mm of the house: more than any wall is thick.
const TILE_MM: f64 = 800.0;
/// Ink is darker than paper by this many deviations of its noise, and at least by so many steps of tone.
const NOISE_TO_INK: f32 = 4.0;
const LEAST_INK: f32 = 9.0;
/// The mass of a wall is darker than paper by at least this many steps of tone; tints of rooms are less.
const LEAST_WALL: f32 = 50.0;
/// Blocks are as rectangular as this, letters less.
const BLOCK_RECTANGULARITY: f64 = 0.8;
/// A small corner of wall is as rectangular as this; thick parts of letters are less.
const LEAST_RECTANGULARITY: f64 = 0.6;
/// A piece along so much of an edge of the picture is no drawing but a table or the lid of a scanner.
const EDGE_SHARE: f64 = 0.3;

const SEEN: u8 = 8;
const LINE: u8 = 16;
const TINT: u8 = 32;

/// Sizes in pixels that follow from the scale.
struct Sizes {
    /// What is as thick as this is no line.
    thick: f64,
    lettering: f64,
    block: f64,
    tile: usize,
    /// Steps shorter than this between straight edges give way to a corner.
    short: f64,
}

impl Sizes {
    fn at(mm_per_px: f64) -> Self {
        let thick = (THINNEST_WALL_MM / mm_per_px).clamp(4.0, 60.0);
        Self {
            thick,
            lettering: (LETTERING_MM / mm_per_px).clamp(12.0, 1200.0),
            block: (SMALLEST_BLOCK_MM / mm_per_px).clamp(5.0, 450.0),
            tile: (TILE_MM / mm_per_px).clamp(48.0, 320.0) as usize,
            short: (0.75 * thick).max(4.0),
        }
    }
}

/// The lines and areas of a picture, in its pixels (corners are whole numbers), `mm_per_px` millimetres of the
/// house to a pixel. `None` where `keep_going`, told the share done, says no.
pub fn page_of_picture(
    picture: &Greyscale,
    mm_per_px: f64,
    keep_going: &dyn Fn(f32) -> bool,
) -> Option<Page> {
    let scale = if mm_per_px.is_finite() && mm_per_px > 0.0 { mm_per_px } else { 10.0 };
    let sizes = Sizes::at(scale);
    let go_on = |share: f32| keep_going(share).then_some(());
    go_on(0.0)?;
    let flat = paper::flattened(picture, sizes.tile);
    go_on(0.15)?;
    let mut marks = marked(&flat);
    leave_out_surroundings(&mut marks, &flat, picture);
    go_on(0.25)?;
    fill_specks(&mut marks, &sizes);
    thickness::mark_thick(&mut marks, DARK, THICK, sizes.thick);
    go_on(0.4)?;
    leave_out_lettering(&mut marks, &sizes);
    go_on(0.5)?;
    thickness::mark_thick(&mut marks, INK, TINT, sizes.thick + 1.0);
    go_on(0.6)?;
    let mut page = Page { width: picture.width() as f64, height: picture.height() as f64, ..Page::default() };
    page.fills = fills(&mut marks, &flat.picture, &sizes);
    go_on(0.75)?;
    page.strokes = strokes(&mut marks, &flat.picture, &sizes);
    let areas = page.fills.iter_mut().map(|fill| &mut fill.order);
    let orders = areas.chain(page.strokes.iter_mut().map(|stroke| &mut stroke.order));
    (0..).zip(orders).for_each(|(place, order)| *order = place);
    go_on(1.0)?;
    Some(page)
}

/// Marks ink, and what is dark enough for the mass of a wall.
fn marked(flat: &paper::Flat) -> Marks {
    let ink = (NOISE_TO_INK * flat.noise).clamp(LEAST_INK, 70.0);
    let paper = f32::from(PAPER);
    let (ink_below, dark_below) = ((paper - ink) as u8, (paper - ink.max(LEAST_WALL)) as u8);
    let mark = |tone: &u8| (u8::from(*tone < ink_below) * INK) | (u8::from(*tone < dark_below) * DARK);
    let (width, height) = (flat.picture.width(), flat.picture.height());
    Marks { width, height, cells: flat.picture.luma().iter().map(mark).collect() }
}

/// Takes away what lies along the edges of the picture: a table, a dark border of a scan.
fn leave_out_surroundings(marks: &mut Marks, flat: &paper::Flat, picture: &Greyscale) {
    if flat.white_is_nothing {
        // What the picture was filled up with counts as an edge, so that a table beside it does so too.
        for (cell, seen) in marks.cells.iter_mut().zip(picture.luma()) {
            *cell |= if *seen == u8::MAX { INK } else { 0 };
        }
    }
    let pieces = Pieces::of(marks, INK, false);
    let (width, height) = (marks.width as f64, marks.height as f64);
    let surrounds = |piece: &ink::Piece| {
        let sides = [height, width, height, width];
        piece.on_edge.iter().zip(sides).any(|(pixels, side)| f64::from(*pixels) > EDGE_SHARE * side)
    };
    let unwanted: Vec<bool> = pieces.pieces.iter().map(surrounds).collect();
    pieces.each_run(|piece| unwanted[piece], |run| marks.change(run, |_| 0));
    if flat.white_is_nothing {
        for (cell, seen) in marks.cells.iter_mut().zip(picture.luma()) {
            *cell = if *seen == u8::MAX { 0 } else { *cell };
        }
    }
}

/// Fills small holes in what is dark: grain, hatching and specks within walls.
fn fill_specks(marks: &mut Marks, sizes: &Sizes) {
    let holes = Pieces::of(marks, DARK, true);
    let most = (0.3 * sizes.thick * sizes.thick).max(4.0);
    let small: Vec<bool> = holes.pieces.iter().map(|hole| hole.area <= most).collect();
    holes.each_run(|hole| small[hole], |run| marks.change(run, |cell| cell | DARK | INK));
}

/// Takes away small pieces of ink but blocks of wall.
fn leave_out_lettering(marks: &mut Marks, sizes: &Sizes) {
    let pieces = Pieces::of(marks, INK, false);
    let mut has_core = vec![false; pieces.pieces.len()];
    for (run, piece) in pieces.runs.iter().zip(&pieces.piece_of) {
        let start = run.y as usize * marks.width;
        let cells = &marks.cells[start + run.start as usize..start + run.end as usize];
        has_core[*piece as usize] |= cells.iter().any(|cell| cell & THICK != 0);
    }
    let unwanted: Vec<bool> = pieces
        .pieces
        .iter()
        .zip(&has_core)
        .map(|(piece, core)| {
            let extent = f64::from(piece.extent());
            let is_block = *core && extent >= sizes.block && piece.rectangularity() > BLOCK_RECTANGULARITY;
            extent < sizes.lettering && !is_block
        })
        .collect();
    pieces.each_run(|piece| unwanted[piece], |run| marks.change(run, |_| 0));
    // Letters that touch one another or a line hang together with more, but what is thick of them is small.
    let pieces = Pieces::of(marks, THICK, false);
    let is_blot = |piece: &ink::Piece| {
        let extent = f64::from(piece.extent());
        extent < sizes.block || extent < sizes.lettering && piece.rectangularity() < LEAST_RECTANGULARITY
    };
    let unwanted: Vec<bool> = pieces.pieces.iter().map(is_blot).collect();
    pieces.each_run(|piece| unwanted[piece], |run| marks.change(run, |_| 0));
}

/// Thick strokes as areas with straight edges.
fn fills(marks: &mut Marks, flat: &Greyscale, sizes: &Sizes) -> Vec<Fill> {
    let pieces = Pieces::of(marks, THICK, false);
    let fit = |rough: &Piece| grey::fitted_edge(flat, rough);
    let joiner = Joiner { short: sizes.short, closed: true, fit: &fit };
    let mut edges: Vec<(usize, Vec<Piece>)> = Vec::new();
    for outline in outline::outlines(marks, THICK, SEEN) {
        let Some(piece) = pieces.at(outline.pixel.0, outline.pixel.1) else { continue };
        let walk: Vec<Point> =
            outline.corners.iter().map(|(x, y)| Point::new(f64::from(*x), f64::from(*y))).collect();
        edges.push((piece, joiner.pieces(&straight::bends_of_closed(&walk, 1.3))));
    }
    let main = straight::main_direction(edges.iter().flat_map(|(_, pieces)| pieces)).unwrap_or(0.0);
    let mut paths = vec![BezPath::new(); pieces.pieces.len()];
    let mut tones = vec![(0.0, 0.0); pieces.pieces.len()];
    for (piece, mut edges) in edges {
        edges.iter_mut().for_each(|edge| *edge = straight::aligned(edge, main));
        append_closed(&mut paths[piece], &joiner.corners(&edges));
        for edge in edges.iter().filter(|edge| edge.fitted) {
            tones[piece].0 += edge.ink * edge.length();
            tones[piece].1 += edge.length();
        }
    }
    paths
        .into_iter()
        .zip(tones)
        .filter(|(path, _)| !path.elements().is_empty())
        .map(|(path, (tone, length))| Fill {
            path,
            even_odd: true,
            lightness: if length > 0.0 { lightness(tone / length) } else { 0.0 },
            order: 0,
        })
        .collect()
}

fn append_closed(path: &mut BezPath, corners: &[Point]) {
    if corners.len() < 3 {
        return;
    }
    path.move_to(corners[0]);
    corners[1..].iter().for_each(|corner| path.line_to(*corner));
    path.close_path();
}

/// Fine lines along their middles.
fn strokes(marks: &mut Marks, flat: &Greyscale, sizes: &Sizes) -> Vec<Stroke> {
    for cell in &mut marks.cells {
        *cell |= if *cell & INK != 0 && *cell & (THICK | TINT) == 0 { LINE } else { 0 };
    }
    leave_out_fringes(marks, sizes);
    skeleton::thin(marks, LINE);
    let walks = skeleton::walks(marks, LINE, SEEN, (sizes.thick * 0.75).max(4.0) as usize);
    let least = (sizes.lettering * 0.2).max(6.0);
    walks
        .iter()
        .filter(|walk| walk.closed || walk.points.len() as f64 >= least)
        .filter_map(|walk| stroke(walk, flat, sizes))
        .collect()
}

/// The grey rims that thick strokes leave behind are no lines.
fn leave_out_fringes(marks: &mut Marks, sizes: &Sizes) {
    let (width, height) = (marks.width, marks.height);
    let mut rim: Vec<usize> = Vec::new();
    let beside = [-1, 1, -(width as isize), width as isize];
    for round in 0..2 {
        rim.clear();
        for y in 1..height.saturating_sub(1) {
            for index in y * width + 1..(y + 1) * width - 1 {
                let next_to_thick =
                    |offset: &isize| marks.cells[index.wrapping_add_signed(*offset)] & (THICK | TINT) != 0;
                if marks.cells[index] & LINE != 0 && beside.iter().any(next_to_thick) {
                    rim.push(index);
                }
            }
        }
        for index in &rim {
            marks.cells[*index] &= !LINE;
            marks.cells[*index] |= if round == 0 { TINT } else { 0 };
        }
    }
    let pieces = Pieces::of(marks, LINE, false);
    let least = (sizes.lettering * 0.2).max(6.0);
    let unwanted: Vec<bool> = pieces.pieces.iter().map(|piece| f64::from(piece.extent()) < least).collect();
    pieces.each_run(|piece| unwanted[piece], |run| marks.change(run, |cell| cell & !LINE));
}

fn stroke(walk: &skeleton::Walk, flat: &Greyscale, sizes: &Sizes) -> Option<Stroke> {
    let fit = |rough: &Piece| grey::fitted_centre(flat, rough, sizes.thick);
    let joiner = Joiner { short: sizes.short, closed: walk.closed, fit: &fit };
    let bends = if walk.closed {
        straight::bends_of_closed(&walk.points, 1.0)
    } else {
        straight::bends(&walk.points, 1.0)
    };
    let pieces = joiner.pieces(&bends);
    let mut corners = joiner.corners(&pieces);
    let (mut widths, mut tones, mut length) = (0.0, 0.0, 0.0);
    for piece in pieces.iter().filter(|piece| piece.fitted) {
        widths += piece.width * piece.length();
        tones += piece.ink * piece.length();
        length += piece.length();
    }
    let (width, tone) = if length > 0.0 { (widths / length, tones / length) } else { (1.0, 120.0) };
    if !walk.closed {
        lengthen(&mut corners, flat, tone, sizes);
        corners.reverse();
        lengthen(&mut corners, flat, tone, sizes);
        corners.reverse();
    }
    let mut path = BezPath::new();
    path.move_to(*corners.first()?);
    corners.iter().skip(1).for_each(|corner| path.line_to(*corner));
    if walk.closed {
        path.close_path();
    }
    (corners.len() > 1).then(|| Stroke {
        path,
        width: width.max(0.5),
        lightness: lightness(tone),
        ..Stroke::default()
    })
}

/// Thinning takes something off the ends of a line; the tone shows where it really ends.
fn lengthen(corners: &mut [Point], flat: &Greyscale, tone: f64, sizes: &Sizes) {
    let [.., before, last] = corners else { return };
    let vector = *last - *before;
    if vector.hypot() < 2.0 {
        return;
    }
    let along = vector / vector.hypot();
    let half = f64::midpoint(tone, f64::from(PAPER));
    let most = (sizes.thick * 0.75 + 4.0) * 2.0;
    let mut reached = 0.0;
    for step in 1..=most as usize {
        let ahead = step as f64 * 0.5;
        if grey::tone_at(flat, *last + along * ahead) > half {
            break;
        }
        reached = ahead;
    }
    *last += along * reached;
}

fn lightness(tone: f64) -> f32 {
    (tone / f64::from(PAPER)).clamp(0.0, 1.0) as f32
}
