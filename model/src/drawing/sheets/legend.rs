//! The legend: every symbol and every sort of line that is really on the sheet, and no other.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::{Affine, Point, Rect, Shape as _, Size};

use super::flow::Block;
use super::pen::{DESCENDER, Hand, Pen, moved, wrapped};
use crate::drawing::labels::text_bounds;
use crate::drawing::plan::{LOZENGE_MM, device_bounds, device_items, lozenge};
use crate::drawing::{Anchor, Item, Layer, Role, Shape};
use crate::edit::Subject;
use crate::id::Id;
use crate::kit::{Device, Kind, Mount};
use crate::project::Project;
use crate::units::{Angle, Length};

/// Size of the sample of an area, mm on paper.
const SAMPLE: Size = Size::new(10.0, 5.0);

/// A symbol wider or higher than this is drawn smaller in the legend, mm on paper.
const LARGEST_SYMBOL_MM: f64 = 12.0;

/// From the sample to its words, mm.
const GAP_MM: f64 = 2.0;

/// One line of the legend.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    /// The sample, about its own centre, mm on paper.
    pub sample: Vec<Item>,
    /// Room the sample takes, mm on paper.
    pub size: Size,
    /// What it stands for.
    pub words: String,
}

/// The legend of what a sheet's plan shows: kinds of devices first, then lines and areas.
pub(super) fn legend_of(project: &Project, plan: &[Item], scale: f64) -> Vec<Entry> {
    let devices: BTreeSet<Id<Device>> = plan
        .iter()
        .filter(|item| item.layer == Layer::Devices)
        .filter_map(|item| match item.subject {
            Some(Subject::Device(id)) => Some(id),
            _ => None,
        })
        .collect();
    let mut entries = symbols_of(project, devices, scale);
    let roles: BTreeSet<Role> = plan.iter().map(|item| item.role).collect();
    entries.extend(roles.into_iter().filter_map(line_entry));
    entries
}

/// The kinds of devices as legend entries, in the order of the Kit.
pub(super) fn symbols_of(
    project: &Project,
    devices: impl IntoIterator<Item = Id<Device>>,
    scale: f64,
) -> Vec<Entry> {
    let mut kinds: BTreeMap<_, (Id<Device>, &Device, &Kind)> = BTreeMap::new();
    for id in devices {
        let Some(device) = project.devices.get(id) else { continue };
        let Some(kind) = project.kinds.get(device.kind) else { continue };
        kinds.entry((kind.family, &kind.code, &kind.name)).or_insert((id, device, kind));
    }
    kinds
        .into_values()
        .filter_map(|(id, device, kind)| symbol_entry(project, id, device, kind, scale))
        .collect()
}

/// A kind's symbol as the plan draws it, standing free.
fn symbol_entry(
    project: &Project,
    id: Id<Device>,
    device: &Device,
    kind: &Kind,
    scale: f64,
) -> Option<Entry> {
    let sample_device = Device {
        mount: Mount::Floor { at: Point::ORIGIN },
        height_affl: Some(Length::ZERO),
        turn: Angle::ZERO,
        ..device.clone()
    };
    let bounds = device_bounds(project, &sample_device, kind, scale)?;
    let mut paper_from_plan = Affine::scale(1.0 / scale);
    let mut size = bounds.size() / scale;
    let largest = size.width.max(size.height);
    let shrunk = if largest > LARGEST_SYMBOL_MM { LARGEST_SYMBOL_MM / largest } else { 1.0 };
    paper_from_plan = paper_from_plan.then_scale(shrunk);
    size *= shrunk;
    let centre = paper_from_plan * bounds.center();
    let place = paper_from_plan.then_translate(-centre.to_vec2());
    let sample = device_items(project, id, &sample_device, kind, scale)
        .into_iter()
        .map(|item| moved(Item { layer: Layer::Frame, subject: None, ..item }, place))
        .collect();
    let words =
        if kind.code.is_empty() { kind.name.clone() } else { format!("{}: {}", kind.code, kind.name) };
    Some(Entry { sample, size, words })
}

/// How a role is shown in the legend.
enum Sample {
    Area,
    Line,
    Ring,
    Lozenge,
}

