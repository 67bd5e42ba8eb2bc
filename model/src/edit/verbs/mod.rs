//! What people do to a plan, one verb a file: each takes the project as it is and returns the change.
