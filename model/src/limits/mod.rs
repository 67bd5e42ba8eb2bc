//! Every limit that a check applies, as data: value, unit, clause, edition, and how far it can be relied on.
//!
//! The figures are in `uk.toml` beside this file and nowhere in the code, so that a new edition is a change of
//! data. A finding quotes its limit's [`Limit::source`]; where that was not read in the source itself, it
//! says so.

mod camera_levels;

use std::collections::BTreeMap;
use std::sync::OnceLock;

pub use camera_levels::{CameraLevel, CameraLevels, camera_levels};

/// One limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// What it limits.
    pub what: String,
    /// The figure, in `unit`.
    pub value: f64,
    /// Its unit (`mm AFFL`).
    pub unit: String,
    /// The document and clause it comes from.
    pub clause: String,
    /// The edition; `none` where it comes from no published document.
    pub edition: String,
    /// How far it can be relied on, in the words that `uk.toml` explains.
    pub status: String,
    /// Clause, edition and status in one line, as a finding quotes it.
    pub source: String,
}

/// A set of limits by name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Limits {
    by_name: BTreeMap<String, Limit>,
}

impl Limits {
    /// Reads limits from TOML: one table a limit, each with all of `what`, `value`, `unit`, `clause`,
    /// `edition` and `status`.
    ///
    /// # Errors
    /// A sentence that names the entry and what it lacks.
    pub fn parse(text: &str) -> Result<Self, String> {
        let file: toml::Table =
            text.parse().map_err(|reason| format!("the limits cannot be read: {reason}"))?;
        let mut by_name = BTreeMap::new();
        for (name, entry) in file {
            let entry = entry.as_table().ok_or_else(|| format!("the limit {name} is not a table"))?;
            by_name.insert(name.clone(), limit_from(&name, entry)?);
        }
        Ok(Self { by_name })
    }

    /// The limit of that name.
    pub fn get(&self, name: &str) -> Option<&Limit> {
        self.by_name.get(name)
    }

    /// Every limit with its name, in the order of names.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Limit)> {
        self.by_name.iter().map(|(name, limit)| (name.as_str(), limit))
    }
}

fn limit_from(name: &str, entry: &toml::Table) -> Result<Limit, String> {
    let words = |field: &str| {
        entry
            .get(field)
            .and_then(toml::Value::as_str)
            .filter(|words| !words.trim().is_empty())
            .map(str::to_owned)
            .ok_or_else(|| format!("the limit {name} lacks its {field}"))
    };
    let value = entry
        .get("value")
        .and_then(toml::Value::as_float)
        .filter(|value| value.is_finite())
        .ok_or_else(|| format!("the limit {name} lacks its value"))?;
    let (clause, edition, status) = (words("clause")?, words("edition")?, words("status")?);
    let source = match (edition.as_str(), status.as_str()) {
        ("none", "common practice") => format!("common practice, no published source: {clause}"),
        ("none", status) => format!("{clause}; {status}"),
        (edition, "read in the source") => format!("{clause}; {edition}"),
        (edition, status) => format!("{clause}; {edition}; {status}: check the current edition"),
    };
    Ok(Limit { what: words("what")?, value, unit: words("unit")?, clause, edition, status, source })
}

/// The limits that the tool ships. A test holds that they can be read; were they not, there would be none.
pub fn limits() -> &'static Limits {
    static SHIPPED: OnceLock<Limits> = OnceLock::new();
    SHIPPED.get_or_init(|| Limits::parse(include_str!("uk.toml")).unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_shipped_limit_has_all_its_fields_and_a_status_we_explain() {
        let read = Limits::parse(include_str!("uk.toml")).unwrap();
        assert!(read.iter().count() >= 10);
        for (name, limit) in read.iter() {
            let known = ["read in the source", "read in a secondary page", "from memory", "common practice"];
            assert!(known.contains(&limit.status.as_str()), "{name}: {}", limit.status);
            assert!(limit.value > 0.0, "{name}");
        }
        assert_eq!(&read, limits());
    }

    #[test]
    fn an_entry_that_lacks_a_field_is_refused_by_name() {
        let text = "[reach]\nwhat = \"reach\"\nvalue = 1.0\nunit = \"m\"\nclause = \"c\"\nedition = \"e\"\n";
        assert_eq!(Limits::parse(text).unwrap_err(), "the limit reach lacks its status");
        let text = text.replace("value = 1.0", "value = \"one\"");
        assert_eq!(Limits::parse(&text).unwrap_err(), "the limit reach lacks its value");
    }

    #[test]
    fn what_was_not_read_in_the_source_says_so() {
        let wall = limits().get("smoke_alarm_to_wall").unwrap();
        assert_eq!(wall.value, 300.0);
        assert!(wall.source.ends_with("check the current edition"), "{}", wall.source);
        let same = limits().get("same_place").unwrap();
        assert!(same.source.starts_with("common practice, no published source"), "{}", same.source);
    }
}
