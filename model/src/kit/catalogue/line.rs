//! One line of the catalogue, written from left to right.
//!
//! A line starts with what a kind is called and how it is drawn; each call after that adds one fact, so that a
//! whole kind reads like a line of a trade list. Facts that can hurt someone bring their caution with them:
//! nothing on the mains or on a battery can be listed without it.

use super::caution;
use crate::kit::{
    BackBox, Battery, Detection, Drives, Family, FireAlarm, FireGrade, FireSense, Kind, Lamp, Loudness,
    MountKind, Optics, Pattern, PointRole, PointSpec, PointType, ReachAtHeight, Supply, Symbol, Tier,
};
use crate::plan::Sense;
use crate::units::{Angle, Length, Lumens, Money, Seconds, Watts};

/// A kind that the tool ships, under a key that stays the same whatever the kind is called.
#[derive(Clone, Debug, PartialEq)]
pub struct CatalogueEntry {
    /// Its key, lower case with hyphens (`wall-motion-12m`).
    pub key: &'static str,
    /// The kind.
    pub kind: Kind,
}

/// Height of a ceiling where none is drawn, mm; common practice, no published source.
const USUAL_CEILING_MM: f64 = 2400.0;

/// Starts a line: key, name, family, letter code and form on the plan. What is not said after it is absent.
pub(super) fn line(
    key: &'static str,
    name: &str,
    family: Family,
    code: &str,
    symbol: Symbol,
) -> CatalogueEntry {
    CatalogueEntry { key, kind: Kind::bare(name, family, code, symbol, MountKind::Wall) }
}

/// A fan: full angle in degrees and reach in metres.
pub(super) fn fan(degrees: f64, metres: f64) -> Pattern {
    Pattern::Fan { angle: Angle::degrees(degrees), range: Length::m(metres) }
}

/// All round, with so many metres of radius.
pub(super) fn round(metres: f64) -> Pattern {
    Pattern::Round { radius: Length::m(metres) }
}

impl CatalogueEntry {
    fn mounted(mut self, mount: MountKind, height_mm: Option<f64>) -> Self {
        self.kind.mount = mount;
        self.kind.default_height = height_mm.map(Length::mm);
        self
    }

    /// On a wall, its centre so many millimetres above the finished floor.
    pub(super) fn wall(self, height_mm: f64) -> Self {
        self.mounted(MountKind::Wall, Some(height_mm))
    }

    /// On the ceiling.
    pub(super) fn ceiling(self) -> Self {
        self.mounted(MountKind::Ceiling, Some(USUAL_CEILING_MM))
    }

    /// On the floor, its centre so many millimetres above the finished floor.
    pub(super) fn floor(self, height_mm: f64) -> Self {
        self.mounted(MountKind::Floor, Some(height_mm))
    }

    /// Outdoors, its centre so many millimetres above the finished floor.
    pub(super) fn outdoors(self, height_mm: f64) -> Self {
        self.mounted(MountKind::Outdoors, Some(height_mm))
    }

    /// On this, at a height that must be decided for each one.
    pub(super) fn undecided_on(self, mount: MountKind) -> Self {
        self.mounted(mount, None)
    }

    /// In a box of so many gangs and so many millimetres of depth.
    pub(super) fn boxed(mut self, gangs: u8, depth_mm: f64) -> Self {
        self.kind.back_box = Some(BackBox { gangs, depth: Length::mm(depth_mm) });
        self
    }

    fn fed(mut self, supply: Supply, watts: f64) -> Self {
        self.kind.supply = supply;
        self.kind.load = Watts(watts);
        self
    }

    /// From the mains, drawing or driving at most so many watts; brings the caution for mains.
    pub(super) fn mains(self, watts: f64) -> Self {
        self.fed(Supply::Mains, watts).warns(caution::MAINS)
    }

    /// From extra-low voltage.
    pub(super) fn low_voltage(self, volts: u8, watts: f64) -> Self {
        self.fed(Supply::ExtraLow { volts }, watts)
    }

    /// Over its data cable, as a powered device of that class.
    pub(super) fn over_ethernet(self, class: u8, watts: f64) -> Self {
        self.fed(Supply::PowerOverEthernet { class }, watts)
    }

    /// From a battery with invented figures; brings the caution for batteries.
    pub(super) fn battery(self) -> Self {
        let mut line = self.fed(Supply::Battery, 0.0).warns(caution::BATTERY);
        line.kind.battery = Some(Battery::INVENTED);
        line
    }

    fn points(mut self, role: PointRole, point_type: PointType, names: &[&str]) -> Self {
        let points = names.iter().map(|&name| PointSpec { name: name.to_owned(), point_type, role });
        self.kind.points.extend(points);
        self
    }

    /// Reports these.
    pub(super) fn reports(self, point_type: PointType, names: &[&str]) -> Self {
        self.points(PointRole::Reports, point_type, names)
    }

    /// Does these.
    pub(super) fn does(self, point_type: PointType, names: &[&str]) -> Self {
        self.points(PointRole::Does, point_type, names)
    }

    /// Costs so many whole units of the currency and takes so many minutes to fit.
    pub(super) fn costs(mut self, price: i64, minutes: u32) -> Self {
        self.kind.price = Money::whole(price);
        self.kind.minutes = minutes;
        self
    }

