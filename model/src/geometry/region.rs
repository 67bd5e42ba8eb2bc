//! Areas made of outlines with holes.

use kurbo::{BezPath, Point, Rect};

use super::polygon::Ring;

/// One connected area: an anticlockwise outline and its clockwise holes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shape {
    /// The outline, anticlockwise.
    pub outer: Ring,
    /// The holes, clockwise, inside the outline and apart from each other.
    pub holes: Vec<Ring>,
}

/// Any number of shapes that do not overlap; none at all is the empty region.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Region {
    /// The shapes.
    pub shapes: Vec<Shape>,
}

impl Shape {
    /// The outline without holes, turned anticlockwise.
    pub fn from_ring(ring: Ring) -> Self {
        Self { outer: ring.anticlockwise(), holes: Vec::new() }
    }

    /// Outline and holes, in that order.
    pub fn rings(&self) -> impl Iterator<Item = &Ring> {
        std::iter::once(&self.outer).chain(&self.holes)
    }

    /// Area in mm², holes taken off.
    pub fn area(&self) -> f64 {
        self.outer.area() - self.holes.iter().map(Ring::area).sum::<f64>()
    }

    /// Inside the outline and in none of the holes.
    pub fn contains(&self, point: Point) -> bool {
        self.outer.contains(point) && !self.holes.iter().any(|hole| hole.contains(point))
    }
}

impl Region {
    /// Nothing.
    pub fn empty() -> Self {
        Self::default()
    }

    /// The area inside one simple ring, whichever way it runs. Below three points: nothing.
    pub fn from_ring(ring: Ring) -> Self {
        if ring.len() < 3 {
            return Self::empty();
        }
        Self { shapes: vec![Shape::from_ring(ring)] }
    }

    /// The area inside a rectangle.
    pub fn from_rect(rect: Rect) -> Self {
        Self::from_ring(Ring::from_rect(rect))
    }

    /// No shapes.
    pub fn is_empty(&self) -> bool {
        self.shapes.is_empty()
    }

    /// Every ring, outlines and holes.
    pub fn rings(&self) -> impl Iterator<Item = &Ring> {
        self.shapes.iter().flat_map(Shape::rings)
    }

    /// Area in mm².
    pub fn area(&self) -> f64 {
        self.shapes.iter().map(Shape::area).sum()
    }

    /// Length of all outlines and hole edges, millimetres.
    pub fn perimeter(&self) -> f64 {
        self.rings().map(Ring::perimeter).sum()
    }

    /// Whether some shape contains the point. On an outline: either answer.
    pub fn contains(&self, point: Point) -> bool {
        self.shapes.iter().any(|shape| shape.contains(point))
    }

    /// The smallest rectangle holding everything; `None` when empty.
    pub fn bounds(&self) -> Option<Rect> {
        self.shapes.iter().filter_map(|shape| shape.outer.bounds()).reduce(|a, b| a.union(b))
    }

    /// One path with a closed subpath for each ring; fills alike by the non-zero and the even-odd rule.
    pub fn to_path(&self) -> BezPath {
        let mut path = BezPath::new();
        for ring in self.rings() {
            ring.append_to(&mut path);
        }
        path
    }

    /// The shape with the largest area; `None` when empty.
    pub fn largest_shape(&self) -> Option<&Shape> {
        self.shapes.iter().max_by(|a, b| a.area().total_cmp(&b.area()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hole_is_taken_off() {
        let hole = Ring::from_rect(Rect::new(2.0, 2.0, 4.0, 4.0)).clockwise();
        let shape = Shape { outer: Ring::from_rect(Rect::new(0.0, 0.0, 10.0, 10.0)), holes: vec![hole] };
        let region = Region { shapes: vec![shape] };
        assert_eq!(region.area(), 96.0);
        assert_eq!(region.perimeter(), 48.0);
        assert!(region.contains(Point::new(1.0, 1.0)));
        assert!(!region.contains(Point::new(3.0, 3.0)));
        assert!((kurbo::Shape::area(&region.to_path()) - 96.0).abs() < 1e-9);
        assert_eq!(region.bounds(), Some(Rect::new(0.0, 0.0, 10.0, 10.0)));
    }

    #[test]
    fn nothing_is_empty() {
        assert!(Region::from_ring(Ring::default()).is_empty());
        assert_eq!(Region::empty().area(), 0.0);
        assert_eq!(Region::empty().bounds(), None);
        assert!(Region::empty().largest_shape().is_none());
    }
}
