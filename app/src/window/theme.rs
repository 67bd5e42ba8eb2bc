//! Colours and lettering of the window, light and dark. No colour is named anywhere else in the window.
//!
//! The sheet keeps its paper style; in the dark the same roles are drawn with lightness turned over, hue kept,
//! so that a drawing learned in one is read in the other. Contrast is held to WCAG 2.2 AA by the tests below.

use egui::{
    Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Stroke, TextStyle, Visuals,
};
use pattress_model::drawing::lettering;
use pattress_model::drawing::style::Rgba;

/// Light or dark, with every colour the window uses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Theme {
    /// Whether it is the dark one.
    pub dark: bool,
    /// The board around the sheet.
    pub board: Color32,
    /// The sheet.
    pub sheet: Color32,
    /// Panels.
    pub panel: Color32,
    /// Panels' raised parts: cards, fields.
    pub raised: Color32,
    /// Lines between parts.
    pub edge: Color32,
    /// Text.
    pub ink: Color32,
    /// Quiet text.
    pub quiet: Color32,
    /// What is selected, and the pressed tool.
    pub accent: Color32,
    /// Behind what is selected in a list.
    pub accent_soft: Color32,
    /// Text on the accent.
    pub on_accent: Color32,
    /// What is pointed at.
    pub pointed: Color32,
    /// Snapping guides and distances beside the pointer.
    pub guide: Color32,
    /// What is wrong or missing.
    pub wrong: Color32,
    /// What wants attention.
    pub warn: Color32,
    /// What is well.
    pub well: Color32,
}

impl Theme {
    /// The light board.
    pub const LIGHT: Self = Self {
        dark: false,
        board: Color32::from_rgb(218, 220, 219),
        sheet: Color32::from_rgb(255, 255, 255),
        panel: Color32::from_rgb(244, 244, 241),
        raised: Color32::from_rgb(255, 255, 254),
        edge: Color32::from_rgb(206, 207, 203),
        ink: Color32::from_rgb(32, 36, 40),
        quiet: Color32::from_rgb(92, 98, 103),
        accent: Color32::from_rgb(22, 92, 112),
        accent_soft: Color32::from_rgb(214, 230, 233),
        on_accent: Color32::from_rgb(255, 255, 255),
        pointed: Color32::from_rgb(180, 88, 22),
        guide: Color32::from_rgb(150, 52, 110),
        wrong: Color32::from_rgb(170, 32, 26),
        warn: Color32::from_rgb(134, 84, 0),
        well: Color32::from_rgb(28, 104, 62),
    };

    /// The dark board.
    pub const DARK: Self = Self {
        dark: true,
        board: Color32::from_rgb(20, 22, 24),
        sheet: Color32::from_rgb(36, 39, 42),
        panel: Color32::from_rgb(29, 32, 35),
        raised: Color32::from_rgb(40, 44, 48),
        edge: Color32::from_rgb(62, 67, 72),
        ink: Color32::from_rgb(228, 229, 226),
        quiet: Color32::from_rgb(160, 166, 170),
        accent: Color32::from_rgb(112, 190, 208),
        accent_soft: Color32::from_rgb(36, 66, 76),
        on_accent: Color32::from_rgb(14, 28, 32),
        pointed: Color32::from_rgb(240, 164, 96),
        guide: Color32::from_rgb(226, 140, 192),
        wrong: Color32::from_rgb(246, 132, 122),
        warn: Color32::from_rgb(232, 184, 92),
        well: Color32::from_rgb(124, 204, 152),
    };

    /// The theme as asked.
    pub const fn of(dark: bool) -> Self {
        if dark { Self::DARK } else { Self::LIGHT }
    }

    /// A colour of the paper style, as this theme's sheet shows it.
    pub fn paper(&self, [red, green, blue, alpha]: Rgba) -> Color32 {
        if !self.dark {
            return Color32::from_rgba_unmultiplied(red, green, blue, alpha);
        }
        let [red, green, blue] = turned_over([red, green, blue]);
        Color32::from_rgba_unmultiplied(red, green, blue, alpha)
    }

