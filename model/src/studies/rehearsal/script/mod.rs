//! Scripts read and played: steps on a simulated clock, with what is expected of the house.
//!
//! One line is one step; a line that starts with `#` is a remark. A point is said as the tag of its device and its
//! name (`PL-04 key 3`), a value as `on`, `off`, a figure, or a colour such as `#ffaa00`.
//!
//! | line | does |
//! |---|---|
//! | `start 2026-01-15 20:00` | the local date and time at which the run starts; the first step |
//! | `given PIR-03 motion on` | what a point has as the run starts; before all else but `start` |
//! | `at 20:10` | lets time pass until the clock next shows that |
//! | `after 5 min` | lets so much time pass |
//! | `press PL-04 key 3`, `... twice`, `... three times` | a press of a key |
//! | `hold PL-04 key 3`, `release PL-04 key 3` | a key held down, and let go |
//! | `happens DS-01 ring` | an event |
//! | `report MC-02 open on` | a sensor reports |
//! | `give DL-01 level 40` | somebody sets a device at the device itself |
//! | `mode Night` | somebody sets the house mode |
//! | `hub stops`, `hub starts`, `hub restarts` | the hub |
//! | `walk front door to kitchen` | somebody walks a walk of the plan, past its sensors |
//! | `expect BL-01 position is 100 within 30 s` | must be so at some moment up to then, counted from now |
//! | `expect DL-01 level stays 0 for 10 min` | must be so from now until then |
//! | `expect mode is Night within 1 s` | the same of the mode |
//! | `expect message “somebody rang” within 5 s` | a message with these words is sent |
//!
//! Expectations let no time pass for the steps after them: several may follow one press, each counted from it.
//! `expect` compares with `is`, `is not`, `is above`, `is below`, and without `within` asks for this very moment.

mod play;
mod read;
mod step;
pub(super) mod words;
mod written;

pub use play::{Footstep, Outcome, Played, StepPlayed, Walks, World, play, set_up};
pub use read::{LineError, read_script};
pub use step::{Deed, Expected, ScriptStep, Step};
pub use words::{point_words, value_words};
pub use written::written;
