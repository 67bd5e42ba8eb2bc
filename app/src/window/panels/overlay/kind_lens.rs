//! How a kind's detection looks up and down, what is left of its reach in harder cases, and its figures as an alarm.

use egui::Ui;
use pattress_model::kit::{
    Detection, FireAlarm, FireGrade, FireSense, Kind, Loudness, Pattern, ReachAtHeight, Tier,
};
use pattress_model::units::{Angle, Length};

use super::kind_desk::Desk;
use crate::window::widgets::lines;

/// Rows for the layers of a lens, the reach left and the radii by height.
pub fn detection(ui: &mut Ui, desk: &mut Desk<'_>, detection: &mut Detection) {
    layers(ui, desk, &mut detection.tiers);
    shares(ui, desk, detection);
    if matches!(detection.pattern, Pattern::Round { .. }) {
        by_height(ui, desk, &mut detection.by_height);
    }
}

fn layers(ui: &mut Ui, desk: &mut Desk<'_>, tiers: &mut Vec<Tier>) {
    for (index, tier) in tiers.iter_mut().enumerate() {
        for (edge, angle) in [("from", &mut tier.from), ("to", &mut tier.to)] {
            let mut degrees = (angle.as_degrees() * 1e6).round() / 1e6;
            let before = degrees;
            desk.figure(ui, &format!("Layer {} {edge}", index + 1), "° below its axis", &mut degrees);
            if degrees != before {
                *angle = Angle::degrees(degrees);
            }
        }
    }
    let (more, fewer) = ("Add a layer", "Take the last layer off");
    desk.row(ui, "Lens", |ui, desk| {
        if lines::small_button(ui, more, "A layer of the lens, between two angles below its axis.").clicked()
        {
            let from = tiers.last().map_or(Angle::ZERO, |tier| tier.to);
            tiers.push(Tier { from, to: from + Angle::degrees(20.0) });
        }
        if tiers.is_empty() {
            lines::caption(ui, desk.theme, "looks at every height");
        } else if lines::small_button(ui, fewer, "Without layers it looks at every height.").clicked() {
            tiers.pop();
        }
    });
}

fn shares(ui: &mut Ui, desk: &mut Desk<'_>, detection: &mut Detection) {
    let left = &mut detection.reach_left;
    for (name, share) in [
        ("Walking towards it", &mut left.towards),
        ("Sitting still", &mut left.still),
        ("Through a board", &mut left.through_board),
        ("In a warm room", &mut left.warm),
    ] {
        let mut percent = (*share * 1e4).round() / 1e2;
        let before = percent;
        desk.figure(ui, name, "% of its reach left", &mut percent);
        if percent == before {
            continue;
        }
        if (0.0..=100.0).contains(&percent) {
            *share = percent / 100.0;
        } else {
            desk.refusals.push("what is left of a reach is 0 to 100 %".to_owned());
        }
    }
}

fn by_height(ui: &mut Ui, desk: &mut Desk<'_>, rows: &mut Vec<ReachAtHeight>) {
    for (index, reach) in rows.iter_mut().enumerate() {
        let nth = index + 1;
        desk.length(ui, &format!("Mounted, {nth}"), "mm AFFL", &mut reach.mounted);
        desk.length(ui, &format!("Walking, {nth}"), "mm radius", &mut reach.walking);
        let mut seated = reach.seated.unwrap_or_default();
        desk.length(ui, &format!("Sitting, {nth}"), "mm radius; 0 for none", &mut seated);
        reach.seated = (seated > Length::ZERO).then_some(seated);
    }
    desk.row(ui, "Radii by height", |ui, _| {
        if lines::small_button(ui, "Add a height", "What its maker states at one mounting height.").clicked()
        {
            let last = rows.last().copied().unwrap_or(ReachAtHeight {
                mounted: Length::mm(2000.0),
                walking: Length::mm(3000.0),
                seated: None,
            });
            rows.push(ReachAtHeight { mounted: last.mounted + Length::mm(500.0), ..last });
        }
        if !rows.is_empty() && lines::small_button(ui, "Take the last off", "Remove this height.").clicked() {
            rows.pop();
        }
    });
}

/// Rows for a fire or gas alarm, for loudness, and for the security grade.
pub fn alarm(ui: &mut Ui, desk: &mut Desk<'_>, kind: &mut Kind) {
    desk.heading(ui, "As an alarm");
    let mut senses = vec![(None, "no fire alarm".to_owned())];
    senses.extend(FireSense::ALL.map(|sense| (Some(sense), sense.name().to_owned())));
    let shown = kind.fire.map_or("no fire alarm", |alarm| alarm.notices.name());
    if let Some(notices) = desk.choice(ui, "Notices", shown, &senses) {
        let usual = FireAlarm { notices: FireSense::Smoke, grade: FireGrade::D1, interlinked: true };
        kind.fire = notices.map(|notices| FireAlarm { notices, ..kind.fire.unwrap_or(usual) });
    }
    if let Some(alarm) = &mut kind.fire {
        let grades = FireGrade::ALL.map(|grade| (grade, grade.name().to_owned()));
        if let Some(grade) = desk.choice(ui, "Fire grade", alarm.grade.name(), &grades) {
            alarm.grade = grade;
        }
        let linked = alarm.interlinked;
        desk.row(ui, "Sounds the others", |ui, desk| {
            if lines::switch(ui, desk.theme, linked, "Sounds the others").clicked() {
                alarm.interlinked = !linked;
            }
        });
    }
    let mut level = kind.loudness.map_or(0.0, |loudness| loudness.level_dba);
    desk.figure(ui, "Loudness", "dB(A); 0 for none", &mut level);
    kind.loudness = (level > 0.0).then(|| Loudness {
        level_dba: level,
        at: kind.loudness.map_or(Length::m(3.0), |loudness| loudness.at),
    });
    if let Some(loudness) = &mut kind.loudness {
        desk.length(ui, "Heard at", "mm", &mut loudness.at);
    }
    let grade_name =
        |grade: Option<u8>| grade.map_or("none claimed".to_owned(), |grade| format!("grade {grade}"));
    let grades = [None, Some(1), Some(2), Some(3), Some(4)].map(|grade| (grade, grade_name(grade)));
    if let Some(grade) = desk.choice(ui, "Security grade", &grade_name(kind.security_grade), &grades) {
        kind.security_grade = grade;
    }
}
