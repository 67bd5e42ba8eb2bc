//! A camera as a pinhole: where the corners of its picture look, and how many pixels fall on a metre.
//!
//! The picture is flat and its pixels square, so detail depends on depth alone: D, measured along the optical axis in
//! three dimensions, not the distance on the plan. On a level plane each edge of the picture and each depth is a
//! straight line; what is in the picture is what lies on the right side of four of them.

use kurbo::{Point, Vec2};

use crate::geometry::Ring;
use crate::kit::Optics;
use crate::units::{Angle, Length};

/// A tilt at which the axis points within this of straight down has no direction on the plan, radians.
const STRAIGHT_DOWN: f64 = 1e-9;

/// A camera in its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lens {
    /// The foot of the camera on the plan, mm.
    pub eye: Point,
    /// Its height above the finished floor.
    pub height: Length,
    /// Which way its axis points on the plan.
    pub facing: Angle,
    /// How far its axis points down from level.
    pub tilt: Angle,
    /// Half the picture's width at depth 1: the tangent of half the field of view across.
    half_across: f64,
    /// Half the picture's height at depth 1.
    half_down: f64,
    /// Pixels across the picture.
    pixels_across: f64,
}

/// A line on a level plane, by what lies on its right side: the points with `along · f + across · s <= most`, where f
/// is the distance ahead of the camera's foot and s the distance to its right, mm.
#[derive(Clone, Copy, Debug)]
struct Limit {
    along: f64,
    across: f64,
    most: f64,
}

impl Lens {
    /// The lens of a camera of these optics; `None` where they give no picture.
    pub fn new(optics: &Optics, eye: Point, height: Length, facing: Angle, tilt: Angle) -> Option<Self> {
        let half_across = (optics.field_of_view().as_radians() / 2.0).tan();
        let pixels_across = f64::from(optics.pixels_across);
        let half_down = half_across * f64::from(optics.pixels_down) / pixels_across;
        let is_sound = |value: f64| value.is_finite() && value > 0.0;
        let makes_a_picture = is_sound(half_across) && is_sound(half_down) && is_sound(pixels_across);
        let is_placed = eye.is_finite()
            && [height.as_mm(), facing.as_radians(), tilt.as_radians()].iter().all(|v| v.is_finite());
        (makes_a_picture && is_placed).then_some(Self {
            eye,
            height,
            facing,
            tilt,
            half_across,
            half_down,
            pixels_across,
        })
    }

    /// Field of view across.
    pub fn view_across(&self) -> Angle {
        Angle::radians(2.0 * self.half_across.atan())
    }

    /// Field of view from top to bottom, its pixels being square.
    pub fn view_down(&self) -> Angle {
        Angle::radians(2.0 * self.half_down.atan())
    }

    /// Pixels to a metre on what stands at a depth: N / W, with W the width of the picture there.
    pub fn px_per_m(&self, depth: Length) -> f64 {
        self.pixels_across / (2.0 * self.half_across * depth.as_m())
    }

    /// The depth at which so many pixels fall on a metre: D = N f / (w L).
    pub fn depth_of(&self, px_per_m: f64) -> Length {
        Length::m(self.pixels_across / (2.0 * self.half_across * px_per_m))
    }

    /// Depth of a point along the optical axis, mm; below zero behind the camera.
    pub fn depth(&self, at: Point, height: Length) -> Length {
        let (ahead, _) = self.ahead_and_right(at);
        let (sin, cos) = self.tilt.as_radians().sin_cos();
        Length::mm(ahead * cos + self.drop(height) * sin)
    }

    /// Whether a point is within the picture, its edges included.
    pub fn holds(&self, at: Point, height: Length) -> bool {
        let (ahead, right) = self.ahead_and_right(at);
        let depth = self.depth(at, height).as_mm();
        depth > 0.0
            && self.edges(height).iter().all(|edge| edge.along * ahead + edge.across * right <= edge.most)
    }

