//! The tone of the paper, found and taken out.
//!
//! Scans fade towards their corners and photographs lie in uneven light, so the tone of bare paper is found in
//! every part of the picture and the picture is lightened until all paper is equally bright. What the picture
//! shows beside the sheet, a table or what was white before it was turned, is told from paper here as well.

use super::super::Greyscale;
use super::super::grey::PAPER;

/// A tile of paper next to it may differ in brightness by this share; a darker one is no paper.
const DARKEST_NEXT_TILE: f32 = 0.82;

/// A picture whose paper is [`PAPER`] everywhere.
pub(super) struct Flat {
    pub(super) picture: Greyscale,
    /// Standard deviation of the noise of bare paper, in steps of tone.
    pub(super) noise: f32,
    /// Whether pure white is something other than paper: what a turned picture was filled up with.
    pub(super) white_is_nothing: bool,
}

/// The tone of paper in tiles of the picture.
struct Tiles {
    size: usize,
    columns: usize,
    rows: usize,
    levels: Vec<f32>,
}

/// Lightens a picture to even paper. `tile` is a side length in pixels greater than any wall is thick.
pub(super) fn flattened(picture: &Greyscale, tile: usize) -> Flat {
    let white_is_nothing = white_is_nothing(picture);
    let mut tiles = Tiles::measured(picture, tile, white_is_nothing);
    tiles.keep_only_paper();
    let mut luma = Vec::with_capacity(picture.luma().len());
    let mut levels = vec![0.0_f32; tiles.columns];
    for y in 0..picture.height() {
        tiles.levels_of_row(y, &mut levels);
        let row = picture.row(y);
        let start = luma.len();
        luma.resize(start + row.len(), PAPER);
        tiles.lighten(row, &levels, &mut luma[start..]);
        if white_is_nothing {
            for (value, seen) in luma[start..].iter_mut().zip(row) {
                *value = if *seen == u8::MAX { PAPER } else { *value };
            }
        }
    }
    let picture = Greyscale::new(picture.width(), picture.height(), luma).unwrap_or_else(|| picture.clone());
    let noise = noise_of(&picture);
    Flat { picture, noise, white_is_nothing }
}

/// Pure white along the edge of a picture whose paper is not pure white was put there to fill it up.
fn white_is_nothing(picture: &Greyscale) -> bool {
    let white = |row: &[u8]| row.iter().filter(|value| **value == u8::MAX).count();
    let (mut inside, mut looked_at) = (0, 0);
    for y in (0..picture.height()).step_by(7) {
        inside += white(picture.row(y));
        looked_at += picture.width();
    }
    let corners = [
        picture.at(0, 0),
        picture.at(picture.width() - 1, 0),
        picture.at(0, picture.height() - 1),
        picture.at(picture.width() - 1, picture.height() - 1),
    ];
    inside * 2 < looked_at && corners.contains(&u8::MAX)
}

impl Tiles {
    fn measured(picture: &Greyscale, size: usize, without_white: bool) -> Self {
        let (columns, rows) = (picture.width().div_ceil(size), picture.height().div_ceil(size));
        let mut levels = Vec::with_capacity(columns * rows);
        let mut histograms = vec![[0_u32; 256]; columns];
        for band in picture.luma().chunks(picture.width() * size) {
            histograms.iter_mut().for_each(|histogram| histogram.fill(0));
            for row in band.chunks_exact(picture.width()) {
                for (histogram, part) in histograms.iter_mut().zip(row.chunks(size)) {
                    part.iter().for_each(|value| histogram[usize::from(*value)] += 1);
                }
            }
            levels.extend(histograms.iter_mut().map(|histogram| {
                if without_white {
                    histogram[255] = 0;
                }
                tone_of_paper(histogram)
            }));
        }
        Self { size, columns, rows, levels }
    }

    /// Spreads from the brightest tile to all that differ little from their neighbours; what is not reached is
    /// something dark, beneath which the paper is taken to go on as around it.
    fn keep_only_paper(&mut self) {
        let brightest = (0..self.levels.len()).max_by(|a, b| self.levels[*a].total_cmp(&self.levels[*b]));
        let mut is_paper = vec![false; self.levels.len()];
        let mut waiting: Vec<usize> = brightest.into_iter().collect();
        let floor = brightest.map_or(0.0, |index| self.levels[index] * 0.35);
        while let Some(index) = waiting.pop() {
            if std::mem::replace(&mut is_paper[index], true) {
                continue;
            }
            let enough = (self.levels[index] * DARKEST_NEXT_TILE).max(floor);
            waiting
                .extend(self.around(index).filter(|next| !is_paper[*next] && self.levels[*next] >= enough));
        }
        let mut front: Vec<usize> = (0..self.levels.len()).filter(|index| is_paper[*index]).collect();
        while !front.is_empty() {
            let mut reached: Vec<(usize, f32)> = Vec::new();
            let mut next: Vec<usize> = front
                .iter()
                .flat_map(|index| self.around(*index))
                .filter(|index| !is_paper[*index])
                .collect();
            next.sort_unstable();
            next.dedup();
            for index in next {
                let known: Vec<f32> = self
                    .around(index)
                    .filter(|other| is_paper[*other])
                    .map(|other| self.levels[other])
                    .collect();
                reached.push((index, known.iter().sum::<f32>() / known.len().max(1) as f32));
            }
            front.clear();
            for (index, level) in reached {
                self.levels[index] = level;
                is_paper[index] = true;
                front.push(index);
            }
        }
    }

