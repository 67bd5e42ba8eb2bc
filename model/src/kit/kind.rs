//! A kind of device: one line of the Kit.

use super::battery::Battery;
use super::capability::{Detection, FireAlarm, Lamp, Loudness, Optics, PointSpec, Tier};
use super::drives::Drives;
use super::plate::PlateFace;
use crate::units::{Angle, Length, Money, Seconds, Watts};

/// The families of the Kit, in the order in which they are offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Family {
    /// Presence and motion for comfort.
    Presence,
    /// Intrusion sensing.
    Intrusion,
    /// Contacts on doors, windows and drawers.
    Contacts,
    /// Cameras and door entry stations.
    CamerasAndEntry,
    /// Sounders, bells, strobes.
    Sounders,
    /// Keypads and readers.
    Keypads,
    /// Fire and carbon monoxide alarms.
    FireAndCo,
    /// Water, temperature, humidity and light sensing.
    Environment,
    /// Plates with keys.
    Plates,
    /// Dimmers, relays, blind modules, gateways.
    Modules,
    /// Luminaires.
    Luminaires,
    /// Motors: blinds, curtains, gates, valves, locks.
    Motors,
    /// Heating controls.
    Heating,
    /// Loudspeakers, screens, wall tablets.
    SoundAndScreens,
    /// Hub, rack, consumer unit, power supplies.
    Plant,
    /// Network points and access points.
    Network,
}

impl Family {
    /// Every family, in the order they are offered.
    pub const ALL: [Self; 16] = [
        Self::Presence,
        Self::Intrusion,
        Self::Contacts,
        Self::CamerasAndEntry,
        Self::Sounders,
        Self::Keypads,
        Self::FireAndCo,
        Self::Environment,
        Self::Plates,
        Self::Modules,
        Self::Luminaires,
        Self::Motors,
        Self::Heating,
        Self::SoundAndScreens,
        Self::Plant,
        Self::Network,
    ];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Presence => "Presence",
            Self::Intrusion => "Intrusion",
            Self::Contacts => "Contacts",
            Self::CamerasAndEntry => "Cameras and entry",
            Self::Sounders => "Sounders",
            Self::Keypads => "Keypads",
            Self::FireAndCo => "Fire and CO",
            Self::Environment => "Water, warmth, light",
            Self::Plates => "Plates",
            Self::Modules => "Modules",
            Self::Luminaires => "Luminaires",
            Self::Motors => "Motors",
            Self::Heating => "Heating",
            Self::SoundAndScreens => "Sound and screens",
            Self::Plant => "Hub, rack, power",
            Self::Network => "Network",
        }
    }
}

/// What a kind is fixed to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MountKind {
    /// A wall face.
    Wall,
    /// The ceiling.
    Ceiling,
    /// The floor.
    Floor,
    /// A piece of joinery.
    Joinery,
    /// Outdoors: a post, a mast, the ground.
    Outdoors,
}

impl MountKind {
    /// Every mount, in the order they are offered.
    pub const ALL: [Self; 5] = [Self::Wall, Self::Ceiling, Self::Floor, Self::Joinery, Self::Outdoors];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Wall => "wall",
            Self::Ceiling => "ceiling",
            Self::Floor => "floor",
            Self::Joinery => "joinery",
            Self::Outdoors => "outdoors",
        }
    }
}

/// The back box that a device needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackBox {
    /// 1 for a single box, 2 for a double.
    pub gangs: u8,
    /// Depth of the box; the trade's are 16, 25, 35 and 47 mm.
    pub depth: Length,
}

/// What a device is fed from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Supply {
    /// 230 V a.c.
    Mains,
    /// Extra-low voltage, so many volts d.c.
    ExtraLow {
        /// Volts.
        volts: u8,
    },
    /// Power over its data cable, by IEEE 802.3 class.
    PowerOverEthernet {
        /// Class 0 to 8.
        class: u8,
    },
    /// Battery.
    Battery,
    /// None: a dry contact or a passive thing.
    None,
}

