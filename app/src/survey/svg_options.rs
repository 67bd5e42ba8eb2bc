//! How any SVG is read, an architect's as a sheet of our own: every family of letters is set in our face, and nothing
//! outside the file is looked at. Without a family to fall back on, lettering in a face that is not here would vanish.

use std::sync::Arc;

use pattress_model::drawing::{Weight, lettering};
use resvg::usvg;

/// A reader of SVG: our face for every family, and no file from outside.
pub fn svg_options() -> usvg::Options<'static> {
    let mut faces = usvg::fontdb::Database::new();
    for weight in [Weight::Regular, Weight::Medium, Weight::SemiBold] {
        faces.load_font_data(lettering::face(weight).to_vec());
    }
    let family = faces.faces().next().and_then(|face| face.families.first()).map(|(name, _)| name.clone());
    if let Some(family) = family {
        faces.set_serif_family(family.clone());
        faces.set_sans_serif_family(family.clone());
        faces.set_monospace_family(family);
    }
    let mut options = usvg::Options { fontdb: Arc::new(faces), ..usvg::Options::default() };
    options.image_href_resolver.resolve_string = Box::new(|_, _| None);
    options
}