    /// Tiles beside one, and at its corners.
    fn around(&self, index: usize) -> impl Iterator<Item = usize> + use<> {
        let (columns, rows) = (self.columns as isize, self.rows as isize);
        let (column, row) = ((index % self.columns) as isize, (index / self.columns) as isize);
        (-1..=1_isize)
            .flat_map(move |down| (-1..=1_isize).map(move |across| (column + across, row + down)))
            .filter(move |(x, y)| *x >= 0 && *y >= 0 && *x < columns && *y < rows)
            .map(move |(x, y)| (y * columns + x) as usize)
            .filter(move |other| *other != index)
    }

    /// Levels at the middles of the tiles along one row of pixels.
    fn levels_of_row(&self, y: usize, levels: &mut [f32]) {
        let place = (y as f32 + 0.5) / self.size as f32 - 0.5;
        let upper = (place.floor().max(0.0) as usize).min(self.rows - 1);
        let lower = (upper + 1).min(self.rows - 1);
        let share = (place - upper as f32).clamp(0.0, 1.0);
        for (column, level) in levels.iter_mut().enumerate() {
            let above = self.levels[upper * self.columns + column];
            let below = self.levels[lower * self.columns + column];
            *level = above + (below - above) * share;
        }
    }

    fn lighten(&self, row: &[u8], levels: &[f32], into: &mut [u8]) {
        let last = self.columns - 1;
        let half = self.size / 2;
        // Between the middles of two tiles the level changes evenly; before the first and after the last it stays.
        for piece in 0..=self.columns {
            let from = if piece == 0 { 0 } else { (piece - 1) * self.size + half };
            let to = if piece > last { row.len() } else { (piece * self.size + half).min(row.len()) };
            if from >= to {
                continue;
            }
            let left = levels[piece.saturating_sub(1).min(last)];
            let right = levels[piece.min(last)];
            let step = (right - left) / self.size as f32;
            for (offset, (value, seen)) in into[from..to].iter_mut().zip(&row[from..to]).enumerate() {
                let paper = left + step * offset as f32;
                *value = (f32::from(*seen) * f32::from(PAPER) / paper + 0.5) as u8;
            }
        }
    }
}

/// The middle tone of what is nearly as light as the lightest tenth.
fn tone_of_paper(histogram: &[u32; 256]) -> f32 {
    let count: u32 = histogram.iter().sum();
    if count == 0 {
        return 0.0;
    }
    let tone_below = |histogram: &[u32], from: usize, wanted: u32| {
        let mut below = 0;
        (from..256)
            .find(|tone| {
                below += histogram[*tone];
                below > wanted
            })
            .unwrap_or(255)
    };
    let light = tone_below(histogram, 0, count * 9 / 10);
    let from = light * 85 / 100;
    let paper: u32 = histogram[from..].iter().sum();
    (tone_below(histogram, from, paper / 2) as f32).max(1.0)
}

/// Noise of bare paper from the differences of pixels two apart (next ones share what a lens or a codec blurs).
fn noise_of(flat: &Greyscale) -> f32 {
    let mut histogram = [0_u32; 256];
    let light = PAPER / 10 * 8;
    for y in (0..flat.height()).step_by(5) {
        let row = flat.row(y);
        for (first, second) in row.iter().zip(row.iter().skip(2)).step_by(3) {
            if *first > light && *second > light {
                histogram[usize::from(first.abs_diff(*second))] += 1;
            }
        }
    }
    let count: u32 = histogram.iter().sum();
    let mut below = 0.0;
    // Half of all differences of normal noise lie below 0.954 of its deviation; within a step they lie evenly.
    for (difference, number) in histogram.iter().enumerate() {
        let number = *number as f32;
        if below + number >= count as f32 / 2.0 && number > 0.0 {
            let within = (count as f32 / 2.0 - below) / number;
            return if difference == 0 { 0.0 } else { (difference as f32 - 0.5 + within) / 0.954 };
        }
        below += number;
    }
    0.0
}