    /// Whether the direction of a ray falls within the picture: `on_plan` anticlockwise from +x, `elevation` up.
    pub fn holds_direction(&self, on_plan: Angle, elevation: Angle) -> bool {
        let turned = (on_plan - self.facing).as_radians();
        let (rise, level) = elevation.as_radians().sin_cos();
        let (ahead, right) = (level * turned.cos(), -level * turned.sin());
        let (sin, cos) = self.tilt.as_radians().sin_cos();
        let depth = ahead * cos - rise * sin;
        let up = ahead * sin + rise * cos;
        depth > 0.0 && right.abs() <= depth * self.half_across && up.abs() <= depth * self.half_down
    }

    /// How far down one looks at a point from the camera: from level, above zero where the point lies lower.
    pub fn down_angle(&self, at: Point, height: Length) -> Angle {
        Angle::radians(self.drop(height).atan2((at - self.eye).hypot()))
    }

    /// From the camera's foot to where the picture begins on its middle line, at a height above the floor:
    /// (h - t) / tan(tilt + V / 2). Zero where it begins beneath the camera or behind it; `None` where nothing at that
    /// height is in the picture.
    pub fn near_strip(&self, height: Length) -> Option<Length> {
        let (near, far) = self.middle_line(height);
        (near < far).then_some(Length::mm(near.max(0.0)))
    }

    /// From the camera's foot to where the picture ends on its middle line, at a height above the floor:
    /// (h - t) / tan(tilt - V / 2); `None` where it reaches to the horizon, or nothing at that height is in it.
    pub fn far_limit(&self, height: Length) -> Option<Length> {
        let (near, far) = self.middle_line(height);
        (near < far && far.is_finite()).then_some(Length::mm(far))
    }

    /// From where to where the middle of the picture runs ahead of the foot at a height, mm.
    fn middle_line(&self, height: Length) -> (f64, f64) {
        let (mut near, mut far) = (f64::NEG_INFINITY, f64::INFINITY);
        let ahead_of_eye = self.depth_limit(height, 0.0);
        let only_ahead = Limit { along: -ahead_of_eye.along, across: 0.0, most: -ahead_of_eye.most };
        for Limit { along, most, .. } in self.edges(height).into_iter().take(2).chain([only_ahead]) {
            if along > STRAIGHT_DOWN {
                far = far.min(most / along);
            } else if along < -STRAIGHT_DOWN {
                near = near.max(most / along);
            } else if most < 0.0 {
                return (0.0, 0.0);
            }
        }
        (near, far)
    }

    /// What is in the picture of a level plane at a height, no deeper than `depth`, within `reach` of the foot: a convex
    /// outline, plan mm. Empty where nothing is.
    pub fn footprint(&self, height: Length, depth: Length, reach: Length) -> Ring {
        let reach = reach.as_mm();
        let corners = [(-reach, -reach), (reach, -reach), (reach, reach), (-reach, reach)];
        let mut outline: Vec<Vec2> = corners.map(Vec2::from).to_vec();
        let deepest = self.depth_limit(height, depth.as_mm());
        let behind = self.depth_limit(height, 0.0);
        let ahead = Limit { along: -behind.along, across: 0.0, most: -behind.most };
        for limit in self.edges(height).into_iter().chain([ahead, deepest]) {
            outline = limit.cut(&outline);
        }
        Ring::new(outline.into_iter().map(|point| self.on_plan(point.x, point.y)).collect())
    }

    /// The line of a depth on a level plane at a height: a point of it and its direction on the plan. `None` where the
    /// camera looks straight down, so that all of the plane is at one depth.
    pub fn line_of_depth(&self, height: Length, depth: Length) -> Option<(Point, Vec2)> {
        let limit = self.depth_limit(height, depth.as_mm());
        let to_the_left = self.on_plan(0.0, -1.0) - self.eye;
        (limit.along > STRAIGHT_DOWN).then(|| (self.on_plan(limit.most / limit.along, 0.0), to_the_left))
    }

