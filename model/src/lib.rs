//! Everything that is true about a house, and nothing about windows, files or clocks.
//!
//! Read in this order, each using only those before it: [`units`], [`id`] and [`paper`]; [`geometry`], which
//! knows no house; [`calendar`] and [`sun`], which look at no clock; [`plan`], [`kit`] and [`systems`], the things
//! people decide; [`project`], which holds them; [`building`], what follows from the walls; [`survey`], what an
//! architect's drawing proposes; [`edit`], the one door through which a project changes;
//! [`sentence`], how rules read; [`limits`], [`studies`], [`world`], in which rules are
//! played, and [`checks`], what is computed and found; [`drawing`]
//! and [`schedules`], how it is put on paper; [`store`], how it is kept.

pub mod building;
pub mod calendar;
pub mod checks;
pub mod drawing;
pub mod edit;
pub mod geometry;
pub mod id;
pub mod kit;
pub mod limits;
pub mod paper;
pub mod plan;
pub mod project;
pub mod schedules;
pub mod sentence;
pub mod store;
pub mod studies;
pub mod sun;
pub mod survey;
pub mod systems;
pub mod units;
pub mod world;

#[cfg(test)]
mod small_house;
