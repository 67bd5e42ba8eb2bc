//! Gestures on a small plan, and what they come to.
