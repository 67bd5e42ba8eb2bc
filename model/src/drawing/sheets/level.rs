//! One level of one discipline on a sheet.

use std::collections::BTreeSet;

use kurbo::{BezPath, PathEl, Rect, Shape as _};

use super::beneath::{beneath, notes_beneath};
use super::border::border;
use super::column::{Column, Contents, column, roomiest};
use super::issue::CAUTIONS;
use super::legend::legend_of;
use super::orientation::orientation;
use super::pen::Pen;
use super::placing::{Placed, STANDARD_SCALES, centred, next_scale, place, plan_bounds};
use super::remarks::{kind_cautions, missing};
use super::title_block::{TitleBlock, title_block_of};
use super::{SheetName, SheetOptions, SheetSet, Shows};
use crate::drawing::labels::text_bounds;
use crate::drawing::plan::{
    LevelFigures, PlanOptions, boundary_within, building_items, level_items, lines_within,
};
use crate::drawing::{Item, Layer, Role, Shape, Sheet};
use crate::edit::Subject;
use crate::geometry::overlay::filled_outlines;
use crate::geometry::{Region, Ring, intersection};
use crate::id::Id;
use crate::kit::{Device, Family, Kind, Mount};
use crate::plan::{DoorsAs, Level};
use crate::project::Project;
use crate::systems::ZonePurpose;

/// What a sheet is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Discipline {
    /// Every device with its tag and height.
    Devices,
    /// Sensors and what they cover.
    Detection,
    /// Luminaires, plates and lighting zones.
    Lighting,
    /// Where each box on a wall goes.
    SettingOut,
}

impl Discipline {
    /// Every discipline, in the order of the set.
    pub const ALL: [Self; 4] = [Self::Devices, Self::Detection, Self::Lighting, Self::SettingOut];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Devices => "devices",
            Self::Detection => "detection",
            Self::Lighting => "lighting",
            Self::SettingOut => "setting-out",
        }
    }

    /// What such a sheet shows, in a line.
    pub const fn supplementary(self) -> &'static str {
        match self {
            Self::Devices => "all devices with tags and heights",
            Self::Detection => "sensors and the floor they cover",
            Self::Lighting => "luminaires, plates and lighting zones",
            Self::SettingOut => "first fix: boxes on walls, to centre",
        }
    }

    /// Numbers of its sheets lie above this.
    pub(super) const fn hundred(self) -> u32 {
        match self {
            Self::Devices => 100,
            Self::Detection => 200,
            Self::Lighting => 300,
            Self::SettingOut => 400,
        }
    }

    /// The layers its sheets show.
    pub fn layers(self) -> BTreeSet<Layer> {
        let own = match self {
            Self::Devices => &[Layer::Tags][..],
            Self::Detection => &[Layer::Coverage, Layer::Spots, Layer::Tags],
            Self::Lighting => &[Layer::Zones, Layer::Tags],
            Self::SettingOut => &[Layer::Dimensions, Layer::Tags],
        };
        let always = [Layer::Joinery, Layer::Building, Layer::Rooms, Layer::Devices];
        always.into_iter().chain(own.iter().copied()).collect()
    }

    /// Whether a level has something to show for it. Devices are shown even where there are none yet, so that
    /// every level has a sheet.
    pub(super) fn has_something(self, project: &Project, level: Id<Level>) -> bool {
        let any = project.devices_on(level).any(|(id, device, kind)| self.shows(project, id, device, kind));
        match self {
            Self::Devices => true,
            Self::Lighting => any && zone_purposes(project, level).contains(&ZonePurpose::Lighting),
            Self::Detection | Self::SettingOut => any,
        }
    }

    /// Whether its sheets show a device.
    fn shows(self, project: &Project, id: Id<Device>, device: &Device, kind: &Kind) -> bool {
        match self {
            Self::Devices => true,
            Self::Detection => kind.senses().is_some(),
            Self::Lighting => {
                matches!(kind.family, Family::Luminaires | Family::Plates) || is_in_lighting_zone(project, id)
            }
            Self::SettingOut => matches!(device.mount, Mount::WallFace { .. } | Mount::Loose { .. }),
        }
    }

    /// The project without the devices and zones that its sheets do not show.
    fn part_of(self, project: &Project) -> Project {
        let mut part = project.clone();
        for (id, device) in project.devices.iter() {
            let kind = project.kinds.get(device.kind);
            if !kind.is_some_and(|kind| self.shows(project, id, device, kind)) {
                part.devices.remove(id);
            }
        }
        for (id, zone) in project.zones.iter() {
            if zone.purpose != ZonePurpose::Lighting {
                part.zones.remove(id);
            }
        }
        part
    }

    fn notes(self) -> Vec<String> {
        let mut notes = vec![
            "Heights are millimetres above finished floor level (AFFL) to the centre of the device."
                .to_owned(),
            "Dimensions are in millimetres. Work from figures; do not measure off the print.".to_owned(),
        ];
        notes.extend(
            match self {
                Self::Devices => &["Tags go on both ends of every cable."][..],
                Self::Detection => &[
                    "Coverage is what each sensor sees on plan past walls, doors as drawn and joinery; \
                     it stands in for no walk test.",
                ],
                Self::Lighting => &["Luminaires within one outline are switched and dimmed together."],
                Self::SettingOut => &[
                    "Set out along the face of the wall, from the internal corner or reveal shown, to the centre of the box.",
                    "Check against the finished face: plaster, boards and tiles move corners.",
                ],
            }
            .iter()
            .map(|note| (*note).to_owned()),
        );
        notes
    }
}

