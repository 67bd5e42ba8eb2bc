//! Where things stand: a corner in space with three directions, and how one leads to another.

/// A point or a direction in space, mm.
pub(super) type Space = [f64; 3];

/// The part of two directions that they have in common.
pub(super) fn dot(a: Space, b: Space) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// The direction square to both.
pub(super) fn cross(a: Space, b: Space) -> Space {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

/// From one point to another.
pub(super) fn less(a: Space, b: Space) -> Space {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

/// A direction made longer or shorter.
pub(super) fn times(a: Space, factor: f64) -> Space {
    [a[0] * factor, a[1] * factor, a[2] * factor]
}

/// The same direction with length 1; `None` where it has none.
pub(super) fn unit(a: Space) -> Option<Space> {
    let length = dot(a, a).sqrt();
    (length.is_finite() && length > 1e-12).then(|| times(a, 1.0 / length))
}

/// A corner and three directions. The directions are square to one another; their lengths are scales.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Frame {
    /// Where the corner is, mm.
    pub(super) origin: Space,
    /// Where its x axis leads.
    pub(super) x: Space,
    /// Where its y axis leads.
    pub(super) y: Space,
    /// Where its z axis leads.
    pub(super) z: Space,
}

impl Frame {
    /// The frame of the world.
    pub(super) const WORLD: Self =
        Self { origin: [0.0; 3], x: [1.0, 0.0, 0.0], y: [0.0, 1.0, 0.0], z: [0.0, 0.0, 1.0] };

    /// A frame at a corner from its z axis and a direction that its x axis leans to, by the rule of
    /// IfcBuildAxes: x is made square to z, y completes them. Directions that do not do give the world's.
    pub(super) fn upright(origin: Space, z: Option<Space>, towards: Option<Space>) -> Self {
        let z = z.and_then(unit).unwrap_or(Self::WORLD.z);
        let lean = towards.and_then(unit).unwrap_or(Self::WORLD.x);
        let square = |lean: Space| unit(less(lean, times(z, dot(lean, z))));
        let x = square(lean).or_else(|| square(Self::WORLD.x)).or_else(|| square(Self::WORLD.y));
        let x = x.unwrap_or(Self::WORLD.x);
        Self { origin, x, y: cross(z, x), z }
    }

    /// Where a direction of this frame leads.
    pub(super) fn turn(&self, direction: Space) -> Space {
        let [x, y, z] = direction;
        [0, 1, 2].map(|axis| self.x[axis] * x + self.y[axis] * y + self.z[axis] * z)
    }

    /// Where a point of this frame lies.
    pub(super) fn place(&self, point: Space) -> Space {
        let turned = self.turn(point);
        [0, 1, 2].map(|axis| self.origin[axis] + turned[axis])
    }

    /// A frame that is given in this one.
    pub(super) fn then(&self, inner: &Self) -> Self {
        Self {
            origin: self.place(inner.origin),
            x: self.turn(inner.x),
            y: self.turn(inner.y),
            z: self.turn(inner.z),
        }
    }

    /// The way back from this frame, which must not be scaled.
    pub(super) fn back(&self) -> Self {
        let rows = |axis: usize| [self.x[axis], self.y[axis], self.z[axis]];
        let turn_back = Self { origin: [0.0; 3], x: rows(0), y: rows(1), z: rows(2) };
        Self { origin: times(turn_back.turn(self.origin), -1.0), ..turn_back }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: Space, b: Space) -> bool {
        let apart = less(a, b);
        dot(apart, apart) < 1e-18
    }

    #[test]
    fn a_frame_leads_there_and_back() {
        let turned = Frame::upright([10.0, 20.0, 5.0], Some([0.0, 0.0, 2.0]), Some([0.0, 3.0, 1.0]));
        assert!(near(turned.place([1.0, 2.0, 3.0]), [8.0, 21.0, 8.0]));
        let leaning = Frame::upright([1.0, -2.0, 3.0], Some([1.0, 2.0, 3.0]), Some([0.0, 1.0, 0.0]));
        assert!(near(leaning.back().place(leaning.place([4.0, 5.0, 6.0])), [4.0, 5.0, 6.0]));
        let both = turned.then(&leaning);
        assert!(near(both.place([7.0, 8.0, 9.0]), turned.place(leaning.place([7.0, 8.0, 9.0]))));
    }

    #[test]
    fn nonsense_directions_give_the_worlds() {
        let flat = Frame::upright([0.0; 3], Some([0.0; 3]), Some([f64::NAN, 0.0, 0.0]));
        assert_eq!(flat, Frame::WORLD);
        let along = Frame::upright([0.0; 3], Some([1.0, 0.0, 0.0]), Some([5.0, 0.0, 0.0]));
        assert!(near(along.x, [0.0, 1.0, 0.0]));
    }
}
