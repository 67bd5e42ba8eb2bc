//! Items of the display list.

use kurbo::{Affine, BezPath, Point, Rect};

use crate::edit::Subject;
use crate::units::Angle;

/// Layers that can be shown and hidden, from the bottom up: later layers are drawn over earlier ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Layer {
    /// The picture that is traced.
    Underlay,
    /// The level below, as a ghost.
    LevelBelow,
    /// Lighting and other zones as soft areas.
    Zones,
    /// What sensors cover.
    Coverage,
    /// Joinery.
    Joinery,
    /// Walls, doors and windows.
    Building,
    /// Room names and areas.
    Rooms,
    /// Spots, walks, the boundary of the site.
    Spots,
    /// Devices.
    Devices,
    /// Tags and heights of devices.
    Tags,
    /// Setting-out dimensions.
    Dimensions,
    /// Frame, title block, legend, notes.
    Frame,
}

impl Layer {
    /// Every layer, from the bottom up.
    pub const ALL: [Self; 12] = [
        Self::Underlay,
        Self::LevelBelow,
        Self::Zones,
        Self::Coverage,
        Self::Joinery,
        Self::Building,
        Self::Rooms,
        Self::Spots,
        Self::Devices,
        Self::Tags,
        Self::Dimensions,
        Self::Frame,
    ];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Underlay => "Underlay",
            Self::LevelBelow => "Level below",
            Self::Zones => "Zones",
            Self::Coverage => "Coverage",
            Self::Joinery => "Joinery",
            Self::Building => "Walls and openings",
            Self::Rooms => "Room names",
            Self::Spots => "Spots and walks",
            Self::Devices => "Devices",
            Self::Tags => "Tags and heights",
            Self::Dimensions => "Setting out",
            Self::Frame => "Frame and title block",
        }
    }
}

/// What an item is in the drawing; the style follows from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// A wall cut by the plan: fill and outline of masonry.
    WallMasonry,
    /// A wall cut by the plan: block.
    WallBlock,
    /// A wall cut by the plan: stud.
    WallStud,
    /// A wall cut by the plan: glazed.
    WallGlazed,
    /// Glass and frame of a window.
    WindowLine,
    /// A door leaf.
    DoorLeaf,
    /// The arc of a door's swing.
    DoorSwing,
    /// Where one room ends and the next begins without a wall.
    RoomLine,
    /// Joinery below the cut.
    JoineryLow,
    /// Joinery above the cut: dashed.
    JoineryHigh,
    /// The level below.
    Ghost,
    /// The name of a room.
    RoomName,
    /// The area of a room and other small print on the plan.
    RoomNote,
    /// The mark of a spot.
    Spot,
    /// The name of a spot or a walk.
    SpotName,
    /// A way that people take.
    Walk,
    /// The arrow head at its end.
    WalkHead,
    /// The boundary of the site.
    SiteBoundary,
    /// Coverage of body heat.
    CoverageHeat,
    /// Coverage of microwave.
    CoverageMicrowave,
    /// Coverage of a camera.
    CoverageCamera,
    /// Coverage of sound.
    CoverageSound,
    /// Coverage of smoke, heat or gas.
    CoverageFire,
    /// Where a camera gives a middling level of detail: hatched closer.
    CameraBandMiddle,
    /// Where a camera gives a fine level of detail: hatched closest.
    CameraBandFine,
    /// The line on which a camera's level of detail ends.
    CameraLevelLine,
    /// The level's name along that line.
    CameraLevelName,
    /// A lighting zone.
    ZoneLighting,
    /// Any other zone.
    ZoneOther,
    /// The tie from a zone to a device of it.
    ZoneTie,
    /// Outline of a device's symbol, filled with paper.
    Symbol,
    /// Solid parts of a symbol.
    SymbolSolid,
    /// The code in a symbol.
    SymbolCode,
    /// A fire alarm's symbol.
    SymbolFire,
    /// A device's tag.
    Tag,
    /// A device's height and other second lines of its label.
    TagNote,
    /// The leader from a label to its device.
    Leader,
    /// What is missing, and is printed as missing.
    Missing,
    /// A dimension line with its extension lines.
    Dimension,
    /// A dimension's figure.
    DimensionText,
    /// The outer trimming edge of the sheet.
    PaperEdge,
    /// The drawing frame.
    FrameLine,
    /// Lines of tables and the title block.
    TableLine,
    /// A heading in the title block, the legend or notes.
    Heading,
    /// Text in the title block, the legend or notes.
    Body,
    /// Field names of the title block and other small print.
    SmallPrint,
    /// A caution.
    Caution,
    /// Solid parts of the north point and the scale bar.
    Solid,
    /// A line of the north point and the scale bar.
    FineLine,
    /// A patch of paper beneath lettering.
    Halo,
    /// A picture.
    Picture,
    /// The light of a lamp that is lit, in its colour and as strong as it is lit.
    Glow([u8; 4]),
    /// A ring about a device that is at work.
    AtWork,
    /// A ring about a device that gives an alarm.
    InAlarm,
    /// What a device shows now, in words.
    NowWords,
    /// The course over which a blind, a curtain or a gate travels.
    Travel,
    /// How much of it is shut.
    TravelShut,
    /// A leaf, sash or drawer that stands open while the rules are played.
    NowOpen,
}

/// Where a text's point lies on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Anchor {
    /// Start of the base line.
    Start,
    /// Middle of the base line.
    Middle,
    /// End of the base line.
    End,
    /// Middle of the line, half-way up the capitals.
    Centre,
}

/// Weight of the lettering.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Weight {
    /// Regular.
    Regular,
    /// Medium.
    Medium,
    /// Semi-bold.
    SemiBold,
}

/// The geometry of an item.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// Lines and curves; stroked, filled and hatched as the role's style says. Even-odd filling.
    Path(BezPath),
    /// One line of text.
    Text {
        /// Where its anchor lies.
        at: Point,
        /// The words.
        text: String,
        /// Height of its capitals, mm on paper (ISO 3098 series).
        height_mm: f64,
        /// Weight of the lettering.
        weight: Weight,
        /// Which part of it lies at `at`.
        anchor: Anchor,
        /// Turned about `at` by this, anticlockwise.
        turn: Angle,
    },
    /// A picture or a page of the plan's media.
    Picture {
        /// Its name among the media.
        media: String,
        /// Which page of it, from 1; a picture has one.
        page: u32,
        /// Places its own units (pixels of a picture, millimetres of paper of a page; x right, y down from the
        /// upper left corner) on the drawing.
        plan_from_units: Affine,
        /// Width and height in its own units.
        size: (f64, f64),
        /// 0 to 1.
        opacity: f64,
        /// The part of the drawing in which it shows; `None` where it shows whole.
        within: Option<Rect>,
    },
}

/// One thing in a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// The layer it lies on.
    pub layer: Layer,
    /// What it is.
    pub role: Role,
    /// The thing it stands for.
    pub subject: Option<Subject>,
    /// Its geometry.
    pub shape: Shape,
}

impl Item {
    /// A path.
    pub fn path(layer: Layer, role: Role, subject: Option<Subject>, path: BezPath) -> Self {
        Self { layer, role, subject, shape: Shape::Path(path) }
    }

    /// A straight line.
    pub fn line(layer: Layer, role: Role, subject: Option<Subject>, from: Point, to: Point) -> Self {
        let mut path = BezPath::new();
        path.move_to(from);
        path.line_to(to);
        Self::path(layer, role, subject, path)
    }
}