    /// The widest angle on the plan between the middle and an edge of the picture at a height, radians.
    pub fn widest_on_plan(&self, height: Length, reach: Length) -> f64 {
        let outline = self.footprint(height, Length::mm(f64::INFINITY), reach);
        let angles = outline.points().iter().map(|corner| {
            let (ahead, right) = self.ahead_and_right(*corner);
            right.abs().atan2(ahead)
        });
        angles.fold(0.0, f64::max)
    }

    /// How far a height lies beneath the camera, mm.
    fn drop(&self, height: Length) -> f64 {
        (self.height - height).as_mm()
    }

    /// How far ahead of the foot and to the right of it a point lies, mm.
    fn ahead_and_right(&self, at: Point) -> (f64, f64) {
        let (offset, ahead) = (at - self.eye, self.facing.direction());
        (offset.dot(ahead), -ahead.cross(offset))
    }

    fn on_plan(&self, ahead: f64, right: f64) -> Point {
        let direction = self.facing.direction();
        self.eye + direction * ahead + Vec2::new(direction.y, -direction.x) * right
    }

    /// The points no deeper than a depth: f cos(tilt) + (h - t) sin(tilt) <= D.
    fn depth_limit(&self, height: Length, depth: f64) -> Limit {
        let (sin, cos) = self.tilt.as_radians().sin_cos();
        Limit { along: cos, across: 0.0, most: depth - self.drop(height) * sin }
    }

    /// The upper, lower, right and left edge of the picture on a level plane at a height.
    fn edges(&self, height: Length) -> [Limit; 4] {
        let (sin, cos) = self.tilt.as_radians().sin_cos();
        let drop = self.drop(height);
        let (down, across) = (self.half_down, self.half_across);
        let side = Limit { along: -across * cos, across: 1.0, most: across * drop * sin };
        [
            Limit { along: sin - down * cos, across: 0.0, most: drop * (cos + down * sin) },
            Limit { along: -sin - down * cos, across: 0.0, most: drop * (down * sin - cos) },
            side,
            Limit { across: -1.0, ..side },
        ]
    }
}

