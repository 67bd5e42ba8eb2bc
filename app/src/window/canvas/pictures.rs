//! Pictures of the plan as textures. They are decoded off the window's thread.

use std::collections::BTreeMap;
use std::sync::mpsc::{Receiver, channel};

use egui::epaint::{Mesh, Vertex};
use egui::{Color32, TextureHandle, TextureOptions, pos2};
use kurbo::{Affine, Point};
use pattress_model::drawing::{Item, Shape};
use pattress_model::store::Media;

use super::chunks::Look;

/// A picture is shown at most so large; what is finer than the screen is not missed.
const LARGEST_SIDE_PX: u32 = 4096;

enum Texture {
    Coming(Receiver<Option<egui::ColorImage>>),
    Ready(TextureHandle),
    Unreadable,
}

/// The textures in hand.
#[derive(Default)]
pub struct Pictures {
    textures: BTreeMap<String, Texture>,
}

impl Pictures {
    /// Paints the picture items; starts to decode those not seen before. Returns whether any is still coming.
    pub fn paint(&mut self, painter: &egui::Painter, look: &Look<'_>, media: &Media, items: &[Item]) -> bool {
        let mut coming = false;
        for item in items {
            let Shape::Picture { media: name, plan_from_units, size, opacity, .. } = &item.shape else {
                continue;
            };
            let texture =
                self.textures.entry(name.clone()).or_insert_with(|| start(media, name, painter.ctx()));
            if let Texture::Coming(receiver) = texture
                && let Ok(decoded) = receiver.try_recv()
            {
                *texture = match decoded {
                    Some(image) => Texture::Ready(painter.ctx().load_texture(
                        name.clone(),
                        image,
                        TextureOptions::LINEAR,
                    )),
                    None => Texture::Unreadable,
                };
            }
            match texture {
                Texture::Ready(handle) => {
                    painter.add(quad(handle, look, *plan_from_units, *size, *opacity));
                }
                Texture::Coming(_) => coming = true,
                Texture::Unreadable => {}
            }
        }
        coming
    }
}

fn start(media: &Media, name: &str, ctx: &egui::Context) -> Texture {
    let Some(bytes) = media.get(name).cloned() else { return Texture::Unreadable };
    let (send, receive) = channel();
    let ctx = ctx.clone();
    let spawned = std::thread::Builder::new().name("picture".to_owned()).spawn(move || {
        let _ = send.send(decode(&bytes));
        ctx.request_repaint();
    });
    if spawned.is_ok() { Texture::Coming(receive) } else { Texture::Unreadable }
}

fn decode(bytes: &[u8]) -> Option<egui::ColorImage> {
    let image = image::load_from_memory(bytes).ok()?;
    let image = if image.width().max(image.height()) > LARGEST_SIDE_PX {
        image.thumbnail(LARGEST_SIDE_PX, LARGEST_SIDE_PX)
    } else {
        image
    };
    let pixels = image.to_rgba8();
    let size = [pixels.width() as usize, pixels.height() as usize];
    Some(egui::ColorImage::from_rgba_unmultiplied(size, pixels.as_raw()))
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