    /// The light of a lamp, which shines in its own colour on any sheet.
    pub fn light(&self, [red, green, blue, alpha]: Rgba) -> Color32 {
        Color32::from_rgba_unmultiplied(red, green, blue, alpha)
    }

    /// Hands fonts, sizes and colours to egui.
    pub fn dress(&self, ctx: &egui::Context) {
        ctx.set_theme(if self.dark { egui::Theme::Dark } else { egui::Theme::Light });
        ctx.all_styles_mut(|style| {
            style.visuals = self.visuals();
            style.spacing.item_spacing = egui::vec2(8.0, 6.0);
            style.spacing.button_padding = egui::vec2(8.0, 4.0);
            style.spacing.interact_size.y = 24.0;
            style.spacing.scroll = egui::style::ScrollStyle::thin();
            style.interaction.selectable_labels = false;
            style.text_styles = [
                (TextStyle::Heading, FontId::new(16.0, semi_bold())),
                (TextStyle::Body, FontId::new(13.0, FontFamily::Proportional)),
                (TextStyle::Button, FontId::new(13.0, FontFamily::Proportional)),
                (TextStyle::Small, FontId::new(11.0, FontFamily::Proportional)),
                (TextStyle::Monospace, FontId::new(12.5, FontFamily::Monospace)),
            ]
            .into();
        });
    }

    fn visuals(&self) -> Visuals {
        let mut visuals = if self.dark { Visuals::dark() } else { Visuals::light() };
        visuals.override_text_color = Some(self.ink);
        visuals.weak_text_color = Some(self.quiet);
        visuals.panel_fill = self.panel;
        visuals.window_fill = self.panel;
        visuals.window_stroke = Stroke::new(1.0, self.edge);
        visuals.extreme_bg_color = self.raised;
        visuals.faint_bg_color = self.raised;
        visuals.selection.bg_fill = self.accent_soft;
        visuals.selection.stroke = Stroke::new(1.0, self.accent);
        visuals.hyperlink_color = self.accent;
        visuals.error_fg_color = self.wrong;
        visuals.warn_fg_color = self.warn;
        visuals.popup_shadow = egui::Shadow::NONE;
        visuals.window_shadow =
            egui::Shadow { offset: [0, 6], blur: 24, spread: 0, color: Color32::from_black_alpha(60) };
        let radius = CornerRadius::same(3);
        let widgets = &mut visuals.widgets;
        for (state, fill, edge) in [
            (&mut widgets.noninteractive, self.panel, self.edge),
            (&mut widgets.inactive, self.raised, self.edge),
            (&mut widgets.hovered, self.accent_soft, self.accent),
            (&mut widgets.active, self.accent_soft, self.accent),
            (&mut widgets.open, self.accent_soft, self.accent),
        ] {
            state.bg_fill = fill;
            state.weak_bg_fill = fill;
            state.bg_stroke = Stroke::new(1.0, edge);
            state.fg_stroke = Stroke::new(1.0, self.ink);
            state.corner_radius = radius;
            state.expansion = 0.0;
        }
        visuals
    }
}

/// A colour with its lightness turned over and its hue kept, for the dark sheet.
fn turned_over([red, green, blue]: [u8; 3]) -> [u8; 3] {
    let [red, green, blue] = [red, green, blue].map(|part| f32::from(part) / 255.0);
    let (high, low) = (red.max(green).max(blue), red.min(green).min(blue));
    let lightness = (high + low) / 2.0;
    // White paper becomes the dark sheet, black ink almost white.
    let turned = 0.90 - 0.755 * lightness;
    let chroma = high - low;
    let roomy = 1.0 - (2.0 * lightness - 1.0).abs();
    let saturation = if roomy > 0.0 { (chroma / roomy).min(0.85) } else { 0.0 };
    // A white with a breath of colour stays a grey with a breath of colour.
    let new_chroma = (saturation * (1.0 - (2.0 * turned - 1.0).abs())).min(2.0 * chroma);
    [red, green, blue].map(|part| {
        let within = if chroma > 0.0 { (part - low) / chroma } else { 0.5 };
        let value = turned + new_chroma * (within - 0.5);
        (value.clamp(0.0, 1.0) * 255.0).round() as u8
    })
}

