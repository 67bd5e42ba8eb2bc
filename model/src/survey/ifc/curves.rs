//! Lines and arcs of a file as runs of points.

use super::frame::{Frame, Space, cross, dot, less, times, unit};
use super::grammar::Value;
use super::reading::Reading;
use super::step::Record;

/// How deep curves may be made of curves.
const DEEPEST_CURVE: usize = 8;

/// Points nearer than this are one, mm.
const SAME_POINT: f64 = 1e-3;

/// How coarsely arcs may be drawn with chords.
#[derive(Clone, Copy)]
pub(super) struct Chords {
    /// How far a chord may stand off its arc, mm.
    pub(super) stand_off: f64,
}

/// An arc of a circle or an ellipse.
struct Arc {
    centre: Frame,
    x_radius: f64,
    y_radius: f64,
    from: f64,
    sweep: f64,
}

impl Arc {
    fn at(&self, angle: f64) -> Space {
        self.centre.place([self.x_radius * angle.cos(), self.y_radius * angle.sin(), 0.0])
    }

    fn angle_of(&self, point: Space) -> f64 {
        let local = self.centre.back().place(point);
        (local[1] / self.y_radius).atan2(local[0] / self.x_radius)
    }

    fn points(&self, chords: Chords) -> Vec<Space> {
        let radius = self.x_radius.abs().max(self.y_radius.abs());
        let step = 2.0 * (1.0 - (chords.stand_off / radius).min(0.13)).acos();
        let count = (self.sweep.abs() / step).ceil().clamp(1.0, 720.0);
        (0..=count as usize).map(|index| self.at(self.from + self.sweep * index as f64 / count)).collect()
    }
}

fn join(run: &mut Vec<Space>, more: impl IntoIterator<Item = Space>) {
    for point in more {
        let apart = run.last().map(|last| less(*last, point));
        if apart.is_none_or(|apart| dot(apart, apart) > SAME_POINT * SAME_POINT) {
            run.push(point);
        }
    }
}