impl Supply {
    /// The words for it.
    pub fn name(self) -> String {
        match self {
            Self::Mains => "mains 230 V".to_owned(),
            Self::ExtraLow { volts } => format!("{volts} V d.c."),
            Self::PowerOverEthernet { class } => format!("PoE class {class}"),
            Self::Battery => "battery".to_owned(),
            Self::None => "none".to_owned(),
        }
    }
}

/// The form drawn on the plan. Forms follow IEC 60617 / BS EN 60617-11 where one exists, else a plain shape
/// around the kind's letter code, always explained in the sheet's legend.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Symbol {
    /// Letter code in a circle: sensors on a ceiling.
    CodeInCircle,
    /// Letter code in a half circle against the wall: sensors on a wall.
    CodeInHalfCircle,
    /// Letter code in a square: controls, modules, keypads, alarms' panels.
    CodeInSquare,
    /// Letter code in a hexagon: fire, smoke, heat and CO alarms.
    CodeInHexagon,
    /// Letter code in a long rectangle: racks, boards, hubs.
    CodeInRectangle,
    /// Two short strokes across a leaf or frame: contacts.
    Contact,
    /// A box with a lens: cameras.
    Camera,
    /// A plate on the wall with one stroke a key.
    Plate,
    /// Crossed circle: lighting point.
    LightingPoint,
    /// Crossed circle in a small ring: recessed downlight.
    Downlight,
    /// Crossed circle on a stem: wall light.
    WallLight,
    /// A long bar: linear luminaire or strip.
    LinearLight,
    /// Crossed circle with rays: floodlight.
    Floodlight,
    /// Circle with M: motors and actuators.
    Motor,
    /// Loudspeaker.
    Loudspeaker,
    /// Bell or sounder.
    Sounder,
    /// Screen or tablet on the wall.
    Screen,
    /// Socket outlet of a network or aerial.
    Outlet,
    /// Arcs over a dot: wireless access point.
    AccessPoint,
}

impl Symbol {
    /// Every form, in the order they are offered.
    pub const ALL: [Self; 19] = [
        Self::CodeInCircle,
        Self::CodeInHalfCircle,
        Self::CodeInSquare,
        Self::CodeInHexagon,
        Self::CodeInRectangle,
        Self::Contact,
        Self::Camera,
        Self::Plate,
        Self::LightingPoint,
        Self::Downlight,
        Self::WallLight,
        Self::LinearLight,
        Self::Floodlight,
        Self::Motor,
        Self::Loudspeaker,
        Self::Sounder,
        Self::Screen,
        Self::Outlet,
        Self::AccessPoint,
    ];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::CodeInCircle => "code in a circle",
            Self::CodeInHalfCircle => "code in a half circle",
            Self::CodeInSquare => "code in a square",
            Self::CodeInHexagon => "code in a hexagon",
            Self::CodeInRectangle => "code in a rectangle",
            Self::Contact => "contact",
            Self::Camera => "camera",
            Self::Plate => "plate",
            Self::LightingPoint => "lighting point",
            Self::Downlight => "downlight",
            Self::WallLight => "wall light",
            Self::LinearLight => "linear light",
            Self::Floodlight => "floodlight",
            Self::Motor => "motor",
            Self::Loudspeaker => "loudspeaker",
            Self::Sounder => "sounder",
            Self::Screen => "screen",
            Self::Outlet => "outlet",
            Self::AccessPoint => "access point",
        }
    }
}

