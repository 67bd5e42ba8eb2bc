//! The five kinds of which generated houses are made.
//!
//! They are held here and not taken from the catalogue, so that a figure measured on a generated house does not
//! move when a line of the catalogue does.

use pattress_model::kit::{
    BackBox, Detection, Family, Kind, Lamp, MountKind, Pattern, PointRole, PointSpec, PointType, Supply,
    Symbol,
};
use pattress_model::plan::Sense;
use pattress_model::units::{Angle, Length, Lumens, Money, Watts};

/// The kind of that key: `pir-wall`, `presence-ceiling`, `contact-door`, `plate-4` or `downlight`.
pub fn kind(key: &str) -> Option<Kind> {
    match key {
        "pir-wall" => Some(wall_detector()),
        "presence-ceiling" => Some(ceiling_detector()),
        "contact-door" => Some(contact()),
        "plate-4" => Some(plate()),
        "downlight" => Some(downlight()),
        _ => None,
    }
}

fn plain(name: &str, family: Family, code: &str, symbol: Symbol, mount: MountKind) -> Kind {
    Kind { price: Money::whole(40), minutes: 20, ..Kind::bare(name, family, code, symbol, mount) }
}

fn reports(name: &str, point_type: PointType) -> PointSpec {
    PointSpec { name: name.to_owned(), point_type, role: PointRole::Reports }
}

/// 12 m by 90 degrees, the usual volumetric detector (maker sheets agree on it).
fn wall_detector() -> Kind {
    Kind {
        supply: Supply::ExtraLow { volts: 12 },
        points: vec![reports("motion", PointType::State)],
        detection: Some(Detection::plain(
            Sense::BodyHeat,
            Pattern::Fan { angle: Angle::degrees(90.0), range: Length::m(12.0) },
        )),
        ..plain("Wall detector", Family::Intrusion, "PIR", Symbol::CodeInHalfCircle, MountKind::Wall)
    }
}

/// 4.5 m radius: about what maker sheets give for a walking person under a 2.4 m ceiling.
fn ceiling_detector() -> Kind {
    Kind {
        supply: Supply::ExtraLow { volts: 24 },
        points: vec![reports("motion", PointType::State)],
        detection: Some(Detection::plain(Sense::BodyHeat, Pattern::Round { radius: Length::m(4.5) })),
        ..plain("Ceiling detector", Family::Presence, "PD", Symbol::CodeInCircle, MountKind::Ceiling)
    }
}

fn contact() -> Kind {
    Kind {
        points: vec![reports("open", PointType::State)],
        ..plain("Contact", Family::Contacts, "MC", Symbol::Contact, MountKind::Wall)
    }
}

fn plate() -> Kind {
    Kind {
        back_box: Some(BackBox { gangs: 1, depth: Length::mm(35.0) }),
        supply: Supply::ExtraLow { volts: 24 },
        points: (1..=4).map(|key| reports(&format!("key {key}"), PointType::Event)).collect(),
        ..plain("Plate of four keys", Family::Plates, "PL", Symbol::Plate, MountKind::Wall)
    }
}

fn downlight() -> Kind {
    Kind {
        supply: Supply::Mains,
        load: Watts(7.0),
        points: vec![PointSpec {
            name: "level".to_owned(),
            point_type: PointType::Number,
            role: PointRole::Does,
        }],
        lamp: Some(Lamp {
            flux: Lumens(600.0),
            beam: Some(Angle::degrees(60.0)),
            colour_temperature_k: 2700,
            dims: true,
        }),
        ..plain("Downlight", Family::Luminaires, "DL", Symbol::Downlight, MountKind::Ceiling)
    }
}
