//! Drawings beneath the plan as textures, made off the window's thread.
//!
//! A picture is decoded once. A page of a PDF or an SVG is painted coarsely first, then as sharply as the zoom asks
//! for, in steps; what is at hand shows until the sharper one has come. On the dark board a drawing is turned over
//! as our own sheet is, so that light lettering over it can be read.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, channel};

use egui::epaint::{Mesh, Vertex};
use egui::{Color32, ColorImage, Context, TextureHandle, TextureOptions, pos2};
use kurbo::{Affine, Point};
use pattress_model::drawing::{Item, Shape};
use pattress_model::store::Media;

use super::chunks::Look;
use crate::survey::{self, Asked, Sort, sort_of};
use crate::window::survey::reading::image_of;
use crate::window::theme::Theme;

/// A picture is shown at most so large; what is finer than the screen is not missed.
const LARGEST_SIDE_PX: u32 = 4096;

/// The longer side of a page as it is painted first, pixels; every next step has twice as many.
const COARSEST_PX: f64 = 1024.0;

/// No page is painted larger: A3 at 350 dots per inch, for 100 MB of texture.
const MOST_PIXELS: f64 = 24e6;

/// A drawing as it shows.
#[derive(Default)]
struct Shown {
    /// What is at hand, and pixels to its longer side.
    texture: Option<(TextureHandle, f64)>,
    /// What is being made, and for how many pixels.
    coming: Option<(Receiver<Option<ColorImage>>, f64)>,
    /// Making it failed: it is left out, or stays as it is.
    failed: bool,
}

/// The textures in hand.
#[derive(Default)]
pub struct Pictures {
    shown: BTreeMap<(String, u32), Shown>,
    /// Whether they were made for the dark board.
    dark: bool,
}

/// A drawing to be made a texture.
struct Wanted<'a> {
    name: &'a str,
    page: u32,
    size: (f64, f64),
    /// Pixels of the screen to its longer side.
    sharpness: f64,
    /// The board it shows on.
    theme: &'a Theme,
}

impl Pictures {
    /// Paints the picture items; starts to make those not seen before, or not sharply enough. Returns whether any
    /// is still coming.
    pub fn paint(&mut self, painter: &egui::Painter, look: &Look<'_>, media: &Media, items: &[Item]) -> bool {
        if self.dark != look.theme.dark {
            *self = Self { dark: look.theme.dark, ..Self::default() };
        }
        let mut coming = false;
        for item in items {
            let Shape::Picture { media: name, page, plan_from_units, size, opacity, within } = &item.shape
            else {
                continue;
            };
            let points_per_unit = plan_from_units.determinant().abs().sqrt() * look.camera.points_per_mm;
            let dots_per_point = f64::from(painter.ctx().pixels_per_point());
            let sharpness = size.0.max(size.1) * points_per_unit * dots_per_point;
            let wanted = Wanted { name, page: *page, size: *size, sharpness, theme: look.theme };
            let shown = self.shown.entry((name.clone(), *page)).or_default();
            shown.keep_up(painter.ctx(), media, &wanted);
            if let Some((handle, _)) = &shown.texture {
                let corner = |at: Point| look.camera.screen_from_plan(look.board, at);
                let shown = within.map(|within| {
                    let (low, high) = (Point::new(within.x0, within.y0), Point::new(within.x1, within.y1));
                    egui::Rect::from_two_pos(corner(low), corner(high))
                });
                let clip = shown.map_or(painter.clip_rect(), |shown| shown.intersect(painter.clip_rect()));
                painter.with_clip_rect(clip).add(quad(handle, look, *plan_from_units, *size, *opacity));
            }
            coming |= shown.coming.is_some();
        }
        coming
    }
}

