//! Where people and paper meet the model: the window, printing, files and the command line.

pub mod commands;
pub mod files;
pub mod print;
pub mod rehearsing;
pub mod survey;
pub mod window;
