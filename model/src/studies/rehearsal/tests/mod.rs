//! The meaning of rules, shown on small invented houses.

mod clock_and_sun;
mod house;
mod in_the_house;
mod language;
mod proof;
mod properties;
mod recording;
mod scripts;
