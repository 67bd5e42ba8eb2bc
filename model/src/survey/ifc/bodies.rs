//! The bodies of a file as far as a plan needs them: their corners, and the outlines of what stands upright.
//!
//! Extrusions, blocks, faceted and indexed surfaces, mapped copies and results of cutting are followed; a cut
//! body is taken whole. Whatever else comes is noted by name.

use kurbo::Point;

use super::curves::Chords;
use super::frame::{Frame, Space, cross, dot, times, unit};
use super::grammar::Value;
use super::reading::Reading;
use super::step::Record;
use crate::geometry::{Ring, union_of_rings};

/// How deep bodies may be made of bodies.
const DEEPEST_BODY: usize = 16;

/// More corners than any part of a house has; beyond them a body is left as far as it was read.
const MOST_CORNERS: usize = 2_000_000;

/// Arcs in profiles become chords that stand off by at most this, mm: rooms keep their area to well under 0.1 %.
const PROFILE_CHORDS: Chords = Chords { stand_off: 1.0 };

/// Faces whose lowest corners differ by less than this lie on one floor, mm.
const LEVEL: f64 = 1.0;

/// More faces than this are not put together into an outline: their edges may all cross one another, and the
/// work grows with the crossings.
const MOST_FACES: usize = 400;

/// How often, on average, the faces of a body may cover each place of its plan: floor, ceiling and some steps.
const MOST_COVERS: f64 = 12.0;

/// Faces that cover less than this on plan stand on edge, mm².
const ON_EDGE: f64 = 1.0;

/// A body in the building's frame, mm.
#[derive(Clone, Debug, Default)]
pub(super) struct Body {
    /// All its corners.
    pub(super) corners: Vec<Space>,
    /// Outlines of upright extrusions on plan, mm.
    pub(super) upright: Vec<Ring>,
    /// All other faces that cover something on plan, with the height of their lowest and highest corner.
    faces: Vec<(f64, f64, Ring)>,
}

impl Body {
    /// Its lowest and highest corner, mm.
    pub(super) fn heights(&self) -> Option<(f64, f64)> {
        let z = || self.corners.iter().map(|corner| corner[2]);
        (!self.corners.is_empty()).then(|| (z().fold(f64::MAX, f64::min), z().fold(f64::MIN, f64::max)))
    }

    /// Its corners seen from above.
    pub(super) fn corners_on_plan(&self) -> Vec<Point> {
        self.corners.iter().map(|corner| Point::new(corner[0], corner[1])).collect()
    }

    /// What it covers on plan, seen from above. Of a surface with very many faces only the floor counts.
    pub(super) fn outline(&self) -> Option<Ring> {
        if let ([only], []) = (self.upright.as_slice(), self.faces.as_slice()) {
            return Some(only.clone());
        }
        let floor = self.faces.iter().map(|(low, _, _)| *low).fold(f64::MAX, f64::min) + LEVEL;
        let all_count = self.upright.len() + self.faces.len() <= MOST_FACES;
        let counting = self.faces.iter().filter(|(_, high, _)| all_count || *high <= floor);
        let rings: Vec<Ring> =
            self.upright.iter().chain(counting.map(|(_, _, ring)| ring)).cloned().collect();
        let covered: f64 = rings.iter().map(Ring::area).sum();
        let bounds = rings.iter().filter_map(Ring::bounds).reduce(|all, one| all.union(one))?;
        if rings.len() > MOST_FACES || covered > MOST_COVERS * bounds.area() {
            return None;
        }
        union_of_rings(&rings).largest_shape().map(|shape| shape.outer.clone())
    }

    fn add_face(&mut self, face: Vec<Space>) {
        let ring = ring_of(&face);
        if ring.area() > ON_EDGE {
            let low = face.iter().map(|corner| corner[2]).fold(f64::MAX, f64::min);
            let high = face.iter().map(|corner| corner[2]).fold(f64::MIN, f64::max);
            self.faces.push((low, high, ring));
        }
        self.corners.extend(face);
    }
}

/// A ring seen from above.
fn ring_of(corners: &[Space]) -> Ring {
    Ring::new(corners.iter().map(|corner| Point::new(corner[0], corner[1])).collect())
}

