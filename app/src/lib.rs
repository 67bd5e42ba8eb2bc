//! Where people and paper meet the model: the window, printing and the command line.

pub mod print;
pub mod window;