fn is_in_lighting_zone(project: &Project, id: Id<Device>) -> bool {
    project.zones.iter().any(|(_, zone)| {
        zone.purpose == ZonePurpose::Lighting && zone.points.iter().any(|point| point.device == id)
    })
}

/// The purposes of the zones that have devices on a level.
fn zone_purposes(project: &Project, level: Id<Level>) -> BTreeSet<ZonePurpose> {
    let on_level = |id: Id<Device>| project.devices.get(id).is_some_and(|device| device.level == level);
    project
        .zones
        .iter()
        .filter(|(_, zone)| zone.points.iter().any(|point| on_level(point.device)))
        .map(|(_, zone)| zone.purpose)
        .collect()
}

/// One level of one discipline on its sheet.
pub fn level_sheet(
    project: &Project,
    level: Id<Level>,
    discipline: Discipline,
    options: &SheetOptions,
) -> Sheet {
    let set = SheetSet::of(project, options.paper);
    let names = set.names();
    let name = names.iter().find(|name| name.shows == Shows::Level(level, discipline)).cloned();
    let name = name.unwrap_or_else(|| unlisted(project, level, discipline, names.len()));
    level_sheet_named(project, (level, discipline), &name, set.list_number(), options)
}

/// The same under a name, where the drawing list has this number.
pub(super) fn level_sheet_named(
    project: &Project,
    (level, discipline): (Id<Level>, Discipline),
    name: &SheetName,
    drawing_list: String,
    options: &SheetOptions,
) -> Sheet {
    let figures = LevelFigures::compute(project, level, DoorsAs::Drawn);
    let view = View { project, shown: discipline.part_of(project), level, discipline, figures };
    view.sheet(name, drawing_list, options)
}

/// What a sheet says on which not every tag finds room.
fn without_tags_note(options: &SheetOptions) -> String {
    format!(
        "With all its tags the plan does not fit on {} at any scale: tags that find no room are left out. Issue it \
         on larger paper.",
        options.paper.name()
    )
}

/// The name of a sheet that the set would leave out for want of anything to show.
fn unlisted(project: &Project, level: Id<Level>, discipline: Discipline, sheets: usize) -> SheetName {
    let words = project.levels.get(level).map_or("Level", |level| level.name.as_str());
    SheetName {
        number: format!("{}-{}00", project.site.drawing_prefix, discipline.hundred() / 100),
        title: format!("{words}: {}", discipline.name()),
        supplementary: discipline.supplementary(),
        document_type: "Layout drawing",
        sheet: sheets,
        sheets,
        shows: Shows::Level(level, discipline),
    }
}

/// The area that a path of straight lines fills by the even-odd rule.
fn region_of(path: &BezPath) -> Region {
    let mut outlines: Vec<Vec<kurbo::Point>> = Vec::new();
    for element in path.elements() {
        match (element, outlines.last_mut()) {
            (PathEl::MoveTo(at), _) => outlines.push(vec![*at]),
            (PathEl::LineTo(at), Some(outline)) => outline.push(*at),
            _ => {}
        }
    }
    let rings: Vec<Ring> = outlines.into_iter().map(Ring::new).collect();
    filled_outlines(&rings, true)
}

/// Half the width of the rim of bare paper along a cut, mm: more than half the width of an outline.
const CUT_RIM_MM: f64 = 0.25;