/// The family of medium lettering.
pub fn medium() -> FontFamily {
    FontFamily::Name("medium".into())
}

/// The family of semi-bold lettering.
pub fn semi_bold() -> FontFamily {
    FontFamily::Name("semi-bold".into())
}

/// The fonts of the window: the same face as on paper, so that what is seen is what is issued.
pub fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    let fallbacks = fonts.families.get(&FontFamily::Proportional).cloned().unwrap_or_default();
    for (name, bytes, family) in [
        ("regular", lettering::REGULAR, FontFamily::Proportional),
        ("medium", lettering::MEDIUM, medium()),
        ("semi-bold", lettering::SEMI_BOLD, semi_bold()),
    ] {
        fonts.font_data.insert(name.to_owned(), FontData::from_static(bytes).into());
        let mut faces = vec![name.to_owned()];
        faces.extend(fallbacks.iter().cloned());
        fonts.families.insert(family, faces);
    }
    fonts
}

#[cfg(test)]
mod tests {
    use super::*;
    use pattress_model::drawing::{Role, style_of};

    /// Relative luminance (WCAG 2.2 definition).
    fn luminance(colour: Color32) -> f64 {
        let part = |value: u8| {
            let value = f64::from(value) / 255.0;
            if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * part(colour.r()) + 0.7152 * part(colour.g()) + 0.0722 * part(colour.b())
    }

    fn contrast(a: Color32, b: Color32) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn text_has_the_contrast_that_wcag_asks() {
        for theme in [Theme::LIGHT, Theme::DARK] {
            for ground in [theme.panel, theme.raised, theme.sheet] {
                for ink in [theme.ink, theme.quiet, theme.accent, theme.wrong, theme.warn, theme.well] {
                    assert!(contrast(ink, ground) >= 4.5, "{ink:?} on {ground:?}: {}", contrast(ink, ground));
                }
            }
            assert!(contrast(theme.on_accent, theme.accent) >= 4.5);
            assert!(contrast(theme.ink, theme.accent_soft) >= 4.5);
            for line in [theme.pointed, theme.guide, theme.accent] {
                assert!(contrast(line, theme.sheet) >= 3.0, "{line:?}");
            }
        }
    }

    #[test]
    fn drawn_text_and_outlines_have_it_too() {
        let texts = [
            Role::RoomName,
            Role::RoomNote,
            Role::Tag,
            Role::TagNote,
            Role::SymbolCode,
            Role::DimensionText,
            Role::CameraLevelName,
            Role::NowWords,
        ];
        let lines = [
            Role::WallMasonry,
            Role::Symbol,
            Role::SymbolFire,
            Role::CoverageHeat,
            Role::CoverageMicrowave,
            Role::CoverageCamera,
            Role::CoverageSound,
            Role::CoverageFire,
            Role::CameraLevelLine,
            Role::ZoneLighting,
            Role::ZoneOther,
            Role::Missing,
            Role::AtWork,
            Role::InAlarm,
            Role::TravelShut,
        ];
        for theme in [Theme::LIGHT, Theme::DARK] {
            let opaque = |role| {
                let [red, green, blue, _] = style_of(role).ink;
                theme.paper([red, green, blue, 255])
            };
            for role in texts {
                assert!(
                    contrast(opaque(role), theme.sheet) >= 4.5,
                    "{role:?} {}",
                    contrast(opaque(role), theme.sheet)
                );
            }
            for role in lines {
                assert!(
                    contrast(opaque(role), theme.sheet) >= 3.0,
                    "{role:?} {}",
                    contrast(opaque(role), theme.sheet)
                );
            }
        }
    }
}
