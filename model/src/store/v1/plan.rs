//! The building as it stands in the file: levels, walls, openings, rooms, joinery, underlays.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::figures::{Degrees, Figure, IdV1, Millimetres, PointMm};
use super::{Filed, words};
use crate::id::Id;
use crate::plan::{
    DoorState, Hand, Joinery, JoineryForm, Leaf, Level, MakeUp, Opening, OpeningForm, Room, RoomUse,
    ScaleFrom, SecondLength, Side, SlopingCeiling, Underlay, Wall,
};

/// A storey.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct LevelV1 {
    id: IdV1,
    name: String,
    /// Its finished floor above the site datum.
    floor_above_datum: Millimetres,
    /// Its ceiling above its finished floor.
    ceiling_affl: Millimetres,
}

impl Filed<Level> for LevelV1 {
    fn of(id: Id<Level>, thing: &Level) -> Self {
        let Level { name, floor_above_datum, ceiling_affl } = thing;
        Self {
            id: id.into(),
            name: name.clone(),
            floor_above_datum: (*floor_above_datum).into(),
            ceiling_affl: (*ceiling_affl).into(),
        }
    }

    fn thing(self) -> (Id<Level>, Level) {
        let level = Level {
            name: self.name,
            floor_above_datum: self.floor_above_datum.into(),
            ceiling_affl: self.ceiling_affl.into(),
        };
        (self.id.into(), level)
    }
}

words! {
    /// What a wall is made of.
    MakeUpV1 for MakeUp { Masonry, Block, Stud, Glazed }
}

words! {
    /// A side of a wall, seen walking from its start to its end.
    SideV1 for Side { Left, Right }
}

/// A wall along its axis.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct WallV1 {
    id: IdV1,
    level: IdV1,
    start: PointMm,
    end: PointMm,
    thickness: Millimetres,
    height: Millimetres,
    make_up: MakeUpV1,
}

impl Filed<Wall> for WallV1 {
    fn of(id: Id<Wall>, thing: &Wall) -> Self {
        let Wall { level, start, end, thickness, height, make_up } = thing;
        Self {
            id: id.into(),
            level: (*level).into(),
            start: (*start).into(),
            end: (*end).into(),
            thickness: (*thickness).into(),
            height: (*height).into(),
            make_up: (*make_up).into(),
        }
    }

    fn thing(self) -> (Id<Wall>, Wall) {
        let wall = Wall {
            level: self.level.into(),
            start: self.start.into(),
            end: self.end.into(),
            thickness: self.thickness.into(),
            height: self.height.into(),
            make_up: self.make_up.into(),
        };
        (self.id.into(), wall)
    }
}

words! {
    /// The end of an opening at which the hinges are: nearer the wall's start or its end.
    HandV1 for Hand { Start, End }
}

/// What kind of hole it is.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum OpeningFormV1 {
    /// A hinged door.
    Door {
        hinge: HandV1,
        /// The side of the wall into which it swings.
        swing: SideV1,
        /// Drawn open by this angle; left out where it is drawn shut.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        open: Option<Degrees>,
    },
    /// A window.
    Window { sill: Millimetres },
    /// A plain opening.
    Plain,
}

impl From<OpeningForm> for OpeningFormV1 {
    fn from(form: OpeningForm) -> Self {
        match form {
            OpeningForm::Door { hinge, swing, state } => Self::Door {
                hinge: hinge.into(),
                swing: swing.into(),
                open: match state {
                    DoorState::Shut => None,
                    DoorState::Open(angle) => Some(angle.into()),
                },
            },
            OpeningForm::Window { sill } => Self::Window { sill: sill.into() },
            OpeningForm::Plain => Self::Plain,
        }
    }
}

impl From<OpeningFormV1> for OpeningForm {
    fn from(form: OpeningFormV1) -> Self {
        match form {
            OpeningFormV1::Door { hinge, swing, open } => Self::Door {
                hinge: hinge.into(),
                swing: swing.into(),
                state: open.map_or(DoorState::Shut, |angle| DoorState::Open(angle.into())),
            },
            OpeningFormV1::Window { sill } => Self::Window { sill: sill.into() },
            OpeningFormV1::Plain => Self::Plain,
        }
    }
}

/// A hole in a wall.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct OpeningV1 {
    id: IdV1,
    wall: IdV1,
    /// From the wall's start along its axis.
    centre: Millimetres,
    width: Millimetres,
    /// Height of its head above the finished floor.
    head: Millimetres,
    form: OpeningFormV1,
}

impl Filed<Opening> for OpeningV1 {
    fn of(id: Id<Opening>, thing: &Opening) -> Self {
        let Opening { wall, centre, width, head, form } = thing;
        Self {
            id: id.into(),
            wall: (*wall).into(),
            centre: (*centre).into(),
            width: (*width).into(),
            head: (*head).into(),
            form: (*form).into(),
        }
    }