impl Reading<'_> {
    /// The course of a curve in its own coordinates, mm; at least two points.
    pub(super) fn course(&self, number: u64, chords: Chords) -> Option<Vec<Space>> {
        let points = self.course_within(number, chords, DEEPEST_CURVE)?;
        (points.len() >= 2).then_some(points)
    }

    fn course_within(&self, number: u64, chords: Chords, steps_left: usize) -> Option<Vec<Space>> {
        let steps_left = steps_left.checked_sub(1)?;
        let record = self.file.record(number)?;
        let mut run = Vec::new();
        match record.entity {
            "IFCPOLYLINE" => {
                for point in record.references_at(0) {
                    join(&mut run, self.point(point));
                }
            }
            "IFCINDEXEDPOLYCURVE" => run = self.indexed_course(&record, chords)?,
            "IFCTRIMMEDCURVE" => run = self.trimmed_course(&record, chords, steps_left)?,
            "IFCCIRCLE" | "IFCELLIPSE" => run = self.whole_turn(&record)?.points(chords),
            "IFCCOMPOSITECURVE" | "IFC2DCOMPOSITECURVE" => {
                for segment in record.references_at(0) {
                    let segment = self.file.record(segment)?;
                    if segment.entity == "IFCCURVESEGMENT" {
                        self.note("curves made of IFCCURVESEGMENT", segment.number);
                        return None;
                    }
                    let mut part = self.course_within(segment.reference_at(2)?, chords, steps_left)?;
                    if segment.word_at(1) == Some("F") {
                        part.reverse();
                    }
                    join(&mut run, part);
                }
            }
            other => {
                self.note(format!("curves given as {other}"), number);
                return None;
            }
        }
        Some(run)
    }

    fn indexed_course(&self, record: &Record<'_>, chords: Chords) -> Option<Vec<Space>> {
        let points = self.point_list(record.reference_at(0)?)?;
        let mut run = Vec::new();
        if record.list_at(1).is_empty() {
            join(&mut run, points);
            return Some(run);
        }
        for segment in record.list_at(1) {
            let Value::Typed(form, inside) = segment else { continue };
            let Some(Value::List(indices)) = inside.first() else { continue };
            let corner = |index: &Value<'_>| points.get((index.number()? as usize).checked_sub(1)?).copied();
            let corners: Vec<Space> = indices.iter().filter_map(corner).collect();
            match (*form, corners.as_slice()) {
                ("IFCARCINDEX", [from, by, to]) => join(&mut run, arc_through(*from, *by, *to, chords)),
                _ => join(&mut run, corners),
            }
        }
        Some(run)
    }

    /// The points of an IfcCartesianPointList, mm.
    pub(super) fn point_list(&self, number: u64) -> Option<Vec<Space>> {
        let record = self.file.record(number)?;
        let point = |value: &Value<'_>| match value {
            Value::List(numbers) => Some(times(Self::numbers(numbers)?, self.mm)),
            _ => None,
        };
        record.list_at(0).iter().map(point).collect()
    }

    fn whole_turn(&self, record: &Record<'_>) -> Option<Arc> {
        let x_radius = record.number_at(1)? * self.mm;
        let y_radius = if record.entity == "IFCELLIPSE" { record.number_at(2)? * self.mm } else { x_radius };
        let real = x_radius > 0.0 && y_radius > 0.0;
        let centre = self.axis_placement(record.reference_at(0)?)?;
        real.then_some(Arc { centre, x_radius, y_radius, from: 0.0, sweep: std::f64::consts::TAU })
    }

    /// A cut of a curve is a point, a parameter or both.
    fn cut(&self, record: &Record<'_>, place: usize) -> (Option<Space>, Option<f64>) {
        let cuts = record.list_at(place);
        (
            cuts.iter().find_map(|cut| self.point(cut.reference()?)),
            cuts.iter().find_map(|cut| matches!(cut, Value::Typed(..)).then(|| cut.number()).flatten()),
        )
    }

    fn trimmed_course(&self, record: &Record<'_>, chords: Chords, steps_left: usize) -> Option<Vec<Space>> {
        let basis = self.file.record_at(record, 0)?;
        let (from, to) = (self.cut(record, 1), self.cut(record, 2));
        let parameters_lead = record.word_at(4) == Some("PARAMETER");
        let forward = record.word_at(3) != Some("F");
        match basis.entity {
            "IFCLINE" => {
                let start = self.point(basis.reference_at(0)?)?;
                let vector = self.file.record_at(&basis, 1)?;
                let along = unit(self.direction(vector.reference_at(0)?)?)?;
                let step = times(along, vector.number_at(1)? * self.mm);
                let end = |(point, parameter): (Option<Space>, Option<f64>)| {
                    let by_parameter = parameter.map(|t| {
                        let walked = times(step, t);
                        [0, 1, 2].map(|axis| start[axis] + walked[axis])
                    });
                    if parameters_lead { by_parameter.or(point) } else { point.or(by_parameter) }
                };
                Some(vec![end(from)?, end(to)?])
            }
            "IFCCIRCLE" | "IFCELLIPSE" => {
                let whole = self.whole_turn(&basis)?;
                let angle = |(point, parameter): (Option<Space>, Option<f64>)| {
                    let by_parameter = parameter.map(|t| t * self.radians);
                    let by_point = point.map(|point| whole.angle_of(point));
                    if parameters_lead { by_parameter.or(by_point) } else { by_point.or(by_parameter) }
                };
                let (from, to) = (angle(from)?, angle(to)?);
                let turn = (to - from).rem_euclid(std::f64::consts::TAU);
                let sweep = if forward { turn } else { turn - std::f64::consts::TAU };
                let nothing = sweep.abs() < 1e-9;
                let sweep = if nothing { std::f64::consts::TAU } else { sweep };
                Some(Arc { from, sweep, ..whole }.points(chords))
            }
            other => match (from.0, to.0) {
                // Between two points of a line with corners there may be corners, so the whole of it counts.
                (Some(from), Some(to)) if other != "IFCPOLYLINE" => {
                    self.note(format!("pieces of {other}: taken as straight"), record.number);
                    Some(vec![from, to])
                }
                _ => {
                    self.note(format!("pieces of {other}: taken whole"), record.number);
                    self.course_within(basis.number, chords, steps_left)
                }
            },
        }
    }
}

/// Chords of the arc from one point through a second to a third; straight where they lie on a line.
fn arc_through(from: Space, by: Space, to: Space, chords: Chords) -> Vec<Space> {
    let (a, b) = (less(by, from), less(to, from));
    let normal = cross(a, b);
    let (Some(z), square) = (unit(normal), dot(normal, normal)) else { return vec![from, by, to] };
    // The centre of a circle through three points, from the corner at `from`.
    let towards = cross([0, 1, 2].map(|axis| a[axis] * dot(b, b) - b[axis] * dot(a, a)), normal);
    let to_centre = times(towards, -1.0 / (2.0 * square));
    let radius = dot(to_centre, to_centre).sqrt();
    let origin = [0, 1, 2].map(|axis| from[axis] + to_centre[axis]);
    let centre = Frame::upright(origin, Some(z), Some(times(to_centre, -1.0)));
    let mut arc = Arc { centre, x_radius: radius, y_radius: radius, from: 0.0, sweep: 0.0 };
    arc.sweep = arc.angle_of(to).rem_euclid(std::f64::consts::TAU);
    let mut points = arc.points(chords);
    if let Some(last) = points.last_mut() {
        *last = to;
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_arc_runs_through_its_three_points() {
        let run =
            arc_through([100.0, 0.0, 0.0], [0.0, 100.0, 0.0], [-100.0, 0.0, 0.0], Chords { stand_off: 0.1 });
        assert!(run.len() > 20);
        for point in &run {
            assert!((dot(*point, *point).sqrt() - 100.0).abs() < 1e-9 && point[1] > -1e-9, "{point:?}");
        }
        let straight = arc_through([0.0; 3], [1.0, 0.0, 0.0], [2.0, 0.0, 0.0], Chords { stand_off: 1.0 });
        assert_eq!(straight.len(), 3);
    }
}
