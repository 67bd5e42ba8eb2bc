//! What a kind senses, sees and lights.

use egui::Ui;
use pattress_model::kit::{Detection, Kind, Lamp, Optics, Pattern};
use pattress_model::plan::Sense;
use pattress_model::units::{Angle, Length, Lumens};

use super::kind_desk::Desk;
use super::kind_lens;
use crate::window::widgets::{angle_field, lines};

/// Shows the three capabilities; each can be there or not.
pub fn ui(ui: &mut Ui, desk: &mut Desk<'_>, kind: &mut Kind) {
    detection(ui, desk, kind);
    optics(ui, desk, kind);
    lamp(ui, desk, kind);
    kind_lens::alarm(ui, desk, kind);
}

/// A switch that gives a kind a capability or takes it away.
fn has<T>(ui: &mut Ui, desk: &Desk<'_>, words: &str, capability: &mut Option<T>, usual: impl FnOnce() -> T) {
    ui.add_space(10.0);
    ui.horizontal(|ui| {
        if lines::switch(ui, desk.theme, capability.is_some(), words).clicked() {
            *capability = if capability.is_some() { None } else { Some(usual()) };
        }
        lines::heading(ui, words);
    });
}

fn angle(ui: &mut Ui, desk: &mut Desk<'_>, name: &str, value: &mut Angle) {
    let salt = desk.salt(name);
    desk.row(ui, name, |ui, desk| {
        match angle_field(ui, salt, name, *value) {
            Some(Ok(read)) => *value = read,
            Some(Err(sentence)) => desk.refusals.push(sentence),
            None => {}
        }
        lines::caption(ui, desk.theme, "° edge to edge");
    });
}

fn detection(ui: &mut Ui, desk: &mut Desk<'_>, kind: &mut Kind) {
    has(ui, desk, "Senses", &mut kind.detection, || {
        Detection::plain(
            Sense::BodyHeat,
            Pattern::Fan { angle: Angle::degrees(90.0), range: Length::m(10.0) },
        )
    });
    let Some(detection) = &mut kind.detection else { return };
    let senses = Sense::ALL.map(|sense| (sense, sense.name().to_owned()));
    if let Some(sense) = desk.choice(ui, "By", detection.sense.name(), &senses) {
        detection.sense = sense;
    }
    let range = detection.pattern.range();
    let patterns = [
        (Pattern::Fan { angle: Angle::degrees(90.0), range }, "a fan in front".to_owned()),
        (Pattern::Round { radius: range }, "all round".to_owned()),
    ];
    let shown = match detection.pattern {
        Pattern::Fan { .. } => "a fan in front",
        Pattern::Round { .. } => "all round",
    };
    if let Some(pattern) = desk.choice(ui, "Over", shown, &patterns) {
        detection.pattern = pattern;
    }
    match &mut detection.pattern {
        Pattern::Fan { angle: whole, range } => {
            angle(ui, desk, "Angle of the fan", whole);
            desk.length(ui, "Reach", "mm", range);
        }
        Pattern::Round { radius } => desk.length(ui, "Radius on the floor", "mm", radius),
    }
    kind_lens::detection(ui, desk, detection);
}

fn optics(ui: &mut Ui, desk: &mut Desk<'_>, kind: &mut Kind) {
    has(ui, desk, "Sees", &mut kind.optics, || Optics {
        sensor_width: Length::mm(5.4),
        focal_length: Length::mm(2.8),
        pixels_across: 2560,
        pixels_down: 1440,
        stated_view: None,
        drawn_range: Length::m(12.0),
    });
    let Some(optics) = &mut kind.optics else { return };
    desk.length(ui, "Width of sensor", "mm", &mut optics.sensor_width);
    desk.length(ui, "Focal length", "mm", &mut optics.focal_length);
    for (name, count) in
        [("Pixels across", &mut optics.pixels_across), ("Pixels down", &mut optics.pixels_down)]
    {
        let mut pixels = f64::from(*count);
        desk.figure(ui, name, "", &mut pixels);
        if (1.0..=100_000.0).contains(&pixels) {
            *count = pixels.round() as u32;
        } else {
            desk.refusals.push("a picture has 1 to 100000 pixels across and down".to_owned());
        }
    }
    let mut stated = optics.stated_view.map_or(0.0, |view| (view.as_degrees() * 1e6).round() / 1e6);
    desk.figure(ui, "Stated view", "° across; 0 where none is stated", &mut stated);
    optics.stated_view = (stated > 0.0).then(|| Angle::degrees(stated));
    desk.length(ui, "Drawn reach", "mm", &mut optics.drawn_range);
    lines::caption(ui, desk.theme, format!("A field of view of {}.", optics.field_of_view()));
}

fn lamp(ui: &mut Ui, desk: &mut Desk<'_>, kind: &mut Kind) {
    has(ui, desk, "Lights", &mut kind.lamp, || Lamp {
        flux: Lumens(600.0),
        beam: Some(Angle::degrees(60.0)),
        colour_temperature_k: 3000,
        dims: true,
    });
    let Some(lamp) = &mut kind.lamp else { return };
    desk.figure(ui, "Luminous flux", "lm", &mut lamp.flux.0);
    let beams = [(true, "in a beam".to_owned()), (false, "all round".to_owned())];
    let shown = if lamp.beam.is_some() { "in a beam" } else { "all round" };
    if let Some(beam) = desk.choice(ui, "Light goes", shown, &beams) {
        lamp.beam = beam.then_some(Angle::degrees(60.0));
    }
    if let Some(beam) = &mut lamp.beam {
        angle(ui, desk, "Beam at half peak", beam);
    }
    let mut kelvin = f64::from(lamp.colour_temperature_k);
    desk.figure(ui, "Colour", "K", &mut kelvin);
    if (1000.0..=20_000.0).contains(&kelvin) {
        lamp.colour_temperature_k = kelvin.round() as u16;
    } else {
        desk.refusals.push("a colour temperature is 1000 to 20000 K".to_owned());
    }
    let dims = lamp.dims;
    desk.row(ui, "Can be dimmed", |ui, desk| {
        if lines::switch(ui, desk.theme, dims, "Can be dimmed").clicked() {
            lamp.dims = !dims;
        }
    });
}