    fn thing(self) -> (Id<Opening>, Opening) {
        let opening = Opening {
            wall: self.wall.into(),
            centre: self.centre.into(),
            width: self.width.into(),
            head: self.head.into(),
            form: self.form.into(),
        };
        (self.id.into(), opening)
    }
}

words! {
    /// What a room is for.
    RoomUseV1 for RoomUse {
        Living, Dining, Kitchen, Utility, Bedroom, Bathroom, Cloakroom, Circulation, Stair, Study, Store, Plant,
        Garage, Outside, Unsaid,
    }
}

/// A ceiling that slopes.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct SlopingCeilingV1 {
    /// Where it is lowest, above the finished floor.
    low: Millimetres,
    /// Where it is highest.
    high: Millimetres,
    /// Where it slopes.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    note: String,
}

/// A room: its outline follows from the walls around `seed`.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct RoomV1 {
    id: IdV1,
    level: IdV1,
    name: String,
    room_use: RoomUseV1,
    seed: PointMm,
    /// Left out where its ceiling is as high as the level says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    ceiling: Option<SlopingCeilingV1>,
}

impl Filed<Room> for RoomV1 {
    fn of(id: Id<Room>, thing: &Room) -> Self {
        let Room { level, name, room_use, seed, ceiling } = thing;
        Self {
            id: id.into(),
            level: (*level).into(),
            name: name.clone(),
            room_use: (*room_use).into(),
            seed: (*seed).into(),
            ceiling: ceiling.as_ref().map(|SlopingCeiling { low, high, note }| SlopingCeilingV1 {
                low: (*low).into(),
                high: (*high).into(),
                note: note.clone(),
            }),
        }
    }

    fn thing(self) -> (Id<Room>, Room) {
        let room = Room {
            level: self.level.into(),
            name: self.name,
            room_use: self.room_use.into(),
            seed: self.seed.into(),
            ceiling: self.ceiling.map(|ceiling| SlopingCeiling {
                low: ceiling.low.into(),
                high: ceiling.high.into(),
                note: ceiling.note,
            }),
        };
        (self.id.into(), room)
    }
}

words! {
    /// What a piece of joinery is.
    JoineryFormV1 for JoineryForm { Island, Worktop, WallUnit, Wardrobe, Shelves, Sanitary }
}

/// A door or a drawer of a piece of joinery.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct LeafV1 {
    name: String,
    /// A drawer slides, a door swings.
    slides: bool,
}

/// A piece of joinery.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct JoineryV1 {
    id: IdV1,
    level: IdV1,
    name: String,
    form: JoineryFormV1,
    centre: PointMm,
    width: Millimetres,
    depth: Millimetres,
    /// Direction of its width.
    turn: Degrees,
    /// Its underside above the finished floor.
    base: Millimetres,
    /// Its top above the finished floor.
    top: Millimetres,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    leaves: Vec<LeafV1>,
}

impl Filed<Joinery> for JoineryV1 {
    fn of(id: Id<Joinery>, thing: &Joinery) -> Self {
        let Joinery { level, name, form, centre, width, depth, turn, base, top, leaves } = thing;
        Self {
            id: id.into(),
            level: (*level).into(),
            name: name.clone(),
            form: (*form).into(),
            centre: (*centre).into(),
            width: (*width).into(),
            depth: (*depth).into(),
            turn: (*turn).into(),
            base: (*base).into(),
            top: (*top).into(),
            leaves: leaves
                .iter()
                .map(|Leaf { name, slides }| LeafV1 { name: name.clone(), slides: *slides })
                .collect(),
        }
    }

    fn thing(self) -> (Id<Joinery>, Joinery) {
        let piece = Joinery {
            level: self.level.into(),
            name: self.name,
            form: self.form.into(),
            centre: self.centre.into(),
            width: self.width.into(),
            depth: self.depth.into(),
            turn: self.turn.into(),
            base: self.base.into(),
            top: self.top.into(),
            leaves: self
                .leaves
                .into_iter()
                .map(|leaf| Leaf { name: leaf.name, slides: leaf.slides })
                .collect(),
        };
        (self.id.into(), piece)
    }
}

/// What the scale of a drawing was taken from.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum ScaleFromV1 {
    /// The words on the page that state it.
    Statement(String),
    /// Someone said that it is drawn at 1 to so many.
    Told(Figure),
    /// A length between two picked points.
    TwoPoints(Millimetres),
    /// The mean of two such lengths.
    MeanOfTwo,
    /// A dimension printed on the drawing, as it reads.
    PrintedDimension(String),
    /// A scale bar, with the number at its end.
    ScaleBar(String),
    /// Four corners of a photograph, so far apart.
    FourCorners { width: Millimetres, depth: Millimetres },
    /// Two points in common with another storey.
    OtherStorey,
}