/// White paper beneath drawings that lie on no sheet.
pub fn paint_ground(painter: &egui::Painter, look: &Look<'_>, items: &[Item]) {
    for item in items {
        if let Shape::Picture { plan_from_units, size: (width, height), .. } = &item.shape {
            let corners = [(0.0, 0.0), (*width, 0.0), (*width, *height), (0.0, *height)].map(|corner| {
                look.camera.screen_from_plan(look.board, *plan_from_units * Point::from(corner))
            });
            let edge = egui::Stroke::new(1.0, look.theme.edge);
            painter.add(egui::Shape::convex_polygon(corners.to_vec(), look.theme.sheet, edge));
        }
    }
}

impl Shown {
    fn keep_up(&mut self, ctx: &Context, media: &Media, wanted: &Wanted<'_>) {
        if let Some((receiver, sharpness)) = &self.coming
            && let Some(made) = answer(receiver)
        {
            match made {
                Some(image) => {
                    let name = format!("{} {}", wanted.name, wanted.page);
                    let handle = ctx.load_texture(name, image, TextureOptions::LINEAR);
                    self.texture = Some((handle, *sharpness));
                }
                None => self.failed = true,
            }
            self.coming = None;
        }
        if self.coming.is_some() || self.failed {
            return;
        }
        let Some(bytes) = media.get(wanted.name) else { return };
        let at_hand = self.texture.as_ref().map(|(_, sharpness)| *sharpness);
        let is_picture = sort_of(bytes).is_ok_and(Sort::is_picture);
        let most = f64::from(ctx.input(|input| input.max_texture_side) as u32);
        let Some(next) = next_sharpness(at_hand, is_picture, wanted, most) else { return };
        self.coming = start(Arc::clone(bytes), wanted, next, is_picture, ctx).map(|coming| (coming, next));
        self.failed = self.coming.is_none();
    }
}

/// How sharply to make a drawing next; `None` where what is at hand will do.
fn next_sharpness(
    at_hand: Option<f64>,
    is_picture: bool,
    wanted: &Wanted<'_>,
    most_side: f64,
) -> Option<f64> {
    match at_hand {
        _ if is_picture => at_hand.is_none().then(|| f64::from(LARGEST_SIDE_PX).min(most_side)),
        None => Some(COARSEST_PX),
        Some(at_hand) => {
            let (width, height) = wanted.size;
            let by_area = width.max(height) * (MOST_PIXELS / (width * height).max(f64::MIN_POSITIVE)).sqrt();
            let mut step = COARSEST_PX;
            while step < wanted.sharpness && step < most_side {
                step *= 2.0;
            }
            let step = step.min(by_area).min(most_side);
            (step > at_hand * 1.01).then_some(step)
        }
    }
}

fn answer(receiver: &Receiver<Option<ColorImage>>) -> Option<Option<ColorImage>> {
    use std::sync::mpsc::TryRecvError;
    match receiver.try_recv() {
        Ok(made) => Some(made),
        Err(TryRecvError::Empty) => None,
        Err(TryRecvError::Disconnected) => Some(None),
    }
}

fn start(
    bytes: Arc<[u8]>,
    wanted: &Wanted<'_>,
    longer_side: f64,
    is_picture: bool,
    ctx: &Context,
) -> Option<Receiver<Option<ColorImage>>> {
    let (send, receive) = channel();
    let ctx = ctx.clone();
    let (name, page) = (wanted.name.to_owned(), wanted.page);
    let px_per_unit = longer_side / wanted.size.0.max(wanted.size.1);
    let theme = *wanted.theme;
    let make = move || {
        let made = if is_picture {
            decode(&bytes, longer_side as u32)
        } else {
            let asked = Asked { page, password: None };
            survey::render_page(&name, &bytes, &asked, px_per_unit, &|_| true).ok().map(image_of)
        };
        let _ = send.send(made.map(|image| on_the_board(image, &theme)));
        ctx.request_repaint();
    };
    std::thread::Builder::new().name("picture".to_owned()).spawn(make).ok()?;
    Some(receive)
}

