//! A table with titled columns that know their units.

/// One column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its heading (`Height`).
    pub title: &'static str,
    /// The unit of its figures (`mm AFFL`); empty for words.
    pub unit: &'static str,
}

/// One cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Words. They stay words, whatever they look like.
    Text(String),
    /// A figure with so many decimals.
    Number {
        /// The figure, in the column's unit.
        value: f64,
        /// Decimals shown.
        decimals: u8,
    },
    /// Nothing to say.
    Empty,
    /// What should be there and is not: printed as missing, never guessed.
    Missing(&'static str),
}

impl Cell {
    /// Words; an empty string is an empty cell.
    pub fn text(words: impl Into<String>) -> Self {
        let words = words.into();
        if words.is_empty() { Self::Empty } else { Self::Text(words) }
    }

    /// A whole figure.
    pub fn whole(value: f64) -> Self {
        Self::Number { value, decimals: 0 }
    }

    /// The cell as it is printed.
    pub fn shown(&self) -> String {
        match self {
            Self::Text(words) => words.clone(),
            Self::Number { value, decimals } => format!("{value:.*}", usize::from(*decimals)),
            Self::Empty => String::new(),
            Self::Missing(what) => format!("{what} missing"),
        }
    }
}

/// A schedule.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Name of its file and worksheet (`devices`).
    pub name: &'static str,
    /// Its title (`Device schedule`).
    pub title: &'static str,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows, each with as many cells as there are columns.
    pub rows: Vec<Vec<Cell>>,
}
