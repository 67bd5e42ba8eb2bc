//! A schedule as comma-separated values: RFC 4180, UTF-8, lines ended by CR LF.

use pattress_model::schedules::{Column, Table};

/// One table: a line of headings with their units, then a line a row. A missing figure is written in words.
pub fn csv(table: &Table) -> Vec<u8> {
    let mut lines = Vec::new();
    lines.push(table.columns.iter().map(heading).collect());
    lines.extend(table.rows.iter().map(|row| row.iter().map(|cell| cell.shown()).collect::<Vec<_>>()));
    let mut text = String::new();
    for line in lines {
        let fields: Vec<String> = line.iter().map(|field| quoted(field)).collect();
        text.push_str(&fields.join(","));
        text.push_str("\r\n");
    }
    text.into_bytes()
}

/// `Height to centre (mm AFFL)`.
pub(super) fn heading(column: &Column) -> String {
    if column.unit.is_empty() {
        column.title.to_owned()
    } else {
        format!("{} ({})", column.title, column.unit)
    }
}

/// A field, in quotes where RFC 4180 asks for them, quotes within it doubled.
fn quoted(field: &str) -> String {
    if field.contains(['"', ',', '\r', '\n']) {
        format!("\"{}\"", field.replace('"', "\"\""))
    } else {
        field.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pattress_model::schedules::Cell;

    #[test]
    fn fields_are_quoted_where_rfc_4180_asks_for_it() {
        let table = Table {
            name: "test",
            title: "Test",
            columns: vec![Column { title: "Name", unit: "" }, Column { title: "Height", unit: "mm AFFL" }],
            rows: vec![
                vec![Cell::text("say \"yes\", twice"), Cell::whole(1100.0)],
                vec![Cell::text("two\r\nlines"), Cell::Missing("height")],
            ],
        };
        let expected =
            "Name,Height (mm AFFL)\r\n\"say \"\"yes\"\", twice\",1100\r\n\"two\r\nlines\",height missing\r\n";
        assert_eq!(String::from_utf8(csv(&table)).unwrap(), expected);
    }
}
