//! Title block and site facts.

use egui::{Grid, ScrollArea, Ui};
use pattress_model::drawing::Paper;
use pattress_model::edit::verbs;
use pattress_model::project::Site;
use pattress_model::units::Money;

use super::site_field::{name, salt};
use super::{site_place, title};
use crate::window::intent::Intent;
use crate::window::session::Session;
use crate::window::theme::Theme;
use crate::window::widgets::{angle_field, lines, text_field};

/// Scales that a plan of a house is drawn at (ISO 5455:1979, reduction scales).
const SCALES: [u32; 5] = [20, 50, 100, 200, 500];

/// Shows the fields.
pub fn ui(ui: &mut Ui, session: &Session, fresh: bool, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    let site: &Site = &session.project().site;
    let mut edited = site.clone();
    let mut refusals = Vec::new();
    title(ui, "Title block and site", &mut intents);
    let tallest = ui.ctx().content_rect().height() - 140.0;
    ScrollArea::vertical().max_height(tallest).min_scrolled_height(tallest).auto_shrink([false, true]).show(
        ui,
        |ui| {
            Grid::new("site").num_columns(2).spacing([16.0, 8.0]).show(ui, |ui| {
                words(ui, theme, site, &mut edited, fresh);
                figures(ui, theme, site, &mut edited, &mut refusals);
                site_place::ui(ui, theme, site, &mut edited, &mut refusals);
            });
        },
    );
    ui.add_space(8.0);
    if ui.button("Done").clicked() {
        intents.push(Intent::CloseOverlay);
    }
    intents.extend(refusals.into_iter().map(|sentence| Intent::Change(Err(sentence))));
    if edited != *site {
        intents.push(Intent::Change(verbs::edit_site(session.project(), edited)));
    }
    intents
}

/// The words of the title block.
fn words(ui: &mut Ui, theme: &Theme, site: &Site, edited: &mut Site, fresh: bool) {
    let fields: [(&str, &str, &mut String); 9] = [
        ("Project", &site.project_name, &mut edited.project_name),
        ("Address", &site.address, &mut edited.address),
        ("Client", &site.client, &mut edited.client),
        ("Legal owner", &site.legal_owner, &mut edited.legal_owner),
        ("Whom the household calls", &site.call, &mut edited.call),
        ("Drawn by", &site.creator, &mut edited.creator),
        ("Approved by", &site.approver, &mut edited.approver),
        ("Drawing numbers start with", &site.drawing_prefix, &mut edited.drawing_prefix),
        ("Date of issue", &site.issue_date, &mut edited.issue_date),
    ];
    for (index, (label, now, target)) in fields.into_iter().enumerate() {
        name(ui, theme, label);
        ui.horizontal(|ui| {
            let wide = if index < 7 { 330.0 } else { 110.0 };
            let (response, typed) = text_field(ui, salt(label), label, now, wide);
            if fresh && index == 0 {
                response.request_focus();
            }
            if let Some(typed) = typed {
                *target = typed.trim().to_owned();
            }
            if label == "Date of issue" {
                lines::caption(ui, theme, "year-month-day, such as 2026-03-31");
            }
        });
        ui.end_row();
    }
}

/// Paper, scale, north and money.
fn figures(ui: &mut Ui, theme: &Theme, site: &Site, edited: &mut Site, refusals: &mut Vec<String>) {
    name(ui, theme, "Paper");
    let papers = Paper::ALL.map(|paper| (paper, paper.name().to_owned()));
    if let Some(paper) = lines::choice(ui, salt("paper"), "Paper", site.paper.name(), 90.0, &papers) {
        edited.paper = paper;
    }
    ui.end_row();
    name(ui, theme, "Scale");
    let scales = SCALES.map(|scale| (scale, format!("1:{scale}")));
    let now = format!("1:{}", site.scale);
    if let Some(scale) = lines::choice(ui, salt("scale"), "Scale", &now, 90.0, &scales) {
        edited.scale = scale;
    }
    ui.end_row();
    name(ui, theme, "North");
    ui.horizontal(|ui| {
        match angle_field(ui, salt("north"), "North", site.north) {
            Some(Ok(north)) => edited.north = north,
            Some(Err(sentence)) => refusals.push(sentence),
            None => {}
        }
        lines::caption(ui, theme, "° anticlockwise from the right of the sheet; 90 is up");
    });
    ui.end_row();
    name(ui, theme, "Currency");
    if let (_, Some(currency)) = text_field(ui, salt("currency"), "Currency", &site.currency, 60.0) {
        edited.currency = currency.trim().to_uppercase();
    }
    ui.end_row();
    name(ui, theme, "One hour of fitting");
    ui.horizontal(|ui| {
        let now = site.hourly_rate.to_string();
        let (_, typed) = text_field(ui, salt("rate"), "Price of one hour of fitting", &now, 80.0);
        match typed.map(|typed| read_money(&typed)) {
            Some(Ok(rate)) => edited.hourly_rate = rate,
            Some(Err(sentence)) => refusals.push(sentence),
            None => {}
        }
        lines::caption(ui, theme, site.currency.as_str());
    });
    ui.end_row();
}

/// Reads an amount such as `45` or `45.50`.
pub fn read_money(typed: &str) -> Result<Money, String> {
    let figure = typed.trim().replace(',', ".").parse::<f64>().ok();
    figure
        .filter(|figure| figure.is_finite() && (0.0..1e9).contains(figure))
        .map(|figure| Money { hundredths: (figure * 100.0).round() as i64 })
        .ok_or_else(|| format!("“{}” is not an amount: type one such as 45.50", typed.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_read_to_the_hundredth_or_refused() {
        for (typed, hundredths) in [("45", 4500), ("45.5", 4550), (" 0,29 ", 29), ("0", 0)] {
            assert_eq!(read_money(typed).map(|money| money.hundredths), Ok(hundredths), "{typed}");
        }
        for typed in ["", "-1", "abc", "1e12", "NaN"] {
            assert!(read_money(typed).is_err(), "{typed}");
        }
    }
}
