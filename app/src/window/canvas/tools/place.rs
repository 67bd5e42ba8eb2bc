//! Placing a device of a kind.

use pattress_model::kit::Kind;

use super::{Around, Ghost, Tool, Touch};
use crate::window::intent::Intent;

/// The placing tool.
pub struct Place {
    kind: Kind,
    ghost: Ghost,
}

impl Place {
    /// Ready to place devices of a kind.
    pub fn of(kind: Kind) -> Self {
        Self { kind, ghost: Ghost::default() }
    }
}

impl Tool for Place {
    fn touch(&mut self, _touch: Touch, _around: &mut Around<'_>) -> Vec<Intent> {
        Vec::new()
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        format!("Click to place a {}.", self.kind.name)
    }
}
