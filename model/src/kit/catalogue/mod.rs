//! The kinds the tool ships.
//!
//! Generic kinds of every family, as the trade names them, with the figures a first plan needs; none belongs to
//! a manufacturer, and prices and minutes are invented round figures. Each table says at its head where its
//! figures come from. The integrator copies a kind, puts the real figures in, and the copy travels with the plan.

mod caution;
mod controls;
mod detection;
mod line;
mod luminaires;
mod plant;
mod security;
mod services;

pub use line::CatalogueEntry;

use super::Kind;

/// Every kind the tool ships, family by family in the order of [`super::Family::ALL`].
pub fn catalogue() -> Vec<CatalogueEntry> {
    [
        detection::presence(),
        detection::intrusion(),
        detection::contacts(),
        security::cameras_and_entry(),
        security::sounders(),
        security::keypads(),
        security::fire_and_co(),
        controls::environment(),
        controls::plates(),
        controls::modules(),
        luminaires::luminaires(),
        services::motors(),
        services::heating(),
        plant::sound_and_screens(),
        plant::plant(),
        plant::network(),
    ]
    .concat()
}

/// The kind under that key (`presence-ceiling`); `None` where the tool ships none.
pub fn kind_by_key(key: &str) -> Option<Kind> {
    catalogue().into_iter().find(|entry| entry.key == key).map(|entry| entry.kind)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::edit::{Change, History, Op, invariant};
    use crate::kit::{Family, PointRole, PointType, Supply, Symbol};
    use crate::plan::Level;
    use crate::project::Project;
    use crate::units::Length;

    #[test]
    fn there_are_fifty_kinds_and_more_in_the_order_of_the_families() {
        let entries = catalogue();
        assert!(entries.len() >= 50, "only {} kinds", entries.len());
        let families: Vec<Family> = entries.iter().map(|entry| entry.kind.family).collect();
        assert!(families.is_sorted(), "families are mixed");
        let offered: BTreeSet<Family> = families.into_iter().collect();
        assert_eq!(offered, Family::ALL.into_iter().collect());
        let drawn: BTreeSet<Symbol> = entries.iter().map(|entry| entry.kind.symbol).collect();
        assert_eq!(drawn, Symbol::ALL.into_iter().collect(), "some form is never used");
    }

    #[test]
    fn keys_and_names_are_unique_and_plain() {
        let entries = catalogue();
        let keys: BTreeSet<&str> = entries.iter().map(|entry| entry.key).collect();
        let names: BTreeSet<&str> = entries.iter().map(|entry| entry.kind.name.as_str()).collect();
        assert_eq!((keys.len(), names.len()), (entries.len(), entries.len()));
        for key in keys {
            let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
            assert!(key.chars().all(plain), "{key}");
            assert!(kind_by_key(key).is_some());
        }
        assert_eq!(kind_by_key("no-such-kind"), None);
    }

    #[test]
    fn codes_are_one_to_four_capitals() {
        for CatalogueEntry { key, kind } in catalogue() {
            let length = kind.code.len();
            assert!((1..=4).contains(&length), "{key}: {}", kind.code);
            assert!(kind.code.bytes().all(|byte| byte.is_ascii_uppercase()), "{key}: {}", kind.code);
        }
    }

    #[test]
    fn every_kind_is_taken_into_a_project() {
        let mut project = Project::default();
        let mut history = History::default();
        let mut ids = project.fresh_ids();
        let level = Level {
            name: "Ground floor".to_owned(),
            floor_above_datum: Length::ZERO,
            ceiling_affl: Length::mm(2400.0),
        };
        let mut ops = vec![Op::put(ids.issue(), level)];
        ops.extend(catalogue().into_iter().map(|entry| Op::put(ids.issue(), entry.kind)));
        history.apply(&mut project, Change::new("Take the kit in", ops)).unwrap();
        assert_eq!(project.kinds.len(), catalogue().len());
        assert_eq!(invariant::check_all(&project), Vec::new());
    }

    #[test]
    fn a_plate_has_as_many_keys_as_its_name_says() {
        for keys in 1..=8 {
            let plate = kind_by_key(&format!("plate-{keys}")).unwrap();
            assert!(plate.name.contains(&format!(" {keys} key")), "{}", plate.name);
            let events = plate.points.iter().filter(|point| point.point_type == PointType::Event);
            assert_eq!(events.count(), keys, "{}", plate.name);
            assert_eq!(plate.points[keys - 1].name, format!("key {keys}"));
        }
    }

    #[test]
    fn what_can_hurt_carries_its_caution() {
        for CatalogueEntry { key, kind } in catalogue() {
            let text = kind.caution.clone().unwrap_or_default();
            let must_say = |word: &str| assert!(text.contains(word), "{key} says “{text}”, not “{word}”");
            match kind.supply {
                Supply::Mains => must_say("Mains 230 V"),
                Supply::Battery => must_say("Battery"),
                _ => {}
            }
            match kind.family {
                Family::FireAndCo => must_say("Life safety"),
                Family::Intrusion | Family::Keypads => must_say("Security"),
                _ => {}
            }
            if kind.optics.is_some() {
                must_say("privacy");
            }
        }
        for (key, word) in [
            ("gate-motor", "crush"),
            ("garage-door-motor", "crush"),
            ("motor-lock", "Escape"),
            ("lock-release", "Escape"),
        ] {
            assert!(kind_by_key(key).unwrap().caution.unwrap().contains(word), "{key}");
        }
    }

    #[test]
    fn figures_agree_with_each_other() {
        for CatalogueEntry { key, kind } in catalogue() {
            assert!(kind.price.hundredths > 0 && kind.minutes > 0, "{key} has no price or no time");
            if let Some(back_box) = kind.back_box {
                let depth = back_box.depth.as_mm();
                assert!([16.0, 25.0, 35.0, 47.0].contains(&depth), "{key}: {depth} mm box");
                assert!((1..=2).contains(&back_box.gangs), "{key}");
            }
            assert_eq!(kind.drawn_length.is_some(), kind.symbol == Symbol::LinearLight, "{key}");
            assert_eq!(kind.lamp.is_some(), kind.family == Family::Luminaires, "{key}");
            if let Some(lamp) = kind.lamp {
                let dims = kind.point("level").is_some_and(|point| point.role == PointRole::Does);
                assert_eq!(lamp.dims, dims, "{key}");
            }
            // IEEE 802.3 power at the device by class.
            if let Supply::PowerOverEthernet { class } = kind.supply {
                let most = [12.95, 3.84, 6.49, 12.95, 25.5, 40.0, 51.0, 62.0, 71.3][usize::from(class)];
                assert!(kind.load.0 <= most, "{key}: {} in class {class}", kind.load);
            }
        }
    }

    #[test]
    fn reaches_are_those_of_the_sources() {
        for (key, metres, degrees) in [
            ("wall-motion-12m", 12.0, 90.0),
            ("curtain-8m", 8.0, 15.0),
            ("corridor-20m", 20.0, 12.0),
            ("glass-break", 6.0, 360.0),
            ("smoke-alarm", 7.5, 360.0),
            ("heat-alarm", 5.3, 360.0),
        ] {
            let pattern = kind_by_key(key).unwrap().detection.unwrap().pattern;
            assert_eq!(pattern.range(), Length::m(metres), "{key}");
            assert!((pattern.angle().as_degrees() - degrees).abs() < 1e-9, "{key}");
        }
        assert_eq!(kind_by_key("co-alarm").unwrap().detection, None);
    }
}
