//! North point, scale bar and the scale in words.

use kurbo::{Affine, BezPath, Circle, Point, Rect, Shape as _};

use super::flow::Block;
use super::pen::{Hand, Pen};
use crate::drawing::{Anchor, Paper, Role};
use crate::units::Angle;

/// Room the block takes, mm.
pub(super) const WIDTH_MM: f64 = 80.0;
const HEIGHT_MM: f64 = 21.0;

/// Radius of the north point, mm.
const RADIUS_MM: f64 = 6.0;

/// Left end of the scale bar, mm.
const BAR_LEFT_MM: f64 = 23.0;

/// Height of the scale bar, mm.
const BAR_MM: f64 = 1.6;

/// The scale bar is no longer than this, mm, and has no more parts than this.
const LONGEST_BAR_MM: f64 = 52.0;
const MOST_PARTS: f64 = 5.0;

/// Lengths of one part of the scale bar to choose from, mm of the house.
const PART_LENGTHS_MM: [f64; 10] = [50.0, 100.0, 200.0, 500.0, 1e3, 2e3, 5e3, 10e3, 20e3, 50e3];

/// North point, scale bar and scale in words as one block.
pub(super) fn orientation(north: Angle, scale: u32, paper: Paper) -> Block {
    let mut pen = Pen::default();
    north_point(&mut pen, Point::new(RADIUS_MM + 3.0, -HEIGHT_MM / 2.0), north);
    let words = format!("Scale 1:{scale} on {}, metres", paper.name());
    pen.words(Hand::bold(Role::Heading, 2.5), Point::new(BAR_LEFT_MM, -5.5), Anchor::Start, &words);
    scale_bar(&mut pen, Point::new(BAR_LEFT_MM, -12.5), scale);
    Block { items: pen.items, height: HEIGHT_MM, gap: 3.0, keep_with_next: false }
}

fn north_point(pen: &mut Pen, centre: Point, north: Angle) {
    pen.path(Role::FineLine, Circle::new(centre, RADIUS_MM).to_path(0.02));
    let place = Affine::translate(centre.to_vec2())
        * Affine::rotate(north.as_radians() - std::f64::consts::FRAC_PI_2);
    let corner = |x: f64, y: f64| place * Point::new(x * RADIUS_MM, y * RADIUS_MM);
    let triangle = |points: [Point; 3]| {
        let mut path = BezPath::new();
        path.move_to(points[0]);
        path.line_to(points[1]);
        path.line_to(points[2]);
        path.close_path();
        path
    };
    pen.path(Role::Solid, triangle([corner(0.0, 1.0), corner(0.45, -0.65), corner(0.0, -0.35)]));
    pen.path(Role::FineLine, triangle([corner(0.0, 1.0), corner(-0.45, -0.65), corner(0.0, -0.35)]));
    pen.words(Hand::bold(Role::Heading, 2.5), corner(0.0, 1.42), Anchor::Centre, "N");
}

/// The length of one part, mm of the house: the first that is a centimetre or more on paper.
fn part_length(scale: u32) -> f64 {
    let scale = f64::from(scale.max(1));
    PART_LENGTHS_MM.into_iter().find(|length| length / scale >= 10.0).unwrap_or(scale * 10.0)
}

/// How many parts the scale bar has.
fn parts(scale: u32) -> u32 {
    let on_paper = part_length(scale) / f64::from(scale.max(1));
    (LONGEST_BAR_MM / on_paper).floor().clamp(2.0, MOST_PARTS) as u32
}

fn scale_bar(pen: &mut Pen, left: Point, scale: u32) {
    let part = part_length(scale);
    let on_paper = part / f64::from(scale.max(1));
    for number in 0..parts(scale) {
        let x = left.x + f64::from(number) * on_paper;
        let rect = Rect::new(x, left.y, x + on_paper, left.y + BAR_MM);
        pen.rect(if number % 2 == 0 { Role::Solid } else { Role::FineLine }, rect);
    }
    for number in 0..=parts(scale) {
        let x = left.x + f64::from(number) * on_paper;
        let metres = format!("{}", (part * f64::from(number)).round() / 1000.0);
        pen.words(Hand::regular(Role::Body, 1.8), Point::new(x, left.y - 3.4), Anchor::Middle, &metres);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Shape as DrawnShape;

    #[test]
    fn the_bar_is_true_to_scale_and_fits_its_block() {
        for scale in [10, 20, 25, 30, 50, 75, 100, 125, 200, 500, 1000] {
            let block = orientation(Angle::degrees(90.0), scale, Paper::A3);
            let bars: Vec<Rect> = block
                .items
                .iter()
                .filter_map(|item| match &item.shape {
                    DrawnShape::Path(path) if (path.bounding_box().height() - BAR_MM).abs() < 1e-9 => {
                        Some(path.bounding_box())
                    }
                    _ => None,
                })
                .collect();
            let whole = bars.iter().copied().reduce(|a, b| a.union(b)).unwrap();
            let last = format!("{}", f64::from(parts(scale)) * part_length(scale) / 1000.0);
            assert!(
                block
                    .items
                    .iter()
                    .any(|item| matches!(&item.shape, DrawnShape::Text { text, .. } if *text == last))
            );
            let metres: f64 = last.parse().unwrap();
            assert!((whole.width() - metres * 1000.0 / f64::from(scale)).abs() < 1e-9, "1:{scale}");
            assert!(whole.x1 + 3.0 <= WIDTH_MM, "1:{scale}");
        }
    }
}
