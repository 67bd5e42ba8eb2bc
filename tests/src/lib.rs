//! Pattress from outside: invented houses that are built in code, and tests of the whole job.
//!
//! [`builder`] is a small language for describing a house and [`rule_words`] for what it does; with them
//! [`ferry_cottage`] and [`garden_flat`] are built. [`samples`] says where these sample plans lie, [`figures`]
//! what they must give. [`generator`] makes plain houses of any size for benchmarks, of the few kinds in
//! [`generator_kit`]. [`drawings`] makes small drawings to read, which [`spoil`] spoils. [`truth`] reads what a
//! drawing of the trial data truly shows, and scores what was found of it; [`trial_data`] says where they lie.
//! [`mod@reference`] is a second, plain interpreter of rules that the engine is held to.
//! [`command_line`] runs the program as the shell does.

pub mod builder;
pub mod command_line;
pub mod drawings;
pub mod ferry_cottage;
pub mod figures;
pub mod garden_flat;
pub mod generator;
pub mod generator_kit;
pub mod reference;
pub mod rule_words;
pub mod samples;
pub mod spoil;
pub mod trial_data;
pub mod truth;
