//! Older versions of the format, brought forward one version at a time.
//!
//! Each step takes the JSON of one version and gives the JSON of the next, so that only the newest structs
//! need to be known. Version 1 is the first that was issued: no step exists yet, and version 0 is refused.

use serde_json::Value;

use super::ReadError;

/// One step: from a version to the one after it.
#[derive(Clone, Copy)]
pub struct Step {
    /// The version it starts from.
    pub from: u32,
    /// Turns a plan of that version into one of the next.
    pub forward: fn(Value) -> Value,
}

/// Every step that this release knows, oldest first.
pub const STEPS: &[Step] = &[];

/// Brings a plan forward from `version` to `target`, step by step.
///
/// # Errors
/// [`ReadError::NeverIssued`] where no step starts from its version.
pub fn migrate(plan: Value, version: u32, target: u32, steps: &[Step]) -> Result<Value, ReadError> {
    let mut plan = plan;
    for from in version..target {
        let step = steps
            .iter()
            .find(|step| step.from == from)
            .ok_or(ReadError::NeverIssued { version: u64::from(from), readable: target })?;
        plan = (step.forward)(plan);
        plan["version"] = Value::from(from + 1);
    }
    Ok(plan)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_plan_comes_forward_step_by_step() {
        let steps = [
            Step {
                from: 1,
                forward: |mut plan| {
                    plan["b"] = plan["a"].take();
                    plan
                },
            },
            Step {
                from: 2,
                forward: |mut plan| {
                    plan["c"] = json!([plan["b"]]);
                    plan
                },
            },
        ];
        let plan = migrate(json!({"version": 1, "a": 7}), 1, 3, &steps).unwrap();
        assert_eq!((&plan["version"], &plan["c"]), (&json!(3), &json!([7])));
    }

    #[test]
    fn a_version_that_no_step_starts_from_is_refused() {
        let refused = migrate(json!({"version": 0}), 0, 1, STEPS).unwrap_err();
        assert!(refused.to_string().contains("version 0"), "{refused}");
    }
}
