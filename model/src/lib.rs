//! Everything that is true about a house, and nothing about windows, files or clocks.
//!
//! Read in this order: [`units`] and [`id`]; [`geometry`], which knows no house; [`plan`], [`kit`] and
//! [`systems`], the things people decide; [`project`], which holds them; [`edit`], the one door through which
//! they change; [`studies`] and [`checks`], what follows from them; [`schedules`] and [`drawing`], how it is
//! put on paper; [`store`], how it is kept.

pub mod checks;
pub mod drawing;
pub mod edit;
pub mod geometry;
pub mod id;
pub mod kit;
pub mod limits;
pub mod plan;
pub mod project;
pub mod schedules;
pub mod store;
pub mod studies;
pub mod systems;
pub mod units;
