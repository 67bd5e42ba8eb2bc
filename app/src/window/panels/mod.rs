//! Panels around and over the board, one a file: each takes what it reads and returns intents.

pub mod card;
pub mod draw;
pub mod head;
pub mod kit;
pub mod overlay;
pub mod rehearsal;
pub mod side_list;
pub mod status;

/// What panels remember between frames that is not the project's: searches typed, families folded.
#[derive(Default)]
pub struct State {
    /// Of the card.
    pub card: card::State,
    /// Of the Kit.
    pub kit: kit::State,
    /// Of the side list.
    pub side_list: side_list::State,
    /// Of a rehearsal.
    pub rehearsal: rehearsal::State,
    /// Of what lies over the board.
    pub overlay: overlay::State,
}
