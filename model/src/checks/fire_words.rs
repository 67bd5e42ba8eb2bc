//! What every finding about fire and carbon monoxide alarms says: that it is a check, and for whom.

/// How a sentence about fire or carbon monoxide alarms ends, after a semicolon.
pub(super) const FOR_THE_DESIGNER: &str =
    "have it settled by someone competent in these alarms, for this is a check and never a design.";

/// What is wrong, and for whom it is found.
pub(super) fn for_the_designer(what: &str) -> String {
    format!("{what}; {FOR_THE_DESIGNER}")
}
