//! What a stop of the hub drops and what its start finds: base values, the mode and what was last reported.

use std::sync::Arc;

use super::book::{NOT_DUE, PointNumber};
use super::journal::{EntryNumber, What};
use super::run::Rehearsal;
use super::value::Has;

impl Rehearsal {
    /// Everything that waits, lingers or lasts is dropped; what shows stays as it is.
    pub(super) fn stop_hub(&mut self) {
        self.state.running = false;
        self.state.due.clear();
        self.state.waiting.fill(0);
        self.state.hands.iter_mut().for_each(Vec::clear);
        self.state.ends_to_judge.clear();
        self.state.holds.iter_mut().for_each(|hold| hold.due = NOT_DUE);
        self.state.stays.fill((false, NOT_DUE));
        self.state.points.iter_mut().for_each(|point| point.hand_due = NOT_DUE);
    }

    /// All is judged anew, as if nothing had held before.
    pub(super) fn start_hub(&mut self, because: EntryNumber) {
        let book = Arc::clone(&self.book);
        self.state.rounds += 1;
        self.state.running = true;
        let because = self.write(0, What::HubStarted, because);
        for hold in &mut self.state.holds {
            (hold.holding, hold.met, hold.due) = (false, false, NOT_DUE);
        }
        self.state.stays.fill((false, NOT_DUE));
        for at in 0..self.state.points.len() {
            let Some(point) = self.state.points.get_mut(at) else { continue };
            let was_covered =
                point.hand != Has::Nothing || point.bare || point.showing != super::state::Layer::Base;
            (point.hand, point.hand_due, point.bare) = (Has::Nothing, NOT_DUE, false);
            if was_covered {
                self.touch(PointNumber(at as u32), because);
            }
        }
        for (number, atom) in book.atoms.iter().enumerate() {
            self.state.truths[number] = self.state.truth(atom);
        }
        for (number, atom) in &book.clock_atoms {
            self.state.truths[*number as usize] = self.almanac.truth(*atom, self.state.now);
        }
        self.state.holds_to_judge = (0..book.holds.len() as u32).map(|hold| (hold, because)).collect();
        self.state.stays_to_judge = (0..book.stays.len() as u32).map(|stay| (stay, because)).collect();
        self.state.hold_marked.fill(true);
        self.state.stay_marked.fill(true);
        if book.watches_clock() {
            self.look_ahead();
        }
        self.work_off();
    }
}
