//! Which category of BS 5839-6 the layout reaches, and which rooms lack what for the next.
//!
//! LD3 is escape routes; LD2 adds rooms of high risk, here kitchens, living rooms and wherever a cooker stands; LD1 adds
//! every room but toilets and bathrooms. A room counts where an alarm of the right sort is in its space and within reach
//! of every point of it. The standard leaves the last word to the designer's assessment of risk.

use super::reach::AlarmReach;
use super::space::FireSpaces;
use crate::id::Id;
use crate::kit::FireSense;
use crate::plan::{Level, OpeningForm, Room, RoomUse, SpotUse};
use crate::project::{FireCategory, Project};
use crate::studies::coverage::ways::StoreyWays;

/// What a room wants.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// An alarm that notices smoke.
    Smoke,
    /// An alarm that notices heat.
    Heat,
    /// An alarm that notices smoke or heat.
    SmokeOrHeat,
}

impl Need {
    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Smoke => "a smoke alarm",
            Self::Heat => "a heat alarm",
            Self::SmokeOrHeat => "a smoke or heat alarm",
        }
    }

    /// Whether an alarm that notices this will do.
    pub const fn is_met_by(self, notices: FireSense) -> bool {
        match self {
            Self::Smoke => notices.notices_smoke(),
            Self::Heat => notices.notices_heat(),
            Self::SmokeOrHeat => notices.notices_smoke() || notices.notices_heat(),
        }
    }
}

/// A room that a category wants covered and that is not.
#[derive(Clone, Debug, PartialEq)]
pub struct Lacking {
    /// The category that wants it.
    pub category: FireCategory,
    /// The room.
    pub room: Id<Room>,
    /// What it wants.
    pub need: Need,
    /// Whether it has such an alarm, but some point of it is out of reach.
    pub out_of_reach: bool,
}

/// What the layout covers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FireCover {
    /// The category reached; `None` where not even escape routes are covered, or there is no room.
    pub reached: Option<FireCategory>,
    /// All that the categories above it lack, those of LD3 first.
    pub lacking: Vec<Lacking>,
}

impl FireCover {
    /// What the next category lacks; nothing at LD1.
    pub fn missing_for_next(&self) -> impl Iterator<Item = &Lacking> {
        let next = self.lacking.first().map(|lacking| lacking.category);
        self.lacking.iter().filter(move |lacking| Some(lacking.category) == next)
    }

    /// What lacks for a category.
    pub fn missing_for(&self, category: FireCategory) -> impl Iterator<Item = &Lacking> {
        // LD1 comes first among categories, and holds all that LD2 and LD3 want.
        self.lacking.iter().filter(move |lacking| lacking.category >= category)
    }
}

/// What sort of alarm suits a room, and which category first wants it: guidance to BS 5839-6:2019 read in secondary
/// pages, garages from memory. `None` for toilets, bathrooms and outdoors.
pub const fn accepts(room_use: RoomUse) -> Option<(FireCategory, Need)> {
    match room_use {
        RoomUse::Circulation | RoomUse::Stair => Some((FireCategory::LD3, Need::Smoke)),
        RoomUse::Kitchen => Some((FireCategory::LD2, Need::Heat)),
        RoomUse::Living => Some((FireCategory::LD2, Need::SmokeOrHeat)),
        RoomUse::Garage => Some((FireCategory::LD1, Need::Heat)),
        RoomUse::Dining
        | RoomUse::Utility
        | RoomUse::Bedroom
        | RoomUse::Study
        | RoomUse::Store
        | RoomUse::Plant
        | RoomUse::Unsaid => Some((FireCategory::LD1, Need::SmokeOrHeat)),
        RoomUse::Bathroom | RoomUse::Cloakroom | RoomUse::Outside => None,
    }
}

pub(super) fn cover(project: &Project, reaches: &[AlarmReach], spaces: &[FireSpaces]) -> FireCover {
    let mut lacking = Vec::new();
    let mut rooms = 0;
    for on_level in spaces {
        let ways = StoreyWays::of_level(project, on_level.level);
        for (id, room) in project.rooms_on(on_level.level) {
            let Some((category, need)) = wanted(project, &ways, id, room) else { continue };
            rooms += 1;
            if is_covered(reaches, id, need)
                || (room.room_use == RoomUse::Stair && opens_to_covered(project, &ways, reaches, id))
            {
                continue;
            }
            let out_of_reach = reaches.iter().any(|reach| reach.room == id && need.is_met_by(reach.sense));
            lacking.push(Lacking { category, room: id, need, out_of_reach });
        }
        lacking.extend(without_escape_route(project, reaches, on_level.level));
    }
    lacking.sort_by_key(|lacking| std::cmp::Reverse(lacking.category));
    let reached = match lacking.first().map(|lacking| lacking.category) {
        _ if rooms == 0 => None,
        None => Some(FireCategory::LD1),
        Some(FireCategory::LD1) => Some(FireCategory::LD2),
        Some(FireCategory::LD2) => Some(FireCategory::LD3),
        Some(FireCategory::LD3) => None,
    };
    FireCover { reached, lacking }
}

/// What a room wants: by its use, and as a room of high risk where somebody cooks in it.
fn wanted(project: &Project, ways: &StoreyWays, id: Id<Room>, room: &Room) -> Option<(FireCategory, Need)> {
    let (category, need) = accepts(room.room_use)?;
    let cooks = project
        .spots_on(room.level)
        .any(|(_, spot)| spot.spot_use == SpotUse::Cooker && ways.room_at(spot.at) == Some(id));
    Some(if cooks && category == FireCategory::LD1 { (FireCategory::LD2, need) } else { (category, need) })
}

