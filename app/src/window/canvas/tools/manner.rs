//! How walls are drawn: where the clicked line lies in the wall, and how thick the wall is.

use kurbo::{Point, Vec2};
use pattress_model::units::Length;

/// Where in a wall the line lies that is clicked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WallLine {
    /// Its axis.
    #[default]
    Centre,
    /// The face on the left of whoever walks from click to click; of four walls, their inner faces.
    LeftFace,
    /// The face on the right; of four walls, their outer faces.
    RightFace,
}

impl WallLine {
    /// Every choice, in the order of the key that goes through them.
    pub const ALL: [Self; 3] = [Self::Centre, Self::LeftFace, Self::RightFace];

    /// The words for it while walls go click by click.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Centre => "by its centre",
            Self::LeftFace => "by its left face",
            Self::RightFace => "by its right face",
        }
    }

    /// The words for it while four walls are drawn by two corners.
    pub const fn words_of_four(self) -> &'static str {
        match self {
            Self::Centre => "by their centres",
            Self::LeftFace => "by their inner faces",
            Self::RightFace => "by their outer faces",
        }
    }

    /// The next choice.
    pub const fn next(self) -> Self {
        match self {
            Self::Centre => Self::LeftFace,
            Self::LeftFace => Self::RightFace,
            Self::RightFace => Self::Centre,
        }
    }

    /// From the clicked line to the axis of a wall that runs along a vector.
    pub fn to_axis(self, run: Vec2, thickness: Length) -> Vec2 {
        if run.hypot() < 1e-9 {
            return Vec2::ZERO;
        }
        let left = Vec2::new(-run.y, run.x) / run.hypot();
        match self {
            Self::Centre => Vec2::ZERO,
            Self::LeftFace => left * (-thickness.as_mm() / 2.0),
            Self::RightFace => left * (thickness.as_mm() / 2.0),
        }
    }
}

/// How thick the next wall is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Thickness {
    /// As the wall that is selected, else as the one drawn last.
    #[default]
    AsLast,
    /// As was typed.
    Typed(Length),
    /// As the drawing beneath shows where the first click lands.
    AsDrawn,
}

/// How walls are drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Manner {
    /// Where the clicked line lies in the wall.
    pub line: WallLine,
    /// How thick it is.
    pub thickness: Thickness,
}

/// Where two straight lines meet, each by a point and a direction; `None` where they all but run side by side.
pub fn meeting(one: (Point, Vec2), other: (Point, Vec2)) -> Option<Point> {
    let (u, v) = (one.1, other.1);
    let cross = u.cross(v);
    if cross.abs() < 0.02 * u.hypot() * v.hypot() {
        return None;
    }
    Some(one.0 + u * ((other.0 - one.0).cross(v) / cross))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_left_face_has_its_wall_on_the_right() {
        let east = Vec2::new(1000.0, 0.0);
        let thick = Length::mm(100.0);
        for (line, to_axis) in [
            (WallLine::Centre, Vec2::ZERO),
            (WallLine::LeftFace, Vec2::new(0.0, -50.0)),
            (WallLine::RightFace, Vec2::new(0.0, 50.0)),
        ] {
            assert!((line.to_axis(east, thick) - to_axis).hypot() < 1e-9, "{line:?}");
        }
        assert_eq!(WallLine::LeftFace.to_axis(Vec2::ZERO, thick), Vec2::ZERO);
        let again = WallLine::Centre.next().next().next();
        assert_eq!(again, WallLine::Centre);
    }
}
