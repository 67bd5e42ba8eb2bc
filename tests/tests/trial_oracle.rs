//! Visible areas compared with those of an exact kernel.
//!
//! The trial data hold a house-like grid of 528 walls and, for 200 viewpoints, the area of the visibility
//! polygon as CGAL 5.5.1 computes it with exact arithmetic (triangular expansion; the areas are printed to
//! nine digits after the point, in m²). The data are no part of the checkout: they are looked for in
//! `shared/data` in the folders above it, or where the variable PATTRESS_TRIAL_DATA says; without them
//! this test says so and passes.
//!
//! It covers views all round on the plan alone. Fans and ranges are compared in `visibility_against_isovists`; heights,
//! layers and tilt with rays in space beneath the study of coverage.

use std::path::Path;

use kurbo::Point;
use pattress_model::geometry::{Scene, Segment, View};
use pattress_tests::trial_data;

/// Rows of whitespace-separated numbers.
fn rows(path: &Path) -> Vec<Vec<f64>> {
    let text = std::fs::read_to_string(path).expect("readable");
    let number = |word: &str| word.parse().expect("a number");
    text.lines().map(|line| line.split_whitespace().map(number).collect()).collect()
}

#[test]
fn visible_areas_agree_with_an_exact_kernel() {
    let Some(folder) = trial_data::folder("oracle") else {
        println!("trial data not present: nothing compared");
        return;
    };
    let plan = rows(&folder.join("plan_thin.txt"));
    let metres = |x: f64, y: f64| Point::new(1000.0 * x, 1000.0 * y);
    let (views, walls) = (plan[0][0] as usize, plan[0][1] as usize);
    let walls: Vec<Segment> = plan[1 + views..1 + views + walls]
        .iter()
        .map(|row| Segment::new(metres(row[0], row[1]), metres(row[2], row[3])))
        .collect();
    let around = walls.iter().map(|wall| kurbo::Rect::from_points(wall.a, wall.b)).reduce(|a, b| a.union(b));
    let scene = Scene::new(around, &walls).expect("builds");

    let expected = rows(&folder.join("cgal_areas_thin.txt"));
    assert_eq!(expected.len(), 200);
    let mut worst = (0.0, Point::ZERO);
    let mut more_corners = 0;
    for row in &expected {
        let eye = metres(row[0], row[1]);
        let seen = scene.visible_from(eye, View::all_round(f64::INFINITY));
        let area = seen.signed_area() * 1.0e-6;
        let error = (area - row[3]).abs() / row[3];
        more_corners += usize::from(seen.len() as f64 > row[2]);
        if error > worst.0 {
            worst = (error, eye);
        }
        assert!(error < 1.0e-6, "at {eye}: {area} m² is not {} m²", row[3]);
    }
    println!("{} areas agree; worst relative error {:.1e} at {}", expected.len(), worst.0, worst.1);
    println!("{more_corners} outlines have more corners than the exact kernel's");
}