fn is_covered(reaches: &[AlarmReach], room: Id<Room>, need: Need) -> bool {
    reaches.iter().any(|reach| reach.room == room && need.is_met_by(reach.sense) && reach.is_within())
}

/// Whether a stair opens without a leaf to an escape route that is covered: alarms stand beside its shaft, not over it.
fn opens_to_covered(project: &Project, ways: &StoreyWays, reaches: &[AlarmReach], stair: Id<Room>) -> bool {
    ways.doorways.iter().any(|doorway| {
        let plain = project
            .openings
            .get(doorway.opening)
            .is_some_and(|opening| matches!(opening.form, OpeningForm::Plain));
        let other = match doorway.rooms {
            [Some(room), Some(other)] if room == stair => Some(other),
            [Some(other), Some(room)] if room == stair => Some(other),
            _ => None,
        };
        plain && other.is_some_and(|other| is_covered(reaches, other, Need::Smoke))
    })
}

/// A storey with rooms but neither hall nor landing wants a smoke alarm in one of its rooms; the first is named.
fn without_escape_route(project: &Project, reaches: &[AlarmReach], level: Id<Level>) -> Option<Lacking> {
    let indoors = || project.rooms_on(level).filter(|(_, room)| room.room_use != RoomUse::Outside);
    let has_route = indoors().any(|(_, room)| matches!(room.room_use, RoomUse::Circulation | RoomUse::Stair));
    let has_smoke = reaches.iter().any(|reach| reach.level == level && Need::Smoke.is_met_by(reach.sense));
    if has_route || has_smoke {
        return None;
    }
    let (room, _) = indoors().find(|(_, room)| accepts(room.room_use).is_some())?;
    Some(Lacking { category: FireCategory::LD3, room, need: Need::Smoke, out_of_reach: false })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::building::Whereabouts;
    use crate::kit::FireSense::{Heat, Smoke, SmokeAndHeat};
    use crate::small_house::drawn_rooms::{ceiling, two_rooms};
    use crate::small_house::fire_alarm;
    use crate::studies::coverage::alarms::alarms;

    /// isurv, 4 October 2019, and a guide to BS 5839-6: LD3 escape routes, LD2 and rooms of high risk, LD1 all but toilets
    /// and bathrooms. A kitchen, a hall and a bedroom.
    #[test]
    fn categories_follow_from_which_rooms_are_covered() {
        let in_room = [(5500.0, 1500.0), (2000.0, 1500.0), (12_000.0, 1500.0)];
        for (alarms_in, expected, lacking) in [
            (vec![], None, vec!["Hall"]),
            (vec![(0, Smoke)], Some(FireCategory::LD3), vec!["Kitchen"]),
            (vec![(0, Heat)], None, vec!["Hall"]),
            (vec![(0, Smoke), (1, Smoke)], Some(FireCategory::LD3), vec!["Kitchen"]),
            (vec![(0, SmokeAndHeat), (1, Heat)], Some(FireCategory::LD2), vec!["Bedroom"]),
            (vec![(0, Smoke), (1, Heat), (2, Heat)], Some(FireCategory::LD1), vec![]),
            (vec![(1, Heat), (2, Smoke)], None, vec!["Hall"]),
        ] {
            let (mut house, _) = two_rooms();
            house.boxed_room("Bedroom", RoomUse::Bedroom, (10_000.0, 0.0), (4000.0, 3000.0));
            house.boxed_room("Bathroom", RoomUse::Bathroom, (20_000.0, 0.0), (4000.0, 3000.0));
            for (room, notices) in &alarms_in {
                let (x, y) = in_room[*room];
                house.place_new(fire_alarm(*notices), ceiling(x, y), None);
            }
            let cover = alarms(&house.project, &Whereabouts::of(&house.project)).cover;
            assert_eq!(cover.reached, expected, "{alarms_in:?}");
            let named: Vec<_> = cover
                .missing_for_next()
                .map(|lacking| house.project.rooms.get(lacking.room).unwrap().name.as_str())
                .collect();
            assert_eq!(named, lacking, "{alarms_in:?}");
        }
    }

    #[test]
    fn a_room_with_a_cooker_is_one_of_high_risk_and_an_alarm_out_of_reach_does_not_count() {
        let (mut house, hall) = two_rooms();
        let (study, _) = house.boxed_room("Studio", RoomUse::Study, (10_000.0, 0.0), (16_000.0, 3000.0));
        house.spot("Hob", SpotUse::Cooker, (11_000.0, 500.0));
        house.place_new(fire_alarm(Smoke), ceiling(5500.0, 1500.0), None);
        house.place_new(fire_alarm(Heat), ceiling(2000.0, 1500.0), None);
        house.place_new(fire_alarm(Smoke), ceiling(11_000.0, 1500.0), None);
        let cover = alarms(&house.project, &Whereabouts::of(&house.project)).cover;
        assert_eq!(cover.reached, Some(FireCategory::LD3));
        let lacking: Vec<_> = cover.missing_for_next().collect();
        assert_eq!((lacking[0].room, lacking[0].out_of_reach), (study, true));
        assert!(lacking.iter().all(|lacking| lacking.room != hall));
    }
}
