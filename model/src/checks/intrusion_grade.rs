//! The grade of the intruder alarm, as its lowest part makes it: below what is asked for, or with parts that name none.

use super::{Check, Finding, House, Severity};
use crate::edit::Subject;

pub(super) const CHECK: Check = Check { name: "intrusion-grade", limits: &[], run };

const SOURCE: &str = "EN 50131-1 by way of PD 6662, 2004: a part of a lower grade lowers the system; read in a \
     secondary page: check the current edition";

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let grade = &house.intrusion().grade;
    let tags = |parts: &[crate::id::Id<crate::kit::Device>]| {
        let devices = parts.iter().filter_map(|id| house.project.devices.get(*id));
        let mut tags: Vec<String> = devices.map(|device| device.tag.to_string()).collect();
        tags.sort();
        let more = tags.len().saturating_sub(MOST_NAMED);
        tags.truncate(MOST_NAMED);
        if more > 0 { format!("{} and {more} more", tags.join(", ")) } else { tags.join(", ") }
    };
    let mut tell = |severity, sentence: String| {
        found.push(house.of_subject(Subject::Site, severity, CHECK.name, sentence, SOURCE));
    };
    if !grade.without.is_empty() {
        tell(
            Severity::Note,
            format!(
                "No security grade is named for {}, parts of the intruder alarm: have the grade of each confirmed.",
                tags(&grade.without)
            ),
        );
    }
    if let (Some(asked), Some(lowest)) = (house.project.site.intrusion.grade, grade.lowest)
        && lowest < asked
    {
        tell(
            Severity::Warning,
            format!(
                "The intruder alarm is asked to be of grade {asked} and is of grade {lowest}, that of {}: choose parts of \
             grade {asked}.",
                tags(&grade.lowest_parts)
            ),
        );
    }
}

/// So many parts are named in one sentence.
const MOST_NAMED: usize = 6;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Family, MountKind};
    use crate::small_house::drawn_rooms::ceiling;
    use crate::small_house::{bare_house, plain_kind};
    use crate::systems::ZonePurpose;

    #[test]
    fn the_lowest_part_makes_the_grade() {
        for (asked, detector, siren, expected) in [
            (Some(2), Some(2), Some(2), 0),
            (Some(3), Some(3), Some(2), 1),
            (Some(2), Some(1), Some(2), 1),
            (Some(2), None, Some(2), 1),
            (Some(3), None, Some(2), 2),
            (None, Some(1), Some(2), 0),
        ] {
            let mut house = bare_house();
            house.set_site(|site| site.intrusion.grade = asked);
            let mut kind = plain_kind("Detector", Family::Intrusion, "PIR", MountKind::Ceiling, &["alarm"]);
            kind.security_grade = detector;
            let device = house.place_new(kind, ceiling(1000.0, 1000.0), None);
            let mut kind = plain_kind("Sounder", Family::Sounders, "SND", MountKind::Ceiling, &["siren"]);
            kind.security_grade = siren;
            house.place_new(kind, ceiling(3000.0, 1000.0), None);
            // A chime is no part of it.
            let kind = plain_kind("Chime", Family::Sounders, "CHM", MountKind::Ceiling, &["ring"]);
            house.place_new(kind, ceiling(3000.0, 2000.0), None);
            house.zone(ZonePurpose::FullSet, &[(device, "alarm")]);
            assert_eq!(found(CHECK, &house.project).len(), expected, "{asked:?} {detector:?} {siren:?}");
        }
    }
}