    /// Senses this, there, at every height.
    pub(super) fn detects(mut self, sense: Sense, pattern: Pattern) -> Self {
        self.kind.detection = Some(Detection::plain(sense, pattern));
        self
    }

    fn sensing(mut self, change: impl FnOnce(&mut Detection)) -> Self {
        if let Some(detection) = &mut self.kind.detection {
            change(detection);
        }
        self
    }

    /// Through a lens that looks between these angles below its axis, in degrees, layer by layer.
    pub(super) fn through_lens(self, tiers: &[(f64, f64)]) -> Self {
        let tier = |(from, to): &(f64, f64)| Tier { from: Angle::degrees(*from), to: Angle::degrees(*to) };
        self.sensing(|detection| detection.tiers = tiers.iter().map(tier).collect())
    }

    /// With so much of its reach left for somebody walking towards it, and for somebody sitting still.
    pub(super) fn notices(self, towards: f64, still: f64) -> Self {
        self.sensing(|detection| {
            detection.reach_left.towards = towards;
            detection.reach_left.still = still;
        })
    }

    /// With so much of its reach left beyond one boarded partition or one shut door.
    pub(super) fn passes_board(self, share: f64) -> Self {
        self.sensing(|detection| detection.reach_left.through_board = share)
    }

    /// With so much of its reach left in a room nearly as warm as a body.
    pub(super) fn when_warm(self, share: f64) -> Self {
        self.sensing(|detection| detection.reach_left.warm = share)
    }

    /// With these radii by mounting height, all in metres; 0 where nobody seated is noticed.
    pub(super) fn by_height(self, rows: &[(f64, f64, f64)]) -> Self {
        let row = |&(mounted, walking, seated): &(f64, f64, f64)| ReachAtHeight {
            mounted: Length::m(mounted),
            walking: Length::m(walking),
            seated: (seated > 0.0).then(|| Length::m(seated)),
        };
        self.sensing(|detection| detection.by_height = rows.iter().map(row).collect())
    }

    /// Notices this as a fire or gas alarm of that grade, and makes the others sound.
    pub(super) fn alarms(mut self, notices: FireSense, grade: FireGrade) -> Self {
        self.kind.fire = Some(FireAlarm { notices, grade, interlinked: true });
        self
    }

    /// As loud as this, in dB(A), at so many metres.
    pub(super) fn sounds(mut self, level_dba: f64, at_metres: f64) -> Self {
        self.kind.loudness = Some(Loudness { level_dba, at: Length::m(at_metres) });
        self
    }

    /// Of this security grade.
    pub(super) fn graded(mut self, grade: u8) -> Self {
        self.kind.security_grade = Some(grade);
        self
    }

    /// Sees: width of the picture sensor and focal length in millimetres, pixels across and down, drawn reach in metres.
    pub(super) fn sees(mut self, sensor_mm: f64, focal_mm: f64, pixels: (u32, u32), metres: f64) -> Self {
        self.kind.optics = Some(Optics {
            sensor_width: Length::mm(sensor_mm),
            focal_length: Length::mm(focal_mm),
            pixels_across: pixels.0,
            pixels_down: pixels.1,
            stated_view: None,
            drawn_range: Length::m(metres),
        });
        self
    }

    fn lit(mut self, lumens: f64, beam: Option<f64>, colour_temperature_k: u16, dims: bool) -> Self {
        let beam = beam.map(Angle::degrees);
        self.kind.lamp = Some(Lamp { flux: Lumens(lumens), beam, colour_temperature_k, dims });
        self
    }

    /// Gives so many lumens in a beam of so many degrees at so many kelvin; its level can be set.
    pub(super) fn beams(self, lumens: f64, degrees: f64, kelvin: u16) -> Self {
        self.lit(lumens, Some(degrees), kelvin, true).does(PointType::Number, &["level"])
    }

    /// Gives so many lumens all round at so many kelvin; its level can be set.
    pub(super) fn glows(self, lumens: f64, kelvin: u16) -> Self {
        self.lit(lumens, None, kelvin, true).does(PointType::Number, &["level"])
    }

    /// Gives so many lumens, all round where no beam is given, and is only on or off.
    pub(super) fn switches(self, lumens: f64, beam: Option<f64>, kelvin: u16) -> Self {
        self.lit(lumens, beam, kelvin, false).does(PointType::State, &["on"])
    }

    /// Sets this in motion.
    pub(super) fn drives(mut self, what: Drives) -> Self {
        self.kind.drives = Some(what);
        self
    }

    /// Takes so many seconds over its whole travel.
    pub(super) fn travels(mut self, seconds: f64) -> Self {
        self.kind.full_travel = Some(Seconds(seconds));
        self
    }

    /// Is drawn so many millimetres long.
    pub(super) fn long(mut self, millimetres: f64) -> Self {
        self.kind.drawn_length = Some(Length::mm(millimetres));
        self
    }

    /// Carries this caution, after those it has.
    pub(super) fn warns(mut self, caution: &str) -> Self {
        self.kind.caution = Some(match self.kind.caution.take() {
            Some(earlier) => format!("{earlier} {caution}"),
            None => caution.to_owned(),
        });
        self
    }
}