/// The sample of a sort of line or area; `None` for what needs no words.
fn line_entry(role: Role) -> Option<Entry> {
    let (sample, words) = match role {
        Role::WallMasonry => (Sample::Area, "Wall, masonry"),
        Role::WallBlock => (Sample::Area, "Wall, block"),
        Role::WallStud => (Sample::Area, "Wall, stud"),
        Role::WallGlazed => (Sample::Area, "Glazed screen"),
        Role::JoineryLow => (Sample::Area, "Joinery below the cut"),
        Role::JoineryHigh => (Sample::Line, "Joinery or head above the cut"),
        Role::RoomLine => (Sample::Line, "One room ends, the next begins: no wall"),
        Role::Ghost => (Sample::Line, "Walls of the level below"),
        Role::Spot => (Sample::Lozenge, "A spot that matters to what is sensed"),
        Role::Walk => (Sample::Line, "A way that people take"),
        Role::SiteBoundary => (Sample::Line, "Boundary of the site"),
        Role::CoverageHeat => (Sample::Area, "Seen by body heat (passive infrared)"),
        Role::CoverageMicrowave => (Sample::Area, "Seen by microwave"),
        Role::CoverageCamera => (Sample::Area, "Seen by a camera"),
        Role::CameraBandMiddle => (Sample::Area, "Camera, from 62.5 px/m"),
        Role::CameraBandFine => (Sample::Area, "Camera, from 250 px/m"),
        Role::CameraLevelLine => (Sample::Line, "Camera: the level of detail named ends here"),
        Role::CoverageSound => (Sample::Area, "Heard"),
        Role::CoverageFire => (Sample::Area, "Reach of a fire or gas alarm"),
        Role::ZoneLighting => (Sample::Area, "Lighting zone"),
        Role::ZoneOther => (Sample::Area, "Other zone"),
        Role::ZoneTie => (Sample::Line, "Device belongs to the zone"),
        Role::Dimension => (Sample::Line, "Setting-out dimension, mm, to centre of box"),
        Role::Missing => (Sample::Ring, "Height or fixing missing: ask before fitting"),
        _ => return None,
    };
    let mut pen = Pen::default();
    let (half_width, half_height) = (SAMPLE.width / 2.0, SAMPLE.height / 2.0);
    let mut size = SAMPLE;
    match sample {
        Sample::Area => pen.rect(role, Rect::new(-half_width, -half_height, half_width, half_height)),
        Sample::Line => {
            pen.line(role, Point::new(-half_width, 0.0), Point::new(half_width, 0.0));
            size.height = 2.0;
        }
        Sample::Ring => pen.path(role, kurbo::Circle::new(Point::ORIGIN, half_height).to_path(0.02)),
        Sample::Lozenge => pen.path(role, lozenge(Point::ORIGIN, LOZENGE_MM)),
    }
    Some(Entry { sample: pen.items, size, words: words.to_owned() })
}

/// Legend entries as blocks, so many side by side.
pub(super) fn legend_blocks(entries: &[Entry], width: f64, columns: usize, hand: Hand) -> Vec<Block> {
    let columns = columns.max(1);
    let gutter = 3.0;
    let cell = (width - gutter * (columns as f64 - 1.0)) / columns as f64;
    let key = entries.iter().map(|entry| entry.size.width).fold(SAMPLE.width, f64::max);
    entries
        .chunks(columns)
        .map(|row| {
            let mut pen = Pen::default();
            let cells: Vec<(Vec<String>, f64)> =
                row.iter().map(|entry| cell_of(entry, cell - key - GAP_MM, hand)).collect();
            let height = cells.iter().map(|(_, height)| *height).fold(0.0, f64::max);
            for (index, (entry, (lines, _))) in row.iter().zip(&cells).enumerate() {
                let left = index as f64 * (cell + gutter);
                pen.stamp(&entry.sample, Point::new(left + key / 2.0, -height / 2.0).to_vec2());
                let text_height = text_height(lines.len(), hand);
                let mut base = -height / 2.0 + text_height / 2.0 - hand.height_mm;
                for line in lines {
                    pen.words(hand, Point::new(left + key + GAP_MM, base), Anchor::Start, line);
                    base -= hand.pitch();
                }
            }
            Block { items: pen.items, height, gap: 1.0, keep_with_next: false }
        })
        .collect()
}

fn cell_of(entry: &Entry, width: f64, hand: Hand) -> (Vec<String>, f64) {
    let lines = wrapped(&entry.words, hand, width);
    let height =
        (text_height(lines.len(), hand) + 2.0 * DESCENDER * hand.height_mm).max(height_of_sample(entry));
    (lines, height)
}

/// From the top of the first capitals to the last base line.
fn text_height(lines: usize, hand: Hand) -> f64 {
    hand.height_mm + (lines.max(1) - 1) as f64 * hand.pitch()
}

fn height_of_sample(entry: &Entry) -> f64 {
    let lettered = entry
        .sample
        .iter()
        .filter(|item| matches!(item.shape, Shape::Text { .. }))
        .filter_map(|item| text_bounds(&item.shape, 1.0))
        .map(|bounds| 2.0 * bounds.y0.abs().max(bounds.y1.abs()))
        .fold(0.0, f64::max);
    entry.size.height.max(lettered)
}
