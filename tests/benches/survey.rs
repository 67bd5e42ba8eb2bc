//! How long a scan takes from pixels to a proposal: a plan of 5,000 × 3,500 pixels, drawn here.
//!
//! Twenty rooms at 1:50 and 300 dots per inch, walls with doors and windows, furniture of fine lines and marks
//! like lettering, on paper that fades towards one side and has grain from a small congruential generator, so
//! that every run measures the same. The whole trace is to take no more than 3 s.

use divan::{Bencher, black_box};
use kurbo::{Affine, Vec2};
use pattress_model::survey::straighten::skew_of_picture;
use pattress_model::survey::vectorise::page_of_picture;
use pattress_model::survey::{Greyscale, trace_page};

const WIDTH: usize = 5000;
const HEIGHT: usize = 3500;
/// 25.4 mm in 300 pixels, at 1:50.
const MM_PER_PX: f64 = 25.4 / 300.0 * 50.0;

fn main() {
    divan::main();
}

struct Plan {
    luma: Vec<u8>,
}

impl Plan {
    fn block(&mut self, x: usize, y: usize, width: usize, height: usize, tone: u8) {
        for row in y..(y + height).min(HEIGHT) {
            self.luma[row * WIDTH + x..row * WIDTH + (x + width).min(WIDTH)].fill(tone);
        }
    }

    fn frame(&mut self, x: usize, y: usize, width: usize, height: usize) {
        self.block(x, y, width, 3, 90);
        self.block(x, y + height, width, 3, 90);
        self.block(x, y, 3, height, 90);
        self.block(x + width, y, 3, height + 3, 90);
    }
}

/// Five rooms across and four down.
fn plan() -> Greyscale {
    let (room_width, room_depth, outer, inner) = (840, 720, 70, 28);
    let mut plan = Plan { luma: vec![236; WIDTH * HEIGHT] };
    for row in 0..=4 {
        for column in 0..=5 {
            let (x, y) = (350 + column * room_width, 250 + row * room_depth);
            let across = if row == 0 || row == 4 { outer } else { inner };
            let down = if column == 0 || column == 5 { outer } else { inner };
            if column < 5 {
                plan.block(x, y, room_width + outer, across, 45);
                // A door or a window in each wall.
                plan.block(x + 300, y, 215, across, 236);
                plan.block(x + 300, y + across / 2, 215, 3, 60);
            }
            if row < 4 {
                plan.block(x, y, down, room_depth + inner, 45);
                plan.block(x, y + 250, down, 200, 236);
            }
            if row < 4 && column < 5 {
                plan.frame(x + 180, y + 180, 300, 160);
                plan.frame(x + 560, y + 420, 140, 140);
                (0..14).for_each(|letter| plan.block(x + 200 + letter * 24, y + 480, 16, 24, 70));
            }
        }
    }
    let mut number = 7_u64;
    for (index, tone) in plan.luma.iter_mut().enumerate() {
        number = number.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let grain = (number >> 60) as i32 - 8;
        let fading = (index % WIDTH) as i32 * 30 / WIDTH as i32;
        *tone = (i32::from(*tone) - fading + grain).clamp(0, 255) as u8;
    }
    Greyscale::new(WIDTH, HEIGHT, plan.luma).expect("as many pixels as its size says")
}

fn plan_from_drawing() -> Affine {
    Affine::translate(Vec2::new(0.0, HEIGHT as f64 * MM_PER_PX))
        * Affine::scale_non_uniform(MM_PER_PX, -MM_PER_PX)
}

#[divan::bench(sample_count = 5)]
fn skew(bencher: Bencher) {
    let picture = plan();
    bencher.bench_local(|| skew_of_picture(black_box(&picture)));
}

#[divan::bench(sample_count = 5)]
fn lines_and_areas(bencher: Bencher) {
    let picture = plan();
    bencher.bench_local(|| page_of_picture(black_box(&picture), MM_PER_PX, &|_| true));
}

#[divan::bench(sample_count = 5)]
fn walls_openings_and_rooms(bencher: Bencher) {
    let page = page_of_picture(&plan(), MM_PER_PX, &|_| true).expect("nobody stopped it");
    bencher.bench_local(|| trace_page(black_box(&page), plan_from_drawing(), &|_| true));
}
