//! The tables that go with the drawings: one table a file, all of one [`Table`] shape.

pub mod table;

pub use table::{Cell, Column, Table};
