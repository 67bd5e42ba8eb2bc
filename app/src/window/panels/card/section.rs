//! A section through the sensor that is selected: height against distance, the way it faces.

use egui::{Role, Sense, Ui, WidgetInfo, vec2};
use pattress_model::drawing::plan::{section_bounds, section_items};
use pattress_model::studies::coverage::Section;

use crate::window::canvas::Camera;
use crate::window::canvas::chunks::{Chunks, Look};
use crate::window::theme::Theme;

/// Height of the picture, points.
const HEIGHT: f32 = 120.0;

/// Paper millimetres on the screen are drawn this large, points: lettering must be read.
const POINTS_PER_PAPER_MM: f64 = 4.4;

/// Shows the section, as wide as the card.
pub fn ui(ui: &mut Ui, section: &Section, theme: &Theme) {
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), HEIGHT), Sense::hover());
    let (width, height) = (f64::from(rect.width()) - 8.0, f64::from(rect.height()) - 8.0);
    // Lettering has its own size, so the plan millimetres to one of paper follow from how large the whole must be.
    let mut scale = 50.0;
    let mut bounds = section_bounds(section, scale);
    for _ in 0..3 {
        let points_per_mm = (width / bounds.width()).min(height / bounds.height());
        scale = POINTS_PER_PAPER_MM / points_per_mm;
        bounds = section_bounds(section, scale);
    }
    let camera = Camera { centre: bounds.center(), points_per_mm: POINTS_PER_PAPER_MM / scale };
    let look = Look {
        camera: &camera,
        board: rect,
        points_per_paper_mm: POINTS_PER_PAPER_MM,
        theme,
        hidden: &[],
        soft_areas_within: None,
    };
    ui.painter().rect_filled(rect, 2.0, theme.paper([255; 4]));
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    Chunks::default().paint_passing(&painter, &look, &section_items(section, scale));
    let said = match section.walking {
        Some((from, to)) => format!(
            "Section: somebody walking is seen from {:.1} to {:.1} m ahead",
            from / 1000.0,
            to / 1000.0
        ),
        None => "Section: nobody walking ahead is seen".to_owned(),
    };
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &said));
    response.on_hover_text(said);
}
