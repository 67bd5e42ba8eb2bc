//! The pointer: select, move, turn.

use super::{Around, Ghost, Tool, Touch};
use crate::window::intent::Intent;

/// The pointer tool.
#[derive(Default)]
pub struct Pointer {
    ghost: Ghost,
}

impl Tool for Pointer {
    fn touch(&mut self, _touch: Touch, _around: &mut Around<'_>) -> Vec<Intent> {
        Vec::new()
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        "Click to select, drag to move.".to_owned()
    }
}
