//! What shows while the rules are played: the clock and what moves it along the top, the timeline and the scripts in
//! place of the side list, a card at the device that is worked.

pub mod bar;

/// What these panels remember between frames that is no part of the rehearsal: texts that are being typed.
#[derive(Default)]
pub struct State {
    /// The name under which a script is to be kept.
    pub(in crate::window) keep_as: String,
    /// Which list shows.
    pub(in crate::window) list: List,
}

/// The lists of a rehearsal.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in crate::window) enum List {
    /// What happened.
    #[default]
    Timeline,
    /// What waits to be done.
    Waiting,
    /// The scripts of the plan.
    Scripts,
}