impl From<ScaleFrom> for ScaleFromV1 {
    fn from(from: ScaleFrom) -> Self {
        match from {
            ScaleFrom::Statement(words) => Self::Statement(words),
            ScaleFrom::Told(denominator) => Self::Told(Figure(denominator)),
            ScaleFrom::TwoPoints(length) => Self::TwoPoints(length.into()),
            ScaleFrom::MeanOfTwo => Self::MeanOfTwo,
            ScaleFrom::PrintedDimension(text) => Self::PrintedDimension(text),
            ScaleFrom::ScaleBar(text) => Self::ScaleBar(text),
            ScaleFrom::FourCorners { width, depth } => {
                Self::FourCorners { width: width.into(), depth: depth.into() }
            }
            ScaleFrom::OtherStorey => Self::OtherStorey,
        }
    }
}

impl From<ScaleFromV1> for ScaleFrom {
    fn from(from: ScaleFromV1) -> Self {
        match from {
            ScaleFromV1::Statement(words) => Self::Statement(words),
            ScaleFromV1::Told(denominator) => Self::Told(denominator.0),
            ScaleFromV1::TwoPoints(length) => Self::TwoPoints(length.into()),
            ScaleFromV1::MeanOfTwo => Self::MeanOfTwo,
            ScaleFromV1::PrintedDimension(text) => Self::PrintedDimension(text),
            ScaleFromV1::ScaleBar(text) => Self::ScaleBar(text),
            ScaleFromV1::FourCorners { width, depth } => {
                Self::FourCorners { width: width.into(), depth: depth.into() }
            }
            ScaleFromV1::OtherStorey => Self::OtherStorey,
        }
    }
}

/// A second known length beside what the drawing measured there.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct SecondLengthV1 {
    measured: Millimetres,
    known: Millimetres,
}

/// A picture laid under a level.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct UnderlayV1 {
    id: IdV1,
    level: IdV1,
    /// The file it came from, for people.
    name: String,
    /// Its name under `media/`: SHA-256 of the content, a dot, an ending.
    media: String,
    /// Which page of the file, from 1.
    #[serde(default = "first_page")]
    page: u32,
    /// In the drawing's own units: pixels of a picture, millimetres of paper of a page.
    #[serde(alias = "width_px")]
    width: Figure,
    #[serde(alias = "height_px")]
    height: Figure,
    #[serde(alias = "mm_per_px")]
    mm_per_unit: Figure,
    /// Left out where nobody has scaled it, or it was not kept.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    scale_from: Option<ScaleFromV1>,
    /// The last second length that was held against its scale.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    second_length: Option<SecondLengthV1>,
    /// Its lower left corner on the plan.
    position: PointMm,
    turn: Degrees,
    /// 0 (invisible) to 1.
    opacity: Figure,
    /// Printed, faint, beneath the sheets of its level.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    on_sheets: bool,
}

fn first_page() -> u32 {
    1
}

impl Filed<Underlay> for UnderlayV1 {
    fn of(id: Id<Underlay>, thing: &Underlay) -> Self {
        let Underlay {
            level,
            name,
            media,
            page,
            width,
            height,
            mm_per_unit,
            scale_from,
            second_length,
            position,
            turn,
            opacity,
            on_sheets,
        } = thing;
        Self {
            id: id.into(),
            level: (*level).into(),
            name: name.clone(),
            media: media.clone(),
            page: *page,
            width: Figure(*width),
            height: Figure(*height),
            mm_per_unit: Figure(*mm_per_unit),
            scale_from: scale_from.clone().map(Into::into),
            second_length: second_length.map(|SecondLength { measured, known }| SecondLengthV1 {
                measured: measured.into(),
                known: known.into(),
            }),
            position: (*position).into(),
            turn: (*turn).into(),
            opacity: Figure(*opacity),
            on_sheets: *on_sheets,
        }
    }

    fn thing(self) -> (Id<Underlay>, Underlay) {
        let underlay = Underlay {
            level: self.level.into(),
            name: self.name,
            media: self.media,
            page: self.page,
            width: self.width.0,
            height: self.height.0,
            mm_per_unit: self.mm_per_unit.0,
            scale_from: self.scale_from.map(Into::into),
            second_length: self.second_length.map(|SecondLengthV1 { measured, known }| SecondLength {
                measured: measured.into(),
                known: known.into(),
            }),
            position: self.position.into(),
            turn: self.turn.into(),
            opacity: self.opacity.0,
            on_sheets: self.on_sheets,
        };
        (self.id.into(), underlay)
    }
}