/// A level seen for one discipline.
struct View<'a> {
    project: &'a Project,
    /// The project without the devices and zones of other disciplines: names and dimensions then keep off what
    /// is drawn, and not off what is not.
    shown: Project,
    level: Id<Level>,
    discipline: Discipline,
    figures: LevelFigures,
}

impl View<'_> {
    fn sheet(&self, name: &SheetName, drawing_list: String, options: &SheetOptions) -> Sheet {
        let asked = options.scale_for(self.project);
        let mut scale = self.first_scale(asked, options);
        loop {
            let items = self.items(f64::from(scale));
            let bounds = plan_bounds(&items, f64::from(scale)).unwrap_or_else(|| self.middle_beneath());
            let contents = self.contents(&items, self.scale_note(scale, asked, options), scale, options);
            let contents = Contents { drawing_list: drawing_list.clone(), ..contents };
            let set = column(&contents, options.paper);
            let placed = place(bounds, f64::from(scale), &set.free);
            match (placed, next_scale(scale)) {
                (Some(placed), _) => return self.drawn(name, options, scale, items, &placed, set),
                (None, Some(smaller)) => scale = smaller,
                (None, None) => return self.overflowing(name, drawing_list, options),
            }
        }
    }

    /// Where nothing is drawn yet, the sheet lies about the middle of the drawing beneath that is to be traced.
    fn middle_beneath(&self) -> Rect {
        let underlay = self.project.underlays.iter().find(|(_, underlay)| underlay.level == self.level);
        underlay.map_or(Rect::ZERO, |(_, underlay)| Rect::from_center_size(underlay.middle(), (0.0, 0.0)))
    }

    /// The scale asked for, or the first after it at which at least the walls fit.
    fn first_scale(&self, asked: u32, options: &SheetOptions) -> u32 {
        let walls = plan_bounds(&building_items(self.project, self.level), 1.0).unwrap_or(Rect::ZERO);
        let areas = roomiest(options.paper);
        let mut scale = asked;
        while place(walls, f64::from(scale), &areas).is_none() {
            match next_scale(scale) {
                Some(smaller) => scale = smaller,
                None => break,
            }
        }
        scale
    }

    /// The sheet of a plan whose labels spread beyond the paper at every scale: the plan at the first scale at
    /// which it fits without them, and of its labels those that find room. It says so.
    fn overflowing(&self, name: &SheetName, drawing_list: String, options: &SheetOptions) -> Sheet {
        let asked = options.scale_for(self.project);
        let mut scale = self.first_scale(asked, options);
        loop {
            let mut items = self.items(f64::from(scale));
            let (tags, bare): (Vec<Item>, Vec<Item>) =
                items.iter().cloned().partition(|item| item.layer == Layer::Tags);
            let bounds = plan_bounds(&bare, f64::from(scale)).unwrap_or(Rect::ZERO);
            let mut contents = self.contents(&items, self.scale_note(scale, asked, options), scale, options);
            contents.drawing_list.clone_from(&drawing_list);
            contents.notes.insert(0, without_tags_note(options));
            let set = column(&contents, options.paper);
            let placed = match (place(bounds, f64::from(scale), &set.free), next_scale(scale)) {
                (Some(placed), _) => placed,
                (None, Some(smaller)) => {
                    scale = smaller;
                    continue;
                }
                (None, None) => {
                    let area = set.free.first().copied().unwrap_or(Rect::ZERO);
                    Placed { paper_from_plan: centred(bounds, f64::from(scale), area), area }
                }
            };
            let room = placed.paper_from_plan.inverse().transform_rect_bbox(placed.area);
            let outside: BTreeSet<Subject> = tags
                .iter()
                .filter(|item| {
                    let bounds = plan_bounds(std::slice::from_ref(*item), f64::from(scale));
                    bounds.is_some_and(|bounds| !room.contains_rect(bounds))
                })
                .filter_map(|item| item.subject)
                .collect();
            items.retain(|item| {
                item.layer != Layer::Tags || !item.subject.is_some_and(|subject| outside.contains(&subject))
            });
            return self.drawn(name, options, scale, items, &placed, set);
        }
    }

    /// The sheet with everything in its place.
    fn drawn(
        &self,
        name: &SheetName,
        options: &SheetOptions,
        scale: u32,
        items: Vec<Item>,
        placed: &Placed,
        column: Column,
    ) -> Sheet {
        let mut pen = Pen::default();
        border(&mut pen, options.paper, &[column.strip, title_block_of(options.paper)]);
        pen.rect(Role::TableLine, column.strip);
        pen.items.extend(column.items);
        let title = TitleBlock { site: &self.project.site, options, name, scale: format!("1:{scale}") };
        title.draw(&mut pen, options.paper);
        Sheet {
            number: name.number.clone(),
            title: name.title.clone(),
            paper: options.paper,
            scale,
            paper_from_plan: placed.paper_from_plan,
            area: placed.area,
            plan: self.over_the_drawing(self.cut_to(items, placed), placed),
            frame: pen.items,
        }
    }

    /// What there is to say about the scale, if anything.
    fn scale_note(&self, scale: u32, asked: u32, options: &SheetOptions) -> Option<String> {
        if scale != asked {
            Some(format!(
                "Drawn at 1:{scale}: at 1:{asked} the plan does not fit on {}.",
                options.paper.name()
            ))
        } else if !STANDARD_SCALES.contains(&scale) {
            Some(format!("1:{scale} is not a scale of ISO 5455: check the scale rule before use."))
        } else {
            None
        }
    }

    /// What is drawn of the level.
    fn items(&self, scale: f64) -> Vec<Item> {
        let options = PlanOptions { scale, layers: self.discipline.layers(), level_below: None };
        level_items(&self.shown, self.level, &self.figures, &options)
    }

    /// Coverage that reaches beyond the drawing area is cut at its edge; nothing else moves. The cut is left
    /// without a line, for nothing ends there.
    fn cut_to(&self, mut items: Vec<Item>, placed: &Placed) -> Vec<Item> {
        let paper = placed.area.inset(-1.0);
        let plan_from_paper = placed.paper_from_plan.inverse();
        let bounds = plan_from_paper.transform_rect_bbox(paper);
        let edge = Region::from_rect(bounds);
        let mut cut = false;
        let areas = items
            .iter_mut()
            .filter(|item| item.layer == Layer::Coverage && item.role != Role::CameraLevelLine);
        for item in areas {
            let Shape::Path(path) = &item.shape else { continue };
            let whole = region_of(path);
            let seen = intersection(&whole, &edge);
            cut |= seen.area() < whole.area() - 1.0;
            item.shape = Shape::Path(seen.to_path());
        }
        let scale = 1.0 / placed.paper_from_plan.determinant().sqrt();
        let others = items.iter().filter(|item| item.role != Role::CameraLevelName);
        let written = others.filter_map(|item| text_bounds(&item.shape, scale)).collect();
        let mut items = boundary_within(lines_within(items, bounds, scale, written), bounds);
        let last = items.iter().rposition(|item| item.layer == Layer::Coverage);
        if let (true, Some(last)) = (cut, last) {
            let mut rim = paper.inflate(CUT_RIM_MM, CUT_RIM_MM).to_path(0.1);
            rim.extend(paper.inset(-CUT_RIM_MM).to_path(0.1));
            let over_the_cut = Item::path(Layer::Coverage, Role::Halo, None, plan_from_paper * rim);
            items.insert(last + 1, over_the_cut);
        }
        items
    }

    /// What is drawn, over the architect's drawing where that is printed.
    fn over_the_drawing(&self, items: Vec<Item>, placed: &Placed) -> Vec<Item> {
        let room = placed.paper_from_plan.inverse().transform_rect_bbox(placed.area.inset(-1.0));
        beneath(self.project, self.level, room).into_iter().chain(items).collect()
    }

    fn contents(
        &self,
        items: &[Item],
        scale_note: Option<String>,
        scale: u32,
        options: &SheetOptions,
    ) -> Contents {
        let beneath = notes_beneath(self.project, self.level);
        let notes = scale_note.into_iter().chain(self.discipline.notes()).chain(beneath).collect();
        let on_sheet: BTreeSet<Id<Device>> = self
            .project
            .devices_on(self.level)
            .filter(|(id, device, kind)| self.discipline.shows(self.project, *id, device, kind))
            .map(|(id, _, _)| id)
            .collect();
        Contents {
            legend: legend_of(self.project, items, f64::from(scale)),
            notes,
            missing: missing(self.project, on_sheet.iter().copied()),
            cautions: CAUTIONS.map(str::to_owned).to_vec(),
            kind_cautions: kind_cautions(self.project, on_sheet),
            orientation: Some(orientation(self.project.site.north, scale, options.paper)),
            drawing_list: String::new(),
        }
    }
}