impl Limit {
    /// What of a convex outline lies on the right side (I. Sutherland, G. Hodgman, “Reentrant polygon clipping”, 1974).
    fn cut(&self, outline: &[Vec2]) -> Vec<Vec2> {
        if self.most == f64::INFINITY {
            return outline.to_vec();
        }
        let beyond = |point: Vec2| self.along * point.x + self.across * point.y - self.most;
        let mut kept = Vec::with_capacity(outline.len() + 1);
        for (index, point) in outline.iter().enumerate() {
            let next = outline[(index + 1) % outline.len()];
            let (here, there) = (beyond(*point), beyond(next));
            if here <= 0.0 {
                kept.push(*point);
            }
            if (here < 0.0 && there > 0.0) || (here > 0.0 && there < 0.0) {
                kept.push(*point + (next - *point) * (here / (here - there)));
            }
        }
        kept
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn optics(sensor_mm: f64, focal_mm: f64, pixels: (u32, u32)) -> Optics {
        Optics {
            sensor_width: Length::mm(sensor_mm),
            focal_length: Length::mm(focal_mm),
            pixels_across: pixels.0,
            pixels_down: pixels.1,
            stated_view: None,
            drawn_range: Length::m(20.0),
        }
    }

    fn lens(optics: Optics, height_mm: f64, tilt_degrees: f64) -> Lens {
        let tilt = Angle::degrees(tilt_degrees);
        Lens::new(&optics, Point::ZERO, Length::mm(height_mm), Angle::ZERO, tilt).unwrap()
    }

    fn near(found: f64, expected: f64, within: f64) {
        assert!((found - expected).abs() <= within, "{found} is not {expected}");
    }

    /// Worked examples of lenses, f = w D / W: a 4.8 mm sensor on a scene 5 m wide at 20 m needs 19.2 mm; a 3.6 mm
    /// sensor with 4 mm sees 9 ft at 10 ft (lens pages, read in secondary pages).
    #[test]
    fn lenses_see_as_wide_as_published() {
        for (sensor, focal, distance, width) in [(4.8, 19.2, 20.0, 5.0), (3.6, 4.0, 10.0, 9.0)] {
            let lens = lens(optics(sensor, focal, (1000, 1000)), 0.0, 0.0);
            let seen = 1000.0 / lens.px_per_m(Length::m(distance));
            near(seen, width, 1e-9);
        }
    }

    /// D = N f / (w L) for 1920 pixels, 4 mm and 5.37 mm: 57.2 m at 25 px/m, 11.4 m at 125, 5.7 m at 250.
    #[test]
    fn detail_falls_with_depth_as_the_formula_has_it() {
        let lens = lens(optics(5.37, 4.0, (1920, 1080)), 2500.0, 10.0);
        for (px_per_m, metres) in [(25.0, 57.2), (125.0, 11.4), (250.0, 5.7)] {
            near(lens.depth_of(px_per_m).as_m(), metres, 0.05);
            near(lens.px_per_m(lens.depth_of(px_per_m)), px_per_m, 1e-9);
        }
    }

    /// Nominal sensors (a lens handbook, p. 4): width by height, which square pixels at 4:3 must give back.
    #[test]
    fn the_field_of_view_down_follows_from_square_pixels() {
        for (width, height) in [(3.6, 2.7), (4.8, 3.6), (6.4, 4.8), (8.8, 6.6)] {
            let lens = lens(optics(width, 6.0, (1600, 1200)), 0.0, 0.0);
            near(lens.view_across().as_radians(), 2.0 * (width / 12.0_f64).atan(), 1e-12);
            near(lens.view_down().as_radians(), 2.0 * (height / 12.0_f64).atan(), 1e-12);
        }
        let stated = Optics { stated_view: Some(Angle::degrees(90.0)), ..optics(4.8, 4.0, (1000, 500)) };
        let lens = lens(stated, 0.0, 0.0);
        near(lens.view_across().as_degrees(), 90.0, 1e-9);
        near(lens.px_per_m(Length::m(10.0)), 50.0, 1e-9);
    }

    /// h / tan(tilt + V / 2) and h / tan(tilt - V / 2), with (h - t) for a target of height t.
    #[test]
    fn the_strip_beneath_and_the_far_limit_follow_from_height_and_tilt() {
        for (height, tilt, target) in
            [(2600.0, 15.0, 0.0), (2600.0, 30.0, 0.0), (2600.0, 30.0, 1600.0), (3000.0, 60.0, 0.0)]
        {
            let lens = lens(optics(5.37, 4.0, (2560, 1440)), height, tilt);
            let half = lens.view_down().as_radians() / 2.0;
            let (tilt, drop) = (f64::to_radians(tilt), height - target);
            let expected = drop / (tilt + half).tan();
            near(lens.near_strip(Length::mm(target)).unwrap().as_mm(), expected.max(0.0), 1e-6);
            match lens.far_limit(Length::mm(target)) {
                Some(far) => near(far.as_mm(), drop / (tilt - half).tan(), 1e-6),
                None => assert!(tilt <= half),
            }
        }
    }

    #[test]
    fn a_level_camera_sees_heads_above_it_only_from_afar_and_looking_up_none_of_the_floor() {
        let level = lens(optics(4.0, 4.0, (1000, 1000)), 1400.0, 0.0);
        near(level.near_strip(Length::mm(1900.0)).unwrap().as_mm(), 1000.0, 1e-9);
        assert_eq!(level.far_limit(Length::mm(1900.0)), None);
        assert_eq!(level.near_strip(Length::mm(1400.0)), Some(Length::ZERO));
        let up = lens(optics(4.0, 4.0, (1000, 1000)), 1400.0, -40.0);
        assert_eq!(up.near_strip(Length::ZERO), None);
        assert!(up.footprint(Length::ZERO, Length::m(50.0), Length::m(60.0)).len() < 3);
        let down = lens(optics(4.0, 4.0, (1000, 1000)), 2400.0, 90.0);
        near(down.footprint(Length::ZERO, Length::m(50.0), Length::m(60.0)).area(), 2400.0 * 2400.0, 1.0);
        assert_eq!(down.near_strip(Length::ZERO), Some(Length::ZERO));
        near(down.far_limit(Length::ZERO).unwrap().as_mm(), 1200.0, 1e-6);
        assert!(down.line_of_depth(Length::ZERO, Length::m(2.0)).is_none());
    }

    #[test]
    fn optics_that_make_no_picture_make_no_lens() {
        for bad in [
            optics(0.0, 4.0, (1920, 1080)),
            optics(f64::NAN, 4.0, (1920, 1080)),
            optics(5.0, 4.0, (0, 1080)),
            optics(5.0, 4.0, (1920, 0)),
            Optics { stated_view: Some(Angle::degrees(180.0)), ..optics(5.0, 4.0, (1920, 1080)) },
        ] {
            let made = Lens::new(&bad, Point::ZERO, Length::mm(2500.0), Angle::ZERO, Angle::ZERO);
            // A lens of 180° is a limit that rounding may just miss: then it's harmless, of hardly any detail.
            assert!(made.is_none_or(|lens| lens.px_per_m(Length::mm(1.0)) < 1e-9), "{bad:?}");
        }
    }

    prop_compose! {
        fn any_lens()(
            focal in 1.5..20.0_f64, down in 200_u32..2000, height in 0.0..5000.0_f64, tilt in -60.0..90.0_f64,
            facing in 0.0..360.0_f64, x in -9000.0..9000.0_f64, y in -9000.0..9000.0_f64,
        ) -> Lens {
            let optics = optics(5.37, focal, (1920, down));
            let eye = Point::new(x, y);
            Lens::new(&optics, eye, Length::mm(height), Angle::degrees(facing), Angle::degrees(tilt)).unwrap()
        }
    }

    proptest! {
        /// The footprint is exactly the set of points in the picture: the one is cut by lines, the other projected.
        #[test]
        fn the_footprint_holds_what_the_picture_holds(
            lens in any_lens(), target in 0.0..3000.0_f64, depth in 500.0..30_000.0_f64,
            ahead in -20_000.0..20_000.0_f64, right in -20_000.0..20_000.0_f64,
        ) {
            let (target, depth) = (Length::mm(target), Length::mm(depth));
            let at = lens.on_plan(ahead, right);
            // Projected: the direction of the ray to the point, and its depth.
            let offset = at - lens.eye;
            let elevation = Angle::radians((-lens.drop(target)).atan2(offset.hypot()));
            let projected = lens.holds_direction(Angle::of(offset), elevation) && lens.depth(at, target) <= depth;
            let ring = lens.footprint(target, depth, Length::m(40.0));
            if ring.distance_to_outline(at) > 1e-3 {
                prop_assert_eq!(ring.contains(at), projected);
                prop_assert_eq!(lens.holds(at, target) && lens.depth(at, target) <= depth, projected);
            }
        }

        /// Mirrored cameras see mirrored floors, as large.
        #[test]
        fn a_mirrored_camera_sees_as_much(lens in any_lens(), target in 0.0..3000.0_f64) {
            let mirrored = Lens { facing: Angle::degrees(180.0) - lens.facing, eye: Point::new(-lens.eye.x, lens.eye.y), ..lens };
            let area = |lens: &Lens| lens.footprint(Length::mm(target), Length::m(15.0), Length::m(30.0)).area();
            prop_assert!((area(&lens) - area(&mirrored)).abs() <= 1.0 + 1e-9 * area(&lens));
        }
    }
}
