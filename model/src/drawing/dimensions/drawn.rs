//! Setting-out dimensions as they are drawn.
//!
//! A dimension line runs parallel to the wall, off its face into the room, with oblique strokes at its ends
//! (ISO 129-1) and the figure above it, read from the bottom or the right of the sheet. Several on one face are
//! stacked shortest first; a row whose figure would run into a symbol, into lettering or into another dimension
//! is passed over.

use kurbo::{BezPath, Point, Rect, Vec2};

use super::SettingOut;
use crate::drawing::labels::{line_crosses, readable, text_bounds};
use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight, lettering};
use crate::edit::Subject;
use crate::project::Project;
use crate::units::Angle;

/// The first row stands off the face so far, mm on paper: clear of the symbols on it.
const FIRST_ROW_MM: f64 = 7.5;
/// From row to row, mm on paper.
const ROW_PITCH_MM: f64 = 3.6;
/// Height of the figures, mm on paper (ISO 3098 series).
const FIGURE_HEIGHT_MM: f64 = 1.8;
/// From the dimension line up to the base line of its figure, mm on paper.
const FIGURE_OFF_LINE_MM: f64 = 0.6;
/// Extension lines start so far off the face or the symbol, mm on paper.
const EXTENSION_GAP_MM: f64 = 0.8;
/// Extension lines and dimension lines run so far beyond where they cross, mm on paper.
const OVERRUN_MM: f64 = 1.0;
/// Half the length of the oblique stroke, mm on paper.
const HALF_STROKE_MM: f64 = 0.9;
/// So many rows are tried for one at which lines too run clear; beyond them figures alone have to.
const ROWS_TRIED_FOR_LINES: u32 = 8;
/// No plan has a face with more rows than this; a bound for input that is not finite.
const MOST_ROWS: u32 = 10_000;

/// Draws setting-out dimensions. `obstacles` are symbols and lettering, plan mm, that no figure may cover.
/// `with_heights` adds each height to its figure, for drawings that show no tags.
pub fn dimension_items(
    project: &Project,
    settings: &[SettingOut],
    scale: f64,
    obstacles: &[Rect],
    with_heights: bool,
) -> Vec<Item> {
    let mut order: Vec<&SettingOut> = settings.iter().collect();
    order.sort_by(|a, b| {
        (a.wall, a.side)
            .cmp(&(b.wall, b.side))
            .then(a.distance.as_mm().total_cmp(&b.distance.as_mm()))
            .then(a.device.cmp(&b.device))
    });
    let mut board = Board { scale, obstacles, with_heights, figures: Vec::new(), lines: Vec::new() };
    let mut items = Vec::new();
    for setting in order {
        let Some(wall) = project.walls.get(setting.wall) else { continue };
        let into_room = wall.normal(setting.side);
        let figure = figure_of(setting, with_heights);
        items.extend(board.draw(setting, into_room, &figure));
    }
    items
}

fn figure_of(setting: &SettingOut, with_heights: bool) -> String {
    match (with_heights, setting.height) {
        (false, _) => setting.distance.to_string(),
        (true, Some(height)) => format!("{}, {height} AFFL", setting.distance),
        (true, None) => format!("{}, height missing", setting.distance),
    }
}

/// What has been drawn so far.
struct Board<'a> {
    scale: f64,
    obstacles: &'a [Rect],
    with_heights: bool,
    figures: Vec<Rect>,
    lines: Vec<(Point, Point)>,
}

/// One dimension at one row: the ends of its line and its figure.
struct Trial {
    from: Point,
    to: Point,
    /// The line as drawn, overrun and any stretch under a figure beyond its end included.
    line: (Point, Point),
    figure: Shape,
    bounds: Rect,
}