/// One kind of device: everything that is true of each device of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Kind {
    /// What the trade calls it (`Wall motion detector, 12 m`).
    pub name: String,
    /// Where it stands in the Kit.
    pub family: Family,
    /// The letter code that starts its tags and is drawn in its symbol (`PIR`), one to four capitals.
    pub code: String,
    /// Its form on the plan.
    pub symbol: Symbol,
    /// What it is fixed to.
    pub mount: MountKind,
    /// Usual height of its centre above the finished floor; `None` where each one must be decided.
    pub default_height: Option<Length>,
    /// The box it needs; `None` where it needs none.
    pub back_box: Option<BackBox>,
    /// What feeds it.
    pub supply: Supply,
    /// The battery that feeds it, for an estimate of how long that lasts; `None` where its figures are not known.
    pub battery: Option<Battery>,
    /// What it draws, or drives, at most.
    pub load: Watts,
    /// What it reports and does.
    pub points: Vec<PointSpec>,
    /// Price of one, invented.
    pub price: Money,
    /// Minutes to fit one, invented.
    pub minutes: u32,
    /// What it senses.
    pub detection: Option<Detection>,
    /// What it sees.
    pub optics: Option<Optics>,
    /// What it lights.
    pub lamp: Option<Lamp>,
    /// What it is as a fire or gas alarm.
    pub fire: Option<FireAlarm>,
    /// How loud it is.
    pub loudness: Option<Loudness>,
    /// Its security grade, 1 to 4 (EN 50131-1); `None` where it is no part of an intruder alarm or none is claimed.
    pub security_grade: Option<u8>,
    /// What it sets in motion; `None` for what moves nothing.
    pub drives: Option<Drives>,
    /// How long a motor takes over its whole travel; `None` where it has none or nobody said.
    pub full_travel: Option<Seconds>,
    /// Length of a linear luminaire, for drawing it; `None` for all else.
    pub drawn_length: Option<Length>,
    /// The front of a plate; `None` where box and number of keys tell it.
    pub face: Option<PlateFace>,
    /// The caution that goes with it on screen and on paper, where it can hurt someone.
    pub caution: Option<String>,
}

impl Kind {
    /// A kind that is fed by nothing, costs nothing and can do nothing: what it is said to be beyond that is added.
    pub fn bare(name: &str, family: Family, code: &str, symbol: Symbol, mount: MountKind) -> Self {
        Self {
            name: name.to_owned(),
            family,
            code: code.to_owned(),
            symbol,
            mount,
            default_height: None,
            back_box: None,
            supply: Supply::None,
            battery: None,
            load: Watts(0.0),
            points: Vec::new(),
            price: Money::default(),
            minutes: 0,
            detection: None,
            optics: None,
            lamp: None,
            fire: None,
            loudness: None,
            security_grade: None,
            drives: None,
            full_travel: None,
            drawn_length: None,
            face: None,
            caution: None,
        }
    }

    /// The point of that name.
    pub fn point(&self, name: &str) -> Option<&PointSpec> {
        self.points.iter().find(|point| point.name == name)
    }

    /// Whether a device of this kind sits flush in a wall and so needs a back box: plates, outlets, wired
    /// keypads and wired room controls. Common practice, no published source.
    pub fn needs_back_box(&self) -> bool {
        let flush = match self.family {
            Family::Plates => true,
            Family::Keypads => matches!(self.supply, Supply::ExtraLow { .. }),
            Family::Heating => self.symbol != Symbol::Motor && self.point("temperature").is_some(),
            _ => self.symbol == Symbol::Outlet,
        };
        flush && self.mount == MountKind::Wall && self.supply != Supply::Battery
    }

    /// What it detects, with a camera's view counted as detection by light in one layer, its picture.
    pub fn senses(&self) -> Option<Detection> {
        self.detection.clone().or_else(|| {
            let optics = self.optics?;
            let pattern = super::Pattern::Fan { angle: optics.field_of_view(), range: optics.drawn_range };
            let half = Angle::radians(optics.view_down().as_radians() / 2.0);
            let picture = Tier { from: Angle::ZERO - half, to: half };
            Some(Detection { tiers: vec![picture], ..Detection::plain(crate::plan::Sense::Camera, pattern) })
        })
    }
}
