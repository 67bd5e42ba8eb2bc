//! The kinds the tool ships.
