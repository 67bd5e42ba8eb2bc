//! Fans with a range, compared with the exact isovists of an independent library.
//!
//! The areas beside this file were computed once by pysovist 0.3.0 (Python, MIT licence), which takes range and field of
//! view and integrates true arcs; nothing of it is needed to run this test. Ours flatten arcs with chords within
//! 0.25 mm, so that an area falls short by a share of 0.25 mm · 4/3 / range at most, and is never larger.

use kurbo::Point;
use pattress_model::geometry::{Scene, Segment, View};

const AREAS: &str = include_str!("visible_areas_by_isovists.txt");

#[test]
fn fans_with_a_range_agree_with_exact_isovists() {
    let numbers = |line: &str| -> Vec<f64> {
        line.split_whitespace().skip(1).map(|word| word.parse().expect("a number")).collect()
    };
    let rows = |word: &str| -> Vec<Vec<f64>> {
        AREAS.lines().filter(|line| line.starts_with(word)).map(numbers).collect()
    };
    let metres = |x: f64, y: f64| Point::new(1000.0 * x, 1000.0 * y);
    let walls: Vec<Segment> =
        rows("wall").iter().map(|row| Segment::new(metres(row[0], row[1]), metres(row[2], row[3]))).collect();
    let scene = Scene::new(None, &walls).expect("builds");
    let views = rows("view");
    assert_eq!(views.len(), 120);
    for row in views {
        let view = View::new(row[2].to_radians(), row[3].to_radians(), 1000.0 * row[4]);
        let found = scene.visible_from(metres(row[0], row[1]), view).signed_area() * 1e-6;
        let short = row[5] * 0.34e-3 / row[4];
        assert!(
            found <= row[5] + 1e-6 && found >= row[5] - short - 1e-6,
            "{row:?}: {found} m² is not {} m²",
            row[5]
        );
    }
}
