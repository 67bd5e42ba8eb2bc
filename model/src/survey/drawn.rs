//! Small drawings for tests: blocks on a sheet, smoothed, turned, in uneven light and noise from a seed.

use kurbo::{Affine, Point};

use super::Greyscale;

/// A repeatable number from 0 to 1.
pub(super) struct Numbers(pub(super) u64);

impl Numbers {
    pub(super) fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as f64 / (1_u64 << 31) as f64
    }
}

/// Blocks in the pixels of a sheet as it was before it was turned about its middle.
pub(super) struct Sheet {
    width: usize,
    height: usize,
    /// Anticlockwise as seen, degrees.
    pub(super) turn: f64,
    blocks: Vec<((f64, f64, f64, f64), u8)>,
}

impl Sheet {
    pub(super) fn new(width: usize, height: usize) -> Self {
        Self { width, height, turn: 0.0, blocks: Vec::new() }
    }

    /// A block from left, top to right, bottom in a tone; later ones cover earlier ones.
    pub(super) fn block(&mut self, block: (f64, f64, f64, f64), tone: u8) {
        self.blocks.push((block, tone));
    }

    /// Takes the sheet as it was drawn to the picture of it.
    pub(super) fn picture_from_sheet(&self) -> Affine {
        let middle = Point::new(self.width as f64 / 2.0, self.height as f64 / 2.0);
        Affine::rotate_about(-self.turn.to_radians(), middle)
    }

    /// The picture: paper of tone 235, darker towards the right by `fading`, with noise of the given deviation.
    pub(super) fn picture(&self, noise: f64, fading: f64) -> Greyscale {
        let back = self.picture_from_sheet().inverse();
        let mut tones = vec![235.0; self.width * self.height];
        for (block, tone) in &self.blocks {
            self.cover(&mut tones, back, *block, f64::from(*tone));
        }
        let mut numbers = Numbers(11);
        let luma = tones.iter().enumerate().map(|(index, tone)| {
            let light = 1.0 - fading * (index % self.width) as f64 / self.width as f64;
            // Twelve even numbers make one that is nearly normal.
            let normal = (0..12).map(|_| numbers.next()).sum::<f64>() - 6.0;
            (tone * light + noise * normal).round().clamp(0.0, 255.0) as u8
        });
        Greyscale::new(self.width, self.height, luma.collect()).unwrap()
    }

    fn cover(
        &self,
        tones: &mut [f64],
        back: Affine,
        (left, top, right, bottom): (f64, f64, f64, f64),
        tone: f64,
    ) {
        let box_of =
            back.inverse().transform_rect_bbox(kurbo::Rect::new(left, top, right, bottom)).inflate(2.0, 2.0);
        let within = |value: f64, most: usize| (value.max(0.0) as usize).min(most);
        for y in within(box_of.y0, self.height)..within(box_of.y1, self.height) {
            for x in within(box_of.x0, self.width)..within(box_of.x1, self.width) {
                let share = |step: i32| (f64::from(step) + 0.5) / 8.0;
                let covered = (0..64)
                    .map(|step| back * Point::new(x as f64 + share(step % 8), y as f64 + share(step / 8)))
                    .filter(|place| place.x >= left && place.x < right && place.y >= top && place.y < bottom)
                    .count();
                let own = &mut tones[y * self.width + x];
                *own += (tone - *own) * covered as f64 / 64.0;
            }
        }
    }
}
