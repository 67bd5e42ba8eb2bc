//! Fill in the title block.

use super::draft::Draft;
use crate::edit::Change;
use crate::project::{Project, Site};

/// Changes title block data and site facts.
///
/// # Errors
/// A sentence, where the scale or the direction of north is not a sound figure.
pub fn edit_site(project: &Project, site: Site) -> Result<Change, String> {
    let mut draft = Draft::of(project);
    draft.put_site(site);
    draft.finish("Change title block")
}
