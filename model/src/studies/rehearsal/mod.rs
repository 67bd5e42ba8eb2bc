//! Rehearsal: the rules of a house played on a simulated clock.
//!
//! [`RuleBook::of`] lays the rules out once, [`Rehearsal::start`] begins a run, [`Rehearsal::come_in`] takes in
//! what people and sensors do, [`Rehearsal::run_until`] lets time pass. The same in gives the same out, to the
//! millisecond; the [`Journal`] says of every change what it happened because of.
#![doc = ""]
#![doc = include_str!("../../../rules.md")]

mod almanac;
mod book;
mod clock;
mod compile;
mod deeds;
mod hub;
mod journal;
mod judging;
mod moment;
pub mod proof;
mod recording;
mod round;
mod run;
pub mod script;
mod sky;
mod state;
pub mod telling;
#[cfg(test)]
mod tests;
mod value;
mod way;

pub use book::{PointNumber, RuleBook};
pub use clock::{next_time, whole_ms};
pub use journal::{Entry, EntryNumber, Incoming, Journal, What};
pub use recording::{Advanced, Recording};
pub use round::MOST_ROUNDS;
pub use run::{FULL_TRAVEL, Refused, Rehearsal, Setup, Showing, Snapshot};
pub use sky::{EvenSky, Sky, SkyOver};
pub use value::Has;