impl Board<'_> {
    fn draw(&mut self, setting: &SettingOut, into_room: Vec2, figure: &str) -> Vec<Item> {
        let Some(trial) = self.choose(setting, into_room, figure) else { return Vec::new() };
        self.figures.push(trial.bounds);
        self.lines.push(trial.line);
        let subject = Some(Subject::Device(setting.device));
        let says_missing = self.with_heights && setting.height.is_none();
        let figure_role = if says_missing { Role::Missing } else { Role::DimensionText };
        let mut path = BezPath::new();
        let mut stroke = |from: Point, to: Point| {
            path.move_to(from);
            path.line_to(to);
        };
        stroke(trial.line.0, trial.line.1);
        let overrun = into_room * (OVERRUN_MM * self.scale);
        for (foot, end) in [(setting.from_point, trial.from), (setting.to_point, trial.to)] {
            let start = self.extension_start(foot, into_room);
            if (end - start).dot(into_room) > 0.0 {
                stroke(start, end + overrun);
            }
            let oblique = Vec2::from_angle(self.turn(setting, into_room).as_radians())
                + Vec2::from_angle(self.turn(setting, into_room).as_radians()).turn_90();
            let oblique = oblique * (HALF_STROKE_MM * self.scale / std::f64::consts::SQRT_2);
            stroke(end - oblique, end + oblique);
        }
        let item = |role: Role, shape: Shape| Item { layer: Layer::Dimensions, role, subject, shape };
        vec![Item::path(Layer::Dimensions, Role::Dimension, subject, path), item(figure_role, trial.figure)]
    }

    /// The first row at which everything runs clear; else the first at which the figure does.
    fn choose(&self, setting: &SettingOut, into_room: Vec2, figure: &str) -> Option<Trial> {
        let trials = |rows: std::ops::Range<u32>| {
            rows.flat_map(move |row| self.trials(setting, into_room, figure, row))
        };
        trials(0..ROWS_TRIED_FOR_LINES)
            .find(|trial| self.figure_is_clear(trial) && self.line_is_clear(trial, setting))
            .or_else(|| trials(0..MOST_ROWS).find(|trial| self.figure_is_clear(trial)))
    }

    fn turn(&self, setting: &SettingOut, into_room: Vec2) -> Angle {
        let along = setting.to_point - setting.from_point;
        // A device right on its corner still has a wall to run along.
        let along = if along.hypot() > 1e-6 { along } else { -into_room.turn_90() };
        readable(Angle::of(along))
    }

    /// The dimension at a row: its figure above the middle of the line where that is long enough, else beyond
    /// the device.
    fn trials(&self, setting: &SettingOut, into_room: Vec2, figure: &str, row: u32) -> Vec<Trial> {
        let off = into_room * ((FIRST_ROW_MM + f64::from(row) * ROW_PITCH_MM) * self.scale);
        let (from, to) = (setting.from_point + off, setting.to_point + off);
        let turn = self.turn(setting, into_room);
        let reading = turn.direction();
        let length = from.distance(to);
        let along = if length > 1e-6 { (to - from) / length } else { reading };
        let width = lettering::width(figure, FIGURE_HEIGHT_MM, Weight::Medium) * self.scale;
        let above = reading.turn_90() * (FIGURE_OFF_LINE_MM * self.scale);
        let overrun = along * (OVERRUN_MM * self.scale);
        let figure_at = |middle: Point, far_end: Point| {
            let shape = Shape::Text {
                at: middle + above,
                text: figure.to_owned(),
                height_mm: FIGURE_HEIGHT_MM,
                weight: Weight::Medium,
                anchor: Anchor::Middle,
                turn,
            };
            let bounds = text_bounds(&shape, self.scale)?;
            Some(Trial { from, to, line: (from - overrun, far_end + overrun), figure: shape, bounds })
        };
        let beyond = to + along * (width + 2.0 * OVERRUN_MM * self.scale);
        let mut trials = Vec::new();
        if length >= width + OVERRUN_MM * self.scale {
            trials.extend([0.5, 0.3, 0.7].into_iter().filter_map(|share| {
                let slack = (length - width) / 2.0 * 0.9;
                let shift = ((share - 0.5) * length).clamp(-slack, slack);
                figure_at(from.midpoint(to) + along * shift, to)
            }));
        }
        trials.extend(figure_at(to + (beyond - to) / 2.0, beyond));
        trials
    }

    fn figure_is_clear(&self, trial: &Trial) -> bool {
        let wanted = trial.bounds.inflate(0.2 * self.scale, 0.2 * self.scale);
        let covered = |rect: &Rect| rect.overlaps(wanted);
        !self.obstacles.iter().any(covered)
            && !self.figures.iter().any(covered)
            && !self.lines.iter().any(|(from, to)| line_crosses(*from, *to, trial.bounds))
    }

    fn line_is_clear(&self, trial: &Trial, setting: &SettingOut) -> bool {
        let (from, to) = trial.line;
        let own = |rect: &&Rect| !rect.inflate(1.0, 1.0).contains(setting.to_point);
        !self.obstacles.iter().filter(own).any(|rect| line_crosses(from, to, *rect))
            && !self.figures.iter().any(|rect| line_crosses(from, to, *rect))
            && !self.lines.iter().any(|line| run_together((from, to), *line))
    }

    /// Where an extension line leaves the face, or the symbol that sits on it.
    fn extension_start(&self, foot: Point, into_room: Vec2) -> Point {
        let far = self
            .obstacles
            .iter()
            .filter(|rect| rect.inflate(1.0, 1.0).contains(foot))
            .map(|rect| {
                let across = if into_room.x > 0.0 { rect.x1 - foot.x } else { foot.x - rect.x0 };
                let up = if into_room.y > 0.0 { rect.y1 - foot.y } else { foot.y - rect.y0 };
                (across / into_room.x.abs()).min(up / into_room.y.abs())
            })
            .fold(0.0, f64::max);
        foot + into_room * (far + EXTENSION_GAP_MM * self.scale)
    }
}

/// Whether two lines lie on one another for a stretch, rather than crossing.
fn run_together(a: (Point, Point), b: (Point, Point)) -> bool {
    let along = a.1 - a.0;
    let length = along.hypot();
    if length <= 0.0 {
        return false;
    }
    let along = along / length;
    let off = |point: Point| along.cross(point - a.0).abs();
    let (start, end) = ((b.0 - a.0).dot(along), (b.1 - a.0).dot(along));
    off(b.0) < 1.0 && off(b.1) < 1.0 && start.max(end) > 0.0 && start.min(end) < length
}
