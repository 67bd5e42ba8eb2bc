//! How long it takes to place the labels of a large house: 2,000 devices, on a grid and crowded at random.

use kurbo::{Point, Rect, Size};
use pattress_model::drawing::labels::{LabelRequest, place_labels};

fn main() {
    divan::main();
}

const SCALE: f64 = 50.0;

fn request(x: f64, y: f64) -> LabelRequest {
    LabelRequest {
        symbol: Rect::from_center_size(Point::new(x, y), (250.0, 250.0)),
        size: Size::new(420.0, 265.0),
    }
}

/// One device every 1.2 m: denser than any house.
fn on_a_grid(count: usize) -> Vec<LabelRequest> {
    (0..count).map(|index| request((index % 50) as f64 * 1200.0, (index / 50) as f64 * 1200.0)).collect()
}

/// As many devices in a quarter of the area, at places that a fixed congruence scatters: symbols overlap, and
/// there is hardly room for the lettering.
fn crowded(count: usize) -> Vec<LabelRequest> {
    let mut state = 1_u64;
    let mut next = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 40) as f64 / (1_u64 << 24) as f64
    };
    let side = (count as f64).sqrt() * 1200.0 / 2.0;
    (0..count).map(|_| request(next() * side, next() * side)).collect()
}

#[divan::bench(args = [200, 2000])]
fn grid(bencher: divan::Bencher, count: usize) {
    bencher.with_inputs(|| on_a_grid(count)).bench_values(|requests| place_labels(requests, &[], &[], SCALE));
}

#[divan::bench(args = [200, 2000], sample_count = 10)]
fn crowd(bencher: divan::Bencher, count: usize) {
    bencher.with_inputs(|| crowded(count)).bench_values(|requests| place_labels(requests, &[], &[], SCALE));
}