impl Reading<'_> {
    /// Items of the shape representations of a product whose identifier satisfies `wanted`.
    pub(super) fn items(&self, product: &Record<'_>, wanted: impl Fn(&str, &str) -> bool) -> Vec<u64> {
        let Some(definition) = self.file.record_at(product, 6) else { return Vec::new() };
        let mut items = Vec::new();
        for representation in definition.references_at(2) {
            let Some(shape) = self.file.record(representation) else { continue };
            let identifier = shape.text_at(1).unwrap_or_default();
            let form = shape.text_at(2).unwrap_or_default();
            if wanted(&identifier, &form) {
                items.extend(shape.references_at(3));
            }
        }
        items
    }

    /// The body of a product, in the building's frame. `None` where it has none that is understood.
    pub(super) fn body(&self, product: &Record<'_>, stands: &Frame) -> Option<Body> {
        let mut items = self.items(product, |identifier, _| identifier.eq_ignore_ascii_case("body"));
        if items.is_empty() {
            let bodiless =
                ["axis", "footprint", "box", "annotation", "cog", "clearance", "profile", "surface"];
            items = self.items(product, |identifier, form| {
                !bodiless.contains(&identifier.to_ascii_lowercase().as_str())
                    && !form.starts_with("Curve")
                    && form != "BoundingBox"
            });
        }
        let mut body = Body::default();
        let mut waiting: Vec<(u64, Frame, usize)> = items.iter().map(|item| (*item, *stands, 0)).collect();
        while let Some((item, frame, depth)) = waiting.pop() {
            let Some(record) = self.file.record(item) else { continue };
            if depth > DEEPEST_BODY {
                self.note("bodies made of bodies in a circle", item);
                break;
            }
            if body.corners.len() > MOST_CORNERS {
                self.note("bodies with more corners than a house has: read in part", product.number);
                break;
            }
            let mut follow = |next: Option<u64>, frame: Frame| {
                waiting.extend(next.map(|next| (next, frame, depth + 1)));
            };
            match record.entity {
                "IFCMAPPEDITEM" => {
                    let Some((shape, inner)) = self.mapped(&record) else { continue };
                    for next in shape.references_at(3) {
                        follow(Some(next), frame.then(&inner));
                    }
                }
                "IFCBOOLEANCLIPPINGRESULT" | "IFCBOOLEANRESULT" => {
                    follow(record.reference_at(1), frame);
                    if record.word_at(0) == Some("UNION") {
                        follow(record.reference_at(2), frame);
                    } else {
                        self.note("bodies with a part cut off: taken whole", product.number);
                    }
                }
                "IFCCSGSOLID" => follow(record.reference_at(0), frame),
                _ => {
                    if self.solid(&record, &frame, &mut body).is_none() {
                        self.note(format!("bodies given as {}", record.entity), product.number);
                    }
                }
            }
        }
        body.corners.retain(|corner| corner.iter().all(|along| along.is_finite()));
        (!body.corners.is_empty()).then_some(body)
    }

    /// The shape that a mapped item repeats, and where.
    fn mapped(&self, item: &Record<'_>) -> Option<(Record<'_>, Frame)> {
        let map = self.file.record_at(item, 0)?;
        let origin = self.axis_placement(map.reference_at(0)?)?;
        let target = self.transformation(item.reference_at(1)?)?;
        Some((self.file.record_at(&map, 1)?, target.then(&origin.back())))
    }

    /// Adds one solid or surface; `None` where it is of a kind that is not understood.
    fn solid(&self, record: &Record<'_>, frame: &Frame, body: &mut Body) -> Option<()> {
        match record.entity {
            "IFCEXTRUDEDAREASOLID" | "IFCEXTRUDEDAREASOLIDTAPERED" => self.extrusion(record, frame, body),
            "IFCBLOCK" => {
                let stands = frame.then(&self.axis_placement(record.reference_at(0)?)?);
                let side = |place| record.number_at(place).map(|length| length * self.mm);
                let (x, y, z) = (side(1)?, side(2)?, side(3)?);
                let base = [[0.0, 0.0, 0.0], [x, 0.0, 0.0], [x, y, 0.0], [0.0, y, 0.0]];
                extrude(&base, &stands, [0.0, 0.0, z], body);
                Some(())
            }
            "IFCFACETEDBREP" | "IFCFACETEDBREPWITHVOIDS" | "IFCADVANCEDBREP" | "IFCADVANCEDBREPWITHVOIDS" => {
                self.shell(record.reference_at(0)?, frame, body)
            }
            "IFCSHELLBASEDSURFACEMODEL" | "IFCFACEBASEDSURFACEMODEL" => {
                for shell in record.references_at(0) {
                    self.shell(shell, frame, body)?;
                }
                Some(())
            }
            "IFCCLOSEDSHELL" | "IFCOPENSHELL" | "IFCCONNECTEDFACESET" => {
                self.shell(record.number, frame, body)
            }
            "IFCPOLYGONALFACESET" | "IFCTRIANGULATEDFACESET" | "IFCTRIANGULATEDIRREGULARNETWORK" => {
                self.indexed_surface(record, frame, body)
            }
            _ => None,
        }
    }

    fn extrusion(&self, record: &Record<'_>, frame: &Frame, body: &mut Body) -> Option<()> {
        let profile = self.profile(record.reference_at(0)?)?;
        let stands = match record.reference_at(1) {
            Some(position) => frame.then(&self.axis_placement(position)?),
            None => *frame,
        };
        let along = unit(self.direction(record.reference_at(2)?)?)?;
        extrude(&profile, &stands, times(along, record.number_at(3)? * self.mm), body);
        Some(())
    }

    /// The outline of a profile in its own plane, mm.
    fn profile(&self, number: u64) -> Option<Vec<Space>> {
        let record = self.file.record(number)?;
        let size = |place: usize| record.number_at(place).map(|length| length * self.mm);
        let half = |x: f64, y: f64| vec![[-x, -y, 0.0], [x, -y, 0.0], [x, y, 0.0], [-x, y, 0.0]];
        let outline = match record.entity {
            "IFCARBITRARYCLOSEDPROFILEDEF" | "IFCARBITRARYPROFILEDEFWITHVOIDS" => {
                return self.course(record.reference_at(2)?, PROFILE_CHORDS);
            }
            "IFCRECTANGLEPROFILEDEF" | "IFCROUNDEDRECTANGLEPROFILEDEF" | "IFCRECTANGLEHOLLOWPROFILEDEF" => {
                half(size(3)? / 2.0, size(4)? / 2.0)
            }
            "IFCCIRCLEPROFILEDEF" | "IFCCIRCLEHOLLOWPROFILEDEF" => {
                let radius = size(3)?;
                let corner = |step: u32| {
                    let (sin, cos) = (f64::from(step) * std::f64::consts::PI / 18.0).sin_cos();
                    [radius * cos, radius * sin, 0.0]
                };
                (0..36).map(corner).collect()
            }
            // The rolled sections of a curtain wall's members all begin with their overall width and depth,
            // or depth and width: for an extent either will do.
            "IFCISHAPEPROFILEDEF" | "IFCLSHAPEPROFILEDEF" | "IFCUSHAPEPROFILEDEF" | "IFCTSHAPEPROFILEDEF" => {
                half(size(3)? / 2.0, size(4)? / 2.0)
            }
            other => {
                self.note(format!("profiles given as {other}"), number);
                return None;
            }
        };
        let stands = match record.reference_at(2) {
            Some(position) => self.axis_placement(position)?,
            None => Frame::WORLD,
        };
        Some(outline.into_iter().map(|corner| stands.place(corner)).collect())
    }

    fn shell(&self, number: u64, frame: &Frame, body: &mut Body) -> Option<()> {
        let shell = self.file.record(number)?;
        for face in shell.references_at(0) {
            let face = self.file.record(face)?;
            for (place, bound) in face.references_at(0).into_iter().enumerate() {
                let bound = self.file.record(bound)?;
                let corners = self.loop_corners(bound.reference_at(0)?)?;
                // Inner bounds are holes: their corners lie on the surface, but they cover nothing.
                if bound.entity == "IFCFACEOUTERBOUND" || place == 0 {
                    body.add_face(corners.into_iter().map(|corner| frame.place(corner)).collect());
                }
            }
        }
        Some(())
    }

    fn loop_corners(&self, number: u64) -> Option<Vec<Space>> {
        let record = self.file.record(number)?;
        match record.entity {
            "IFCPOLYLOOP" => record.references_at(0).into_iter().map(|point| self.point(point)).collect(),
            "IFCEDGELOOP" => {
                let start_of = |oriented: u64| {
                    let oriented = self.file.record(oriented)?;
                    let edge = self.file.record_at(&oriented, 2)?;
                    let start = if oriented.word_at(3) == Some("F") { 1 } else { 0 };
                    let vertex = self.file.record_at(&edge, start)?;
                    self.point(vertex.reference_at(0)?)
                };
                record.references_at(0).into_iter().map(start_of).collect()
            }
            _ => None,
        }
    }

    fn indexed_surface(&self, record: &Record<'_>, frame: &Frame, body: &mut Body) -> Option<()> {
        let points: Vec<Space> =
            self.point_list(record.reference_at(0)?)?.into_iter().map(|point| frame.place(point)).collect();
        let corners = |indices: &[Value<'_>]| -> Option<Vec<Space>> {
            let corner = |index: &Value<'_>| points.get((index.number()? as usize).checked_sub(1)?).copied();
            indices.iter().map(corner).collect()
        };
        if record.entity == "IFCPOLYGONALFACESET" {
            for face in record.references_at(2) {
                body.add_face(corners(self.file.record(face)?.list_at(0))?);
            }
        } else {
            for triangle in record.list_at(3) {
                let Value::List(indices) = triangle else { return None };
                body.add_face(corners(indices)?);
            }
        }
        Some(())
    }
}

/// Adds a profile drawn out along a direction, both in a frame.
fn extrude(profile: &[Space], stands: &Frame, along: Space, body: &mut Body) {
    let along = stands.turn(along);
    let base: Vec<Space> = profile.iter().map(|corner| stands.place(*corner)).collect();
    let level = unit(cross(stands.x, stands.y)).is_some_and(|square| square[2].abs() > 1.0 - 1e-9);
    let upright = along[0].hypot(along[1]) < 1e-6 * dot(along, along).sqrt();
    let top: Vec<Space> =
        base.iter().map(|corner| [0, 1, 2].map(|axis| corner[axis] + along[axis])).collect();
    if level && upright {
        body.upright.push(ring_of(&base));
        body.corners.extend(base);
        body.corners.extend(top);
        return;
    }
    let next = |index: usize| (index + 1) % base.len();
    for index in 0..base.len() {
        body.add_face(vec![base[index], base[next(index)], top[next(index)], top[index]]);
    }
    body.add_face(base);
    body.add_face(top);
}
