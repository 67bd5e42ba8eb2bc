//! The levels of detail that cameras are judged by, as data: both editions of the standard.

use std::sync::OnceLock;

use crate::project::CameraEdition;

/// One level.
#[derive(Clone, Debug, PartialEq)]
pub struct CameraLevel {
    /// The standard's word for it (`recognise`).
    pub name: String,
    /// Pixels to a metre across the target, at least.
    pub px_per_m: f64,
    /// How far the figure can be relied on, in the words that `uk.toml` explains.
    pub status: String,
}

/// The levels of one edition.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CameraLevels {
    /// The standard and its edition.
    pub title: String,
    /// How far they can be relied on, for people.
    pub note: String,
    /// The levels, the coarsest first.
    pub levels: Vec<CameraLevel>,
}

impl CameraLevels {
    /// The finest level that so many pixels to a metre reach; `None` below the coarsest.
    pub fn reached(&self, px_per_m: f64) -> Option<&CameraLevel> {
        self.levels.iter().rev().find(|level| px_per_m >= level.px_per_m)
    }
}

/// The levels of an edition. A test holds that the data can be read; could they not, there would be no level.
pub fn camera_levels(edition: CameraEdition) -> &'static CameraLevels {
    static SHIPPED: OnceLock<[CameraLevels; 2]> = OnceLock::new();
    let [of_2025, of_2014] = SHIPPED.get_or_init(|| {
        let text = include_str!("camera_levels.toml");
        ["edition_2025", "edition_2014"].map(|name| read(text, name).unwrap_or_default())
    });
    match edition {
        CameraEdition::Of2025 => of_2025,
        CameraEdition::Of2014 => of_2014,
    }
}

/// One edition of the data; the error names what it lacks.
fn read(text: &str, edition: &str) -> Result<CameraLevels, String> {
    let file: toml::Table = text.parse().map_err(|reason| format!("the levels cannot be read: {reason}"))?;
    let table =
        file.get(edition).and_then(toml::Value::as_table).ok_or_else(|| format!("{edition} is missing"))?;
    let words = |table: &toml::Table, field: &str| {
        table
            .get(field)
            .and_then(toml::Value::as_str)
            .map(str::to_owned)
            .ok_or_else(|| format!("{edition} lacks a {field}"))
    };
    let rows = table
        .get("levels")
        .and_then(toml::Value::as_array)
        .ok_or_else(|| format!("{edition} lacks levels"))?;
    let levels = rows
        .iter()
        .map(|row| {
            let row = row.as_table().ok_or_else(|| format!("a level of {edition} is no table"))?;
            let px_per_m = row
                .get("px_per_m")
                .and_then(toml::Value::as_float)
                .ok_or_else(|| format!("a level of {edition} lacks px_per_m"))?;
            Ok(CameraLevel { name: words(row, "name")?, px_per_m, status: words(row, "status")? })
        })
        .collect::<Result<_, String>>()?;
    Ok(CameraLevels { title: words(table, "title")?, note: words(table, "note")?, levels })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The six of 2014 as read in a secondary page; the top one of 2025 as reported by a trade body.
    #[test]
    fn both_editions_are_read_whole_and_rise() {
        let figures = |edition| -> Vec<(String, f64)> {
            let levels = &camera_levels(edition).levels;
            assert!(levels.is_sorted_by(|a, b| a.px_per_m < b.px_per_m));
            assert!(levels.iter().all(|level| !level.status.is_empty()));
            levels.iter().map(|level| (level.name.clone(), level.px_per_m)).collect()
        };
        let of_2014 = [
            ("monitor", 12.5),
            ("detect", 25.0),
            ("observe", 62.5),
            ("recognise", 125.0),
            ("identify", 250.0),
            ("inspect", 1000.0),
        ];
        assert_eq!(figures(CameraEdition::Of2014), of_2014.map(|(name, px)| (name.to_owned(), px)));
        let of_2025 = figures(CameraEdition::Of2025);
        assert_eq!(of_2025.len(), 7);
        assert_eq!(of_2025[6], ("scrutinise".to_owned(), 1500.0));
    }

    #[test]
    fn the_finest_level_that_is_reached_counts() {
        let levels = camera_levels(CameraEdition::Of2014);
        for (px_per_m, expected) in [
            (12.4, None),
            (12.5, Some("monitor")),
            (124.9, Some("observe")),
            (125.0, Some("recognise")),
            (5000.0, Some("inspect")),
        ] {
            assert_eq!(levels.reached(px_per_m).map(|level| level.name.as_str()), expected, "{px_per_m}");
        }
    }

    #[test]
    fn data_that_lack_something_are_refused_by_name() {
        assert_eq!(read("", "edition_2025").unwrap_err(), "edition_2025 is missing");
        let text = "[e]\ntitle = \"t\"\nnote = \"n\"\nlevels = [{ name = \"a\", px_per_m = 1.0 }]\n";
        assert_eq!(read(text, "e").unwrap_err(), "e lacks a status");
    }
}
