//! Where the house stands, the clock on its walls, and what its alarms and cameras are asked to be.

use egui::Ui;
use pattress_model::project::{CameraEdition, FireCategory, Place, Site, SummerTime};
use pattress_model::units::{Angle, Length, Seconds};

use super::site_field::{figure, name, salt};
use crate::window::theme::Theme;
use crate::window::widgets::{lines, text_field};

/// Shows the fields; what could not be read is pushed as a sentence.
pub fn ui(ui: &mut Ui, theme: &Theme, site: &Site, edited: &mut Site, refusals: &mut Vec<String>) {
    place(ui, theme, site, edited, refusals);
    clock(ui, theme, site, edited, refusals);
    alarms(ui, theme, site, edited, refusals);
    cameras(ui, theme, site, edited, refusals);
}

fn degrees(angle: Angle) -> String {
    format!("{}", (angle.as_degrees() * 1e5).round() / 1e5)
}

fn place(ui: &mut Ui, theme: &Theme, site: &Site, edited: &mut Site, refusals: &mut Vec<String>) {
    let now = site.place;
    let mut both = [now.map(|place| place.latitude), now.map(|place| place.longitude)];
    let mut typed = false;
    for (index, label, tip) in [
        (0, "Latitude", "° north; south below zero. Needed for sunrise, sunset and glare"),
        (1, "Longitude", "° east of Greenwich; west below zero"),
    ] {
        name(ui, theme, label);
        ui.horizontal(|ui| {
            let shown = both[index].map_or(String::new(), degrees);
            if let Some(figure) = figure(ui, label, &shown, refusals) {
                both[index] = figure.map(Angle::degrees);
                typed = true;
            }
            lines::caption(ui, theme, tip);
        });
        ui.end_row();
    }
    if typed {
        // The first of the two figures stands with a zero beside it until the second is typed.
        edited.place = match both {
            [None, None] => None,
            [latitude, longitude] => Some(Place {
                latitude: latitude.unwrap_or_default(),
                longitude: longitude.unwrap_or_default(),
            }),
        };
    }
}

fn clock(ui: &mut Ui, theme: &Theme, site: &Site, edited: &mut Site, refusals: &mut Vec<String>) {
    name(ui, theme, "Clock ahead of UTC");
    ui.horizontal(|ui| {
        let hours = f64::from(site.clock.ahead_of_utc_minutes) / 60.0;
        if let Some(Some(hours)) = figure(ui, "Clock ahead of UTC", &format!("{hours}"), refusals) {
            edited.clock.ahead_of_utc_minutes = (hours * 60.0).round().clamp(-9999.0, 9999.0) as i16;
        }
        lines::caption(ui, theme, "hours in winter; 0 in the United Kingdom");
    });
    ui.end_row();
    name(ui, theme, "Summer time");
    let rules = SummerTime::ALL.map(|rule| (rule, rule.name().to_owned()));
    let shown = site.clock.summer_time.name();
    if let Some(rule) = lines::choice(ui, salt("summer"), "Summer time", shown, 260.0, &rules) {
        edited.clock.summer_time = rule;
    }
    ui.end_row();
}

fn alarms(ui: &mut Ui, theme: &Theme, site: &Site, edited: &mut Site, refusals: &mut Vec<String>) {
    name(ui, theme, "Intruder alarm");
    let grade_name =
        |grade: Option<u8>| grade.map_or("no grade asked for".to_owned(), |grade| format!("grade {grade}"));
    let grades = [None, Some(1), Some(2), Some(3), Some(4)].map(|grade| (grade, grade_name(grade)));
    let shown = grade_name(site.intrusion.grade);
    if let Some(grade) = lines::choice(ui, salt("grade"), "Intruder alarm", &shown, 180.0, &grades) {
        edited.intrusion.grade = grade;
    }
    ui.end_row();
    for (label, now, target) in [
        ("Entry time", site.intrusion.entry_time, &mut edited.intrusion.entry_time),
        ("Exit time", site.intrusion.exit_time, &mut edited.intrusion.exit_time),
    ] {
        name(ui, theme, label);
        ui.horizontal(|ui| {
            if let Some(Some(seconds)) = figure(ui, label, &format!("{}", now.0), refusals) {
                *target = Seconds(seconds);
            }
            lines::caption(ui, theme, "seconds");
        });
        ui.end_row();
    }
    name(ui, theme, "Fire alarms");
    let category_name = |category: Option<FireCategory>| {
        category
            .map_or("no category asked for".to_owned(), |category| format!("category {}", category.name()))
    };
    let mut categories = vec![(None, category_name(None))];
    categories.extend(FireCategory::ALL.map(|category| (Some(category), category_name(Some(category)))));
    let shown = category_name(site.fire_category);
    ui.horizontal(|ui| {
        if let Some(category) = lines::choice(ui, salt("fire"), "Fire alarms", &shown, 180.0, &categories) {
            edited.fire_category = category;
        }
        lines::caption(ui, theme, "a check for the competent designer, never a design");
    });
    ui.end_row();
}

fn cameras(ui: &mut Ui, theme: &Theme, site: &Site, edited: &mut Site, refusals: &mut Vec<String>) {
    name(ui, theme, "Cameras are judged by");
    let editions = CameraEdition::ALL.map(|edition| (edition, edition.name().to_owned()));
    let shown = site.camera_levels.name();
    ui.horizontal(|ui| {
        let chosen = lines::choice(ui, salt("levels"), "Cameras are judged by", shown, 180.0, &editions);
        if let Some(edition) = chosen {
            edited.camera_levels = edition;
        }
        lines::caption(ui, theme, "of IEC 62676-4; of 2025 the lower six are from memory");
    });
    ui.end_row();
    name(ui, theme, "Cameras look for");
    ui.horizontal(|ui| {
        let shown = site.camera_target.to_string();
        let (_, typed) = text_field(ui, salt("target"), "Cameras look for", &shown, 90.0);
        match typed.map(|typed| Length::parse(&typed)) {
            Some(Ok(height)) => edited.camera_target = height,
            Some(Err(sentence)) => refusals.push(sentence),
            None => {}
        }
        lines::caption(ui, theme, "mm above the floor; a face is at 1600");
    });
    ui.end_row();
}