/// A drawing in the colours of the board.
fn on_the_board(mut image: ColorImage, theme: &Theme) -> ColorImage {
    if theme.dark {
        // Nearly every pixel of a plan is grey.
        let greys: Vec<Color32> =
            (0..=u8::MAX).map(|grey| theme.paper([grey, grey, grey, u8::MAX])).collect();
        for pixel in &mut image.pixels {
            let [red, green, blue, alpha] = pixel.to_srgba_unmultiplied();
            *pixel = match (red == green && green == blue, alpha) {
                (true, u8::MAX) => greys[usize::from(red)],
                _ => theme.paper([red, green, blue, alpha]),
            };
        }
    }
    image
}

fn decode(bytes: &[u8], largest_side: u32) -> Option<ColorImage> {
    let image = image::load_from_memory(bytes).ok()?;
    let image = if image.width().max(image.height()) > largest_side {
        image.thumbnail(largest_side, largest_side)
    } else {
        image
    };
    let pixels = image.to_rgba8();
    let size = [pixels.width() as usize, pixels.height() as usize];
    Some(ColorImage::from_rgba_unmultiplied(size, pixels.as_raw()))
}

fn quad(
    handle: &TextureHandle,
    look: &Look<'_>,
    plan_from_units: Affine,
    (width, height): (f64, f64),
    opacity: f64,
) -> egui::Shape {
    let mut mesh = Mesh::with_texture(handle.id());
    let colour = Color32::WHITE.gamma_multiply(opacity.clamp(0.0, 1.0) as f32);
    for (u, v) in [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)] {
        let at = plan_from_units * Point::new(u * width, v * height);
        mesh.vertices.push(Vertex {
            pos: look.camera.screen_from_plan(look.board, at),
            uv: pos2(u as f32, v as f32),
            color: colour,
        });
    }
    mesh.indices.extend([0, 1, 2, 0, 2, 3]);
    egui::Shape::mesh(mesh)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_is_painted_coarsely_first_then_in_steps_and_never_too_large() {
        let theme = Theme::of(false);
        let a3 =
            |sharpness| Wanted { name: "a.pdf", page: 1, size: (420.0, 297.0), sharpness, theme: &theme };
        let next = |at_hand, sharpness| next_sharpness(at_hand, false, &a3(sharpness), 8192.0);
        assert_eq!(next(None, 3000.0), Some(1024.0));
        assert_eq!(next(Some(1024.0), 900.0), None, "sharp enough");
        assert_eq!(next(Some(1024.0), 1500.0), Some(2048.0));
        assert_eq!(next(Some(2048.0), 1500.0), None);
        assert_eq!(next(Some(2048.0), 1000.0), None, "what is sharper stays when zooming out");
        let largest = next(Some(2048.0), 60_000.0).unwrap();
        assert!(largest * largest * 297.0 / 420.0 <= MOST_PIXELS * 1.01, "{largest}");
        assert_eq!(next(Some(largest), 60_000.0), None);
        assert_eq!(next_sharpness(None, true, &a3(100.0), 8192.0), Some(4096.0), "pictures come at once");
        assert_eq!(next_sharpness(Some(4096.0), true, &a3(60_000.0), 8192.0), None);
    }

    #[test]
    fn a_drawing_is_turned_over_for_the_dark_board_alone() {
        let drawing = || ColorImage::new([3, 1], vec![Color32::WHITE, Color32::BLACK, Color32::TRANSPARENT]);
        assert_eq!(on_the_board(drawing(), &Theme::of(false)), drawing());
        let dark = Theme::of(true);
        let turned = on_the_board(drawing(), &dark).pixels;
        let off = |a: u8, b: u8| a.abs_diff(b);
        let sheet = dark.sheet;
        let apart = off(turned[0].r(), sheet.r())
            .max(off(turned[0].g(), sheet.g()))
            .max(off(turned[0].b(), sheet.b()));
        assert!(apart <= 6, "white paper is as dark as the sheet: {:?} {sheet:?}", turned[0]);
        assert!(turned[1].r() > 200, "ink is light: {:?}", turned[1]);
        assert_eq!(turned[2], Color32::TRANSPARENT);
    }
}
